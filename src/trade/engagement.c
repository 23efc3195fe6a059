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

typedef struct Areas {
  double internal, external;
} Areas;

static Areas areas_at(const ThreadLimits *limits, double pitch, double length) {
  return (Areas){engagement_area_internal(length, pitch, limits->major_bolt, limits->pitch_nut),
                 engagement_area_external(length, pitch, limits->minor_nut, limits->pitch_bolt)};
}

/* The weaker thread of the two. */
static double carried(Areas areas, double internal, double external, bool *own) {
  double nut = areas.internal * internal, bolt = areas.external * external;
  *own = external > 0.0 && bolt < nut;
  return *own ? bolt : nut;
}

Strip engagement_strip(const Thread *thread, double length, double internal, double external) {
  ThreadLimits worst = thread_limits(thread, 1.0), middle = thread_limits(thread, 0.5);
  Strip strip;
  bool own;
  strip.usual = carried(areas_at(&middle, thread->pitch, length), internal, external, &own);
  strip.load =
      carried(areas_at(&worst, thread->pitch, length), internal, external, &strip.own_thread);
  return strip;
}

double engagement_length_for(const Thread *thread, double load, double internal, double external) {
  return load / engagement_strip(thread, 1.0, internal, external).load;
}

double engagement_shear_strength(double tensile_strength) {
  return 0.577 * tensile_strength;
}
