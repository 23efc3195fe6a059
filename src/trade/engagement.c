#include "trade/engagement.h"

#include "trade/circle.h"

#include <math.h>

#define TAN_30 0.57735

double engagement_area_external(double length, double pitch, double minor_nut_most,
                                double pitch_bolt_least) {
  return TRADE_PI * length / pitch * minor_nut_most *
         (pitch / 2.0 + TAN_30 * (pitch_bolt_least - minor_nut_most));
}

double engagement_area_internal(double length, double pitch, double major_bolt_least,
                                double pitch_nut_most) {
  return TRADE_PI * length / pitch * major_bolt_least *
         (pitch / 2.0 + TAN_30 * (major_bolt_least - pitch_nut_most));
}

double engagement_balanced_length(double stress_area, double pitch, double minor_nut_most,
                                  double pitch_bolt_least) {
  return 2.0 * stress_area /
         (TRADE_PI * minor_nut_most * (0.5 + TAN_30 / pitch * (pitch_bolt_least - minor_nut_most)));
}

double engagement_ratio(double area_external, double tensile_external, double area_internal,
                        double tensile_internal) {
  return area_external * tensile_external / (area_internal * tensile_internal);
}

double engagement_needed(double ratio, double balanced_length) {
  return ratio > 1.0 ? ratio * balanced_length : balanced_length;
}

double engagement_area(const Thread *thread, double length) {
  double d = thread->major;
  double d2 = thread_pitch_diameter(d, thread->pitch);
  double depth = d - d2 - ENGAGEMENT_SLACK;
  if (depth < 0.0) depth = 0.0; /* very fine pitches */
  return TRADE_PI * d * length / thread->pitch * (thread->pitch / 2.0 + TAN_30 * depth);
}

/* ISO 965-1, with P and d in mm and results in micrometres: allowance g 15 + 11 P; Td(6)
 * 180 P^(2/3) - 3.15/sqrt(P); TD2(6) 1.32 * 90 P^0.4 d^0.1. */
double engagement_area_worst(const Thread *thread, double length) {
  double p = thread->pitch * 1e3, d = thread->major * 1e3;
  double allowance = 15.0 + 11.0 * p;
  double major_tolerance = 180.0 * cbrt(p * p) - 3.15 / sqrt(p);
  double pitch_tolerance = 1.32 * 90.0 * pow(p, 0.4) * pow(d, 0.1);
  double major = thread->major - (allowance + major_tolerance) * 1e-6;
  double pitch_most = thread_pitch_diameter(thread->major, thread->pitch) + pitch_tolerance * 1e-6;
  return engagement_area_internal(length, thread->pitch, major, pitch_most);
}

double engagement_strip_load(const Thread *thread, double length, double shear_strength) {
  return engagement_area(thread, length) * shear_strength;
}

double engagement_length_for(const Thread *thread, double load, double shear_strength,
                             double factor) {
  return load * factor / engagement_strip_load(thread, 1.0, shear_strength);
}

double engagement_shear_strength(double tensile_strength) {
  return 0.577 * tensile_strength;
}
