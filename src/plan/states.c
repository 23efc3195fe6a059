#include "plan/states.h"

#include <string.h>

States *states_new(Planner *planner) {
  States *states = ARENA_NEW(planner->arena, States);
  states->planner = planner;
  states->by_word = map_new(planner->arena);
  return states;
}

State *state_of(States *states, const char *word) {
  Arena *arena = states->planner->arena;
  State *state = map_find(states->by_word, word);
  if (state) return state;
  state = ARENA_NEW(arena, State);
  state->word = word;
  map_put(states->by_word, word, state);
  vec_push(arena, &states->list, state);
  return state;
}

StateName state_name(Planner *planner, const PlanStep *step, const Said *said) {
  StateName name = {.word = said->s};
  const char *open = strchr(said->s, '['), *close = open ? strchr(open, ']') : NULL;
  if (!close) {
    vec_push(planner->arena, &name.at, step->instance);
    return name;
  }
  Name members = name_split(planner->arena, open);
  name.word = arena_printf(planner->arena, "%.*s%s", (int)(open - said->s), said->s, close + 1);
  for (size_t i = 0; i < planner->job->sets.n && name.at.n == 0; i++)
    pick_instances(planner, &members, planner->job->sets.at[i], step->instance, &name.at);
  if (name.at.n > 0) return name;
  Words words = {0};
  for (size_t i = 0; i < planner->job->sets.n; i++) {
    const Set *set = planner->job->sets.at[i];
    for (size_t m = 0; m < set->members.n; m++)
      vec_push(planner->arena, &words, set->members.at[m]);
  }
  Said member = {members.index.n > 0 ? members.index.at[0] : said->s, said->at};
  tell_unknown(planner, step->procedure, &member, "member", &words);
  vec_push(planner->arena, &name.at, step->instance);
  return name;
}

bool step_runs(const PlanStep *step) {
  for (size_t i = 0; i < step->decl->makes.n; i++)
    if (text_is(step->decl->makes.at[i].s, "running")) return true;
  return false;
}

bool state_has(const char *state, const char *word) {
  size_t length = strlen(word);
  for (const char *at = state; *at;) {
    size_t n = strcspn(at, " ");
    if (n == length && strncmp(at, word, n) == 0) return true;
    at += n + (at[n] == ' ');
  }
  return false;
}

bool state_answers(const State *state, const char *asked) {
  if (text_is(state->word, asked)) return true;
  static const char *const alone[] = {"tdc", "pumped", "locked", "slack"};
  for (size_t i = 0; i < sizeof alone / sizeof *alone; i++)
    if (text_is(asked, alone[i])) return state_has(state->word, asked);
  return false;
}

bool state_is_live(const States *states, const State *state, const Instance *at) {
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
  const InstanceList *members = members_of(states->planner, beneath);
  for (size_t i = 0; i < members->n; i++) {
    if (instance_within(members->at[i], at) && count-- == 0) return false;
  }
  return true;
}

void state_make(States *states, State *state, const Instance *at, int step) {
  for (size_t i = 0; i < state->marks.n; i++) {
    Mark *mark = &state->marks.at[i];
    if (mark->instance != at) continue;
    *mark = (Mark){at, true, step, -1};
    return;
  }
  Mark mark = {at, true, step, -1};
  vec_push(states->planner->arena, &state->marks, mark);
}

/* A member that was made so by a step of its own keeps that. */
static void state_keep(States *states, State *state, const Instance *at, int step) {
  for (size_t i = 0; i < state->marks.n; i++)
    if (state->marks.at[i].instance == at && state->marks.at[i].live) return;
  state_make(states, state, at, step);
}

void state_end(States *states, State *state, const Instance *at, int step) {
  size_t n = state->marks.n;
  for (size_t i = 0; i < n; i++) {
    Mark *mark = &state->marks.at[i];
    if (!mark->live || !is_related(mark->instance, at)) continue;
    mark->live = false;
    mark->ended = step;
    if (instance_within(mark->instance, at)) continue;
    const Instance *whole = mark->instance;
    int made = mark->made;
    const InstanceList *members = members_of(states->planner, at->set);
    for (size_t m = 0; m < members->n; m++) {
      if (members->at[m] != at && instance_within(members->at[m], whole))
        state_keep(states, state, members->at[m], made);
    }
  }
}

void state_end_everywhere(State *state, int step) {
  for (size_t i = 0; i < state->marks.n; i++) {
    Mark *mark = &state->marks.at[i];
    if (!mark->live || mark->made == step) continue;
    mark->live = false;
    mark->ended = step;
  }
}
