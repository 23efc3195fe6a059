/* Parts in their places, names in formulas, facts, conditions, circles. */
#include "unit/small_twin.h"

#define STACK_HEAD                                                                                 \
  "kind: relation\nname: Stack\nsource: common practice\nquantities:\n"                            \
  "  clearance: {label: Q, per: cylinder, unit: mm, places: 3, formula: \"= barrel.bore - "        \
  "piston.diameter\"}\n"

static void the_twin_resolves(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin_with(&run, NULL, 0);
  assert_non_null(job);
  assert_no_refusal(&run);
  /* the engine, two cylinders, two valves in each */
  assert_int_equal(job->instances.n, 7);
  assert_string_equal(job->instances.at[2]->path, "left.intake");
  assert_string_equal(job->instances.at[2]->label, "left cylinder, intake valve");
  assert_string_equal(job->instances.at[6]->path, "right.exhaust");
  const Quantity *clearance = quantity_at(job, "clearance", "left");
  assert_string_equal(clearance->key, "clearance, left");
  assert_close(clearance->predicted.nominal, 70e-6, 0, 1e-12);
  assert_close(clearance->predicted.low, 65e-6, 0, 1e-12);
  assert_close(clearance->predicted.high, 75e-6, 0, 1e-12);
  assert_int_equal(clearance->outcome, OUTCOME_PASS);
  assert_close(quantity_at(job, "half_clearance", "right")->predicted.nominal, 35e-6, 0, 1e-12);
  assert_close(quantity_at(job, "widest", "")->predicted.high, 75e-6, 0, 1e-12);
  assert_close(quantity_at(job, "valve_lift", "right.exhaust")->predicted.nominal, 9e-3, 0, 1e-12);
  assert_close(quantity_at(job, "intake_left", "")->predicted.nominal, 9.5e-3, 0, 1e-12);
  assert_close(quantity_at(job, "gas_load", "")->predicted.nominal, 650, 1e-9, 0);
  assert_int_equal(quantity_at(job, "rev_limit", "")->predicted.state, VALUE_UNKNOWN);
  run_free(&run);
}

/* Two pistons are two leaves, one crank is one: the stroke counts the throw twice. */
static void a_leaf_for_each_part(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin_with(&run, NULL, 0);
  const FactValue *left = job_fact(job, "piston", "diameter", job_instance(job, "left"));
  const FactValue *right = job_fact(job, "piston", "diameter", job_instance(job, "right"));
  const FactValue *crank = job_fact(job, "crank", "throw", job_instance(job, "left"));
  assert_non_null(left);
  assert_non_null(right);
  assert_non_null(crank);
  assert_int_not_equal(left->node, right->node);
  assert_string_equal(graph_name(job->graph, left->node), "piston.diameter, left");
  assert_ptr_equal(crank, job_fact(job, "crank", "throw", job->instances.at[0]));
  const Range *stroke = &quantity_at(job, "stroke", "")->predicted;
  assert_int_equal(stroke->by_leaf.n, 1);
  assert_close(stroke->high - stroke->low, 80e-6, 1e-9, 0);
  /* one lobe for both cylinders */
  const FactValue *lift = job_fact(job, "cam", "lift", job_instance(job, "right.intake"));
  assert_ptr_equal(lift, job_fact(job, "cam", "lift", job_instance(job, "left.intake")));
  run_free(&run);
}

static void none_brings_the_engines_facts(void **state) {
  (void)state;
  Run run = run_new();
  Job *job =
      twin(&run, {"build.yaml", BUILD TOURING "parts: {piston: piston_83, base_gasket: none}\n"});
  assert_no_refusal(&run);
  assert_true(job_role(job, "base_gasket")->none);
  assert_close(quantity_at(job, "stack", "")->predicted.nominal, 127.2e-3, 0, 1e-12);
  run_free(&run);
}

static void roles_are_filled_once_and_rightly(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, {"build.yaml", BUILD TOURING "parts: {piston: crank_1, base_gaskt: none}\n"});
  assert_found(&run, RULE_WRONG_ROLE, 1);
  assert_found(&run, RULE_UNKNOWN_NAME, 1);
  assert_found(&run, RULE_ROLE_UNFILLED, 0); /* the gasket is there, its place is misspelt */
  assert_says(finding_of(&run, RULE_UNKNOWN_NAME)->way_out, "base_gasket");
  assert_says(finding_of(&run, RULE_WRONG_ROLE)->text, "crank");
  run_free(&run);
}

