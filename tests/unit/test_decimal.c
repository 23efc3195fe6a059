/* Decimals as written and as printed, against exact arithmetic. */
#include "unit/test.h"

#include "base/decimal.h"

#include <stdio.h>
#include <stdlib.h>

static void reads_what_is_a_number(void **state) {
  (void)state;
  static const struct {
    const char *text;
    size_t length;
    double value;
    int places;
  } examples[] = {
      {"84", 2, 84, 0},
      {"84.0", 4, 84, 1},
      {"0.05 mm", 4, 0.05, 2},
      {"-0.01", 5, -0.01, 2},
      {"+0.02/-0.01", 5, 0.02, 2},
      {"007", 3, 7, 0},
      {"1.2.3", 3, 1.2, 1},
      {"5.", 1, 5, 0}, /* the point is left for the caller to refuse */
      {"5.mm", 1, 5, 0},
      {"1,5", 1, 1, 0},  /* so is the comma */
      {"1e3", 1, 1, 0},  /* no exponents */
      {"0x10", 1, 0, 0}, /* no other bases */
      {"0.1", 3, 0.1, 1},
      {"869.7", 5, 869.7, 1},
      {"123456789.123456", 16, 123456789.123456, 6},
      {"0.000000000000001", 17, 1e-15, 15},
  };
  for (size_t i = 0; i < sizeof examples / sizeof *examples; i++) {
    double value = -1;
    int places = -1;
    assert_int_equal(decimal_read(examples[i].text, &value, &places), examples[i].length);
    assert_true(value == examples[i].value); /* the very double the compiler makes of it */
    assert_int_equal(places, examples[i].places);
  }
}

static void reads_nothing_else(void **state) {
  (void)state;
  static const char *const examples[] = {"",      "mm",  ".5", "-.5", "-",         "+",
                                         "+-0.1", "- 5", " 5", "inf", "nan",       "NaN",
                                         "--5",   ",5",  "e5", ".",   "\u00B1 0.1"};
  for (size_t i = 0; i < sizeof examples / sizeof *examples; i++) {
    double value = -1;
    int places = -1;
    assert_int_equal(decimal_read(examples[i], &value, &places), 0);
    assert_true(value == -1);
  }
}

static void reads_long_numbers(void **state) {
  (void)state;
  char text[2000];
  double value;
  int places;
  memset(text, '9', sizeof text);
  text[sizeof text - 1] = '\0';
  assert_int_equal(decimal_read(text, &value, &places), 0); /* has no size */
  text[1] = '.';
  assert_int_equal(decimal_read(text, &value, &places), sizeof text - 1);
  assert_close(value, 10, 1e-15, 0);
  assert_int_equal(places, sizeof text - 3);
  memset(text, '0', sizeof text - 1);
  text[1] = '.';
  text[sizeof text - 2] = '1';
  assert_int_equal(decimal_read(text, &value, &places), sizeof text - 1);
  assert_true(value == 0);
  memset(text, '0', sizeof text - 1);
  assert_int_equal(decimal_read(text, &value, &places), sizeof text - 1);
  assert_true(value == 0);
  assert_int_equal(decimal_read("12345678901234567890123", &value, &places), 23);
  assert_close(value, 12345678901234567890123.0, 1e-15, 0);
}

/* Every number of a sheet is a short decimal: each is read as the double
 * nearest to it, by the C library's reader. */
static void reads_as_the_library_does(void **state) {
  (void)state;
  unsigned seed = 1;
  for (int i = 0; i < 100000; i++) {
    char text[40];
    seed = seed * 1103515245u + 12345u;
    unsigned whole = (seed >> 8) % 100000;
    seed = seed * 1103515245u + 12345u;
    snprintf(text, sizeof text, "%u.%06u", whole, (seed >> 8) % 1000000);
    double value;
    int places;
    assert_int_equal(decimal_read(text, &value, &places), strlen(text));
    assert_true(value == strtod(text, NULL));
  }
}

static void prints_half_away_from_zero(void **state) {
  (void)state;
  static const struct {
    double value;
    int places;
    const char *text;
  } examples[] = {
      {0.125, 2, "0.13"},
      {1.005, 2, "1.01"}, /* the double lies below */
      {2.675, 2, "2.68"}, /* the double lies below */
      {-0.125, 2, "-0.13"},
      {-2.675, 2, "-2.68"},
      {-0.001, 2, "0.00"},
      {-0.0, 0, "0"},
      {-0.004999, 2, "0.00"},
      {0.005, 2, "0.01"},
      {-0.005, 2, "-0.01"},
      {0.004, 2, "0.00"},
      {0.0004, 2, "0.00"},
      {0.5, 0, "1"},
      {0.4999, 0, "0"},
      {1.5, 0, "2"},
      {2.5, 0, "3"},
      {9.995, 2, "10.00"},
      {99.95, 1, "100.0"},
      {0.95, 1, "1.0"},
      {0.995, 2, "1.00"},
      {84, 0, "84"},
      {84, 3, "84.000"},
      {83.4, 2, "83.40"},
      {0.06, 3, "0.060"},
      {869.654321, 1, "869.7"},
      {0.1 + 0.2, 12, "0.300000000000"},
      {1234567.891, 2, "1234567.89"},
      {1e15, 1, "1000000000000000.0"},
      {1e-9, 3, "0.000"},
      {25500, 0, "25500"},
      {10, 0, "10"},
      {1, 1, "1.0"},
      {3.7, -2, "4"}, /* no tens */
  };
  Arena *arena = arena_new();
  for (size_t i = 0; i < sizeof examples / sizeof *examples; i++) {
    assert_string_equal(decimal_print(arena, examples[i].value, examples[i].places),
                        examples[i].text);
  }
  assert_string_equal(decimal_print(arena, NAN, 2), "?");
  assert_string_equal(decimal_print(arena, -INFINITY, 2), "?");
  assert_int_equal(strlen(decimal_print(arena, 1e308, 30)), 309 + 1 + 30);
  assert_int_equal(strlen(decimal_print(arena, -1e308, 1000)), 1 + 309 + 1 + 30);
  arena_free(arena);
}

