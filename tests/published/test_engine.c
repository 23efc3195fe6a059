/* Swept volume, ratio, slider-crank and valve timing against textbooks and manuals. */
#include "unit/test.h"

#include "published/measures.h"
#include "trade/crank.h"
#include "trade/valve.h"
#include "trade/volume.h"

/* NAVEDTRA 14264: 3.5 x 4 in, 8 cylinders, 307.44 in3 with pi as 3.14 (hence 0.15 %). */
static void navy_swept_volume(void **state) {
  (void)state;
  assert_close(8.0 * crank_swept(3.5 * INCH, 4.0 * INCH) / INCH3, 307.44, 0.0015, 0.0);
}

/* FAA type certificate data sheet E-286, as quoted elsewhere: 5.125 x 4.375 in, 4
 * cylinders, 361.0 in3. */
static void faa_swept_volume(void **state) {
  (void)state;
  assert_close(4.0 * crank_swept(5.125 * INCH, 4.375 * INCH) / INCH3, 361.0, 0.0, 0.05);
}

/* Rajput, Engineering Thermodynamics, p. 616: 0.25 x 0.375 m, clearance 0.00263 m3. */
static void rajput_ratio(void **state) {
  double swept = crank_swept(0.25, 0.375);
  (void)state;
  assert_close(swept, 0.0184, 0.0, 0.00005);
  assert_close(crank_ratio(swept, 0.00263), 8.0, 0.0, 0.005);
  assert_close(crank_clearance_for(swept, 8.0), 0.00263, 0.001, 0.0);
}

/* A worked example without attribution: 245 cm3, bore over stroke 1.1, clearance
 * 27.2 cm3: bore 7.00 cm, stroke 6.36 cm, ratio 10.007. */
static void square_bore_example(void **state) {
  double bore = cbrt(245.0 * CM3 * 1.1 * 4.0 / TRADE_PI);
  (void)state;
  assert_close(bore, 0.0700, 0.0, 0.00005);
  assert_close(bore / 1.1, 0.0636, 0.0, 0.00005);
  assert_close(crank_swept(bore, bore / 1.1), 245.0 * CM3, 1e-12, 0.0);
  assert_close(crank_ratio(245.0 * CM3, 27.2 * CM3), 10.007, 0.0, 0.0005);
}

/* A textbook problem, computed: throw 0.150, rod 0.600 m, 60 deg, 450 rpm. */
static void slider_crank_problem(void **state) {
  double speed = 450.0 * RPM, angle = 60.0 * DEG;
  (void)state;
  assert_close(crank_velocity(0.300, 0.600, angle, speed), 6.905, 0.0, 0.0005);
  assert_close(crank_acceleration(0.300, 0.600, angle, speed), 124.95, 0.0, 0.005);
  assert_close(crank_velocity_series(0.300, 0.600, angle, speed), 6.887, 0.0, 0.0005);
  assert_close(crank_acceleration_series(0.300, 0.600, angle, speed), 124.91, 0.0, 0.005);
}

/* Computed with mpmath: 86 x 86 mm, rod 143, ratio 11, intake closes 60 ABDC. */
static void effective_ratio(void **state) {
  double swept = crank_swept(86.0 * MM, 86.0 * MM);
  double clearance = crank_clearance_for(swept, 11.0);
  (void)state;
  assert_close(crank_effective_ratio(86.0 * MM, 86.0 * MM, 143.0 * MM, clearance, 60.0 * DEG),
               9.0737, 0.0, 0.00005);
  assert_close(crank_effective_ratio(86.0 * MM, 86.0 * MM, 143.0 * MM, clearance, 0.0), 11.0, 1e-12,
               0.0);
}

/* TM 9-8000 p. 2-36: intake open 279 deg from 28 BTDC, exhaust closes 45 ATDC, overlap
 * 73; hence it closes 71 ABDC with its centre at 111.5 ATDC. */
static void army_valve_timing(void **state) {
  double opens = -28.0 * DEG, closes = 71.0 * DEG;
  (void)state;
  assert_close(valve_duration(opens, closes) / DEG, 279.0, 1e-12, 0.0);
  assert_close(valve_intake_centre(opens, closes) / DEG, 111.5, 1e-12, 0.0);
  assert_close(valve_overlap(opens, 45.0 * DEG) / DEG, 73.0, 1e-12, 0.0);
}

