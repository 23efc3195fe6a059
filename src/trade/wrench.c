#include "trade/wrench.h"

#include <math.h>

/* Within a billionth: a limit in lbf.ft and a setting in N.m may differ by rounding. */
#define NEARLY 1e-9

double wrench_setting(double torque, double length, double adapter, double angle) {
  double reach = length + adapter * cos(angle);
  if (!(length > 0.0) || !(reach > 0.0)) return NAN;
  return torque * length / reach;
}

double wrench_applied(double setting, double length, double adapter, double angle) {
  double reach = length + adapter * cos(angle);
  if (!(length > 0.0) || !(reach > 0.0)) return NAN;
  return setting * reach / length;
}

double wrench_division(double setting, double division, double gain, double least, double most) {
  if (!(division > 0.0)) return setting;
  double under = floor(setting / division + NEARLY) * division, over = under + division;
  if (fabs(setting - under) <= NEARLY * setting) return under;
  bool under_does = wrench_is_in_range(under * gain, least, most);
  bool over_does = wrench_is_in_range(over * gain, least, most);
  if (under_does != over_does) return under_does ? under : over;
  return setting - under < over - setting ? under : over; /* half way: up, as decimals print */
}

bool wrench_is_in_range(double setting, double least, double most) {
  return setting >= least * (1.0 - NEARLY) && setting <= most * (1.0 + NEARLY);
}

bool wrench_is_promised(double setting, double full_scale) {
  return wrench_is_in_range(setting, 0.2 * full_scale, full_scale);
}

bool wrench_is_best(double setting, double full_scale) {
  return wrench_is_in_range(setting, 0.3 * full_scale, 0.8 * full_scale);
}

double wrench_deviation(double setting) {
  return setting > 10.0 ? 0.04 : 0.06;
}

bool wrench_is_near(double applied, double torque, double least, double most) {
  if (least < most) return wrench_is_in_range(applied, least, most);
  return fabs(applied - torque) <= wrench_deviation(torque) * torque * (1.0 + NEARLY);
}
