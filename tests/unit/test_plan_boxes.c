/* Boxes, gauges and their fitness, passes and bench tables, against numbers worked
 * out by hand. */
#include "unit/planning.h"

#define ENGINE(more)                                                                               \
  {                                                                                                \
    "lib/specs/engines/twin.yaml", "kind: engine\nname: Twin\n" BENCH_SOURCE "sets:\n"             \
                                   "  cylinder: {members: [left, right]}\n"                        \
                                   "  ring: {within: cylinder, members: [top, second]}\n"          \
                                   "roles:\n  barrel: {label: Barrel, part: barrel_1}\n"           \
                                   "  gasket: {label: Head gasket, part: gasket_06}\n"             \
                                   "choices: {use: [road]}\nrelations: [stack]\n" more             \
  }
#define WORK              "  - id: a\n    title: T\n    for_each: cylinder\n    steps:\n"
#define RECORD(id, boxes) "      - {id: " id ", record: Read it., boxes: [" boxes "]}\n"

static const PlanBox *box_at(const Plan *plan, size_t index) {
  assert_true(index < plan->boxes.n);
  return plan->boxes.at[index];
}

static double mm(double value) {
  return value * 1e-3;
}

/* Limits 0.854 to 1.146 mm on a gauge of 0.01 mm: 0.86 to 1.14, never wider. */
static void limits_are_rounded_inward(void **state) {
  (void)state;
  Run run = run_new();
  const Shelf more[] = {ENGINE("limits: {squish: 0.854 to 1.146 mm}\n")};
  Plan *plan = plan_with(&run, WORK RECORD("r", "{quantity: squish, gauge: depth}"), more, 1);
  assert_int_equal(plan->boxes.n, 2);
  const PlanBox *box = box_at(plan, 0);
  assert_int_equal(box->number, 1);
  assert_string_equal(box->label, "Squish, left");
  assert_int_equal(box->kind, BOX_JUDGED);
  assert_int_equal(box->places, 2);
  assert_string_equal(box->unit->print, "mm");
  assert_close(box->min, mm(0.86), 1e-9, 0);
  assert_close(box->max, mm(1.14), 1e-9, 0);
  /* 0.01 of 0.292 mm */
  assert_close(box->share, 0.01 / 0.292, 1e-9, 0);
  assert_int_equal(box->readings, 1);
  assert_string_equal(box_at(plan, 1)->label, "Squish, right");
  run_free(&run);
}

/* An inch dial beside metric limits: the box is in what the dial reads. */
static void box_in_the_unit_of_its_gauge(void **state) {
  (void)state;
  Run run = run_new();
  const Shelf more[] = {ENGINE("limits: {squish: 0.5 to 1.5 mm}\n")};
  Plan *plan = plan_with(&run, WORK RECORD("r", "{quantity: squish, gauge: inch}"), more, 1);
  const PlanBox *box = box_at(plan, 0);
  assert_string_equal(box->unit->print, "in");
  assert_int_equal(box->places, 3);
  /* 0.5 mm = 0.01969 in, 1.5 mm = 0.05906 in */
  assert_close(box->min, 0.020 * 0.0254, 1e-9, 0);
  assert_close(box->max, 0.059 * 0.0254, 1e-9, 0);
  run_free(&run);
}

static void positions_are_boxes(void **state) {
  (void)state;
  Run run = run_new();
  const Shelf more[] = {ENGINE("limits: {squish: 0.85 to 1.15 mm}\n")};
  Plan *plan = plan_with(
      &run, WORK RECORD("r", "{quantity: deck, gauge: depth, at: [front, rear], label: Depth}"),
      more, 1);
  assert_int_equal(plan->boxes.n, 4);
  assert_string_equal(box_at(plan, 1)->label, "Depth, left, rear");
  assert_string_equal(box_at(plan, 1)->position, "rear");
  assert_int_equal(box_at(plan, 0)->kind, BOX_FEEDS);
  assert_string_equal(box_at(plan, 0)->judged_by, "Squish");
  assert_close(box_at(plan, 0)->share, 0.01 / 0.30, 1e-6, 0);
  assert_int_equal(box_at(plan, 3)->number, 4);
  run_free(&run);
}

