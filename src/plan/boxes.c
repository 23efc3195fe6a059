/* The boxes to fill: what, with which gauge, between which limits as they are printed. */
#include "plan/gauges.h"
#include "plan/reach.h"
#include "plan/work.h"

#include "base/decimal.h"
#include "base/near.h"

#include <math.h>

/* Degrees on a wheel and degrees after a dead centre, kelvins and degrees Celsius: the steps are of
 * one size, whatever they are counted from. */
static bool same_steps(const Unit *a, const Unit *b) {
  Dim from = a->dim, to = b->dim;
  from.origin = to.origin = ORIGIN_NONE;
  double one = fabs(a->factor), other = fabs(b->factor);
  return dim_same(from, to) && fabs(one - other) <= 1e-12 * other;
}

/* Printed in the quantity's unit where the gauge reads in that or in one of the same
 * size, else in the gauge's: limits rounded to its marks are round only there. */
static void set_unit(PlanBox *box) {
  const Quantity *quantity = box->quantity;
  box->unit = quantity->decl->unit;
  box->places = quantity_places(quantity);
  if (!(box->resolution > 0)) return;
  const Literal *reads = &box->gauge->resolution.literal;
  bool same = same_steps(box->unit, reads->unit);
  if (!same && dim_same(box->unit->dim, reads->unit->dim)) {
    box->unit = reads->unit;
    same = true;
  }
  if (same) box->places = reads->places;
}

static void vanished(Planner *planner, const PlanBox *box) {
  const char *gauge = box->gauge->label.s ? box->gauge->label.s : box->gauge->name;
  Finding *finding = finding_add(
      planner->run, RULE_BAND_VANISHES, box->decl->at, "%s: with %s (%s) no reading lies in %s",
      box->quantity->label, gauge, literal_print(planner->arena, &box->gauge->resolution.literal),
      allowed_print(planner->arena, box->quantity));
  finding_subject(finding, box->quantity->name);
  if (box->quantity->allowed.winner.entry)
    finding_note(planner->run, finding, box->quantity->allowed.winner.at, "the limits stand here");
  finding_way_out(planner->run, finding, "name a finer gauge");
}

/* Limits rounded inward to marks of the gauge: rounding never widens a band. Marks
 * are counted in the gauge's own unit, whose zero need not be that of SI. */
static void set_limits(Planner *planner, PlanBox *box) {
  const Allowed *allowed = &box->quantity->allowed;
  box->has_min = allowed->has_min && allowed->min_now.state == VALUE_KNOWN;
  box->has_max = allowed->has_max && allowed->max_now.state == VALUE_KNOWN;
  box->has_target = allowed->has_target && allowed->target_now.state == VALUE_KNOWN;
  if (box->has_min) box->min = allowed->min_now.si;
  if (box->has_max) box->max = allowed->max_now.si;
  if (box->has_target) box->target = allowed->target_now.si;
  if (gauge_is_go(box->gauge)) return;
  /* of a gauge whose steps nobody states, to what is printed */
  double step =
      box->resolution > 0 ? box->resolution / fabs(box->unit->factor) : pow(10, -box->places);
  bool back = box->unit->factor < 0; /* positions before a dead centre count backwards */
  if (box->has_min) {
    double shown = unit_from_si(box->unit, box->min);
    box->min = unit_to_si(box->unit, back ? decimal_floor(shown, step) : decimal_ceil(shown, step));
  }
  if (box->has_max) {
    double shown = unit_from_si(box->unit, box->max);
    box->max = unit_to_si(box->unit, back ? decimal_ceil(shown, step) : decimal_floor(shown, step));
  }
  if (!box->has_min || !box->has_max || box->min <= box->max + 1e-6 * box->resolution) return;
  if (box->resolution > 0) vanished(planner, box);
  box->has_min = box->has_max = false;
}

static void set_reading(PlanBox *box) {
  const Quantity *quantity = box->quantity;
  for (size_t i = 0; i < quantity->readings.n; i++) {
    const Reading *reading = &quantity->readings.at[i];
    if (reading->box != box->number) continue; /* 0: a size fitted, no box */
    box->has_value = true;
    box->value = reading->si;
    box->reading = reading;
    if (reading->word) box->verdict = reading->passed ? VERDICT_IN : VERDICT_OUT;
  }
  if (box->has_value && box->reading->word) return;
  if (!box->has_value || box->kind != BOX_JUDGED || !(box->has_min || box->has_max)) return;
  double scale = box->resolution > 0 ? box->resolution : fabs(box->value);
  bool low = box->has_min && box->value < box->min - 1e-6 * scale;
  bool high = box->has_max && box->value > box->max + 1e-6 * scale;
  box->verdict = low || high || quantity->overruled ? VERDICT_OUT : VERDICT_IN;
}

