/* Times, faces, holds, demands, joints tightened again, and the places findings name. */
#include "unit/planning.h"

#define ENGINE(more)                                                                               \
  {                                                                                                \
    "lib/specs/engines/twin.yaml",                                                                 \
        "kind: engine\nname: Twin\n" BENCH_SOURCE "sets:\n"                                        \
        "  cylinder: {members: [left, right]}\n"                                                   \
        "roles:\n  barrel: {label: Barrel, part: barrel_1}\n"                                      \
        "  gasket: {label: Head gasket, part: gasket_06, optional: optional}\n"                    \
        "choices: {use: [road]}\nrelations: [stack]\n" more                                        \
  }
#define STACK                                                                                      \
  {                                                                                                \
    "lib/specs/relations/stack.yaml",                                                              \
        "kind: relation\nname: Stack\nsource: common practice\nquantities:\n"                      \
        "  deck: {label: Deck, per: cylinder, unit: mm, formula: \"= 0.4 mm\"}\n"                  \
  }
#define WORK           "  - id: a\n    title: T\n    steps:\n"
#define STEP(id, more) "      - {id: " id ", do: Do it." more "}\n"
#define GLUE                                                                                       \
  {                                                                                                \
    "lib/specs/consumables/glue.yaml",                                                             \
        "kind: consumable\nname: Glue\nuse: sealing\nopen_time: 10 min\ncure: 12 h\n"              \
  }

static const Shelf plain[] = {ENGINE(""), STACK};

static Plan *plan_plain(Run *run, const char *work) {
  return plan_with(run, work, plain, COUNT_OF(plain));
}

static void windows_between_waits(void **state) {
  (void)state;
  static const struct {
    const char *work;
    size_t found;
  } cases[] = {
      {STEP("x", "") "      - {id: w, wait: 30 min}\n" STEP("y", ", since: x, within: 30 min"), 0},
      {STEP("x", "") "      - {id: w, wait: 31 min}\n" STEP("y", ", since: x, within: 30 min"), 1},
      {"      - {id: w, wait: 31 min}\n" STEP("x", "") STEP("y", ", since: x, within: 30 min"), 0},
      {STEP("x", "") STEP("y", ", since: x, within: 10 min, not_before: 1 h"), 1},
      {STEP("x", "") STEP("y", ", since: x, within: 1 h, not_before: 10 min"), 0},
  };
  for (size_t i = 0; i < COUNT_OF(cases); i++) {
    Run run = run_new();
    plan_plain(&run, arena_printf(run.arena, WORK "%s", cases[i].work));
    assert_found(&run, RULE_TIME_WINDOW, cases[i].found);
    run_free(&run);
  }
}

static void open_time_and_cure(void **state) {
  (void)state;
  static const struct {
    const char *work, *sheet;
    size_t found;
  } cases[] = {
      {STEP("x", ", uses: [glue]") "      - {id: w, wait: 11 min}\n" STEP("y", ", fits: [barrel]"),
       "bench", 1},
      {STEP("x", ", uses: [glue], fits: [barrel]") "      - {id: w, wait: 11 min}\n", "bench", 0},
      {STEP("x", ", uses: [glue], fits: [barrel]") STEP("run", ""), "start", 1},
      {STEP("x", ", uses: [glue], fits: [barrel]") "      - {id: w, wait: 12 h}\n" STEP("run", ""),
       "start", 0},
      {STEP("x", ", uses: [glue], fits: [barrel]") STEP("run", ", since: x, not_before: 12 h"),
       "start", 0},
  };
  for (size_t i = 0; i < COUNT_OF(cases); i++) {
    Run run = run_new();
    const Shelf more[] = {
        ENGINE(""),
        STACK,
        GLUE,
        {"lib/templates/procedures/first.yaml",
         arena_printf(
             run.arena,
             "kind: procedure\nname: First\nsource: common practice\nsheet: %s\nblocks:\n" WORK
             "%s",
             cases[i].sheet, cases[i].work)}};
    plan_with(&run, "", more, COUNT_OF(more));
    assert_found(&run, RULE_TIME_WINDOW, cases[i].found);
    run_free(&run);
  }
}

