/* Evaluation: inputs first, on a plan, so that a long chain needs no deep stack. */
#include "value/graph_node.h"

#include <math.h>
#include <string.h>

#define AS_EQUAL   1e-9  /* of the larger: sizes nearer than that are the same size */
#define AS_NOTHING 1e-14 /* SI: what is left of a sum that should be 0 */

static void scratch_grow(const Graph *graph, Scratch *scratch) {
  size_t n = graph->nodes.n;
  if (scratch->room >= n) return;
  size_t room = n * 2;
  Arena *arena = graph->arena;
  scratch->room = room;
  scratch->cells = ARENA_NEW_N(arena, Cell, room);
  scratch->mark = ARENA_NEW_N(arena, uint8_t, room);
  scratch->depends = ARENA_NEW_N(arena, uint64_t, room);
  scratch->pinned = ARENA_NEW_N(arena, bool, room);
  scratch->pin = ARENA_NEW_N(arena, double, room);
  scratch->order = ARENA_NEW_N(arena, NodeId, room);
  scratch->steps = ARENA_NEW_N(arena, Step, room);
  scratch->hang_room = room / 64 + 1;
  scratch->hang = ARENA_NEW_N(arena, uint64_t, 64 * scratch->hang_room);
  scratch->stack = ARENA_NEW_N(arena, NodeId, room);
  scratch->next = ARENA_NEW_N(arena, uint32_t, room);
}

/* A circle, which the builder reports, ends at the node met a second time: that
 * one is not yet in the order and counts as poison. */
static void plan_order(const Graph *graph, Scratch *scratch, NodeId target) {
  size_t depth = 0;
  scratch->order_n = 0;
  scratch->stack[depth] = target;
  scratch->next[depth++] = 0;
  scratch->mark[target] = 1;
  while (depth > 0) {
    NodeId id = scratch->stack[depth - 1];
    const GraphNode *node = &graph->nodes.at[id];
    uint32_t args = scratch->pinned[id] ? 0 : node->args;
    if (scratch->next[depth - 1] == args) {
      scratch->mark[id] = 2;
      scratch->order[scratch->order_n++] = id;
      depth--;
      continue;
    }
    NodeId arg = node->arg[scratch->next[depth - 1]++];
    if (scratch->mark[arg] != 0) continue;
    scratch->mark[arg] = 1;
    scratch->stack[depth] = arg;
    scratch->next[depth++] = 0;
  }
  for (size_t i = 0; i < scratch->order_n; i++) {
    NodeId id = scratch->order[i];
    scratch->mark[id] = 0;
    scratch->cells[id] = (Cell){.state = VALUE_POISON};
  }
}

Scratch *plan_empty(const Graph *graph) {
  scratch_grow(graph, graph->scratch);
  graph->scratch->order_n = 0;
  return graph->scratch;
}

Scratch *scratch_make(const Graph *graph, NodeId target, const Overrides *overrides) {
  Scratch *scratch = graph->scratch;
  scratch_grow(graph, scratch);
  for (size_t i = 0; overrides && i < overrides->n; i++) {
    scratch->pinned[overrides->at[i].node] = true;
    scratch->pin[overrides->at[i].node] = overrides->at[i].si;
  }
  plan_order(graph, scratch, target);
  return scratch;
}

void plan_unpin(Scratch *scratch, const Overrides *overrides) {
  for (size_t i = 0; overrides && i < overrides->n; i++) {
    scratch->pinned[overrides->at[i].node] = false;
  }
}

static Cell known(double si) {
  return (Cell){.si = si, .state = VALUE_KNOWN};
}

static Cell known_or_not_finite(double si, NodeId id) {
  if (isfinite(si)) return known(si);
  return (Cell){.state = VALUE_POISON, .culprit = id, .not_finite = true};
}

static Cell waits_for(NodeId id) {
  return (Cell){.state = VALUE_UNKNOWN, .culprit = id};
}

/* -1, 0, 1: sizes that differ by rounding alone are equal. */
static int compare(double a, double b) {
  double slack = AS_NOTHING + AS_EQUAL * fmax(fabs(a), fabs(b));
  return a < b - slack ? -1 : a > b + slack;
}

