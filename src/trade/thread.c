#include "trade/thread.h"

#include "trade/circle.h"

#include <math.h>

double thread_height(double pitch) {
  return 0.8660254 * pitch;
}

double thread_pitch_diameter(double major, double pitch) {
  return major - 0.649519 * pitch;
}

double thread_minor_internal(double major, double pitch) {
  return major - 1.082532 * pitch;
}

double thread_minor_external(double major, double pitch) {
  return major - 1.226869 * pitch;
}

double thread_tapping_drill(double major, double pitch) {
  return major - pitch;
}

double thread_lead_angle(double major, double pitch) {
  return atan(pitch / (TRADE_PI * thread_pitch_diameter(major, pitch)));
}

double thread_stress_area_metric(double major, double pitch) {
  double mean = (thread_pitch_diameter(major, pitch) + thread_minor_external(major, pitch)) / 2.0;
  return circle_area(mean);
}

double thread_stress_area_unified(double major, double pitch) {
  double across = major - 0.9743 * pitch;
  return 0.7854 * across * across;
}

double thread_stress_area(const Thread *thread) {
  return thread->unified ? thread_stress_area_unified(thread->major, thread->pitch)
                         : thread_stress_area_metric(thread->major, thread->pitch);
}

double thread_stress_diameter(const Thread *thread) {
  return circle_diameter(thread_stress_area(thread));
}

bool thread_is_near(const Thread *a, const Thread *b) {
  double larger = fmax(a->major, b->major);
  return !thread_same(a, b) && fabs(a->major - b->major) <= 0.06 * larger;
}

bool thread_same(const Thread *a, const Thread *b) {
  return a->unified == b->unified && a->left_hand == b->left_hand &&
         fabs(a->major - b->major) < 1e-7 && fabs(a->pitch - b->pitch) < 1e-7;
}
