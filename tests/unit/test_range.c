/* Ranges: worst found and root-sum-square, against enumeration and sampling. */
#include "unit/values.h"

#include <stdio.h>

/* Our own generator, so that every run draws the same (splitmix64 steps). */
static double draw(uint64_t *state) {
  uint64_t z = (*state += 0x9E3779B97F4A7C15u);
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
  return (double)((z ^ (z >> 31)) >> 11) / 9007199254740992.0;
}

static Values stack(void) {
  Values values = values_new();
  (void)values_leaf(&values, "face", "96.20 +-0.03 mm");
  (void)values_leaf(&values, "base_gasket", "0.40 +-0.02 mm");
  (void)values_leaf(&values, "barrel", "127.20 +-0.03 mm");
  (void)values_leaf(&values, "height", "32.60 +-0.03 mm");
  (void)values_leaf(&values, "throw", "39.80 +-0.02 mm");
  (void)values_leaf(&values, "rod", "151.00 +-0.03 mm");
  (void)values_leaf(&values, "bore", "83.40 mm");
  (void)values_leaf(&values, "gasket_bore", "84.60 mm");
  (void)values_leaf(&values, "gasket", "0.60 +-0.03 mm");
  (void)values_leaf(&values, "chamber", "50.6 +-0.4 cm3");
  (void)values_leaf(&values, "crown", "4.2 +-0.2 cm3");
  (void)values_define(&values, "deck", "face + base_gasket + barrel - height - throw - rod");
  (void)values_define(&values, "swept", "swept_volume(bore, 2 * throw)");
  (void)values_define(&values, "clearance",
                      "clearance_volume(chamber, gasket_bore, gasket, bore, deck, crown)");
  (void)values_define(&values, "ratio", "compression_ratio(swept, clearance)");
  (void)values_define(&values, "effective",
                      "effective_ratio(bore, 2 * throw, rod, clearance, 65 deg ABDC)");
  (void)values_define(&values, "squish", "deck + gasket");
  (void)values_leaf(&values, "stroke", "79.60 mm");
  (void)values_define(&values, "card_ratio",
                      "compression_ratio(swept_volume(bore, stroke), clearance)");
  return values;
}

static Range range_of(Values *values, const char *text) {
  NodeId id = values_compile(values, text);
  assert_int_not_equal(id, 0);
  return graph_range(values->graph, values->run.arena, id, NULL);
}

/* Worked by hand: deck 96.20 + 0.40 + 127.20 - 32.60 - 39.80 - 151.00; worst the
 * sum of the six tolerances, root-sum-square sqrt(4 x 0.03^2 + 2 x 0.02^2). The
 * ratios were computed apart, to the digits given. */
static void stack_of_a_twin(void **state) {
  (void)state;
  Values values = stack();
  Range deck = range_of(&values, "deck");
  assert_close(deck.nominal, 0.40e-3, 1e-9, 0);
  assert_close(deck.low, 0.24e-3, 1e-9, 0);
  assert_close(deck.high, 0.56e-3, 1e-9, 0);
  assert_close(deck.rss, sqrt(4 * 0.03 * 0.03 + 2 * 0.02 * 0.02) * 1e-3, 1e-9, 0);
  assert_close(deck.rss, 0.066e-3, 0, 0.0005e-3);
  assert_true(deck.monotone);
  assert_int_equal(deck.by_leaf.n, 6);
  assert_close(deck.by_leaf.at[0].half_width, 0.03e-3, 1e-9, 0);
  assert_close(deck.by_leaf.at[5].half_width, 0.02e-3, 1e-9, 0);
  Range squish = range_of(&values, "squish");
  assert_close(squish.low, 0.81e-3, 1e-9, 0);
  assert_close(squish.high, 1.19e-3, 1e-9, 0);
  Range clearance = range_of(&values, "clearance");
  assert_close(clearance.nominal, 51.96e-6, 0, 0.005e-6);
  Range ratio = range_of(&values, "ratio");
  assert_close(ratio.nominal, 9.37, 0, 0.005);
  assert_close(ratio.rss, 0.10, 0, 0.005);
  /* The corners by hand: all that adds volume at its most, throw at its least. */
  const double quarter = 3.14159265358979323846 / 4;
  double open = 51.0 + quarter * 84.6 * 84.6 * 0.63e-3 - 4.0 + quarter * 83.4 * 83.4 * 0.56e-3;
  double shut = 50.2 + quarter * 84.6 * 84.6 * 0.57e-3 - 4.4 + quarter * 83.4 * 83.4 * 0.24e-3;
  assert_close(ratio.low, 1 + quarter * 83.4 * 83.4 * 79.56e-3 / open, 1e-9, 0);
  assert_close(ratio.high, 1 + quarter * 83.4 * 83.4 * 79.64e-3 / shut, 1e-9, 0);
  /* With the stroke taken from the card as exact, the throw counts in the deck alone. */
  Range card = range_of(&values, "card_ratio");
  assert_close(card.nominal, 9.37, 0, 0.005);
  assert_close((card.high - card.low) / 2, 0.26, 0, 0.005);
  assert_close(card.rss, 0.10, 0, 0.005);
  assert_true(ratio.monotone);
  assert_string_equal(graph_name(values.graph, ratio.by_leaf.at[0].leaf), "chamber");
  Range effective = range_of(&values, "effective");
  assert_close(effective.nominal, 7.41, 0, 0.005);
  values_free(&values);
}