static double operate(GraphOp op, double a, double b) {
  switch (op) {
  case OP_MINUS:
    return -a;
  case OP_NOT:
    return a == 0;
  case OP_ADD:
    return a + b;
  case OP_SUBTRACT:
    return a - b;
  case OP_MULTIPLY:
    return a * b;
  case OP_DIVIDE:
    return a / b;
  case OP_POWER:
    return pow(a, b);
  case OP_LESS:
    return compare(a, b) < 0;
  case OP_LESS_EQUAL:
    return compare(a, b) <= 0;
  case OP_GREATER:
    return compare(a, b) > 0;
  case OP_GREATER_EQUAL:
    return compare(a, b) >= 0;
  case OP_EQUAL:
    return compare(a, b) == 0;
  case OP_NOT_EQUAL:
    return compare(a, b) != 0;
  default:
    return NAN;
  }
}

/* The argument that keeps the result from being known: poison before unknown, then the first. */
static const Cell *obstacle(const Scratch *scratch, const GraphNode *node) {
  const Cell *worst = NULL;
  for (uint32_t i = 0; i < node->args; i++) {
    const Cell *cell = &scratch->cells[node->arg[i]];
    if (cell->state == VALUE_KNOWN) continue;
    if (!worst || cell->state < worst->state) worst = cell;
  }
  return worst;
}

/* "and" is false once one side is, "or" true once one side is, whatever the other
 * waits for; a side to the left decides even over poison on the right, so that
 * a condition can guard a division. */
static Cell both(const Scratch *scratch, const GraphNode *node) {
  double decides = node->op == OP_OR;
  Cell left = scratch->cells[node->arg[0]], right = scratch->cells[node->arg[1]];
  if (left.state == VALUE_KNOWN && left.si == decides) return left;
  if (left.state == VALUE_POISON) return left;
  if (right.state == VALUE_KNOWN && (right.si == decides || left.state == VALUE_KNOWN)) {
    return right;
  }
  return right.state == VALUE_POISON || left.state == VALUE_KNOWN ? right : left;
}

static Cell choose(const Scratch *scratch, const GraphNode *node) {
  Cell condition = scratch->cells[node->arg[0]];
  if (condition.state != VALUE_KNOWN) return condition;
  return scratch->cells[node->arg[condition.si != 0 ? 1 : 2]];
}

static Cell call(const Graph *graph, const Scratch *scratch, NodeId id) {
  const GraphNode *node = &graph->nodes.at[id];
  double *a = scratch->args;
  for (uint32_t i = 0; i < node->args; i++) a[i] = scratch->cells[node->arg[i]].si;
  if (function_is_of_positions(node->function)) {
    const GraphNode *read = &graph->nodes.at[node->arg[0]];
    a[1] = read->below;
    a[2] = read->above;
  }
  double result = function_call(node->function)(a, node->args, node->origin);
  return known_or_not_finite(result, id);
}

static Cell evaluate_value(const Scratch *scratch, NodeId id, const GraphNode *node) {
  if (node->has_reading) return known(node->si);
  return node->defined ? scratch->cells[node->arg[0]] : waits_for(id);
}

static Cell evaluate_node(const Graph *graph, const Scratch *scratch, NodeId id) {
  const GraphNode *node = &graph->nodes.at[id];
  if (scratch->pinned[id]) return known_or_not_finite(scratch->pin[id], id);
  switch (node->op) {
  case OP_POISON:
    return (Cell){.state = VALUE_POISON};
  case OP_LEAF:
  case OP_CONSTANT:
    return known_or_not_finite(node->si, id);
  case OP_VALUE:
    return evaluate_value(scratch, id, node);
  case OP_IF:
    return choose(scratch, node);
  case OP_AND:
  case OP_OR:
    return both(scratch, node);
  default:
    break;
  }
  const Cell *blocked = obstacle(scratch, node);
  if (blocked) return *blocked;
  if (node->op == OP_CALL) return call(graph, scratch, id);
  double a = scratch->cells[node->arg[0]].si;
  double b = node->args > 1 ? scratch->cells[node->arg[1]].si : 0;
  return known_or_not_finite(operate(node->op, a, b), id);
}

