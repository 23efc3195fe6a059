/* trade/joint, trade/wrench, trade/slip, trade/pattern: relations that must hold. */
#include "unit/test.h"

#include "trade/circle.h"
#include "trade/joint.h"
#include "trade/pattern.h"
#include "trade/slip.h"
#include "trade/strength.h"
#include "trade/wrench.h"

static Thread thread_of(const char *name) {
  Thread thread;
  assert_true(thread_parse(name, &thread));
  return thread;
}

static void torque_and_preload_undo_each_other(void **state) {
  (void)state;
  assert_close(joint_torque(joint_preload(46.0, 0.15, 0.01), 0.15, 0.01), 46.0, 1e-12, 0.0);
  assert_close(joint_net_torque(10.0, 1.5), 8.5, 1e-12, 0.0);
  assert_close(joint_net_torque(1.0, 1.5), 0.0, 0.0, 0.0);
}

static void friction_comes_back_out_of_k(void **state) {
  Thread m10 = thread_of("M10x1.25");
  (void)state;
  for (int i = 1; i < 8; i++) {
    double friction = 0.05 * i;
    double k = joint_k_of(&m10, 0.0, friction, friction);
    assert_close(joint_friction_of_k(&m10, k), friction, 1e-9, 0.0);
  }
  assert_close(joint_friction_of_k(&m10, 0.001), 0.0, 0.0, 1e-12);
}

/* Paste on the thread and oil under the head lies between all paste and all oil. */
static void mixed_lubricants_lie_between(void **state) {
  Thread m8 = thread_of("M8");
  double mixed = joint_k_of(&m8, 0.0, 0.08, 0.14);
  (void)state;
  assert_true(mixed > joint_k_of(&m8, 0.0, 0.08, 0.08));
  assert_true(mixed < joint_k_of(&m8, 0.0, 0.14, 0.14));
}

/* The assembly preload is the one whose equivalent stress is that share of yield. */
static void assembly_preload_meets_its_stress(void **state) {
  Thread m10 = thread_of("M10x1.25");
  double d2 = thread_pitch_diameter(m10.major, m10.pitch);
  double preload = joint_assembly_preload(&m10, 940e6, 0.12, 0.9);
  double torque = joint_thread_torque(preload, m10.pitch, d2, 0.12);
  double stress = joint_equivalent_stress(preload, torque, thread_stress_area(&m10));
  (void)state;
  /* 0.16 P + 0.58 d2 mu is P/(2 pi) + 1.155 d2 mu/2 with rounded constants. */
  assert_close(stress / 940e6, 0.9, 0.002, 0.0);
}

static void torsion_adds_to_tension(void **state) {
  Thread m8 = thread_of("M8");
  double area = thread_stress_area(&m8);
  double preload = 15e3;
  (void)state;
  assert_close(joint_equivalent_stress(preload, 0.0, area), preload / area, 1e-12, 0.0);
  double low = joint_yield_share(&m8, area, preload, joint_friction_of_k(&m8, 0.10), 0.0, 640e6);
  double high = joint_yield_share(&m8, area, preload, joint_friction_of_k(&m8, 0.20), 0.0, 640e6);
  assert_true(low > preload / area / 640e6);
  assert_true(high > low);
}

static void springs_in_series(void **state) {
  double bolt = joint_stiffness(205e9, 50e-6, 0.1);
  (void)state;
  assert_close(bolt, 102.5e6, 1e-12, 0.0);
  assert_close(joint_in_series(bolt, bolt), bolt / 2.0, 1e-12, 0.0);
  assert_close(joint_preload_of_stretch(joint_stretch(2e4, bolt), bolt), 2e4, 1e-12, 0.0);
  /* A whole turn pulls one pitch through bolt and clamped parts together. */
  assert_close(joint_preload_of_angle(2.0 * TRADE_PI, 1.25e-3, bolt, bolt), 1.25e-3 * bolt / 2.0,
               1e-12, 0.0);
}

static void wrench_setting_and_what_arrives(void **state) {
  double setting = wrench_setting(50.0, 0.4, 0.1, 0.3);
  (void)state;
  assert_true(setting < 50.0);
  assert_close(wrench_applied(setting, 0.4, 0.1, 0.3), 50.0, 1e-12, 0.0);
  assert_close(wrench_setting(50.0, 0.4, 0.0, 0.0), 50.0, 1e-12, 0.0);
  assert_true(isnan(wrench_setting(50.0, 0.4, -0.4, 0.0)));
  assert_true(isnan(wrench_setting(50.0, 0.0, 0.1, 0.0)));
}

static void wrench_range_includes_its_ends(void **state) {
  (void)state;
  assert_true(wrench_is_in_range(60.0, 10.0, 60.0));
  assert_true(wrench_is_in_range(60.0 + 1e-10, 10.0, 60.0));
  assert_true(wrench_is_in_range(10.0, 10.0, 60.0));
  assert_false(wrench_is_in_range(60.1, 10.0, 60.0));
  assert_false(wrench_is_in_range(9.9, 10.0, 60.0));
}

