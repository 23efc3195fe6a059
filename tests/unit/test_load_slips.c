/* Mistakes in entries: one finding each, at its place, with a way out. */
#include "unit/shelf.h"

typedef struct Slip {
  const char *after; /* text after PART */
  Rule rule;
  int line, column;
  const char *says; /* part of the text or of the way out */
} Slip;

static void expect_slip(const char *text, const Slip *slip) {
  Run run = run_new();
  (void)load_part(&run, text);
  bool one = run.findings->list.n == 1;
  const Finding *finding = one ? run.findings->list.at[0] : NULL;
  bool says = one && (strstr(finding->text, slip->says) ||
                      (finding->way_out && strstr(finding->way_out, slip->says)));
  if (!says) print_findings(&run);
  if (!says) print_error("for:\n%s\n", text);
  assert_true(says);
  assert_int_equal(finding->rule, slip->rule);
  assert_int_equal(finding->at.line, slip->line);
  assert_int_equal(finding->at.column, slip->column);
  run_free(&run);
}

static void refused(void **state) {
  (void)state;
  static const Slip slips[] = {
      {"vlaues: {a: 1 mm}\n", RULE_UNKNOWN_KEY, 5, 1, "did you mean \"values\"?"},
      {"values: [a]\n", RULE_WRONG_TYPE, 5, 9, "holds key: value lines, not a list"},
      {"values:\n  bore:84 mm\n", RULE_WRONG_TYPE, 6, 3, "bore: 84 mm"},
      {"values: {a: {page: \"2\"}}\n", RULE_MISSING_KEY, 5, 14, "no \"value\""},
      {"values: {a: {valu: 1 mm, page: \"2\", value: 2 mm}}\n", RULE_UNKNOWN_KEY, 5, 14,
       "\"valu\""},
      {"values: {a: []}\n", RULE_EMPTY_VALUE, 5, 13, "holds nothing"},
      {"values: {a: 0.0045 * barrel.bore}\n", RULE_BAD_NUMBER, 5, 20, "begins with ="},
      {"values:\n  a: 1\n    mm\n", RULE_WRONG_TYPE, 6, 6, "runs on"},
      {"limits: {a: {min: 2 mm, max: 1 mm}}\n", RULE_BAND_REVERSED, 5, 19,
       "min 2 mm lies above max 1 mm"},
      {"limits: {a: {min: 1 mm, target: 4 mm, max: 2 mm}}\n", RULE_TARGET_OUTSIDE, 5, 33,
       "max 2 mm"},
      {"limits: {a: {min: 1 mm, max: 2 N.m}}\n", RULE_WRONG_DIMENSION, 5, 30, "a length is wanted"},
      {"limits: {a: {target: 1 mm}}\n", RULE_MISSING_KEY, 5, 14, "neither \"min\" nor \"max\""},
      {"limits: {a: 1 mm}\n", RULE_BAD_NUMBER, 5, 13, "at least, at most"},
      {"limits: {a: \"= b\"}\n", RULE_BAD_NUMBER, 5, 14, "one formula is no limit"},
      {"limits: {a: {allowed: 1 to 2 mm, max: 2 mm}}\n", RULE_REPEATED_KEY, 5, 14,
       "same thing twice"},
      {"limits: {a: {min: 1 to 2 mm}}\n", RULE_BAD_NUMBER, 5, 19, "one number, not a range"},
      {"joints: {j: {torque: 18 mm}}\n", RULE_WRONG_DIMENSION, 5, 22, "a torque is wanted"},
      {"joints: {j: {reuse: anny}}\n", RULE_BAD_WORD, 5, 21, "did you mean \"any\"?"},
      {"joints: {j: {count: 1.5}}\n", RULE_BAD_NUMBER, 5, 21, "no whole number"},
      {"joints: {j: {passes: [{to: fianl}]}}\n", RULE_BAD_WORD, 5, 28, "did you mean \"final\"?"},
      {"joints: {j: {passes: [{only: [1]}]}}\n", RULE_MISSING_KEY, 5, 24, "this pass does nothing"},
      {"joints: {j: {passes: [{to: 1 N.m, angle: 90 deg}]}}\n", RULE_REPEATED_KEY, 5, 24,
       "2 things"},
      {"joints: {j: {places: {1: [0 mm]}}}\n", RULE_WRONG_TYPE, 5, 26, "two coordinates"},
      {"notes: {a: {Fit it: gap down}}\n", RULE_QUOTE_IT, 5, 13, "\"Fit it: gap down\""},
      {"notes: {a: \"\"}\n", RULE_EMPTY_VALUE, 5, 13, "is empty"},
      {"needs: [{why: x}]\n", RULE_MISSING_KEY, 5, 10, "no \"that\""},
      {"needs: [{taht: \"a > b\"}]\n", RULE_UNKNOWN_KEY, 5, 10, "did you mean \"that\"?"},
      {"forbids: [{why: x}]\n", RULE_MISSING_KEY, 5, 12, "forbids nothing"},
      {"fit: used\n", RULE_BAD_WORD, 5, 6, "there is new"},
      {"values: {a: {v: 1,5 mm}}\n", RULE_QUOTE_IT, 5, 17, "1.5 mm"},
      {"values: {a: = max(1 mm, 2 mm), b: 1 mm}\n", RULE_QUOTE_IT, 5, 13, "quote it"},
  };
  for (size_t i = 0; i < sizeof slips / sizeof *slips; i++) {
    Run run = run_new();
    expect_slip(arena_printf(run.arena, PART "%s", slips[i].after), &slips[i]);
    run_free(&run);
  }
}

