/* How far a value can lie from its nominal: the worst found, and the root-sum-square. */
#include "value/range_memo.h"

#include <math.h>
#include <stdlib.h>

/* Toleranced leaves of the plan; they are pinned, so that x can move them. */
static void collect_inputs(Sweep *sweep, Arena *arena) {
  Scratch *scratch = sweep->scratch;
  for (size_t i = 0; i < scratch->order_n; i++) {
    NodeId id = scratch->order[i];
    const GraphNode *node = &sweep->graph->nodes.at[id];
    bool leaf = node->op == OP_LEAF || node->has_reading;
    scratch->depends[id] = 0;
    bool varies = leaf && !scratch->pinned[id] && node->low < node->high && isfinite(node->low) &&
                  isfinite(node->high);
    if (!varies) continue;
    scratch->depends[id] = sweep_bit(sweep->inputs.n);
    Input input = {.id = id, .nominal = node->si, .low = node->low, .high = node->high};
    input.middle = node->low + (node->high - node->low) / 2;
    vec_push(arena, &sweep->inputs, input);
    scratch->pinned[id] = true;
  }
}

/* Which leaves each node hangs on. The plan keeps those that hang on any. */
static void find_dependence(Sweep *sweep) {
  Scratch *scratch = sweep->scratch;
  size_t kept = 0;
  for (size_t i = 0; i < scratch->order_n; i++) {
    NodeId id = scratch->order[i];
    const GraphNode *node = &sweep->graph->nodes.at[id];
    for (uint32_t k = 0; !scratch->pinned[id] && k < node->args; k++)
      scratch->depends[id] |= scratch->depends[node->arg[k]];
    if (scratch->depends[id]) scratch->order[kept++] = id;
  }
  scratch->order_n = kept;
}

/* Does a toleranced leaf reach an operator that bends or jumps? Notes divisors on the way. */
static bool has_bend(Sweep *sweep, Arena *arena) {
  Scratch *scratch = sweep->scratch;
  bool bend = false;
  for (size_t i = 0; i < scratch->order_n; i++) {
    NodeId id = scratch->order[i];
    const GraphNode *node = &sweep->graph->nodes.at[id];
    if (scratch->pinned[id]) continue; /* leaves are settled already */
    if (node->op == OP_DIVIDE && scratch->depends[node->arg[1]]) {
      vec_push(arena, &sweep->divisors, ((Divisor){node->arg[1], false, false}));
    }
    if (node->op == OP_CALL)
      bend = bend || !function_is_smooth(node->function);
    else if (node->op == OP_IF)
      bend = bend || scratch->depends[node->arg[0]];
    else
      bend = bend || node->dim.truth;
  }
  return bend;
}

static int by_width(const void *a, const void *b) {
  const Contribution *x = a, *y = b;
  if (x->half_width != y->half_width) return x->half_width > y->half_width ? -1 : 1;
  return (x->leaf > y->leaf) - (x->leaf < y->leaf);
}

static void search(Sweep *sweep, Arena *arena, Range *range) {
  find_dependence(sweep);
  plan_settle(sweep->graph, sweep->scratch);
  sweep->turns = has_bend(sweep, arena);
  sweep_start_at(sweep, 1);
  for (size_t i = 0; i < sweep->inputs.n; i++) sweep_along(sweep, i);
  for (int side = SIDE_LOW; side <= SIDE_HIGH; side++) {
    sweep_start_at_signs(sweep, (Side)side);
    sweep_all(sweep, (Side)side);
  }
  if (sweep->turns) sweep_bends(sweep);
  range->low = sweep->worst[SIDE_LOW];
  range->high = sweep->worst[SIDE_HIGH];
  if (sweep->not_finite) {
    range->low = -INFINITY;
    range->high = INFINITY;
  }
  range->monotone = !sweep->turns && !sweep->not_finite && !sweep->waits;
  if (sweep->waits) range->state = VALUE_UNKNOWN;
  double squares = 0;
  for (size_t i = 0; i < sweep->inputs.n; i++) {
    const Input *input = &sweep->inputs.at[i];
    Contribution one = {input->id, input->width};
    if (!(one.half_width > 0)) continue;
    squares += one.half_width * one.half_width;
    vec_push(arena, &range->by_leaf, one);
  }
  range->rss = range->monotone ? sqrt(squares) : NAN;
}

static void search_once(Sweep *sweep, Arena *arena, const RangeKey *key, Range *range) {
  if (!range_recall(sweep->graph, arena, key, sweep, range)) {
    search(sweep, arena, range);
    range_keep(sweep->graph, key, sweep, range);
  }
  if (range->by_leaf.n > 1)
    qsort(range->by_leaf.at, range->by_leaf.n, sizeof *range->by_leaf.at, by_width);
}

Range graph_range(const Graph *graph, Arena *arena, NodeId node, const Overrides *overrides) {
  Range range = {.nominal = NAN, .low = NAN, .high = NAN, .rss = NAN};
  Sweep sweep = {.graph = graph, .target = node};
  sweep.scratch = scratch_make(graph, node, overrides);
  Cell nominal = scratch_run(graph, sweep.scratch, node);
  range.state = (ValueState)nominal.state;
  if (range.state != VALUE_KNOWN) {
    plan_unpin(sweep.scratch, overrides);
    return range;
  }
  range.nominal = range.low = range.high = nominal.si;
  range.rss = 0;
  range.monotone = true;
  RangeKey key = range_key(graph, sweep.scratch);
  collect_inputs(&sweep, arena);
  if (sweep.inputs.n > 0) {
    sweep.x = ARENA_NEW_N(arena, double, sweep.inputs.n);
    sweep.last_x = ARENA_NEW_N(arena, double, sweep.inputs.n);
    for (int side = SIDE_LOW; side <= SIDE_HIGH; side++) {
      sweep.worst[side] = nominal.si;
      sweep.worst_x[side] = ARENA_NEW_N(arena, double, sweep.inputs.n);
      for (size_t i = 0; i < sweep.inputs.n; i++) {
        sweep.worst_x[side][i] = sweep.inputs.at[i].nominal;
      }
    }
    search_once(&sweep, arena, &key, &range);
  }
  for (size_t i = 0; i < sweep.inputs.n; i++) {
    sweep.scratch->pinned[sweep.inputs.at[i].id] = false;
  }
  plan_unpin(sweep.scratch, overrides);
  return range;
}