static void faces_are_sealed_once(void **state) {
  (void)state;
  const Shelf more[] = {
      ENGINE("faces: {base: {label: base joint, per: cylinder, sealed_by: [gasket, sealant]}}\n"),
      STACK};
  static const struct {
    const char *work;
    size_t open, twice;
  } cases[] = {
      {STEP("x", ""), 0, 0},
      {STEP("x", ", fits: [gasket], seals: [base]"), 0, 0},
      {STEP("x", ", fits: [gasket]"), 1, 0},
      {STEP("x", ", makes: [\"clean base\"]"), 1, 0},
      {STEP("x", ", seals: [\"base[left]\"]"), 1, 0},
      {STEP("x", ", seals: [base]") STEP("y", ", seals: [\"base[left]\"]"), 0, 1},
      {STEP("x", ", fits: [gasket], seals: [base]") STEP("o", ", removes: [gasket]")
           STEP("y", ", fits: [gasket], seals: [base]"),
       0, 0},
  };
  for (size_t i = 0; i < COUNT_OF(cases); i++) {
    Run run = run_new();
    plan_with(&run, arena_printf(run.arena, WORK "%s", cases[i].work), more, COUNT_OF(more));
    assert_found(&run, RULE_FACE_UNSEALED, cases[i].open);
    assert_found(&run, RULE_FACE_TWICE, cases[i].twice);
    run_free(&run);
  }
}

static void holds_and_measurements(void **state) {
  (void)state;
  const Shelf more[] = {
      ENGINE("holds: [all clean]\ndemands: [{measure: [deck], why: it is new}]\n"), STACK};
  Run run = run_new();
  plan_with(&run, WORK STEP("x", ""), more, COUNT_OF(more));
  assert_found(&run, RULE_NO_HOLD, 1);
  assert_found(&run, RULE_NOT_MEASURED, 1);
  assert_says(finding_of(&run, RULE_NOT_MEASURED)->text, "it is new");
  run_free(&run);
  run = run_new();
  plan_with(&run,
            WORK "      - {id: h, hold: Look., hold_kind: all clean}\n"
                 "      - {id: m, record: R., for_each: cylinder, boxes: [{quantity: deck, gauge: "
                 "depth, only: record}]}\n",
            more, COUNT_OF(more));
  assert_no_refusal(&run);
  run_free(&run);
}

/* A joint of the engine's own that nobody touches is left alone. */
static void joints_tightened_again(void **state) {
  (void)state;
  static const struct {
    const char *work;
    size_t wrong, loose;
  } cases[] = {
      {STEP("x", ""), 0, 0},
      {STEP("x", ", fits: [barrel]"), 0, 1},
      {STEP("x", ", disturbs: nuts"), 0, 1},
      {STEP("x", ", disturbs: nuts, tighten: [{joint: nuts}]"), 0, 0},
      {STEP("x", ", disturbs: nuts") STEP("y", ", tighten: [{joint: nuts, to: final}]"), 0, 0},
      {STEP("x", ", tighten: [{joint: nuts}, {joint: nuts, to: final}]"), 0, 0},
      {STEP("x", ", tighten: [{joint: nuts}, {joint: nuts, undo: all}]"), 0, 1},
      {STEP("x", ", tighten: [{joint: nuts, to: 10 N.m}]"), 1, 0},
      {STEP("x", ", tighten: [{joint: nuts, only: [1, 2, 3]}]"), 0, 1},
      {STEP("x", ", tighten: [{joint: nuts, only: [1, 2, 3]}, {joint: nuts, only: [4]}]"), 0, 0},
  };
  for (size_t i = 0; i < COUNT_OF(cases); i++) {
    Run run = run_new();
    plan_plain(&run, arena_printf(run.arena, WORK "%s", cases[i].work));
    assert_found(&run, RULE_TIGHTENED_WRONG, cases[i].wrong);
    assert_found(&run, RULE_NOT_TIGHTENED, cases[i].loose);
    run_free(&run);
  }
}