static void the_engine_needs_its_crank(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, {"build.yaml", BUILD TOURING
                    "parts: {piston: piston_83, base_gasket: paper_04, crank: none}\n"});
  assert_found(&run, RULE_ROLE_UNFILLED, 1);
  assert_int_equal(run.findings->list.n, 1); /* and not a word about its throw */
  run_free(&run);
}

static void choices_are_words_of_the_engine(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, {"build.yaml", BUILD PARTS "choices: {use: turing}\n"});
  assert_only_finding(&run, RULE_BAD_WORD);
  assert_says(run.findings->list.at[0]->way_out, "touring");
  run_free(&run);
  run = run_new();
  (void)twin(&run, {"build.yaml", BUILD PARTS});
  assert_only_finding(&run, RULE_MISSING_KEY);
  run_free(&run);
}

static void unknown_names_get_the_nearest(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, {"lib/specs/relations/stack.yaml", STACK_HEAD
                    "  a: {label: Q, unit: mm, formula: \"= clearence[left] + 1 mm\"}\n"
                    "  b: {label: Q, unit: mm, formula: \"= barel.bore\"}\n"
                    "  c: {label: Q, unit: mm, formula: \"= barrel.bor\"}\n"
                    "  d: {label: Q, unit: mm, formula: \"= clearance\"}\n"
                    "  e: {label: Q, unit: mm, formula: \"= cylinder[lefft].clearance\"}\n"
                    "  f: {label: Q, unit: Pa, formula: \"= pressure\"}\n"
                    "  g: {label: Q, unit: mm, formula: \"= cam.lift\"}\n"});
  assert_found(&run, RULE_UNKNOWN_NAME, 7);
  const char *const hints[] = {
      "clearance",       "barrel",          "bore", "largest(cylinder, clearance)", "left",
      "engine.pressure", "cam[intake].lift"};
  for (size_t i = 0; i < 7; i++) assert_says(run.findings->list.at[i]->way_out, hints[i]);
  run_free(&run);
  run = run_new();
  (void)twin(&run, {"lib/specs/relations/stack.yaml",
                    STACK_HEAD "  a: {label: Q, unit: mm, formula: \"= barrel.roughness\"}\n"
                               "needs: [{that: \"a > 0 mm\", why: it shows}]\n"});
  assert_only_finding(&run, RULE_NO_VALUE);
  assert_says(run.findings->list.at[0]->text, "Bore sheet");
  run_free(&run);
}

/* Nothing hangs on a or b: they are not known, and say what they lack. */
static void what_is_only_printed_may_lack(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(&run, {"lib/specs/relations/stack.yaml", STACK_HEAD
                         "  a: {label: Q, unit: mm, formula: \"= b + 1 mm\"}\n"
                         "  b: {label: Q, unit: mm, formula: \"= barrel.roughness\"}\n"});
  assert_no_refusal(&run);
  const Quantity *a = quantity_at(job, "a", "");
  assert_int_equal(a->predicted.state, VALUE_POISON);
  assert_int_equal(a->outcome, OUTCOME_NOT_LIMITED);
  assert_int_equal(a->lacks.n, 1);
  assert_string_equal(a->lacks.at[0], "barrel.roughness");
  assert_int_equal(quantity_at(job, "clearance", "left")->lacks.n, 0);
  job->need(job, &run, a);
  job->need(job, &run, quantity_at(job, "b", ""));
  assert_only_finding(&run, RULE_NO_VALUE);
  run_free(&run);
}

static void a_circle_is_shown_as_a_path(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(&run, {"lib/specs/relations/stack.yaml",
                         STACK_HEAD "  a: {label: Q, unit: mm, formula: \"= b + 1 mm\"}\n"
                                    "  b: {label: Q, unit: mm, formula: \"= c\"}\n"
                                    "  c: {label: Q, unit: mm, formula: \"= a / 2\"}\n"
                                    "  d: {label: Q, unit: mm, formula: \"= a\"}\n"});
  assert_only_finding(&run, RULE_FORMULA_CIRCLE);
  assert_says(run.findings->list.at[0]->text, "a -> b -> c -> a");
  assert_int_equal(run.findings->list.at[0]->notes.n, 3);
  assert_int_equal(quantity_at(job, "d", "")->predicted.state, VALUE_POISON);
  run_free(&run);
}

static void a_condition_on_itself_is_a_circle(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(
      &run,
      {"lib/specs/parts/crank_1.yaml",
       "kind: part\nname: Crank\nrole: crank\n" SOURCE_OF(
           "Twinmaker") "values: {throw: [{value: 39.8 mm, when: \"crank.throw > 1 mm\"}]}\n"});
  assert_found(&run, RULE_FORMULA_CIRCLE, 1);
  run_free(&run);
}

