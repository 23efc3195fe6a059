/* The graph: dimensions, values, what waits and what is poison. */
#include "unit/values.h"

static Values engine(void) {
  Values values = values_new();
  (void)values_leaf(&values, "bore", "83.40 mm");
  (void)values_leaf(&values, "throw", "39.80 +-0.02 mm");
  (void)values_leaf(&values, "rod", "151.00 +-0.03 mm");
  (void)values_leaf(&values, "hot", "110 degC");
  (void)values_leaf(&values, "cold", "20 degC");
  (void)values_leaf(&values, "opens", "31 deg BTDC");
  (void)values_leaf(&values, "closes", "65 deg ABDC");
  (void)values_leaf(&values, "exhaust_opens", "67 deg BBDC");
  (void)values_leaf(&values, "exhaust_closes", "29 deg ATDC");
  (void)values_leaf(&values, "steel", "11.7 um/m/K");
  (void)values_leaf(&values, "load", "300 N");
  (void)values_leaf(&values, "k", "0.15");
  return values;
}

/* Worked by hand, or from the named source. */
static void formulas_compute(void **state) {
  (void)state;
  static const struct {
    const char *text, *unit;
    double number, relative;
  } rows[] = {
      {"0.0045 * bore", "mm", 0.3753, 1e-12},
      {"bore + 1/10 * bore - 0.40 mm", "mm", 91.34, 1e-12},
      {"2^3^2", "", 512, 1e-12},
      {"-2^2", "", -4, 1e-12},
      {"sqrt(bore * bore)", "mm", 83.4, 1e-12},
      {"(bore^2)^0.5", "mm", 83.4, 1e-12},
      {"bore^-2 * bore^3", "mm", 83.4, 1e-12},
      {"hot - cold", "K", 90, 1e-12},
      {"cold + 90 K", "degC", 110, 1e-12},
      {"68 degF - cold", "K", 0, 1e-12},
      {"max(hot, 200 degF)", "degC", 110, 1e-12},
      {"20 deg ATDC - opens", "deg", 51, 1e-12},
      {"opens + 51 deg", "deg ATDC", 20, 1e-12},
      {"10 deg + opens", "deg BTDC", 21, 1e-12},
      {"round_to(0.0045 * bore, 0.01 mm)", "mm", 0.38, 1e-12},
      {"round_up_to(0.371 mm, 0.01 mm)", "mm", 0.38, 1e-12},
      {"round_down_to(0.379 mm, 0.01 mm)", "mm", 0.37, 1e-12},
      {"nearest(1.42 mm, 0.8 mm, 1.6 mm, 0.1 mm)", "mm", 1.4, 1e-9},
      {"min(3 mm, 2 mm, 4 mm)", "mm", 2, 1e-12},
      {"abs(2 mm - 5 mm)", "mm", 3, 1e-12},
      {"if(bore > 83 mm, 1, 2)", "", 1, 0},
      {"if(k is steel and not (k is not steel), 1, 2)", "", 1, 0},
      {"if(0.1 mm + 0.2 mm == 0.3 mm, 1, 2)", "", 1, 0},
      {"if(0.1 mm + 0.2 mm - 0.3 mm <= 0 mm, 1, 2)", "", 1, 0},
      {"pi()", "", 3.14159265358979, 1e-14},
      {"sin(30 deg)", "", 0.5, 1e-12},
      {"expansion(bore, steel, hot - cold)", "mm", 83.4 * 11.7e-6 * 90, 1e-12},
      {"2 * swept_volume(bore, 2 * throw)", "cm3", 869.7, 1e-4},
      {"mean_piston_speed(2 * throw, 6800 rpm)", "m/s", 18.04, 1e-3},
      {"piston_acceleration(throw, rod, 6800 rpm)", "m/s2", 25500, 1e-3},
      {"spring_load(load, 37 N/mm, 9.5 mm)", "N", 651.5, 1e-12},
      {"coil_bind_margin(38.5 mm, 9.5 mm, 26.4 mm)", "mm", 2.6, 1e-12},
      {"screw_travel(0.75 mm, 2 turn)", "mm", 1.5, 1e-12},
      {"flats(2 turn, 6)", "", 12, 1e-12},
      {"cam_duration(opens, closes)", "deg", 276, 1e-12},
      {"cam_duration(exhaust_opens, exhaust_closes)", "deg", 276, 1e-12},
      {"overlap(opens, exhaust_closes)", "deg", 60, 1e-12},
      {"lobe_centre_intake(opens, closes)", "deg ATDC", 107, 1e-12},
      {"lobe_centre_exhaust(exhaust_opens, exhaust_closes)", "deg BTDC", 109, 1e-12},
      {"torque_for(preload(46 N.m, k, 10 mm), k, 10 mm)", "N.m", 46, 1e-12},
      /* TM 1-1500-204-23-9: 300 lbf.in, wrench 10 in, adapter 4 in: 214. */
      {"wrench_setting(300 lbf.in, 10 in, 4 in, 0 deg)", "lbf.in", 214, 0.5 / 214},
      /* TM 9-8000 p. 2-36: intake opens 28 BTDC, exhaust closes 45 ATDC: overlap 73. */
      {"overlap(28 deg BTDC, 45 deg ATDC)", "deg", 73, 1e-12},
      /* 86 x 86 mm, rod 143 mm, ratio 11, closes 60 ABDC: 9.0737, computed apart. */
      {"effective_ratio(86 mm, 86 mm, 143 mm, clearance_for(swept_volume(86 mm, 86 mm), 11), "
       "60 deg ABDC)",
       "", 9.0737, 1e-5},
      /* Rajput, Engineering Thermodynamics, p. 616: ratio 8. */
      {"compression_ratio(swept_volume(0.25 m, 0.375 m), 0.00263 m3)", "", 8, 1e-3},
  };
  Values values = engine();
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    double number = values_number(&values, rows[i].text, rows[i].unit);
    if (values.run.findings->list.n > 0) {
      fail_msg("%s: %s", rows[i].text, values.run.findings->list.at[0]->text);
    }
    if (!(fabs(number - rows[i].number) <= rows[i].relative * fabs(rows[i].number) + 1e-9)) {
      fail_msg("%s is %.9g, not %.9g", rows[i].text, number, rows[i].number);
    }
  }
  values_free(&values);
}

