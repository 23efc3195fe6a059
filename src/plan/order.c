/* Drafts sorted into the plan's steps, with the reason each stands where it does. */
#include "plan/work.h"

static const char *draft_print(const Planner *planner, int node) {
  const Draft *draft = &planner->drafts.at[node];
  const char *id = draft->decl->id.s ? draft->decl->id.s : draft->decl->text.s;
  return arena_printf(planner->arena, "%s%s", id ? id : "a step",
                      instance_tail(planner->arena, draft->instance));
}

static const char *kind_print(ReasonKind kind) {
  switch (kind) {
  case REASON_WRITTEN:
    return "written next after it";
  case REASON_BLOCK:
    return "the blocks are written in that order";
  case REASON_AFTER:
    return "asked for by 'after'";
  case REASON_BEFORE:
    return "asked for by 'before'";
  case REASON_DECIDES: /* says why itself */
    break;
  }
  return "";
}

static bool is_plain(ReasonKind kind) {
  return kind == REASON_BLOCK || kind == REASON_WRITTEN;
}

/* The edge of a stretch between two steps that says most: one asked for by name. */
static const SortEdge *telling(const SortEdge *a, const SortEdge *b) {
  if (!a || !b) return a ? a : b;
  return is_plain(a->kind) ? b : a;
}

typedef struct Stretch {
  int from, to; /* steps */
  const SortEdge *edge;
} Stretch;
typedef VEC(Stretch) Stretches;

static void stretches_of(Planner *planner, const SortEdges *circle, Stretches *out) {
  const SortGraph *graph = &planner->graph;
  size_t n = circle->n, first = 0;
  while (first < n && graph->nodes.at[circle->at[first].from] != SORT_STEP) first++;
  if (first == n) return;
  const SortEdge *edge = NULL;
  int from = circle->at[first].from;
  for (size_t i = 0; i < n; i++) {
    const SortEdge *next = &circle->at[(first + i) % n];
    edge = telling(edge, next);
    if (graph->nodes.at[next->to] != SORT_STEP) continue;
    Stretch stretch = {from, next->to, edge};
    vec_push(planner->arena, out, stretch);
    from = next->to;
    edge = NULL;
  }
}

static void tell_circle(Planner *planner, const SortEdges *circle) {
  Stretches stretches = {0};
  stretches_of(planner, circle, &stretches);
  if (stretches.n == 0) {
    const Draft *first = &planner->drafts.at[0];
    finding_add(planner->run, RULE_ORDER_CIRCLE, first->procedure->at,
                "the steps left out of this build go in too many circles to be bridged");
    return;
  }
  Text path = text_new(planner->arena);
  const Stretch *main = &stretches.at[0];
  text_add(&path, draft_print(planner, main->from));
  for (size_t i = 0; i < stretches.n; i++) {
    const Stretch *stretch = &stretches.at[i];
    text_addf(&path, " -> %s", draft_print(planner, stretch->to));
    if (is_plain(main->edge->kind)) main = stretch;
  }
  Finding *finding = finding_add(planner->run, RULE_ORDER_CIRCLE, main->edge->at,
                                 "the steps go in a circle: %s", text_done(&path));
  for (size_t i = 0; i < stretches.n; i++) {
    const Stretch *stretch = &stretches.at[i];
    finding_note(planner->run, finding, stretch->edge->at, "%s comes after %s: %s",
                 draft_print(planner, stretch->to), draft_print(planner, stretch->from),
                 stretch->edge->why ? stretch->edge->why : kind_print(stretch->edge->kind));
  }
  finding_way_out(planner->run, finding,
                  "take out one of these, or give a step 'place: floats' where its written place "
                  "does not matter");
}

static void add_step(Planner *planner, int node) {
  Arena *arena = planner->arena;
  Draft *draft = &planner->drafts.at[node];
  if (draft->dropped) return;
  PlanStep *step = ARENA_NEW(arena, PlanStep);
  step->number = (int)planner->plan->steps.n + 1;
  step->procedure = draft->procedure;
  step->block = draft->block;
  step->decl = draft->decl;
  step->instance = draft->instance;
  step->id =
      draft->decl->id.s ? draft->decl->id.s : arena_printf(arena, "step_%d", draft->decl->at.line);
  step->key = arena_printf(arena, "%s.%s%s", draft->procedure->id, step->id,
                           instance_tail(arena, draft->instance));
  draft->step = step;
  vec_push(arena, &planner->plan->steps, step);
}

