/* The least order, checked against one found by trying. */
#include "unit/test.h"

#include "plan/sort.h"

#include <stdlib.h>

/* A small generator of its own, so that every machine draws the same graphs. */
static unsigned draw(unsigned *seed, unsigned below) {
  *seed = *seed * 1664525u + 1013904223u;
  return (*seed >> 16) % below;
}

static void add_node(Run *run, SortGraph *graph, SortNode node) {
  vec_push(run->arena, &graph->nodes, node);
}

static void add_edge(Run *run, SortGraph *graph, int from, int to) {
  SortEdge edge = {.from = from, .to = to, .kind = REASON_AFTER};
  vec_push(run->arena, &graph->edges, edge);
}

/* Which of the steps must stand before which, through all that passes waiting on. */
static void close_over(const SortGraph *graph, bool before[16][16]) {
  int n = (int)graph->nodes.n;
  for (size_t i = 0; i < graph->edges.n; i++)
    before[graph->edges.at[i].from][graph->edges.at[i].to] = true;
  for (int k = 0; k < n; k++) {
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) before[i][j] = before[i][j] || (before[i][k] && before[k][j]);
    }
  }
}

/* Every order of the steps in turn, least first; the first that keeps all the
 * waiting is the least. count steps, listed in steps. */
static bool least_by_trying(bool before[16][16], const int *steps, int count, int *order,
                            int placed) {
  if (placed == count) return true;
  for (int i = 0; i < count; i++) {
    bool may = true;
    for (int p = 0; p < placed; p++) may = may && order[p] != steps[i];
    for (int other = 0; other < count && may; other++) {
      bool done = false;
      for (int p = 0; p < placed; p++) done = done || order[p] == steps[other];
      may = done || other == i || !before[steps[other]][steps[i]];
    }
    if (!may) continue;
    order[placed] = steps[i];
    if (least_by_trying(before, steps, count, order, placed + 1)) return true;
  }
  return false;
}

static int steps_of(const SortGraph *graph, const Ints *order, int *steps) {
  int count = 0;
  for (size_t i = 0; i < order->n; i++) {
    if (graph->nodes.at[order->at[i]] == SORT_STEP) steps[count++] = order->at[i];
  }
  return count;
}

/* Two steps that each must stand before the other. */
static bool any_two(const SortGraph *graph, bool before[16][16]) {
  for (int i = 0; i < (int)graph->nodes.n; i++) {
    for (int j = 0; j < i; j++) {
      bool steps = graph->nodes.at[i] == SORT_STEP && graph->nodes.at[j] == SORT_STEP;
      if (steps && before[i][j] && before[j][i]) return true;
    }
  }
  return false;
}

/* The circle is one: its edges join up, and two steps in it hold each other up. */
static void check_circle(const SortGraph *graph, const SortEdges *circle, bool before[16][16]) {
  assert_true(circle->n > 0);
  int steps = 0;
  for (size_t i = 0; i < circle->n; i++) {
    const SortEdge *edge = &circle->at[i];
    const SortEdge *next = &circle->at[(i + 1) % circle->n];
    assert_int_equal(edge->to, next->from);
    steps += graph->nodes.at[edge->to] == SORT_STEP;
  }
  assert_true(steps >= 1);
  if (steps >= 2) assert_true(any_two(graph, before));
}

static void random_orders_are_least(void **state) {
  (void)state;
  unsigned seed = 1;
  int sorted = 0, circles = 0, bridged = 0;
  for (int round = 0; round < 2000; round++) {
    Run run = run_new();
    SortGraph graph = {0};
    int n = 2 + (int)draw(&seed, 9);
    for (int i = 0; i < n; i++) {
      unsigned kind = draw(&seed, 6);
      add_node(&run, &graph, kind == 0 ? SORT_DROPPED : kind == 1 ? SORT_JOIN : SORT_STEP);
    }
    int edges = (int)draw(&seed, (unsigned)n + 3);
    for (int i = 0; i < edges; i++) {
      int from = (int)draw(&seed, (unsigned)n), to = (int)draw(&seed, (unsigned)n);
      if (from == to) continue;
      /* mostly forward in a shuffled sense, so that about half have no circle */
      bool turn = (from * 7) % n > (to * 7) % n && draw(&seed, 4) != 0;
      add_edge(&run, &graph, turn ? to : from, turn ? from : to);
    }
    bool before[16][16] = {{false}};
    close_over(&graph, before);
    bool self = false;
    for (int i = 0; i < n; i++) self = self || before[i][i];
    Ints order = {0};
    SortEdges circle = {0};
    bool ok = sort_order(run.arena, &graph, &order, &circle);
    if (!self) {
      int steps[16] = {0}, found[16] = {0}, expected[16] = {0}, count = 0;
      assert_true(ok);
      for (int i = 0; i < n; i++) {
        if (graph.nodes.at[i] == SORT_STEP) steps[count++] = i;
      }
      assert_true(least_by_trying(before, steps, count, expected, 0));
      assert_int_equal(steps_of(&graph, &order, found), count);
      for (int i = 0; i < count; i++) assert_int_equal(found[i], expected[i]);
      sorted++;
    } else if (!ok) {
      check_circle(&graph, &circle, before);
      circles++;
    } else {
      assert_false(any_two(&graph, before));
      bridged++;
    }
    run_free(&run);
  }
  assert_true(sorted >= 500);
  assert_true(circles >= 100);
  assert_true(bridged >= 10);
}