static void wrong_dimensions_are_refused_at_their_place(void **state) {
  (void)state;
  static const struct {
    const char *text;
    int column;
    const char *part; /* of the message */
  } rows[] = {
      {"bore + load", 6, "a length and a force cannot be added"},
      {"bore - 3", 6, "a length and a plain number cannot be subtracted"},
      {"bore < load", 6, "cannot be compared"},
      {"hot + cold", 5, "cannot be added"},
      {"90 K - cold", 6, "cannot be subtracted"},
      {"opens - closes", 7, "cannot be subtracted"},
      {"opens + exhaust_closes", 7, "cannot be added"},
      {"2 * hot", 5, "cannot be scaled"},
      {"opens / 2", 1, "cannot be scaled"},
      {"-opens", 2, "cannot be scaled"},
      {"hot^2", 1, "cannot be scaled"},
      {"abs(opens)", 5, "not a position"},
      {"bore^k", 5, "cannot be raised"},
      {"bore^0.5", 5, "cannot be raised"},
      {"bore^(1/3)", 5, "cannot be raised"},
      {"2^bore", 3, "the exponent is a length"},
      {"sqrt(bore)", 6, "square root"},
      {"sin(3)", 5, "this is a plain number, an angle is wanted"},
      {"max(bore, load)", 11, "max: this is a force, a length is wanted"},
      {"swept_volume(bore, load)", 20, "a length is wanted"},
      {"cam_duration(opens, exhaust_closes)", 21, "the other dead centre"},
      {"cam_duration(20 deg, closes)", 14, "a crank position is wanted"},
      {"piston_drop(throw, rod, closes)", 25, "top dead centre"},
      {"if(bore, 1, 2)", 4, "a condition is wanted"},
      {"if(k > 1, bore, load)", 1, "outcomes"},
      {"not bore", 5, "a condition is wanted"},
      {"(bore > 3 mm) + 1", 7, "a size is wanted"},
      {"k > 1 and bore", 11, "a condition is wanted"},
  };
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    Values values = engine();
    assert_int_equal(values_compile(&values, rows[i].text), 0);
    if (values.run.findings->list.n != 1) fail_msg("%s: not one finding", rows[i].text);
    const Finding *finding = values.run.findings->list.at[0];
    if (finding->rule != RULE_WRONG_DIMENSION || finding->at.column != rows[i].column ||
        !strstr(finding->text, rows[i].part)) {
      fail_msg("%s: at %d: %s", rows[i].text, finding->at.column, finding->text);
    }
    values_free(&values);
  }
}

static void each_mistake_is_named_once(void **state) {
  (void)state;
  Values values = engine();
  assert_int_equal(values_compile(&values, "(bore + load) * nothing + sin(rod) - bore"), 0);
  assert_int_equal(values.run.findings->list.n, 3);
  values_free(&values);
}

