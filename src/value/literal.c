#include "value/literal_read.h"

#include "base/decimal.h"
#include "value/dimension.h"

#include <math.h>
#include <string.h>

/* How a number with its limits was written, before units are put to it. */
typedef struct Written {
  LiteralShape shape;
  Number first, second; /* second: upper end of a band */
  double up, down;      /* of a tolerance, both positive */
  const Unit *unit, *second_unit;
} Written;

static bool is_loose_dash(const char *text) {
  return text_starts(text, "- ") || text_starts(text, "–") || text_starts(text, "—");
}

/* +-num | +num/-num, the sign already seen. */
static bool read_tolerance(Cursor *cursor, Written *written, int *places) {
  size_t from = cursor->at;
  const char *text = cursor->text + from;
  Number up, down;
  if (is_loose_dash(text)) return cursor_band_slip(cursor, from, NULL, NULL);
  if (cursor_takes(cursor, "+-") || cursor_takes(cursor, "±") || cursor_takes(cursor, "+/-")) {
    cursor_skip_blanks(cursor);
    if (!cursor_number(cursor, &up)) return false;
    if (up.value < 0) {
      finding_add(cursor->run, RULE_BAD_NUMBER, cursor_place(cursor, from, cursor->at),
                  "a tolerance has no sign of its own");
      return false;
    }
    written->up = written->down = up.value;
    if (up.places > *places) *places = up.places;
    return true;
  }
  if (!cursor_number(cursor, &up)) return false;
  cursor_skip_blanks(cursor);
  bool slash = cursor_takes(cursor, "/");
  cursor_skip_blanks(cursor);
  const char sign = cursor->text[cursor->at];
  bool signs = up.signs && (sign == '+' || sign == '-' || sign == '0') && slash;
  if (signs && !cursor_number(cursor, &down)) return false;
  if (!signs) return cursor_band_slip(cursor, from, &written->first, &up);
  written->up = fmax(up.value, down.value);
  written->down = -fmin(up.value, down.value);
  if (up.places > *places) *places = up.places;
  if (down.places > *places) *places = down.places;
  if (written->up >= 0 && written->down >= 0) return true;
  finding_way_out(cursor->run,
                  finding_add(cursor->run, RULE_BAD_NUMBER, cursor_place(cursor, from, cursor->at),
                              "both ends of this tolerance lie on one side of the number"),
                  "write it as a band: LOW to HIGH");
  return false;
}

static bool at_tolerance(const Cursor *cursor) {
  const char *text = cursor->text + cursor->at;
  return *text == '+' || *text == '-' || text_starts(text, "±") || is_loose_dash(text);
}

/* Whether the literal may carry a fraction of the inch. */
static bool fraction_fits(Cursor *cursor, const Number *number, const Unit *unit) {
  if (!number->fraction || dim_same(unit->dim, DIM_LENGTH)) return true;
  Finding *finding =
      finding_add(cursor->run, RULE_BAD_NUMBER, cursor_place(cursor, number->from, number->to),
                  "a fraction is only taken for a length");
  finding_way_out(cursor->run, finding, "write it with a decimal point");
  return false;
}

static bool need_same_kind(Cursor *cursor, Place at, const Unit *first, const Unit *second) {
  if (dim_same(first->dim, second->dim)) return true;
  if (cursor->guessed) return false; /* the unit was reported, and meant otherwise */
  finding_add(cursor->run, RULE_WRONG_DIMENSION, at, "%s (%s) and %s (%s) in one value",
              dim_name(cursor->run->arena, first->dim), first->print,
              dim_name(cursor->run->arena, second->dim), second->print);
  return false;
}

static void set_ends(Literal *literal, double a, double b) {
  literal->low = fmin(a, b);
  literal->high = fmax(a, b);
}

/* A tolerance is a difference: its unit's size counts, not what it counts from.
 * Positions before a dead centre run backwards, so more before is less after. */
static bool put_tolerance(Cursor *cursor, const Written *written, Place at, Literal *literal) {
  const Unit *unit = written->unit, *second = written->second_unit;
  if (!second) second = unit;
  if (!dimension_alike(unit->dim, second->dim)) {
    return need_same_kind(cursor, at, unit, second);
  }
  double up = written->up, down = written->down;
  if (second != unit && second->dim.origin == ORIGIN_NONE) {
    double size = fabs(second->factor / unit->factor);
    up *= size;
    down *= size;
  } else if (!need_same_kind(cursor, at, unit, second)) {
    return false;
  }
  set_ends(literal, unit_to_si(unit, written->first.value - down),
           unit_to_si(unit, written->first.value + up));
  return true;
}