static void deep_chains_end(void **state) {
  (void)state;
  Run run = run_new();
  Text text = text_new(run.arena);
  text_add(&text, STACK_HEAD);
  for (int i = 0; i < 1000; i++)
    text_addf(&text, "  q%d: {label: Q, unit: mm, formula: \"= q%d\"}\n", i, i + 1);
  text_add(&text, "  q1000: {label: Q, unit: mm}\n");
  (void)twin(&run, {"lib/specs/relations/stack.yaml", text_done(&text)});
  assert_true(run_count(&run, RULE_TOO_BIG) > 0);
  run_free(&run);
}

static void values_under_conditions(void **state) {
  (void)state;
  static const char gasket[] = "kind: part\nname: Paper gasket\nrole: base_gasket\n" SOURCE_OF(
      "Paperworks") "values: {thickness: [{value: 0.50 mm, when: \"use is racing\"}, {value: 0.40 "
                    "mm, when: "
                    "\"piston is piston_83\"}]}\n";
  Run run = run_new();
  Job *job = twin(&run, {"lib/specs/parts/paper_04.yaml", gasket});
  assert_no_refusal(&run);
  assert_close(quantity_at(job, "stack", "")->predicted.nominal, 127.6e-3, 0, 1e-12);
  run_free(&run);
  run = run_new();
  job = twin(
      &run,
      {"lib/specs/parts/paper_04.yaml",
       "kind: part\nname: Paper gasket\nrole: base_gasket\n" SOURCE_OF(
           "Paperworks") "values: {thickness: [{value: 0.50 mm, when: \"use is racing\"}]}\n"});
  assert_no_refusal(&run);
  job->need(job, &run, quantity_at(job, "stack", ""));
  assert_only_finding(&run, RULE_NO_VALUE);
  assert_says(run.findings->list.at[0]->text, "only with use is racing");
  run_free(&run);
}

static void conditions_ask_for_exact_facts(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(
      &run,
      {"lib/specs/relations/stack.yaml", STACK_HEAD
       "  a: {label: Q, unit: mm, formula: [{value: \"= 1 mm\", when: \"barrel.bore > 80 mm\"}]}\n"
       "  b: {label: Q, unit: mm, formula: [{value: \"= 1 mm\", when: \"barrel.height > 80 "
       "mm\"}]}\n"
       "  c: {label: Q, unit: mm, formula: [{value: \"= 1 mm\", when: \"a > 80 mm\"}]}\n"
       "  d: {label: Q, unit: mm, formula: [{value: \"= 1 mm\", when: \"use is not racing and "
       "barrel.bore < 90 mm\"}]}\n"});
  assert_found(&run, RULE_NOT_EXACT, 2);
  assert_int_equal(run.findings->list.n, 2);
  run_free(&run);
}

/* The branch that speaks of a gasket is not asked for when there is none. */
static void dead_branches_are_not_asked(void **state) {
  (void)state;
  Run run = run_new();
  Job *job =
      twin(&run, {"build.yaml", BUILD TOURING "parts: {piston: piston_83, base_gasket: none}\n"},
           {"lib/specs/relations/stack.yaml",
            STACK_HEAD "  a: {label: Q, unit: mm, formula: \"= if(base_gasket is none, 1 mm, "
                       "base_gasket.width)\"}\n"});
  assert_no_refusal(&run);
  assert_close(quantity_at(job, "a", "")->predicted.nominal, 1e-3, 0, 1e-12);
  run_free(&run);
}

static void dimensions_are_the_units(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, {"lib/specs/relations/stack.yaml",
                    STACK_HEAD "  a: {label: Q, unit: cm3, formula: \"= barrel.bore\"}\n"
                               "  b: {label: Q, unit: cm3, formula: \"= a * 2\"}\n"});
  assert_only_finding(&run, RULE_WRONG_DIMENSION);
  run_free(&run);
  run = run_new(); /* a number whose unit was forgotten is pointed at on its sheet */
  (void)twin(&run, {"lib/specs/parts/barrel_83.yaml",
                    "kind: part\nname: Barrel\nrole: barrel\n" SOURCE_OF(
                        "Bore") "values: {bore: 83.400 mm, height: 127.20 +-0.03}\n"});
  assert_only_finding(&run, RULE_WRONG_DIMENSION);
  assert_says(run.findings->list.at[0]->text, "barrel.height has no unit");
  assert_says(run.findings->list.at[0]->at.source->path, "barrel_83.yaml");
  run_free(&run);
}

