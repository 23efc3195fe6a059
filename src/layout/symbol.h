/* Signs of safety messages, drawn in a square of that side. */
#ifndef SHEAF_LAYOUT_SYMBOL_H
#define SHEAF_LAYOUT_SYMBOL_H

#include "layout/sketch.h"

#define SYMBOL_SIDE MM(12)

/* A triangle with an exclamation mark. */
void symbol_alert(Sketch *sketch, Um x, Um y, Um side);
/* crush, fumes, fire, eye, spring, fingers, battery, hot, chemical, pressure in a triangle's
 * place; false: no such sign. */
bool symbol_set(Sketch *sketch, Um x, Um y, Um side, const char *name);

#endif