/* The finest that reads so far: the fine gauge begins at 10 mm, the rule is coarse. */
static void gauge_by_what_it_measures(void **state) {
  (void)state;
  Run run = run_new();
  const Shelf more[] = {ENGINE("limits: {squish: 0.5 to 1.5 mm}\n")};
  Plan *plan = plan_with(&run,
                         WORK RECORD("r", "{quantity: squish, gauge: gap, only: record}")
                             RECORD("s", "{quantity: deck, gauge: runout, only: record}"),
                         more, 1);
  assert_string_equal(box_at(plan, 0)->gauge->name, "feeler");
  assert_int_equal(box_at(plan, 0)->kind, BOX_RECORD_ONLY);
  assert_string_equal(box_at(plan, 1)->gauge->name, "inch");
  plan = plan_with(&run, WORK RECORD("r", "{quantity: squish, gauge: depth_}"), more, 1);
  assert_found(&run, RULE_UNKNOWN_NAME, 1);
  assert_says(finding_of(&run, RULE_UNKNOWN_NAME)->way_out, "did you mean depth?");
  run_free(&run);
}

static void gauges_that_do_not_do(void **state) {
  (void)state;
  Run run = run_new();
  const Shelf more[] = {ENGINE("limits: {squish: 0.5 to 1.5 mm}\n")};
  plan_with(&run,
            WORK RECORD("r", "{quantity: squish, gauge: fine}")
                RECORD("s", "{quantity: squish, gauge: bore}") RECORD("t", "{quantity: squish}"),
            more, 1);
  findings_sort(run.findings); /* drops the second cylinder's */
  assert_found(&run, RULE_NO_GAUGE, 3);
  run_free(&run);
}

/* What one box of a ring gap with those limits is asked for, read with such a gauge. */
static void assert_asked(const char *limits, const char *resolution, const char *uncertainty,
                         int readings, size_t coarse) {
  Run run = run_new();
  const char *engine =
      arena_printf(run.arena, "%slimits: {gap: %s}\n", ((Shelf)ENGINE("")).text, limits);
  const char *shop = arena_printf(run.arena,
                                  "kind: shop\nname: Shop\naddress: [Yard]\ngauges:\n"
                                  "  feeler: {label: Feelers, measures: gap, range: 0.03 to 1 mm, "
                                  "resolution: %s, uncertainty: %s}\n",
                                  resolution, uncertainty);
  const Shelf more[] = {{"lib/specs/engines/twin.yaml", engine},
                        {"lib/specs/shop/shop.yaml", shop}};
  Plan *plan = plan_with(&run,
                         "  - id: a\n    title: T\n    for_each: ring\n    steps:\n" RECORD(
                             "r", "{quantity: gap, gauge: feeler}"),
                         more, 2);
  assert_int_equal(box_at(plan, 0)->readings, readings);
  findings_sort(run.findings);
  assert_found(&run, RULE_GAUGE_COARSE, coarse);
  run_free(&run);
}

/* Of a band of 1 mm: 0.01 mm is fine, 0.05 at the tenth of 0.5; past it three readings;
 * past a fifth refused. */
static void shares_ask_for_readings(void **state) {
  (void)state;
  assert_asked("0.50 to 1.00 mm", "0.05 mm", "0.01 mm", 1, 0);
  assert_asked("0.50 to 0.99 mm", "0.05 mm", "0.01 mm", 3, 0);
  assert_asked("0.50 to 0.75 mm", "0.05 mm", "0.01 mm", 3, 0);
  assert_asked("0.50 to 0.74 mm", "0.05 mm", "0.01 mm", 3, 1);
}

/* Uncertainty past a sixth asks for three readings, past a third refuses. */
static void uncertainty_counts_too(void **state) {
  (void)state;
  assert_asked("0.30 to 0.90 mm", "0.01 mm", "0.10 mm", 1, 0);
  assert_asked("0.30 to 0.90 mm", "0.01 mm", "0.11 mm", 3, 0);
  assert_asked("0.30 to 0.90 mm", "0.01 mm", "0.20 mm", 3, 0);
  assert_asked("0.30 to 0.90 mm", "0.01 mm", "0.21 mm", 3, 1);
}

