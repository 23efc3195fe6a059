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
static bool read_tolerance(Reader *reader, Written *written, int *places) {
  size_t from = reader->at;
  const char *text = reader->text + from;
  Number up, down;
  if (is_loose_dash(text)) return reader_band_slip(reader, from, NULL, NULL);
  if (reader_takes(reader, "+-") || reader_takes(reader, "±") || reader_takes(reader, "+/-")) {
    reader_skip_blanks(reader);
    if (!reader_number(reader, &up)) return false;
    if (up.value < 0) {
      finding_add(reader->run, RULE_BAD_NUMBER, reader_place(reader, from, reader->at),
                  "a tolerance has no sign of its own");
      return false;
    }
    written->up = written->down = up.value;
    if (up.places > *places) *places = up.places;
    return true;
  }
  if (!reader_number(reader, &up)) return false;
  reader_skip_blanks(reader);
  bool slash = reader_takes(reader, "/");
  reader_skip_blanks(reader);
  const char sign = reader->text[reader->at];
  bool signs = up.signs && (sign == '+' || sign == '-' || sign == '0') && slash;
  if (signs && !reader_number(reader, &down)) return false;
  if (!signs) return reader_band_slip(reader, from, &written->first, &up);
  written->up = fmax(up.value, down.value);
  written->down = -fmin(up.value, down.value);
  if (up.places > *places) *places = up.places;
  if (down.places > *places) *places = down.places;
  if (written->up >= 0 && written->down >= 0) return true;
  finding_way_out(reader->run,
                  finding_add(reader->run, RULE_BAD_NUMBER, reader_place(reader, from, reader->at),
                              "both ends of this tolerance lie on one side of the number"),
                  "write it as a band: LOW to HIGH");
  return false;
}

static bool at_tolerance(const Reader *reader) {
  const char *text = reader->text + reader->at;
  return *text == '+' || *text == '-' || text_starts(text, "±") || is_loose_dash(text);
}

/* Whether the literal may carry a fraction of the inch. */
static bool fraction_fits(Reader *reader, const Number *number, const Unit *unit) {
  if (!number->fraction || dim_same(unit->dim, DIM_LENGTH)) return true;
  Finding *finding =
      finding_add(reader->run, RULE_BAD_NUMBER, reader_place(reader, number->from, number->to),
                  "a fraction is only taken for a length");
  finding_way_out(reader->run, finding, "write it with a decimal point");
  return false;
}

static bool need_same_kind(Reader *reader, Place at, const Unit *first, const Unit *second) {
  if (dim_same(first->dim, second->dim)) return true;
  finding_add(reader->run, RULE_WRONG_DIMENSION, at, "%s (%s) and %s (%s) in one value",
              dim_name(reader->run->arena, first->dim), first->print,
              dim_name(reader->run->arena, second->dim), second->print);
  return false;
}

static void set_ends(Literal *literal, double a, double b) {
  literal->low = fmin(a, b);
  literal->high = fmax(a, b);
}

/* A tolerance is a difference: its unit's size counts, not what it counts from.
 * Positions before a dead centre run backwards, so more before is less after. */
static bool put_tolerance(Reader *reader, const Written *written, Place at, Literal *literal) {
  const Unit *unit = written->unit, *second = written->second_unit;
  if (!second) second = unit;
  if (!dimension_alike(unit->dim, second->dim)) {
    return need_same_kind(reader, at, unit, second);
  }
  double up = written->up, down = written->down;
  if (second != unit && second->dim.origin == ORIGIN_NONE) {
    double size = fabs(second->factor / unit->factor);
    up *= size;
    down *= size;
  } else if (!need_same_kind(reader, at, unit, second)) {
    return false;
  }
  set_ends(literal, unit_to_si(unit, written->first.value - down),
           unit_to_si(unit, written->first.value + up));
  return true;
}

static bool put_band(Reader *reader, const Written *written, Place at, Literal *literal) {
  const Unit *unit = written->unit, *second = written->second_unit;
  if (!need_same_kind(reader, at, unit, second)) return false;
  double from = unit_to_si(unit, written->first.value);
  double to = unit_to_si(second, written->second.value);
  bool reversed = unit == second ? written->first.value > written->second.value : from > to;
  if (reversed) {
    Finding *finding =
        finding_add(reader->run, RULE_BAND_REVERSED, at, "the first end lies above the second");
    finding_way_out(reader->run, finding, "write the lower end first");
    return false;
  }
  set_ends(literal, from, to);
  literal->nominal = from + (to - from) / 2;
  return true;
}

