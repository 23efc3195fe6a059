/* Units: factors, spellings, printing. */
#include "unit/test.h"

#include "value/dimension.h"
#include "value/unit.h"

static const Unit *need(const char *spelling) {
  const Unit *unit = unit_find(spelling);
  if (!unit) fail_msg("no unit '%s'", spelling);
  return unit;
}

/* NIST SP 811 (2008), appendix B.8 and B.9, exact where the guide prints the
 * factor in bold; lbf, psi and their products follow from the exact inch, pound
 * and standard gravity and agree with GNU units 2.22. */
static void factors_are_exact(void **state) {
  (void)state;
  static const struct {
    const char *unit;
    double si;
  } rows[] = {
      {"mm", 1e-3},
      {"um", 1e-6},
      {"in", 0.0254},
      {"thou", 0.0254e-3},
      {"ft", 0.3048},
      {"mi", 1609.344},
      {"cm2", 1e-4},
      {"in2", 6.4516e-4},
      {"cm3", 1e-6},
      {"mL", 1e-6},
      {"L", 1e-3},
      {"in3", 1.6387064e-5},
      {"US gal", 3.785411784e-3},
      {"US qt", 0.946352946e-3},
      {"N", 1},
      {"kN", 1e3},
      {"lbf", 4.4482216152605},
      {"kgf", 9.80665},
      {"N.m", 1},
      {"lbf.ft", 1.3558179483314004},
      {"lbf.in", 0.1129848290276167},
      {"kgf.m", 9.80665},
      {"kgf.cm", 0.0980665},
      {"bar", 1e5},
      {"MPa", 1e6},
      {"psi", 6894.757293168361},
      {"kgf/cm2", 98066.5},
      {"N/mm", 1e3},
      {"lbf/in", 175.12683524647645},
      {"lb", 0.45359237},
      {"oz", 0.028349523125},
      {"min", 60},
      {"h", 3600},
      {"rpm", 2 * 3.14159265358979323846 / 60},
      {"km/h", 1 / 3.6},
      {"mph", 0.44704},
      {"deg", 3.14159265358979323846 / 180},
      {"turn", 2 * 3.14159265358979323846},
      {"%", 0.01},
      {"um/m/K", 1e-6},
      {"1/K", 1},
  };
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    assert_close(unit_to_si(need(rows[i].unit), 1) - unit_to_si(need(rows[i].unit), 0), rows[i].si,
                 1e-15, 0);
  }
}

/* NIST SP 811 B.8: C = (F - 32)/1.8; fixed points of the ITS-90 by definition. */
static void temperatures_are_points(void **state) {
  (void)state;
  assert_close(unit_to_si(need("degC"), 0), 273.15, 1e-15, 0);
  assert_close(unit_to_si(need("degF"), 32), 273.15, 1e-15, 0);
  assert_close(unit_to_si(need("degF"), 212), 373.15, 1e-15, 0);
  assert_close(unit_from_si(need("degF"), unit_to_si(need("degC"), 110)), 230, 1e-13, 0);
  assert_int_equal(need("degC")->dim.origin, ORIGIN_TEMPERATURE);
  assert_int_equal(need("K")->dim.origin, ORIGIN_NONE);
}

static void positions_count_from_their_dead_centre(void **state) {
  (void)state;
  const double deg = 3.14159265358979323846 / 180;
  assert_close(unit_to_si(need("deg BTDC"), 31), -31 * deg, 1e-15, 0);
  assert_close(unit_to_si(need("deg ATDC"), 107), 107 * deg, 1e-15, 0);
  assert_close(unit_to_si(need("deg BBDC"), 67), -67 * deg, 1e-15, 0);
  assert_close(unit_to_si(need("deg ABDC"), 65), 65 * deg, 1e-15, 0);
  assert_int_equal(need("BTDC")->dim.origin, ORIGIN_TDC);
  assert_int_equal(need("ABDC")->dim.origin, ORIGIN_BDC);
  assert_false(dim_same(need("ATDC")->dim, need("deg")->dim));
  assert_true(dimension_alike(need("ATDC")->dim, need("deg")->dim));
}