Cell scratch_run(const Graph *graph, Scratch *scratch, NodeId target) {
  for (size_t i = 0; i < scratch->order_n; i++) {
    NodeId id = scratch->order[i];
    scratch->cells[id] = evaluate_node(graph, scratch, id);
  }
  return scratch->cells[target];
}

/* Of the lowest bit that is set; one is. */
static size_t first_bit(uint64_t bits) {
  return (size_t)__builtin_ctzll(bits);
}

/* Steps in words of 64, one set of words after the other for each bit. */
static size_t words_of(const Scratch *scratch) {
  return scratch->order_n / 64 + 1;
}

void plan_settle(const Graph *graph, Scratch *scratch) {
  size_t words = words_of(scratch);
  memset(scratch->hang, 0, 64 * words * sizeof *scratch->hang);
  for (size_t i = 0; i < scratch->order_n; i++) {
    NodeId id = scratch->order[i];
    const GraphNode *node = &graph->nodes.at[id];
    bool pinned = scratch->pinned[id];
    Step step = {id, 0, 0, (uint8_t)(pinned ? OP_LEAF : node->op)};
    if (!pinned && node->args > 0) step.a = node->arg[0];
    if (!pinned && node->args > 1) step.b = node->arg[1];
    scratch->steps[i] = step;
    for (uint64_t rest = scratch->depends[id]; rest; rest &= rest - 1)
      scratch->hang[first_bit(rest) * words + i / 64] |= (uint64_t)1 << (i % 64);
  }
}

/* The same as evaluate_node for what is met most often; false: it has to go the long way. */
static bool take_short_way(const Scratch *scratch, const Step *step) {
  const Cell *a = &scratch->cells[step->a], *b = &scratch->cells[step->b];
  double si = NAN;
  switch (step->op) {
  case OP_LEAF:
    si = scratch->pin[step->id];
    a = b = &scratch->cells[step->id]; /* a leaf that is moved is known */
    break;
  case OP_VALUE:
    scratch->cells[step->id] = *a; /* it hangs on a leaf: it is defined, and has no reading */
    return true;
  case OP_ADD:
    si = a->si + b->si;
    break;
  case OP_SUBTRACT:
    si = a->si - b->si;
    break;
  case OP_MULTIPLY:
    si = a->si * b->si;
    break;
  case OP_DIVIDE:
    si = a->si / b->si;
    break;
  default:
    return false;
  }
  if (a->state != VALUE_KNOWN || b->state != VALUE_KNOWN || !isfinite(si)) return false;
  Cell *cell = &scratch->cells[step->id];
  cell->state = VALUE_KNOWN;
  cell->not_finite = false;
  cell->culprit = 0;
  cell->si = si;
  return true;
}

Cell scratch_run_again(const Graph *graph, Scratch *scratch, NodeId target, uint64_t changed,
                       double *nodes_run) {
  size_t run = 0, words = words_of(scratch);
  for (size_t word = 0; word < words; word++) {
    uint64_t steps = 0;
    for (uint64_t rest = changed; rest; rest &= rest - 1)
      steps |= scratch->hang[first_bit(rest) * words + word];
    for (; steps; steps &= steps - 1, run++) {
      const Step *step = &scratch->steps[word * 64 + first_bit(steps)];
      if (!take_short_way(scratch, step))
        scratch->cells[step->id] = evaluate_node(graph, scratch, step->id);
    }
  }
  *nodes_run += (double)run;
  return scratch->cells[target];
}

Evaluation graph_evaluate(const Graph *graph, NodeId node, const Overrides *overrides) {
  Scratch *scratch = scratch_make(graph, node, overrides);
  Cell cell = scratch_run(graph, scratch, node);
  plan_unpin(scratch, overrides);
  return (Evaluation){.state = (ValueState)cell.state,
                      .si = cell.si,
                      .culprit = cell.culprit,
                      .not_finite = cell.not_finite};
}
