/* Steps written out for their members, in order, with reasons, texts and notes. */
#include "unit/planning.h"

#define BLOCK(id)      "  - id: " id "\n    title: T\n"
#define STEP(id, more) "      - {id: " id ", do: Do it." more "}\n"

static void expect_order(const char *work, const char *expected) {
  Run run = run_new();
  Plan *plan = plan_with(&run, work, NULL, 0);
  assert_string_equal(order_of(&run, plan), expected);
  assert_true(plan->ordered);
  run_free(&run);
}

static void one_member_after_another(void **state) {
  (void)state;
  expect_order(BLOCK("b") "    for_each: cylinder\n    steps:\n" STEP("x", "")
                   STEP("r", ", for_each: ring") STEP("y", ""),
               "x, left; r, left, top; r, left, second; y, left; "
               "x, right; r, right, top; r, right, second; y, right");
}

static void step_by_step(void **state) {
  (void)state;
  expect_order(BLOCK("b") "    for_each: cylinder\n    by: step\n    steps:\n" STEP("x", "")
                   STEP("y", ""),
               "x, left; x, right; y, left; y, right");
}

/* The same member; the one instance above; all beneath. */
static void after_follows_the_members(void **state) {
  (void)state;
  Run run = run_new();
  Plan *plan =
      plan_with(&run,
                BLOCK("late") "    for_each: cylinder\n    by: step\n    steps:\n" STEP(
                    "late", ", place: floats, after: [early]")
                    BLOCK("all") "    steps:\n" STEP("all", ", place: floats, after: [early]")
                        BLOCK("early") "    for_each: cylinder\n    steps:\n" STEP("early", "")
                            BLOCK("rings") "    for_each: ring\n    by: step\n    steps:\n" STEP(
                                "ring", ", place: floats, after: [early, one]")
                                BLOCK("one") "    steps:\n" STEP("one", ", place: floats"),
                NULL, 0);
  assert_string_equal(order_of(&run, plan),
                      "early, left; late, left; early, right; late, right; all; one; "
                      "ring, left, top; ring, left, second; ring, right, top; ring, right, second");
  const PlanStep *all = step_called(plan, "all");
  assert_int_equal(all->reasons.n, 1);
  assert_int_equal(all->reasons.at[0].kind, REASON_AFTER);
  assert_string_equal(plan->steps.at[all->reasons.at[0].step]->key, "first.early, right");
  run_free(&run);
}

static void after_across_sets_says_which(void **state) {
  (void)state;
  Run run = run_new();
  plan_with(&run,
            BLOCK("b") "    for_each: cylinder\n    steps:\n" STEP("x", "")
                BLOCK("s") "    for_each: stud\n    steps:\n" STEP("y", ", after: [x]"),
            NULL, 0);
  assert_found(&run, RULE_UNKNOWN_STEP, 1);
  assert_says(finding_of(&run, RULE_UNKNOWN_STEP)->way_out, "x[all]");
  run_free(&run);
}

static void after_one_member_or_all(void **state) {
  (void)state;
  expect_order(BLOCK("s") "    for_each: stud\n    by: step\n    steps:\n" STEP(
                   "y", ", place: floats, after: [\"x[left]\"]")
                   STEP("z", ", place: floats, after: [\"x[all]\"]")
                       BLOCK("b") "    for_each: cylinder\n    steps:\n" STEP("x", ""),
               "x, left; y, a; y, b; x, right; z, a; z, b");
}

static void after_a_block(void **state) {
  (void)state;
  expect_order(BLOCK("a") "    steps:\n" STEP("x", ", place: floats, after: [b]")
                   BLOCK("b") "    steps:\n" STEP("p", "") STEP("q", "")
                       BLOCK("c") "    steps:\n" STEP("r", ""),
               "p; q; x; r");
}

static void before_says_why(void **state) {
  (void)state;
  Run run = run_new();
  Plan *plan = plan_with(&run,
                         BLOCK("a") "    steps:\n" STEP("x", "") BLOCK("b") "    steps:\n" STEP(
                             "late", ", place: floats, before: [{step: x, why: no room}]"),
                         NULL, 0);
  assert_string_equal(order_of(&run, plan), "late; x");
  assert_int_equal(plan->steps.at[1]->reasons.at[0].kind, REASON_BEFORE);
  assert_string_equal(plan->steps.at[1]->reasons.at[0].why, "no room");
  run_free(&run);
}

