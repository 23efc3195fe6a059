/* Whose limits hold: rank, agreement, narrowing, settling, and the outcome. */
#include "model/job_words.h"
#include "unit/small_twin.h"

#define BARREL(limits)                                                                             \
  {                                                                                                \
    "lib/specs/parts/barrel_83.yaml",                                                              \
        "kind: part\nname: Barrel\nrole: barrel\n" SOURCE_OF(                                      \
            "Bore") "values: {bore: 83.400 mm, height: 127.20 +-0.03 mm}\nlimits: {" limits "}\n"  \
  }
#define CRANK(limits)                                                                              \
  {                                                                                                \
    "lib/specs/parts/crank_1.yaml",                                                                \
        "kind: part\nname: Crank\nrole: crank\n" SOURCE_OF(                                        \
            "Twinmaker") "values: {throw: 39.80 +-0.02 mm}\nlimits: {" limits "}\n"                \
  }
#define BUILT(more)                                                                                \
  { "build.yaml", BUILD PARTS TOURING more }

static const Allowed *clearance_allowed(const Job *job) {
  return &quantity_at(job, "clearance", "left")->allowed;
}

static void expect_band(const Allowed *allowed, double low, double high) {
  assert_true(allowed->said);
  assert_close(allowed->min_now.si, low, 0, 1e-12);
  assert_close(allowed->max_now.si, high, 0, 1e-12);
}

/* The maker of the piston is party to the clearance; practice gives way in silence. */
static void a_party_outranks_practice(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin_with(&run, NULL, 0);
  const Allowed *allowed = clearance_allowed(job);
  expect_band(allowed, 65e-6, 80e-6);
  assert_int_equal(allowed->winner.rank, RANK_PARTY);
  assert_string_equal(allowed->winner.says, "0.065 to 0.080 mm");
  assert_int_equal(allowed->losers.n, 1);
  assert_int_equal(run.findings->list.n, 0);
  run_free(&run);
}

static void no_party_ranks_with_the_engine(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(&run, CRANK("clearance: 0.010 to 0.020 mm"));
  expect_band(clearance_allowed(job), 65e-6, 80e-6);
  assert_found(&run, RULE_SHEET_OVERRULED, 1);
  assert_int_equal(run.findings->list.n, 1);
  assert_says(run.findings->list.at[0]->text, "0.010 to 0.020 mm");
  run_free(&run);
}

/* A band that a formula gives, off the grid of its three places: 83.330 / 1270 = 0.06561 mm and
 * 83.330 / 1050 = 0.07936 mm. Where limits are to be kept, one rounds always the same way: ISO
 * 80000-1:2009, annex B (from memory). */
static void printed_limits_are_rounded_inward(void **state) {
  (void)state;
  Run run = run_new();
  const Job *job =
      twin(&run, {"lib/specs/parts/piston_83.yaml",
                  "kind: part\nname: Piston\nrole: piston\n" SOURCE_OF(
                      "Orrest") "values: {diameter: 83.330 +-0.005 mm}\n"
                                "limits: {clearance: {min: \"= piston.diameter / 1270\", max: \"= "
                                "piston.diameter / 1050\"}}\n"});
  assert_no_refusal(&run);
  const Quantity *clearance = quantity_at(job, "clearance", "left");
  assert_close(clearance->allowed.min_now.si, 65.614e-6, 0, 1e-9);
  assert_string_equal(allowed_print(run.arena, clearance), "0.066 to 0.079 mm");
  run_free(&run);
}

static void overlapping_bands_are_narrowed(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(&run, BARREL("clearance: {min: 0.070 mm, target: 0.085 mm, max: 0.090 mm}"));
  expect_band(clearance_allowed(job), 70e-6, 80e-6);
  assert_false(clearance_allowed(job)->has_target); /* outside what both allow */
  assert_only_finding(&run, RULE_SHEETS_NARROWED);
  run_free(&run);
}

static void the_same_band_in_inches_agrees(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(&run, BARREL("clearance: 0.0026 to 0.0031 in"));
  assert_int_equal(run.findings->list.n, 0);
  expect_band(clearance_allowed(job), 66.04e-6, 78.74e-6); /* the first that spoke, whole */
  run_free(&run);
}

static void disjoint_bands_wait_for_somebody(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(&run, BARREL("clearance: 0.090 to 0.100 mm"));
  assert_only_finding(&run, RULE_SHEETS_DISAGREE);
  assert_says(run.findings->list.at[0]->text, "Orrest sheet");
  assert_says(run.findings->list.at[0]->text, "Bore sheet");
  assert_says(run.findings->list.at[0]->way_out, "settle");
  assert_int_equal(quantity_at(job, "clearance", "left")->outcome, OUTCOME_POISON);
  run_free(&run);
  run = run_new();
  job = twin(&run, BARREL("clearance: 0.090 to 0.100 mm"),
             BUILT("settle: {clearance: {sheet: barrel_83, why: plated bore}}\n"));
  assert_no_refusal(&run);
  expect_band(clearance_allowed(job), 90e-6, 100e-6);
  assert_int_equal(quantity_at(job, "clearance", "left")->outcome, OUTCOME_DISJOINT);
  run_free(&run);
}

static void settling_names_a_sheet_that_speaks(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, BUILT("settle: {clearance: {sheet: cam_1, why: none}, clearanse: {sheet: "
                         "piston_83, why: none}}\n"));
  assert_found(&run, RULE_UNKNOWN_NAME, 2);
  run_free(&run);
}

static void a_build_may_narrow(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(&run, BUILT("limits: {clearance: {max: 0.072 mm, why: quiet}}\n"));
  assert_no_refusal(&run);
  expect_band(clearance_allowed(job), 65e-6, 72e-6); /* the lower end stays the maker's */
  assert_int_equal(clearance_allowed(job)->winner.rank, RANK_BUILD);
  assert_int_equal(quantity_at(job, "clearance", "left")->outcome, OUTCOME_OVERLAP);
  run_free(&run);
}

