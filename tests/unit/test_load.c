/* Entries from nodes: every kind, every form a value may have. */
#include "unit/shelf.h"

/* ---- which entries ---- */

static void only_what_is_used(void **state) {
  (void)state;
  Run run = run_new();
  const char *const files[] = {"job.yaml",
                               HEAD "parts: {piston: p, base_gasket: none}\n",
                               ENGINE,
                               SHOP,
                               "lib/specs/parts/p.yaml",
                               PART "material: al\n",
                               "own/specs/parts/p.yaml",
                               PART "number: own\nmaterial: al\n",
                               "lib/specs/materials/al.yaml",
                               "kind: material\nname: Aluminium\n",
                               "lib/specs/parts/other.yaml",
                               "never: [read",
                               NULL};
  Library *library = load(&run, files);
  expect_none(&run);
  assert_int_equal(library->list.n, 5);
  assert_int_equal(library->list.at[0]->kind, ENTRY_ENGINE);
  assert_int_equal(library->list.at[4]->kind, ENTRY_BUILD);
  assert_ptr_equal(library->build, library->list.at[4]);
  assert_string_equal(library->build->id, "job");
  const Entry *part = library_find(library, ENTRY_PART, "p");
  assert_string_equal(part->is.part.number.s, "own"); /* the first library wins */
  assert_ptr_equal(part->is.part.material.entry, library_find(library, ENTRY_MATERIAL, "al"));
  const BuildEntry *build = &library->build->is.build;
  assert_int_equal(build->parts.n, 2);
  assert_string_equal(build->parts.at[1].part.id, "none");
  assert_null(build->parts.at[1].part.entry);
  assert_null(library_find(library, ENTRY_PART, "other"));
  assert_null(library_find(library, ENTRY_PART, NULL));
  run_free(&run);
}

static void unknown_entry(void **state) {
  (void)state;
  Run run = run_new();
  const char *const files[] = {"job.yaml", HEAD "parts: {piston: forged_48}\n", ENGINE,
                               SHOP,       "lib/specs/parts/forged_84.yaml",    PART,
                               NULL};
  assert_non_null(load(&run, files));
  assert_only_finding(&run, RULE_NO_ENTRY);
  const Finding *finding = run.findings->list.at[0];
  assert_string_equal(finding->way_out, "did you mean \"forged_84\"?");
  assert_non_null(strstr(finding->text, "own/specs/parts or lib/specs/parts"));
  assert_int_equal(finding->at.line, 7);
  assert_int_equal(finding->at.column, 17);
  run_free(&run);
}

static void never_a_path(void **state) {
  (void)state;
  static const char *const ids[] = {"../../x", "a/b",     "a\\b",        ".x",
                                    "a..b",    "\"a b\"", "\"\xC3\xA9\""};
  for (size_t i = 0; i < sizeof ids / sizeof *ids; i++) {
    Run run = run_new();
    const char *build = arena_printf(run.arena, HEAD "parts: {piston: %s}\n", ids[i]);
    const char *const files[] = {"job.yaml", build, ENGINE, SHOP, NULL};
    assert_non_null(load(&run, files));
    assert_only_finding(&run, RULE_BAD_WORD);
    run_free(&run);
  }
}

static void wrong_kind_is_said_once(void **state) {
  (void)state;
  Run run = run_new();
  const char *const files[] = {"job.yaml",
                               HEAD "parts: {piston: p, pin: p}\n",
                               ENGINE,
                               SHOP,
                               "lib/specs/parts/p.yaml",
                               "kind: shop\nname: x\n",
                               NULL};
  Library *library = load(&run, files);
  assert_only_finding(&run, RULE_WRONG_KIND);
  assert_null(library->build->is.build.parts.at[0].part.entry);
  assert_null(library->build->is.build.parts.at[1].part.entry);
  run_free(&run);
}

static void build_is_absent_or_none(void **state) {
  (void)state;
  Run run = run_new();
  const char *const nothing[] = {NULL};
  assert_null(load(&run, nothing));
  assert_only_finding(&run, RULE_NO_FILE);
  run_free(&run);
  run = run_new();
  const char *const list[] = {"job.yaml", "- a\n", NULL};
  assert_null(load(&run, list));
  assert_only_finding(&run, RULE_WRONG_TYPE);
  run_free(&run);
}