static void sets(void **state) {
  (void)state;
  Values values = engine();
  vec_push(values.run.arena, &values.members, values_leaf(&values, "a", "2.0 mm"));
  vec_push(values.run.arena, &values.members, values_leaf(&values, "b", "2.6 mm"));
  vec_push(values.run.arena, &values.members, values_leaf(&values, "c", "2.3 mm"));
  assert_close(values_number(&values, "largest(valve, lash)", "mm"), 2.6, 1e-12, 0);
  assert_close(values_number(&values, "smallest(valve, lash)", "mm"), 2.0, 1e-12, 0);
  assert_close(values_number(&values, "sum(valve, lash)", "mm"), 6.9, 1e-12, 0);
  assert_close(values_number(&values, "mean(valve, lash)", "mm"), 2.3, 1e-12, 0);
  assert_close(values_number(&values, "spread(valve, lash)", "mm"), 0.6, 1e-12, 0);
  vec_push(values.run.arena, &values.members, values_leaf(&values, "d", "3 N"));
  assert_int_equal(values_compile(&values, "largest(valve, lash)"), 0);
  assert_only_finding(&values.run, RULE_WRONG_DIMENSION);
  values_free(&values);
}

static Evaluation look(Values *values, const char *text) {
  NodeId id = values_compile(values, text);
  assert_int_not_equal(id, 0);
  return graph_evaluate(values->graph, id, NULL);
}

static void unknown_and_poison(void **state) {
  (void)state;
  Values values = engine();
  NodeId waits = graph_value(values.graph, "deck", (Place){0}, DIM_LENGTH);
  NodeId later = graph_value(values.graph, "gap", (Place){0}, DIM_LENGTH);
  NodeId bad = graph_value(values.graph, "bad", (Place){0}, DIM_LENGTH);
  graph_define(values.graph, bad, 0);
  (void)values_keep(&values, "deck", waits);
  (void)values_keep(&values, "gap", later);
  (void)values_keep(&values, "bad", bad);
  Evaluation at = look(&values, "bore + gap + deck");
  assert_int_equal(at.state, VALUE_UNKNOWN);
  assert_int_equal(at.culprit, later);
  at = look(&values, "gap + bad");
  assert_int_equal(at.state, VALUE_POISON);
  assert_false(at.not_finite);
  at = look(&values, "if(bore > 80 mm, bore, gap)");
  assert_int_equal(at.state, VALUE_KNOWN);
  at = look(&values, "if(bore > 80 mm, bore, bad)");
  assert_int_equal(at.state, VALUE_KNOWN);
  at = look(&values, "if(gap > 80 mm, bore, bore)");
  assert_int_equal(at.state, VALUE_UNKNOWN);
  at = look(&values, "if(bore < 80 mm and gap > 1 mm, 1, 2)");
  assert_int_equal(at.state, VALUE_KNOWN);
  at = look(&values, "if(gap > 1 mm or bore > 80 mm, 1, 2)");
  assert_int_equal(at.state, VALUE_KNOWN);
  assert_close(at.si, 1, 0, 0);
  at = look(&values, "if(gap > 1 mm and bore > 80 mm, 1, 2)");
  assert_int_equal(at.state, VALUE_UNKNOWN);
  graph_read(values.graph, later, 0.5e-3, 0.49e-3, 0.51e-3);
  at = look(&values, "gap * 2");
  assert_close(at.si, 1e-3, 1e-12, 0);
  values_free(&values);
}

static void nothing_divides_by_zero(void **state) {
  (void)state;
  static const char *const texts[] = {"1 / (k - k)", "1 / 0",  "sqrt(0 - k)",
                                      "(0 - k)^0.5", "10^400", "round_to(bore, 0 mm)"};
  Values values = engine();
  for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
    NodeId id = values_compile(&values, texts[i]);
    Evaluation at = graph_evaluate(values.graph, id, NULL);
    assert_int_equal(at.state, VALUE_POISON);
    assert_true(at.not_finite);
    assert_int_equal(at.culprit, id);
    assert_int_equal(graph_place(values.graph, at.culprit).line, 1);
  }
  Evaluation at = look(&values, "if(k > 1 and 1 / (k - k) > 1, 1, 2)");
  assert_int_equal(at.state, VALUE_KNOWN);
  at = look(&values, "if(k > 1, 1 / (k - k), 2)");
  assert_int_equal(at.state, VALUE_KNOWN);
  at = look(&values, "3 * (1 / (k - k)) + 1");
  assert_int_equal(at.state, VALUE_POISON);
  assert_true(at.not_finite);
  values_free(&values);
}