/* Two gauges go into one clearance: 0.5 * 0.01 + 2 * 0.001 = 0.007 of 0.060 mm. */
static void fitness_of_what_is_computed(void **state) {
  (void)state;
  Run run = run_new();
  const Shelf more[] = {
      ENGINE("limits: {gap_left: 0.10 to 0.16 mm}\n"),
      {"lib/specs/relations/stack.yaml",
       "kind: relation\nname: Stack\nsource: common practice\nquantities:\n"
       "  a: {label: A, unit: mm, formula: \"= 10.4 mm\"}\n"
       "  b: {label: B, unit: mm, formula: \"= 12.0 mm\"}\n"
       "  gap_left: {label: Left over, unit: mm, formula: \"= 2 * b - 0.5 * a - 18.67 mm\"}\n"
       "  lone: {label: Lone, unit: mm, formula: \"= 3 mm\"}\n"},
      {"lib/specs/parts/barrel_1.yaml",
       "kind: part\nname: Plain barrel\nrole: barrel\n" BENCH_SOURCE "values: {bore: 83 mm}\n"},
  };
  Plan *plan = plan_with(&run,
                         "  - id: a\n    title: T\n    steps:\n" RECORD(
                             "r", "{quantity: a, gauge: depth}, {quantity: b, gauge: fine}, "
                                  "{quantity: lone, gauge: depth}"),
                         more, 3);
  assert_int_equal(box_at(plan, 0)->kind, BOX_FEEDS);
  assert_close(box_at(plan, 0)->share, 0.007 / 0.060, 1e-6, 0);
  assert_close(box_at(plan, 1)->share, 0.007 / 0.060, 1e-6, 0);
  assert_int_equal(box_at(plan, 0)->readings, 3);
  assert_int_equal(box_at(plan, 1)->readings, 3);
  assert_found(&run, RULE_GAUGE_COARSE, 0);
  assert_found(&run, RULE_NO_LIMITS, 1); /* nothing hangs on the lone one */
  run_free(&run);
}

/* 0.51 to 0.54 mm holds no mark of a gauge of 0.05 mm; a go gauge has no marks. */
static void bands_that_vanish(void **state) {
  (void)state;
  Run run = run_new();
  const Shelf more[] = {ENGINE("limits: {gap: 0.51 to 0.54 mm}\n")};
  Plan *plan = plan_with(&run,
                         "  - id: a\n    title: T\n    for_each: ring\n    steps:\n" RECORD(
                             "r", "{quantity: gap, gauge: feeler}")
                             RECORD("s", "{quantity: gap, gauge: go}"),
                         more, 1);
  findings_sort(run.findings);
  assert_found(&run, RULE_BAND_VANISHES, 1);
  assert_found(&run, RULE_GAUGE_COARSE, 0);
  const PlanBox *go = box_at(plan, 1);
  assert_string_equal(go->gauge->name, "go");
  assert_close(go->min, mm(0.51), 1e-9, 0);
  assert_close(go->resolution, 0, 0, 0);
  run_free(&run);
}

/* The depth gauge was due five days before the job. */
static void calibration_is_told_once(void **state) {
  (void)state;
  Run run = run_new();
  const Shelf more[] = {ENGINE("limits: {squish: 0.5 to 1.5 mm}\n")};
  plan_with(&run,
            WORK RECORD("r", "{quantity: squish, gauge: depth}")
                RECORD("s", "{quantity: deck, gauge: depth}"),
            more, 1);
  assert_found(&run, RULE_CALIBRATION_OUT, 1);
  run_free(&run);
}

/* 18 N.m through an adapter of 50 mm: 14.4 N.m on the 200 mm wrench is past its range,
 * 15 N.m on the one of 250 mm (T L / (L + A)); 9 N.m: 7.5 N.m there is below a fifth of
 * 50, so the small one at 7.2. */
static void passes_with_wrench_and_setting(void **state) {
  (void)state;
  Run run = run_new();
  Plan *plan = plan_with(&run,
                         "  - id: a\n    title: T\n    steps:\n"
                         "      - {id: t, do: Tighten., tighten: [{joint: nuts}]}\n"
                         "      - {id: u, do: Tighten., tighten: [{joint: nuts, to: final, only: "
                         "[4, 1]}, {turn_over: 2 turn}, {joint: nuts, to: final, only: [9]}]}\n",
                         NULL, 0);
  const PlanStep *step = step_called(plan, "t");
  assert_int_equal(step->joints.n, 1);
  assert_int_equal(step->passes.n, 2);
  const PlanPass *first = &step->passes.at[0], *last = &step->passes.at[1];
  assert_int_equal(first->kind, PASS_TO);
  assert_close(first->amount, 9, 1e-9, 0);
  assert_string_equal(first->wrench->name, "small");
  assert_close(first->setting, 7.2, 1e-9, 0);
  assert_int_equal(last->kind, PASS_FINAL);
  assert_close(last->amount, 18, 1e-9, 0);
  assert_string_equal(last->wrench->name, "large");
  assert_close(last->setting, 15, 1e-3, 0);
  assert_int_equal(first->fasteners.n, 4);
  assert_string_equal(first->fasteners.at[1], "3");
  const PlanStep *only = step_called(plan, "u");
  assert_int_equal(only->passes.n, 3);
  assert_string_equal(only->passes.at[0].fasteners.at[0], "4");
  assert_null(only->passes.at[1].joint);
  assert_found(&run, RULE_ORDER_WRONG, 1);
  assert_says(finding_of(&run, RULE_ORDER_WRONG)->way_out, "1, 2, 3, 4");
  run_free(&run);
}