/* The stroke counts in the volume and, the other way, in the deck: a tolerance
 * taken for two would be wider. Enumerated over all corners here. */
static void shared_inputs_count_once(void **state) {
  (void)state;
  Values values = values_new();
  (void)values_leaf(&values, "a", "10 +-1 mm");
  Range zero = range_of(&values, "a - a");
  assert_close(zero.high - zero.low, 0, 0, 1e-15);
  assert_close(zero.rss, 0, 0, 1e-15);
  Range one = range_of(&values, "a / a");
  assert_close(one.high, 1, 1e-12, 0);
  assert_close(one.low, 1, 1e-12, 0);
  Range twice = range_of(&values, "a + a");
  assert_close(twice.high - twice.low, 4e-3, 1e-12, 0);
  assert_close(twice.rss, 2e-3, 1e-9, 0);
  assert_int_equal(twice.by_leaf.n, 1);
  values_free(&values);
}

static void difference_without_sign(void **state) {
  (void)state;
  Values values = values_new();
  (void)values_leaf(&values, "left", "0.40 +-0.05 mm");
  (void)values_leaf(&values, "right", "0.40 +-0.05 mm");
  Range range = range_of(&values, "abs(left - right)");
  assert_close(range.low, 0, 0, 1e-15);
  assert_close(range.high, 0.1e-3, 1e-9, 0);
  assert_true(isnan(range.rss));
  assert_false(range.monotone);
  values_free(&values);
}

static void uneven_tolerances(void **state) {
  (void)state;
  Values values = values_new();
  (void)values_leaf(&values, "a", "45 +5/-0 N.m");
  (void)values_leaf(&values, "b", "0.15 to 0.19");
  Range range = range_of(&values, "a / b");
  assert_close(range.nominal, 45 / 0.17, 1e-12, 0);
  assert_close(range.low, 45 / 0.19, 1e-12, 0);
  assert_close(range.high, 50 / 0.15, 1e-12, 0);
  assert_true(range.monotone);
  /* About the middle, 47.5 +-2.5 and 0.17 +-0.02. */
  double by_a = 2.5 / 0.17, by_b = 47.5 * (1 / 0.15 - 1 / 0.19) / 2;
  assert_close(range.rss, sqrt(by_a * by_a + by_b * by_b), 1e-9, 0);
  values_free(&values);
}

static void bends_between_the_corners(void **state) {
  (void)state;
  Values values = values_new();
  (void)values_leaf(&values, "x", "0.5 +-1.5");
  Range range = range_of(&values, "x * x");
  assert_close(range.low, 0, 0, 1e-9);
  assert_close(range.high, 4, 1e-12, 0);
  assert_false(range.monotone);
  range = range_of(&values, "x - x * x / 3");
  assert_close(range.high, 0.75, 1e-9, 0); /* at 1.5, by calculus */
  assert_close(range.low, -1 - 1.0 / 3, 1e-9, 0);
  range = range_of(&values, "abs(x - 0.123)");
  assert_close(range.low, 0, 0, 1e-9);
  range = range_of(&values, "if(x > 1.9, 100, x)");
  assert_close(range.high, 100, 1e-12, 0);
  assert_true(isnan(range.rss));
  range = range_of(&values, "1 / x");
  assert_true(isinf(range.high) && isinf(range.low) && isnan(range.rss));
  values_free(&values);
}

static void what_does_not_vary_does_not_bend(void **state) {
  (void)state;
  Values values = values_new();
  (void)values_leaf(&values, "exact", "-2");
  (void)values_leaf(&values, "a", "5 +-1");
  Range range = range_of(&values, "abs(exact) * a + if(exact < 0, a, 0) + max(exact, 1)");
  assert_true(range.monotone);
  assert_close(range.low, 13, 1e-12, 0);
  assert_close(range.high, 19, 1e-12, 0);
  assert_close(range.rss, 3, 1e-9, 0);
  range = range_of(&values, "exact * 2");
  assert_close(range.rss, 0, 0, 0);
  assert_int_equal(range.by_leaf.n, 0);
  values_free(&values);
}

