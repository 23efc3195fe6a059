/* States that steps make, need and end: clean, dry, pumped, locked, top dead centre. */
#include "plan/states.h"

#include "base/near.h"

/* The last mark of the state that has to do with the instance. */
static const Mark *last_mark(const States *states, const char *asked, const Instance *at) {
  const Mark *last = NULL;
  for (size_t s = 0; s < states->list.n; s++) {
    const State *state = states->list.at[s];
    if (!state_answers(state, asked)) continue;
    for (size_t i = 0; i < state->marks.n; i++) {
      const Mark *mark = &state->marks.at[i];
      if (is_related(mark->instance, at) && (!last || mark->made > last->made)) last = mark;
    }
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

/* All that some step makes; with those that this combination leaves out, if asked for. */
static void words_made(const States *states, bool dropped, Words *words) {
  const Planner *planner = states->planner;
  for (size_t i = 0; i < planner->drafts.n; i++) {
    if (planner->drafts.at[i].dropped && !dropped) continue;
    const SaidList *makes = &planner->drafts.at[i].decl->makes;
    for (size_t m = 0; m < makes->n; m++)
      if (!text_has(words, makes->at[m].s)) vec_push(planner->arena, words, makes->at[m].s);
  }
}

/* The step needs it, or the work under the message of a hazard does. */
static void missing(States *states, int step, const Said *need, const StateName *name,
                    const Instance *at, const Entry *hazard) {
  Planner *planner = states->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  const Mark *mark = last_mark(states, name->word, at);
  bool ended = mark && mark->ended >= 0;
  const char *why =
      ended ? arena_printf(planner->arena, "%s has ended it", step_print(planner, mark->ended))
            : "no step before has made it so";
  const char *asks = hazard ? arena_printf(planner->arena,
                                           "stands under the message '%s', which needs", hazard->id)
                            : "needs";
  Finding *finding =
      finding_add(planner->run, RULE_STATE_MISSING, it->decl->at, "%s %s '%s', and %s",
                  step_print(planner, step), asks, need->s, why);
  finding_subject(finding, it->id);
  if (hazard) finding_note(planner->run, finding, need->at, "the message asks for it here");
  if (mark)
    finding_note(planner->run, finding, planner->plan->steps.at[mark->made]->decl->at, "made here");
  if (ended)
    finding_note(planner->run, finding, planner->plan->steps.at[mark->ended]->decl->at,
                 "ended here");
  Words words = {0};
  words_made(states, false, &words);
  int later = made_later(planner, need->s, it);
  const char *near = near_word(need->s, &words);
  if (mark) {
    finding_way_out(planner->run, finding,
                    "the earliest place for it is right after %s, or make it again",
                    step_print(planner, mark->made));
  } else if (later >= 0 && hazard) { /* the act belongs before, not the hazard behind */
    finding_way_out(planner->run, finding, "%s makes it too late: make it in a step before",
                    step_print(planner, later));
    offer_procedure(planner, finding, OFFER_MAKES, need->s);
  } else if (later >= 0) {
    finding_way_out(planner->run, finding, "the earliest place for it is right after %s",
                    step_print(planner, later));
  } else if (near && !text_is(near, need->s)) {
    finding_way_out(planner->run, finding, "steps make '%s'", near);
  } else {
    finding_way_out(planner->run, finding,
                    "write 'makes: [\"%s\"]' in the step that brings it about", need->s);
    offer_procedure(planner, finding, OFFER_MAKES, need->s);
  }
}

static bool is_answered(const States *states, const char *asked, const Instance *at) {
  for (size_t i = 0; i < states->list.n; i++) {
    const State *state = states->list.at[i];
    if (state_answers(state, asked) && state_is_live(states, state, at)) return true;
  }
  return false;
}

/* Further steps lack it for the same reason. */
static bool told_before(const States *states, const char *word, const Instance *at) {
  const Mark *mark = last_mark(states, word, at);
  int since = mark ? mark->made : -1;
  return !tell_once(states->planner,
                    arena_printf(states->planner->arena, "state/%s/%d", word, since));
}

static void check_needs(States *states, int step) {
  Planner *planner = states->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t i = 0; i < it->decl->needs.n; i++) {
    const Said *need = &it->decl->needs.at[i];
    StateName name = state_name(planner, it, need);
    for (size_t a = 0; a < name.at.n; a++) {
      if (is_answered(states, name.word, name.at.at[a])) continue;
      if (told_before(states, name.word, name.at.at[a])) continue;
      missing(states, step, need, &name, name.at.at[a], NULL);
    }
  }
}

static bool made_within(const States *states, int first, int last, const char *word) {
  for (int i = first; i <= last; i++) {
    const SaidList *makes = &states->planner->plan->steps.at[i]->decl->makes;
    for (size_t m = 0; m < makes->n; m++)
      if (text_is(makes->at[m].s, word)) return true;
  }
  return false;
}

/* Once for each message and state: one act sees to it for all the work under it. */
static void check_hazard(States *states, int step, int first, int last, const Entry *hazard) {
  Planner *planner = states->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  const SaidList *needs = &hazard->is.caution.needs;
  for (size_t i = 0; i < needs->n; i++) {
    const Said *need = &needs->at[i];
    if (!need->s || made_within(states, first, last, need->s)) continue;
    StateName name = state_name(planner, it, need);
    if (is_answered(states, name.word, it->instance)) continue;
    if (!told_before(states, name.word, it->instance))
      missing(states, step, need, &name, it->instance, hazard);
  }
}

/* What avoids the hazards of a block may be done, and be over, in it; what is done under a message
 * of the step's own, before the step. */
static void check_hazards(States *states, int step) {
  Planner *planner = states->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  EntryList own = {0};
  cautions_met(planner, it, &own);
  for (size_t i = 0; i < own.n; i++) check_hazard(states, step, step, step, own.at[i]);
  for (size_t b = 0; b < planner->plan->blocks.n; b++) {
    const PlanBlock *block = &planner->plan->blocks.at[b];
    if (step < block->first || step > block->last) continue;
    const RefList *cautions = &block->decl->cautions;
    for (size_t i = 0; i < cautions->n; i++)
      if (cautions->at[i].entry && cautions->at[i].entry->kind == ENTRY_CAUTION)
        check_hazard(states, step, block->first, block->last, cautions->at[i].entry);
  }
}

/* Another module, of which this build does without, may make what the order knows by itself. */
static bool is_known_by_itself(const char *word) {
  static const char *const known[] = {"tdc", "pumped", "locked", "slack", "running"};
  for (size_t i = 0; i < sizeof known / sizeof *known; i++)
    if (state_has(word, known[i])) return true;
  return false;
}

/* A word that nobody makes: the near one that was meant, or NULL. */
static const char *meant_by(States *states, const PlanStep *step, const Said *said,
                            const char *word) {
  Planner *planner = states->planner;
  Words words = {0};
  words_made(states, true, &words);
  for (size_t i = 0; i < words.n; i++) /* made later, or for others */
    if (text_is(name_split(planner->arena, words.at[i]).base, word)) return NULL;
  const char *near = near_word(word, &words);
  if (!near && is_known_by_itself(word)) return NULL;
  if (tell_once(planner, arena_printf(planner->arena, "ends/%s/%s", step->id, word))) {
    Finding *finding =
        finding_add(planner->run, RULE_STATE_MISSING, said->at, "%s ends '%s', which no step makes",
                    step_print(planner, step->number - 1), word);
    finding_subject(finding, step->id);
    if (near)
      finding_way_out(planner->run, finding, "steps make '%s'", near);
    else
      finding_way_out(planner->run, finding,
                      "take it out, or write 'makes: [\"%s\"]' in the step that brings it about",
                      said->s);
  }
  return near;
}

static bool end_named(States *states, const StateName *name, const char *word, int step) {
  bool known = false;
  for (size_t i = 0; i < states->list.n; i++) {
    State *state = states->list.at[i];
    if (!state_answers(state, word)) continue;
    known = true;
    for (size_t a = 0; a < name->at.n; a++) state_end(states, state, name->at.at[a], step);
  }
  return known;
}

static void end_all(States *states, int step) {
  const PlanStep *it = states->planner->plan->steps.at[step];
  for (size_t e = 0; e < it->decl->ends.n; e++) {
    const Said *said = &it->decl->ends.at[e];
    StateName name = state_name(states->planner, it, said);
    if (end_named(states, &name, name.word, step)) continue;
    const char *meant = meant_by(states, it, said, name.word);
    if (meant) end_named(states, &name, meant, step);
  }
}

/* What oil is put on is clean and dry no more. */
static void end_by_oil(States *states, const char *thing, const Instance *at, int step) {
  static const char *const over[] = {"clean", "dry"};
  for (int i = 0; i < 2; i++) {
    State *state =
        map_find(states->by_word, arena_printf(states->planner->arena, "%s %s", over[i], thing));
    if (state) state_end(states, state, at, step);
  }
}

static bool is_greasy(const Ref *used) {
  if (!used->entry || used->entry->kind != ENTRY_CONSUMABLE) return false;
  const ConsumableEntry *is = &used->entry->is.consumable;
  return is->greasy.s || is->lubricant.entry;
}

static bool uses_oil(const PlanStep *step) {
  for (size_t i = 0; i < step->decl->uses.n; i++)
    if (is_greasy(&step->decl->uses.at[i])) return true;
  return false;
}

static void end_where_named(States *states, const SaidList *things, bool joints, int step) {
  Planner *planner = states->planner;
  const Instance *here = planner->plan->steps.at[step]->instance;
  for (size_t i = 0; i < things->n; i++) {
    Name name = name_split(planner->arena, things->at[i].s);
    const Role *role = job_role(planner->job, name.base);
    InstanceList at = {0};
    JointList picked = {0};
    if (joints) pick_joints(planner, &name, here, &picked);
    for (size_t j = 0; j < picked.n; j++) vec_push(planner->arena, &at, picked.at[j]->instance);
    if (!joints && role) pick_instances(planner, &name, role->per, here, &at);
    for (size_t a = 0; a < at.n; a++) end_by_oil(states, name.base, at.at[a], step);
  }
}

/* A step that uses oil or grease puts it on the threads it coats and the parts it names. */
static void end_by_use(States *states, int step) {
  const PlanStep *it = states->planner->plan->steps.at[step];
  if (!uses_oil(it)) return;
  end_where_named(states, &it->decl->coats, true, step);
  end_where_named(states, &it->decl->works_on, false, step);
  end_where_named(states, &it->decl->fits, false, step);
  end_where_named(states, &it->decl->trial, false, step);
}

static void make_all(States *states, int step) {
  Planner *planner = states->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t m = 0; m < it->decl->makes.n; m++) {
    StateName name = state_name(planner, it, &it->decl->makes.at[m]);
    for (size_t i = 0; is_tdc(name.word) && i < states->list.n; i++) {
      /* the crank stands in one place */
      if (is_tdc(states->list.at[i]->word)) state_end_everywhere(states->list.at[i], step);
    }
    place_meant(states, step, &it->decl->makes.at[m], name.word);
    for (size_t a = 0; a < name.at.n; a++) {
      if (text_starts(name.word, "oiled ")) end_by_oil(states, name.word + 6, name.at.at[a], step);
      state_make(states, state_of(states, name.word), name.at.at[a], step);
    }
  }
}

void states_play(Planner *planner) {
  States *states = states_new(planner);
  for (int i = 0; i < (int)planner->plan->steps.n; i++) {
    check_needs(states, i);
    check_hazards(states, i);
    end_all(states, i);
    end_by_use(states, i);
    if (step_turns(states, planner->plan->steps.at[i])) {
      turned_covered(states, i);
      crank_turn(states, i);
    }
    left_inside(states, i);
    work_on_running(states, i);
    start_drained(states, i);
    make_all(states, i);
  }
  if (planner->plan->steps.n > 0) left_at_end(states);
}
