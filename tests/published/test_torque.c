/* Torque and tension against handbooks, a guideline and published torque tables. */
#include "unit/test.h"

#include "published/measures.h"
#include "trade/joint.h"
#include "trade/strength.h"

static Thread thread_of(const char *name) {
  Thread thread;
  if (!thread_parse(name, &thread)) fail_msg("%s is not known", name);
  return thread;
}

/* Shigley, Mechanical Engineering Design, 9th ed., example 8-3: 3/4-16 UNF, preload
 * 25 000 lbf. Inputs read; the two torques from memory. Minor diameter by the
 * book's minor area, 0.351 in2. */
static void shigley_example_8_3(void **state) {
  double preload = 25000.0 * LBF, major = 0.75 * INCH;
  double minor = circle_diameter(0.351 * INCH2);
  double k = joint_k(major, (major + minor) / 2.0, INCH / 16.0, 1.25 * major, 0.15, 0.15);
  (void)state;
  assert_close(joint_torque(preload, 0.2, major) / LBF_IN, 3750.0, 1e-9, 0.0);
  assert_close(joint_torque(preload, k, major) / LBF_IN, 3551.0, 0.0, 0.5);
}

/* Department of the Army TM 5-3895-367-14&P, table H-1: SAE grade 5, clean and dry,
 * lbf.ft. K = 0.20 and 75 % of the proof stress of SAE J429 grade 5 (85 ksi, as in
 * Shigley 9th ed. table 8-9) are our fit, not the manual's words. */
static const struct {
  const char *name;
  double torque, within;
} army_table[] = {
    {"1/4-20", 8, 0.5},   {"1/4-28", 10, 0.5},  {"5/16-18", 17, 0.5},  {"5/16-24", 19, 0.5},
    {"3/8-16", 31, 0.5},  {"3/8-24", 35, 0.5},  {"7/16-14", 49, 0.5},  {"7/16-20", 55, 0.5},
    {"1/2-13", 75, 0.5},  {"1/2-20", 85, 0.5},  {"9/16-12", 110, 1.4}, {"9/16-18", 120, 1.4},
    {"5/8-11", 150, 1.4}, {"5/8-18", 170, 1.4}, {"3/4-10", 270, 4.0},  {"3/4-16", 295, 4.0},
};

static void army_table_grade_5(void **state) {
  (void)state;
  for (size_t i = 0; i < COUNT(army_table); i++) {
    Thread thread = thread_of(army_table[i].name);
    double proof = strength_proof_load(thread_stress_area(&thread), 85.0 * KSI);
    double torque = joint_torque(0.75 * proof, 0.20, thread.major);
    assert_close(torque / LBF_FT, army_table[i].torque, 0.0, army_table[i].within);
  }
}

/* VDI 2230:2001, assembly preload kN and tightening torque N.m of fine threads, for
 * friction 0.10, 0.12, 0.14 in thread and head; read in a reprint. Yield: ISO 898-1, 640
 * and 940 MPa. dw: bearing outside of the head, dh: hole. */
static void vdi_2230_fine_threads(void **state) {
  static const double friction[3] = {0.10, 0.12, 0.14};
  static const struct {
    const char *name;
    double yield, dw, dh, preload[3], torque[3], digit;
  } table[] = {
      {"M8x1", 640, 11.6, 9.0, {20.7, 20.2, 19.7}, {22.8, 26.1, 29.2}, 0.05},
      {"M8x1", 940, 11.6, 9.0, {30.4, 29.7, 28.9}, {33.5, 38.3, 42.8}, 0.05},
      {"M10x1.25", 640, 14.6, 11.0, {32.4, 31.6, 30.8}, {44, 51, 57}, 0.5},
      {"M10x1.25", 940, 14.6, 11.0, {47.5, 46.4, 45.2}, {65, 75, 83}, 0.5},
      {"M12x1.25", 640, 16.6, 13.5, {49.1, 48.0, 46.8}, {79, 90, 101}, 0.5},
      {"M12x1.25", 940, 16.6, 13.5, {72.1, 70.5, 68.7}, {116, 133, 149}, 0.5},
      {"M14x1.5", 640, 19.6, 15.5, {66.4, 64.8, 63.2}, {124, 142, 159}, 0.5},
  };
  (void)state;
  for (size_t i = 0; i < COUNT(table); i++) {
    Thread thread = thread_of(table[i].name);
    double head = (table[i].dw + table[i].dh) / 2.0 * MM;
    double d2 = thread_pitch_diameter(thread.major, thread.pitch);
    for (size_t k = 0; k < COUNT(friction); k++) {
      double preload = joint_assembly_preload(&thread, table[i].yield * MPA, friction[k], 0.9);
      double torque = joint_long_torque(preload, thread.pitch, d2, friction[k], friction[k], head);
      assert_close(preload / 1e3, table[i].preload[k], 0.003, 0.0);
      /* 0.6 %, and half a unit of the last digit where whole N.m are printed. */
      assert_close(torque, table[i].torque[k], 0.006, table[i].digit);
      assert_close(joint_long_preload(torque, thread.pitch, d2, friction[k], friction[k], head),
                   preload, 1e-12, 0.0);
    }
  }
}