static void shortest_circle_is_shown(void **state) {
  (void)state;
  Run run = run_new();
  SortGraph graph = {0};
  for (int i = 0; i < 8; i++) add_node(&run, &graph, SORT_STEP);
  for (int i = 0; i < 5; i++) add_edge(&run, &graph, i, (i + 1) % 5);
  add_edge(&run, &graph, 4, 5);
  add_edge(&run, &graph, 5, 6);
  add_edge(&run, &graph, 6, 7);
  add_edge(&run, &graph, 7, 5);
  Ints order = {0};
  SortEdges circle = {0};
  assert_false(sort_order(run.arena, &graph, &order, &circle));
  assert_int_equal(circle.n, 3);
  run_free(&run);
}

static void dropped_steps_are_bridged(void **state) {
  (void)state;
  Run run = run_new();
  SortGraph graph = {0};
  /* step 0 waits for a dropped step, which waits for step 2; step 1 waits for nobody */
  add_node(&run, &graph, SORT_STEP);
  add_node(&run, &graph, SORT_STEP);
  add_node(&run, &graph, SORT_STEP);
  add_node(&run, &graph, SORT_DROPPED);
  add_edge(&run, &graph, 2, 3);
  add_edge(&run, &graph, 3, 0);
  Ints order = {0};
  SortEdges circle = {0};
  assert_true(sort_order(run.arena, &graph, &order, &circle));
  int steps[16], count = steps_of(&graph, &order, steps);
  assert_int_equal(count, 3);
  assert_int_equal(steps[0], 1);
  assert_int_equal(steps[1], 2);
  assert_int_equal(steps[2], 0);
  run_free(&run);
}

/* A dropped step written after one it should stand before harms nobody. */
static void circle_through_dropped_is_cut(void **state) {
  (void)state;
  Run run = run_new();
  SortGraph graph = {0};
  add_node(&run, &graph, SORT_STEP);
  add_node(&run, &graph, SORT_DROPPED);
  add_node(&run, &graph, SORT_STEP);
  add_edge(&run, &graph, 0, 1);
  add_edge(&run, &graph, 1, 0);
  add_edge(&run, &graph, 1, 2);
  Ints order = {0};
  SortEdges circle = {0};
  assert_true(sort_order(run.arena, &graph, &order, &circle));
  assert_int_equal(order.n, 3);
  run_free(&run);
}

static void step_waiting_for_itself(void **state) {
  (void)state;
  Run run = run_new();
  SortGraph graph = {0};
  add_node(&run, &graph, SORT_STEP);
  add_edge(&run, &graph, 0, 0);
  Ints order = {0};
  SortEdges circle = {0};
  assert_false(sort_order(run.arena, &graph, &order, &circle));
  assert_int_equal(circle.n, 1);
  run_free(&run);
}

static void five_thousand_steps(void **state) {
  (void)state;
  Run run = run_new();
  SortGraph graph = {0};
  for (int i = 0; i < 5000; i++) add_node(&run, &graph, SORT_STEP);
  for (int i = 0; i < 4999; i++) add_edge(&run, &graph, 4999 - i, 4998 - i);
  Ints order = {0};
  SortEdges circle = {0};
  assert_true(sort_order(run.arena, &graph, &order, &circle));
  for (int i = 0; i < 5000; i++) assert_int_equal(order.at[i], 4999 - i);
  add_edge(&run, &graph, 0, 4999);
  order.n = 0;
  assert_false(sort_order(run.arena, &graph, &order, &circle));
  assert_int_equal(circle.n, 5000);
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(random_orders_are_least),   cmocka_unit_test(shortest_circle_is_shown),
      cmocka_unit_test(dropped_steps_are_bridged), cmocka_unit_test(circle_through_dropped_is_cut),
      cmocka_unit_test(step_waiting_for_itself),   cmocka_unit_test(five_thousand_steps),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
