#include "value/graph_node.h"

#include <math.h>
#include <string.h>

static NodeId node_add(Graph *graph, GraphNode node) {
  vec_push(graph->arena, &graph->nodes, node);
  return (NodeId)(graph->nodes.n - 1);
}

Graph *graph_new(Arena *arena) {
  Graph *graph = ARENA_NEW(arena, Graph);
  graph->arena = arena;
  graph->scratch = ARENA_NEW(arena, Scratch);
  graph->memo = range_memo_new(arena);
  (void)node_add(graph, (GraphNode){.op = OP_POISON});
  return graph;
}

NodeId graph_leaf(Graph *graph, const char *name, Place at, Dim dim, double nominal, double low,
                  double high) {
  return node_add(graph, (GraphNode){.op = OP_LEAF,
                                     .dim = dim,
                                     .at = at,
                                     .name = name,
                                     .si = nominal,
                                     .low = low,
                                     .high = high});
}

NodeId graph_constant(Graph *graph, Dim dim, double si) {
  return node_add(graph, (GraphNode){.op = OP_CONSTANT, .dim = dim, .si = si});
}

NodeId graph_truth(Graph *graph, bool truth) {
  return graph_constant(graph, DIM_TRUTH, truth ? 1 : 0);
}

NodeId graph_value(Graph *graph, const char *name, Place at, Dim dim) {
  return node_add(graph, (GraphNode){.op = OP_VALUE, .dim = dim, .at = at, .name = name});
}

void graph_define(Graph *graph, NodeId value, NodeId of) {
  if (value == 0) return;
  GraphNode *node = &graph->nodes.at[value];
  if (node->has_reading) return; /* a reading has cut the definition */
  node->defined = true;
  node->args = 1;
  node->arg = ARENA_NEW(graph->arena, NodeId);
  node->arg[0] = of;
}

void graph_read(Graph *graph, NodeId value, double nominal, double low, double high) {
  if (value == 0) return;
  GraphNode *node = &graph->nodes.at[value];
  node->has_reading = true;
  node->si = nominal;
  node->low = low;
  node->high = high;
  node->args = 0;
}

void graph_read_positions(Graph *graph, NodeId value, double least, double most) {
  if (value == 0) return;
  GraphNode *node = &graph->nodes.at[value];
  node->below = least - node->si;
  node->above = most - node->si;
}

Dim graph_dim(const Graph *graph, NodeId node) {
  return graph->nodes.at[node].dim;
}

const char *graph_name(const Graph *graph, NodeId node) {
  const char *name = graph->nodes.at[node].name;
  return name ? name : "";
}

Place graph_place(const Graph *graph, NodeId node) {
  return graph->nodes.at[node].at;
}

bool graph_is_constant(const Graph *graph, NodeId node, double *si) {
  *si = graph->nodes.at[node].si;
  return graph->nodes.at[node].op == OP_CONSTANT;
}

bool graph_is_size(const Graph *graph, NodeId node) {
  const GraphNode *at = &graph->nodes.at[node];
  while (at->op == OP_VALUE && at->args == 1) at = &graph->nodes.at[at->arg[0]];
  return at->function && strcmp(at->function->name, "nearest") == 0;
}

static Origin origin_of(const Graph *graph, const NodeId *args, size_t n) {
  for (size_t i = 0; i < n; i++) {
    Origin origin = (Origin)graph->nodes.at[args[i]].dim.origin;
    if (origin != ORIGIN_NONE) return origin;
  }
  return ORIGIN_NONE;
}

NodeId graph_add_operation(Graph *graph, GraphOp op, Dim dim, Place at, const NodeId *args,
                           size_t n, const Function *function) {
  bool constant = true;
  for (size_t i = 0; i < n; i++) {
    if (args[i] == 0) return 0;
    constant = constant && graph->nodes.at[args[i]].op == OP_CONSTANT;
  }
  GraphNode node = {.op = op, .dim = dim, .at = at, .args = (uint32_t)n, .function = function};
  node.arg = arena_copy(graph->arena, args, n * sizeof *args);
  node.origin = origin_of(graph, args, n);
  if (n >= graph->scratch->most_args) {
    graph->scratch->most_args = 2 * n + 8;
    graph->scratch->args = ARENA_NEW_N(graph->arena, double, graph->scratch->most_args);
  }
  NodeId id = node_add(graph, node);
  if (!constant) return id;
  Evaluation result = graph_evaluate(graph, id, NULL);
  if (result.state == VALUE_KNOWN) { /* else it keeps its place, to be named */
    graph->nodes.at[id].op = OP_CONSTANT;
    graph->nodes.at[id].si = result.si;
    graph->nodes.at[id].args = 0;
  }
  return id;
}

static bool is_named(const GraphNode *node) {
  return node->op == OP_VALUE || node->op == OP_LEAF;
}

/* Answers whether it was met before, and notes that it was. */
static bool meet(Scratch *scratch, NodeId id) {
  if (scratch->mark[id]) return true;
  scratch->mark[id] = 1;
  scratch->order[scratch->order_n++] = id;
  return false;
}

/* Depth first over what lies under the definition, not through other values. */
void graph_inputs(const Graph *graph, Arena *arena, NodeId value, NodeIds *out) {
  Scratch *scratch = plan_empty(graph);
  NodeIds stack = {0};
  vec_push(arena, &stack, value);
  while (stack.n > 0) {
    NodeId id = stack.at[--stack.n];
    const GraphNode *node = &graph->nodes.at[id];
    if (id != value) {
      bool before = meet(scratch, id);
      if (is_named(node) && !before) vec_push(arena, out, id);
      if (is_named(node) || before) continue;
    }
    /* Pushed last to first, so the first mentioned comes off first. A value
     * that stands in its own definition is its own input. */
    for (uint32_t i = node->args; i > 0; i--) {
      NodeId arg = node->arg[i - 1];
      if (arg != value)
        vec_push(arena, &stack, arg);
      else if (!meet(scratch, value))
        vec_push(arena, out, value);
    }
  }
  for (size_t i = 0; i < scratch->order_n; i++) scratch->mark[scratch->order[i]] = 0;
}

bool graph_depends(const Graph *graph, NodeId target, NodeId node) {
  if (target == node) return true;
  Scratch *scratch = scratch_make(graph, target, NULL);
  for (size_t i = 0; i < scratch->order_n; i++) {
    if (scratch->order[i] == node) return true;
  }
  return false;
}

static double evaluate_with(const Graph *graph, NodeId target, NodeId node, double si) {
  Override pin = {node, si};
  Overrides pins = {&pin, 1, 1};
  Evaluation result = graph_evaluate(graph, target, &pins);
  return result.state == VALUE_KNOWN ? result.si : NAN;
}

double graph_slope(const Graph *graph, NodeId target, NodeId node) {
  Evaluation at = graph_evaluate(graph, node, NULL);
  if (at.state != VALUE_KNOWN) return NAN;
  double step = fabs(at.si) * 1e-5;
  const GraphNode *of = &graph->nodes.at[node];
  if (step == 0 && of->high > of->low) step = (of->high - of->low) / 2;
  if (step == 0) step = 1e-7; /* a tenth of a micrometre; SI sizes here are of that order */
  double above = evaluate_with(graph, target, node, at.si + step);
  double below = evaluate_with(graph, target, node, at.si - step);
  return (above - below) / (2 * step);
}