static void spellings_share_one_print(void **state) {
  (void)state;
  static const struct {
    const char *typed, *print;
  } rows[] = {
      {"Nm", "N.m"},
      {"N m", "N.m"},
      {"N  m", "N.m"},
      {"N-m", "N.m"},
      {"N·m", "N.m"},
      {"ft-lb", "lbf.ft"},
      {"lb-ft", "lbf.ft"},
      {"ft.lb", "lbf.ft"},
      {"lbf.ft", "lbf.ft"},
      {"ft-lbf", "lbf.ft"},
      {"in-lb", "lbf.in"},
      {"lb-in", "lbf.in"},
      {"cc", "cm3"},
      {"cu in", "in3"},
      {"ml", "mL"},
      {"litre", "L"},
      {"inch", "in"},
      {"micron", "um"},
      {"µm", "um"},
      {"°", "deg"},
      {"31", ""},
      {"°C", "degC"},
      {"deg C", "degC"},
      {"BTDC", "deg BTDC"},
      {"° BTDC", "deg BTDC"},
      {"deg BTDC", "deg BTDC"},
      {"N/mm2", "MPa"},
      {"turns", "turn"},
  };
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    const Unit *unit = unit_find(rows[i].typed);
    if (!*rows[i].print)
      assert_null(unit);
    else
      assert_string_equal(need(rows[i].typed)->print, rows[i].print);
  }
}

static void longest_spelling_wins(void **state) {
  (void)state;
  size_t length = 0;
  assert_string_equal(unit_read("m/s2 x", &length)->print, "m/s2");
  assert_int_equal(length, 4);
  assert_string_equal(unit_read("N", &length)->print, "N");
  assert_string_equal(unit_read("deg  ATDC)", &length)->print, "deg ATDC");
  assert_int_equal(length, 9);
  assert_string_equal(unit_read("mm±0.1", &length)->print, "mm");
  assert_int_equal(length, 2);
  assert_null(unit_read("mmx", &length));
  assert_null(unit_read("bore", &length));
  assert_null(unit_read("inlet", &length));
  assert_null(unit_read("m_1", &length));
  assert_null(unit_read("", &length));
}

static void every_spelling_reads_and_every_print_reads_back(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Words words = {0};
  unit_spellings(arena, &words);
  assert_true(words.n > 100);
  for (size_t i = 0; i < words.n; i++) {
    const Unit *unit = need(words.at[i]);
    assert_ptr_equal(need(unit->print), unit);
  }
  arena_free(arena);
}

static void near_units(void **state) {
  (void)state;
  Arena *arena = arena_new();
  assert_string_equal(unit_near(arena, "mmm"), "mm");
  assert_string_equal(unit_near(arena, "NM"), "N.m");
  assert_string_equal(unit_near(arena, "Psi"), "psi");
  assert_string_equal(unit_near(arena, "C"), "degC");
  assert_string_equal(unit_near(arena, "\""), "in");
  assert_string_equal(unit_near(arena, "kg.m"), "kgf.m");
  assert_null(unit_near(arena, "furlongs"));
  arena_free(arena);
}

static void other_system(void **state) {
  (void)state;
  assert_string_equal(unit_other(need("N.m"), 46)->print, "lbf.ft");
  assert_string_equal(unit_other(need("N.m"), 14)->print, "lbf.ft");
  assert_string_equal(unit_other(need("N.m"), 8.5)->print, "lbf.in");
  assert_string_equal(unit_other(need("lbf.ft"), 46)->print, "N.m");
  assert_string_equal(unit_other(need("mm"), 0.1)->print, "in");
  assert_string_equal(unit_other(need("in"), 0.1)->print, "mm");
  assert_null(unit_other(need("deg"), 1));
  assert_null(unit_other(unit_of_number(), 1));
}

static void dimensions_in_words(void **state) {
  (void)state;
  Arena *arena = arena_new();
  assert_string_equal(dim_name(arena, DIM_LENGTH), "a length");
  assert_string_equal(dim_name(arena, DIM_TORQUE), "a torque");
  assert_string_equal(dim_name(arena, DIM_NUMBER), "a plain number");
  assert_string_equal(dim_name(arena, need("degC")->dim), "a temperature");
  assert_string_equal(dim_name(arena, need("K")->dim), "a temperature difference");
  assert_string_equal(dim_name(arena, need("ATDC")->dim), "a crank position from top dead centre");
  assert_string_equal(dim_name(arena, (Dim){.length = 4, .time = -1}), "m^4 s^-1");
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(factors_are_exact),
      cmocka_unit_test(temperatures_are_points),
      cmocka_unit_test(positions_count_from_their_dead_centre),
      cmocka_unit_test(spellings_share_one_print),
      cmocka_unit_test(longest_spelling_wins),
      cmocka_unit_test(every_spelling_reads_and_every_print_reads_back),
      cmocka_unit_test(near_units),
      cmocka_unit_test(other_system),
      cmocka_unit_test(dimensions_in_words),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
