/* What waits for what, and why. */
#include "plan/work.h"

void edge_add(Planner *planner, int from, int to, ReasonKind kind, const char *why, Place at) {
  if (planner->graph.edges.n == MOST_EDGES) {
    if (tell_once(planner, "most edges"))
      finding_add(planner->run, RULE_TOO_BIG, at,
                  "the steps of this build wait for each other in more than %d ways", MOST_EDGES);
    return;
  }
  SortEdge edge = {from, to, kind, why, at, false};
  vec_push(planner->arena, &planner->graph.edges, edge);
}

static bool is_floating(const Draft *draft) {
  return text_is(draft->decl->place.s, "floats");
}

/* What is written next to each other in a procedure stays so. */
static void written_neighbours(Planner *planner) {
  int before = -1;
  for (int i = 0; i < (int)planner->drafts.n; i++) {
    const Draft *draft = &planner->drafts.at[i];
    if (is_floating(draft)) continue;
    if (before >= 0 && planner->drafts.at[before].module == draft->module) {
      bool same = planner->drafts.at[before].block == draft->block;
      edge_add(planner, before, i, same ? REASON_WRITTEN : REASON_BLOCK, NULL, draft->decl->at);
    }
    before = i;
  }
}

/* All of a block lies between its start and its end: the first and the last step do,
 * and so those written between them, and each that floats. */
static void block_ends(Planner *planner) {
  for (int i = 0; i < (int)planner->drafts.n; i++) {
    const Draft *draft = &planner->drafts.at[i];
    BlockRun *run = draft->run;
    if (is_floating(draft) || run->last == 0)
      edge_add(planner, run->start, i, REASON_BLOCK, NULL, draft->decl->at);
    if (is_floating(draft))
      edge_add(planner, i, run->end, REASON_BLOCK, NULL, draft->decl->at);
    else
      run->last = i + 1;
  }
  for (size_t i = 0; i < planner->runs.n; i++) {
    const BlockRun *run = planner->runs.at[i];
    int last = run->last ? run->last - 1 : run->start;
    edge_add(planner, last, run->end, REASON_BLOCK, NULL, run->decl->at);
  }
}

static void add_after(Planner *planner, const Said *said, int module, const Instance *at, int to) {
  int from = target_node(planner, said, module, at, true);
  if (from >= 0) edge_add(planner, from, to, REASON_AFTER, NULL, said->at);
}

static void asked_for(Planner *planner) {
  for (size_t i = 0; i < planner->runs.n; i++) {
    const BlockRun *run = planner->runs.at[i];
    for (size_t a = 0; a < run->decl->after.n; a++)
      add_after(planner, &run->decl->after.at[a], run->module, run->instance, run->start);
  }
  for (int i = 0; i < (int)planner->drafts.n; i++) {
    const Draft draft = planner->drafts.at[i];
    for (size_t a = 0; a < draft.decl->after.n; a++)
      add_after(planner, &draft.decl->after.at[a], draft.module, draft.instance, i);
    if (draft.decl->since.s)
      add_after(planner, &draft.decl->since, draft.module, draft.instance, i);
    for (size_t b = 0; b < draft.decl->before.n; b++) {
      const StepBefore *before = &draft.decl->before.at[b];
      int to = target_node(planner, &before->step, draft.module, draft.instance, false);
      if (to >= 0) edge_add(planner, i, to, REASON_BEFORE, before->why.s, before->step.at);
    }
  }
}

/* Which drafts measure a quantity. */
static Map *measured_by(Planner *planner) {
  Map *by = map_new(planner->arena);
  for (int i = 0; i < (int)planner->drafts.n; i++) {
    const Draft *draft = &planner->drafts.at[i];
    for (size_t b = 0; b < draft->decl->boxes.n; b++) {
      const char *name = draft->decl->boxes.at[b].quantity.s;
      if (!name || !box_is_as_built(&draft->decl->boxes.at[b])) continue;
      Ints *list = map_find(by, name);
      if (!list) {
        list = ARENA_NEW(planner->arena, Ints);
        map_put(by, name, list);
      }
      if (list->n == 0 || list->at[list->n - 1] != i) vec_push(planner->arena, list, i);
    }
  }
  return by;
}

/* A decision stands after the measurements before it in writing; with none there,
 * after those of later procedures. One written later in its own procedure cannot
 * come before it: that is said when the order is there (decided-early). */
static void after_measuring(Planner *planner, int decide, const Said *quantity, const Ints *by) {
  const Draft *table = &planner->drafts.at[decide];
  const char *why = arena_printf(planner->arena, "the table is entered with %s", quantity->s);
  bool found = false;
  for (int pass = 0; pass < 2 && !found; pass++) {
    for (size_t i = 0; i < by->n; i++) {
      const Draft *record = &planner->drafts.at[by->at[i]];
      if (record->dropped || !is_related(record->instance, table->instance)) continue;
      bool wanted = pass == 0 ? by->at[i] < decide : record->module > table->module;
      if (!wanted) continue;
      edge_add(planner, by->at[i], decide, REASON_DECIDES, why, quantity->at);
      found = true;
    }
  }
}

static void decisions(Planner *planner) {
  Map *by = measured_by(planner);
  for (int i = 0; i < (int)planner->drafts.n; i++) {
    const TableDecl *table = planner->drafts.at[i].decl->table;
    if (!table) continue;
    const Said *axes[2] = {&table->row.quantity, &table->column.quantity};
    for (int a = 0; a < 2; a++) {
      const Ints *list = axes[a]->s ? map_find(by, axes[a]->s) : NULL;
      if (list) after_measuring(planner, i, axes[a], list);
    }
  }
}

void edges_build(Planner *planner) {
  written_neighbours(planner);
  block_ends(planner);
  asked_for(planner);
  decisions(planner);
}