/* Squish = deck + gasket, allowed 0.85 to 1.15: a row stands for half a step either
 * way, so 0.30 with 0.60 (0.85 at its edge) goes and 0.20 with 0.60 does not. */
static void bench_table_with_edges(void **state) {
  (void)state;
  Run run = run_new();
  const Shelf more[] = {ENGINE("limits: {squish: 0.85 to 1.15 mm}\n")};
  Plan *plan = plan_with(
      &run,
      WORK RECORD(
          "r",
          "{quantity: deck, gauge: depth}") "      - {id: choose, decide: Choose., table: {title: "
                                            "\"Gasket, {cylinder}\", row: {quantity: "
                                            "deck, from: 0.20 mm, to: 0.60 mm, step: 0.10 mm}, "
                                            "column: {role: gasket, parts: [gasket_06, "
                                            "gasket_08], fact: thickness}, answers: [squish]}}\n",
      more, 1);
  const PlanTable *table = step_called(plan, "choose, right")->table;
  assert_non_null(table);
  assert_string_equal(table->title, "Gasket, right");
  assert_int_equal(table->rows.n, 5);
  assert_string_equal(table->row_names.at[1], "0.30");
  assert_string_equal(table->column_names.at[0], "0.60 mm");
  assert_int_equal(table->columns.n, 0);
  assert_int_equal(table->cells.n, 10);
  static const bool stop[5][2] = {
      {true, false}, {false, false}, {false, true}, {false, true}, {true, true}};
  for (size_t r = 0; r < 5; r++) {
    for (size_t c = 0; c < 2; c++) {
      const PlanCell *cell = &table->cells.at[2 * r + c];
      assert_true(cell->known);
      assert_close(cell->si, mm(0.2 + 0.1 * (double)r + (c ? 0.8 : 0.6)), 1e-9, 0);
      assert_int_equal(cell->stop, stop[r][c]);
    }
  }
  assert_true(table->any_inside);
  assert_string_equal(step_called(plan, "choose, left")->table->answers.at[0]->instance->path,
                      "left");
  run_free(&run);
}

static void tables_that_do_not_do(void **state) {
  (void)state;
  Run run = run_new();
  plan_with(
      &run,
      WORK RECORD(
          "r", "{quantity: deck, gauge: depth, only: record}") "      - {id: t, decide: C., table: "
                                                               "{title: T, row: {quantity: deck, "
                                                               "from: 0 mm, to: 2 "
                                                               "mm, step: 0.10 mm}, answers: "
                                                               "[squish]}}\n"
                                                               "      - {id: u, decide: C., table: "
                                                               "{title: T, row: {quantity: deck, "
                                                               "from: 1 mm, to: 0 "
                                                               "mm, step: 0.10 mm}, answers: "
                                                               "[squish]}}\n"
                                                               "      - {id: v, decide: C., table: "
                                                               "{title: T, row: {quantity: deck, "
                                                               "from: 1 kg, to: 2 "
                                                               "mm, step: 0.10 mm}, answers: "
                                                               "[squish]}}\n",
      NULL, 0);
  findings_sort(run.findings);
  assert_found(&run, RULE_TOO_LONG, 1);
  assert_found(&run, RULE_BAND_REVERSED, 1);
  assert_found(&run, RULE_WRONG_DIMENSION, 1);
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(limits_are_rounded_inward),
      cmocka_unit_test(box_in_the_unit_of_its_gauge),
      cmocka_unit_test(positions_are_boxes),
      cmocka_unit_test(gauge_by_what_it_measures),
      cmocka_unit_test(gauges_that_do_not_do),
      cmocka_unit_test(shares_ask_for_readings),
      cmocka_unit_test(uncertainty_counts_too),
      cmocka_unit_test(fitness_of_what_is_computed),
      cmocka_unit_test(bands_that_vanish),
      cmocka_unit_test(calibration_is_told_once),
      cmocka_unit_test(passes_with_wrench_and_setting),
      cmocka_unit_test(bench_table_with_edges),
      cmocka_unit_test(tables_that_do_not_do),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
