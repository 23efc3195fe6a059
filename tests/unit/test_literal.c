/* Numbers with units, as people write them and as they slip. */
#include "unit/slip.h"

#include "value/literal.h"

#define BEGINS ((Place){.line = 3, .column = 7}) /* of the text in all tests */

static Literal parse(Run *run, const char *text) {
  const Source *source = source_new(run->arena, "sheet.yaml", text, strlen(text));
  return literal_parse(run, place_at(source, BEGINS.line, BEGINS.column, 1), text);
}

typedef struct Good {
  const char *text;
  LiteralShape shape;
  double nominal, low, high; /* SI */
  const char *print;
} Good;

#define DEG (3.14159265358979323846 / 180)

static const Good good[] = {
    {"92.00 mm", LITERAL_EXACT, 0.092, 0.092, 0.092, "92.00 mm"},
    {"  92.00   mm  ", LITERAL_EXACT, 0.092, 0.092, 0.092, "92.00 mm"},
    {"-3.1 cm3", LITERAL_EXACT, -3.1e-6, -3.1e-6, -3.1e-6, "-3.1 cm3"},
    {"10.5", LITERAL_EXACT, 10.5, 10.5, 10.5, "10.5"},
    {"11.5 %", LITERAL_EXACT, 0.115, 0.115, 0.115, "11.5 %"},
    {"120 lbf.in", LITERAL_EXACT, 13.558179483314004, 13.558179483314004, 13.558179483314004,
     "120 lbf.in"},
    {"35 ft-lb", LITERAL_EXACT, 47.453628191599014, 47.453628191599014, 47.453628191599014,
     "35 lbf.ft"},
    {"110 degC", LITERAL_EXACT, 383.15, 383.15, 383.15, "110 degC"},
    {"2 turn", LITERAL_EXACT, 720 * DEG, 720 * DEG, 720 * DEG, "2 turn"},
    {"1/4 in", LITERAL_EXACT, 0.00635, 0.00635, 0.00635, "1/4 in"},
    {"1 1/2 in", LITERAL_EXACT, 0.0381, 0.0381, 0.0381, "1 1/2 in"},
    {"-1/8 in", LITERAL_EXACT, -0.003175, -0.003175, -0.003175, "-1/8 in"},
    {"at most  3/64 in (1.2 mm)", LITERAL_AT_MOST, 0.001190625, -INFINITY, 0.001190625,
     "at most 3/64 in"},
    {"1/64 to 3/64 in", LITERAL_BAND, 0.00079375, 0.000396875, 0.001190625, "1/64 to 3/64 in"},
    {"31.20 +-0.03 mm", LITERAL_TOLERANCE, 0.0312, 0.03117, 0.03123, "31.20 +-0.03 mm"},
    {"31.20 ± 0.03 mm", LITERAL_TOLERANCE, 0.0312, 0.03117, 0.03123, "31.20 +-0.03 mm"},
    {"31.20 mm +-0.03", LITERAL_TOLERANCE, 0.0312, 0.03117, 0.03123, "31.20 +-0.03 mm"},
    {"31.20 mm +-30 um", LITERAL_TOLERANCE, 0.0312, 0.03117, 0.03123, "31.20 +-0.03 mm"},
    {"50.6+-0.4cm3", LITERAL_TOLERANCE, 50.6e-6, 50.2e-6, 51e-6, "50.6 +-0.4 cm3"},
    {"0.04028202692 mm +-17", LITERAL_TOLERANCE, 0.04028202692e-3, -16.95971797308e-3,
     17.04028202692e-3, "0.04028202692 +-17.0000000000 mm"},
    {"45 +5/-0 N.m", LITERAL_TOLERANCE, 45, 45, 50, "45 +5/-0 N.m"},
    {"45 -0/+5 N.m", LITERAL_TOLERANCE, 45, 45, 50, "45 +5/-0 N.m"},
    {"20 +-2 degC", LITERAL_TOLERANCE, 293.15, 291.15, 295.15, "20 +-2 degC"},
    {"20 degC +-2 K", LITERAL_TOLERANCE, 293.15, 291.15, 295.15, "20 +-2 degC"},
    {"31 deg BTDC +5/-0 deg", LITERAL_TOLERANCE, -31 * DEG, -36 * DEG, -31 * DEG,
     "31 +5/-0 deg BTDC"},
    {"0.055 to 0.070 mm", LITERAL_BAND, 0.0625e-3, 0.055e-3, 0.070e-3, "0.055 to 0.070 mm"},
    {"0.055 mm to 70 um", LITERAL_BAND, 0.0625e-3, 0.055e-3, 0.070e-3, "0.055 to 0.070 mm"},
    {"9.1 to 9.7", LITERAL_BAND, 9.4, 9.1, 9.7, "9.1 to 9.7"},
    {"31 to 35 deg BTDC", LITERAL_BAND, -33 * DEG, -35 * DEG, -31 * DEG, "31 to 35 deg BTDC"},
    {"at least 1.8 mm", LITERAL_AT_LEAST, 0.0018, 0.0018, INFINITY, "at least 1.8 mm"},
    {"at most 0 mm", LITERAL_AT_MOST, 0, -INFINITY, 0, "at most 0 mm"},
    {"at least 31 deg BTDC", LITERAL_AT_LEAST, -31 * DEG, -INFINITY, -31 * DEG,
     "at least 31 deg BTDC"},
    {"46 N.m (33.9 lbf.ft)", LITERAL_EXACT, 46, 46, 46, "46 N.m"},
    {"12 N.m (9 lbf.ft)", LITERAL_EXACT, 12, 12, 12, "12 N.m"},
    {"0.055 to 0.070 mm (0.0022 to 0.0028 in)", LITERAL_BAND, 0.0625e-3, 0.055e-3, 0.070e-3,
     "0.055 to 0.070 mm"},
    {"0.0000236 1/K", LITERAL_EXACT, 2.36e-5, 2.36e-5, 2.36e-5, "0.0000236 1/K"},
};

