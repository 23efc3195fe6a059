/* Numbers with units as the trade writes them, on the sheet and on the packet. */
#ifndef SHEAF_VALUE_LITERAL_H
#define SHEAF_VALUE_LITERAL_H

#include "base/text.h"
#include "diag/finding.h"
#include "value/unit.h"

typedef enum LiteralShape {
  LITERAL_NONE,
  LITERAL_EXACT,     /* 92.00 mm */
  LITERAL_TOLERANCE, /* 31.20 +-0.03 mm, 45 +5/-0 N.m */
  LITERAL_BAND,      /* 0.055 to 0.070 mm */
  LITERAL_AT_LEAST,  /* at least 1.8 mm */
  LITERAL_AT_MOST,   /* at most 0 mm */
} LiteralShape;

/* SI values. nominal is the value written, or the middle of a band; low and
 * high are the ends (-INFINITY or INFINITY for a one-sided one). */
typedef struct Literal {
  LiteralShape shape;
  double nominal, low, high;
  const Unit *unit;     /* as the source wrote it; unit_of_number() for plain numbers */
  int places;           /* most digits after the point that the source wrote */
  const char *text;     /* as written, blanks folded */
  const char *fraction; /* as written without the second unit; NULL: in decimals */
  bool guessed;         /* its unit was reported, and read as what was probably meant */
} Literal;

/* Reads the whole text. Reports bad-number, unknown-unit, band-reversed,
 * units-disagree at the character, and answers shape LITERAL_NONE then; a unit that is a slip
 * of the pen is reported and read on as what was meant.
 *   num [unit] [tol] [unit] | num [unit] to num unit | at least num unit |
 *   at most num unit; tol +-num or +num/-num; a second unit in brackets,
 *   "46 N.m (33.9 lbf.ft)", must agree within half the last printed digit of
 *   each; fractions (1/4, 1 1/2) for lengths only. */
Literal literal_parse(Run *run, Place at, const char *text);
/* Reports wrong-dimension unless the literal has that dimension. */
bool literal_need(Run *run, Place at, const Literal *literal, Dim dim, const char *what);

/* Is "top/bottom" written like a fraction of the inch: 1 over 4 in? */
bool literals_look_like_fraction(const Literal *top, const Literal *bottom);
/* Half the last digit that was written, SI. */
double literal_half_digit(const Literal *literal);

/* "0.40 mm": the number in that unit, and the unit. places < 0: as many as the value needs, at
 * most 4. */
const char *quantity_print(Arena *arena, double si, const Unit *unit, int places);
const char *number_print(Arena *arena, double si, const Unit *unit, int places); /* without unit */
/* The literal in its own unit, a fraction as it was written; reads back to the same literal. */
const char *literal_print(Arena *arena, const Literal *literal);
/* "46 N.m (33.9 lbf.ft)": own unit first, the other system's in brackets. */
const char *both_units_print(Arena *arena, double si, const Unit *unit, int places);

#endif
