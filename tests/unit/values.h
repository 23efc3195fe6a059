/* A few named leaves and the formulas over them, for tests of graphs. */
#ifndef SHEAF_TESTS_UNIT_VALUES_H
#define SHEAF_TESTS_UNIT_VALUES_H

#include "unit/test.h"

#include "base/map.h"
#include "value/graph.h"

typedef struct Values {
  Run run;
  Graph *graph;
  Map *ids;        /* name -> NodeId */
  NodeIds leaves;  /* those with a tolerance */
  NodeIds members; /* what every set holds */
} Values;

static inline Values values_new(void) {
  Values values = {.run = run_new()};
  values.graph = graph_new(values.run.arena);
  values.ids = map_new(values.run.arena);
  return values;
}

static inline void values_free(Values *values) {
  run_free(&values->run);
}

static inline NodeId values_keep(Values *values, const char *name, NodeId id) {
  NodeId *kept = ARENA_NEW(values->run.arena, NodeId);
  *kept = id;
  map_put(values->ids, name, kept);
  return id;
}

static inline NodeId values_leaf(Values *values, const char *name, const char *literal) {
  Literal read = literal_parse(&values->run, (Place){0}, literal);
  assert_int_not_equal(read.shape, LITERAL_NONE);
  NodeId id = graph_leaf(values->graph, name, (Place){0}, read.unit->dim, read.nominal, read.low,
                         read.high);
  if (read.low < read.high) vec_push(values->run.arena, &values->leaves, id);
  return values_keep(values, name, id);
}

static inline NodeId values_name(void *context, const Formula *name) {
  Values *values = context;
  NodeId *id = map_find(values->ids, name->name);
  if (id) return *id;
  finding_add(&values->run, RULE_UNKNOWN_NAME, name->at, "no value '%s'", name->name);
  return 0;
}

/* Everything is made of steel. */
static inline NodeId values_is(void *context, const Formula *is) {
  Values *values = context;
  bool steel = strcmp(is->words.at[0], "steel") == 0;
  return graph_truth(values->graph, steel != is->negated);
}

static inline bool values_over(void *context, const Formula *over, NodeIds *members) {
  Values *values = context;
  (void)over;
  for (size_t i = 0; i < values->members.n; i++) {
    vec_push(values->run.arena, members, values->members.at[i]);
  }
  return true;
}

static inline NodeId values_compile(Values *values, const char *text) {
  Binder binder = {values, values_name, values_is, values_over};
  const Source *source = source_new(values->run.arena, "formula", text, strlen(text));
  Formula *formula = formula_parse(&values->run, place_at(source, 1, 1, 1), text);
  return graph_compile(values->graph, &values->run, formula, &binder);
}

/* A named value over a formula. */
static inline NodeId values_define(Values *values, const char *name, const char *text) {
  NodeId of = values_compile(values, text);
  assert_int_not_equal(of, 0);
  NodeId id = graph_value(values->graph, name, (Place){0}, graph_dim(values->graph, of));
  graph_define(values->graph, id, of);
  return values_keep(values, name, id);
}

/* In that unit. */
static inline double values_number(Values *values, const char *text, const char *unit) {
  NodeId id = values_compile(values, text);
  Evaluation at = graph_evaluate(values->graph, id, NULL);
  if (at.state != VALUE_KNOWN) return NAN;
  const Unit *in = *unit ? unit_find(unit) : unit_of_number();
  assert_true(dim_same(in->dim, graph_dim(values->graph, id)));
  return unit_from_si(in, at.si);
}

#endif