/* What hangs on a dropped step hangs on what that hung on. */
static void dropped_steps_are_bridged(void **state) {
  (void)state;
  Run run = run_new();
  Plan *plan = plan_with(&run,
                         BLOCK("a") "    steps:\n" STEP("x", ", place: floats, after: [gone]")
                             STEP("p", "") STEP("gone", ", when: \"use is track\"") STEP("q", ""),
                         NULL, 0);
  assert_string_equal(order_of(&run, plan), "p; x; q");
  const PlanStep *q = step_called(plan, "q");
  assert_int_equal(q->reasons.at[0].kind, REASON_WRITTEN);
  assert_string_equal(plan->steps.at[q->reasons.at[0].step]->id, "p");
  assert_no_refusal(&run);
  run_free(&run);
}

static void steps_nobody_wrote(void **state) {
  (void)state;
  Run run = run_new();
  plan_with(&run,
            BLOCK("a") "    steps:\n" STEP("measure", "") STEP("x", ", after: [mesure]")
                STEP("y", ", since: nowhere_near"),
            NULL, 0);
  assert_found(&run, RULE_UNKNOWN_STEP, 2); /* the barrel stays: its note has no step here */
  bool near = false;
  for (size_t i = 0; i < run.findings->list.n; i++) {
    const char *way_out = run.findings->list.at[i]->way_out;
    near = near || (way_out && strstr(way_out, "did you mean measure?"));
  }
  assert_true(near);
  run_free(&run);
}

/* Modules go in the build's order as far as their steps let them. */
static void modules_mesh(void **state) {
  (void)state;
  Run run = run_new();
  const Shelf more[] = {
      {"build.yaml", "kind: build\nname: B\njob: J-1\ndate: 2026-01-05\nengine: twin\nshop: shop\n"
                     "choices: {use: road}\n"
                     "procedures: [first, second]\n"},
      {"lib/templates/procedures/second.yaml",
       "kind: procedure\nname: Second\nsource: common practice\nblocks:\n" BLOCK(
           "two") "    steps:\n" STEP("wipe", "") STEP("x", "") STEP("z", "")},
  };
  Plan *plan = plan_with(&run,
                         BLOCK("one") "    steps:\n" STEP("a", "") STEP("b", ", after: [second.x]")
                             STEP("x", ""),
                         more, 2);
  assert_no_refusal(&run);
  assert_string_equal(plan->steps.at[0]->key, "first.a");
  assert_string_equal(order_of(&run, plan), "a; wipe; x; b; x; z");
  assert_int_equal(plan->blocks.n, 4); /* both blocks are parted once */
  assert_int_equal(plan->blocks.at[1].first, 1);
  assert_int_equal(plan->blocks.at[1].last, 2);
  run_free(&run);
}

static void a_circle_is_a_path(void **state) {
  (void)state;
  Run run = run_new();
  Plan *plan = plan_with(&run,
                         BLOCK("a") "    steps:\n" STEP("x", ", after: [z]") STEP("y", "")
                             STEP("z", "") STEP("wipe", ""),
                         NULL, 0);
  assert_found(&run, RULE_ORDER_CIRCLE, 1);
  const Finding *finding = finding_of(&run, RULE_ORDER_CIRCLE);
  assert_says(finding->text, "x -> y -> z -> x");
  assert_int_equal(finding->notes.n, 3);
  assert_false(plan->ordered);
  assert_string_equal(order_of(&run, plan), "x; y; z; wipe");
  run_free(&run);
}

static void texts_are_filled_in(void **state) {
  (void)state;
  Run run = run_new();
  Plan *plan = plan_with(
      &run,
      BLOCK("a") "    for_each: cylinder\n    steps:\n" STEP("wipe", "")
          BLOCK("b") "    steps:\n"
                     "      - {id: t, do: \"Bore {bore}, {nuts} {nuts.torque}, see {step:wipe}, "
                     "squish at most "
                     "{squish[left].max}.\"}\n"
                     "      - {id: u, do: \"Gap {gap[left, top]}, {nothing_of_that_name}\"}\n",
      (Shelf[]){{"lib/specs/engines/twin.yaml",
                 "kind: engine\nname: Twin\n" BENCH_SOURCE
                 "sets:\n  cylinder: {members: [left, right]}\n"
                 "  ring: {within: cylinder, members: [top, second]}\n"
                 "roles:\n  barrel: {label: Barrel, part: barrel_1}\n"
                 "  gasket: {label: Head gasket}\nchoices: {use: [road]}\nrelations: [stack]\n"
                 "limits: {squish: 0.85 to 1.15 mm}\n"}},
      1);
  assert_says(step_called(plan, "t")->text, "Bore 83.400 mm, Barrel nuts 18 N.m (");
  assert_says(step_called(plan, "t")->text, "see {step:1}, squish at most 1.15 mm.");
  assert_says(step_called(plan, "u")->text, "Gap not known, nothing_of_that_name");
  assert_found(&run, RULE_UNKNOWN_NAME, 1);
  run_free(&run);
}