static void new_ones_are_not_tried(void **state) {
  (void)state;
  const Shelf more[] = {
      ENGINE(""),
      STACK,
      {"lib/specs/parts/barrel_1.yaml",
       "kind: part\nname: Plain barrel\nrole: barrel\n" BENCH_SOURCE "values: {bore: 83 mm}\n"
       "joints:\n  nuts: {label: Nuts, thread: M8, class: \"8.8\", count: 1, reuse: new,\n"
       "    lubricant: oil, threadlock: none, torque: 18 N.m}\n"}};
  const char *trial = "tighten: [{joint: nuts}, {joint: nuts, undo: all}]";
  Run run = run_new();
  plan_with(&run,
            arena_printf(run.arena, WORK STEP("x", ", %s") STEP("y", ", tighten: [{joint: nuts}]"),
                         trial),
            more, COUNT_OF(more));
  assert_found(&run, RULE_REUSED_STRETCH, 1);
  assert_found(&run, RULE_NOT_TIGHTENED, 0);
  run_free(&run);
}

/* A barrel for each cylinder, with threadlocker on its nuts; the work starts the engine. */
#define LOCKED_TWIN                                                                                \
  {"lib/specs/engines/twin.yaml",                                                                  \
   "kind: engine\nname: Twin\n" BENCH_SOURCE "sets:\n  cylinder: {members: [left, right]}\n"       \
   "roles:\n  barrel: {label: Barrel, per: cylinder, part: barrel_1}\n"                            \
   "  gasket: {label: Head gasket, part: gasket_06, optional: optional}\n"                         \
   "choices: {use: [road]}\nrelations: [stack]\n"},                                                \
      STACK,                                                                                       \
      {"lib/specs/fasteners/threadlockers/lock.yaml",                                              \
       "kind: threadlocker\nname: Lock\nsource: common practice\nk: 0.15 to 0.20\n"                \
       "strength: medium\ncure: 12 h\n"},                                                          \
  {                                                                                                \
    "lib/specs/parts/barrel_1.yaml",                                                               \
        "kind: part\nname: Barrel\nrole: barrel\n" BENCH_SOURCE "values: {bore: 83 mm}\n"          \
        "joints:\n  nuts: {label: Nuts, thread: M8, class: \"8.8\", count: 1, reuse: any,\n"       \
        "    lubricant: none, threadlock: lock, torque: 18 N.m}\n"                                 \
  }

static void one_finding_for_all_members(void **state) {
  (void)state;
  const Shelf more[] = {LOCKED_TWIN};
  static const char *const works[] = {STEP("x", ", fits: [barrel]"),
                                      STEP("x", ", fits: [barrel], tighten: [{joint: nuts}]")
                                          STEP("y", ", for_each: cylinder, disturbs: nuts")};
  for (size_t i = 0; i < COUNT_OF(works); i++) {
    Run run = run_new();
    plan_with(&run, arena_printf(run.arena, WORK "%s", works[i]), more, COUNT_OF(more));
    assert_found(&run, RULE_NOT_TIGHTENED, 1);
    assert_says(finding_of(&run, RULE_NOT_TIGHTENED)->text, "Nuts, left and right");
    run_free(&run);
  }
}

/* The engine is run when the threadlocker of its joints has cured, and not before. */
static void threadlocker_cures(void **state) {
  (void)state;
  const Shelf more[] = {LOCKED_TWIN};
#define ON   STEP("x", ", fits: [barrel], tighten: [{joint: nuts}]")
#define RUN  STEP("run", ", makes: [running]")
#define WAIT "      - {id: w, wait: 12 h}\n"
  static const struct {
    const char *work;
    size_t found;
  } cases[] = {
      {ON, 0}, /* not run in this packet */
      {ON RUN, 1},
      {ON WAIT RUN, 0},
      {ON RUN WAIT, 1},
      {WAIT ON RUN, 1},
      {ON STEP("w", ", since: x, not_before: 12 h") RUN, 0},
      /* counted from a step before the joint was tightened */
      {STEP("b", "") ON STEP("w", ", since: b, not_before: 12 h") RUN, 1},
      {ON STEP("y", ", tighten: [{joint: nuts, undo: all}, {joint: nuts}]") RUN, 1},
  };
  for (size_t i = 0; i < COUNT_OF(cases); i++) {
    Run run = run_new();
    plan_with(&run, arena_printf(run.arena, WORK "%s", cases[i].work), more, COUNT_OF(more));
    assert_found(&run, RULE_TIME_WINDOW, cases[i].found);
    run_free(&run);
  }
}

