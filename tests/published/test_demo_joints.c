/* The joints of the starter twin: share of proof at middle, high and low K.
 *
 * The joints are invented; the classes are ISO 898-1 (proof stress read in a reprint),
 * the shares were computed apart from this code, from T = K d F and the formula areas. */
#include "unit/test.h"

#include "published/measures.h"
#include "trade/engagement.h"
#include "trade/fit.h"
#include "trade/joint.h"
#include "trade/strength.h"

static Thread thread_of(const char *name) {
  Thread thread;
  if (!thread_parse(name, &thread)) fail_msg("%s is not known", name);
  return thread;
}

static void shares_of_proof(void **state) {
  static const struct {
    const char *thread;
    double proof_stress, low_k, high_k, torque, low_share, middle_share, high_share;
  } table[] = {
      {"M10x1.25", 830, 0.13, 0.17, 46.0, 53, 60, 70}, /* head nuts, oil */
      {"M8", 580, 0.13, 0.17, 18.0, 62, 71, 82},       /* barrel nuts, rocker supports */
      {"M8x1", 970, 0.11, 0.15, 28.0, 61, 71, 84},     /* rod bolts, moly paste */
      {"M10x1.25", 830, 0.15, 0.19, 58.0, 60, 67, 76}, /* cam sprocket, threadlock */
      {"M16x1.5", 580, 0.13, 0.17, 150.0, 57, 64, 74}, /* crank nut */
      {"M6", 580, 0.15, 0.19, 8.5, 64, 71, 81},        /* pump, plate */
      {"M6", 580, 0.15, 0.19, 8.0, 60, 67, 76},        /* tensioner */
      {"M6", 580, 0.17, 0.23, 9.0, 56, 64, 76},        /* covers, dry zinc */
      {"M8", 580, 0.17, 0.23, 22.0, 56, 65, 76},       /* intake */
      {"M8", 580, 0.11, 0.15, 16.0, 63, 72, 86},       /* exhaust, anti-seize */
  };
  (void)state;
  for (size_t i = 0; i < COUNT(table); i++) {
    Thread thread = thread_of(table[i].thread);
    double proof = strength_proof_load(thread_stress_area(&thread), table[i].proof_stress * MPA);
    double middle_k = (table[i].low_k + table[i].high_k) / 2.0;
    double torque = table[i].torque;
    double low = joint_preload(torque, table[i].high_k, thread.major) / proof;
    double middle = joint_preload(torque, middle_k, thread.major) / proof;
    double high = joint_preload(torque, table[i].low_k, thread.major) / proof;
    assert_close(round(100.0 * low), table[i].low_share, 0.0, 0.0);
    assert_close(round(100.0 * middle), table[i].middle_share, 0.0, 0.0);
    assert_close(round(100.0 * high), table[i].high_share, 0.0, 0.0);
  }
}

/* Threads in aluminium of 130 MPa shear strength, kN; computed apart from this code, with a
 * flank gap that lies between the worst of the tolerances, which we judge by, and their middle. */
static void stripping_in_aluminium(void **state) {
  static const struct {
    const char *thread;
    double length, load;
  } table[] = {{"M6", 12, 21.5}, {"M8", 16, 39.7}, {"M10x1.5", 20, 63.6}};
  (void)state;
  for (size_t i = 0; i < COUNT(table); i++) {
    Thread thread = thread_of(table[i].thread);
    Strip strip = engagement_strip(&thread, table[i].length * MM, 130.0 * MPA, 0.0);
    assert_true(strip.load / 1e3 < table[i].load);
    assert_close(strip.load / 1e3, table[i].load, 0.125, 0.0);
    assert_close(strip.usual / 1e3, table[i].load, 0.035, 0.0);
  }
}

/* 6.5 MPa on the gasket's bore, and four head studs at middle K. */
static void gas_load_against_four_studs(void **state) {
  (void)state;
  assert_close(joint_gas_load(6.5 * MPA, 84.60 * MM) / 1e3, 36.5, 0.0, 0.05);
  assert_close(4.0 * joint_preload(46.0, 0.15, 10.0 * MM) / 1e3, 122.7, 0.0, 0.05);
}

/* 210 mm of steel stud (12.3) through aluminium (21.5e-6/K, both Callister table
 * B.6), 120 K up; 9 mm shank. What it clamps: the substitute cylinder of VDI 2230 (from memory)
 * under a face of 15 mm, and the cones of Shigley, 9th ed., eq. 8-22 (from memory): the
 * two come to the same share. Low K and the gain together stay below proof. */
static void hot_head_stud(void **state) {
  Thread thread = thread_of("M10x1.25");
  double length = 210.0 * MM;
  double mismatch = fit_stud_mismatch(length, 21.5e-6, 12.3e-6, 120.0);
  double stud = joint_stiffness(205e9, circle_area(9.0 * MM), length);
  double cylinder =
      joint_stiffness(71e9, joint_cylinder_area(15.0 * MM, 11.0 * MM, length, 0.0), length);
  double cones = joint_cone_stiffness(71e9, thread.major, length);
  double proof = strength_proof_load(thread_stress_area(&thread), 830.0 * MPA);
  double cold = joint_preload(46.0, 0.13, thread.major);
  (void)state;
  assert_close(mismatch / MM, 0.232, 0.0, 0.0005);
  assert_close(100.0 * (cold + fit_stud_gain(mismatch, stud, cylinder)) / proof, 95.0, 0.0, 0.8);
  assert_close(100.0 * (cold + fit_stud_gain(mismatch, stud, cones)) / proof, 95.0, 0.0, 0.8);
  /* a slender sleeve, three diameters across, takes part of it back */
  double sleeve =
      joint_stiffness(71e9, joint_cylinder_area(15.0 * MM, 11.0 * MM, length, 30.0 * MM), length);
  assert_true(fit_stud_gain(mismatch, stud, sleeve) < fit_stud_gain(mismatch, stud, cylinder));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(shares_of_proof),
      cmocka_unit_test(stripping_in_aluminium),
      cmocka_unit_test(gas_load_against_four_studs),
      cmocka_unit_test(hot_head_stud),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
