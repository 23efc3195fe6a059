/* Readings and decisions meet the job: matched to boxes, tried for slips, put
 * into the graph. */
#ifndef SHEAF_RESOLVE_READINGS_H
#define SHEAF_RESOLVE_READINGS_H

#include "model/reissue.h"

/* The packets of a job that a file of readings may belong to. */
typedef struct Printed {
  const Job *job; /* blank, of this build */
  const Plan *plan;
  Reissue *reissue; /* NULL: not compared with an earlier issue */
} Printed;

/* Is the file of this job and of a packet that is known here? Reports wrong-job,
 * wrong-revision. */
bool readings_belong(Run *run, const Printed *printed, const Readings *readings);

/* The parts that were fitted take the places of those the build chose; what is no part
 * is left for readings_take. Reports unknown-name, not-offered. */
void readings_fit(Run *run, Library *library, const Printed *printed, const Readings *readings);

/* Fills Quantity.readings of a job resolved with the parts fitted, and works everything
 * out again. Readings of an earlier issue that no longer hold go to reissue->voids.
 * Reports unknown-box, unknown-step, read-twice, wrong-dimension, beyond-gauge,
 * likely-slip, readings-apart, does-not-add-up. */
void readings_take(Run *run, Job *job, const Printed *printed, Readings *readings);

/* A decision may choose a part; it may not change the work that was printed. */
void readings_same_work(Run *run, const Readings *readings, const Reissue *decided);

#endif