/* A stretch of steps of one block and member; a block whose steps were parted by
 * others is several. */
static void add_blocks(Planner *planner, const Ints *nodes) {
  Plan *plan = planner->plan;
  const BlockRun *last = NULL;
  for (size_t i = 0; i < nodes->n; i++) {
    const Draft *draft = &planner->drafts.at[nodes->at[i]];
    bool by_step = text_is(draft->block->by.s, "step");
    bool same = last && last->decl == draft->block && last->module == draft->module &&
                (by_step || last->instance == draft->run->instance);
    if (!same) {
      PlanBlock block = {.procedure = draft->procedure, .decl = draft->block, .first = (int)i};
      block.instance = by_step ? planner->job->instances.at[0] : draft->run->instance;
      vec_push(planner->arena, &plan->blocks, block);
    }
    plan->blocks.at[plan->blocks.n - 1].last = (int)i;
    draft->step->plan_block = (int)plan->blocks.n - 1;
    last = draft->run;
  }
}

static void add_reason(Planner *planner, PlanStep *step, int latest, const SortEdge *edge) {
  if (latest < 0) return;
  for (size_t i = 0; i < step->reasons.n; i++) {
    Reason *told = &step->reasons.at[i];
    if (told->step != latest) continue;
    /* of two for one step the one asked for by name */
    if (told->kind == edge->kind || is_plain(edge->kind)) return;
    if (!is_plain(told->kind)) continue;
    *told = (Reason){edge->kind, latest, edge->why, edge->at};
    return;
  }
  Reason reason = {edge->kind, latest, edge->why, edge->at};
  vec_push(planner->arena, &step->reasons, reason);
}

/* Through joins and dropped steps a step waits for the last one behind them. */
static void add_reasons(Planner *planner, const Ints *order) {
  const SortGraph *graph = &planner->graph;
  size_t n = graph->nodes.n;
  int *latest = ARENA_NEW_N(planner->arena, int, n + 1);
  const SortEdge **carried = ARENA_NEW_N(planner->arena, const SortEdge *, n + 1);
  int *turn = ARENA_NEW_N(planner->arena, int, n + 1);
  for (size_t i = 0; i < n; i++) latest[i] = -1;
  for (size_t i = 0; i < n; i++) turn[order->at[i]] = (int)i;
  /* edges by the turn of the node they lead to, so that what they start from is known */
  int *start = ARENA_NEW_N(planner->arena, int, n + 2);
  int *list = ARENA_NEW_N(planner->arena, int, graph->edges.n + 1);
  for (size_t i = 0; i < graph->edges.n; i++) start[turn[graph->edges.at[i].to] + 2]++;
  for (size_t i = 2; i < n + 2; i++) start[i] += start[i - 1];
  for (size_t i = 0; i < graph->edges.n; i++) {
    list[start[turn[graph->edges.at[i].to] + 1]++] = (int)i;
  }
  for (size_t t = 0; t < n; t++) {
    int node = order->at[t];
    PlanStep *step = graph->nodes.at[node] == SORT_STEP ? planner->drafts.at[node].step : NULL;
    for (int i = start[t]; i < start[t + 1]; i++) {
      const SortEdge *edge =
          telling(&graph->edges.at[list[i]], carried[graph->edges.at[list[i]].from]);
      int from = latest[graph->edges.at[list[i]].from];
      if (step) add_reason(planner, step, from, edge);
      if (step || from <= latest[node]) continue;
      latest[node] = from;
      carried[node] = edge;
    }
    if (step) latest[node] = step->number - 1;
  }
}

void order_steps(Planner *planner) {
  Ints order = {0}, steps = {0};
  SortEdges circle = {0};
  planner->plan->ordered = sort_order(planner->arena, &planner->graph, &order, &circle);
  if (planner->plan->ordered) {
    for (size_t i = 0; i < order.n; i++) {
      if (planner->graph.nodes.at[order.at[i]] == SORT_STEP)
        vec_push(planner->arena, &steps, order.at[i]);
    }
  } else {
    tell_circle(planner, &circle);
    for (int i = 0; i < (int)planner->drafts.n; i++) {
      if (!planner->drafts.at[i].dropped) vec_push(planner->arena, &steps, i);
    }
  }
  for (size_t i = 0; i < steps.n; i++) add_step(planner, steps.at[i]);
  add_blocks(planner, &steps);
  if (planner->plan->ordered) add_reasons(planner, &order);
}