/* What was written comes back, for every thousandth up to 20. */
static void prints_what_was_read(void **state) {
  (void)state;
  Arena *arena = arena_new();
  for (int i = 0; i < 20000; i++) {
    char text[40];
    snprintf(text, sizeof text, "%d.%03d", i / 1000, i % 1000);
    double value;
    int places;
    assert_int_equal(decimal_read(text, &value, &places), strlen(text));
    assert_string_equal(decimal_print(arena, value, places), text);
  }
  arena_free(arena);
}

static void every_half_rounds_away(void **state) {
  (void)state;
  Arena *arena = arena_new();
  for (int i = 0; i < 20000; i++) {
    char written[40], rounded[40];
    snprintf(written, sizeof written, "%d.%02d5", i / 100, i % 100);
    snprintf(rounded, sizeof rounded, "%d.%02d", (i + 1) / 100, (i + 1) % 100);
    double value;
    int places;
    assert_true(decimal_read(written, &value, &places) > 0);
    assert_string_equal(decimal_print(arena, value, 2), rounded);
  }
  arena_free(arena);
}

/* Twelve digits, each as the C library has it, over all sizes that occur and some that do not. */
static void prints_as_the_library_does(void **state) {
  (void)state;
  Arena *arena = arena_new();
  uint64_t seed = 1;
  for (int i = 0; i < 200000; i++) {
    if (i % 1000 == 0) {
      arena_free(arena);
      arena = arena_new();
    }
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    int size = (int)(seed >> 33) % 30 - 14; /* of the first digit */
    double value = pow(10, size) * (1 + 9 * (double)(seed >> 11) / 9007199254740992.0);
    if (i % 4 == 0) value = round(value * 4096) / 4096; /* now and then right on a half */
    if (i % 7 == 0) value = pow(10, size) * (1 - 1e-16 * (double)(seed % 5));
    char text[80], shown[80];
    snprintf(text, sizeof text, "%.11e", value);
    size = atoi(strchr(text, 'e') + 1);
    if (value == 0 || size > 11 || size < -15) continue;
    snprintf(text, sizeof text, "%.*f", 11 - size, value);
    snprintf(shown, sizeof shown, "%s", decimal_print(arena, value, 11 - size));
    assert_string_equal(shown, text);
  }
  arena_free(arena);
}

/* A limit that stands on the scale stays there: floor(x / step) alone loses a
 * step on one in three of these. */
static void limits_on_the_scale_stay(void **state) {
  (void)state;
  static const double per[] = {1, 2, 5, 10, 20, 50, 100, 200, 1000};
  for (size_t p = 0; p < sizeof per / sizeof *per; p++) {
    double step = 1 / per[p];
    for (int i = -3000; i <= 3000; i++) {
      double limit = i / per[p];
      assert_true(decimal_floor(limit, step) == limit);
      assert_true(decimal_ceil(limit, step) == limit);
      assert_true(decimal_round(limit, step) == limit);
      assert_true(decimal_floor(i * step, step) == limit);
      assert_true(decimal_ceil(i * step, step) == limit);
    }
  }
}

static void limits_between_move_inward(void **state) {
  (void)state;
  assert_true(decimal_floor(0.0849, 0.01) == 0.08);
  assert_true(decimal_ceil(0.0801, 0.01) == 0.09);
  assert_true(decimal_floor(-0.0801, 0.01) == -0.09);
  assert_true(decimal_ceil(-0.0849, 0.01) == -0.08);
  assert_true(decimal_floor(0.08 - 1e-10, 0.01) == 0.08); /* within 1e-6 of a step */
  assert_true(decimal_ceil(0.08 + 1e-10, 0.01) == 0.08);
  assert_true(decimal_floor(7.6, 2.5) == 7.5);
  assert_true(decimal_ceil(7.6, 2.5) == 10);
  assert_true(decimal_round(0.085, 0.01) == 0.09);
  assert_true(decimal_round(1.005, 0.01) == 1.01);
  assert_true(decimal_round(-1.005, 0.01) == -1.01);
  assert_true(decimal_round(0.3, 0.25) == 0.25);
  assert_false(signbit(decimal_ceil(-0.4, 1)));
  assert_false(signbit(decimal_round(-0.4, 1)));
  assert_true(decimal_floor(3.3, 0) == 3.3); /* no scale */
  assert_true(isnan(decimal_floor(NAN, 0.1)));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(reads_what_is_a_number),     cmocka_unit_test(reads_nothing_else),
      cmocka_unit_test(reads_long_numbers),         cmocka_unit_test(reads_as_the_library_does),
      cmocka_unit_test(prints_half_away_from_zero), cmocka_unit_test(prints_what_was_read),
      cmocka_unit_test(every_half_rounds_away),     cmocka_unit_test(limits_on_the_scale_stay),
      cmocka_unit_test(limits_between_move_inward), cmocka_unit_test(prints_as_the_library_does),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
