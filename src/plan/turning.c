/* The crank is turned, an opening closed, the work ended: what must be out by then is out. */
#include "plan/states.h"

#include "base/near.h"

#include <string.h>

/* Words of states in which the crank is not turned, and how it is told. */
static const struct Held {
  const char *word, *told;
} held[] = {
    {"pumped", "the tappets are still pumped up"}, /* a valve may stand in the piston's way */
    {"locked", "it is still locked"},
    {"slack", NULL}, /* a chain without its tensioner jumps a tooth */
};

static const struct Held *held_by(const char *word) {
  for (size_t i = 0; i < sizeof held / sizeof *held; i++)
    if (state_has(word, held[i].word)) return &held[i];
  return NULL;
}

/* "drained oil": the engine is not started with it. */
#define DRAINED "drained"

static bool is_undone_at_end(const char *word) {
  return held_by(word) || state_has(word, DRAINED);
}

/* In words of the trade where there are any. */
static const char *still(Arena *arena, const char *word) {
  const struct Held *by = held_by(word);
  if (by && by->told && text_is(by->word, word)) return by->told;
  return arena_printf(arena, "it is still '%s'", word);
}

bool is_tdc(const char *word) {
  return text_is(word, "tdc") || text_starts(word, "tdc ");
}

/* A dead centre at which the crank stands already is not turned to. */
static bool turns_to(States *states, const PlanStep *step, const Said *said) {
  StateName name = state_name(states->planner, step, said);
  if (text_is(name.word, "running")) return true;
  if (!is_tdc(name.word)) return false;
  const State *state = map_find(states->by_word, name.word);
  for (size_t i = 0; i < name.at.n; i++)
    if (!state || !state_is_live(states, state, name.at.at[i])) return true;
  return false;
}

bool step_turns(States *states, const PlanStep *step) {
  if (step->decl->turns.kind != EXPR_NONE) return true;
  for (size_t i = 0; i < step->passes.n; i++)
    if (step->passes.at[i].kind == PASS_TURN_OVER) return true;
  for (size_t i = 0; i < step->decl->makes.n; i++)
    if (turns_to(states, step, &step->decl->makes.at[i])) return true;
  return false;
}

/* Whose state is live, joined: ", left and right"; the first step that made it so. Live
 * marks end here: one mistake, one finding. */
static const char *let_go(States *states, State *state, int *since) {
  Text tails = text_new(states->planner->arena);
  size_t count = 0;
  *since = -1;
  for (size_t m = 0; m < state->marks.n; m++) {
    Mark *mark = &state->marks.at[m];
    if (!mark->live) continue;
    mark->live = false;
    if (*since < 0 || mark->made < *since) *since = mark->made;
    const char *tail = instance_tail(states->planner->arena, mark->instance);
    if (count++ && text_starts(tail, ", "))
      text_addf(&tails, " and %s", tail + 2);
    else
      text_add(&tails, tail);
  }
  return text_done(&tails);
}

static bool is_any_live(const State *state) {
  for (size_t m = 0; m < state->marks.n; m++)
    if (state->marks.at[m].live) return true;
  return false;
}

void crank_turn(States *states, int step) {
  Planner *planner = states->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t i = 0; i < states->list.n; i++) {
    State *state = states->list.at[i];
    if (is_tdc(state->word)) state_end_everywhere(state, step);
    if (!held_by(state->word) || !is_any_live(state)) continue;
    int since = -1;
    const char *tails = let_go(states, state, &since);
    Finding *finding =
        finding_add(planner->run, RULE_STATE_MISSING, it->decl->at,
                    "%s turns the crank while %s%s, since %s", step_print(planner, step),
                    still(planner->arena, state->word), tails, step_print(planner, since));
    finding_subject(finding, it->id);
    finding_note(planner->run, finding, planner->plan->steps.at[since]->decl->at, "made here");
    finding_way_out(planner->run, finding,
                    "end it before with 'ends: [%s]' in the step that does so", state->word);
  }
}

void start_drained(States *states, int step) {
  Planner *planner = states->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  if (!step_runs(it)) return;
  for (size_t i = 0; i < states->list.n; i++) {
    State *state = states->list.at[i];
    if (!state_has(state->word, DRAINED) || !is_any_live(state)) continue;
    int since = -1;
    const char *tails = let_go(states, state, &since);
    Finding *finding =
        finding_add(planner->run, RULE_STATE_MISSING, it->decl->at,
                    "%s starts the engine while it is still '%s'%s, since %s",
                    step_print(planner, step), state->word, tails, step_print(planner, since));
    finding_subject(finding, it->id);
    finding_note(planner->run, finding, planner->plan->steps.at[since]->decl->at, "made here");
    finding_way_out(planner->run, finding,
                    "before the start, name the step or the procedure that fills it again, with "
                    "'ends: [%s]'",
                    state->word);
  }
}

