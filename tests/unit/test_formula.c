/* Formulas: read, refused at the character, printed back. */
#include "unit/slip.h"

#include "base/text.h"
#include "value/function.h"

#define BEGINS ((Place){.line = 2, .column = 5}) /* of the text in all tests */

static Formula *parse(Run *run, const char *text) {
  const Source *source = source_new(run->arena, "sheet.yaml", text, strlen(text));
  return formula_parse(run, place_at(source, BEGINS.line, BEGINS.column, 1), text);
}

static bool same_words(const Words *a, const Words *b) {
  if (a->n != b->n) return false;
  for (size_t i = 0; i < a->n; i++) {
    if (!text_is(a->at[i], b->at[i])) return false;
  }
  return true;
}

static bool same(const Formula *a, const Formula *b) {
  bool alike = a->kind == b->kind && text_is(a->name, b->name) && text_is(a->field, b->field) &&
               same_words(&a->index, &b->index) && same_words(&a->words, &b->words) &&
               a->negated == b->negated && a->function == b->function && a->args == b->args;
  if (!alike) return false;
  if (a->kind == FORMULA_NUMBER) {
    return a->literal.unit == b->literal.unit &&
           fabs(a->literal.nominal - b->literal.nominal) <= 1e-12 * fabs(a->literal.nominal);
  }
  for (size_t i = 0; i < a->args; i++) {
    if (!same(a->arg[i], b->arg[i])) return false;
  }
  return true;
}

static void printed_in_one_spelling(void **state) {
  (void)state;
  static const struct {
    const char *text, *print;
  } rows[] = {
      {"= 0.0045 * barrel.bore", "0.0045 * barrel.bore"},
      {"0.0045*barrel . bore", "0.0045 * barrel.bore"},
      {"=a+b*c-d/e", "a + b * c - d / e"},
      {"((a+b))*c", "(a + b) * c"},
      {"a-(b-c)-(d+e)", "a - (b - c) - (d + e)"},
      {"a/(b/c)*(d*e)", "a / (b / c) * (d * e)"},
      {"-a^2", "-a^2"},
      {"(-a)^2", "(-a)^2"},
      {"-(-a)", "--a"},
      {"-(a+b)", "-(a + b)"},
      {"2^3^4", "2^3^4"},
      {"(2^3)^4", "(2^3)^4"},
      {"(2 mm)^2", "(2 mm)^2"}, /* 4 mm^2, not 2 */
      {"2 mm^2", "2 mm2"},
      {"1m^2m", "(1 m)^2 m"},
      {"a^-2", "a^-2"},
      {"a^(1/2)", "a^(1 / 2)"},
      {"1.80mm + 3 ft-lb", "1.80 mm + 3 lbf.ft"},
      {"31 BTDC - x", "31 deg BTDC - x"},
      {"valve[intake].lift", "valve[intake].lift"},
      {"cylinder[left, 1].gap", "cylinder[left, 1].gap"},
      {"gap[left]", "gap[left]"},
      {"not (a and b) or c", "not (a and b) or c"},
      {"(not a) and b", "not a and b"},
      {"not a == b", "not a == b"},
      {"(a or b) and c", "(a or b) and c"},
      {"a or (b or c)", "a or (b or c)"},
      {"a + b > c * 2 and d <= 3 mm", "a + b > c * 2 and d <= 3 mm"},
      {"if(gasket is none, 0 mm, gasket.thickness)", "if(gasket is none, 0 mm, gasket.thickness)"},
      {"piston is forged-84 or 84_cast", "piston is forged-84 or 84_cast"},
      {"piston is a or b and gasket is none", "piston is a or b and gasket is none"},
      {"piston is a or gasket is none", "piston is a or gasket is none"},
      {"piston is a or (flag)", "piston is a or (flag)"},
      {"piston is a or (flag and b)", "piston is a or (flag and b)"},
      {"piston is a or -\tflag", "piston is a or (-flag)"},
      {"piston is a or (-bore > 84 mm)", "piston is a or (-bore > 84 mm)"},
      {"piston is a or (4 > 3)", "piston is a or (4 > 3)"},
      {"piston is a or bore > 84 mm", "piston is a or bore > 84 mm"},
      {"piston is not a or b", "piston is not a or b"},
      {"not piston is a", "not piston is a"},
      {"valve[intake].seat is steel", "valve[intake].seat is steel"},
      {"max(a,b , 3)", "max(a, b, 3)"},
      {"pi()*2", "pi() * 2"},
      {"largest( valve , lash*2 )", "largest(valve, lash * 2)"},
      {"1 / (4 in)", "1 / (4 in)"},
      {"x * 1 / 4", "x * 1 / 4"},
      {"3 1/K * x", "3 1/K * x"},
      {"20 degC - 68 degF", "20 degC - 68 degF"},
  };
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    Run run = run_new();
    Formula *formula = parse(&run, rows[i].text);
    if (!formula) fail_msg("%s: %s", rows[i].text, run.findings->list.at[0]->text);
    const char *print = formula_print(run.arena, formula);
    assert_string_equal(print, rows[i].print);
    Formula *again = parse(&run, print);
    if (!again || !same(formula, again)) fail_msg("%s does not read back", print);
    run_free(&run);
  }
}

