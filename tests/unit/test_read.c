/* YAML to nodes with places; what is refused, and what is said of it. */
#include "unit/test.h"

#include "base/text.h"
#include "read/yaml.h"

/* What one slip gives: rule, place, and words that the finding or its cure must hold. */
typedef struct Trap {
  const char *yaml;
  Rule rule;
  int line, column;
  const char *says; /* part of the text or of the way out */
} Trap;

static Node *read(Run *run, const char *yaml) {
  return read_yaml(run, "file.yaml", yaml, strlen(yaml));
}

static void expect_trap(const Trap *trap) {
  Run run = run_new();
  (void)read(&run, trap->yaml);
  if (run.findings->list.n != 1) {
    print_error("%zu findings for:\n%s\n", run.findings->list.n, trap->yaml);
  }
  assert_int_equal(run.findings->list.n, 1);
  const Finding *finding = run.findings->list.at[0];
  const char *way_out = finding->way_out ? finding->way_out : "";
  if (finding->rule != trap->rule ||
      !(strstr(finding->text, trap->says) || strstr(way_out, trap->says))) {
    print_error("for:\n%s\nit says: %s; %s\n", trap->yaml, finding->text, way_out);
  }
  assert_int_equal(finding->rule, trap->rule);
  assert_true(strstr(finding->text, trap->says) || strstr(way_out, trap->says));
  assert_int_equal(finding->at.line, trap->line);
  assert_int_equal(finding->at.column, trap->column);
  run_free(&run);
}

#define EXPECT_TRAPS(...)                                                                          \
  do {                                                                                             \
    static const Trap traps[] = {__VA_ARGS__};                                                     \
    for (size_t i = 0; i < sizeof traps / sizeof *traps; i++) expect_trap(&traps[i]);              \
  } while (0)

/* Text that plain YAML takes in silence for something else. */
static void silent_traps(void **state) {
  (void)state;
  EXPECT_TRAPS({"thread: #10-24\nb: 1\n", RULE_QUOTE_IT, 1, 9, "quote it: \"#10-24\""},
               {"- #3\n- x\n", RULE_QUOTE_IT, 1, 3, "quote it: \"#3\""},
               {"a: M6 #3\n", RULE_QUOTE_IT, 1, 4, "quote it: \"M6 #3\""},
               {"a: {t: M6 #3}\n", RULE_QUOTE_IT, 1, 8, "quote it: \"M6 #3\""},
               {"a: {second: = min(a, b)}\n", RULE_QUOTE_IT, 1, 13, "quote it: \"= min(a, b)\""},
               {"a: [= min(a, b, c), d]\n", RULE_QUOTE_IT, 1, 5, "quote it: \"= min(a, b, c)\""},
               {"a: {v: 1,5 mm}\n", RULE_QUOTE_IT, 1, 8, "1.5 mm"},
               {"a: [1,5 mm]\n", RULE_QUOTE_IT, 1, 5, "1.5 mm"},
               {"a: {bore:84 mm}\n", RULE_QUOTE_IT, 1, 5, "write bore: 84 mm"},
               {"a: !important\n", RULE_QUOTE_IT, 1, 4, "quote it: \"!important\""},
               {"a: &in mm\n", RULE_QUOTE_IT, 1, 4, "quote it: \"&in mm\""},
               {"a: *x\n", RULE_QUOTE_IT, 1, 4, "quote it: \"*x\""},
               {"a: [?x]\n", RULE_QUOTE_IT, 1, 5, "quote it: \"?x\""},
               {"a: {?b: 1}\n", RULE_QUOTE_IT, 1, 5, "a ? at the start is lost"},
               {"? a\n: 1\n", RULE_QUOTE_IT, 1, 1, "a ? at the start is lost"},
               {"a: {b, c: 1}\n", RULE_EMPTY_VALUE, 1, 5, "a list is written [a, b]"},
               {"a: 1\na: 2\n", RULE_REPEATED_KEY, 2, 1, "\"a\" is given twice"},
               {"a:\nb: 1\n", RULE_EMPTY_VALUE, 1, 1, "\"a\" has no value"},
               {"a: # later\nb: 1\n", RULE_EMPTY_VALUE, 1, 1, "before the #"});
}