static void members_and_parts_in_texts(void **state) {
  (void)state;
  Run run = run_new();
  Plan *plan = plan_with(&run,
                         "  - id: a\n    title: \"Cylinder {cylinder}\"\n    for_each: cylinder\n"
                         "    steps:\n      - {id: wipe, do: \"Fit {gasket} of "
                         "{gasket.thickness} on the {cylinder} cylinder, {ring} ring.\", "
                         "for_each: ring}\n",
                         NULL, 0);
  assert_string_equal(step_called(plan, "wipe, right, top")->text,
                      "Fit Gasket 0.6 of 0.60 mm on the right cylinder, top ring.");
  assert_string_equal(plan->blocks.at[0].title, "Cylinder left");
  assert_string_equal(plan->blocks.at[1].title, "Cylinder right");
  const PlanStep *wipe = step_called(plan, "wipe, left, top");
  assert_int_equal(wipe->notes.n, 1);
  assert_says(wipe->notes.at[0], "No solvent on the plating. (");
  assert_says(wipe->notes.at[0], "bench sheet");
  run_free(&run);
}

static void a_decision_waits_for_its_measurement(void **state) {
  (void)state;
  const char *table = ", table: {title: T, row: {quantity: deck, from: 0.3 mm, to: 0.4 mm, step: "
                      "0.1 mm}, answers: [squish]}";
  Run run = run_new();
  const Shelf more[] = {
      {"build.yaml", "kind: build\nname: B\njob: J-1\ndate: 2026-01-05\nengine: twin\nshop: shop\n"
                     "choices: {use: road}\n"
                     "procedures: [first, second]\n"},
      {"lib/templates/procedures/second.yaml",
       "kind: procedure\nname: Second\nsource: common practice\nblocks:\n" BLOCK(
           "two") "    for_each: cylinder\n    steps:\n"
                  "      - {id: wipe, record: R., boxes: [{quantity: deck, gauge: depth, only: "
                  "record}]}\n"},
  };
  Plan *plan = plan_with(&run,
                         arena_printf(run.arena,
                                      BLOCK("one") "    for_each: cylinder\n    by: step\n"
                                                   "    steps:\n"
                                                   "      - {id: choose, decide: D.%s}\n",
                                      table),
                         more, 2);
  assert_string_equal(order_of(&run, plan), "wipe, left; choose, left; wipe, right; choose, right");
  assert_int_equal(plan->steps.at[1]->reasons.at[0].kind, REASON_DECIDES);
  assert_found(&run, RULE_DECIDED_EARLY, 0);
  run_free(&run);

  run = run_new();
  plan_with(&run,
            arena_printf(run.arena,
                         BLOCK("one") "    for_each: cylinder\n    steps:\n"
                                      "      - {id: choose, decide: D.%s}\n"
                                      "      - {id: wipe, record: R., boxes: [{quantity: deck, "
                                      "gauge: depth, only: record}]}\n",
                         table),
            NULL, 0);
  assert_found(&run, RULE_DECIDED_EARLY, 1); /* one mistake, though both cylinders have it */
  for (size_t i = 0; i < run.findings->list.n; i++)
    if (run.findings->list.at[i]->rule == RULE_DECIDED_EARLY)
      assert_says(run.findings->list.at[i]->text, "likewise right");
  assert_found(&run, RULE_ORDER_CIRCLE, 0);
  run_free(&run);
}

static void too_many_steps(void **state) {
  (void)state;
  Run run = run_new();
  Text work = text_new(run.arena);
  text_add(&work, BLOCK("a") "    for_each: ring\n    steps:\n");
  for (int i = 0; i < 1300; i++) text_addf(&work, "      - {id: s%d, do: Do it.}\n", i);
  Plan *plan = plan_with(&run, text_done(&work), NULL, 0);
  assert_found(&run, RULE_TOO_BIG, 1);
  assert_int_equal(plan->steps.n, 5000);
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(one_member_after_another),
      cmocka_unit_test(step_by_step),
      cmocka_unit_test(after_follows_the_members),
      cmocka_unit_test(after_across_sets_says_which),
      cmocka_unit_test(after_one_member_or_all),
      cmocka_unit_test(after_a_block),
      cmocka_unit_test(before_says_why),
      cmocka_unit_test(dropped_steps_are_bridged),
      cmocka_unit_test(steps_nobody_wrote),
      cmocka_unit_test(modules_mesh),
      cmocka_unit_test(a_circle_is_a_path),
      cmocka_unit_test(texts_are_filled_in),
      cmocka_unit_test(members_and_parts_in_texts),
      cmocka_unit_test(a_decision_waits_for_its_measurement),
      cmocka_unit_test(too_many_steps),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
