#include "plan/sort.h"

#include <string.h>

/* Circles through dropped steps bridged before somebody is taken to be playing. */
#define MOST_BRIDGED 100

/* Edges of each node side by side: start[node] to start[node + 1] in list. */
typedef struct Fan {
  int *start, *list;
} Fan;

typedef struct Sorter {
  Arena *arena;
  const SortGraph *graph;
  int n;
  Fan out;
  int *waits; /* edges still to come, by node */
  bool *placed;
  int *heap, heap_n;   /* steps that may come next, least on top */
  int *ready, ready_n; /* dropped steps and joins that may come next */
} Sorter;

static Fan fan_of(Sorter *sorter) {
  const SortGraph *graph = sorter->graph;
  size_t n = (size_t)sorter->n;
  Fan fan = {ARENA_NEW_N(sorter->arena, int, n + 2),
             ARENA_NEW_N(sorter->arena, int, graph->edges.n + 1)};
  for (size_t i = 0; i < graph->edges.n; i++) fan.start[graph->edges.at[i].from + 2]++;
  for (size_t i = 2; i < n + 2; i++) fan.start[i] += fan.start[i - 1];
  for (size_t i = 0; i < graph->edges.n; i++) {
    fan.list[fan.start[graph->edges.at[i].from + 1]++] = (int)i;
  }
  return fan;
}

static void swap(int *a, int *b) {
  int keep = *a;
  *a = *b;
  *b = keep;
}

static void heap_push(Sorter *sorter, int node) {
  int i = sorter->heap_n++;
  sorter->heap[i] = node;
  for (; i > 0 && sorter->heap[i] < sorter->heap[(i - 1) / 2]; i = (i - 1) / 2) {
    swap(&sorter->heap[i], &sorter->heap[(i - 1) / 2]);
  }
}

static int heap_pop(Sorter *sorter) {
  int top = sorter->heap[0];
  sorter->heap[0] = sorter->heap[--sorter->heap_n];
  for (int i = 0;;) {
    int least = i;
    for (int child = 2 * i + 1; child <= 2 * i + 2; child++) {
      if (child < sorter->heap_n && sorter->heap[child] < sorter->heap[least]) least = child;
    }
    if (least == i) return top;
    swap(&sorter->heap[i], &sorter->heap[least]);
    i = least;
  }
}

static void may_come(Sorter *sorter, int node) {
  if (sorter->graph->nodes.at[node] == SORT_STEP) {
    heap_push(sorter, node);
  } else {
    sorter->ready[sorter->ready_n++] = node;
  }
}

static void came(Sorter *sorter, int node, Ints *order) {
  vec_push(sorter->arena, order, node);
  sorter->placed[node] = true;
  for (int i = sorter->out.start[node]; i < sorter->out.start[node + 1]; i++) {
    int to = sorter->graph->edges.at[sorter->out.list[i]].to;
    if (--sorter->waits[to] == 0) may_come(sorter, to);
  }
}

/* Kahn's algorithm. What only passes waiting on goes first, so that it never
 * holds back the step behind it. */
static void place_all(Sorter *sorter, Ints *order) {
  while (sorter->heap_n > 0 || sorter->ready_n > 0) {
    int node = sorter->ready_n > 0 ? sorter->ready[--sorter->ready_n] : heap_pop(sorter);
    came(sorter, node, order);
  }
}

