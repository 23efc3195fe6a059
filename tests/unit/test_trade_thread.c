/* trade/thread: designations and what follows from them. */
#include "unit/test.h"

#include "trade/engagement.h"
#include "trade/strength.h"
#include "trade/thread.h"

static void reads_and_prints_one_spelling(void **state) {
  static const char *const table[][2] = {
      {"M8", "M8"},
      {"M8x1.25", "M8"},
      {"M8x1", "M8x1"},
      {"M8 x 1.0", "M8x1"},
      {"M8X1", "M8x1"},
      {"M8\xc3\x97"
       "1",
       "M8x1"},
      {"  M10x1.25 ", "M10x1.25"},
      {"M14x1.25", "M14x1.25"},
      {"M1.6", "M1.6"},
      {"M64", "M64"},
      {"M16x1.5 LH", "M16x1.5 LH"},
      {"M16x1.5-LH", "M16x1.5 LH"},
      {"1/4-20", "1/4-20 UNC"},
      {"1/4-20 UNC", "1/4-20 UNC"},
      {"1/4-20UNC", "1/4-20 UNC"},
      {"1/4-28", "1/4-28 UNF"},
      {"1/4 UNF", "1/4-28 UNF"},
      {"#10-24", "#10-24 UNC"},
      {"10-32", "#10-32 UNF"},
      {"3/8-16 UNC LH", "3/8-16 UNC LH"},
      {"1-8", "1-8 UNC"},
      {"1-12 UNF", "1-12 UNF"},
      {"1-64", "#1-64 UNC"},
      {"1 1/8-7", "1 1/8-7 UNC"},
      {"1-1/8-12", "1 1/8-12 UNF"},
  };
  (void)state;
  for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
    Thread thread, again;
    if (!thread_parse(table[i][0], &thread)) fail_msg("%s is not known", table[i][0]);
    assert_string_equal(thread.name, table[i][1]);
    assert_true(thread_parse(thread.name, &again));
    assert_true(thread_same(&thread, &again));
  }
}

static void refuses_what_no_series_has(void **state) {
  static const char *const table[] = {
      "",           "M",
      "M8x",        "M8x1.1",
      "M8x0",       "M8x-1",
      "M9.5",       "M8x1.25x",
      "m8",         "M26",
      "M8x1 RH",    "LH",
      "M8LH",       "8x1",
      "1/4",        "1/4-21",
      "3/16-24",    "1/4-28 UNC",
      "1/4-20 UNS", "#10",
      "#10-",       "1/4-20 UNC and then a great deal more text than any thread has",
      "M8 1",       "M1e1",
      "Minf",       "#4-40x",
      "1/4-20-20",  "M+8",
  };
  (void)state;
  for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
    Thread thread;
    if (thread_parse(table[i], &thread)) fail_msg("%s was taken for %s", table[i], thread.name);
    assert_string_equal(thread.name, "");
  }
}

static void series_and_size(void **state) {
  Thread fine, inch;
  (void)state;
  assert_true(thread_parse("M10x1.25", &fine));
  assert_int_equal(fine.series, THREAD_METRIC_FINE);
  assert_false(fine.unified);
  assert_close(fine.major, 10e-3, 1e-12, 0.0);
  assert_close(fine.pitch, 1.25e-3, 1e-12, 0.0);
  assert_true(thread_parse("#10-24", &inch));
  assert_int_equal(inch.series, THREAD_UNC);
  assert_true(inch.unified);
  assert_close(inch.major, 0.19 * 25.4e-3, 1e-12, 0.0);
  assert_close(inch.pitch, 25.4e-3 / 24.0, 1e-12, 0.0);
}

static void a_left_hand_thread_is_another(void **state) {
  Thread right, left;
  (void)state;
  assert_true(thread_parse("M16x1.5", &right));
  assert_true(thread_parse("M16x1.5 LH", &left));
  assert_true(left.left_hand);
  assert_false(thread_same(&right, &left));
}

