/* Safety messages before blocks and steps: each where its hazard is first met, and again where it
 * is met anew: after work that has it not, for the next member, on another sheet. What will kill
 * stands before each block that has it. */
#include "plan/work.h"

static int danger(const Entry *caution) {
  static const char *const words[] = {"danger", "warning", "caution", "notice"};
  for (int i = 0; i < 4; i++) {
    if (text_is(caution->is.caution.word.s, words[i])) return i;
  }
  return 4;
}

static bool is_deadly(const Entry *caution) {
  return danger(caution) == 0;
}

static bool holds(const EntryList *list, const Entry *caution) {
  for (size_t i = 0; i < list->n; i++)
    if (list->at[i] == caution) return true;
  return false;
}

/* The worst first; of equals the one named first. */
static void add_caution(Planner *planner, EntryList *list, const Entry *caution) {
  if (!caution || caution->kind != ENTRY_CAUTION || holds(list, caution)) return;
  vec_push(planner->arena, list, caution);
  for (size_t i = list->n - 1; i > 0 && danger(list->at[i - 1]) > danger(caution); i--) {
    list->at[i] = list->at[i - 1];
    list->at[i - 1] = caution;
  }
}

static void add_cautions(Planner *planner, EntryList *list, const RefList *cautions) {
  for (size_t i = 0; i < cautions->n; i++) add_caution(planner, list, cautions->at[i].entry);
}

void cautions_met(Planner *planner, const PlanStep *step, EntryList *list) {
  add_cautions(planner, list, &step->decl->cautions);
  for (size_t i = 0; i < step->decl->uses.n; i++) {
    const Entry *used = step->decl->uses.at[i].entry;
    if (!used) continue;
    if (used->kind == ENTRY_CONSUMABLE) add_cautions(planner, list, &used->is.consumable.cautions);
    if (used->kind == ENTRY_THREADLOCKER)
      add_cautions(planner, list, &used->is.threadlocker.cautions);
  }
  for (size_t i = 0; i < step->joints.n; i++) {
    const JointDecl *bundle = step->joints.at[i]->bundle;
    const Entry *lock = bundle ? bundle->threadlock.entry : NULL;
    if (lock && lock->kind == ENTRY_THREADLOCKER)
      add_cautions(planner, list, &lock->is.threadlocker.cautions);
  }
}

/* before: the hazards of the block before on the same sheet. Those of this one go to met. */
static void join_block(Planner *planner, PlanBlock *block, const EntryList *before,
                       EntryList *met) {
  add_cautions(planner, met, &block->decl->cautions);
  for (size_t i = 0; i < met->n; i++)
    if (is_deadly(met->at[i]) || !holds(before, met->at[i]))
      vec_push(planner->arena, &block->cautions, met->at[i]);
  for (int i = block->first; i <= block->last; i++) {
    PlanStep *step = planner->plan->steps.at[i];
    EntryList list = {0};
    cautions_met(planner, step, &list);
    for (size_t c = 0; c < list.n; c++) {
      bool told = !is_deadly(list.at[c]) && holds(before, list.at[c]);
      if (!told && !holds(met, list.at[c])) vec_push(planner->arena, &step->cautions, list.at[c]);
      add_caution(planner, met, list.at[c]);
    }
  }
}

void cautions_join(Planner *planner) {
  EntryList before = {0};
  bool start = false;
  for (size_t i = 0; i < planner->plan->blocks.n; i++) {
    PlanBlock *block = &planner->plan->blocks.at[i];
    bool in_start = text_is(block->procedure->is.procedure.sheet.s, "start");
    if (in_start != start) before.n = 0;
    /* the same work for the next member may be done by somebody else, another day */
    if (i > 0 && planner->plan->blocks.at[i - 1].decl == block->decl) before.n = 0;
    EntryList met = {0};
    join_block(planner, block, &before, &met);
    before = met;
    start = in_start;
  }
}
