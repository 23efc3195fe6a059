/* Can the gauges tell good from bad? Judged on what is judged: on the box itself
 * where it has limits, and on what is computed from it.
 *
 * Shares: a gauge should read to a tenth of the band (10 % rule of NHB 5300.4(1B), as
 * quoted in NASA RP-1342); to a fifth with three readings. Its uncertainty takes from
 * both ends of the band: with a third of the band each way only a third is left. */
#include "plan/gauges.h"
#include "plan/reach.h"
#include "plan/work.h"

#include <math.h>

#define SHARE_ONE_READING     (1.0 / 10)
#define SHARE_MOST            (1.0 / 5)
#define UNCERTAIN_ONE_READING (1.0 / 6)
#define UNCERTAIN_MOST        (1.0 / 3)

/* A share just at its bound is within it, whatever the last digit of a division. */
static bool is_above(double share, double bound) {
  return share > bound * (1 + 1e-9);
}

/* What is measured in one or more boxes. */
typedef struct Measured {
  Quantity *quantity;
  VEC(PlanBox *) boxes;
  double resolution, uncertainty;
  double share, uncertain; /* the worst, of the band it is judged by */
  const Quantity *judge;   /* what is computed from it and decides; NULL: none */
  double judge_share;
  bool judge_measured; /* that is measured itself as well */
  bool worked;         /* worked out on paper from others: no gauge is put to it */
} Measured;

typedef struct Fitness {
  Planner *planner;
  Reach *reach;
  VEC(Measured *) list;
  VEC(Measured *) by_node; /* index: node */
} Fitness;

static Measured *measured_at(const Fitness *fitness, NodeId node) {
  return node < fitness->by_node.n ? fitness->by_node.at[node] : NULL;
}

static void collect_box(Fitness *fitness, PlanBox *box) {
  Arena *arena = fitness->planner->arena;
  NodeId node = box->quantity->value;
  if (node == 0) return;
  while (fitness->by_node.n <= node) vec_push(arena, &fitness->by_node, NULL);
  Measured *measured = fitness->by_node.at[node];
  if (!measured) {
    measured = ARENA_NEW(arena, Measured);
    measured->quantity = box->quantity;
    measured->worked = box->worked;
    fitness->by_node.at[node] = measured;
    vec_push(arena, &fitness->list, measured);
    reach_mark(fitness->reach, node, !box->worked);
  }
  vec_push(arena, &measured->boxes, box);
  measured->resolution = fmax(measured->resolution, box->resolution);
  measured->uncertainty = fmax(measured->uncertainty, box->uncertainty);
}

/* In a step with lines to work out, what hangs on other boxes and has no letter of a reading. So is
 * the stretch of a fastener. */
static bool is_worked_out(Fitness *fitness, const PlanStep *step, const PlanBox *box) {
  if (box->joint) return box->quantity->length == LENGTH_STRETCH;
  if (!step->decl->work.n || box->decl->letter.s || !box->quantity->value) return false;
  Quantity value = *box->quantity;
  value.allowed = (Allowed){0}; /* limits may move with a reading: that works nothing out */
  NodeIds under = {0};
  reach_under(fitness->reach, &value, true, &under);
  return under.n > 0;
}

static void collect(Fitness *fitness) {
  const Plan *plan = fitness->planner->plan;
  for (size_t i = 0; i < plan->boxes.n; i++)
    if (plan->boxes.at[i]->quantity->value)
      reach_mark(fitness->reach, plan->boxes.at[i]->quantity->value, true);
  for (size_t s = 0; s < plan->steps.n; s++) {
    const PlanStep *step = plan->steps.at[s];
    for (size_t i = 0; i < step->boxes.n; i++) {
      PlanBox *box = step->boxes.at[i];
      box->worked = is_worked_out(fitness, step, box);
    }
  }
  for (size_t i = 0; i < plan->boxes.n; i++) collect_box(fitness, plan->boxes.at[i]);
}

static bool band_of(const Quantity *quantity, double *band) {
  const Allowed *allowed = &quantity->allowed;
  if (!allowed->has_min || !allowed->has_max) return false;
  if (allowed->min_now.state != VALUE_KNOWN || allowed->max_now.state != VALUE_KNOWN) return false;
  *band = allowed->max_now.si - allowed->min_now.si;
  return *band > 0;
}

static void coarse(Fitness *fitness, const PlanBox *box, const Quantity *judge, double share,
                   double uncertain, const char *from) {
  Run *run = fitness->planner->run;
  bool by_mark = is_above(share, SHARE_MOST);
  Finding *finding =
      finding_add(run, RULE_GAUGE_COARSE, box->decl->gauge.s ? box->decl->gauge.at : box->decl->at,
                  "%s is judged %s: %s makes %.0f %% of %s, and at most %s may be", judge->label,
                  from, by_mark ? "one step of the reading" : "what they leave uncertain",
                  100 * (by_mark ? share : uncertain), allowed_print(run->arena, judge),
                  by_mark ? "a fifth" : "a third");
  finding_subject(finding, judge->name);
  if (judge->allowed.winner.entry)
    finding_note(run, finding, judge->allowed.winner.at, "the limits stand here");
  finding_way_out(run, finding, "name a finer gauge, or measure what is judged itself");
}