static bool put_band(Cursor *cursor, const Written *written, Place at, Literal *literal) {
  const Unit *unit = written->unit, *second = written->second_unit;
  if (!need_same_kind(cursor, at, unit, second)) return false;
  double from = unit_to_si(unit, written->first.value);
  double to = unit_to_si(second, written->second.value);
  bool reversed = unit == second ? written->first.value > written->second.value : from > to;
  if (reversed) {
    Finding *finding =
        finding_add(cursor->run, RULE_BAND_REVERSED, at, "the first end lies above the second");
    finding_way_out(cursor->run, finding, "write the lower end first");
    return false;
  }
  set_ends(literal, from, to);
  literal->nominal = from + (to - from) / 2;
  return true;
}

static bool put_values(Cursor *cursor, const Written *written, Place at, Literal *literal) {
  const Unit *unit = written->unit;
  literal->shape = written->shape;
  literal->unit = unit;
  literal->nominal = literal->low = literal->high = unit_to_si(unit, written->first.value);
  bool least = written->shape == LITERAL_AT_LEAST;
  switch (written->shape) {
  case LITERAL_TOLERANCE:
    return put_tolerance(cursor, written, at, literal);
  case LITERAL_BAND:
    return put_band(cursor, written, at, literal);
  case LITERAL_AT_LEAST:
  case LITERAL_AT_MOST:
    if (least == (unit->factor > 0))
      literal->high = INFINITY;
    else
      literal->low = -INFINITY;
    return true;
  case LITERAL_EXACT:
  case LITERAL_NONE:
    break;
  }
  return true;
}

/* num [unit] to num unit, "to" already taken. */
static bool read_band_end(Cursor *cursor, Written *written, Literal *literal) {
  written->shape = LITERAL_BAND;
  cursor_skip_blanks(cursor);
  if (!cursor_number(cursor, &written->second)) return false;
  if (written->second.places > literal->places) literal->places = written->second.places;
  if (!cursor_unit(cursor, &written->second_unit)) return false;
  if (!written->second_unit) {
    if (written->unit) {
      finding_add(cursor->run, RULE_UNKNOWN_UNIT,
                  cursor_place(cursor, written->second.from, written->second.to),
                  "the upper end has no unit");
      return false;
    }
    written->second_unit = unit_of_number();
  }
  if (!written->unit) written->unit = written->second_unit;
  return true;
}

/* A tolerance or an end of a larger unit is printed in the number's own. */
static bool is_short_in_its_unit(Cursor *cursor, const Literal *literal, Place at) {
  const double ends[] = {literal->low, literal->high, literal->nominal - literal->low,
                         literal->high - literal->nominal};
  for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
    double number = fabs(ends[i] / literal->unit->factor);
    if (!isfinite(number) || number < 1e12) continue;
    Finding *finding =
        finding_add(cursor->run, RULE_BAD_NUMBER, at,
                    "%s is the unit of both, and one of them has more than 12 digits in it",
                    literal->unit->print);
    finding_way_out(cursor->run, finding, "write both in the larger unit");
    return false;
  }
  return true;
}

static const char *fold_blanks(Arena *arena, const char *text, size_t n) {
  Text out = text_new(arena);
  for (bool gap = false; n > 0; n--, text++) {
    bool blank = is_space(*text);
    if (!blank && gap && out.n > 0) text_add(&out, " ");
    if (!blank) text_add_n(&out, text, 1);
    gap = blank;
  }
  return text_done(&out);
}

static bool read_value(Cursor *cursor, Literal *literal) {
  Written written = {.shape = LITERAL_EXACT};
  size_t from = cursor->at;
  if (cursor_takes_word(cursor, "at least"))
    written.shape = LITERAL_AT_LEAST;
  else if (cursor_takes_word(cursor, "at most"))
    written.shape = LITERAL_AT_MOST;
  cursor_skip_blanks(cursor);
  if (!cursor_number(cursor, &written.first)) return false;
  literal->places = written.first.places;
  if (!cursor_unit(cursor, &written.unit)) return false;
  if (written.shape == LITERAL_EXACT && cursor_takes_word(cursor, "to")) {
    if (!read_band_end(cursor, &written, literal)) return false;
  } else if (written.shape == LITERAL_EXACT && at_tolerance(cursor)) {
    written.shape = LITERAL_TOLERANCE;
    if (!read_tolerance(cursor, &written, &literal->places)) return false;
    if (!cursor_unit(cursor, &written.second_unit)) return false;
    if (!written.unit) written.unit = written.second_unit, written.second_unit = NULL;
  }
  if (!written.unit) written.unit = unit_of_number();
  if (!fraction_fits(cursor, &written.first, written.unit)) return false;
  if (written.shape == LITERAL_BAND &&
      !fraction_fits(cursor, &written.second, written.second_unit)) {
    return false;
  }
  if (written.first.fraction || written.second.fraction)
    literal->fraction = fold_blanks(cursor->run->arena, cursor->text + from, cursor->at - from);
  Place at = cursor_place(cursor, from, cursor->at);
  return put_values(cursor, &written, at, literal) && is_short_in_its_unit(cursor, literal, at);
}

