/* Findings: kept, sorted, told once. */
#include "unit/test.h"

#include "base/text.h"

static void every_rule_is_described(void **state) {
  (void)state;
  for (int i = 0; i < RULE_COUNT; i++) {
    const RuleInfo *info = rule_info((Rule)i);
    Rule found;
    assert_true(rule_by_slug(info->slug, &found)); /* and no slug twice */
    assert_int_equal(found, i);
    assert_true(strspn(info->slug, "abcdefghijklmnopqrstuvwxyz-") == strlen(info->slug));
    assert_true(strlen(info->why) > 10);
    assert_int_equal(info->why[strlen(info->why) - 1], '.');
    assert_false(info->can_concede && info->severity != SEVERITY_REFUSAL);
  }
  Rule untouched = RULE_NO_FILE;
  assert_false(rule_by_slug("no-such-rule", &untouched));
  assert_int_equal(untouched, RULE_NO_FILE);
}

static void findings_are_kept_whole(void **state) {
  (void)state;
  Run run = run_new();
  Finding *finding =
      finding_add(&run, RULE_UNKNOWN_KEY, place_at(NULL, 0, 0, 1), "no key \"%s\"", "x");
  finding_note(&run, finding, place_at(NULL, 0, 0, 1), "first given at %d", 7);
  finding_way_out(&run, finding, "write \"%s\"", "bore");
  finding_subject(finding, "bore");
  assert_only_finding(&run, RULE_UNKNOWN_KEY);
  assert_int_equal(finding->severity, SEVERITY_REFUSAL);
  assert_string_equal(finding->text, "no key \"x\"");
  assert_int_equal(finding->notes.n, 1);
  assert_string_equal(finding->notes.at[0].text, "first given at 7");
  assert_string_equal(finding->way_out, "write \"bore\"");
  assert_string_equal(finding->subject, "bore");
  assert_false(finding->conceded);
  run_free(&run);
}

static void sorted_by_place_rule_and_text(void **state) {
  (void)state;
  Run run = run_new();
  Source *a = source_new(run.arena, "a.yaml", "", 0);
  finding_add(&run, RULE_UNKNOWN_KEY, place_at(a, 2, 1, 1), "6");
  finding_add(&run, RULE_UNKNOWN_KEY, place_at(a, 1, 5, 1), "5");
  finding_add(&run, RULE_UNKNOWN_KEY, place_at(a, 1, 1, 1), "4");
  finding_add(&run, RULE_UNKNOWN_KEY, place_at(a, 1, 1, 1), "3");
  finding_add(&run, RULE_NOT_YAML, place_at(a, 1, 1, 1), "2");
  finding_add(&run, RULE_UNKNOWN_KEY, place_at(NULL, 0, 0, 1), "1");
  findings_sort(run.findings);
  assert_int_equal(run.findings->list.n, 6);
  for (int i = 0; i < 6; i++) assert_int_equal(run.findings->list.at[i]->text[0], '1' + i);
  run_free(&run);
}

static void equal_ones_are_dropped(void **state) {
  (void)state;
  Run run = run_new();
  Place place = place_at(NULL, 0, 0, 1);
  Finding *first = finding_add(&run, RULE_UNKNOWN_KEY, place, "same");
  finding_add(&run, RULE_UNKNOWN_KEY, place, "other");
  for (int i = 0; i < 20; i++) finding_add(&run, RULE_UNKNOWN_KEY, place, "same");
  findings_sort(run.findings);
  assert_int_equal(run.findings->list.n, 2);
  assert_string_equal(run.findings->list.at[0]->text, "other");
  assert_ptr_equal(run.findings->list.at[1], first);
  run_free(&run);
}

static void what_refuses(void **state) {
  (void)state;
  Run run = run_new();
  Place place = place_at(NULL, 0, 0, 1);
  findings_sort(run.findings);
  assert_false(findings_refuse(run.findings));
  finding_add(&run, RULE_FIT_BY_HAND, place, "a concern");
  assert_false(findings_refuse(run.findings));
  Finding *refusal = finding_add(&run, RULE_OUTSIDE_ALLOWED, place, "a refusal");
  assert_true(findings_refuse(run.findings));
  assert_false(findings_unreadable(run.findings));
  refusal->severity = SEVERITY_CONCERN; /* conceded */
  assert_false(findings_refuse(run.findings));
  finding_add(&run, RULE_NO_FILE, place, "no such file");
  assert_true(findings_refuse(run.findings));
  assert_true(findings_unreadable(run.findings));
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_rule_is_described),
      cmocka_unit_test(findings_are_kept_whole),
      cmocka_unit_test(sorted_by_place_rule_and_text),
      cmocka_unit_test(equal_ones_are_dropped),
      cmocka_unit_test(what_refuses),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