/* "lock pin in cam_chest": the opening in which something lies; NULL when it is none. */
static const OpeningDecl *lies_in(const Planner *planner, const char *word) {
  const EngineEntry *engine = planner->job->engine;
  for (const char *at = strstr(word, " in "); at; at = strstr(at + 1, " in ")) {
    for (size_t i = 0; i < engine->openings.n; i++)
      if (text_is(at + 4, engine->openings.at[i].name)) return &engine->openings.at[i];
  }
  return NULL;
}

void place_meant(States *states, int step, const Said *said, const char *word) {
  const Planner *planner = states->planner;
  const char *last = NULL;
  for (const char *at = strstr(word, " in "); at; at = strstr(at + 1, " in ")) last = at + 4;
  if (!last || lies_in(planner, word)) return;
  Words names = {0};
  const EngineEntry *engine = planner->job->engine;
  for (size_t i = 0; i < engine->openings.n; i++)
    vec_push(planner->arena, &names, engine->openings.at[i].name);
  if (!near_word(last, &names)) return; /* other words may stand behind an "in" */
  Said meant = {last, said->at};
  tell_unknown(states->planner, planner->plan->steps.at[step]->procedure, &meant, "opening",
               &names);
}

static void still_inside(States *states, int step, State *state, const char *opening) {
  Planner *planner = states->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  int since = -1;
  const char *tails = let_go(states, state, &since);
  Finding *finding = finding_add(planner->run, RULE_LEFT_IN, it->decl->at,
                                 "%s closes %s with '%s'%s, since %s", step_print(planner, step),
                                 opening, state->word, tails, step_print(planner, since));
  finding_subject(finding, it->id);
  finding_note(planner->run, finding, planner->plan->steps.at[since]->decl->at, "put in here");
  finding_way_out(planner->run, finding,
                  "take it out before, with 'ends: [%s]' in the step that does so", state->word);
}

void left_inside(States *states, int step) {
  Planner *planner = states->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t c = 0; c < it->decl->closes.n; c++) {
    const char *opening = name_split(planner->arena, it->decl->closes.at[c].s).base;
    for (size_t i = 0; i < states->list.n; i++) {
      State *state = states->list.at[i];
      const OpeningDecl *in = lies_in(planner, state->word);
      if (!in || !text_is(in->name, opening)) continue;
      bool here = false;
      for (size_t m = 0; m < state->marks.n; m++)
        here = here ||
               (state->marks.at[m].live && is_related(state->marks.at[m].instance, it->instance));
      if (here) still_inside(states, step, state, in->label.s ? in->label.s : in->name);
    }
  }
}

void work_on_running(States *states, int step) {
  Planner *planner = states->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  State *state = map_find(states->by_word, "running");
  const StepDecl *decl = it->decl;
  const char *does = decl->opens.n > 0     ? "opens the engine"
                     : decl->removes.n > 0 ? "takes parts off"
                     : decl->fits.n > 0    ? "fits parts"
                     : it->passes.n > 0    ? "works on joints"
                                           : NULL;
  if (!state || !does || !is_any_live(state)) return;
  int since = -1;
  let_go(states, state, &since);
  Finding *finding = finding_add(planner->run, RULE_STATE_MISSING, decl->at,
                                 "%s %s while the engine runs, since %s", step_print(planner, step),
                                 does, step_print(planner, since));
  finding_subject(finding, it->id);
  finding_note(planner->run, finding, planner->plan->steps.at[since]->decl->at, "started here");
  finding_way_out(planner->run, finding,
                  "write 'ends: [running]' in the step that stops it, before this one");
}

void left_at_end(States *states) {
  Planner *planner = states->planner;
  for (size_t i = 0; i < states->list.n; i++) {
    State *state = states->list.at[i];
    if (!is_undone_at_end(state->word) && !lies_in(planner, state->word)) continue;
    if (!is_any_live(state)) continue;
    int since = -1;
    const char *tails = let_go(states, state, &since);
    const PlanStep *it = planner->plan->steps.at[since];
    Finding *finding =
        finding_add(planner->run, RULE_LEFT_IN, it->decl->at, "the work ends with '%s'%s, since %s",
                    state->word, tails, step_print(planner, since));
    finding_subject(finding, it->id);
    finding_way_out(planner->run, finding, "write 'ends: [%s]' in the step that does so",
                    state->word);
  }
}