/* Nodes left over that lie on no circle themselves: those behind one. */
static void strip_ends(Sorter *sorter, bool *off) {
  const SortGraph *graph = sorter->graph;
  size_t n = (size_t)sorter->n;
  int *leaving = ARENA_NEW_N(sorter->arena, int, n + 1);
  int *stack = ARENA_NEW_N(sorter->arena, int, n + 1);
  Fan in = {ARENA_NEW_N(sorter->arena, int, n + 2),
            ARENA_NEW_N(sorter->arena, int, graph->edges.n + 1)};
  for (size_t i = 0; i < graph->edges.n; i++) {
    const SortEdge *edge = &graph->edges.at[i];
    in.start[edge->to + 2]++;
    if (!off[edge->from] && !off[edge->to]) leaving[edge->from]++;
  }
  for (size_t i = 2; i < n + 2; i++) in.start[i] += in.start[i - 1];
  for (size_t i = 0; i < graph->edges.n; i++)
    in.list[in.start[graph->edges.at[i].to + 1]++] = (int)i;
  int depth = 0;
  for (int i = 0; i < sorter->n; i++) {
    if (!off[i] && leaving[i] == 0) stack[depth++] = i;
  }
  while (depth > 0) {
    int node = stack[--depth];
    off[node] = true;
    for (int i = in.start[node]; i < in.start[node + 1]; i++) {
      const SortEdge *edge = &graph->edges.at[in.list[i]];
      if (!off[edge->from] && --leaving[edge->from] == 0) stack[depth++] = edge->from;
    }
  }
}

/* What a search for circles keeps between its starts. */
typedef struct Search {
  const bool *off;
  int *steps; /* fewest steps from the start to the node; -1: not reached */
  int *by;    /* the edge it was reached by */
  int *queue; /* a ring with room at both ends */
  int *touched, touched_n;
} Search;

static int weight(const Sorter *sorter, int node) {
  return sorter->graph->nodes.at[node] == SORT_STEP;
}

/* Fewest steps on a way from start back to it, fewer than most; the last edge of
 * it, or -1. Breadth first, with nodes that are no steps costing nothing. */
static int way_back(const Sorter *sorter, Search *search, int start, int most, int *found) {
  int room = 2 * (int)sorter->graph->edges.n + 4, head = room / 2, tail = head, last = -1;
  search->touched_n = 0;
  search->queue[tail++] = start;
  search->steps[start] = 0;
  search->touched[search->touched_n++] = start;
  while (head < tail && last < 0) {
    int node = search->queue[head++];
    for (int i = sorter->out.start[node]; i < sorter->out.start[node + 1] && last < 0; i++) {
      int edge = sorter->out.list[i], to = sorter->graph->edges.at[edge].to;
      if (search->off[to]) continue;
      int steps = search->steps[node] + weight(sorter, to);
      if (steps >= most) continue;
      if (to == start) {
        *found = steps;
        last = edge;
      } else if (search->steps[to] < 0) {
        search->steps[to] = steps;
        search->by[to] = edge;
        search->touched[search->touched_n++] = to;
        if (weight(sorter, to)) {
          search->queue[tail++] = to;
        } else {
          search->queue[--head] = to;
        }
      }
    }
  }
  return last;
}

static void walk_back(const Sorter *sorter, const Search *search, int start, int last,
                      Ints *circle) {
  circle->n = 0;
  for (int edge = last;; edge = search->by[sorter->graph->edges.at[edge].from]) {
    vec_push(sorter->arena, circle, edge);
    if (sorter->graph->edges.at[edge].from == start) break;
  }
  for (size_t i = 0; i < circle->n / 2; i++) swap(&circle->at[i], &circle->at[circle->n - 1 - i]);
}

static void find_circle(Sorter *sorter, Ints *circle) {
  size_t n = (size_t)sorter->n;
  bool *off = ARENA_NEW_N(sorter->arena, bool, n + 1);
  memcpy(off, sorter->placed, n * sizeof *off);
  strip_ends(sorter, off);
  Search search = {off,
                   ARENA_NEW_N(sorter->arena, int, n + 1),
                   ARENA_NEW_N(sorter->arena, int, n + 1),
                   ARENA_NEW_N(sorter->arena, int, 2 * sorter->graph->edges.n + 4),
                   ARENA_NEW_N(sorter->arena, int, n + 1),
                   0};
  for (size_t i = 0; i < n; i++) search.steps[i] = -1;
  int most = sorter->n + 1;
  for (int start = 0; start < sorter->n && most > 1; start++) {
    if (off[start]) continue;
    int found = 0, last = way_back(sorter, &search, start, most, &found);
    if (last >= 0) {
      most = found;
      walk_back(sorter, &search, start, last, circle);
    }
    for (int i = 0; i < search.touched_n; i++) search.steps[search.touched[i]] = -1;
  }
}