static const Slip slips[] = {
    {"a < b < c", RULE_BAD_FORMULA, 6, 1, "a < b and b < c"},
    {"x is a is b", RULE_BAD_FORMULA, 7, 2, "and"},
    {"= 3.141592653589 * a", RULE_BAD_FORMULA, 2, 14, "pi()"},
    {"= 1,5 * a", RULE_BAD_FORMULA, 3, 1, "point"},
    {"1e3 * a", RULE_BAD_FORMULA, 0, 3, "unit"},
    {"5. * a", RULE_BAD_FORMULA, 0, 2, NULL},
    {".5 * a", RULE_BAD_FORMULA, 0, 1, "0.5"},
    {"1/4 in + a", RULE_BAD_FORMULA, 2, 4, "decimal"},
    {"a = 3", RULE_BAD_FORMULA, 2, 1, "=="},
    {"a ≥ b", RULE_BAD_FORMULA, 2, 1, ">="},
    {"a × b", RULE_BAD_FORMULA, 2, 1, "*"},
    {"a² + b", RULE_BAD_FORMULA, 1, 1, "^2"},
    {"ä + b", RULE_BAD_FORMULA, 0, 1, NULL},
    {"a ** b", RULE_BAD_FORMULA, 2, 2, "^"},
    {"a <> b", RULE_BAD_FORMULA, 2, 2, "!="},
    {"a && b", RULE_BAD_FORMULA, 2, 2, "and"},
    {"(a + b", RULE_BAD_FORMULA, 6, 1, NULL},
    {"a + b)", RULE_BAD_FORMULA, 5, 1, NULL},
    {"a +", RULE_BAD_FORMULA, 3, 1, NULL},
    {"a b", RULE_BAD_FORMULA, 2, 1, NULL},
    {"=", RULE_BAD_FORMULA, 1, 1, NULL},
    {"a.", RULE_BAD_FORMULA, 2, 1, NULL},
    {"a[", RULE_BAD_FORMULA, 2, 1, NULL},
    {"a[b].c[d]", RULE_BAD_FORMULA, 6, 1, NULL},
    {"a is", RULE_BAD_FORMULA, 4, 1, NULL},
    {"3 is b", RULE_BAD_FORMULA, 2, 2, "=="},
    {"and b", RULE_BAD_FORMULA, 0, 3, NULL},
    {"sqrt(1, 2)", RULE_BAD_FORMULA, 0, 4, "root"},
    {"if(a, b)", RULE_BAD_FORMULA, 0, 2, "condition"},
    {"max(1,2,3,4,5,6,7,8,9)", RULE_BAD_FORMULA, 20, 1, NULL},
    {"largest(a + b)", RULE_BAD_FORMULA, 10, 1, "largest(valve"},
    {"2 * sqr(b)", RULE_UNKNOWN_NAME, 4, 3, "sqrt"},
    {"2 * 3 mx", RULE_UNKNOWN_UNIT, 6, 2, "m"},
    {"3 µxy * a", RULE_UNKNOWN_UNIT, 2, 3, NULL},
};