/* Both are roundings of one value when they lie no further apart than half the
 * last printed digit of the one and of the other together. */
static bool ends_agree(double a, double b, double slack) {
  if (!isfinite(a) || !isfinite(b)) return isfinite(a) == isfinite(b);
  return fabs(a - b) <= slack * (1 + 1e-9) + 1e-12 * fabs(a);
}

double literal_half_digit(const Literal *literal) {
  return 0.5 * pow(10, -literal->places) * fabs(literal->unit->factor);
}

static bool values_agree(const Literal *a, const Literal *b) {
  double slack = literal_half_digit(a) + literal_half_digit(b);
  bool ends =
      b->shape == LITERAL_EXACT || (a->shape == b->shape && ends_agree(a->low, b->low, slack) &&
                                    ends_agree(a->high, b->high, slack));
  return ends && ends_agree(a->nominal, b->nominal, slack);
}

/* "(33.9 lbf.ft)" behind the value. */
static bool read_second_value(Cursor *cursor, const Literal *literal) {
  cursor_skip_blanks(cursor);
  size_t from = cursor->at;
  if (!cursor_takes(cursor, "(")) return true;
  cursor_skip_blanks(cursor);
  Literal second = {0};
  if (!read_value(cursor, &second)) return false;
  cursor_skip_blanks(cursor);
  if (!cursor_takes(cursor, ")")) {
    finding_add(cursor->run, RULE_BAD_NUMBER, cursor_place(cursor, from, cursor->at),
                "the bracket is not closed behind the second value");
    return false;
  }
  Place at = cursor_place(cursor, from, cursor->at);
  if (!need_same_kind(cursor, at, literal->unit, second.unit)) return false;
  if (values_agree(literal, &second)) return true;
  Arena *arena = cursor->run->arena;
  Finding *finding = finding_add(
      cursor->run, RULE_UNITS_DISAGREE, at, "%s is %s, not %s", literal_print(arena, literal),
      quantity_print(arena, literal->nominal, second.unit, second.places),
      literal_print(arena, &second));
  finding_way_out(cursor->run, finding, "look which of the two the sheet means, give that alone");
  return false;
}

bool literals_look_like_fraction(const Literal *top, const Literal *bottom) {
  return top->unit == unit_of_number() && top->places == 0 &&
         dim_same(bottom->unit->dim, DIM_LENGTH);
}

Literal literal_parse(Run *run, Place at, const char *text) {
  Cursor cursor = {run, at, text, 0, false};
  Literal literal = {0};
  cursor_skip_blanks(&cursor);
  bool good = read_value(&cursor, &literal) && read_second_value(&cursor, &literal) &&
              cursor_need_end(&cursor);
  if (!good)
    return (Literal){.unit = unit_of_number(), .text = fold_blanks(run->arena, text, strlen(text))};
  literal.text = fold_blanks(run->arena, text, strlen(text));
  literal.guessed = cursor.guessed;
  return literal;
}

#define UNITS_SHOWN 3

/* The first units of that dimension, as many as help. */
static void say_units(Run *run, Finding *finding, Dim dim) {
  Words all = {0}, some = {0};
  unit_spellings(run->arena, &all);
  for (size_t i = 0; i < all.n && some.n < UNITS_SHOWN; i++) {
    const Unit *unit = unit_find(all.at[i]);
    if (unit != unit_of_number() && dim_same(unit->dim, dim) && !text_has(&some, unit->print))
      vec_push(run->arena, &some, unit->print);
  }
  if (some.n > 0)
    finding_way_out(run, finding, "write it in %s", text_join(run->arena, &some, " or "));
}

bool literal_need(Run *run, Place at, const Literal *literal, Dim dim, const char *what) {
  if (literal->shape == LITERAL_NONE) return false;
  if (dim_same(literal->unit->dim, dim)) return true;
  if (literal->guessed) return false;
  const char *unit = literal->unit->print;
  Finding *finding =
      finding_add(run, RULE_WRONG_DIMENSION, at, "%s%sthis is %s%s%s%s, %s is wanted",
                  what ? what : "", what ? ": " : "", dim_name(run->arena, literal->unit->dim),
                  *unit ? " (" : "", unit, *unit ? ")" : "", dim_name(run->arena, dim));
  bool rise = dim.temperature == 1 && dim.origin == ORIGIN_NONE;
  if (rise && dimension_alike(literal->unit->dim, dim)) {
    finding_way_out(run, finding, "a difference of temperature is written in K");
  } else if (literal->unit == unit_of_number()) {
    finding_way_out(run, finding, "write the unit behind the number");
  } else if (dim_same(dim, DIM_FORCE) && text_is(unit, "lb")) {
    finding_way_out(run, finding, "a force is written in lbf");
  } else if (dim_same(dim, DIM_FORCE) && text_is(unit, "kg")) {
    finding_way_out(run, finding, "a force is written in N or kgf");
  } else {
    say_units(run, finding, dim);
  }
  return false;
}