/* A circle through dropped steps counts only when it holds two steps against each other. */
static bool is_real(const SortGraph *graph, const Ints *circle) {
  int steps = 0, dropped = 0;
  for (size_t i = 0; i < circle->n; i++) {
    const SortEdge *edge = &graph->edges.at[circle->at[i]];
    steps += graph->nodes.at[edge->to] == SORT_STEP;
    dropped += graph->nodes.at[edge->to] == SORT_DROPPED || edge->bridged;
  }
  return steps >= 2 || (steps == 1 && dropped == 0);
}

static bool is_plain(const SortEdge *edge) {
  return edge->kind == REASON_WRITTEN || edge->kind == REASON_BLOCK;
}

/* The graph without a node that only passes waiting on: all before it now stand
 * directly before all behind it, but no step before itself. */
static void bridge(Arena *arena, SortGraph *graph, int node) {
  SortEdges old = graph->edges, in = {0}, out = {0}, kept = {0};
  for (size_t i = 0; i < old.n; i++) {
    SortEdge edge = old.at[i];
    if (edge.to == node && edge.from != node) vec_push(arena, &in, edge);
    if (edge.from == node && edge.to != node) vec_push(arena, &out, edge);
    if (edge.from != node && edge.to != node) vec_push(arena, &kept, edge);
  }
  for (size_t i = 0; i < in.n; i++) {
    for (size_t o = 0; o < out.n; o++) {
      if (in.at[i].from == out.at[o].to) continue;
      SortEdge edge = is_plain(&in.at[i]) ? out.at[o] : in.at[i];
      edge.from = in.at[i].from;
      edge.to = out.at[o].to;
      edge.bridged = true;
      vec_push(arena, &kept, edge);
    }
  }
  graph->edges = kept;
}

static bool sort_once(Arena *arena, const SortGraph *graph, Ints *order, Ints *circle) {
  size_t n = graph->nodes.n;
  Sorter sorter = {.arena = arena, .graph = graph, .n = (int)n};
  sorter.waits = ARENA_NEW_N(arena, int, n + 1);
  sorter.placed = ARENA_NEW_N(arena, bool, n + 1);
  sorter.heap = ARENA_NEW_N(arena, int, n + 1);
  sorter.ready = ARENA_NEW_N(arena, int, n + 1);
  sorter.out = fan_of(&sorter);
  order->n = 0;
  circle->n = 0;
  for (size_t i = 0; i < graph->edges.n; i++) sorter.waits[graph->edges.at[i].to]++;
  for (int i = 0; i < sorter.n; i++) {
    if (sorter.waits[i] == 0) may_come(&sorter, i);
  }
  place_all(&sorter, order);
  if (order->n == n) return true;
  find_circle(&sorter, circle);
  return false;
}

bool sort_order(Arena *arena, const SortGraph *graph, Ints *order, SortEdges *circle) {
  SortGraph now = *graph;
  Ints found = {0};
  for (int round = 0; round < MOST_BRIDGED; round++) {
    if (sort_once(arena, &now, order, &found)) return true;
    if (is_real(&now, &found)) break;
    int node = -1;
    for (size_t i = 0; i < found.n; i++) {
      int to = now.edges.at[found.at[i]].to;
      if (now.nodes.at[to] != SORT_STEP && node < 0) node = to;
    }
    bridge(arena, &now, node);
  }
  for (size_t i = 0; i < found.n; i++) vec_push(arena, circle, now.edges.at[found.at[i]]);
  return false;
}