static void one_entry_alone(void **state) {
  (void)state;
  Run run = run_new();
  const char *const files[] = {"lib/specs/parts/p.yaml", PART "material: gone\n", NULL};
  Shelf shelf = {files};
  LoadSource source = source_of(&run, &shelf);
  const Entry *entry = load_entry(&run, &source, ENTRY_PART, "p");
  expect_none(&run);
  assert_string_equal(entry->name.s, "Part");
  assert_string_equal(entry->is.part.material.id, "gone");
  assert_null(entry->is.part.material.entry);
  assert_string_equal(source_print(run.arena, entry, "4"), "M S 1, page 4");
  assert_null(load_entry(&run, &source, ENTRY_PART, "q"));
  assert_only_finding(&run, RULE_NO_ENTRY);
  run_free(&run);
}

static void revision(void **state) {
  (void)state;
  Run run = run_new();
  const char *all[3], *part[3];
  static const char *const builds[] = {HEAD, HEAD, HEAD "copy: \"2\"\n"};
  static const char *const shops[] = {"kind: shop\nname: Shop\n", "kind: shop\nname: Ship\n",
                                      "kind: shop\nname: Shop\n"};
  for (int i = 0; i < 3; i++) {
    const char *const files[] = {"job.yaml", builds[i], ENGINE, "lib/specs/shop/s.yaml",
                                 shops[i],   NULL};
    load_revision(&run, load(&run, files), &all[i], &part[i]);
  }
  expect_none(&run);
  assert_int_equal(strlen(all[0]), 64);
  assert_string_not_equal(all[0], part[0]);
  assert_string_not_equal(part[0], part[1]);
  assert_string_not_equal(all[0], all[2]);
  assert_string_equal(part[0], part[2]);
  run_free(&run);
}

/* ---- values and limits ---- */

static void values(void **state) {
  (void)state;
  Run run = run_new();
  const PartEntry *part = load_part(
      &run, PART "values:\n"
                 "  bore: 83.40 +-0.005 mm\n"
                 "  height: {value: 127.20 +-0.03 mm, page: \"2\", note: with the spigot}\n"
                 "  thickness: [{value: 0.60 mm, when: \"use is touring\"}, {value: 0.80 mm}]\n"
                 "  lift: {intake: {\"0\": 1.51 mm, \"5\": 1.88 mm}, exhaust: \"= 2 * bore\"}\n"
                 "  gap: {value: {top: 1 mm, second: 2 mm}, page: \"3\"}\n");
  expect_none(&run);
  assert_int_equal(part->values.n, 5);
  const ValueDecl *bore = part->values.at[0];
  assert_string_equal(bore->name, "bore");
  assert_int_equal(bore->choices.n, 1);
  assert_int_equal(bore->choices.at[0].value.kind, EXPR_LITERAL);
  assert_close(bore->choices.at[0].value.literal.high, 0.083405, 1e-12, 0);
  assert_string_equal(part->values.at[1]->choices.at[0].page.s, "2");
  assert_string_equal(part->values.at[1]->choices.at[0].note.s, "with the spigot");
  const ValueDecl *thickness = part->values.at[2];
  assert_int_equal(thickness->choices.n, 2);
  assert_non_null(thickness->choices.at[0].when);
  assert_null(thickness->choices.at[1].when);
  const ValueDecl *lift = part->values.at[3];
  assert_int_equal(lift->choices.n, 3);
  assert_int_equal(lift->choices.at[1].member.n, 2);
  assert_string_equal(lift->choices.at[1].member.at[0], "intake");
  assert_string_equal(lift->choices.at[1].member.at[1], "5");
  assert_int_equal(lift->choices.at[2].value.kind, EXPR_FORMULA);
  const ValueDecl *gap = part->values.at[4];
  assert_int_equal(gap->choices.n, 2);
  assert_string_equal(gap->choices.at[1].member.at[0], "second");
  assert_string_equal(gap->choices.at[1].page.s, "3");
  run_free(&run);
}