/* A time that passes is told with what is done then, and both times are written down. */
static void failing_times_are_told(void **state) {
  (void)state;
  Run run = run_new();
  Plan *plan = plan_plain(
      &run,
      WORK STEP("x", "") "      - {id: w, wait: 5 min}\n" STEP(
          "y",
          ", since: x, fail_after: 20 min, otherwise: Begin again.") "      - {id: z, wait: Until "
                                                                     "it turns., fail_after: 1 h, "
                                                                     "otherwise: Stop.}\n");
  assert_no_refusal(&run);
  assert_string_equal(plan->steps.at[0]->times.at[0], "Time done, for {step:3}");
  assert_says(plan->steps.at[2]->times.at[0], "20 min after {step:1}");
  assert_says(plan->steps.at[2]->notes.at[0], "Later than 20 min after {step:1}: Begin again.");
  assert_string_equal(plan->steps.at[3]->times.at[0], "Time begun");
  assert_says(plan->steps.at[3]->notes.at[0], "Not done 60 min after it was begun: Stop.");
  run_free(&run);
}

static void steps_for_parts_there_are_none_of(void **state) {
  (void)state;
  const Shelf more[] = {
      ENGINE(""),
      STACK,
      {"build.yaml", "kind: build\nname: B\njob: J-1\ndate: 2026-01-05\nengine: twin\nshop: shop\n"
                     "parts: {gasket: none}\nchoices: {use: road}\nprocedures: [first]\n"}};
  Run run = run_new();
  plan_with(&run, WORK STEP("x", ", fits: [gasket]"), more, COUNT_OF(more));
  assert_found(&run, RULE_ROLE_UNFILLED, 1);
  assert_says(finding_of(&run, RULE_ROLE_UNFILLED)->way_out, "gasket is not none");
  run_free(&run);
  run = run_new();
  plan_with(&run, WORK STEP("x", ", when: \"gasket is not none\", fits: [gasket]") STEP("y", ""),
            more, COUNT_OF(more));
  assert_no_refusal(&run);
  run_free(&run);
}

/* After "fit", which it asks for by name, the mouth is open again from "reopen" on. */
static void the_earliest_place(void **state) {
  (void)state;
  const Shelf more[] = {ENGINE("openings: {mouth: {label: mouth, starts: open, swallows: all}}\n"),
                        STACK};
  Run run = run_new();
  plan_with(&run,
            WORK STEP("fit", "") STEP("shut", ", closes: [mouth]")
                STEP("read", ", after: [fit], through: [mouth]") STEP("reopen", ", opens: [mouth]")
                    STEP("last", ", closes: [mouth]"),
            more, COUNT_OF(more));
  const Finding *finding = finding_of(&run, RULE_MEASURED_CLOSED);
  assert_says(finding->text, "closed since step 2 (shut)");
  assert_says(finding->way_out, "right after step 1 (fit)");
  assert_int_equal(finding->notes.n, 1);
  assert_int_equal(run.findings->list.n, 1);
  run_free(&run);
  run = run_new();
  plan_with(&run,
            WORK STEP("shut", ", closes: [mouth]") STEP("fit", "")
                STEP("read", ", after: [fit], through: [mouth]") STEP("reopen", ", opens: [mouth]")
                    STEP("last", ", closes: [mouth]"),
            more, COUNT_OF(more));
  assert_says(finding_of(&run, RULE_MEASURED_CLOSED)->way_out, "right after step 4 (reopen)");
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(windows_between_waits),
      cmocka_unit_test(open_time_and_cure),
      cmocka_unit_test(faces_are_sealed_once),
      cmocka_unit_test(holds_and_measurements),
      cmocka_unit_test(joints_tightened_again),
      cmocka_unit_test(new_ones_are_not_tried),
      cmocka_unit_test(one_finding_for_all_members),
      cmocka_unit_test(threadlocker_cures),
      cmocka_unit_test(failing_times_are_told),
      cmocka_unit_test(steps_for_parts_there_are_none_of),
      cmocka_unit_test(the_earliest_place),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