/* The starter twin; invented parts, figures computed apart from this code. */
static void starter_twin(void **state) {
  double bore = 83.40 * MM, stroke = 79.60 * MM, rod = 151.00 * MM, speed = 6800.0 * RPM;
  double swept = crank_swept(bore, stroke);
  double clearance =
      volume_clearance(50.6 * CM3, 84.60 * MM, 0.60 * MM, bore, 0.40 * MM, 4.2 * CM3);
  (void)state;
  assert_close(2.0 * swept / CM3, 869.7, 0.0, 0.05);
  assert_close(clearance / CM3, 51.96, 0.0, 0.005);
  assert_close(crank_ratio(swept, clearance), 9.37, 0.0, 0.005);
  assert_close(crank_effective_ratio(bore, stroke, rod, clearance, 65.0 * DEG), 7.41, 0.0, 0.005);
  assert_close(crank_piston_speed(stroke, speed), 18.0, 0.0, 0.05);
  assert_close(crank_acceleration_peak(stroke, rod, speed), 25500.0, 0.0, 50.0);
}

static void starter_twin_timing(void **state) {
  static const struct {
    double opens, intake_closes, exhaust_opens, closes, duration, overlap;
  } card[] = {{-31, 65, -67, 29, 276, 60}, {-8, 42, -44, 6, 230, 14}}; /* at 0.15 and 1 mm */
  (void)state;
  for (size_t i = 0; i < COUNT(card); i++) {
    double intake = valve_intake_centre(card[i].opens * DEG, card[i].intake_closes * DEG);
    double exhaust = valve_exhaust_centre(card[i].exhaust_opens * DEG, card[i].closes * DEG);
    double open = valve_duration(card[i].opens * DEG, card[i].intake_closes * DEG);
    assert_close(open / DEG, card[i].duration, 1e-12, 0.0);
    assert_close(intake / DEG, 107.0, 1e-12, 0.0);
    assert_close(exhaust / DEG, -109.0, 1e-12, 0.0);
    assert_close(valve_separation(intake, exhaust) / DEG, 108.0, 1e-12, 0.0);
    assert_close(valve_overlap(card[i].opens * DEG, card[i].closes * DEG) / DEG, card[i].overlap,
                 1e-12, 0.0);
  }
}

/* Least gap of valve and piston over the lifts of the invented cam card. */
static void starter_twin_valve_gaps(void **state) {
  static const double angle[] = {0, 5, 10, 15, 20};
  static const double intake[] = {1.51, 1.88, 2.28, 2.72, 3.18};
  static const double exhaust[] = {1.37, 1.72, 2.12, 2.54, 2.99};
  double least_intake = INFINITY, least_exhaust = INFINITY;
  size_t at_intake = 0, at_exhaust = 0;
  (void)state;
  for (size_t i = 0; i < COUNT(angle); i++) {
    double drop = crank_drop(79.60 * MM, 151.00 * MM, angle[i] * DEG);
    double in = valve_piston_gap(4.00 * MM, intake[i] * MM, drop, 27.0 * DEG);
    double out = valve_piston_gap(4.60 * MM, exhaust[i] * MM, drop, 27.0 * DEG);
    if (in < least_intake) at_intake = i;
    if (out < least_exhaust) at_exhaust = i;
    least_intake = fmin(least_intake, in);
    least_exhaust = fmin(least_exhaust, out);
  }
  assert_close(least_intake / MM, 2.29, 0.0, 0.005);
  assert_close(least_exhaust / MM, 3.05, 0.0, 0.005);
  assert_int_equal(at_intake, 1);
  assert_int_equal(at_exhaust, 1);
}

static void starter_twin_springs(void **state) {
  double lift = valve_lift(7.60 * MM, 1.25, 0.0);
  (void)state;
  assert_close(lift / MM, 9.50, 1e-12, 0.0);
  assert_close(valve_spring_load(300.0, 37e3, lift), 651.5, 1e-12, 0.0);
  assert_close(valve_coil_bind_margin(38.50 * MM, lift, 26.40 * MM) / MM, 2.60, 1e-9, 0.0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(navy_swept_volume),    cmocka_unit_test(faa_swept_volume),
      cmocka_unit_test(rajput_ratio),         cmocka_unit_test(square_bore_example),
      cmocka_unit_test(slider_crank_problem), cmocka_unit_test(effective_ratio),
      cmocka_unit_test(army_valve_timing),    cmocka_unit_test(starter_twin),
      cmocka_unit_test(starter_twin_timing),  cmocka_unit_test(starter_twin_valve_gaps),
      cmocka_unit_test(starter_twin_springs),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
