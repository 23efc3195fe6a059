/* What stands in a box, as a number; and what is a slip. */
#include "unit/test.h"

#include "resolve/readings_box.h"
#include "value/literal.h"

static Quantity clearance(double low, double high, bool max) {
  static const QuantityDecl decl = {.name = "clearance"};
  Quantity quantity = {.decl = &decl, .name = "clearance", .label = "Clearance"};
  quantity.predicted.state = VALUE_UNKNOWN;
  quantity.allowed.said = quantity.allowed.has_min = true;
  quantity.allowed.has_max = max;
  quantity.allowed.min_now = (Evaluation){.state = VALUE_KNOWN, .si = low};
  quantity.allowed.max_now = (Evaluation){.state = VALUE_KNOWN, .si = high};
  return quantity;
}

static Expr expr(Run *run, const char *text) {
  Place nowhere = {0};
  Expr out = {.kind = EXPR_LITERAL};
  out.literal = literal_parse(run, nowhere, text);
  return out;
}

static PlanBox box_in(Quantity *quantity, const char *unit, double resolution, int places) {
  return (PlanBox){.number = 7,
                   .label = "Clearance",
                   .quantity = quantity,
                   .unit = unit_find(unit),
                   .resolution = resolution,
                   .places = places};
}

static void numbers_have_the_unit_of_the_box(void **state) {
  (void)state;
  Run run = run_new();
  Quantity quantity = clearance(65e-6, 80e-6, true);
  PlanBox box = box_in(&quantity, "mm", 1e-6, 3);
  double si = 0;
  Expr bare = expr(&run, "0.070"), inch = expr(&run, "0.01 in"), torque = expr(&run, "1 N.m");
  assert_true(reading_si(&run, &box, &bare, &si));
  assert_close(si, 70e-6, 0, 1e-15);
  assert_true(reading_si(&run, &box, &inch, &si));
  assert_close(si, 254e-6, 0, 1e-15); /* an inch is 25.4 mm exactly */
  assert_false(reading_si(&run, &box, &torque, &si));
  assert_only_finding(&run, RULE_WRONG_DIMENSION);
  run_free(&run);
}

/* A position before a dead centre counts backwards; a plain angle is on the wheel as printed. */
static void angles_count_from_the_dead_centre_of_the_box(void **state) {
  (void)state;
  Run run = run_new();
  Quantity quantity = clearance(0, 0, true);
  PlanBox box = box_in(&quantity, "deg BTDC", 0, 0);
  Expr bare = expr(&run, "31"), plain = expr(&run, "31 deg"), full = expr(&run, "31 deg BTDC");
  double a = 0, b = 0, c = 0;
  assert_true(reading_si(&run, &box, &bare, &a));
  assert_true(reading_si(&run, &box, &plain, &b));
  assert_true(reading_si(&run, &box, &full, &c));
  assert_close(a, c, 0, 1e-12);
  assert_close(b, c, 0, 1e-12);
  assert_true(c < 0);
  run_free(&run);
}

static bool is_likely(Quantity *quantity, double resolution, const char *text) {
  Run run = run_new();
  PlanBox box = box_in(quantity, "mm", resolution, 3);
  ReadingLine line = {0};
  Expr value = expr(&run, text);
  double si = 0;
  bool likely =
      reading_si(&run, &box, &value, &si) && reading_is_likely(&run, &box, &line, &value, si);
  assert_int_equal(run_count(&run, RULE_LIKELY_SLIP), !likely);
  run_free(&run);
  return likely;
}

/* Our own measure: five widths and a fifth of the size, or ten widths. */
static void slips_lie_far_outside(void **state) {
  (void)state;
  Quantity narrow = clearance(65e-6, 80e-6, true); /* 15 um wide */
  assert_true(is_likely(&narrow, 1e-6, "0.070 mm"));
  assert_true(is_likely(&narrow, 1e-6, "0.150 mm")); /* 4.7 widths: worn, not mistyped */
  assert_false(is_likely(&narrow, 1e-6, "0.160 mm"));
  assert_false(is_likely(&narrow, 1e-6, "0.700 mm"));
  assert_true(is_likely(&narrow, 1e-6, "0 mm"));
  assert_false(is_likely(&narrow, 1e-6, "-0.020 mm"));
  Quantity large = clearance(83.395e-3, 83.405e-3, true); /* ten widths: 0.1 mm */
  assert_true(is_likely(&large, 1e-6, "83.500 mm"));
  assert_false(is_likely(&large, 1e-6, "83.510 mm"));
  Quantity open = clearance(1.8e-3, 0, false); /* at least: only far beyond reason */
  assert_true(is_likely(&open, 1e-5, "4.00 mm"));
}

static void the_middle_one_counts(void **state) {
  (void)state;
  Run run = run_new();
  const double three[] = {3, 1, 2}, two[] = {4, 1}, one[] = {5};
  assert_close(median(run.arena, three, 3), 2, 0, 0);
  assert_close(median(run.arena, two, 2), 2.5, 0, 0);
  assert_close(median(run.arena, one, 1), 5, 0, 0);
  assert_close(three[0], 3, 0, 0); /* left as it was */
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(numbers_have_the_unit_of_the_box),
      cmocka_unit_test(angles_count_from_the_dead_centre_of_the_box),
      cmocka_unit_test(slips_lie_far_outside),
      cmocka_unit_test(the_middle_one_counts),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
