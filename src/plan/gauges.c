#include "plan/gauges.h"

#include "base/near.h"
#include "model/readings.h"

#include <math.h>

double gauge_resolution(const Gauge *gauge) {
  double si = 0;
  return !gauge_is_go(gauge) && expr_si(&gauge->resolution, &si) ? si : 0;
}

double gauge_uncertainty(const Gauge *gauge) {
  double si = 0;
  return !gauge_is_go(gauge) && expr_si(&gauge->uncertainty, &si) ? si : gauge_resolution(gauge);
}

/* What the reading will be about: the prediction, else the middle of what is
 * allowed, else the one limit there is. */
static bool expected(const Quantity *quantity, double *si) {
  if (quantity->predicted.state == VALUE_KNOWN) {
    *si = quantity->predicted.nominal;
    return true;
  }
  const Allowed *allowed = &quantity->allowed;
  bool low = allowed->has_min && allowed->min_now.state == VALUE_KNOWN;
  bool high = allowed->has_max && allowed->max_now.state == VALUE_KNOWN;
  if (low && high)
    *si = (allowed->min_now.si + allowed->max_now.si) / 2;
  else if (low)
    *si = allowed->min_now.si;
  else if (high)
    *si = allowed->max_now.si;
  return low || high;
}

/* The dimension it reads in: of its range, else of its resolution. */
static bool gauge_dim(const Gauge *gauge, Dim *dim) {
  const Expr *from = gauge->range.kind == EXPR_LITERAL ? &gauge->range : &gauge->resolution;
  if (from->kind != EXPR_LITERAL || !from->literal.unit) return false;
  *dim = from->literal.unit->dim;
  return true;
}

/* Positions of the crank are read as angles. */
static bool reads_dim(const Gauge *gauge, const Quantity *quantity) {
  Dim dim;
  if (!gauge_dim(gauge, &dim)) return gauge_is_go(gauge);
  Dim wanted = quantity->decl->unit->dim;
  if (wanted.origin == ORIGIN_TDC || wanted.origin == ORIGIN_BDC) wanted.origin = ORIGIN_NONE;
  return dim_same(dim, wanted) || dim_same(dim, quantity->decl->unit->dim);
}

static bool holds_value(const Gauge *gauge, const Quantity *quantity) {
  double si = 0;
  if (gauge->range.kind != EXPR_LITERAL || gauge->range.literal.shape == LITERAL_NONE) return true;
  if (!expected(quantity, &si)) return true;
  double low = gauge->range.literal.low, high = gauge->range.literal.high;
  double slack = 1e-9 * fabs(si);
  if (low <= 0) return fabs(si) <= high + slack; /* from nothing on it reads both ways */
  return si >= low - slack && si <= high + slack;
}

static const Gauge *finest(const ShopEntry *shop, const Said *measures, const Quantity *quantity) {
  const Gauge *best = NULL;
  for (size_t i = 0; i < shop->gauges.n; i++) {
    const Gauge *gauge = &shop->gauges.at[i];
    if (measures->s && !text_is(gauge->measures.s, measures->s)) continue;
    if (!reads_dim(gauge, quantity) || !holds_value(gauge, quantity)) continue;
    if (!best || (gauge_resolution(gauge) < gauge_resolution(best) && !gauge_is_go(gauge)) ||
        (gauge_is_go(best) && !gauge_is_go(gauge)))
      best = gauge;
  }
  return best;
}

static const char *gauge_print(Arena *arena, const Gauge *gauge) {
  const char *label = gauge->label.s ? gauge->label.s : gauge->name;
  return gauge->id.s ? arena_printf(arena, "%s %s", label, gauge->id.s) : label;
}

static const char *expected_print(Planner *planner, const Quantity *quantity) {
  double si = 0;
  expected(quantity, &si);
  return quantity_print(planner->arena, si, quantity->decl->unit, quantity_places(quantity));
}

static const Gauge *named(const ShopEntry *shop, const char *name) {
  for (size_t i = 0; i < shop->gauges.n; i++) {
    if (text_is(shop->gauges.at[i].name, name)) return &shop->gauges.at[i];
  }
  return NULL;
}

static bool is_kind(const ShopEntry *shop, const char *word) {
  for (size_t i = 0; i < shop->gauges.n; i++) {
    if (text_is(shop->gauges.at[i].measures.s, word)) return true;
  }
  return false;
}

static Finding *no_gauge(Planner *planner, const BoxDecl *box, const Quantity *quantity,
                         const char *why) {
  Place at = box->gauge.s ? box->gauge.at : box->at;
  Finding *finding = finding_add(planner->run, RULE_NO_GAUGE, at, "%s: %s", quantity->label, why);
  finding_subject(finding, quantity->name);
  return finding;
}

/* What kind of entry serves a value that no gauge shows. */
static void way_out_result(Planner *planner, Finding *finding) {
  finding_way_out(planner->run, finding,
                  "name an entry of the shop's gauges that says `measures: other`, with the range "
                  "and the resolution that the result is written in");
}

