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
