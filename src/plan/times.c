/* Sealants and curing agents keep their own time; waits are the only times the work
 * states, so that a window can be missed only by them. */
#include "plan/clock.h"

typedef struct Clock {
  Planner *planner;
  VEC(double) waited; /* seconds of stated waits up to and with each step */
} Clock;

static double between(const Clock *clock, int from, int to) {
  return to > from + 1 ? clock->waited.at[to - 1] - clock->waited.at[from] : 0;
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

static void no_key(Clock *clock, Place at, const char *what, const char *way_out) {
  Finding *finding = finding_add(clock->planner->run, RULE_MISSING_KEY, at, "%s", what);
  finding_way_out(clock->planner->run, finding, "%s", way_out);
}

/* A time after which what was done is void, and what is done then, come together. */
static void check_failing(Clock *clock, int step) {
  const StepDecl *decl = clock->planner->plan->steps.at[step]->decl;
  bool fails = decl->fail_after.kind != EXPR_NONE;
  if (fails && !decl->otherwise.s)
    no_key(clock, decl->fail_after.at, "what is done when the time has passed is not said",
           "add 'otherwise:' with what is done then");
  if (decl->otherwise.s && !fails && decl->within.kind == EXPR_NONE)
    no_key(clock, decl->otherwise.at, "after which time this is done is not said",
           "add 'fail_after:' or 'within:' with the time");
  if (fails && !decl->since.s && decl->kind != STEP_WAIT)
    no_key(clock, decl->fail_after.at, "the step the time counts from is not said",
           "add 'since:' with that step");
}

static void check_window(Clock *clock, int step) {
  Planner *planner = clock->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  const StepDecl *decl = it->decl;
  double within = 0, least = 0;
  bool has_within = expr_si(&decl->within, &within), has_least = expr_si(&decl->not_before, &least);
  double fails = 0;
  if (decl->since.s && expr_si(&decl->fail_after, &fails) && (!has_within || fails < within)) {
    within = fails;
    has_within = true;
  }
  if (!has_within && !has_least) return;
  if (!decl->since.s) {
    no_key(clock, has_within ? decl->within.at : decl->not_before.at,
           "the step the time counts from is not said", "add 'since:' with that step");
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
  const StepDecl *closes = planner->plan->steps.at[next]->decl;
  if (closes->within.kind != EXPR_NONE || closes->fail_after.kind != EXPR_NONE)
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

/* The step that runs the engine for the first time; where none says so, the end of a packet
 * that starts it; -1: it is not run. */
static int runs_at(const Clock *clock) {
  const Plan *plan = clock->planner->plan;
  bool starts = false;
  for (int i = 0; i < (int)plan->steps.n; i++) {
    if (step_runs(plan->steps.at[i])) return i;
    starts = starts || text_is(plan->steps.at[i]->procedure->is.procedure.sheet.s, "start");
  }
  return starts ? (int)plan->steps.n : -1;
}

/* What cures is given its time before the engine is run. id: told once for each. */
static void check_cure(Clock *clock, int step, const Entry *used, double cure, const char *id) {
  Planner *planner = clock->planner;
  const Plan *plan = planner->plan;
  int runs = runs_at(clock);
  if (runs <= step || between(clock, step, runs) >= cure) return;
  for (int i = step + 1; i < runs; i++) {
    double least = 0;
    bool waits = plan->steps.at[i]->decl->since.s &&
                 expr_si(&plan->steps.at[i]->decl->not_before, &least) && least >= cure;
    if (waits && since_step(clock, i) >= step) return;
  }
  if (!tell_once(planner, arena_printf(planner->arena, "cure/%s", id))) return;
  const char *name = used->name.s ? used->name.s : used->id;
  Finding *finding = finding_add(
      planner->run, RULE_TIME_WINDOW, plan->steps.at[step]->decl->at,
      "%s is put on at %s and cures in %s, and no later step waits for it%s", name,
      step_print(planner, step), time_print(planner->arena, cure),
      runs < (int)plan->steps.n
          ? arena_printf(planner->arena, " before %s runs the engine", step_print(planner, runs))
          : "");
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
    const Entry *locker = used->is.consumable.threadlocker.entry;
    if (expr_si(&used->is.consumable.cure, &cure))
      check_cure(clock, step, used, cure, locker ? locker->id : used->id);
  }
}

/* No later step works on the joint. */
static bool is_last_work(const Clock *clock, int step, const JobJoint *joint) {
  for (size_t s = (size_t)step + 1; s < clock->planner->plan->steps.n; s++) {
    const PlanStep *later = clock->planner->plan->steps.at[s];
    for (size_t i = 0; i < later->joints.n; i++)
      if (later->joints.at[i] == joint) return false;
  }
  return true;
}

/* Threadlocker of a joint cures from the last pass on, whoever put it on. */
static void check_locked(Clock *clock, int step) {
  const PlanStep *it = clock->planner->plan->steps.at[step];
  double cure = 0;
  for (size_t i = 0; i < it->joints.n; i++) {
    const JointDecl *bundle = it->joints.at[i]->bundle;
    const Entry *locker = bundle ? bundle->threadlock.entry : NULL;
    if (locker && expr_si(&locker->is.threadlocker.cure, &cure) &&
        is_last_work(clock, step, it->joints.at[i]))
      check_cure(clock, step, locker, cure, locker->id);
  }
}

void times_check(Planner *planner) {
  Clock clock = {.planner = planner};
  start_clock(&clock);
  for (int i = 0; i < (int)planner->plan->steps.n; i++) {
    check_failing(&clock, i);
    check_window(&clock, i);
    check_uses(&clock, i);
    check_locked(&clock, i);
    clock_read(planner, i, planner->plan->steps.at[i]->decl->since.s ? since_step(&clock, i) : -1);
  }
}
