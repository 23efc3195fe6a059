/* The stage from end to end. */
#include "plan/plan_job.h"
#include "plan/work.h"

static void play(Planner *planner) {
  openings_play(planner);
  fitted_play(planner);
  faces_play(planner);
  fasteners_play(planner);
  states_play(planner);
  times_check(planner);
  asks_check(planner);
}

Plan *plan_job(Run *run, Job *job) {
  Plan *plan = ARENA_NEW(run->arena, Plan);
  plan->ordered = true;
  if (!job->engine || job->instances.n == 0) return plan; /* reported */
  Planner planner = {.run = run, .arena = run->arena, .job = job, .plan = plan};
  names_build(&planner);
  expand_modules(&planner);
  targets_build(&planner);
  edges_build(&planner);
  order_steps(&planner);
  passes_build(&planner);
  worked_build(&planner);
  texts_fill(&planner);
  notes_join(&planner);
  cautions_join(&planner);
  boxes_build(&planner);
  letters_check(&planner);
  work_sums_check(&planner);
  fitness_judge(&planner);
  tables_build(&planner);
  if (plan->ordered) play(&planner);
  return plan;
}
