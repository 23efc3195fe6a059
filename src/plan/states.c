/* States that steps make, need and end: clean, dry, pumped, locked, top dead centre. */
#include "plan/work.h"

#include "base/near.h"

/* A state of one instance. */
typedef struct Mark {
  const Instance *instance;
  bool live;
  int made, ended; /* steps; ended -1: never */
} Mark;
typedef struct State {
  const char *word; /* "clean base_joint" */
  VEC(Mark) marks;
} State;

typedef struct Play {
  Planner *planner;
  Map *by_word;
  VEC(State *) states;
  Words words; /* all that some step makes */
} Play;

static State *state_of(Play *play, const char *word) {
  State *state = map_find(play->by_word, word);
  if (state) return state;
  state = ARENA_NEW(play->planner->arena, State);
  state->word = word;
  map_put(play->by_word, word, state);
  vec_push(play->planner->arena, &play->states, state);
  return state;
}

static bool is_tdc(const char *word) {
  return text_is(word, "tdc") || text_starts(word, "tdc ");
}

/* While tappets are pumped up a valve may stand open into the piston's way; a locked
 * crank is not turned. */
static bool forbids_turning(const char *word) {
  return text_is(word, "pumped") || text_starts(word, "pumped ") || text_is(word, "locked") ||
         text_starts(word, "locked ");
}

/* Live for the instance: made for it or one above, or for every member beneath. */
static bool is_live(const Play *play, const State *state, const Instance *at) {
  const Set *beneath = NULL;
  size_t count = 0;
  for (size_t i = 0; i < state->marks.n; i++) {
    const Mark *mark = &state->marks.at[i];
    if (!mark->live) continue;
    if (instance_within(at, mark->instance)) return true;
    if (!instance_within(mark->instance, at) || (beneath && beneath != mark->instance->set))
      continue;
    beneath = mark->instance->set;
    count++;
  }
  if (!beneath) return false;
  const InstanceList *members = members_of(play->planner, beneath);
  for (size_t i = 0; i < members->n; i++) {
    if (instance_within(members->at[i], at) && count-- == 0) return false;
  }
  return true;
}

static void make_mark(Play *play, State *state, const Instance *at, int step) {
  for (size_t i = 0; i < state->marks.n; i++) {
    Mark *mark = &state->marks.at[i];
    if (mark->instance != at) continue;
    *mark = (Mark){at, true, step, -1};
    return;
  }
  Mark mark = {at, true, step, -1};
  vec_push(play->planner->arena, &state->marks, mark);
}

/* Ends it there and beneath; what was made for a whole above stays for its other members. */
static void end_state(Play *play, State *state, const Instance *at, int step) {
  size_t n = state->marks.n;
  for (size_t i = 0; i < n; i++) {
    Mark *mark = &state->marks.at[i];
    if (!mark->live || !is_related(mark->instance, at)) continue;
    mark->live = false;
    mark->ended = step;
    if (instance_within(mark->instance, at)) continue;
    const Instance *whole = mark->instance;
    int made = mark->made;
    const InstanceList *members = members_of(play->planner, at->set);
    for (size_t m = 0; m < members->n; m++) {
      if (members->at[m] != at && instance_within(members->at[m], whole))
        make_mark(play, state, members->at[m], made);
    }
  }
}

static void end_everywhere(State *state, int step) {
  for (size_t i = 0; i < state->marks.n; i++) {
    if (!state->marks.at[i].live) continue;
    state->marks.at[i].live = false;
    state->marks.at[i].ended = step;
  }
}

static void end_tdc(Play *play, int step) {
  for (size_t i = 0; i < play->states.n; i++) {
    if (is_tdc(play->states.at[i]->word)) end_everywhere(play->states.at[i], step);
  }
}

/* The last mark of the state that has to do with the instance. */
static const Mark *last_mark(const State *state, const Instance *at) {
  const Mark *last = NULL;
  for (size_t i = 0; i < state->marks.n; i++) {
    const Mark *mark = &state->marks.at[i];
    if (is_related(mark->instance, at) && (!last || mark->made > last->made)) last = mark;
  }
  return last;
}

/* The first later step that makes it; -1: none. */
static int made_later(const Planner *planner, const char *word, const PlanStep *step) {
  for (size_t i = (size_t)step->number; i < planner->plan->steps.n; i++) {
    const PlanStep *later = planner->plan->steps.at[i];
    if (!is_related(later->instance, step->instance)) continue;
    for (size_t m = 0; m < later->decl->makes.n; m++) {
      if (text_is(later->decl->makes.at[m].s, word)) return (int)i;
    }
  }
  return -1;
}

