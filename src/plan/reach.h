/* Which measured quantities hang together with which limited ones. */
#ifndef SHEAF_PLAN_REACH_H
#define SHEAF_PLAN_REACH_H

#include "model/plan.h"

typedef struct Reach Reach;

Reach *reach_new(Arena *arena, const Graph *graph);
/* A node that the answers below are about. cuts: a reading of it cuts off what lies under it. */
void reach_mark(Reach *reach, NodeId node, bool cuts);
/* The marked nodes under a value and under the limits it is judged by, itself not:
 * those that cut, up to where they do. through: all, also those cut off by others. */
void reach_under(Reach *reach, const Quantity *quantity, bool through, NodeIds *out);

/* Has limits of its own and is not for the report only. */
bool quantity_is_judged(const Quantity *quantity);

#endif
