#include "trade/joint.h"

#include "trade/circle.h"

#include <math.h>

double joint_preload(double torque, double k, double major) {
  return torque / (k * major);
}

double joint_torque(double preload, double k, double major) {
  return preload * k * major;
}

double joint_net_torque(double torque, double prevailing) {
  return torque > prevailing ? torque - prevailing : 0.0;
}

double joint_k(double major, double mean, double lead, double collar, double friction_thread,
               double friction_head) {
  double slope = lead / (TRADE_PI * mean);
  double secant = 1.0 / cos(TRADE_PI / 6.0);
  double thread = mean / (2.0 * major) * (slope + friction_thread * secant) /
                  (1.0 - friction_thread * slope * secant);
  return thread + collar / (2.0 * major) * friction_head;
}

double joint_k_of(const Thread *thread, double collar, double friction_thread,
                  double friction_head) {
  double minor = thread_minor_external(thread->major, thread->pitch);
  if (!(collar > 0.0)) collar = JOINT_USUAL_COLLAR * thread->major;
  return joint_k(thread->major, (thread->major + minor) / 2.0, thread->pitch, collar,
                 friction_thread, friction_head);
}

/* K rises steadily with friction, so halving the interval finds it. */
double joint_friction_of_k(const Thread *thread, double k) {
  double low = 0.0, high = 1.0;
  for (int i = 0; i < 60; i++) {
    double middle = (low + high) / 2.0;
    if (joint_k_of(thread, 0.0, middle, middle) < k) {
      low = middle;
    } else {
      high = middle;
    }
  }
  return low;
}

double joint_thread_torque(double preload, double pitch, double pitch_diameter, double friction) {
  return preload * (0.16 * pitch + 0.58 * pitch_diameter * friction);
}

double joint_long_torque(double preload, double pitch, double pitch_diameter,
                         double friction_thread, double friction_head, double head) {
  return joint_thread_torque(preload, pitch, pitch_diameter, friction_thread) +
         preload * head * friction_head / 2.0;
}

double joint_long_preload(double torque, double pitch, double pitch_diameter,
                          double friction_thread, double friction_head, double head) {
  return torque /
         joint_long_torque(1.0, pitch, pitch_diameter, friction_thread, friction_head, head);
}

double joint_assembly_preload(const Thread *thread, double yield, double friction, double share) {
  double d2 = thread_pitch_diameter(thread->major, thread->pitch);
  double d0 = thread_stress_diameter(thread);
  double twist = 1.5 * (d2 / d0) * (thread->pitch / (TRADE_PI * d2) + 1.155 * friction);
  return circle_area(d0) * share * yield / sqrt(1.0 + 3.0 * twist * twist);
}

double joint_equivalent_stress(double preload, double thread_torque, double area) {
  double d0 = circle_diameter(area);
  double tension = preload / area;
  double twist = 12.0 * thread_torque / (TRADE_PI * d0 * d0 * d0);
  return sqrt(tension * tension + 3.0 * twist * twist);
}

double joint_yield_share(const Thread *thread, double area, double preload, double friction,
                         double prevailing, double yield) {
  double d2 = thread_pitch_diameter(thread->major, thread->pitch);
  double torque = joint_thread_torque(preload, thread->pitch, d2, friction) + prevailing;
  return joint_equivalent_stress(preload, torque, area) / yield;
}

double joint_stiffness(double modulus, double area, double length) {
  return modulus * area / length;
}

double joint_in_series(double a, double b) {
  return a * b / (a + b);
}

double joint_preload_of_stretch(double stretch, double stiffness) {
  return stretch * stiffness;
}

double joint_stretch(double preload, double stiffness) {
  return preload / stiffness;
}

double joint_cone_stiffness(double modulus, double major, double length) {
  double l = 0.5774 * length;
  return 0.5774 * TRADE_PI * modulus * major /
         (2.0 * log(5.0 * (l + 0.5 * major) / (l + 2.5 * major)));
}

double joint_cylinder_area(double face, double hole, double length, double across) {
  double whole = face + length;
  if (!(across > 0.0) || across > whole) across = whole;
  if (across <= face) return circle_area(across) - circle_area(hole);
  double x = cbrt(length * face / (across * across));
  return circle_area(face) - circle_area(hole) +
         TRADE_PI / 8.0 * face * (across - face) * ((x + 1.0) * (x + 1.0) - 1.0);
}

double joint_preload_of_angle(double turn, double pitch, double bolt, double clamped) {
  return turn / (2.0 * TRADE_PI) * pitch * joint_in_series(bolt, clamped);
}

double joint_gas_load(double pressure, double diameter) {
  return pressure * circle_area(diameter);
}