static void limits(void **state) {
  (void)state;
  Run run = run_new();
  const PartEntry *part = load_part(
      &run,
      PART "limits:\n"
           "  squish: 0.85 to 1.15 mm\n"
           "  rev_limit: at most 7000 rpm\n"
           "  depth: 5.0 +-0.1 mm\n"
           "  gap: {top: {min: \"= 0.0045 * barrel.bore\", max: 0.45 mm}, second: at least 1 mm}\n"
           "  lash: [{allowed: 0.10 to 0.15 mm, when: \"use is racing\", occasion: mock-up},\n"
           "    {allowed: 0.05 to 0.10 mm}]\n"
           "  opens: {min: 10 deg BTDC, max: 14 deg BTDC}\n");
  expect_none(&run);
  const LimitChoice *squish = &part->limits.at[0]->choices.at[0];
  assert_close(squish->min.literal.nominal, 0.85e-3, 1e-12, 0);
  assert_close(squish->max.literal.nominal, 1.15e-3, 1e-12, 0);
  assert_string_equal(squish->min.literal.text, "0.85 mm");
  assert_int_equal(squish->target.kind, EXPR_NONE);
  assert_int_equal(part->limits.at[1]->choices.at[0].min.kind, EXPR_NONE);
  assert_close(part->limits.at[2]->choices.at[0].target.literal.nominal, 5e-3, 1e-12, 0);
  const LimitDecl *gap = part->limits.at[3];
  assert_int_equal(gap->choices.n, 2);
  assert_int_equal(gap->choices.at[0].min.kind, EXPR_FORMULA);
  assert_string_equal(gap->choices.at[1].member.at[0], "second");
  const LimitDecl *lash = part->limits.at[4];
  assert_string_equal(lash->choices.at[0].occasion.s, "mock-up");
  assert_non_null(lash->choices.at[0].when);
  /* Before top dead centre 14 degrees are earlier than 10. */
  const LimitChoice *opens = &part->limits.at[5]->choices.at[0];
  assert_true(opens->min.literal.nominal < opens->max.literal.nominal);
  run_free(&run);
}

static void joints(void **state) {
  (void)state;
  Run run = run_new();
  const PartEntry *part = load_part(
      &run,
      PART "joints:\n"
           "  nuts:\n"
           "    thread: M10x1.25\n"
           "    count: 8\n"
           "    places: {1: [0, 0], 2: [92 mm, -4 mm]}\n"
           "  record:\n"
           "    lubricant: not_stated\n"
           "    torque: 46 N.m (33.9 lbf.ft)\n"
           "    passes: [{to: 15 N.m, only: [1, 4]}, {back_off: 1 turn}, {to: hand}, {undo: all}, "
           "{check: Look at it}, {to: final}]\n");
  expect_none(&run);
  const JointDecl *nuts = part->joints.at[0], *record = part->joints.at[1];
  assert_true(nuts->hardware && !nuts->bundle);
  assert_true(!record->hardware && record->bundle);
  assert_int_equal(nuts->count.n, 8);
  assert_close(nuts->places.at[1].x.literal.nominal, 0.092, 1e-12, 0);
  assert_close(nuts->places.at[0].y.literal.nominal, 0, 0, 0);
  assert_true(dim_same(nuts->places.at[0].y.literal.unit->dim, DIM_LENGTH));
  assert_string_equal(record->lubricant.id, "not_stated");
  static const PassKind kinds[] = {PASS_TO,   PASS_BACK_OFF, PASS_HAND,
                                   PASS_UNDO, PASS_CHECK,    PASS_FINAL};
  assert_int_equal(record->passes.n, 6);
  for (size_t i = 0; i < 6; i++) assert_int_equal(record->passes.at[i].kind, kinds[i]);
  assert_int_equal(record->passes.at[0].only.n, 2);
  assert_string_equal(record->passes.at[4].text.s, "Look at it");
  run_free(&run);
}

