/* Where a time counts, the clock is read and written down. */
#ifndef SHEAF_PLAN_CLOCK_H
#define SHEAF_PLAN_CLOCK_H

#include "plan/work.h"

/* "30 min", "24 h" */
const char *time_print(Arena *arena, double seconds);
/* Lines to write times on, and what is done when the time has passed; since: the step
 * the time of this one counts from, -1 none. */
void clock_read(Planner *planner, int step, int since);

#endif
