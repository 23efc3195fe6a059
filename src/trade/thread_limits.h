/* Limits of size: how far two threads of one designation may be from each other. */
#ifndef SHEAF_TRADE_THREAD_LIMITS_H
#define SHEAF_TRADE_THREAD_LIMITS_H

#include "trade/thread.h"

/* Diameters, m, of the loosest pair that a share of the tolerances allows. */
typedef struct ThreadLimits {
  double minor_nut, pitch_nut;   /* of the internal thread, above basic */
  double major_bolt, pitch_bolt; /* of the external thread, below basic */
} ThreadLimits;

/* share 1: the worst; 0.5: both threads in the middle of their tolerances; 0: no tolerance is
 * used, the allowance of the bolt is. Metric 6H/6g by the formulas of ISO 965-1; unified 2B/2A by
 * those of ASME B1.1, engagement of one diameter. Both from memory, held in tests/published
 * against an open table of 6H and areas of FED-STD-H28/2B. */
ThreadLimits thread_limits(const Thread *thread, double share);
/* "6H/6g" or "2B/2A" */
const char *thread_limits_name(const Thread *thread);

#endif