static void missing(Play *play, int step, const Said *need, const State *state) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  const Mark *mark = last_mark(state, it->instance);
  bool ended = mark && mark->ended >= 0;
  const char *why =
      ended ? arena_printf(planner->arena, "%s has ended it", step_print(planner, mark->ended))
            : "no step before has made it so";
  Finding *finding = finding_add(planner->run, RULE_STATE_MISSING, it->decl->at,
                                 "%s needs '%s', and %s", step_print(planner, step), need->s, why);
  finding_subject(finding, it->id);
  if (mark)
    finding_note(planner->run, finding, planner->plan->steps.at[mark->made]->decl->at, "made here");
  if (ended)
    finding_note(planner->run, finding, planner->plan->steps.at[mark->ended]->decl->at,
                 "ended here");
  int later = made_later(planner, need->s, it);
  const char *near = near_word(need->s, &play->words);
  if (mark) {
    finding_way_out(planner->run, finding,
                    "the earliest place for it is right after %s, or make it again",
                    step_print(planner, mark->made));
  } else if (later >= 0) {
    finding_way_out(planner->run, finding, "the earliest place for it is right after %s",
                    step_print(planner, later));
  } else if (near && !text_is(near, need->s)) {
    finding_way_out(planner->run, finding, "steps make '%s'", near);
  } else {
    finding_way_out(planner->run, finding,
                    "write 'makes: [\"%s\"]' in the step that brings it about", need->s);
  }
}

/* Found wanting, a state is taken as given from then on. */
static void check_needs(Play *play, int step) {
  const PlanStep *it = play->planner->plan->steps.at[step];
  for (size_t i = 0; i < it->decl->needs.n; i++) {
    const Said *need = &it->decl->needs.at[i];
    State *state = state_of(play, need->s);
    if (is_live(play, state, it->instance)) continue;
    if (tell_once(play->planner,
                  arena_printf(play->planner->arena, "state/%s/%s", it->id, need->s)))
      missing(play, step, need, state);
  }
}

static bool turns(const PlanStep *step) {
  if (step->decl->turns.kind != EXPR_NONE) return true;
  for (size_t i = 0; i < step->passes.n; i++) {
    if (step->passes.at[i].kind == PASS_TURN_OVER) return true;
  }
  return false;
}

/* In words of the trade where there are any. */
static const char *still(Arena *arena, const char *word) {
  if (text_is(word, "pumped")) return "the tappets are still pumped up";
  if (text_is(word, "locked")) return "it is still locked";
  return arena_printf(arena, "it is still '%s'", word);
}

static void turn(Play *play, int step) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t i = 0; i < play->states.n; i++) {
    State *state = play->states.at[i];
    if (!forbids_turning(state->word)) continue;
    for (size_t m = 0; m < state->marks.n; m++) {
      Mark *mark = &state->marks.at[m];
      if (!mark->live) continue;
      mark->live = false; /* one mistake, one finding */
      Finding *finding = finding_add(
          planner->run, RULE_STATE_MISSING, it->decl->at, "%s turns the crank while %s%s, since %s",
          step_print(planner, step), still(planner->arena, state->word),
          instance_tail(planner->arena, mark->instance), step_print(planner, mark->made));
      finding_subject(finding, it->id);
      finding_note(planner->run, finding, planner->plan->steps.at[mark->made]->decl->at,
                   "made here");
      finding_way_out(planner->run, finding,
                      "end it before with 'ends: [%s]' in the step that does so", state->word);
    }
  }
  end_tdc(play, step);
}

static void ends_by_oil(Play *play, const char *word, const Instance *at, int step) {
  if (!text_starts(word, "oiled ")) return;
  static const char *const over[] = {"clean", "dry"};
  for (int i = 0; i < 2; i++) {
    State *state =
        map_find(play->by_word, arena_printf(play->planner->arena, "%s %s", over[i], word + 6));
    if (state) end_state(play, state, at, step);
  }
}

void states_play(Planner *planner) {
  Play play = {.planner = planner, .by_word = map_new(planner->arena)};
  const Plan *plan = planner->plan;
  for (size_t i = 0; i < plan->steps.n; i++) {
    const SaidList *makes = &plan->steps.at[i]->decl->makes;
    for (size_t m = 0; m < makes->n; m++) vec_push(planner->arena, &play.words, makes->at[m].s);
  }
  for (int i = 0; i < (int)plan->steps.n; i++) {
    const PlanStep *step = plan->steps.at[i];
    check_needs(&play, i);
    for (size_t e = 0; e < step->decl->ends.n; e++)
      end_state(&play, state_of(&play, step->decl->ends.at[e].s), step->instance, i);
    if (turns(step)) turn(&play, i);
    for (size_t m = 0; m < step->decl->makes.n; m++) {
      const char *word = step->decl->makes.at[m].s;
      if (is_tdc(word)) end_tdc(&play, i); /* the crank stands in one place */
      ends_by_oil(&play, word, step->instance, i);
      make_mark(&play, state_of(&play, word), step->instance, i);
    }
  }
}