static void check_end(double actual, double expected) {
  if (isinf(expected))
    assert_true(isinf(actual) && (actual > 0) == (expected > 0));
  else
    assert_close(actual, expected, 1e-12, 1e-18);
}

static void literals_read_and_print(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof good / sizeof good[0]; i++) {
    Run run = run_new();
    Literal literal = parse(&run, good[i].text);
    if (run.findings->list.n > 0) fail_msg("%s: %s", good[i].text, run.findings->list.at[0]->text);
    assert_int_equal(literal.shape, good[i].shape);
    check_end(literal.nominal, good[i].nominal);
    check_end(literal.low, good[i].low);
    check_end(literal.high, good[i].high);
    assert_string_equal(literal_print(run.arena, &literal), good[i].print);
    run_free(&run);
  }
}

static void printed_literals_read_back(void **state) {
  (void)state;
  static const char *const more[] = {
      "1.000 in +-0.01 mm",   "100 degF",      "212.5 +-1.5 degF",
      "0.1 +0.02/-0.03 thou", "33.333 lbf.ft", "381111611210/2 m",
      "709222223 in +-4.12938388340 m", /* beyond what the sum of both keeps */
      "335 in +7/-100/2 m", /* larger than what it leaves */
  };
  size_t count = sizeof good / sizeof good[0], extra = sizeof more / sizeof more[0];
  for (size_t i = 0; i < count + extra; i++) {
    Run run = run_new();
    Literal literal = parse(&run, i < count ? good[i].text : more[i - count]);
    Literal again = parse(&run, literal_print(run.arena, &literal));
    assert_int_equal(run.findings->list.n, 0);
    assert_int_equal(again.shape, literal.shape);
    assert_ptr_equal(again.unit, literal.unit);
    check_end(again.nominal, literal.nominal);
    if (isfinite(literal.low)) assert_close(again.low, literal.low, 1e-9, 0);
    if (isfinite(literal.high)) assert_close(again.high, literal.high, 1e-9, 0);
    assert_string_equal(literal_print(run.arena, &again), literal_print(run.arena, &literal));
    run_free(&run);
  }
}

