/* Threads that strip: how much a length of engagement carries. */
#ifndef SHEAF_TRADE_ENGAGEMENT_H
#define SHEAF_TRADE_ENGAGEMENT_H

#include "trade/thread.h"
#include "trade/thread_limits.h"

/* Shear areas, m2, from the limits of size (FED-STD-H28/2B; Machinery's
 * Handbook). All in metres: length Le, pitch 1/n. External: largest minor
 * diameter of the nut Kn, smallest pitch diameter of the bolt Es. Internal:
 * smallest major diameter of the bolt Ds, largest pitch diameter of the nut En. */
double engagement_area_external(double length, double pitch, double minor_nut_most,
                                double pitch_bolt_least);
double engagement_area_internal(double length, double pitch, double major_bolt_least,
                                double pitch_nut_most);

/* Length at which bolt thread and bolt shank fail together, same material:
 * Le = 2 As / (pi Kn [1/2 + 0.57735 n (Es - Kn)]). */
double engagement_balanced_length(double stress_area, double pitch, double minor_nut_most,
                                  double pitch_bolt_least);
/* J = ASs Rm_bolt / (ASn Rm_nut): above 1 the nut thread strips first. */
double engagement_ratio(double area_external, double tensile_external, double area_internal,
                        double tensile_internal);
/* Q = J Le when J > 1, else Le. */
double engagement_needed(double ratio, double balanced_length);

/* What one length of engagement carries. */
typedef struct Strip {
  double load;     /* N at the worst limits of size: the weaker of the two threads */
  double usual;    /* the same in the middle of the tolerances */
  bool own_thread; /* the fastener's own thread goes before the one it is screwed into */
} Strip;

/* internal: shear strength, Pa, of what the thread is cut in; external: that of the fastener, 0
 * where it is not known and the internal thread alone is judged. Limits of size 6H/6g or 2B/2A. */
Strip engagement_strip(const Thread *thread, double length, double internal, double external);
/* m of engagement that carries this load, at the worst. */
double engagement_length_for(const Thread *thread, double load, double internal, double external);
/* Shear strength of a metal where only its tensile strength is known: 0.577
 * times (von Mises). */
double engagement_shear_strength(double tensile_strength);

#endif
