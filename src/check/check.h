/* The rules over the combination: what does not fit together, and by how much. */
#ifndef SHEAF_CHECK_CHECK_H
#define SHEAF_CHECK_CHECK_H

#include "model/plan.h"

/* Adds findings, then lets the build's concessions turn what may be conceded
 * into concerns. */
void check_job(Run *run, const Job *job, const Plan *plan);

#endif
