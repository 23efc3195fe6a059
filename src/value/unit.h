/* Units of measurement and what they measure. The table is units.def. */
#ifndef SHEAF_VALUE_UNIT_H
#define SHEAF_VALUE_UNIT_H

#include "base/vec.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What a number counts from. A temperature of 20 degC is a point, a rise of
 * 20 K is a difference; 31 deg BTDC is a crank position, 276 deg a span. */
typedef enum Origin { ORIGIN_NONE, ORIGIN_TEMPERATURE, ORIGIN_TDC, ORIGIN_BDC } Origin;

/* Exponents of metre, kilogram, second, kelvin and radian. Angle is kept apart
 * from plain numbers so that degrees are never taken for a ratio. */
typedef struct Dim {
  int8_t length, mass, time, temperature, angle;
  uint8_t origin; /* Origin */
  bool truth;     /* true or false, not a number */
} Dim;

#define DIM_NUMBER ((Dim){0})
#define DIM_TRUTH  ((Dim){.truth = true})
#define DIM_LENGTH ((Dim){.length = 1})
#define DIM_VOLUME ((Dim){.length = 3})
#define DIM_TORQUE ((Dim){.length = 2, .mass = 1, .time = -2})
#define DIM_FORCE  ((Dim){.length = 1, .mass = 1, .time = -2})
#define DIM_STRESS ((Dim){.length = -1, .mass = 1, .time = -2})
#define DIM_ANGLE  ((Dim){.angle = 1})
#define DIM_TIME   ((Dim){.time = 1})

bool dim_same(Dim a, Dim b);
const char *dim_name(Arena *arena, Dim dim); /* "a length", "a torque", "kg m^-1 s^-2" */

typedef struct Unit {
  const char *print; /* the one spelling that is printed: "N.m" */
  Dim dim;
  double factor, offset; /* SI value = number * factor + offset; factor < 0 for BTDC, BBDC */
} Unit;

/* The unit spelled at the start of text (longest match, aliases too, blanks
 * inside such as "cu in" or "deg ATDC" included); length of the spelling.
 * NULL: none. The spelling must not run on into a letter or digit. */
const Unit *unit_read(const char *text, size_t *length);
const Unit *unit_find(const char *spelling);   /* whole text, NULL: none */
const Unit *unit_of_number(void);              /* prints "" */
void unit_spellings(Arena *arena, Words *out); /* for near matches and the schema */
/* What somebody who wrote that unknown spelling probably meant; NULL: no idea. */
const char *unit_near(Arena *arena, const char *spelling);

double unit_to_si(const Unit *unit, double number);
double unit_from_si(const Unit *unit, double si);
/* The other system's unit for a second value in brackets: N.m -> lbf.ft or,
 * below 14 N.m, lbf.in; lbf.ft -> N.m; mm -> in ...; NULL when none is customary. */
const Unit *unit_other(const Unit *unit, double si);
/* Most decimal places worth printing for a value converted into that unit. */
int unit_most_places(const Unit *unit);

#endif
