/* The least order of a graph of steps, or a circle in it. Knows nothing of engines. */
#ifndef SHEAF_PLAN_SORT_H
#define SHEAF_PLAN_SORT_H

#include "model/plan.h"

typedef VEC(int) Ints;

/* A node's number is its key: of the steps that may come next the least does.
 * DROPPED steps (their condition does not hold) and JOINs (all of a block, every
 * member of a set) only pass waiting on and take no turn of their own. */
typedef enum SortNode { SORT_STEP, SORT_DROPPED, SORT_JOIN } SortNode;
typedef struct SortEdge {
  int from, to; /* to waits for from */
  ReasonKind kind;
  const char *why; /* or NULL */
  Place at;
  bool bridged; /* set by sort_order: stands for two through a node it took out */
} SortEdge;
typedef VEC(SortEdge) SortEdges;
typedef struct SortGraph {
  VEC(SortNode) nodes;
  SortEdges edges;
} SortGraph;

/* All nodes in order: of the steps the least that keeps all waiting. false: a circle
 * with at least one step in it, each edge's `to` being the next one's `from`; of all
 * circles one with the fewest steps. A circle of one step through dropped ones is no
 * circle in the work: it is bridged. */
bool sort_order(Arena *arena, const SortGraph *graph, Ints *order, SortEdges *circle);

#endif
