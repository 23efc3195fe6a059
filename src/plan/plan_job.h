/* The work in order: steps, their boxes, passes and tables, and what is wrong with them. */
#ifndef SHEAF_PLAN_PLAN_JOB_H
#define SHEAF_PLAN_PLAN_JOB_H

#include "model/plan.h"

/* Never NULL. Reports everything about the order of the work, what it is done
 * through and with, and its boxes; outcomes of quantities are left to check.
 * ordered is false after a circle: the steps then stand as written and nothing
 * is played through. */
Plan *plan_job(Run *run, Job *job);

/* The plan worked out again from readings takes from the printed one what the technician went
 * by: what judges a box, its gauge and readings, the cells of a table. */
void plan_as_printed(const Plan *printed, Plan *plan);

#endif
