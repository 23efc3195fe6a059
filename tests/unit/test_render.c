/* Findings as text and as JSON. */
#include "unit/test.h"

#include "diag/render.h"

static const char *rendered(Run *run, size_t most) {
  Text text = text_new(run->arena);
  findings_sort(run->findings);
  render_findings(&text, run->findings, most);
  return text_done(&text);
}

static const char *rendered_json(Run *run) {
  Text text = text_new(run->arena);
  findings_sort(run->findings);
  render_findings_json(&text, run->findings);
  return text_done(&text);
}

static Source *source_of(Run *run, const char *text) {
  return source_new(run->arena, "build.yaml", text, strlen(text));
}

static void whole_finding(void **state) {
  (void)state;
  Run run = run_new();
  Source *source = source_of(&run, "job: J1\nbore: 84 furlong\n");
  Source *other = source_new(run.arena, "specs/unit.yaml", "a\nb\n", 4);
  Finding *finding =
      finding_add(&run, RULE_UNKNOWN_UNIT, place_at(source, 2, 10, 7), "no unit \"furlong\"");
  finding_note(&run, finding, place_at(other, 2, 1, 1), "lengths are listed here");
  finding_note(&run, finding, place_at(other, 0, 0, 1), "in this file");
  finding_note(&run, finding, place_at(NULL, 0, 0, 1), "nowhere");
  finding_way_out(&run, finding, "write mm, um or in");
  assert_string_equal(rendered(&run, 0),
                      "build.yaml:2:10: refused: no unit \"furlong\" [unknown-unit]\n"
                      "    2 | bore: 84 furlong\n"
                      "      |          ^^^^^^^\n"
                      "  specs/unit.yaml:2:1: lengths are listed here\n"
                      "  specs/unit.yaml: in this file\n"
                      "  nowhere\n"
                      "  way out: write mm, um or in\n");
  run_free(&run);
}

static void without_a_line(void **state) {
  (void)state;
  Run run = run_new();
  Source *source = source_of(&run, "");
  finding_add(&run, RULE_NO_FILE, place_at(NULL, 0, 0, 1), "there is no file x.yaml");
  finding_add(&run, RULE_TOO_BIG, place_at(source, 0, 0, 1), "9 MB, at most 4 MB are read");
  Finding *conceded = finding_add(&run, RULE_NO_HOLD, place_at(source, 0, 0, 1), "no hold");
  conceded->severity = SEVERITY_CONCERN;
  conceded->conceded = true;
  assert_string_equal(rendered(&run, 0),
                      "cannot read: there is no file x.yaml [no-file]\n"
                      "build.yaml: cannot read: 9 MB, at most 4 MB are read [too-big]\n"
                      "build.yaml: concern: no hold [no-hold] (by concession)\n");
  run_free(&run);
}

/* The last line of the rendered text: the mark's. */
static const char *mark_line(Run *run, const char *text, int column, int width) {
  run->findings->list.n = 0;
  finding_add(run, RULE_BAD_WORD, place_at(source_of(run, text), 1, column, width), "x");
  const char *all = rendered(run, 0);
  return strchr(strchr(all, '\n') + 1, '\n') + 1;
}

static void mark_stands_under_the_characters(void **state) {
  (void)state;
  Run run = run_new();
  assert_string_equal(mark_line(&run, "\xC3\xB8\xC2\xB1: word", 5, 4), "      |     ^^^^\n");
  assert_string_equal(mark_line(&run, "\ta:\tword", 5, 4), "      |     ^^^^\n");
  assert_string_equal(mark_line(&run, "word", 1, 40), "      | ^^^^\n"); /* ends with the line */
  assert_string_equal(mark_line(&run, "a:", 3, 1), "      |   ^\n");     /* just behind it */
  assert_string_equal(mark_line(&run, "a:", 30, 9), "      |   ^\n");
  assert_string_equal(mark_line(&run, "", 1, 3), "      | ^\n");
  assert_string_equal(mark_line(&run, "a", 0, 0), "      | ^\n");
  run_free(&run);
}

/* The shown line and the mark: the marked word stands right above the mark. */
static void check_cut(Run *run, const char *text, int column, int width, const char *word) {
  run->findings->list.n = 0;
  finding_add(run, RULE_BAD_WORD, place_at(source_of(run, text), 1, column, width), "x");
  const char *line = strchr(rendered(run, 0), '\n') + 1;
  const char *mark = strchr(line, '\n') + 1;
  assert_true((size_t)(mark - line) <= 8 + 120 + 6 + 1);
  assert_true(strlen(mark) <= 8 + 120 + 6 + 1);
  size_t at = strcspn(mark, "^"), marked = strspn(mark + at, "^");
  assert_int_equal(marked, strlen(word));
  assert_memory_equal(line + at, word, marked);
}

