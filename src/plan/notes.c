/* What the parts' sheets say to a step, and the cautions that stand before it. */
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
  }
}

/* A part of the engine's own that stays where it is has steps in other work. */
static void notes_of(Planner *planner, const Map *steps, const Entry *part, bool stays) {
  const PartEntry *is = &part->is.part;
  for (size_t i = 0; i < is->note_steps.n && i < is->note_texts.n; i++) {
    const Said *id = &is->note_steps.at[i];
    const char *whose = source_print(planner->arena, part, NULL);
    const char *note = arena_printf(planner->arena, "%s (%s)", is->note_texts.at[i].s, whose);
    const Ints *list = map_find(steps, id->s);
    for (size_t s = 0; list && s < list->n; s++) {
      PlanStep *step = planner->plan->steps.at[list->at[s]];
      if (!text_has(&step->notes, note)) vec_push(planner->arena, &step->notes, note);
    }
    if (!list && !stays && !map_find(planner->targets, id->s)) no_such_step(planner, part, id);
  }
}

typedef VEC(const Entry *) EntryList;

static int danger(const Entry *caution) {
  static const char *const words[] = {"danger", "warning", "caution", "notice"};
  for (int i = 0; i < 4; i++) {
    if (text_is(caution->is.caution.word.s, words[i])) return i;
  }
  return 4;
}

/* The worst first; of equals the one named first. */
static void add_caution(Planner *planner, EntryList *list, const Entry *caution) {
  if (!caution || caution->kind != ENTRY_CAUTION) return;
  for (size_t i = 0; i < list->n; i++) {
    if (list->at[i] == caution) return;
  }
  vec_push(planner->arena, list, caution);
  for (size_t i = list->n - 1; i > 0 && danger(list->at[i - 1]) > danger(caution); i--) {
    list->at[i] = list->at[i - 1];
    list->at[i - 1] = caution;
  }
}

static void add_cautions(Planner *planner, EntryList *list, const RefList *cautions,
                         const RefList *but) {
  for (size_t i = 0; i < cautions->n; i++) {
    bool said = false;
    for (size_t b = 0; but && b < but->n; b++)
      said = said || but->at[b].entry == cautions->at[i].entry;
    if (!said) add_caution(planner, list, cautions->at[i].entry);
  }
}

/* A step's own cautions, and those of what it is done with; the latter not again
 * where the block has said them. */
static void cautions_of(Planner *planner, PlanStep *step) {
  EntryList list = {0};
  const RefList *block = &step->block->cautions;
  add_cautions(planner, &list, &step->decl->cautions, NULL);
  for (size_t i = 0; i < step->decl->uses.n; i++) {
    const Entry *used = step->decl->uses.at[i].entry;
    if (!used) continue;
    if (used->kind == ENTRY_CONSUMABLE)
      add_cautions(planner, &list, &used->is.consumable.cautions, block);
    if (used->kind == ENTRY_THREADLOCKER)
      add_cautions(planner, &list, &used->is.threadlocker.cautions, block);
  }
  for (size_t i = 0; i < step->joints.n; i++) {
    const JointDecl *bundle = step->joints.at[i]->bundle;
    const Entry *lock = bundle ? bundle->threadlock.entry : NULL;
    if (lock && lock->kind == ENTRY_THREADLOCKER)
      add_cautions(planner, &list, &lock->is.threadlocker.cautions, block);
  }
  for (size_t i = 0; i < list.n; i++) vec_push(planner->arena, &step->cautions, list.at[i]);
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
  for (size_t i = 0; i < planner->plan->steps.n; i++)
    cautions_of(planner, planner->plan->steps.at[i]);
  for (size_t i = 0; i < planner->plan->blocks.n; i++) {
    PlanBlock *block = &planner->plan->blocks.at[i];
    EntryList list = {0};
    add_cautions(planner, &list, &block->decl->cautions, NULL);
    for (size_t c = 0; c < list.n; c++) vec_push(planner->arena, &block->cautions, list.at[c]);
  }
}