static void a_build_that_widens_is_refused(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, BUILT("limits: {clearance: {min: 0.050 mm, max: 0.080 mm, why: quiet}}\n"));
  assert_only_finding(&run, RULE_LIMIT_WIDENED);
  assert_string_equal(run.findings->list.at[0]->subject, "clearance");
  run_free(&run);
}

static void limits_by_member_and_formula(void **state) {
  (void)state;
  Run run = run_new();
  Job *job =
      twin(&run, CRANK("valve_lift: {intake: {max: \"= 0.12 * barrel.bore\"}, exhaust: {max: "
                       "8.5 mm}}"));
  assert_no_refusal(&run);
  assert_close(quantity_at(job, "valve_lift", "left.intake")->allowed.max_now.si, 0.12 * 83.4e-3,
               1e-12, 0);
  assert_int_equal(quantity_at(job, "valve_lift", "left.intake")->outcome, OUTCOME_PASS);
  assert_int_equal(quantity_at(job, "valve_lift", "right.exhaust")->outcome, OUTCOME_DISJOINT);
  assert_int_equal(quantity_at(job, "stroke", "")->outcome, OUTCOME_NOT_LIMITED);
  run_free(&run);
}

static void worked_out_limits_may_be_reversed(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, CRANK("stroke: {min: \"= 2 * barrel.bore\", max: 80 mm}"));
  assert_only_finding(&run, RULE_BAND_REVERSED);
  run_free(&run);
}

static void a_limit_of_another_dimension(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, CRANK("stroke: {max: 80 N.m}"));
  assert_only_finding(&run, RULE_WRONG_DIMENSION);
  run_free(&run);
}

static void limits_under_conditions(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(&run, CRANK("stroke: [{allowed: 70 to 75 mm, when: \"use is racing\"}, {allowed: "
                              "79 to 80 mm}]"));
  assert_no_refusal(&run);
  assert_int_equal(quantity_at(job, "stroke", "")->outcome, OUTCOME_PASS);
  run_free(&run);
  run = run_new();
  job = twin(&run, CRANK("stroke: [{allowed: 70 to 75 mm, when: \"use is racing\"}]"));
  assert_only_finding(&run, RULE_NO_VALUE);
  assert_int_equal(quantity_at(job, "stroke", "")->outcome, OUTCOME_POISON);
  run_free(&run);
}

static void occasions_are_nodes_of_their_own(void **state) {
  (void)state;
  Run run = run_new();
  Job *job =
      twin(&run, CRANK("stroke: [{allowed: 70 to 90 mm, occasion: as found}, {allowed: 79 to "
                       "80 mm}]"));
  assert_no_refusal(&run);
  const Quantity *found = job_quantity(job, "stroke", job->instances.at[0], "as found");
  assert_non_null(found);
  assert_int_equal(found->outcome, OUTCOME_UNKNOWN);
  assert_close(found->allowed.max_now.si, 90e-3, 0, 1e-12);
  assert_int_equal(quantity_at(job, "stroke", "")->outcome, OUTCOME_PASS);
  run_free(&run);
}

static void limits_of_nothing_are_slips(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, CRANK("strok: {max: 80 mm}"));
  assert_only_finding(&run, RULE_UNKNOWN_NAME);
  assert_says(run.findings->list.at[0]->way_out, "stroke");
  run_free(&run);
}

static void limits_for_members_it_has(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, CRANK("valve_lift: {intak: {max: 9.9 mm}}"));
  assert_only_finding(&run, RULE_UNKNOWN_NAME);
  assert_says(run.findings->list.at[0]->way_out, "intake");
  run_free(&run);
}

static void one_sided_and_report_only(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(&run,
                  {"lib/specs/relations/stack.yaml",
                   "kind: relation\nname: Stack\nsource: common practice\nquantities:\n"
                   "  clearance: {label: Q, per: cylinder, unit: mm, formula: \"= barrel.bore - "
                   "piston.diameter\"}\n"
                   "  proud: {label: Q, unit: mm, formula: \"= 0 mm - 0.1 mm\"}\n"
                   "  noted: {label: Q, unit: mm, formula: \"= 5 mm\", report: only}\n"},
                  CRANK("proud: at most 0 mm, noted: {max: 1 mm}"));
  assert_no_refusal(&run);
  assert_int_equal(quantity_at(job, "proud", "")->outcome, OUTCOME_PASS);
  assert_int_equal(quantity_at(job, "noted", "")->outcome, OUTCOME_NOT_LIMITED);
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_party_outranks_practice),
      cmocka_unit_test(no_party_ranks_with_the_engine),
      cmocka_unit_test(printed_limits_are_rounded_inward),
      cmocka_unit_test(overlapping_bands_are_narrowed),
      cmocka_unit_test(the_same_band_in_inches_agrees),
      cmocka_unit_test(disjoint_bands_wait_for_somebody),
      cmocka_unit_test(settling_names_a_sheet_that_speaks),
      cmocka_unit_test(a_build_may_narrow),
      cmocka_unit_test(a_build_that_widens_is_refused),
      cmocka_unit_test(limits_by_member_and_formula),
      cmocka_unit_test(worked_out_limits_may_be_reversed),
      cmocka_unit_test(a_limit_of_another_dimension),
      cmocka_unit_test(limits_under_conditions),
      cmocka_unit_test(occasions_are_nodes_of_their_own),
      cmocka_unit_test(limits_of_nothing_are_slips),
      cmocka_unit_test(limits_for_members_it_has),
      cmocka_unit_test(one_sided_and_report_only),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