static void sources(void **state) {
  (void)state;
  static const Slip none = {NULL, RULE_NO_SOURCE, 1, 1, "where it comes from"};
  expect_slip("kind: part\nname: P\nrole: piston\nvalues: {a: 1 mm}\n", &none);
  static const Slip empty = {NULL, RULE_NO_SOURCE, 4, 1, "neither maker nor sheet"};
  expect_slip("kind: part\nname: P\nrole: piston\nsource: {page: \"2\"}\n", &empty);
  static const Slip words = {NULL, RULE_BAD_WORD, 4, 9, "common practice"};
  expect_slip("kind: part\nname: P\nrole: piston\nsource: memory\nvalues: {a: 1 mm}\n", &words);
  Run run = run_new();
  (void)load_part(&run, "kind: part\nname: P\nrole: piston\n"); /* no numbers, no source */
  (void)load_part(
      &run, "kind: part\nname: P\nrole: piston\nsource: common practice\nvalues: {a: 1 mm}\n");
  expect_none(&run);
  run_free(&run);
}

static void expect_build(const char *text, const Slip *slip) {
  Run run = run_new();
  const char *const files[] = {"job.yaml", text, ENGINE, SHOP, NULL};
  (void)load(&run, files);
  if (run.findings->list.n != 1) print_error("for:\n%s\n", text);
  if (run.findings->list.n != 1) print_findings(&run);
  assert_only_finding(&run, slip->rule);
  assert_int_equal(run.findings->list.at[0]->at.line, slip->line);
  run_free(&run);
}

static void job_and_date(void **state) {
  (void)state;
  static const char *const jobs[] = {"../x", ".x", "a/b", "\"a b\"", "a\\b"};
  static const Slip bad_job = {NULL, RULE_BAD_JOB_NUMBER, 3, 0, ""};
  static const char *const dates[] = {"2026-02-29", "2026-13-01", "20.11.2026", "2026-1-2",
                                      "0000-01-01"};
  static const Slip bad_date = {NULL, RULE_BAD_WORD, 4, 0, ""};
  Run run = run_new();
  for (size_t i = 0; i < sizeof jobs / sizeof *jobs; i++) {
    expect_build(
        arena_printf(run.arena,
                     "kind: build\nname: J\njob: %s\ndate: 2028-02-29\nengine: e\nshop: s\n",
                     jobs[i]),
        &bad_job);
  }
  for (size_t i = 0; i < sizeof dates / sizeof *dates; i++) {
    expect_build(arena_printf(run.arena,
                              "kind: build\nname: J\njob: J.1\ndate: %s\nengine: e\nshop: s\n",
                              dates[i]),
                 &bad_date);
  }
  run_free(&run);
}

static void two_things_in_a_step(void **state) {
  (void)state;
  Run run = run_new();
  const char *const files[] = {
      "job.yaml",
      HEAD "procedures: [work]\n",
      ENGINE,
      SHOP,
      "lib/templates/procedures/work.yaml",
      "kind: procedure\nname: Work\nblocks:\n  - id: b\n    steps:\n"
      "      - {id: one, do: This., check: That.}\n      - {id: two, note: x}\n"
      "      - {id: three, do: X., tighten: [{to: final}]}\n",
      NULL};
  assert_non_null(load(&run, files));
  assert_int_equal(run.findings->list.n, 3);
  assert_int_equal(run.findings->list.at[0]->rule, RULE_REPEATED_KEY);
  assert_int_equal(run.findings->list.at[0]->notes.n, 1);
  assert_int_equal(run.findings->list.at[1]->rule, RULE_MISSING_KEY);
  assert_int_equal(run.findings->list.at[1]->at.line, 7);
  assert_int_equal(run.findings->list.at[2]->rule, RULE_MISSING_KEY); /* no joint */
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(refused),
      cmocka_unit_test(sources),
      cmocka_unit_test(job_and_date),
      cmocka_unit_test(two_things_in_a_step),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
