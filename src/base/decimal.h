/* Decimal numbers as written and as printed, whatever the locale. */
#ifndef SHEAF_BASE_DECIMAL_H
#define SHEAF_BASE_DECIMAL_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

/* Reads [+-]digits[.digits] at the start of text: no exponent, no inf, nan or
 * 0x, and a digit must stand on each side of the point. Length of what was
 * read, 0 when there is no number. places: digits after the point. */
size_t decimal_read(const char *text, double *value, int *places);

/* No sheet gives more, and so many print and read back the same in any unit. */
#define DECIMAL_MOST_DIGITS 12
#define DECIMAL_TOO_LONG    "a number has at most 12 digits"
/* Has the number at the start of text more digits than that, zeros counted? */
bool decimal_is_long(const char *text);

/* Does a power of ten stand at text, as in 1e3 behind the 1? */
bool decimal_has_exponent(const char *text);

/* value with that many places, rounded half away from zero on the decimal
 * form (12 significant digits taken as exact, so 0.125 and 1.005 round up).
 * Never prints -0. */
const char *decimal_print(Arena *arena, double value, int places);

/* Largest multiple of step not above value, and smallest not below it; a value
 * within 1e-6 of a step of a multiple counts as that multiple. */
double decimal_floor(double value, double step);
double decimal_ceil(double value, double step);
double decimal_round(double value, double step);

#endif
