#include "model/job_words.h"

#include "base/decimal.h"
#include "base/text.h"

#include <math.h>
#include <string.h>

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

#define MORE_DIGITS 2 /* a sheet may give, beyond those of the quantity */

static bool is_round(double shown, int places) {
  double step = pow(10, -places);
  return fabs(shown - decimal_round(shown, step)) <= 1e-6 * step;
}

/* A limit is printed with all digits of its sheet; one that a formula gives is rounded
 * inward, so that the print never allows more than the limit. */
const char *allowed_print(Arena *arena, const Quantity *quantity) {
  const Allowed *allowed = &quantity->allowed;
  const Unit *unit = quantity->decl->unit;
  if (!allowed->said) return NULL;
  bool low_known = allowed->has_min && allowed->min_now.state == VALUE_KNOWN;
  bool high_known = allowed->has_max && allowed->max_now.state == VALUE_KNOWN;
  if (!low_known && !high_known) return NULL;
  double low = low_known ? unit_from_si(unit, allowed->min_now.si) : 0;
  double high = high_known ? unit_from_si(unit, allowed->max_now.si) : 0;
  int places = quantity_places(quantity);
  for (int more = 0; more <= MORE_DIGITS && !allowed->worked_out; more++) {
    if (!is_round(low, places + more) || !is_round(high, places + more)) continue;
    return band_print(arena, low_known ? allowed->min_now.si : -INFINITY,
                      high_known ? allowed->max_now.si : INFINITY, unit, places + more);
  }
  double step = pow(10, -places);
  bool back = unit->factor < 0;
  low = unit_to_si(unit, back ? decimal_floor(low, step) : decimal_ceil(low, step));
  high = unit_to_si(unit, back ? decimal_ceil(high, step) : decimal_floor(high, step));
  return band_print(arena, low_known ? low : -INFINITY, high_known ? high : INFINITY, unit, places);
}

const char *allowed_sheet_print(Arena *arena, const Quantity *quantity) {
  const Voice *winner = &quantity->allowed.winner;
  return winner->entry ? source_print(arena, winner->entry, winner->page) : "";
}

static bool is_same_end(bool has, const Evaluation *end, bool other_has, const Evaluation *other) {
  return has == other_has && (!has || (end->state == other->state && end->si == other->si));
}

/* What is worked out from the same numbers need not be printed to be seen to be alike. */
static bool has_same_numbers(const Quantity *a, const Quantity *b) {
  const Range *range = &a->predicted, *other_range = &b->predicted;
  const Allowed *allowed = &a->allowed, *other = &b->allowed;
  return a->decl == b->decl && range->state == other_range->state &&
         range->nominal == other_range->nominal && range->low == other_range->low &&
         range->high == other_range->high && allowed->said == other->said &&
         allowed->worked_out == other->worked_out &&
         is_same_end(allowed->has_min, &allowed->min_now, other->has_min, &other->min_now) &&
         is_same_end(allowed->has_max, &allowed->max_now, other->has_max, &other->max_now) &&
         allowed->winner.entry == other->winner.entry &&
         text_is(allowed->winner.page, other->winner.page);
}

static bool prints_alike(Arena *arena, const Quantity *a, const Quantity *b) {
  if (!text_is(a->name, b->name) || !text_is(a->occasion, b->occasion) || a->outcome != b->outcome)
    return false;
  if (has_same_numbers(a, b)) return true;
  return text_is(predicted_print(arena, a), predicted_print(arena, b)) &&
         text_is(range_print(arena, a), range_print(arena, b)) &&
         text_is(allowed_print(arena, a), allowed_print(arena, b)) &&
         text_is(allowed_sheet_print(arena, a), allowed_sheet_print(arena, b));
}

bool quantity_leads(Arena *arena, const Job *job, size_t index) {
  const Quantity *quantity = job->quantities.at[index];
  for (size_t i = index; i-- > 0;) {
    const Quantity *other = job->quantities.at[i];
    if (!text_is(other->name, quantity->name)) return true; /* members follow each other */
    if (prints_alike(arena, other, quantity)) return false;
  }
  return true;
}

const Instance *instance_top(const Instance *instance) {
  while (instance->parent && instance->parent->set) instance = instance->parent;
  return instance;
}

/* Two cylinders that agree differ in the first member of the path only: "intake 5" of "left
 * intake 5" is the same for both. */
static bool is_same_below(const Instance *a, const Instance *b) {
  for (; a->parent && a->parent->set && b->parent && b->parent->set; a = a->parent, b = b->parent)
    if (!text_is(a->member, b->member)) return false;
  return true;
}

/* "intake valve, 5 deg from top": the labels below the first member, outermost first. */
const char *instance_label_below(Arena *arena, const Instance *instance) {
  const char *whole = instance->label, *first = instance_top(instance)->label;
  size_t n = 0;
  while (first[n] && first[n] == whole[n]) n++;
  while (whole[n] == ',' || whole[n] == ' ') n++;
  return arena_text(arena, whole + n, strlen(whole + n));
}

const char *quantity_members_print(Arena *arena, const Job *job, size_t index, bool with_label) {
  const Quantity *first = job->quantities.at[index];
  const char *name = with_label ? first->label : first->name;
  if (!first->instance->set) return name;
  Words alike = {0};
  size_t members = 0, same_below = 0, alike_below = 0;
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *other = job->quantities.at[i];
    if (!text_is(other->name, first->name)) continue;
    bool is_alike = prints_alike(arena, first, other);
    bool below = is_same_below(first->instance, other->instance);
    members++;
    same_below += below;
    alike_below += below && is_alike;
    if (is_alike)
      vec_push(arena, &alike,
               with_label ? other->instance->label : other->key + strlen(first->name) + 2);
  }
  if (alike.n == members && members > 1)
    return arena_printf(arena, "%s, each %s", name, first->instance->set->label);
  if (same_below > 1 && alike_below == same_below && alike.n == alike_below)
    return arena_printf(arena, "%s, %s, each %s", name,
                        instance_label_below(arena, first->instance),
                        instance_top(first->instance)->set->label);
  Text text = text_new(arena);
  for (size_t i = 0; i < alike.n; i++)
    text_addf(&text, "%s%s", i == 0 ? "" : i + 1 == alike.n ? " and " : ", ", alike.at[i]);
  return arena_printf(arena, "%s, %s", name, text_done(&text));
}

const char *joint_again_print(Arena *arena, const JobJoint *joint) {
  const char *said = joint->bundle ? joint->bundle->retorque_after.s : NULL;
  if (!said || text_starts(said, "after ")) return said;
  return arena_printf(arena, "after %s", said);
}
