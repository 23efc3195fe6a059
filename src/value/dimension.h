/* Dimensions by the words that functions' signatures use. */
#ifndef SHEAF_VALUE_DIMENSION_H
#define SHEAF_VALUE_DIMENSION_H

#include "value/unit.h"

/* "length" of that many bytes; false: no such word. */
bool dimension_by_word(const char *word, size_t length, Dim *dim);
/* The same dimension, whatever it counts from. */
bool dimension_alike(Dim a, Dim b);
Dim dimension_without_origin(Dim dim);

#endif
