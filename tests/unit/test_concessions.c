/* What may be conceded and what never: over the whole table of rules. */
#include "unit/test.h"

#include "check/rules.h"

/* A build that concedes what a rule found, properly answered for. */
static void concede(Run *run, Rule rule) {
  Concession concession = {.rule = {.s = rule_info(rule)->slug},
                           .subject = {.s = "bore"},
                           .reason = {.s = "as agreed"},
                           .approver = {.s = "Second"},
                           .customer = {.s = "agreed"}};
  BuildEntry build = {0};
  vec_push(run->arena, &build.concessions, concession);
  Job job = {.build = &build};
  check_concessions(run, &job);
}

static size_t count_of(const Run *run, Rule rule) {
  size_t n = 0;
  for (size_t i = 0; i < run->findings->list.n; i++) n += run->findings->list.at[i]->rule == rule;
  return n;
}

static void what_may_not_be_conceded_stands(void **state) {
  (void)state;
  int never = 0, may = 0;
  for (int i = 0; i < RULE_COUNT; i++) {
    Rule rule = (Rule)i;
    if (rule == RULE_BAD_CONCESSION) continue; /* is what the refusal is told by */
    Run run = run_new();
    Finding *finding = finding_add(&run, rule, place_at(NULL, 0, 0, 1), "found");
    finding_subject(finding, "bore");
    Severity before = finding->severity;
    concede(&run, rule);
    bool conceded = rule_info(rule)->can_concede;
    assert_int_equal(finding->conceded, conceded);
    assert_int_equal(finding->severity, conceded ? SEVERITY_CONCERN : before);
    assert_int_equal(count_of(&run, RULE_BAD_CONCESSION), conceded ? 0 : 1);
    if (conceded)
      may++;
    else
      never++;
    run_free(&run);
  }
  assert_true(never > 0 && may > 0);
}

/* Words of the trade for what no signature changes: too much for the metal, too little thread,
 * parts that do not go together. */
static void physics_is_never_conceded(void **state) {
  (void)state;
  static const Rule physics[] = {RULE_PAST_PROOF, RULE_ENGAGEMENT_SHORT, RULE_BOTTOMS_OUT,
                                 RULE_MATES_DIFFER};
  for (size_t i = 0; i < sizeof physics / sizeof *physics; i++)
    assert_false(rule_info(physics[i])->can_concede);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(what_may_not_be_conceded_stands),
      cmocka_unit_test(physics_is_never_conceded),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
