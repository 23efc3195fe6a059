/* trade/crank, trade/volume, trade/valve, trade/fit, trade/adjuster: relations that must hold. */
#include "unit/test.h"

#include "trade/adjuster.h"
#include "trade/circle.h"
#include "trade/crank.h"
#include "trade/fit.h"
#include "trade/valve.h"
#include "trade/volume.h"

#define STROKE 79.6e-3
#define ROD    151e-3

static void piston_goes_from_top_to_bottom(void **state) {
  (void)state;
  assert_close(crank_drop(STROKE, ROD, 0.0), 0.0, 0.0, 1e-15);
  assert_close(crank_drop(STROKE, ROD, TRADE_PI), STROKE, 1e-12, 0.0);
  assert_close(crank_drop(STROKE, ROD, -0.7), crank_drop(STROKE, ROD, 0.7), 1e-12, 0.0);
  assert_close(crank_height(STROKE, ROD, 0.4) + crank_drop(STROKE, ROD, 0.4), ROD + STROKE / 2.0,
               1e-12, 0.0);
  /* Past half way at a quarter turn, whatever the rod. */
  assert_true(crank_drop(STROKE, ROD, TRADE_PI / 2.0) > STROKE / 2.0);
}

static void angle_comes_back_out_of_the_drop(void **state) {
  (void)state;
  for (int i = 1; i < 18; i++) {
    double angle = TRADE_PI * i / 18.0;
    double drop = crank_drop(STROKE, ROD, angle);
    assert_close(crank_angle_of_drop(STROKE, ROD, drop), angle, 1e-9, 0.0);
  }
  assert_close(crank_angle_of_drop(STROKE, ROD, 0.0), 0.0, 0.0, 1e-6);
  assert_close(crank_angle_of_drop(STROKE, ROD, STROKE), TRADE_PI, 0.0, 1e-6);
  assert_true(isnan(crank_angle_of_drop(STROKE, ROD, -1e-3)));
}

static void velocity_and_acceleration_are_slopes(void **state) {
  double step = 1e-5, speed = 712.0;
  (void)state;
  for (int i = 0; i < 12; i++) {
    double angle = TRADE_PI * i / 6.0 + 0.1;
    double rise = crank_drop(STROKE, ROD, angle + step) - crank_drop(STROKE, ROD, angle - step);
    double gain = crank_velocity(STROKE, ROD, angle + step, speed) -
                  crank_velocity(STROKE, ROD, angle - step, speed);
    assert_close(crank_velocity(STROKE, ROD, angle, speed), rise * speed / (2.0 * step), 1e-6,
                 1e-5);
    assert_close(crank_acceleration(STROKE, ROD, angle, speed), gain * speed / (2.0 * step), 1e-6,
                 1e-3);
  }
  assert_close(crank_acceleration_peak(STROKE, ROD, speed),
               crank_acceleration(STROKE, ROD, 0.0, speed), 1e-12, 0.0);
}

static void a_rod_shorter_than_the_throw_is_no_crank(void **state) {
  (void)state;
  assert_true(isnan(crank_drop(STROKE, 30e-3, 0.0)));
  assert_true(isnan(crank_velocity(STROKE, 30e-3, 0.1, 1.0)));
  assert_true(isnan(crank_effective_ratio(84e-3, STROKE, 0.0, 50e-6, 1.0)));
}

static void speeds_and_ratios_undo_each_other(void **state) {
  double swept = crank_swept(84e-3, STROKE);
  (void)state;
  assert_close(crank_speed_of_piston(STROKE, crank_piston_speed(STROKE, 700.0)), 700.0, 1e-12, 0.0);
  assert_close(crank_ratio(swept, crank_clearance_for(swept, 9.4)), 9.4, 1e-12, 0.0);
  assert_close(crank_swept_from(84e-3, STROKE, ROD, TRADE_PI), swept, 1e-12, 0.0);
}

static void volumes_agree_with_each_other(void **state) {
  double d = 80e-3, h = 5e-3;
  (void)state;
  assert_close(volume_cap(d, d / 2.0), TRADE_PI / 12.0 * d * d * d, 1e-12, 0.0);
  assert_close(volume_frustum(d, d, h), volume_cylinder(d, h), 1e-12, 0.0);
  assert_close(volume_frustum(d, 0.0, h), volume_cylinder(d, h) / 3.0, 1e-12, 0.0);
  assert_close(volume_ring(d, d / 2.0, h) + volume_cylinder(d / 2.0, h), volume_cylinder(d, h),
               1e-12, 0.0);
  assert_close(volume_height(volume_cylinder(d, h), d), h, 1e-12, 0.0);
  assert_close(volume_crevice(84e-3, 83.5e-3, h), TRADE_PI * 83.75e-3 * 0.25e-3 * h, 1e-12, 0.0);
}

/* A piston standing proud takes room away, as does a dome; a dish adds. */
static void clearance_volume_signs(void **state) {
  double flat = volume_clearance(50e-6, 85e-3, 1e-3, 84e-3, 0.0, 0.0);
  (void)state;
  assert_true(volume_clearance(50e-6, 85e-3, 1e-3, 84e-3, -0.2e-3, 0.0) < flat);
  assert_true(volume_clearance(50e-6, 85e-3, 1e-3, 84e-3, 0.0, 3e-6) < flat);
  assert_true(volume_clearance(50e-6, 85e-3, 1e-3, 84e-3, 0.0, -3e-6) > flat);
}

