/* What the parts' sheets say to a step. */
#include "plan/work.h"

#include "base/near.h"

/* Steps of the plan by id. */
static Map *steps_by_id(Planner *planner) {
  Map *by = map_new(planner->arena);
  for (size_t i = 0; i < planner->plan->steps.n; i++) {
    const char *id = planner->plan->steps.at[i]->id;
    Ints *list = map_find(by, id);
    if (!list) {
      list = ARENA_NEW(planner->arena, Ints);
      map_put(by, id, list);
    }
    vec_push(planner->arena, list, (int)i);
  }
  return by;
}

static void no_such_step(Planner *planner, const Entry *part, const Said *step) {
  Finding *finding = finding_add(
      planner->run, RULE_UNKNOWN_STEP, step->at,
      "%s has a note for step '%s', which no procedure of this build has", part->id, step->s);
  const char *near = near_word(step->s, &planner->target_ids);
  if (near) {
    finding_way_out(planner->run, finding, "did you mean '%s'?", near);
  } else {
    finding_way_out(planner->run, finding, "name the procedure that has it in the build");
    offer_procedure(planner, finding, OFFER_STEP, step->s);
  }
}

/* A part of the engine's own that stays where it is has steps in other work. */
static void notes_of(Planner *planner, const Map *steps, const Entry *part, bool stays) {
  const PartEntry *is = &part->is.part;
  for (size_t i = 0; i < is->notes.n; i++) {
    const Said *id = &is->notes.at[i].step;
    const char *whose = source_print(planner->arena, part, NULL);
    const char *note = arena_printf(planner->arena, "%s (%s)", is->notes.at[i].text.s, whose);
    const Ints *list = map_find(steps, id->s);
    for (size_t s = 0; list && s < list->n; s++) {
      PlanStep *step = planner->plan->steps.at[list->at[s]];
      if (!text_has(&step->notes, note)) vec_push(planner->arena, &step->notes, note);
    }
    if (!list && !stays && !map_find(planner->targets, id->s)) no_such_step(planner, part, id);
  }
}

void notes_join(Planner *planner) {
  const Map *steps = steps_by_id(planner);
  for (size_t i = 0; i < planner->job->roles.n; i++) {
    const Role *role = planner->job->roles.at[i];
    const Entry *part = role->part;
    bool stays = !role_is_chosen(role) && !role_is_worked(planner, role->name);
    bool again = false;
    for (size_t j = 0; j < i && part; j++) again = again || planner->job->roles.at[j]->part == part;
    if (part && !again && planner->job->build->procedures.n > 0)
      notes_of(planner, steps, part, stays);
  }
}