void no_gauge_for_result(Planner *planner, const PlanBox *box) {
  Finding *finding =
      no_gauge(planner, box->decl, box->quantity,
               arena_printf(planner->arena,
                            "this is worked out, and %s, which measures %s, reads nothing of what "
                            "it is worked out from",
                            gauge_print(planner->arena, box->gauge), box->gauge->measures.s));
  finding_note(planner->run, finding, box->gauge->at, "the gauge stands here");
  way_out_result(planner, finding);
}

static void nothing_fits(Planner *planner, const BoxDecl *box, const Quantity *quantity,
                         bool worked) {
  const ShopEntry *shop = planner->job->shop;
  Finding *finding = NULL;
  double si = 0;
  if (!box->gauge.s) {
    finding = no_gauge(planner, box, quantity,
                       arena_printf(planner->arena,
                                    "the box names no gauge, and no gauge of %s "
                                    "suits %s",
                                    planner->job->shop_entry->id,
                                    dim_name(planner->arena, quantity->decl->unit->dim)));
  } else if (is_kind(shop, box->gauge.s) && expected(quantity, &si)) {
    finding = no_gauge(planner, box, quantity,
                       arena_printf(planner->arena, "no gauge of %s that measures %s reaches %s",
                                    planner->job->shop_entry->id, box->gauge.s,
                                    expected_print(planner, quantity)));
  } else {
    finding =
        no_gauge(planner, box, quantity,
                 arena_printf(planner->arena, "%s has no gauge '%s' and none that measures it",
                              planner->job->shop_entry->id, box->gauge.s));
    Words names = {0};
    for (size_t i = 0; i < shop->gauges.n; i++)
      vec_push(planner->arena, &names, shop->gauges.at[i].name);
    const char *near = near_word(box->gauge.s, &names);
    if (near) {
      finding_way_out(planner->run, finding, "did you mean '%s'?", near);
      return;
    }
  }
  if (worked) {
    way_out_result(planner, finding);
    return;
  }
  finding_way_out(
      planner->run, finding,
      "name a gauge of the shop, or enter the one that will be used in the shop's file");
}

static bool fits(Planner *planner, const BoxDecl *box, const Gauge *gauge, const Quantity *quantity,
                 bool worked) {
  const char *why = NULL;
  if (!reads_dim(gauge, quantity)) {
    why = arena_printf(planner->arena, "%s does not read %s", gauge_print(planner->arena, gauge),
                       dim_name(planner->arena, quantity->decl->unit->dim));
  } else if (!holds_value(gauge, quantity)) {
    why = arena_printf(
        planner->arena, "%s reads %s, and about %s is expected", gauge_print(planner->arena, gauge),
        literal_print(planner->arena, &gauge->range.literal), expected_print(planner, quantity));
  }
  if (!why) return true;
  Finding *finding = no_gauge(planner, box, quantity, why);
  finding_note(planner->run, finding, gauge->at, "the gauge stands here");
  if (worked)
    way_out_result(planner, finding);
  else
    finding_way_out(planner->run, finding, "name another gauge, or what it must measure instead");
  return false;
}

const Gauge *need_gauge(Planner *planner, const BoxDecl *box, const Quantity *quantity,
                        bool worked) {
  const ShopEntry *shop = planner->job->shop;
  if (!shop) return NULL; /* reported, or the build names none */
  const Gauge *gauge = box->gauge.s ? named(shop, box->gauge.s) : NULL;
  if (gauge) return fits(planner, box, gauge, quantity, worked) ? gauge : NULL;
  /* a length may be an outside, a bore, a depth or a gap: nobody guesses */
  bool guess = !box->gauge.s && dim_same(quantity->decl->unit->dim, DIM_LENGTH);
  gauge = guess ? NULL : finest(shop, &box->gauge, quantity);
  if (!gauge) nothing_fits(planner, box, quantity, worked);
  return gauge;
}

void gauges_vouch(Planner *planner) {
  const Job *job = planner->job;
  for (size_t i = 0; i < planner->plan->boxes.n; i++) {
    const Gauge *gauge = planner->plan->boxes.at[i]->gauge;
    const char *of = "the job is", *when = job->build->date.s;
    if (!gauge) continue;
    if (!date_before(gauge->due.s, when) && planner->plan->boxes.at[i]->has_value) {
      of = "the readings are";
      when = job->readings->date.s;
    }
    if (!date_before(gauge->due.s, when)) continue;
    if (!tell_once(planner, arena_printf(planner->arena, "due/%s", gauge->name))) continue;
    Finding *finding = finding_add(planner->run, RULE_CALIBRATION_OUT, gauge->due.at,
                                   "%s: calibration was due on %s, %s of %s",
                                   gauge_print(planner->arena, gauge), gauge->due.s, of, when);
    finding_subject(finding, gauge->name);
    finding_way_out(planner->run, finding, "have it calibrated, or use another");
  }
}