static void steps(void **state) {
  (void)state;
  Run run = run_new();
  const char *const files[] = {"job.yaml",
                               HEAD "procedures: [work]\n",
                               ENGINE,
                               SHOP,
                               "lib/templates/procedures/work.yaml",
                               "kind: procedure\nname: Work\nneeds: {sets: [cylinder]}\nblocks:\n"
                               "  - id: b\n    steps:\n"
                               "      - {id: one, wait: 24 h}\n"
                               "      - {id: two, wait: Wait until it is cold., tighten: [{joint: "
                               "x}, {turn_over: 2 turn}]}\n"
                               "      - {id: three, wait: 10 min, do: Press it in.}\n"
                               "      - id: four\n        decide: Choose.\n        table: {row: "
                               "{quantity: q, from: 0 mm, to: 1 mm, "
                               "step: 0.1 mm}, answers: [a]}\n",
                               NULL};
  Library *library = load(&run, files);
  expect_none(&run);
  const ProcedureEntry *work = &library_find(library, ENTRY_PROCEDURE, "work")->is.procedure;
  assert_string_equal(work->needs_sets.at[0].s, "cylinder");
  const BlockDecl *block = work->blocks.at[0];
  assert_int_equal(block->steps.n, 4);
  assert_int_equal(block->steps.at[0]->kind, STEP_WAIT);
  assert_close(block->steps.at[0]->wait.literal.nominal, 86400, 0, 0);
  assert_int_equal(block->steps.at[1]->wait.kind, EXPR_NONE);
  assert_string_equal(block->steps.at[1]->text.s, "Wait until it is cold.");
  assert_int_equal(block->steps.at[1]->tighten.at[0].kind, PASS_OWN);
  assert_int_equal(block->steps.at[1]->tighten.at[1].kind, PASS_TURN_OVER);
  assert_int_equal(block->steps.at[2]->kind, STEP_DO);
  assert_close(block->steps.at[2]->wait.literal.nominal, 600, 0, 0);
  assert_non_null(block->steps.at[3]->table);
  assert_string_equal(block->steps.at[3]->table->row.quantity.s, "q");
  run_free(&run);
}

/* ---- what is made from the tables ---- */

static size_t count_of(const char *text, const char *word) {
  size_t n = 0;
  for (; (text = strstr(text, word)) != NULL; text++) n++;
  return n;
}

static void schema_and_reference(void **state) {
  (void)state;
  Run run = run_new();
  Words ids[ENTRY_KIND_COUNT] = {{0}};
  vec_push(run.arena, &ids[ENTRY_PART], "forged_84");
  Text schema = text_new(run.arena), page = text_new(run.arena);
  load_schema_json(&schema, (const Words *)ids);
  const char *json = text_done(&schema);
  assert_int_equal(count_of(json, "{"), count_of(json, "}"));
  assert_non_null(strstr(json, "\"forged_84\""));
  assert_non_null(strstr(json, "\"lubricant\""));
  /* Editors on old YAML take these words for true and false; yes and no only beside those. */
  static const char *const magic[] = {"\"on\"", "\"off\"", "\"null\"}"};
  for (size_t i = 0; i < sizeof magic / sizeof *magic; i++) assert_null(strstr(json, magic[i]));
  assert_int_equal(count_of(json, "\"no\""), count_of(json, "\"yes\", \"no\", true, false]"));
  load_reference_markdown(&page);
  for (int kind = 0; kind < ENTRY_KIND_COUNT; kind++) {
    const char *head = arena_printf(run.arena, "\n## %s\n", entry_kind_word((EntryKind)kind));
    assert_non_null(strstr(text_done(&page), head));
  }
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(only_what_is_used),
      cmocka_unit_test(unknown_entry),
      cmocka_unit_test(never_a_path),
      cmocka_unit_test(wrong_kind_is_said_once),
      cmocka_unit_test(build_is_absent_or_none),
      cmocka_unit_test(one_entry_alone),
      cmocka_unit_test(revision),
      cmocka_unit_test(values),
      cmocka_unit_test(limits),
      cmocka_unit_test(joints),
      cmocka_unit_test(steps),
      cmocka_unit_test(schema_and_reference),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