static void a_branch_that_waits(void **state) {
  (void)state;
  Values values = values_new();
  (void)values_leaf(&values, "a", "5 +-1");
  (void)values_keep(&values, "w", graph_value(values.graph, "w", (Place){0}, DIM_NUMBER));
  Range range = range_of(&values, "if(a > 5.5, w, a)");
  assert_int_equal(range.state, VALUE_UNKNOWN);
  assert_close(range.nominal, 5, 1e-12, 0);
  values_free(&values);
}

static void readings_have_a_tolerance_too(void **state) {
  (void)state;
  Values values = stack();
  NodeId deck = *(NodeId *)map_find(values.ids, "deck");
  graph_read(values.graph, deck, 0.22e-3, 0.21e-3, 0.23e-3);
  Range squish = range_of(&values, "squish");
  assert_close(squish.nominal, 0.82e-3, 1e-9, 0);
  assert_close(squish.low, 0.78e-3, 1e-9, 0);
  assert_close(squish.high, 0.86e-3, 1e-9, 0);
  assert_int_equal(squish.by_leaf.n, 2);
  assert_int_equal(squish.by_leaf.at[1].leaf, deck);
  values_free(&values);
}

/* Inside the leaves' tolerances; half of the draws at corners and middles,
 * because even ones seldom come near a corner. */
static double sample(const Values *values, NodeId target, uint64_t *state, bool corners) {
  Override pins[32];
  size_t n = values->leaves.n;
  for (size_t i = 0; i < n; i++) {
    NodeId leaf = values->leaves.at[i];
    Range own = graph_range(values->graph, values->run.arena, leaf, NULL);
    double share = draw(state);
    if (corners) share = share < 0.45 ? 0 : share < 0.9 ? 1 : 0.5;
    pins[i] = (Override){leaf, own.low + share * (own.high - own.low)};
  }
  Overrides overrides = {pins, n, n};
  Evaluation at = graph_evaluate(values->graph, target, &overrides);
  return at.state == VALUE_KNOWN ? at.si : NAN;
}

static void nothing_drawn_lies_outside(void **state) {
  (void)state;
  static const char *const texts[] = {
      "deck",
      "ratio",
      "effective",
      "clearance / swept",
      "abs(deck - 0.40 mm)",
      "abs(face - barrel + 31 mm) - abs(height - rod + 118.4 mm)",
      "max(deck, squish - 0.58 mm, gasket)",
      "min(deck, base_gasket) / max(gasket, deck + base_gasket)",
      "if(deck > 0.45 mm, deck, 2 * base_gasket)",
      "if(deck < 0.3 mm or gasket > 0.62 mm, squish, 2 * squish)",
      "round_to(squish, 0.05 mm) + deck",
      "(deck - 0.4 mm) * (gasket - 0.6 mm) / base_gasket",
      "(deck - 0.37 mm)^2 + (gasket - 0.61 mm)^2",
      "piston_drop(throw, rod, 20 deg ATDC) - 2 * deck",
      "sin((deck / base_gasket) * 90 deg)",
      "sqrt(deck * gasket) - deck",
  };
  Values values = stack();
  uint64_t generator = 20240611;
  for (size_t t = 0; t < sizeof texts / sizeof texts[0]; t++) {
    NodeId id = values_compile(&values, texts[t]);
    assert_int_not_equal(id, 0);
    Range range = graph_range(values.graph, values.run.arena, id, NULL);
    assert_int_equal(range.state, VALUE_KNOWN);
    double slack = 1e-9 * (range.high - range.low) + 1e-15;
    double least = range.nominal, most = range.nominal;
    for (int i = 0; i < 1500; i++) {
      double result = sample(&values, id, &generator, i % 2 == 0);
      least = fmin(least, result);
      most = fmax(most, result);
    }
    if (least < range.low - slack || most > range.high + slack) {
      fail_msg("%s: drawn %.12g to %.12g, found %.12g to %.12g", texts[t], least, most, range.low,
               range.high);
    }
    assert_true(range.nominal >= range.low && range.nominal <= range.high);
    assert_true(most - least > 0.6 * (range.high - range.low));
    if (range.monotone) assert_true(range.rss > 0 && range.rss < (range.high - range.low) / 2);
  }
  values_free(&values);
}

/* Root-sum-square against sampling: each leaf normal with its tolerance as three
 * sigma gives the result's three sigma. */
