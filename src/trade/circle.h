/* Pi, and the area of a circle. */
#ifndef SHEAF_TRADE_CIRCLE_H
#define SHEAF_TRADE_CIRCLE_H

#include <math.h>

#define TRADE_PI 3.14159265358979323846

static inline double circle_area(double diameter) {
  return TRADE_PI / 4.0 * diameter * diameter;
}

static inline double circle_diameter(double area) {
  return sqrt(4.0 / TRADE_PI * area);
}

#endif
