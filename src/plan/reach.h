/* Which measured quantities hang together with which limited ones. */
#ifndef SHEAF_PLAN_REACH_H
#define SHEAF_PLAN_REACH_H

#include "model/plan.h"

typedef struct Reach Reach;

Reach *reach_new(Arena *arena, const Graph *graph);
/* A node that the answers below are about. */
void reach_mark(Reach *reach, NodeId node);
/* The marked nodes under a value and under the limits it is judged by, itself not.
 * through: also those that lie under other marked ones, which a reading cuts off. */
void reach_under(Reach *reach, const Quantity *quantity, bool through, NodeIds *out);

/* Has limits of its own and is not for the report only. */
bool quantity_is_judged(const Quantity *quantity);

#endif