static void root_sum_square_is_three_sigma(void **state) {
  (void)state;
  Values values = stack();
  NodeId id = *(NodeId *)map_find(values.ids, "ratio");
  Range range = graph_range(values.graph, values.run.arena, id, NULL);
  uint64_t generator = 7;
  double sum = 0, squares = 0;
  int count = 4000;
  for (int i = 0; i < count; i++) {
    Override pins[32];
    for (size_t k = 0; k < values.leaves.n; k++) {
      Range own = graph_range(values.graph, values.run.arena, values.leaves.at[k], NULL);
      double twelve = -6;
      for (int d = 0; d < 12; d++) twelve += draw(&generator);
      pins[k] =
          (Override){values.leaves.at[k], own.nominal + twelve * (own.high - own.nominal) / 3};
    }
    Overrides overrides = {pins, values.leaves.n, values.leaves.n};
    double result = graph_evaluate(values.graph, id, &overrides).si - range.nominal;
    sum += result;
    squares += result * result;
  }
  double sigma = sqrt(squares / count - (sum / count) * (sum / count));
  assert_close(3 * sigma, range.rss, 0.05, 0);
  values_free(&values);
}

/* Many leaves: corners by the signs alone find what all corners would. */
static void many_leaves(void **state) {
  (void)state;
  Values values = values_new();
  char name[16], text[32];
  NodeId total = values_leaf(&values, "n0", "10.0 +-0.1 mm");
  for (int i = 1; i < 200; i++) {
    snprintf(name, sizeof name, "n%d", i);
    snprintf(text, sizeof text, "t + %s", name);
    (void)values_leaf(&values, name, "10.0 +-0.1 mm");
    (void)values_keep(&values, "t", total);
    total = values_compile(&values, text);
  }
  Range range = graph_range(values.graph, values.run.arena, total, NULL);
  assert_close(range.high - range.low, 200 * 0.2e-3, 1e-9, 0);
  assert_close(range.rss, sqrt(200) * 0.1e-3, 1e-9, 0);
  assert_int_equal(range.by_leaf.n, 200);
  values_free(&values);
}

/* Two cylinders of the same sizes are found alike, each with its own leaves; one of another
 * size, or one that is read, is not taken for them. */
static void alike_and_nearly(void **state) {
  (void)state;
  static const char *const letters[] = {"a", "b", "c"};
  Values values = values_new();
  NodeId deck[3], gasket[3];
  for (int i = 0; i < 3; i++) {
    char name[16], text[64];
    snprintf(name, sizeof name, "deck_%s", letters[i]);
    deck[i] = values_leaf(&values, name, i < 2 ? "0.50 +-0.10 mm" : "0.50 +-0.11 mm");
    snprintf(name, sizeof name, "gasket_%s", letters[i]);
    gasket[i] = values_leaf(&values, name, "1.00 +-0.05 mm");
    snprintf(text, sizeof text, "min(deck_%s + gasket_%s, 2 * gasket_%s)", letters[i],
             letters[i], letters[i]);
    snprintf(name, sizeof name, "gap_%s", letters[i]);
    (void)values_define(&values, name, text);
  }
  Range a = range_of(&values, "gap_a"), b = range_of(&values, "gap_b");
  Range c = range_of(&values, "gap_c");
  assert_true(a.low == b.low && a.high == b.high && a.monotone == b.monotone);
  assert_int_equal(b.by_leaf.n, 2);
  assert_int_equal(a.by_leaf.at[0].leaf, deck[0]);
  assert_int_equal(b.by_leaf.at[0].leaf, deck[1]);
  assert_int_equal(b.by_leaf.at[1].leaf, gasket[1]);
  assert_close(a.low, 1.35e-3, 1e-9, 0);
  assert_close(c.low, 1.34e-3, 1e-9, 0);
  Override pin = {deck[1], 0.50e-3};
  Overrides pins = {&pin, 1, 1};
  NodeId gap = values_compile(&values, "gap_b");
  Range pinned = graph_range(values.graph, values.run.arena, gap, &pins);
  assert_close(pinned.low, 1.45e-3, 1e-9, 0);
  assert_int_equal(pinned.by_leaf.n, 1);
  values_free(&values);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(stack_of_a_twin),
      cmocka_unit_test(shared_inputs_count_once),
      cmocka_unit_test(difference_without_sign),
      cmocka_unit_test(uneven_tolerances),
      cmocka_unit_test(bends_between_the_corners),
      cmocka_unit_test(what_does_not_vary_does_not_bend),
      cmocka_unit_test(a_branch_that_waits),
      cmocka_unit_test(readings_have_a_tolerance_too),
      cmocka_unit_test(nothing_drawn_lies_outside),
      cmocka_unit_test(root_sum_square_is_three_sigma),
      cmocka_unit_test(many_leaves),
      cmocka_unit_test(alike_and_nearly),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