static const Slip slips[] = {
    {"1,5 mm", RULE_BAD_NUMBER, 0, 3, "1.5"},
    {"25,500 N", RULE_BAD_NUMBER, 0, 6, "25500"},
    {"25 500 N", RULE_BAD_NUMBER, 0, 6, "together"},
    {"1e-3 m", RULE_BAD_NUMBER, 0, 4, "unit"},
    {"0.123456789012 mm", RULE_BAD_NUMBER, 0, 14, "leave out"},
    {"30 in +-91238388381 m", RULE_BAD_NUMBER, 0, 21, "larger unit"},
    {"0x10 mm", RULE_BAD_NUMBER, 0, 4, NULL},
    {"5. mm", RULE_BAD_NUMBER, 0, 2, "5.0"},
    {"1.2.3 mm", RULE_BAD_NUMBER, 0, 5, NULL},
    {"10.5:1", RULE_BAD_NUMBER, 0, 6, "10.5"},
    {"0.055-0.070 mm", RULE_BAD_NUMBER, 0, 11, "to"},
    {"0.055 - 0.070 mm", RULE_BAD_NUMBER, 6, 1, "to"},
    {"0.055 – 0.070 mm", RULE_BAD_NUMBER, 6, 1, "to"},
    {"0.055 -0.070 mm", RULE_BAD_NUMBER, 6, 6, "to"},
    {"−3 mm", RULE_BAD_NUMBER, 0, 2, "-"},
    {"nan", RULE_BAD_NUMBER, 0, 3, NULL},
    {"inf mm", RULE_BAD_NUMBER, 0, 3, NULL},
    {"", RULE_BAD_NUMBER, 0, 1, NULL},
    {"> 0.5 mm", RULE_BAD_NUMBER, 0, 1, "at least"},
    {"max 0.5 mm", RULE_BAD_NUMBER, 0, 3, "at most"},
    {"0.5 mm max", RULE_BAD_NUMBER, 7, 3, "at most"},
    {"92 mm skirt", RULE_BAD_NUMBER, 6, 5, NULL},
    {"4.2 +0.2 cm3", RULE_BAD_NUMBER, 4, 5, "+-"},
    {"4.2 +0.5/+0.2 cm3", RULE_BAD_NUMBER, 4, 9, "LOW to HIGH"},
    {"4.2 +--0.2 cm3", RULE_BAD_NUMBER, 4, 6, NULL},
    {"1/4 N.m", RULE_BAD_NUMBER, 0, 3, "decimal"},
    {"1/3 in", RULE_BAD_NUMBER, 0, 3, "decimal"},
    {"at least mm", RULE_BAD_NUMBER, 9, 2, NULL},
    {"46 N.m (33.9 lbf.ft", RULE_BAD_NUMBER, 7, 12, NULL},
    {"110 C", RULE_UNKNOWN_UNIT, 4, 1, "degC"},
    {"3\"", RULE_UNKNOWN_UNIT, 1, 1, "in"},
    {"±5 µxy", RULE_BAD_NUMBER, 0, 2, NULL},
    {"5 µxy", RULE_UNKNOWN_UNIT, 2, 3, NULL},
    {"5 mm to 6", RULE_UNKNOWN_UNIT, 8, 1, NULL},
    {"0.07 to 0.05 mm", RULE_BAND_REVERSED, 0, 15, "lower"},
    {"35 to 31 deg BTDC", RULE_BAND_REVERSED, 0, 17, "lower"},
    {"5 to 6 mm (3 N.m)", RULE_WRONG_DIMENSION, 10, 7, NULL},
    {"45 mm +-3 N", RULE_WRONG_DIMENSION, 0, 11, NULL},
    {"46 N.m (35 lbf.ft)", RULE_UNITS_DISAGREE, 7, 11, "alone"},
    {"110 N.m (80 lbf.ft)", RULE_UNITS_DISAGREE, 8, 11, "alone"},
    {"92.00 mm (3.632 in)", RULE_UNITS_DISAGREE, 9, 10, "alone"},
};

/* All of them are told at once. */
static void a_bare_point_is_read_on(void **state) {
  (void)state;
  static const struct {
    const char *text, *way_out;
    double nominal;
    size_t findings;
  } bare[] = {{".5 mm", "write 0.5", 0.0005, 1},
              {"-.5 mm", "write -0.5", -0.0005, 1},
              {".0150 +-.0015 mm", "write 0.0150", 0.000015, 2}};
  for (size_t i = 0; i < sizeof bare / sizeof bare[0]; i++) {
    Run run = run_new();
    Literal literal = parse(&run, bare[i].text);
    assert_int_equal(run.findings->list.n, bare[i].findings);
    assert_int_equal(run.findings->list.at[0]->rule, RULE_BAD_NUMBER);
    assert_string_equal(run.findings->list.at[0]->way_out, bare[i].way_out);
    assert_close(literal.nominal, bare[i].nominal, 1e-12, 0);
    run_free(&run);
  }
}

