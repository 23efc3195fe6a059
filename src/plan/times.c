/* Sealants and curing agents keep their own time; waits are the only times the work
 * states, so that a window can be missed only by them. */
#include "plan/work.h"

typedef struct Clock {
  Planner *planner;
  VEC(double) waited; /* seconds of stated waits up to and with each step */
} Clock;

static double between(const Clock *clock, int from, int to) {
  return to > from + 1 ? clock->waited.at[to - 1] - clock->waited.at[from] : 0;
}

static const char *time_print(Arena *arena, double seconds) {
  const Unit *unit = unit_find(seconds >= 7200 ? "h" : "min");
  return quantity_print(arena, seconds, unit ? unit : unit_of_number(), -1);
}

static void start_clock(Clock *clock) {
  double total = 0;
  for (size_t i = 0; i < clock->planner->plan->steps.n; i++) {
    double wait = 0;
    if (expr_si(&clock->planner->plan->steps.at[i]->decl->wait, &wait)) total += wait;
    vec_push(clock->planner->arena, &clock->waited, total);
  }
}

/* The last step before this one that `since` means. */
static int since_step(const Clock *clock, int step) {
  const Plan *plan = clock->planner->plan;
  const PlanStep *it = plan->steps.at[step];
  Name name = name_split(clock->planner->arena, it->decl->since.s);
  for (int i = step - 1; i >= 0; i--) {
    const PlanStep *before = plan->steps.at[i];
    bool named = text_is(before->id, name.base) || text_is(before->block->id.s, name.base);
    if (named && is_related(before->instance, it->instance)) return i;
  }
  return -1;
}

static void check_window(Clock *clock, int step) {
  Planner *planner = clock->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  const StepDecl *decl = it->decl;
  double within = 0, least = 0;
  bool has_within = expr_si(&decl->within, &within), has_least = expr_si(&decl->not_before, &least);
  if (!has_within && !has_least) return;
  if (!decl->since.s) {
    Finding *finding = finding_add(planner->run, RULE_MISSING_KEY,
                                   has_within ? decl->within.at : decl->not_before.at,
                                   "the step the time counts from is not said");
    finding_way_out(planner->run, finding, "add 'since:' with that step");
    return;
  }
  if (has_within && has_least && least > within) {
    Finding *finding = finding_add(planner->run, RULE_TIME_WINDOW, decl->at,
                                   "%s comes at the earliest %s and at the latest %s after '%s'",
                                   step_print(planner, step), time_print(planner->arena, least),
                                   time_print(planner->arena, within), decl->since.s);
    finding_subject(finding, it->id);
    return;
  }
  int since = since_step(clock, step);
  double waits = since >= 0 && has_within ? between(clock, since, step) : 0;
  if (waits <= within) return;
  Finding *finding = finding_add(planner->run, RULE_TIME_WINDOW, decl->at,
                                 "%s must come within %s after %s, and %s are waited between them",
                                 step_print(planner, step), time_print(planner->arena, within),
                                 step_print(planner, since), time_print(planner->arena, waits));
  finding_subject(finding, it->id);
  finding_note(planner->run, finding, planner->plan->steps.at[since]->decl->at,
               "the time begins here");
  finding_way_out(planner->run, finding, "wait before %s, or after this step",
                  step_print(planner, since));
}

static bool brings_together(const PlanStep *step) {
  return step->decl->fits.n > 0 || step->passes.n > 0;
}

/* Sealant skins over: what it seals is brought together before. */
static void check_open_time(Clock *clock, int step, const Entry *used) {
  Planner *planner = clock->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  double open = 0;
  if (!expr_si(&used->is.consumable.open_time, &open) || brings_together(it)) return;
  int next = step + 1;
  while (next < (int)planner->plan->steps.n && !brings_together(planner->plan->steps.at[next]))
    next++;
  if (next == (int)planner->plan->steps.n || between(clock, step, next) <= open) return;
  if (planner->plan->steps.at[next]->decl->within.kind != EXPR_NONE)
    return; /* has its own window */
  Finding *finding = finding_add(
      planner->run, RULE_TIME_WINDOW, planner->plan->steps.at[next]->decl->at,
      "%s comes %s of waiting after %s, and %s stays open for %s", step_print(planner, next),
      time_print(planner->arena, between(clock, step, next)), step_print(planner, step),
      used->name.s ? used->name.s : used->id, time_print(planner->arena, open));
  finding_subject(finding, planner->plan->steps.at[next]->id);
  finding_note(planner->run, finding, it->decl->at, "it is put on here");
  finding_way_out(planner->run, finding, "wait before %s", step_print(planner, step));
}

/* What cures is given its time before the end, when the engine is run in this packet. */
static void check_cure(Clock *clock, int step, const Entry *used, double cure) {
  Planner *planner = clock->planner;
  const Plan *plan = planner->plan;
  bool runs = false;
  int last = (int)plan->steps.n;
  if (between(clock, step, last) >= cure) return;
  for (int i = step + 1; i < last; i++) {
    double least = 0;
    if (expr_si(&plan->steps.at[i]->decl->not_before, &least) && least >= cure) return;
    runs = runs || text_is(plan->steps.at[i]->procedure->is.procedure.sheet.s, "start");
  }
  if (!runs || !tell_once(planner, arena_printf(planner->arena, "cure/%s", used->id))) return;
  const char *name = used->name.s ? used->name.s : used->id;
  Finding *finding =
      finding_add(planner->run, RULE_TIME_WINDOW, plan->steps.at[step]->decl->at,
                  "%s is put on at %s and cures in %s, and no later step waits for it", name,
                  step_print(planner, step), time_print(planner->arena, cure));
  finding_subject(finding, used->id);
  finding_note(planner->run, finding, used->at, "its sheet stands here");
  finding_way_out(planner->run, finding, "add a step 'wait: %s' before the engine is started",
                  time_print(planner->arena, cure));
}

static void check_uses(Clock *clock, int step) {
  const PlanStep *it = clock->planner->plan->steps.at[step];
  double cure = 0;
  for (size_t i = 0; i < it->decl->uses.n; i++) {
    const Entry *used = it->decl->uses.at[i].entry;
    if (!used || used->kind != ENTRY_CONSUMABLE) continue;
    check_open_time(clock, step, used);
    if (expr_si(&used->is.consumable.cure, &cure)) check_cure(clock, step, used, cure);
  }
}

void times_check(Planner *planner) {
  Clock clock = {.planner = planner};
  start_clock(&clock);
  for (int i = 0; i < (int)planner->plan->steps.n; i++) {
    check_window(&clock, i);
    check_uses(&clock, i);
  }
}