/* What the parser refuses, in words that help. */
static void outline_slips(void **state) {
  (void)state;
  EXPECT_TRAPS({"a: > 0.5 mm\n", RULE_QUOTE_IT, 1, 4, "at least 0.5 mm"},
               {"a: % duty\n", RULE_QUOTE_IT, 1, 4, "quote it: \"% duty\""},
               {"a: @x\n", RULE_QUOTE_IT, 1, 4, "quote it: \"@x\""},
               {"a: *0.004\n", RULE_QUOTE_IT, 1, 4, "quote it: \"*0.004\""},
               {"note: Fit: down\n", RULE_QUOTE_IT, 1, 7, "quote it: \"Fit: down\""},
               {"a: \"big\" piston\n", RULE_QUOTE_IT, 1, 4, "quote it: '\"big\" piston'"},
               {"a: 'it's'\n", RULE_QUOTE_IT, 1, 4, "quote it: \"it's\""},
               {"a: {ring} gap\n", RULE_QUOTE_IT, 1, 4, "quote it: \"{ring} gap\""},
               {"a: [x] y\n", RULE_QUOTE_IT, 1, 4, "quote it: \"[x] y\""},
               {"name: x\nbore:84 mm\nc: 3\n", RULE_QUOTE_IT, 2, 1, "write bore: 84 mm"},
               {"a:1\nb: 2\n", RULE_QUOTE_IT, 1, 1, "write a: 1"},
               {"a: \"open\nb: 1\n", RULE_NOT_YAML, 1, 4, "never closed"},
               {"a: \"= b\nc: \"q\"\n", RULE_NOT_YAML, 1, 4, "closed only in line 2"},
               {"a: \"x\\m\"\n", RULE_NOT_YAML, 1, 6, "single quotes"},
               {"a: [b, c\nd: 2\n", RULE_NOT_YAML, 1, 4, "[ that opens here"},
               {"a: {b: c}}\n", RULE_NOT_YAML, 1, 10, "closes nothing"},
               {"a: 1\n b: 2\n", RULE_NOT_YAML, 2, 2, "indented deeper"},
               {"a:\n   b: 1\n  c: 2\n", RULE_NOT_YAML, 3, 3, "indented unlike"},
               {"name x\nkind: part\n", RULE_NOT_YAML, 1, 1, "no \"key: \""},
               {"a: 1\n- b\n", RULE_NOT_YAML, 2, 1, "list item"},
               {"a: - 1\n", RULE_NOT_YAML, 1, 4, "list cannot begin"},
               {"a: [,b]\n", RULE_NOT_YAML, 1, 5, "before this comma"},
               {"a: [x:]\n", RULE_NOT_YAML, 1, 6, "without a blank behind it"},
               {"a: {x:[y]}\n", RULE_QUOTE_IT, 1, 5, "no blank after the colon"},
               {"a: [b, c: d: e]\n", RULE_QUOTE_IT, 1, 11, "quote it: \"d: e\""},
               {"a: {b: \"c\" d}\n", RULE_NOT_YAML, 1, 12, "comma or a closing bracket"},
               {"a: {\n", RULE_NOT_YAML, 2, 1, "breaks off here"},
               {"a:\n  -\t- b\n", RULE_NOT_YAML, 2, 4, "a tab stands where"},
               {"a:\n\tb: 1\n", RULE_NOT_YAML, 2, 1, "tab"});
}

static void not_taken(void **state) {
  (void)state;
  EXPECT_TRAPS({"a: !!str 5\n", RULE_NOT_TAKEN, 1, 4, "a tag"},
               {"a: &x\n  b: 1\n", RULE_NOT_TAKEN, 1, 4, "an anchor"},
               {"a: 1\n---\nb: 1\n", RULE_NOT_TAKEN, 2, 1, "second document"},
               {"a: 1\n...\nb: 1\n", RULE_NOT_TAKEN, 3, 1, "one entry"},
               {"%x\na: 1\n", RULE_NOT_TAKEN, 1, 1, "order to the reader"},
               {"[a]: 2\n", RULE_NOT_TAKEN, 1, 1, "where a key belongs"},
               {"a: 1\n<<: b\n", RULE_NOT_TAKEN, 2, 1, "not merged"});
}