/* Every name listed is read, prints itself, and is there once. */
static void names_are_all_read(void **state) {
  Arena *arena = arena_new();
  Words names = {0};
  (void)state;
  thread_names(arena, &names);
  assert_true(names.n > 150);
  assert_string_equal(names.at[0], "M1.6");
  for (size_t i = 0; i < names.n; i++) {
    Thread thread;
    assert_true(thread_parse(names.at[i], &thread));
    assert_string_equal(thread.name, names.at[i]);
    assert_true(thread_minor_external(thread.major, thread.pitch) > 0.0);
    for (size_t k = 0; k < i; k++) assert_string_not_equal(names.at[i], names.at[k]);
  }
  arena_free(arena);
}

static void diameters_are_in_order(void **state) {
  Thread thread;
  (void)state;
  assert_true(thread_parse("M12x1.25", &thread));
  double d = thread.major, p = thread.pitch;
  assert_true(thread_minor_external(d, p) < thread_minor_internal(d, p));
  assert_true(thread_minor_internal(d, p) < thread_tapping_drill(d, p));
  assert_true(thread_tapping_drill(d, p) < thread_pitch_diameter(d, p));
  assert_true(thread_stress_diameter(&thread) < thread_pitch_diameter(d, p));
  assert_true(thread_lead_angle(d, p) > 0.0);
}

/* A pipe's section is the ring left; a shank thinner than the thread is what breaks. */
static void weakest_section(void **state) {
  double area = 58e-6;
  (void)state;
  assert_close(strength_weakest_area(area, 0.0, 0.0), area, 0.0, 0.0);
  assert_close(strength_weakest_area(area, 9e-3, 0.0), area, 0.0, 0.0);
  assert_false(strength_is_waisted(area, 9e-3, 0.0));
  assert_close(strength_weakest_area(area, 7e-3, 0.0), 38.4845e-6, 1e-5, 0.0);
  assert_true(strength_is_waisted(area, 7e-3, 0.0));
  assert_close(strength_weakest_area(area, 0.0, 4e-3), 58e-6 - 12.5664e-6, 1e-5, 0.0);
  assert_close(strength_weakest_area(area, 0.0, 20e-3), 0.0, 0.0, 0.0);
}

static void engagement_scales(void **state) {
  Thread m8, fine;
  (void)state;
  assert_true(thread_parse("M8", &m8));
  assert_true(thread_parse("M8x0.75", &fine));
  Strip strip = engagement_strip(&m8, 16e-3, 130e6, 460e6);
  assert_close(engagement_strip(&m8, 8e-3, 130e6, 0.0).load, strip.load / 2.0, 1e-12, 0.0);
  assert_close(engagement_length_for(&m8, strip.load, 130e6, 0.0), 16e-3, 1e-12, 0.0);
  assert_true(strip.load < strip.usual);
  assert_true(strip.load > 0.85 * strip.usual);
  assert_false(strip.own_thread);
  /* a soft screw in hard steel loses its own thread */
  assert_true(engagement_strip(&m8, 16e-3, 500e6, 240e6).own_thread);
  assert_true(engagement_strip(&fine, 16e-3, 130e6, 460e6).load > 0.0);
}

/* One starts on the other, or does not go on at all. */
static void near_threads(void **state) {
  static const struct {
    const char *a, *b;
    bool near;
  } table[] = {
      {"M8", "5/16-18", true},   {"M6", "1/4-20", true},  {"M10", "3/8-16", true},
      {"M10", "M10x1.25", true}, {"M5", "#10-32", true},  {"M12", "1/2-13", true},
      {"M10", "7/16-14", false}, {"M8", "M10", false},    {"M8", "M8", false},
      {"M14", "9/16-12", true},  {"M8", "3/8-16", false}, {"M16x1.5", "M15x1.5", false},
  };
  (void)state;
  for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
    Thread a, b;
    assert_true(thread_parse(table[i].a, &a));
    assert_true(thread_parse(table[i].b, &b));
    assert_int_equal(thread_is_near(&a, &b), table[i].near);
    assert_int_equal(thread_is_near(&b, &a), table[i].near);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(reads_and_prints_one_spelling),
      cmocka_unit_test(refuses_what_no_series_has),
      cmocka_unit_test(series_and_size),
      cmocka_unit_test(a_left_hand_thread_is_another),
      cmocka_unit_test(names_are_all_read),
      cmocka_unit_test(diameters_are_in_order),
      cmocka_unit_test(weakest_section),
      cmocka_unit_test(engagement_scales),
      cmocka_unit_test(near_threads),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