/* The same table the other way round: at its assembly preload tension and torsion together stand
 * at nine tenths of yield, which is how the guideline defines it. */
static void vdi_2230_preload_is_nine_tenths_of_yield(void **state) {
  static const struct {
    const char *name;
    double yield, friction, preload;
  } table[] = {
      {"M8x1", 640, 0.10, 20.7},     {"M8x1", 940, 0.14, 28.9},     {"M10x1.25", 940, 0.12, 46.4},
      {"M12x1.25", 640, 0.14, 46.8}, {"M12x1.25", 940, 0.10, 72.1}, {"M14x1.5", 640, 0.12, 64.8},
  };
  (void)state;
  for (size_t i = 0; i < COUNT(table); i++) {
    Thread thread = thread_of(table[i].name);
    double area = thread_stress_area(&thread);
    double share = joint_yield_share(&thread, area, table[i].preload * 1e3, table[i].friction, 0.0,
                                     table[i].yield * MPA);
    assert_close(share, 0.9, 0.005, 0.0);
    /* a locking nut twists the shank besides */
    assert_true(joint_yield_share(&thread, area, table[i].preload * 1e3, table[i].friction, 2.0,
                                  table[i].yield * MPA) > share);
  }
}

/* FAA AC 43.13-1B (1998), table 7-1, tension nuts, recommended range lbf.in. A table of
 * limits, not of one K: against 40 ksi in the bolt, which we take from memory as its
 * basis, K must come out in the spread known for dry to oiled threads. */
static void faa_table_is_within_the_spread_of_k(void **state) {
  static const struct {
    const char *name;
    double least, most;
  } table[] = {
      {"#10-32", 20, 25},   {"1/4-28", 50, 70},   {"5/16-24", 100, 140},
      {"3/8-24", 160, 190}, {"1/2-20", 480, 690}, {"1/4-20", 40, 50},
      {"5/16-18", 80, 90},  {"3/8-16", 160, 185}, {"1/2-13", 400, 480},
  };
  (void)state;
  for (size_t i = 0; i < COUNT(table); i++) {
    Thread thread = thread_of(table[i].name);
    double preload = 40.0 * KSI * thread_stress_area(&thread);
    double k = (table[i].least + table[i].most) / 2.0 * LBF_IN / (preload * thread.major);
    assert_in_range((unsigned)(k * 1000.0), 120, 240);
  }
}

/* Scatter of preload by torque wrench on dry threads: +-35 % (NASA-STD-5020B, table 3,
 * as quoted elsewhere). The Army's clean and dry torques, meant for about 75 % of proof,
 * then pass proof in 13 rows of 16 and come within 5 % of it in the three that the table
 * rounds down: why low K alone must not refuse. */
static void scatter_reaches_proof(void **state) {
  size_t past = 0;
  (void)state;
  for (size_t i = 0; i < COUNT(army_table); i++) {
    Thread thread = thread_of(army_table[i].name);
    double proof = strength_proof_load(thread_stress_area(&thread), 85.0 * KSI);
    double preload = joint_preload(army_table[i].torque * LBF_FT, 0.20, thread.major);
    double share = 1.35 * strength_share(preload, proof);
    assert_true(share > 0.95);
    past += share > 1.0;
  }
  assert_int_equal(past, 13);
}

/* Army manuals take a tenth off a dry torque for engine oil (as read in several); Shigley 9th ed.,
 * table 8-15, has K 0.20 for zinc and 0.18 lubricated. */
static void oil_takes_a_tenth_off(void **state) {
  (void)state;
  assert_close(joint_torque(20e3, 0.18, 0.01), 0.90 * joint_torque(20e3, 0.20, 0.01), 0.005, 0.0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(shigley_example_8_3),
      cmocka_unit_test(army_table_grade_5),
      cmocka_unit_test(vdi_2230_fine_threads),
      cmocka_unit_test(vdi_2230_preload_is_nine_tenths_of_yield),
      cmocka_unit_test(faa_table_is_within_the_spread_of_k),
      cmocka_unit_test(scatter_reaches_proof),
      cmocka_unit_test(oil_takes_a_tenth_off),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
