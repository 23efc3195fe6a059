#include "trade/crank.h"

#include "trade/circle.h"

#include <math.h>

/* radius: the crank's throw, half the stroke. Height of the rod's small end over its big end; NAN
 * for a rod too short to turn. */
static double rod_height(double radius, double rod, double angle) {
  double across = radius * sin(angle);
  if (!(rod >= radius)) return NAN;
  return sqrt(rod * rod - across * across);
}

double crank_height(double stroke, double rod, double angle) {
  double radius = stroke / 2.0;
  return radius * cos(angle) + rod_height(radius, rod, angle);
}

/* l + a - s, written so that small angles lose no digits. */
double crank_drop(double stroke, double rod, double angle) {
  double radius = stroke / 2.0;
  double half = sin(angle / 2.0), across = radius * sin(angle);
  double height = rod_height(radius, rod, angle);
  return 2.0 * radius * half * half + across * across / (rod + height);
}

/* From the triangle of radius, rod and height. */
double crank_angle_of_drop(double stroke, double rod, double drop) {
  double radius = stroke / 2.0;
  double height = rod + radius - drop;
  double cosine = (radius * radius + height * height - rod * rod) / (2.0 * radius * height);
  if (cosine > 1.0 && cosine < 1.0 + 1e-9) cosine = 1.0;
  if (cosine < -1.0 && cosine > -1.0 - 1e-9) cosine = -1.0;
  return acos(cosine);
}

double crank_velocity(double stroke, double rod, double angle, double speed) {
  double radius = stroke / 2.0;
  double height = rod_height(radius, rod, angle);
  return radius * speed * sin(angle) * (1.0 + radius * cos(angle) / height);
}

double crank_acceleration(double stroke, double rod, double angle, double speed) {
  double radius = stroke / 2.0;
  double height = rod_height(radius, rod, angle);
  double s = sin(angle), c = cos(angle), lean = radius / height;
  return radius * speed * speed * (c + lean * (c * c - s * s) + lean * lean * lean * s * s * c * c);
}

double crank_velocity_series(double stroke, double rod, double angle, double speed) {
  double radius = stroke / 2.0;
  return radius * speed * (sin(angle) + radius / (2.0 * rod) * sin(2.0 * angle));
}

double crank_acceleration_series(double stroke, double rod, double angle, double speed) {
  double radius = stroke / 2.0;
  return radius * speed * speed * (cos(angle) + radius / rod * cos(2.0 * angle));
}

double crank_acceleration_peak(double stroke, double rod, double speed) {
  double radius = stroke / 2.0;
  return radius * speed * speed * (1.0 + radius / rod);
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