static bool has_room(Planner *planner, const BoxDecl *decl) {
  if (planner->plan->boxes.n < MOST_BOXES) return true;
  if (!planner->boxes_full)
    finding_add(planner->run, RULE_TOO_BIG, decl->quantity.at, "the work has more than %d boxes",
                MOST_BOXES);
  planner->boxes_full = true;
  return false;
}

PlanBox *box_add(Planner *planner, PlanStep *step, const BoxDecl *decl, Quantity *quantity,
                 const char *position, const Gauge *gauge) {
  if (!has_room(planner, decl)) return NULL;
  Arena *arena = planner->arena;
  PlanBox *box = ARENA_NEW(arena, PlanBox);
  box->number = (int)planner->plan->boxes.n + 1;
  box->decl = decl;
  box->quantity = quantity;
  box->position = position;
  bool final = text_is(quantity->occasion, "final") || decl->label.s;
  box->label =
      arena_printf(arena, "%s%s%s%s%s%s", decl->label.s ? decl->label.s : quantity->label,
                   instance_tail(arena, quantity->instance), final ? "" : ", ",
                   final ? "" : quantity->occasion, position ? ", " : "", position ? position : "");
  box->gauge = gauge;
  if (gauge) {
    box->resolution = gauge_resolution(gauge);
    box->uncertainty = gauge_uncertainty(gauge);
  }
  box->kind = BOX_FEEDS; /* until fitness finds out what it feeds */
  if (quantity_is_judged(quantity)) box->kind = BOX_JUDGED;
  if (decl->only.s || quantity->decl->report.s) box->kind = BOX_RECORD_ONLY;
  set_unit(box);
  if (box->kind == BOX_JUDGED) set_limits(planner, box);
  box->readings = decl->readings.said && decl->readings.n > 0 ? (int)decl->readings.n : 1;
  if (box->readings > 3) box->readings = 3;
  set_reading(box);
  vec_push(arena, &step->boxes, box);
  vec_push(arena, &planner->plan->boxes, box);
  return box;
}

static void tell_occasion(Planner *planner, const PlanStep *step, const BoxDecl *decl) {
  Finding *finding = finding_add(planner->run, RULE_UNKNOWN_NAME, decl->quantity.at,
                                 "'%s' is not known at this step%s%s", decl->quantity.s,
                                 decl->occasion.s ? " on the occasion " : "",
                                 decl->occasion.s ? decl->occasion.s : "");
  finding_way_out(planner->run, finding,
                  step->instance->set ? "name the member in brackets, or the step's for_each"
                                      : "name an occasion that the limits name");
}

static void add_boxes(Planner *planner, PlanStep *step, const BoxDecl *decl) {
  if (!decl->quantity.s) return;
  Name name = name_split(planner->arena, decl->quantity.s);
  QuantityList list = {0};
  pick_quantities(planner, &name, step->instance, decl->occasion.s ? decl->occasion.s : "final",
                  &list);
  if (list.n == 0 && quantities_named(planner, name.base)) tell_occasion(planner, step, decl);
  if (list.n == 0 && !quantities_named(planner, name.base))
    tell_unknown(planner, step->procedure, &decl->quantity, "quantity", &planner->quantity_names);
  for (size_t i = 0; i < list.n; i++) {
    Quantity *quantity = list.at[i];
    if (!quantity->decl->unit) continue; /* reported */
    bool worked = step->decl->work.n > 0 && quantity->formula && !decl->letter.s;
    const Gauge *gauge = need_gauge(planner, decl, quantity, worked);
    if (decl->positions.n == 0) box_add(planner, step, decl, quantity, NULL, gauge);
    for (size_t p = 0; p < decl->positions.n; p++)
      box_add(planner, step, decl, quantity, decl->positions.at[p].s, gauge);
  }
}

bool box_is_as_built(const BoxDecl *box) {
  const char *occasion = box ? box->occasion.s : NULL;
  return !occasion || text_is(occasion, "final") || text_is(occasion, "mock-up") ||
         text_is(occasion, "mock_up");
}

void boxes_build(Planner *planner) {
  for (size_t i = 0; i < planner->plan->steps.n; i++) {
    PlanStep *step = planner->plan->steps.at[i];
    for (size_t b = 0; b < step->decl->boxes.n; b++)
      add_boxes(planner, step, &step->decl->boxes.at[b]);
    joint_boxes(planner, step);
  }
  gauges_vouch(planner);
}
