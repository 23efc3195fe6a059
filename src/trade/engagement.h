/* Threads that strip: how much a length of engagement carries. */
#ifndef SHEAF_TRADE_ENGAGEMENT_H
#define SHEAF_TRADE_ENGAGEMENT_H

#include "trade/thread.h"

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

/* Without limits of size: the internal area at the basic profile, its flanks
 * set ENGAGEMENT_SLACK apart for the tolerances of both threads:
 *   pi d Le/P [P/2 + 0.57735 (d - d2 - slack)].
 * Medium tolerances 6H/6g at their worst give about an eighth less; see the next function. */
#define ENGAGEMENT_SLACK 0.25e-3
double engagement_area(const Thread *thread, double length);
/* The internal area at the worst of 6H/6g (formulas of ISO 965-1, from memory). */
double engagement_area_worst(const Thread *thread, double length);
/* N that strips the internal thread of a material of that shear strength, Pa. */
double engagement_strip_load(const Thread *thread, double length, double shear_strength);
/* m of engagement that carries this load times factor. */
double engagement_length_for(const Thread *thread, double load, double shear_strength,
                             double factor);
/* Shear strength of a metal where only its tensile strength is known: 0.577
 * times (von Mises). */
double engagement_shear_strength(double tensile_strength);

#endif
