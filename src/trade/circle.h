/* Pi, and the area of a circle. */
#ifndef SHEAF_TRADE_CIRCLE_H
#define SHEAF_TRADE_CIRCLE_H

#define TRADE_PI 3.14159265358979323846

static inline double circle_area(double diameter) {
  return TRADE_PI / 4.0 * diameter * diameter;
}

#endif