static void long_lines_are_cut_around_the_mark(void **state) {
  (void)state;
  Run run = run_new();
  char text[1001];
  for (int i = 0; i < 1000; i++) text[i] = (char)('a' + i % 26);
  text[1000] = '\0';
  memcpy(text, "FIRST", 5);
  memcpy(text + 500, "WORD", 4);
  memcpy(text + 996, "LAST", 4);
  check_cut(&run, text, 1, 5, "FIRST");
  check_cut(&run, text, 501, 4, "WORD");
  check_cut(&run, text, 997, 4, "LAST");
  char all[121];
  memcpy(all, text + 500, 120);
  all[120] = '\0';
  check_cut(&run, text, 501, 400, all);
  text[120] = '\0';
  run.findings->list.n = 0;
  finding_add(&run, RULE_BAD_WORD, place_at(source_of(&run, text), 1, 1, 1), "x");
  assert_null(strstr(rendered(&run, 0), "...")); /* 120 are shown whole */
  run_free(&run);
}

static void nothing_reaches_the_terminal_raw(void **state) {
  (void)state;
  Run run = run_new();
  Source *source = source_of(&run, "a: \x1B[31mred\x07 \xE2\x80\xAEx \xC2\x9Bm \xFF");
  finding_add(&run, RULE_BAD_WORD, place_at(source, 1, 4, 1), "\"\x1B[31m\n\"");
  assert_string_equal(rendered(&run, 0),
                      "build.yaml:1:4: refused: \"\xEF\xBF\xBD[31m \" [bad-word]\n"
                      "    1 | a: \xEF\xBF\xBD[31mred\xEF\xBF\xBD \xEF\xBF\xBDx \xEF\xBF\xBDm "
                      "\xEF\xBF\xBD\n"
                      "      |    ^\n");
  run_free(&run);
}

static void rest_is_counted(void **state) {
  (void)state;
  Run run = run_new();
  for (int i = 0; i < 5; i++) {
    finding_add(&run, RULE_NO_FILE, place_at(NULL, 0, 0, 1), "file %d", i);
  }
  assert_string_equal(rendered(&run, 3), "cannot read: file 0 [no-file]\n"
                                         "cannot read: file 1 [no-file]\n"
                                         "cannot read: file 2 [no-file]\n"
                                         "2 more findings not shown\n");
  assert_null(strstr(rendered(&run, 5), "not shown"));
  assert_non_null(strstr(rendered(&run, 4), "\n1 more finding not shown\n"));
  run_free(&run);
}

static void json(void **state) {
  (void)state;
  Run run = run_new();
  assert_string_equal(rendered_json(&run), "{\"findings\": [], \"refused\": false}\n");
  Source *source = source_of(&run, "bore: x\n");
  Finding *finding = finding_add(&run, RULE_NO_FILE, place_at(source, 1, 7, 1),
                                 "\"a\\b\"\x01\n\xC3\xB8\xFF\xE2\x80\xAE");
  finding_note(&run, finding, place_at(NULL, 0, 0, 1), "n");
  finding_way_out(&run, finding, "w");
  assert_string_equal(
      rendered_json(&run),
      "{\"findings\": [\n"
      "  {\"rule\": \"no-file\", \"severity\": \"cannot read\", \"conceded\": false, "
      "\"file\": \"build.yaml\", \"line\": 1, \"column\": 7, \"width\": 1, "
      "\"text\": \"\\\"a\\\\b\\\"\\u0001\\u000a\xC3\xB8\xEF\xBF\xBD\\u202e\", \"subject\": null, "
      "\"way_out\": \"w\", \"why\": \"Without the file there is nothing to compile.\", "
      "\"notes\": [{\"file\": null, \"line\": null, \"column\": null, \"width\": null, "
      "\"text\": \"n\"}]}\n"
      "], \"refused\": true}\n");
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(whole_finding),
      cmocka_unit_test(without_a_line),
      cmocka_unit_test(mark_stands_under_the_characters),
      cmocka_unit_test(long_lines_are_cut_around_the_mark),
      cmocka_unit_test(nothing_reaches_the_terminal_raw),
      cmocka_unit_test(rest_is_counted),
      cmocka_unit_test(json),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