static const char *gauge_words(Arena *arena, const PlanBox *box) {
  return arena_printf(arena, "%s (%s)",
                      box->gauge->label.s ? box->gauge->label.s : box->gauge->name,
                      literal_print(arena, &box->gauge->resolution.literal));
}

/* A box with limits of its own. */
static void judge_directly(Fitness *fitness, Measured *measured) {
  double band = 0;
  PlanBox *box = measured->boxes.at[0];
  if (box->kind != BOX_JUDGED || measured->worked || !(measured->resolution > 0)) return;
  if (!band_of(measured->quantity, &band) || !box->has_min) return; /* or it has vanished */
  measured->share = measured->resolution / band;
  measured->uncertain = measured->uncertainty / band;
  if (!is_above(measured->share, SHARE_MOST) && !is_above(measured->uncertain, UNCERTAIN_MOST))
    return;
  coarse(
      fitness, box, measured->quantity, measured->share, measured->uncertain,
      arena_printf(fitness->planner->arena, "with %s", gauge_words(fitness->planner->arena, box)));
}

/* What it cannot tell apart nobody knows; told once a gauge. */
static void judge_unstated(Fitness *fitness, const Measured *measured) {
  Planner *planner = fitness->planner;
  const PlanBox *box = measured->boxes.at[0];
  const Gauge *gauge = box->gauge;
  if (!gauge || gauge_is_go(gauge) || gauge_resolution(gauge) > 0) return;
  if (box->kind == BOX_RECORD_ONLY) return;
  if (!tell_once(planner, arena_printf(planner->arena, "steps/%s", gauge->name))) return;
  Finding *finding =
      finding_add(planner->run, RULE_GAUGE_COARSE, gauge->at,
                  "%s has no resolution: whether it tells good from bad at %s cannot be judged",
                  gauge->label.s ? gauge->label.s : gauge->name, measured->quantity->label);
  finding_subject(finding, measured->quantity->name);
  finding_note(planner->run, finding, box->decl->at, "the box stands here");
  finding_way_out(planner->run, finding, "add its `resolution`, the smallest step it shows");
}

/* A result is written to the steps of its own box, whatever it is worked out from. */
static void judge_written(Fitness *fitness, const Measured *measured) {
  double band = 0;
  Arena *arena = fitness->planner->arena;
  const PlanBox *box = measured->boxes.at[0];
  if (box->kind != BOX_JUDGED || !measured->worked || !(measured->resolution > 0)) return;
  if (!band_of(measured->quantity, &band) || !box->has_min) return;
  double share = measured->resolution / band;
  if (is_above(share, SHARE_MOST))
    coarse(fitness, box, measured->quantity, share, 0,
           arena_printf(arena, "as written in its box, with %s", gauge_words(arena, box)));
}

/* A result is read off none of the gauges, but for one that reads what it is worked out from. */
static void judge_kind(Fitness *fitness, const Measured *measured) {
  const PlanBox *box = measured->boxes.at[0];
  if (!measured->worked || box->joint || !box->gauge) return;
  if (text_is(box->gauge->measures.s, "other")) return;
  NodeIds under = {0};
  reach_under(fitness->reach, measured->quantity, true, &under);
  for (size_t i = 0; i < under.n; i++) {
    const Measured *input = measured_at(fitness, under.at[i]);
    for (size_t b = 0; input && b < input->boxes.n; b++)
      if (input->boxes.at[b]->gauge == box->gauge) return;
  }
  no_gauge_for_result(fitness->planner, box);
}

/* How far a step of the input moves the value against its limits. NAN: not known. */
static double moves(const Fitness *fitness, const Quantity *judge, const Quantity *input) {
  const Graph *graph = fitness->planner->job->graph;
  double slope = fabs(graph_slope(graph, judge->value, input->value));
  if (isnan(slope)) { /* something still waits to be measured: reckon one for one */
    bool same = dim_same(judge->decl->unit->dim, input->decl->unit->dim);
    return same ? 1 : NAN;
  }
  double limits = 0;
  const Allowed *allowed = &judge->allowed;
  if (allowed->has_min && graph_depends(graph, allowed->min, input->value))
    limits = fabs(graph_slope(graph, allowed->min, input->value));
  if (allowed->has_max && graph_depends(graph, allowed->max, input->value))
    limits = fmax(limits, fabs(graph_slope(graph, allowed->max, input->value)));
  return slope + (isnan(limits) ? 0 : limits);
}

