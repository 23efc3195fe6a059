/* Literals: what is read prints to a text that reads the same. */
#include "fuzz/fuzz.h"

#include "value/literal.h"

#include <math.h>

/* size: of the largest number in it, in SI. A tolerance in a unit of its own is printed in the
 * number's: with the digit before the point, no number has more than eleven places. */
static bool is_near(double a, double b, double size, const Unit *unit) {
  return a == b || fabs(a - b) <= fmax(1e-10 * size, 0.5e-11 * 1.01 * fabs(unit->factor));
}

static double size_of(const Literal *literal) {
  double low = isinf(literal->low) ? 0 : fabs(literal->low);
  double high = isinf(literal->high) ? 0 : fabs(literal->high);
  return fmax(fabs(literal->nominal), fmax(low, high));
}

static void read_and_print(Run *run, const char *text, size_t size) {
  Source *source = source_new(run->arena, "literal", text, size);
  Literal first = literal_parse(run, place_at(source, 1, 1, 1), text);
  if (first.shape == LITERAL_NONE) {
    PROMISE(run->findings->list.n > 0, "no literal, and no finding: %s", text);
    return;
  }
  /* What is read on as it was meant is told, and says so; so is a misspelt unit. */
  for (size_t i = 0; i < run->findings->list.n && !first.guessed; i++)
    PROMISE(run->findings->list.at[i]->rule == RULE_UNKNOWN_UNIT, "a literal with a finding: %s",
            text);
  PROMISE(isfinite(first.nominal) && !isnan(first.low) && !isnan(first.high), "no number: %s",
          text);
  PROMISE(first.low <= first.high, "reversed: %s", text);
  const char *printed = literal_print(run->arena, &first);
  Literal again = literal_parse(run, place_at(source, 1, 1, 1), printed);
  PROMISE(again.shape == first.shape, "\"%s\" prints as \"%s\"", text, printed);
  PROMISE(again.unit == first.unit, "\"%s\" prints as \"%s\"", text, printed);
  double most = size_of(&first);
  PROMISE(is_near(again.nominal, first.nominal, most, first.unit) &&
              is_near(again.low, first.low, most, first.unit) &&
              is_near(again.high, first.high, most, first.unit),
          "\"%s\" prints as \"%s\"", text, printed);
  const char *twice = literal_print(run->arena, &again);
  PROMISE(strcmp(twice, printed) == 0, "\"%s\" prints as \"%s\"", printed, twice);
  both_units_print(run->arena, first.nominal, first.unit, first.places);
  quantity_print(run->arena, first.high, first.unit, -1);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  return fuzz_in_arena(read_and_print, data, size);
}
