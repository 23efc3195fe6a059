/* Torque wrenches against aviation manuals. */
#include "unit/test.h"

#include "published/measures.h"
#include "trade/wrench.h"

/* TM 1-1500-204-23-9: 300 lbf.in, wrench 10 in, adapter 4 in: set 214. */
static void army_adapter_case(void **state) {
  (void)state;
  assert_close(wrench_setting(300.0, 10.0, 4.0, 0.0), 214.0, 0.0, 0.5);
}

/* FAA AC 43.13-1B, figure 7-2, from memory: 135 lbf.in, 10 in, adapter 1.5 in
 * out and turned back. */
static void faa_adapter_cases(void **state) {
  (void)state;
  assert_close(wrench_setting(135.0, 10.0, 1.5, 0.0), 117.39, 0.0, 0.005);
  assert_close(wrench_setting(135.0, 10.0, -1.5, 0.0), 158.82, 0.0, 0.005);
  assert_close(wrench_setting(135.0, 10.0, 1.5, 180.0 * DEG), 158.82, 0.0, 0.005);
}

/* The same manuals: at a right angle nothing changes. */
static void right_angle_changes_nothing(void **state) {
  (void)state;
  assert_close(wrench_setting(135.0, 10.0, 1.5, 90.0 * DEG), 135.0, 1e-12, 0.0);
}

/* TM 1-1500-204-23-9, table 8-1: +-4 % from a fifth of full scale, best 30 to 80 %. */
static void accuracy_is_promised_from_a_fifth(void **state) {
  (void)state;
  assert_true(wrench_is_promised(20.0, 100.0));
  assert_false(wrench_is_promised(19.9, 100.0));
  assert_true(wrench_is_promised(100.0, 100.0));
  assert_true(wrench_is_best(30.0, 100.0));
  assert_false(wrench_is_best(80.5, 100.0));
}

/* ISO 6789, from memory: +-6 % up to 10 N.m, +-4 % above. */
static void permitted_deviation(void **state) {
  (void)state;
  assert_close(wrench_deviation(10.0), 0.06, 0.0, 0.0);
  assert_close(wrench_deviation(10.1), 0.04, 0.0, 0.0);
}

/* The same cases of the manuals on a wrench that shows whole lbf.in: 214.29 and 117.39 are set to
 * 214 and 117, as both print. */
static void settings_on_a_scale(void **state) {
  (void)state;
  assert_close(wrench_division(wrench_setting(300.0, 10.0, 4.0, 0.0), 1.0, 1.4, 300.0, 300.0),
               214.0, 1e-12, 0.0);
  assert_close(wrench_division(wrench_setting(135.0, 10.0, 1.5, 0.0), 1.0, 1.15, 135.0, 135.0),
               117.0, 1e-12, 0.0);
  assert_close(wrench_division(117.39, 0.0, 1.15, 135.0, 135.0), 117.39, 0.0, 0.0);
}

/* Own reasoning: half way goes up; what is on the scale stays; a band has the last word. */
static void settings_in_a_band(void **state) {
  (void)state;
  assert_close(wrench_division(17.5, 1.0, 1.0, 17.5, 17.5), 18.0, 1e-12, 0.0);
  assert_close(wrench_division(8.3, 0.1, 1.0, 8.3, 8.3), 8.3, 1e-12, 0.0);
  assert_close(wrench_division(45.0, 2.0, 1.0, 45.0, 50.0), 46.0, 1e-12, 0.0);
  assert_close(wrench_division(45.9, 2.0, 1.0, 44.0, 45.95), 44.0, 1e-12, 0.0);
  assert_close(wrench_division(9.1, 2.0, 1.2, 10.9, 12.5), 10.0, 1e-12, 0.0);
  assert_true(wrench_is_near(46.0, 45.0, 45.0, 50.0));
  assert_false(wrench_is_near(44.0, 45.0, 45.0, 50.0));
  assert_true(wrench_is_near(46.8, 45.0, 45.0, 45.0));
  assert_false(wrench_is_near(46.9, 45.0, 45.0, 45.0));
  assert_true(wrench_is_near(8.48, 8.0, 8.0, 8.0));
  assert_false(wrench_is_near(8.49, 8.0, 8.0, 8.0));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(army_adapter_case),
      cmocka_unit_test(faa_adapter_cases),
      cmocka_unit_test(right_angle_changes_nothing),
      cmocka_unit_test(accuracy_is_promised_from_a_fifth),
      cmocka_unit_test(permitted_deviation),
      cmocka_unit_test(settings_on_a_scale),
      cmocka_unit_test(settings_in_a_band),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