/* One slip, one finding: what hangs on the number goes on. */
static void a_misspelt_unit_is_read_on(void **state) {
  (void)state;
  static const struct {
    const char *text, *unit;
    double nominal;
  } units[] = {{"3 mmm", "mm", 0.003}, {"46 NN.m", "N.m", 46}, {"90 degg ATDC", "deg ATDC", 0}};
  for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
    Run run = run_new();
    Literal literal = parse(&run, units[i].text);
    assert_int_equal(run.findings->list.n, 1);
    assert_int_equal(run.findings->list.at[0]->rule, RULE_UNKNOWN_UNIT);
    assert_ptr_equal(literal.unit, unit_find(units[i].unit));
    if (i < 2) assert_close(literal.nominal, units[i].nominal, 1e-12, 0);
    run_free(&run);
  }
}

static void slips_are_refused_at_their_character(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
    Run run = run_new();
    Literal literal = parse(&run, slips[i].text);
    assert_int_equal(literal.shape, LITERAL_NONE);
    assert_slip(&run, &slips[i], BEGINS);
    run_free(&run);
  }
}

static void wrong_dimension_in_words(void **state) {
  (void)state;
  Run run = run_new();
  Literal torque = parse(&run, "46 N.m");
  Place at = {0};
  assert_true(literal_need(&run, at, &torque, DIM_TORQUE, "bore"));
  assert_false(literal_need(&run, at, &torque, DIM_LENGTH, "bore"));
  assert_only_finding(&run, RULE_WRONG_DIMENSION);
  assert_string_equal(run.findings->list.at[0]->text,
                      "bore: this is a torque (N.m), a length is wanted");
  Literal bare = parse(&run, "46");
  assert_false(literal_need(&run, at, &bare, DIM_TORQUE, NULL));
  assert_string_equal(run.findings->list.at[1]->text, "this is a plain number, a torque is wanted");
  Literal hot = parse(&run, "60 degC");
  assert_false(literal_need(&run, at, &hot, (Dim){.temperature = 1}, NULL));
  assert_non_null(strstr(run.findings->list.at[2]->way_out, "K"));
  Literal none = {0};
  assert_false(literal_need(&run, at, &none, DIM_LENGTH, NULL));
  assert_int_equal(run.findings->list.n, 3);
  run_free(&run);
}

/* 46 N.m = 33.93 lbf.ft and so on: NIST SP 811 factors. */
static void both_systems(void **state) {
  (void)state;
  static const struct {
    double number;
    const char *unit;
    int places;
    const char *print;
  } rows[] = {
      {46, "N.m", 0, "46 N.m (33.9 lbf.ft)"},
      {150, "N.m", 0, "150 N.m (110.6 lbf.ft)"},
      {8.5, "N.m", 1, "8.5 N.m (75 lbf.in)"},
      {8, "N.m", 1, "8.0 N.m (71 lbf.in)"},
      {9, "N.m", 1, "9.0 N.m (80 lbf.in)"},
      {120, "lbf.in", 0, "120 lbf.in (13.6 N.m)"},
      {0.4, "mm", 2, "0.40 mm (0.0157 in)"},
      {92, "mm", 2, "92.00 mm (3.6220 in)"},
      {110, "degC", 0, "110 degC (230 degF)"},
      {31, "deg BTDC", 0, "31 deg BTDC"},
      {9.37, "%", 2, "9.37 %"},
  };
  Arena *arena = arena_new();
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    const Unit *unit = unit_find(rows[i].unit);
    const char *print =
        both_units_print(arena, unit_to_si(unit, rows[i].number), unit, rows[i].places);
    assert_string_equal(print, rows[i].print);
  }
  assert_string_equal(quantity_print(arena, 0.0004, unit_find("mm"), -1), "0.4 mm");
  assert_string_equal(quantity_print(arena, 0.092, unit_find("mm"), -1), "92 mm");
  assert_string_equal(quantity_print(arena, 0.1 + 0.2, unit_of_number(), -1), "0.3");
  assert_string_equal(quantity_print(arena, -1e-12, unit_find("mm"), -1), "0 mm");
  assert_string_equal(number_print(arena, 0.00039, unit_find("mm"), 2), "0.39");
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(literals_read_and_print),
      cmocka_unit_test(printed_literals_read_back),
      cmocka_unit_test(a_bare_point_is_read_on),
      cmocka_unit_test(a_misspelt_unit_is_read_on),
      cmocka_unit_test(slips_are_refused_at_their_character),
      cmocka_unit_test(wrong_dimension_in_words),
      cmocka_unit_test(both_systems),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
