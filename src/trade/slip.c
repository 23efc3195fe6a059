#include "trade/slip.h"

#include "trade/joint.h"
#include "trade/strength.h"

#include <math.h>
#include <string.h>

static const struct {
  const char *unit;
  double factor; /* N.m, exact (NIST SP 811) */
} slip_units[SLIP_UNITS] = {
    {"lbf.in", 0.1129848290276167},
    {"lbf.ft", 1.3558179483314004},
    {"N.m", 1.0},
    {"kgf.m", 9.80665},
};

size_t slip_readings(double number, const char *written_in, double k, double major,
                     double proof_load, SlipReading out[SLIP_UNITS]) {
  size_t n = 0;
  for (size_t i = 0; i < SLIP_UNITS; i++) {
    if (written_in != NULL && strcmp(written_in, slip_units[i].unit) == 0) continue;
    double torque = number * slip_units[i].factor;
    double share = strength_share(joint_preload(torque, k, major), proof_load);
    if (!(share >= SLIP_LEAST && share <= SLIP_MOST)) continue;
    out[n++] = (SlipReading){slip_units[i].unit, torque, share};
  }
  return n;
}

bool slip_is_foot_pound_apart(double share, double usual_share) {
  double factor = fmax(share, usual_share) / fmin(share, usual_share);
  return fabs(factor / slip_units[1].factor - 1.0) <= 0.1;
}
