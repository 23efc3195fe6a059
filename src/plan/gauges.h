/* Which instrument of the shop a box is measured with. */
#ifndef SHEAF_PLAN_GAUGES_H
#define SHEAF_PLAN_GAUGES_H

#include "plan/work.h"

/* The gauge of that name, or of those that measure what is named the finest whose
 * range holds the value expected. worked: a result of the step. NULL after no-gauge. */
const Gauge *need_gauge(Planner *planner, const BoxDecl *box, const Quantity *quantity,
                        bool worked);
/* no-gauge: the box holds a result, and its gauge is one that reads something else. */
void no_gauge_for_result(Planner *planner, const PlanBox *box);
/* The smallest step it reads, SI; 0 for go and no-go. */
double gauge_resolution(const Gauge *gauge);
/* What its certificate states, else the resolution. */
double gauge_uncertainty(const Gauge *gauge);
/* Those used whose certificate has run out at the job's date: calibration-out, once each. */
void gauges_vouch(Planner *planner);

#endif
