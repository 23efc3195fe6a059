#include "trade/strength.h"

#include "trade/circle.h"

static double shank_area(double waist, double bore) {
  double area = circle_area(waist) - circle_area(bore);
  return area > 0.0 ? area : 0.0;
}

static double thread_area(double stress_area, double bore) {
  double area = stress_area - circle_area(bore);
  return area > 0.0 ? area : 0.0;
}

bool strength_is_waisted(double stress_area, double waist, double bore) {
  return waist > 0.0 && shank_area(waist, bore) < thread_area(stress_area, bore);
}

double strength_weakest_area(double stress_area, double waist, double bore) {
  return strength_is_waisted(stress_area, waist, bore) ? shank_area(waist, bore)
                                                       : thread_area(stress_area, bore);
}

double strength_proof_load(double area, double proof_stress) {
  return area * proof_stress;
}

double strength_share(double preload, double proof_load) {
  return preload / proof_load;
}