static void take_judge(Measured *measured, const Quantity *judge, double share, double uncertain,
                       bool is_measured) {
  bool better = !measured->judge || (measured->judge_measured && !is_measured) ||
                (measured->judge_measured == is_measured && share > measured->judge_share);
  if (better) {
    measured->judge = judge;
    measured->judge_share = share;
    measured->judge_measured = is_measured;
  }
  if (is_measured) return; /* its own box judges it */
  measured->share = fmax(measured->share, share);
  measured->uncertain = fmax(measured->uncertain, uncertain);
}

/* All that is measured for one limited value, together against its band. */
static void judge_through(Fitness *fitness, const Quantity *judge) {
  double band = 0, resolution = 0, uncertainty = 0, most = 0;
  const PlanBox *worst = NULL;
  NodeIds under = {0}, feeds = {0};
  reach_under(fitness->reach, judge, false, &under);
  reach_under(fitness->reach, judge, true, &feeds);
  bool known = band_of(judge, &band) && under.n > 0;
  Text from = text_new(fitness->planner->arena);
  for (size_t i = under.n; known && i-- > 0;) {
    const Measured *input = measured_at(fitness, under.at[i]);
    if (!(input->resolution > 0)) continue;
    double slope = moves(fitness, judge, input->quantity);
    known = !isnan(slope);
    if (!known || !(slope > 0)) continue;
    resolution += slope * input->resolution;
    uncertainty += slope * input->uncertainty;
    text_addf(&from, "%s%s with %s", from.n ? " and " : "through ", input->quantity->label,
              gauge_words(fitness->planner->arena, input->boxes.at[0]));
    if (slope * input->uncertainty <= most) continue;
    most = slope * input->uncertainty;
    worst = input->boxes.at[0];
  }
  Measured *own = measured_at(fitness, judge->value);
  bool is_measured = own && !own->worked;
  double share = known ? resolution / band : 0, uncertain = known ? uncertainty / band : 0;
  for (size_t i = 0; i < feeds.n; i++)
    take_judge(measured_at(fitness, feeds.at[i]), judge, share, uncertain, is_measured);
  if (own && own->worked) take_judge(own, judge, share, uncertain, false);
  if (!worst || is_measured) return;
  if (is_above(share, SHARE_MOST) || is_above(uncertain, UNCERTAIN_MOST))
    coarse(fitness, worst, judge, share, uncertain, text_done(&from));
}

static bool any_read(const Job *job) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    if (job->quantities.at[i]->read_complete) return true;
  }
  return false;
}

bool is_sheet_missing(const Job *job) {
  for (size_t i = 0; i < job->roles.n; i++) {
    if (!job->roles.at[i]->part && !job->roles.at[i]->none) return true;
  }
  return false;
}

/* A formula gives nothing, which was reported: what it hangs on is not known. */
static bool is_formula_broken(const Job *job) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    if (quantity->decl->formula.n > 0 && quantity->predicted.state == VALUE_POISON) return true;
  }
  return false;
}

static void settle(Fitness *fitness, const Measured *measured, bool read) {
  Planner *planner = fitness->planner;
  bool reported = is_sheet_missing(planner->job) || is_formula_broken(planner->job);
  bool more = is_above(measured->share, SHARE_ONE_READING) ||
              is_above(measured->uncertain, UNCERTAIN_ONE_READING);
  for (size_t i = 0; i < measured->boxes.n; i++) {
    PlanBox *box = measured->boxes.at[i];
    box->share = box->kind == BOX_FEEDS && measured->judge_measured ? measured->judge_share
                                                                    : measured->share;
    if (more && box->kind != BOX_RECORD_ONLY && !measured->worked) box->readings = 3;
    if (box->kind != BOX_FEEDS) continue;
    if (measured->judge) box->judged_by = measured->judge->label;
    if (measured->judge || read) continue; /* readings cut off what hung on it */
    if (reported) continue;                /* its limits may stand there */
    Finding *finding = finding_add(planner->run, RULE_NO_LIMITS, box->decl->at,
                                   "%s has no limits, and nothing with limits is computed from it",
                                   measured->quantity->label);
    finding_subject(finding, measured->quantity->name);
    finding_way_out(planner->run, finding,
                    "write 'only: record' in the box, or give the limits with their source");
  }
}

void fitness_judge(Planner *planner) {
  Fitness fitness = {.planner = planner};
  fitness.reach = reach_new(planner->arena, planner->job->graph);
  if (planner->plan->boxes.n == 0) return;
  collect(&fitness);
  for (size_t i = 0; i < fitness.list.n; i++) {
    judge_directly(&fitness, fitness.list.at[i]);
    judge_unstated(&fitness, fitness.list.at[i]);
    judge_written(&fitness, fitness.list.at[i]);
    judge_kind(&fitness, fitness.list.at[i]);
  }
  for (size_t i = 0; i < planner->job->quantities.n; i++) {
    const Quantity *quantity = planner->job->quantities.at[i];
    if (quantity_is_judged(quantity) && quantity->value) judge_through(&fitness, quantity);
  }
  bool read = any_read(planner->job);
  for (size_t i = 0; i < fitness.list.n; i++) settle(&fitness, fitness.list.at[i], read);
}
