/* Fits, expansion and ring gaps against published values. */
#include "unit/test.h"

#include "published/measures.h"
#include "trade/adjuster.h"
#include "trade/fit.h"

/* ISO 286-1: IT7 of 18 to 30 mm is 21 um, IT6 13 um (read in a reprint); g: -7 um (from
 * memory). A 20 H7/g6 then has 7 to 41 um of clearance, cold. */
static void clearance_of_20_h7_g6(void **state) {
  double least = fit_hot_clearance(20.000 * MM, 0.0, 0.0, 19.993 * MM, 0.0, 0.0);
  double most = fit_hot_clearance(20.021 * MM, 0.0, 0.0, 19.980 * MM, 0.0, 0.0);
  (void)state;
  assert_close(least / MM, 0.007, 0.0, 1e-9);
  assert_close(most / MM, 0.041, 0.0, 1e-9);
}

/* Callister, Materials Science and Engineering, table B.6: 6061 aluminium 23.6, 1020
 * steel 11.7e-6/K. A metre of each, 100 K up. */
static void expansion_of_a_metre(void **state) {
  (void)state;
  assert_close(fit_expansion(1.0, 23.6e-6, 100.0) / MM, 2.36, 1e-12, 0.0);
  assert_close(fit_stud_mismatch(1.0, 23.6e-6, 11.7e-6, 100.0) / MM, 1.19, 1e-12, 0.0);
}

/* Army technical manuals: each 0.001 in. of bore opens the gap by 0.003 in. */
static void ring_gap_grows_threefold(void **state) {
  (void)state;
  assert_close(fit_ring_gap_growth(0.001), 0.003, 0.0, 0.0005);
}

/* The starter twin (invented): cylinder 21.5e-6 (Callister, 356) at 150 degC, piston
 * 19.5e-6 at 180 degC at the skirt, both from 20 degC. */
static void starter_twin_hot_clearance(void **state) {
  (void)state;
  assert_close(fit_hot_clearance(83.400 * MM, 21.5e-6, 130.0, 83.330 * MM, 19.5e-6, 160.0) / MM,
               0.043, 0.0, 0.0005);
}

static void starter_twin_shim(void **state) {
  double thickness = fit_shim_wanted(1.00 * MM, 0.42 * MM, 0.0);
  double chosen = fit_shim_choice(thickness, 0.80 * MM, 1.60 * MM, 0.10 * MM);
  (void)state;
  assert_close(chosen / MM, 1.40, 1e-9, 0.0);
  assert_close((thickness - chosen) / MM, 0.02, 1e-9, 0.0);
}

static void starter_twin_adjuster(void **state) {
  double turn = 2.0 * 360.0 * DEG;
  (void)state;
  assert_close(adjuster_travel(turn, 0.75 * MM) / MM, 1.50, 1e-12, 0.0);
  assert_close(adjuster_flats(turn, 6.0), 12.0, 1e-12, 0.0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(clearance_of_20_h7_g6),    cmocka_unit_test(expansion_of_a_metre),
      cmocka_unit_test(ring_gap_grows_threefold), cmocka_unit_test(starter_twin_hot_clearance),
      cmocka_unit_test(starter_twin_shim),        cmocka_unit_test(starter_twin_adjuster),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
