/* The crank is turned while a cloth or plug lies where it turns. */
#include "plan/states.h"

typedef struct Cover {
  OpeningState state;
  int since; /* the step that made it so; -1: found so */
} Cover;

/* As the work of the step finds it: uncovered before, covered again after. */
static Cover cover_at(const Plan *plan, size_t opening, int step) {
  Cover cover = {plan->openings.at[opening].starts, -1};
  for (size_t i = 0; i < plan->opening_trace.n; i++) {
    const OpeningEvent *event = &plan->opening_trace.at[i];
    if (event->opening != (int)opening || event->step > step) continue;
    if (event->step == step && event->becomes != OPENING_OPEN) continue;
    cover = (Cover){event->becomes, event->step};
  }
  return cover;
}

void turned_covered(States *states, int step) {
  Planner *planner = states->planner;
  const Plan *plan = planner->plan;
  const PlanStep *it = plan->steps.at[step];
  if (step_runs(it)) return; /* an engine that is run with a hole in it is told as that */
  for (size_t i = 0; i < plan->openings.n; i++) {
    const Opening *opening = &plan->openings.at[i];
    Cover cover = cover_at(plan, i, step);
    if (!opening->decl->to_turn || cover.state != OPENING_COVERED) continue;
    const char *mark =
        arena_printf(planner->arena, "turned_covered/%s/%d", opening->decl->name, cover.since);
    if (told_likewise(planner, mark, opening->instance)) continue;
    const char *since = cover.since < 0 ? "from the start"
                                        : arena_printf(planner->arena, "since %s",
                                                       step_print(planner, cover.since));
    Finding *finding = finding_add(planner->run, RULE_TURNED_COVERED, it->decl->at,
                                   "%s turns the crank while %s is covered, %s",
                                   step_print(planner, step), opening->label, since);
    told_by(planner, mark, finding);
    finding_subject(finding, it->id);
    finding_note(planner->run, finding,
                 cover.since < 0 ? opening->decl->at : plan->steps.at[cover.since]->decl->at,
                 "%s is covered here", opening->label);
    finding_way_out(planner->run, finding,
                    "add 'uncovers: [%s]' to this step or one before it, and cover it after",
                    opening->decl->name);
  }
}