static void division_by_zero_once(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run,
             {"lib/specs/relations/stack.yaml", STACK_HEAD
              "  a: {label: Q, unit: \"\", formula: \"= barrel.bore / (barrel.bore - 83.4 mm)\"}\n"
              "  b: {label: Q, unit: \"\", formula: \"= a * 2\"}\n"});
  assert_only_finding(&run, RULE_DIVISION_BY_ZERO);
  run_free(&run);
}

static void the_build_states_facts(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(&run, {"build.yaml", BUILD PARTS TOURING
                         "facts: {rev_limit: 6800 rpm, piston.diameter: {left: {value: 83.325 mm, "
                         "why: measured}}, pressure: {value: 7 MPa, why: measured}}\n"});
  assert_no_refusal(&run);
  assert_close(quantity_at(job, "rev_limit", "")->predicted.nominal,
               6800 * 2 * 3.14159265358979 / 60, 1e-9, 0);
  assert_string_equal(quantity_at(job, "rev_limit", "")->stated.says, "6800 rpm");
  assert_close(quantity_at(job, "clearance", "left")->predicted.nominal, 75e-6, 0, 1e-12);
  assert_close(quantity_at(job, "clearance", "right")->predicted.nominal, 70e-6, 0, 1e-12);
  assert_close(quantity_at(job, "gas_load", "")->predicted.nominal, 700, 1e-9, 0);
  assert_found(&run, RULE_SHEET_OVERRULED, 2);
  run_free(&run);
}

static void facts_nobody_knows_are_slips(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, {"build.yaml", BUILD PARTS TOURING
                    "facts: {rev_limt: 6800 rpm, crank.thorw: 39.8 mm, crnk.throw: 39.8 mm}\n"});
  assert_found(&run, RULE_UNKNOWN_NAME, 3);
  for (size_t i = 0; i < run.findings->list.n; i++)
    assert_non_null(run.findings->list.at[i]->way_out);
  run_free(&run);
}

static void a_fact_stated_for_one_member_only(void **state) {
  (void)state;
  Run run = run_new();
  (void)twin(&run, {"build.yaml", BUILD PARTS TOURING "facts: {piston.skirt: {left: 40 mm}}\n"},
             {"lib/specs/relations/stack.yaml", STACK_HEAD
              "  a: {label: Q, per: cylinder, unit: mm, formula: \"= piston.skirt\"}\n"});
  assert_only_finding(&run, RULE_UNKNOWN_NAME);
  assert_says(run.findings->list.at[0]->text, "the build");
  run_free(&run);
}

static void needs_become_truths(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(
      &run,
      {"lib/specs/parts/barrel_83.yaml",
       "kind: part\nname: Barrel\nrole: barrel\n" SOURCE_OF(
           "Bore") "values: {bore: 83.400 mm, height: 127.20 +-0.03 mm}\n"
                   "needs: [{that: \"clearance > 0.07 mm\", why: heat}, {that: \"barrel.bore < "
                   "84 mm\"}]\n"});
  assert_int_equal(job->needs.n, 3); /* one for each cylinder, one for the barrel */
  Range range = graph_range(job->graph, run.arena, job->needs.at[0].truth, NULL);
  assert_close(range.low, 0, 0, 1e-12);
  assert_close(graph_evaluate(job->graph, job->needs.at[2].truth, NULL).si, 1, 0, 1e-12);
  run_free(&run);
}

static void a_candidate_overrides_leaves(void **state) {
  (void)state;
  Run run = run_new();
  Job *job =
      twin(&run,
           {"lib/specs/parts/paper_08.yaml",
            "kind: part\nname: Thick gasket\nrole: base_gasket\n" SOURCE_OF(
                "Paperworks") "values: {thickness: 0.80 mm}\n"},
           {"build.yaml", BUILD PARTS TOURING
            "targets: [{quantity: stack, want: 128 mm, role: base_gasket, parts: [paper_08]}]\n"});
  assert_no_refusal(&run);
  assert_int_equal(job->build->targets.n, 1);
  const Entry *thick = job->build->targets.at[0].parts.at[0].entry;
  assert_non_null(thick);
  assert_int_equal(job->targets.n, 1);
  assert_true(job->targets.at[0].reached);
  assert_string_equal(job->targets.at[0].says, "Thick gasket gives 128.00 mm, 128.00 mm is wanted");
  Overrides overrides = {0};
  assert_true(job->candidate(job, &run, job_role(job, "base_gasket"), thick, &overrides));
  assert_int_equal(overrides.n, 1);
  assert_close(graph_evaluate(job->graph, quantity_at(job, "stack", "")->value, &overrides).si,
               128e-3, 0, 1e-12);
  run_free(&run);
}