static void slips_are_refused_at_their_character(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
    Run run = run_new();
    assert_null(parse(&run, slips[i].text));
    assert_slip(&run, &slips[i], BEGINS);
    run_free(&run);
  }
}

static const char *repeat(Arena *arena, const char *piece, size_t times, const char *end) {
  Text text = text_new(arena);
  for (size_t i = 0; i < times; i++) text_add(&text, piece);
  text_add(&text, end);
  return text_done(&text);
}

static void hostile_formulas_end_in_a_finding(void **state) {
  (void)state;
  static const char *const pieces[] = {"(", "-", "not ", "abs(", "if(", "a^", "a.", "a[", "1 + "};
  for (size_t i = 0; i < sizeof pieces / sizeof pieces[0]; i++) {
    Run run = run_new();
    assert_null(parse(&run, repeat(run.arena, pieces[i], 20000, "a")));
    assert_only_finding(&run, RULE_BAD_FORMULA);
    run_free(&run);
  }
  Run run = run_new();
  assert_non_null(parse(&run, repeat(run.arena, "a + ", 900, "a")));
  const char *deep = repeat(run.arena, "(", 60, repeat(run.arena, "a)", 1, ""));
  assert_non_null(parse(&run, repeat(run.arena, deep, 1, repeat(run.arena, ")", 59, ""))));
  assert_int_equal(run.findings->list.n, 0);
  run_free(&run);
}

/* All the ways bytes can be cut short: no crash, and a finding whenever NULL. */
static void cut_short_anywhere(void **state) {
  (void)state;
  static const char whole[] =
      "= if(piston is a-1 or b, max(3 °C - x[l].y, 1/2), largest(v, 2 µm)) >= 5 N·m and not é";
  for (size_t n = 0; n < sizeof whole; n++) {
    Run run = run_new();
    char *text = arena_text(run.arena, whole, n);
    Formula *formula = parse(&run, text);
    assert_true((formula != NULL) == (run.findings->list.n == 0));
    run_free(&run);
  }
}

/* spread stands over a set and over the positions of one quantity. */
static void positions_and_members(void **state) {
  (void)state;
  static const char *const same[] = {
      "least(deck_height) + 2 mm", "most(cylinder[left].deck_height)", "spread(deck_height)",
      "spread(cylinder[left].deck_height)", "spread(cylinder, deck_height)"};
  Run run = run_new();
  for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
    Formula *formula = parse(&run, same[i]);
    assert_non_null(formula);
    assert_string_equal(formula_print(run.arena, formula), same[i]);
  }
  assert_int_equal(parse(&run, "spread(deck_height)")->kind, FORMULA_CALL);
  assert_int_equal(parse(&run, "spread(cylinder, deck_height)")->kind, FORMULA_OVER);
  run_free(&run);
}

static void functions_are_listed(void **state) {
  (void)state;
  size_t count = 0;
  for (; function_at(count); count++) {
    const Function *function = function_at(count);
    const Function *found = function_find(function->name);
    assert_true(found == function || function_of_positions(found) == function);
    assert_non_null(strstr(function->signature, "-> "));
    assert_true(function->least <= function->most && function->most <= 8);
    assert_true(strlen(function->what) > 2);
  }
  assert_true(count > 40);
  assert_null(function_find("no_such"));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(printed_in_one_spelling),
      cmocka_unit_test(slips_are_refused_at_their_character),
      cmocka_unit_test(hostile_formulas_end_in_a_finding),
      cmocka_unit_test(cut_short_anywhere),
      cmocka_unit_test(positions_and_members),
      cmocka_unit_test(functions_are_listed),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