/* 75 lbf.in on an M6 8.8, written as 75 N.m: past proof, and lbf.in is named. */
static void slip_names_the_likely_unit(void **state) {
  Thread m6 = thread_of("M6");
  SlipReading readings[SLIP_UNITS];
  double proof = strength_proof_load(thread_stress_area(&m6), 580e6);
  (void)state;
  assert_int_equal(slip_readings(75.0, "N.m", 0.17, m6.major, proof, readings), 1);
  assert_string_equal(readings[0].unit, "lbf.in");
  assert_close(readings[0].torque, 8.47386, 1e-5, 0.0);
  assert_close(readings[0].share, 0.71, 0.0, 0.005);
}

/* 46 N.m on an M10x1.25 10.9 as lbf.ft: both make sense, so both are named. */
static void slip_of_a_third_stays_plausible(void **state) {
  Thread m10 = thread_of("M10x1.25");
  SlipReading readings[SLIP_UNITS];
  double proof = strength_proof_load(thread_stress_area(&m10), 830e6);
  (void)state;
  assert_int_equal(slip_readings(46.0, NULL, 0.15, m10.major, proof, readings), 2);
  assert_string_equal(readings[0].unit, "lbf.ft");
  assert_string_equal(readings[1].unit, "N.m");
  assert_true(slip_is_foot_pound_apart(readings[0].share, readings[1].share));
  assert_true(slip_is_foot_pound_apart(readings[1].share, readings[0].share));
  assert_false(slip_is_foot_pound_apart(0.60, 0.67));
  assert_false(slip_is_foot_pound_apart(0.10, 0.67));
}

static void assert_order(const PatternPoint *points, const size_t *expected, size_t n) {
  size_t order[16];
  assert_true(n <= 16);
  pattern_order(points, n, order);
  for (size_t i = 0; i < n; i++) assert_int_equal(order[i], expected[i]);
}

static void four_corners_go_crosswise(void **state) {
  static const PatternPoint points[] = {{0, 0}, {0.092, 0}, {0, 0.092}, {0.092, 0.092}};
  static const size_t expected[] = {0, 3, 1, 2};
  (void)state;
  assert_order(points, expected, 4);
}

static void more_than_a_pattern_stay_as_given(void **state) {
  static PatternPoint points[PATTERN_MOST + 1];
  size_t order[PATTERN_MOST + 1];
  (void)state;
  memset(order, 0xff, sizeof order);
  pattern_order(points, PATTERN_MOST + 1, order);
  for (size_t i = 0; i < PATTERN_MOST + 1; i++) assert_int_equal(order[i], i);
}

static void a_circle_of_six_goes_crosswise(void **state) {
  static const size_t expected[] = {0, 3, 1, 4, 2, 5};
  PatternPoint points[6];
  (void)state;
  for (int i = 0; i < 6; i++) {
    points[i] = (PatternPoint){cos(TRADE_PI / 3.0 * i), sin(TRADE_PI / 3.0 * i)};
  }
  assert_order(points, expected, 6);
}

/* Two rows of four: the inner four first, crosswise, then the outer four. */
static void two_rows_go_from_the_middle(void **state) {
  static const PatternPoint points[] = {{0.0, 0.0}, {0.1, 0.0}, {0.2, 0.0}, {0.3, 0.0},
                                        {0.0, 0.1}, {0.1, 0.1}, {0.2, 0.1}, {0.3, 0.1}};
  static const size_t expected[] = {1, 6, 2, 5, 3, 4, 7, 0};
  (void)state;
  assert_order(points, expected, 8);
}

static void few_points_and_points_in_one_place(void **state) {
  static const PatternPoint points[] = {{1, 1}, {1, 1}, {1, 1}};
  static const size_t expected[] = {0, 1, 2};
  (void)state;
  pattern_order(points, 0, NULL);
  assert_order(points, expected, 1);
  assert_order(points, expected, 3);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(torque_and_preload_undo_each_other),
      cmocka_unit_test(friction_comes_back_out_of_k),
      cmocka_unit_test(mixed_lubricants_lie_between),
      cmocka_unit_test(assembly_preload_meets_its_stress),
      cmocka_unit_test(torsion_adds_to_tension),
      cmocka_unit_test(springs_in_series),
      cmocka_unit_test(wrench_setting_and_what_arrives),
      cmocka_unit_test(wrench_range_includes_its_ends),
      cmocka_unit_test(slip_names_the_likely_unit),
      cmocka_unit_test(slip_of_a_third_stays_plausible),
      cmocka_unit_test(four_corners_go_crosswise),
      cmocka_unit_test(a_circle_of_six_goes_crosswise),
      cmocka_unit_test(more_than_a_pattern_stay_as_given),
      cmocka_unit_test(two_rows_go_from_the_middle),
      cmocka_unit_test(few_points_and_points_in_one_place),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