static void bytes(void **state) {
  (void)state;
  EXPECT_TRAPS({"%PDF-1.7\n", RULE_NOT_TEXT, 0, 0, "a PDF"},
               {"PK\x03\x04", RULE_NOT_TEXT, 0, 0, "office document"},
               {"a: 20 \xB0"
                "C\n",
                RULE_NOT_TEXT, 1, 7, "degree sign"},
               {"a:\xC2\xA0"
                "b\n",
                RULE_NOT_TEXT, 1, 3, "ordinary blank"},
               {"a: \"x # \xC2\xA0\"\n", RULE_NOT_TEXT, 1, 4, "no-break space"},
               {"a: 1\xE2\x80\xA8"
                "b: 2\n",
                RULE_NOT_TEXT, 1, 5, "U+2028"},
               {"a: 1 # x\xC2\x85"
                "b: 2\n",
                RULE_NOT_TEXT, 1, 9, "U+0085"},
               {"a: 1\rb: 2\r", RULE_NOT_TEXT, 1, 5, "carriage return"},
               {"a: \"\\0\"\n", RULE_NOT_TEXT, 1, 4, "zero character"},
               {"", RULE_NOT_YAML, 0, 0, "holds nothing"},
               {"# only\n", RULE_NOT_YAML, 0, 0, "holds nothing"});
  Run run = run_new();
  assert_null(read_yaml(&run, "f", "a: b\0c\n", 7));
  assert_only_finding(&run, RULE_NOT_TEXT);
  run_free(&run);
}

/* What looks like a trap and is none. */
static void harmless(void **state) {
  (void)state;
  static const char *const texts[] = {"a: M6   # a comment\n",
                                      "a: x ## comment\n",
                                      "a: 1 # x\xC2\xA0y\n",
                                      "only: [1,4]\n",
                                      "at: [0, 92 mm]\n",
                                      "a: \"M6 #3\"\n",
                                      "a: it's\n",
                                      "a: -1 mm\n",
                                      "a: = b + c\n",
                                      "- \"= min(a, b)\"\n- http://x\n",
                                      "a: >\n  folded\n  text\n",
                                      "a: 10:30\n",
                                      "a: Ring gaps, {cylinder} cylinder\n",
                                      "a:\n  - b: 1\n    c: 2\n",
                                      "---\na: 1\n",
                                      "a: x\r\nb: y\r\n",
                                      "{a: {b: [c, d]}}\n",
                                      "a: no\nb: null\nc: ~\n"};
  for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
    Run run = run_new();
    assert_non_null(read(&run, texts[i]));
    if (run.findings->list.n > 0) {
      print_error("%s: %s\n", texts[i], run.findings->list.at[0]->text);
    }
    assert_int_equal(run.findings->list.n, 0);
    run_free(&run);
  }
}

static void places(void **state) {
  (void)state;
  Run run = run_new();
  Node *root = read(&run, "\xEF\xBB\xBF"
                          "m\xC3\xBCll: {a: 'b c', \xC3\xA9: d}\r\nlist:\r\n  - x\r\n");
  assert_non_null(root);
  assert_int_equal(root->kind, NODE_MAP);
  assert_int_equal(root->pairs.n, 2);
  Place key;
  const Node *map = node_find(root, "m\xC3\xBCll", &key);
  assert_int_equal(key.column, 1);
  assert_int_equal(key.width, 4);
  const Node *quoted = node_find(map, "a", NULL);
  assert_string_equal(quoted->text, "b c");
  assert_true(quoted->quoted && quoted->one_line);
  assert_int_equal(quoted->at.column, 12); /* inside the quotes */
  assert_int_equal(quoted->at.width, 3);
  const Node *plain = node_find(map, "\xC3\xA9", &key);
  assert_int_equal(key.column, 18);
  assert_int_equal(plain->at.column, 21);
  const Node *list = node_find(root, "list", NULL);
  assert_int_equal(list->kind, NODE_LIST);
  assert_int_equal(list->items.at[0]->at.line, 3);
  assert_int_equal(list->items.at[0]->at.column, 5);
  run_free(&run);
}

