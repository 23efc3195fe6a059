#include "model/job_words.h"

#include <math.h>

int quantity_places(const Quantity *quantity) {
  return quantity->decl->places.said ? (int)quantity->decl->places.n : 2;
}

const char *predicted_print(Arena *arena, const Quantity *quantity) {
  if (quantity->predicted.state != VALUE_KNOWN) return "not known";
  return quantity_print(arena, quantity->predicted.nominal, quantity->decl->unit,
                        quantity_places(quantity));
}

const char *band_print(Arena *arena, double low, double high, const Unit *unit, int places) {
  /* BTDC and BBDC count backwards: the larger position prints as the smaller number */
  if (unit->factor < 0) {
    double keep = low;
    low = high;
    high = keep;
  }
  if (isinf(high))
    return arena_printf(arena, "at least %s", quantity_print(arena, low, unit, places));
  if (isinf(low))
    return arena_printf(arena, "at most %s", quantity_print(arena, high, unit, places));
  return arena_printf(arena, "%s to %s", number_print(arena, low, unit, places),
                      quantity_print(arena, high, unit, places));
}

const char *range_print(Arena *arena, const Quantity *quantity) {
  const Range *range = &quantity->predicted;
  if (range->state != VALUE_KNOWN || !(range->high > range->low)) return NULL;
  return band_print(arena, range->low, range->high, quantity->decl->unit,
                    quantity_places(quantity));
}

const char *allowed_print(Arena *arena, const Quantity *quantity) {
  const Allowed *allowed = &quantity->allowed;
  if (!allowed->said) return NULL;
  bool low_known = allowed->has_min && allowed->min_now.state == VALUE_KNOWN;
  bool high_known = allowed->has_max && allowed->max_now.state == VALUE_KNOWN;
  if (!low_known && !high_known) return NULL;
  return band_print(arena, low_known ? allowed->min_now.si : -INFINITY,
                    high_known ? allowed->max_now.si : INFINITY, quantity->decl->unit,
                    quantity_places(quantity));
}

const char *allowed_sheet_print(Arena *arena, const Quantity *quantity) {
  const Voice *winner = &quantity->allowed.winner;
  return winner->entry ? source_print(arena, winner->entry, winner->page) : "";
}
