#include "trade/thread_limits.h"

#include <math.h>

#define MICROMETRE 1e-6
#define INCH       25.4e-3

/* Four tolerances and the bolt's allowance, m. */
typedef struct Tolerances {
  double minor_nut, pitch_nut, major_bolt, pitch_bolt, allowance;
} Tolerances;

/* With P and d in mm the results are micrometres: g 15 + 11 P; Td(6) 180 P^(2/3) - 3.15/sqrt(P);
 * Td2(6) 90 P^0.4 d^0.1; TD2(6) 1.32 times that; TD1(6) 230 P^0.7, below a pitch of 1 mm
 * 433 P - 190 P^1.22. */
static Tolerances metric_6(double major, double pitch) {
  double p = pitch * 1e3, d = major * 1e3;
  double td2 = 90.0 * pow(p, 0.4) * pow(d, 0.1);
  double td1 = p < 1.0 ? 433.0 * p - 190.0 * pow(p, 1.22) : 230.0 * pow(p, 0.7);
  double td = 180.0 * cbrt(p * p) - 3.15 / sqrt(p);
  return (Tolerances){td1 * MICROMETRE, 1.32 * td2 * MICROMETRE, td * MICROMETRE, td2 * MICROMETRE,
                      (15.0 + 11.0 * p) * MICROMETRE};
}

/* In inches: Td2 of 2A 0.0015 (D^1/3 + Le^1/2 + 10 P^2/3) with Le = D, that of 2B 1.3 times;
 * allowance 0.3 Td2; Td 0.06 P^2/3; TD1 0.25 P - 0.4 P^2 from 1/4 in, below that
 * 0.05 P^2/3 + 0.03 P/D - 0.002, no more than 0.394 P and no less than what is left above 1/4. */
static Tolerances unified_2(double major, double pitch) {
  double p = pitch / INCH, d = major / INCH;
  double td2 = 0.0015 * (cbrt(d) + sqrt(d) + 10.0 * cbrt(p * p));
  double td1 = 0.25 * p - 0.4 * p * p;
  if (d < 0.25) td1 = fmax(td1, fmin(0.05 * cbrt(p * p) + 0.03 * p / d - 0.002, 0.394 * p));
  return (Tolerances){td1 * INCH, 1.3 * td2 * INCH, 0.06 * cbrt(p * p) * INCH, td2 * INCH,
                      0.3 * td2 * INCH};
}

ThreadLimits thread_limits(const Thread *thread, double share) {
  double d = thread->major, p = thread->pitch;
  Tolerances t = thread->unified ? unified_2(d, p) : metric_6(d, p);
  return (ThreadLimits){
      .minor_nut = thread_minor_internal(d, p) + share * t.minor_nut,
      .pitch_nut = thread_pitch_diameter(d, p) + share * t.pitch_nut,
      .major_bolt = d - t.allowance - share * t.major_bolt,
      .pitch_bolt = thread_pitch_diameter(d, p) - t.allowance - share * t.pitch_bolt,
  };
}

const char *thread_limits_name(const Thread *thread) {
  return thread->unified ? "2B/2A" : "6H/6g";
}