static void lines_and_quotes(void **state) {
  (void)state;
  Run run = run_new();
  Node *root = read(&run, "a: one\n  two\nb: \"x\\ty\"\nc: |\n  t\nd: ''\n");
  assert_non_null(root);
  const Node *plain = node_find(root, "a", NULL);
  assert_string_equal(plain->text, "one two");
  assert_false(plain->one_line || plain->quoted);
  const Node *escaped = node_find(root, "b", NULL);
  assert_true(escaped->quoted);
  assert_false(escaped->one_line); /* columns do not count on past the escape */
  assert_true(node_find(root, "c", NULL)->quoted);
  assert_string_equal(node_find(root, "d", NULL)->text, "");
  assert_int_equal(run.findings->list.n, 0);
  run_free(&run);
}

/* After a trap the text that was meant is there, so that one slip is said once. */
static void meant_text_is_taken(void **state) {
  (void)state;
  Run run = run_new();
  Node *root = read(&run, "a: {f: = min(x, y), bore:84 mm, v: 1,5 mm, z: 1}\nt: #10-24\n");
  const Node *map = node_find(root, "a", NULL);
  assert_int_equal(map->pairs.n, 4);
  assert_string_equal(node_find(map, "f", NULL)->text, "= min(x, y)");
  assert_string_equal(node_find(map, "bore", NULL)->text, "84 mm");
  assert_int_equal(node_find(map, "bore", NULL)->at.column, 26);
  assert_true(node_find(map, "v", NULL)->bad); /* a decimal comma is not guessed at */
  assert_false(node_find(map, "z", NULL)->bad);
  assert_string_equal(node_find(root, "t", NULL)->text, "#10-24");
  assert_int_equal(run.findings->list.n, 4);
  run_free(&run);
}

static void first_place_is_noted(void **state) {
  (void)state;
  Run run = run_new();
  Text text = text_new(run.arena);
  for (int i = 0; i < 40; i++) text_addf(&text, "key%d: 1\n", i);
  text_add(&text, "key3: 2\n");
  Node *root = read(&run, text_done(&text));
  assert_int_equal(root->pairs.n, 40);
  assert_only_finding(&run, RULE_REPEATED_KEY);
  const Finding *finding = run.findings->list.at[0];
  assert_int_equal(finding->at.line, 41);
  assert_int_equal(finding->notes.n, 1);
  assert_int_equal(finding->notes.at[0].at.line, 4);
  run_free(&run);
}

static void expect_too_big(const char *repeat, size_t times, const char *before) {
  Run run = run_new();
  Text text = text_new(run.arena);
  text_add(&text, before);
  for (size_t i = 0; i < times; i++) text_add(&text, repeat);
  assert_null(read_yaml(&run, "f", text_done(&text), text.n));
  assert_only_finding(&run, RULE_TOO_BIG);
  run_free(&run);
}

static void bounds(void **state) {
  (void)state;
  expect_too_big("[", 1000, "a: ");
  expect_too_big("- a\n", 200001, "");
  expect_too_big("x", 20001, "");
  expect_too_big("a: 0123456789\n", 750000, "");
  Run run = run_new();
  Text text = text_new(run.arena);
  for (int i = 0; i < 63; i++) text_add(&text, "[");
  text_add(&text, "x");
  for (int i = 0; i < 63; i++) text_add(&text, "]");
  assert_non_null(read(&run, text_done(&text)));
  run_free(&run);
}

/* A hostile file gives some findings, not all it could, and soon. */
static void findings_end(void **state) {
  (void)state;
  Run run = run_new();
  Text text = text_new(run.arena);
  for (int i = 0; i < 50000; i++) text_add(&text, "- *a\n");
  assert_non_null(read(&run, text_done(&text)));
  assert_int_equal(run.findings->list.n, 200);
  run_free(&run);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(silent_traps),
      cmocka_unit_test(outline_slips),
      cmocka_unit_test(not_taken),
      cmocka_unit_test(bytes),
      cmocka_unit_test(harmless),
      cmocka_unit_test(places),
      cmocka_unit_test(lines_and_quotes),
      cmocka_unit_test(meant_text_is_taken),
      cmocka_unit_test(first_place_is_noted),
      cmocka_unit_test(bounds),
      cmocka_unit_test(findings_end),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