static void readings_cut_their_inputs(void **state) {
  (void)state;
  Values values = engine();
  NodeId bore = *(NodeId *)map_find(values.ids, "bore");
  NodeId throw = *(NodeId *)map_find(values.ids, "throw");
  NodeId stroke = values_define(&values, "stroke", "2 * throw");
  NodeId swept = values_define(&values, "swept", "swept_volume(bore, stroke) + 0 * bore * bore^2");
  NodeIds inputs = {0};
  graph_inputs(values.graph, values.run.arena, swept, &inputs);
  assert_int_equal(inputs.n, 2);
  assert_int_equal(inputs.at[0], bore);
  assert_int_equal(inputs.at[1], stroke);
  assert_true(graph_depends(values.graph, swept, throw));
  assert_true(graph_depends(values.graph, swept, swept));
  assert_false(graph_depends(values.graph, stroke, bore));
  assert_close(graph_slope(values.graph, swept, stroke), 3.14159265358979 / 4 * 0.0834 * 0.0834,
               1e-6, 0);
  graph_read(values.graph, stroke, 79.5e-3, 79.49e-3, 79.51e-3);
  assert_false(graph_depends(values.graph, swept, throw));
  assert_close(graph_slope(values.graph, swept, throw), 0, 0, 1e-15);
  inputs.n = 0;
  graph_inputs(values.graph, values.run.arena, stroke, &inputs);
  assert_int_equal(inputs.n, 0);
  assert_string_equal(graph_name(values.graph, stroke), "stroke");
  values_free(&values);
}

static void overrides_pin(void **state) {
  (void)state;
  Values values = engine();
  NodeId rod = *(NodeId *)map_find(values.ids, "rod");
  NodeId gap = graph_value(values.graph, "gap", (Place){0}, DIM_LENGTH);
  (void)values_keep(&values, "gap", gap);
  NodeId sum = values_define(&values, "sum", "rod + 2 * gap");
  Override pins[] = {{gap, 1e-3}, {rod, 0.1}};
  Overrides both = {pins, 2, 2}, one = {pins, 1, 1};
  Evaluation at = graph_evaluate(values.graph, sum, &both);
  assert_close(at.si, 0.102, 1e-12, 0);
  at = graph_evaluate(values.graph, sum, &one);
  assert_close(at.si, 0.153, 1e-12, 0);
  at = graph_evaluate(values.graph, sum, NULL);
  assert_int_equal(at.state, VALUE_UNKNOWN);
  Range range = graph_range(values.graph, values.run.arena, sum, &both);
  assert_close(range.high - range.low, 0, 0, 1e-15);
  range = graph_range(values.graph, values.run.arena, sum, &one);
  assert_close(range.high - range.low, 0.06e-3, 1e-9, 0);
  range = graph_range(values.graph, values.run.arena, sum, NULL);
  assert_int_equal(range.state, VALUE_UNKNOWN);
  values_free(&values);
}

static void circles_end(void **state) {
  (void)state;
  Values values = engine();
  NodeId a = values_keep(&values, "a", graph_value(values.graph, "a", (Place){0}, DIM_LENGTH));
  NodeId b = values_keep(&values, "b", graph_value(values.graph, "b", (Place){0}, DIM_LENGTH));
  graph_define(values.graph, a, values_compile(&values, "b + bore"));
  graph_define(values.graph, b, values_compile(&values, "a + bore"));
  assert_true(graph_depends(values.graph, a, b));
  assert_int_equal(graph_evaluate(values.graph, a, NULL).state, VALUE_POISON);
  assert_int_equal(graph_range(values.graph, values.run.arena, b, NULL).state, VALUE_POISON);
  NodeId c = values_keep(&values, "c", graph_value(values.graph, "c", (Place){0}, DIM_LENGTH));
  graph_define(values.graph, c, values_compile(&values, "2 * c"));
  NodeIds inputs = {0};
  graph_inputs(values.graph, values.run.arena, c, &inputs);
  assert_int_equal(inputs.n, 1);
  assert_int_equal(inputs.at[0], c);
  values_free(&values);
}

static void a_long_chain_needs_no_deep_stack(void **state) {
  (void)state;
  Values values = engine();
  NodeId last = *(NodeId *)map_find(values.ids, "throw");
  for (int i = 0; i < 5000; i++) {
    (void)values_keep(&values, "last", last);
    NodeId next = graph_value(values.graph, "next", (Place){0}, DIM_LENGTH);
    graph_define(values.graph, next, values_compile(&values, "last + 1 um"));
    last = next;
  }
  assert_close(graph_evaluate(values.graph, last, NULL).si, 0.0398 + 5000e-6, 1e-9, 0);
  Range range = graph_range(values.graph, values.run.arena, last, NULL);
  assert_close(range.high - range.low, 0.04e-3, 1e-9, 0);
  assert_true(graph_depends(values.graph, last, *(NodeId *)map_find(values.ids, "throw")));
  values_free(&values);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(formulas_compute),
      cmocka_unit_test(wrong_dimensions_are_refused_at_their_place),
      cmocka_unit_test(each_mistake_is_named_once),
      cmocka_unit_test(sets),
      cmocka_unit_test(unknown_and_poison),
      cmocka_unit_test(nothing_divides_by_zero),
      cmocka_unit_test(readings_cut_their_inputs),
      cmocka_unit_test(overrides_pin),
      cmocka_unit_test(circles_end),
      cmocka_unit_test(a_long_chain_needs_no_deep_stack),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
