/* Screw threads: what a designation means, and the geometry that follows from it. */
#ifndef SHEAF_TRADE_THREAD_H
#define SHEAF_TRADE_THREAD_H

#include "base/arena.h"
#include "base/vec.h"

#include <stdbool.h>

typedef enum ThreadSeries {
  THREAD_METRIC_COARSE, /* ISO 261 */
  THREAD_METRIC_FINE,
  THREAD_UNC, /* ASME B1.1 */
  THREAD_UNF,
  THREAD_UNEF,
} ThreadSeries;

typedef struct Thread {
  double major; /* d, metres */
  double pitch; /* P, metres; single start, so also the lead */
  ThreadSeries series;
  bool unified;   /* inch thread: other stress area formula */
  bool left_hand; /* written with LH at the end */
  char name[40];  /* in one spelling: M8, M10x1.25, #10-24 UNC, 1/4-28 UNF, M16x1.5 LH */
} Thread;

/* Reads a whole designation: M8, M8x1, M8 x 1.25, 1/4-20, 1/4-20 UNC, 1/4 UNF,
 * #10-24, 10-32, each with LH or -LH at the end. A metric diameter alone is
 * the coarse thread; an inch size alone is no thread. False when no
 * standard series has that thread; out is then all zero. */
bool thread_parse(const char *text, Thread *out);
bool thread_same(const Thread *a, const Thread *b); /* would screw together */
/* Not the same, and near enough in diameter that a nut of one starts on the other: M8 and
 * 5/16-18, M10x1.25 and M10. Within 6 % of the larger, which takes in M6 and 1/4 (common practice,
 * no source). */
bool thread_is_near(const Thread *a, const Thread *b);
/* Every designation known, for near matches: metric by diameter, then inch. */
void thread_names(Arena *arena, Words *out);

/* Basic profile, metres in and out (ISO 68-1, ISO 724; the same 60 degree
 * profile serves unified threads). */
double thread_height(double pitch);                       /* H = 0.8660254 P */
double thread_pitch_diameter(double major, double pitch); /* d2 = d - 0.649519 P */
double thread_minor_internal(double major, double pitch); /* D1 = d - 1.082532 P */
double thread_minor_external(double major, double pitch); /* d3 = d - 1.226869 P, rounded root */
double thread_tapping_drill(double major, double pitch);  /* d - P, common practice */
double thread_lead_angle(double major, double pitch);     /* rad, at d2: atan(P/(pi d2)) */

/* Stress area, m2: metric pi/4 ((d2 + d3)/2)^2 (ISO 898-1); unified
 * 0.7854 (D - 0.9743 P)^2 (ASTM A574 footnote, after FED-STD-H28). */
double thread_stress_area(const Thread *thread);
double thread_stress_area_metric(double major, double pitch);
double thread_stress_area_unified(double major, double pitch);
/* Diameter of the circle with the stress area, m. */
double thread_stress_diameter(const Thread *thread);

#endif