static void targets_are_proposals(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin(
      &run, {"build.yaml", BUILD PARTS TOURING
             "targets:\n"
             "  - {quantity: stack, want: 128.03 mm, by: base_gasket.thickness, from: 0.2 mm, "
             "to: 1.2 mm, step: 0.05 mm}\n"
             "  - {quantity: stack, want: 130 mm, by: base_gasket.thickness, from: 0.2 mm, to: "
             "1.2 mm, step: 0.05 mm}\n"
             "  - {quantity: clearance, want: 0.090 mm, by: piston.diameter, from: 83.2 mm, "
             "to: 83.4 mm, step: 0.005 mm}\n"
             "  - {quantity: stack, want: 128 mm, by: base_gasket.thicknes, from: 0.2 mm, to: "
             "1.2 mm, step: 0.05 mm}\n"});
  assert_only_finding(&run, RULE_UNKNOWN_NAME);
  assert_int_equal(job->targets.n, 3); /* both cylinders come out alike */
  const JobTarget *target = &job->targets.at[0];
  assert_true(target->reached);
  assert_int_equal(target->lines.n, 3);
  assert_true(target->lines.at[1].nearest);
  assert_close(target->lines.at[1].si, 0.85e-3, 1e-9, 0);
  assert_close(target->lines.at[1].result, 128.05e-3, 1e-9, 0);
  assert_string_equal(target->says, "0.85 mm gives 128.05 mm, 128.03 mm is wanted");
  target = &job->targets.at[1];
  assert_false(target->reached);
  assert_says(target->says, "best reachable: 1.20 mm");
  target = &job->targets.at[2];
  assert_close(target->lines.at[1].si, 83.31e-3, 1e-9, 0);
  assert_false(target->lines.at[1].inside); /* 0.080 mm at most */
  run_free(&run);
}

static void readings_take_the_place_of_predictions(void **state) {
  (void)state;
  Run run = run_new();
  Job *job = twin_with(&run, NULL, 0);
  Quantity *clearance = job_quantity(job, "clearance", job_instance(job, "left"), NULL);
  Reading one = {.position = "front", .si = 82e-6, .half = 1e-6};
  Reading two = {.position = "rear", .si = 84e-6, .half = 1e-6};
  vec_push(run.arena, &clearance->readings, one);
  vec_push(run.arena, &clearance->readings, two);
  clearance->read_complete = true;
  resolve_readings(&run, job);
  assert_close(clearance->predicted.nominal, 83e-6, 0, 1e-12);
  assert_int_equal(clearance->outcome, OUTCOME_DISJOINT);
  assert_close(quantity_at(job, "half_clearance", "left")->predicted.high, 42e-6, 0, 1e-12);
  assert_close(quantity_at(job, "half_clearance", "right")->predicted.nominal, 35e-6, 0, 1e-12);
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(the_twin_resolves),
      cmocka_unit_test(a_leaf_for_each_part),
      cmocka_unit_test(none_brings_the_engines_facts),
      cmocka_unit_test(roles_are_filled_once_and_rightly),
      cmocka_unit_test(the_engine_needs_its_crank),
      cmocka_unit_test(choices_are_words_of_the_engine),
      cmocka_unit_test(unknown_names_get_the_nearest),
      cmocka_unit_test(what_is_only_printed_may_lack),
      cmocka_unit_test(a_circle_is_shown_as_a_path),
      cmocka_unit_test(a_condition_on_itself_is_a_circle),
      cmocka_unit_test(deep_chains_end),
      cmocka_unit_test(values_under_conditions),
      cmocka_unit_test(conditions_ask_for_exact_facts),
      cmocka_unit_test(dead_branches_are_not_asked),
      cmocka_unit_test(dimensions_are_the_units),
      cmocka_unit_test(division_by_zero_once),
      cmocka_unit_test(the_build_states_facts),
      cmocka_unit_test(facts_nobody_knows_are_slips),
      cmocka_unit_test(a_fact_stated_for_one_member_only),
      cmocka_unit_test(needs_become_truths),
      cmocka_unit_test(a_candidate_overrides_leaves),
      cmocka_unit_test(targets_are_proposals),
      cmocka_unit_test(readings_take_the_place_of_predictions),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