static bool put_values(Reader *reader, const Written *written, Place at, Literal *literal) {
  const Unit *unit = written->unit;
  literal->shape = written->shape;
  literal->unit = unit;
  literal->nominal = literal->low = literal->high = unit_to_si(unit, written->first.value);
  bool least = written->shape == LITERAL_AT_LEAST;
  switch (written->shape) {
  case LITERAL_TOLERANCE:
    return put_tolerance(reader, written, at, literal);
  case LITERAL_BAND:
    return put_band(reader, written, at, literal);
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
static bool read_band_end(Reader *reader, Written *written, Literal *literal) {
  written->shape = LITERAL_BAND;
  reader_skip_blanks(reader);
  if (!reader_number(reader, &written->second)) return false;
  if (written->second.places > literal->places) literal->places = written->second.places;
  if (!reader_unit(reader, &written->second_unit)) return false;
  if (!written->second_unit) {
    if (written->unit) {
      finding_add(reader->run, RULE_UNKNOWN_UNIT,
                  reader_place(reader, written->second.from, written->second.to),
                  "the upper end has no unit");
      return false;
    }
    written->second_unit = unit_of_number();
  }
  if (!written->unit) written->unit = written->second_unit;
  return true;
}

static bool read_value(Reader *reader, Literal *literal) {
  Written written = {.shape = LITERAL_EXACT};
  size_t from = reader->at;
  if (reader_takes_word(reader, "at least"))
    written.shape = LITERAL_AT_LEAST;
  else if (reader_takes_word(reader, "at most"))
    written.shape = LITERAL_AT_MOST;
  reader_skip_blanks(reader);
  if (!reader_number(reader, &written.first)) return false;
  literal->places = written.first.places;
  if (!reader_unit(reader, &written.unit)) return false;
  if (written.shape == LITERAL_EXACT && reader_takes_word(reader, "to")) {
    if (!read_band_end(reader, &written, literal)) return false;
  } else if (written.shape == LITERAL_EXACT && at_tolerance(reader)) {
    written.shape = LITERAL_TOLERANCE;
    if (!read_tolerance(reader, &written, &literal->places)) return false;
    if (!reader_unit(reader, &written.second_unit)) return false;
    if (!written.unit) written.unit = written.second_unit, written.second_unit = NULL;
  }
  if (!written.unit) written.unit = unit_of_number();
  if (!fraction_fits(reader, &written.first, written.unit)) return false;
  if (written.shape == LITERAL_BAND &&
      !fraction_fits(reader, &written.second, written.second_unit)) {
    return false;
  }
  return put_values(reader, &written, reader_place(reader, from, reader->at), literal);
}

/* Both are roundings of one value when they lie no further apart than half the
 * last printed digit of the one and of the other together. */
static bool ends_agree(double a, double b, double slack) {
  if (!isfinite(a) || !isfinite(b)) return isfinite(a) == isfinite(b);
  return fabs(a - b) <= slack * (1 + 1e-9) + 1e-12 * fabs(a);
}

static double half_digit(const Literal *literal) {
  return 0.5 * pow(10, -literal->places) * fabs(literal->unit->factor);
}

static bool values_agree(const Literal *a, const Literal *b) {
  double slack = half_digit(a) + half_digit(b);
  bool ends =
      b->shape == LITERAL_EXACT || (a->shape == b->shape && ends_agree(a->low, b->low, slack) &&
                                    ends_agree(a->high, b->high, slack));
  return ends && ends_agree(a->nominal, b->nominal, slack);
}

/* "(33.9 lbf.ft)" behind the value. */
static bool read_second_value(Reader *reader, const Literal *literal) {
  reader_skip_blanks(reader);
  size_t from = reader->at;
  if (!reader_takes(reader, "(")) return true;
  reader_skip_blanks(reader);
  Literal second = {0};
  if (!read_value(reader, &second)) return false;
  reader_skip_blanks(reader);
  if (!reader_takes(reader, ")")) {
    finding_add(reader->run, RULE_BAD_NUMBER, reader_place(reader, from, reader->at),
                "the bracket is not closed behind the second value");
    return false;
  }
  Place at = reader_place(reader, from, reader->at);
  if (!need_same_kind(reader, at, literal->unit, second.unit)) return false;
  if (values_agree(literal, &second)) return true;
  Arena *arena = reader->run->arena;
  Finding *finding = finding_add(
      reader->run, RULE_UNITS_DISAGREE, at, "%s is %s, not %s", literal_print(arena, literal),
      quantity_print(arena, literal->nominal, second.unit, second.places),
      literal_print(arena, &second));
  finding_way_out(reader->run, finding, "look which of the two the sheet means, give that alone");
  return false;
}

static const char *fold_blanks(Arena *arena, const char *text) {
  Text out = text_new(arena);
  for (bool gap = false; *text; text++) {
    bool blank = *text == ' ' || *text == '\t' || *text == '\n';
    if (!blank && gap && out.n > 0) text_add(&out, " ");
    if (!blank) text_add_n(&out, text, 1);
    gap = blank;
  }
  return text_done(&out);
}

Literal literal_parse(Run *run, Place at, const char *text) {
  Reader reader = {run, at, text, 0};
  Literal literal = {0};
  reader_skip_blanks(&reader);
  bool good = read_value(&reader, &literal) && read_second_value(&reader, &literal) &&
              reader_need_end(&reader);
  if (!good) return (Literal){.unit = unit_of_number(), .text = fold_blanks(run->arena, text)};
  literal.text = fold_blanks(run->arena, text);
  return literal;
}

bool literal_need(Run *run, Place at, const Literal *literal, Dim dim, const char *what) {
  if (literal->shape == LITERAL_NONE) return false;
  if (dim_same(literal->unit->dim, dim)) return true;
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
  }
  return false;
}
