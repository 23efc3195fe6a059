#include "trade/crank.h"

#include "trade/circle.h"

#include <math.h>

/* Height of the rod's small end over its big end; NAN for a rod too short to turn. */
static double rod_height(double throw, double rod, double angle) {
  double across = throw *sin(angle);
  if (!(rod >= throw)) return NAN;
  return sqrt(rod * rod - across * across);
}

double crank_height(double stroke, double rod, double angle) {
  double throw = stroke / 2.0;
  return throw *cos(angle) + rod_height(throw, rod, angle);
}

/* l + a - s, written so that small angles lose no digits. */
double crank_drop(double stroke, double rod, double angle) {
  double throw = stroke / 2.0;
  double half = sin(angle / 2.0), across = throw *sin(angle);
  double height = rod_height(throw, rod, angle);
  return 2.0 * throw *half * half + across * across / (rod + height);
}

/* From the triangle of throw, rod and height. */
double crank_angle_of_drop(double stroke, double rod, double drop) {
  double throw = stroke / 2.0;
  double height = rod + throw -drop;
  double cosine = (throw *throw +height * height - rod * rod) / (2.0 * throw *height);
  if (cosine > 1.0 && cosine < 1.0 + 1e-9) cosine = 1.0;
  if (cosine < -1.0 && cosine > -1.0 - 1e-9) cosine = -1.0;
  return acos(cosine);
}

double crank_velocity(double stroke, double rod, double angle, double speed) {
  double throw = stroke / 2.0;
  double height = rod_height(throw, rod, angle);
  return throw *speed * sin(angle) * (1.0 + throw *cos(angle) / height);
}

double crank_acceleration(double stroke, double rod, double angle, double speed) {
  double throw = stroke / 2.0;
  double height = rod_height(throw, rod, angle);
  double s = sin(angle), c = cos(angle), lean = throw / height;
  return throw *speed * speed * (c + lean * (c * c - s * s) + lean * lean * lean * s * s * c * c);
}

double crank_velocity_series(double stroke, double rod, double angle, double speed) {
  double throw = stroke / 2.0;
  return throw *speed * (sin(angle) + throw / (2.0 * rod) * sin(2.0 * angle));
}

double crank_acceleration_series(double stroke, double rod, double angle, double speed) {
  double throw = stroke / 2.0;
  return throw *speed * speed * (cos(angle) + throw / rod * cos(2.0 * angle));
}

double crank_acceleration_peak(double stroke, double rod, double speed) {
  double throw = stroke / 2.0;
  return throw *speed * speed * (1.0 + throw / rod);
}

double crank_piston_speed(double stroke, double speed) {
  return stroke * speed / TRADE_PI;
}

double crank_speed_of_piston(double stroke, double mean) {
  return mean * TRADE_PI / stroke;
}

double crank_swept(double bore, double stroke) {
  return circle_area(bore) * stroke;
}

double crank_swept_from(double bore, double stroke, double rod, double angle) {
  return circle_area(bore) * crank_drop(stroke, rod, angle);
}

double crank_ratio(double swept, double clearance) {
  return (swept + clearance) / clearance;
}

double crank_clearance_for(double swept, double ratio) {
  return swept / (ratio - 1.0);
}

double crank_effective_ratio(double bore, double stroke, double rod, double clearance,
                             double closes) {
  return crank_ratio(crank_swept_from(bore, stroke, rod, TRADE_PI + closes), clearance);
}
