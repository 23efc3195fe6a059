/* The slip of units: the printed number, read in another unit, that would make sense. */
#ifndef SHEAF_TRADE_SLIP_H
#define SHEAF_TRADE_SLIP_H

#include <stdbool.h>
#include <stddef.h>

/* lbf.in, lbf.ft, N.m, kgf.m */
#define SLIP_UNITS 4

typedef struct SlipReading {
  const char *unit; /* as printed: "lbf.in" */
  double torque;    /* N.m, the same number read in that unit */
  double share;     /* of proof load at that torque */
} SlipReading;

#define SLIP_LEAST 0.20
#define SLIP_MOST  0.90

/* The readings of number that land at SLIP_LEAST to SLIP_MOST of proof with this K and
 * diameter, in the order of the list above, without the unit it was written in
 * (NULL: none left out). Returns how many. */
size_t slip_readings(double number, const char *written_in, double k, double major,
                     double proof_load, SlipReading out[SLIP_UNITS]);

/* Two shares of joints of the same thread and class that differ by the factor
 * between N.m and lbf.ft (1.356) within a tenth: likely one of the two was
 * written in the other unit. */
bool slip_is_foot_pound_apart(double share, double usual_share);

#endif
