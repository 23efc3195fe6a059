/* The nodes of a graph, seen only by the files that build and evaluate it. */
#ifndef SHEAF_VALUE_GRAPH_NODE_H
#define SHEAF_VALUE_GRAPH_NODE_H

#include "value/function.h"

typedef enum GraphOp {
  OP_POISON,
  OP_LEAF,     /* si, low, high */
  OP_CONSTANT, /* si */
  OP_VALUE,    /* args[0] once defined; or a reading: si, low, high */
  OP_MINUS,
  OP_NOT,
  OP_ADD,
  OP_SUBTRACT,
  OP_MULTIPLY,
  OP_DIVIDE,
  OP_POWER,
  OP_LESS,
  OP_LESS_EQUAL,
  OP_GREATER,
  OP_GREATER_EQUAL,
  OP_EQUAL,
  OP_NOT_EQUAL,
  OP_AND,
  OP_OR,
  OP_IF,
  OP_CALL,
} GraphOp;

typedef struct GraphNode {
  GraphOp op;
  Dim dim;
  Place at;
  const char *name; /* LEAF, VALUE */
  double si, low, high;
  double below, above; /* VALUE read at several positions: least and most less the mean */
  bool has_reading;    /* VALUE */
  bool defined;        /* VALUE: graph_define was called */
  uint32_t args;
  NodeId *arg;
  const Function *function; /* CALL */
  Origin origin;            /* CALL: of the first position among the arguments */
} GraphNode;

struct Graph {
  Arena *arena;
  VEC(GraphNode) nodes;
  struct Scratch *scratch; /* reused by every evaluation */
  struct RangeMemo *memo;  /* see range_memo.h */
};

struct RangeMemo *range_memo_new(Arena *arena);

/* An operation; constant arguments are computed at once. 0 when an argument is 0. */
NodeId graph_add_operation(Graph *graph, GraphOp op, Dim dim, Place at, const NodeId *args,
                           size_t n, const Function *function);
bool graph_is_constant(const Graph *graph, NodeId node, double *si);

/* One result of evaluating the nodes of a plan. */
typedef struct Cell {
  double si;
  NodeId culprit;
  uint8_t state; /* ValueState */
  bool not_finite;
} Cell;

/* A node of a plan that is run over and over, with what that takes close together. */
typedef struct Step {
  NodeId id, a, b; /* arguments of an operation on two */
  uint8_t op;      /* GraphOp; a pinned node is an OP_LEAF */
} Step;

/* Room that is kept between evaluations, one entry a node of the graph. */
typedef struct Scratch {
  size_t room;
  Cell *cells;
  uint8_t *mark;     /* while walking: 0 new, 1 being visited, 2 done; 0 in between */
  uint64_t *depends; /* range: a bit for each leaf with a tolerance that it hangs on */
  bool *pinned;      /* by an override, or swept by the range; false in between */
  double *pin;
  NodeId *order;
  Step *steps;      /* of the order, after plan_settle */
  uint64_t *hang;   /* for each bit of depends, a bit for each step that has it */
  size_t hang_room; /* words a bit, of 64 steps each */
  size_t order_n;
  NodeId *stack;
  uint32_t *next;
  double *args; /* of one call, as many as the longest has */
  size_t most_args;
} Scratch;

/* Room for a walk of another kind: mark all 0, order empty. */
Scratch *plan_empty(const Graph *graph);
/* What has to be computed for target, inputs first, cut at the pinned nodes
 * and at readings. The caller pins first and unpins in the end. */
Scratch *scratch_make(const Graph *graph, NodeId target, const Overrides *overrides);
/* Computes all of the plan and answers the target's cell. */
Cell scratch_run(const Graph *graph, Scratch *scratch, NodeId target);
/* To be called before scratch_run_again, once the order and what depends on what is settled. */
void plan_settle(const Graph *graph, Scratch *scratch);
/* Computes again what hangs on the leaves of those bits, which are pinned; adds how many nodes
 * that were. */
Cell scratch_run_again(const Graph *graph, Scratch *scratch, NodeId target, uint64_t changed,
                       double *nodes_run);
void plan_unpin(Scratch *scratch, const Overrides *overrides);

#endif
