/* Who fills what, every quantity with its three faces, every joint with the
 * record that holds: a library becomes a job. */
#ifndef SHEAF_RESOLVE_RESOLVE_H
#define SHEAF_RESOLVE_RESOLVE_H

#include "model/job.h"

/* NULL only when the build names no engine that can be used; that was reported.
 * Everything else that does not fit is a finding and a poison value. */
Job *resolve_job(Run *run, const Library *library);

/* Ranges, limits worked out and outcomes of every quantity, from the graph as it
 * stands. Reports division-by-zero. May be called again after graph_read. */
void resolve_recompute(Run *run, Job *job);

/* Puts the readings of every quantity that is read_complete into the graph, at
 * the mean of its positions (a later box of one position counts) and with the mean half width of
 * its gauges, and works everything out again. In readings_graph.c. */
void resolve_readings(Run *run, Job *job);

#endif