static void advancing_a_cam_moves_both_centres(void **state) {
  double degree = TRADE_PI / 180.0;
  (void)state;
  assert_close(valve_advance(104.0 * degree, -112.0 * degree), 4.0 * degree, 1e-9, 0.0);
  assert_close(valve_separation(104.0 * degree, -112.0 * degree), 108.0 * degree, 1e-12, 0.0);
}

static void lift_and_springs(void **state) {
  (void)state;
  assert_close(valve_lift(8e-3, 1.25, 0.1e-3), 9.9e-3, 1e-12, 0.0);
  assert_close(valve_lift(0.0, 1.25, 0.1e-3), 0.0, 0.0, 0.0);
  double open = valve_spring_load(300.0, 37e3, 9.5e-3);
  assert_close(valve_spring_rate(300.0, open, 9.5e-3), 37e3, 1e-12, 0.0);
  assert_close(valve_spring_height(47e-3, 300.0, 40e3), 39.5e-3, 1e-12, 0.0);
  assert_true(valve_coil_bind_margin(38e-3, 10e-3, 29e-3) < 0.0);
  assert_close(valve_retainer_gap(11.6e-3, 9.5e-3), 2.1e-3, 1e-9, 0.0);
  assert_close(valve_pocket_gap(40e-3, 37e-3, -0.5e-3), 1e-3, 1e-9, 0.0);
}

static void turns_flats_and_travel(void **state) {
  double turn = adjuster_turn(1.5e-3, 0.75e-3);
  (void)state;
  assert_close(turn, 4.0 * TRADE_PI, 1e-12, 0.0);
  assert_close(adjuster_travel(turn, 0.75e-3), 1.5e-3, 1e-12, 0.0);
  assert_close(adjuster_turn_of_flats(adjuster_flats(turn, 6.0), 6.0), turn, 1e-12, 0.0);
}

static void shim_choice_stays_in_stock(void **state) {
  (void)state;
  assert_close(fit_shim_choice(1.42, 0.8, 1.6, 0.1), 1.4, 1e-12, 0.0);
  assert_close(fit_shim_choice(1.46, 0.8, 1.6, 0.1), 1.5, 1e-12, 0.0);
  assert_close(fit_shim_choice(1.45, 0.8, 1.6, 0.1), 1.4, 1e-12, 0.0); /* halfway: thinner */
  assert_close(fit_shim_choice(3.00, 0.8, 1.6, 0.1), 1.6, 1e-12, 0.0);
  assert_close(fit_shim_choice(0.10, 0.8, 1.6, 0.1), 0.8, 1e-12, 0.0);
  assert_close(fit_shim_choice(1.00, 0.8, 1.65, 0.0), 1.0, 1e-12, 0.0); /* ground to size */
  assert_close(fit_shim_choice(1.64, 0.8, 1.65, 0.1), 1.6, 1e-12, 0.0);
}

static void wear_of_a_bore(void **state) {
  /* Top, middle, bottom; along and across the pin. */
  static const double at[] = {84.030, 84.045, 84.020, 84.028, 84.010, 84.012};
  (void)state;
  assert_close(fit_out_of_round(at, 3, 2), 0.015, 1e-9, 0.0);
  assert_close(fit_taper(at, 3, 2), 0.033, 1e-9, 0.0);
  assert_close(fit_taper(at, 1, 2), 0.0, 0.0, 0.0);
  assert_close(fit_out_of_round(at, 0, 0), 0.0, 0.0, 0.0);
}

static void heat_and_gaps(void **state) {
  (void)state;
  assert_close(fit_hot_length(0.1, 20e-6, 100.0), 0.1002, 1e-12, 0.0);
  /* Alike in everything, hot as cold but for its own growth. */
  assert_close(fit_hot_clearance(84e-3, 20e-6, 100.0, 83.95e-3, 20e-6, 100.0), 0.0501e-3, 1e-9,
               0.0);
  assert_close(fit_ring_gap_in(0.4e-3, 84.00e-3, 84.02e-3), 0.4e-3 + TRADE_PI * 0.02e-3, 1e-9, 0.0);
  /* Against a rigid column the stud takes all of the mismatch. */
  assert_close(fit_stud_gain(0.2e-3, 60e6, 1e15), 12e3, 1e-6, 0.0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(piston_goes_from_top_to_bottom),
      cmocka_unit_test(angle_comes_back_out_of_the_drop),
      cmocka_unit_test(velocity_and_acceleration_are_slopes),
      cmocka_unit_test(a_rod_shorter_than_the_throw_is_no_crank),
      cmocka_unit_test(speeds_and_ratios_undo_each_other),
      cmocka_unit_test(volumes_agree_with_each_other),
      cmocka_unit_test(clearance_volume_signs),
      cmocka_unit_test(advancing_a_cam_moves_both_centres),
      cmocka_unit_test(lift_and_springs),
      cmocka_unit_test(turns_flats_and_travel),
      cmocka_unit_test(shim_choice_stays_in_stock),
      cmocka_unit_test(wear_of_a_bore),
      cmocka_unit_test(heat_and_gaps),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
