/* Ranges that were found, by what they were worked out from: cylinders that are built alike have
 * the same arithmetic over the same numbers, and are searched once. */
#ifndef SHEAF_VALUE_RANGE_MEMO_H
#define SHEAF_VALUE_RANGE_MEMO_H

#include "value/sweep.h"

/* Everything that the range of a plan hangs on, node by node; words NULL: too long to keep. Of
 * the plan as it was made, before the leaves are pinned. */
typedef struct RangeKey {
  const uint64_t *words;
  size_t n;
  uint64_t hash;
} RangeKey;

RangeKey range_key(const Graph *graph, Scratch *scratch);
/* The range of the same plan, in terms of these inputs; false: it was not found yet. */
bool range_recall(const Graph *graph, Arena *arena, const RangeKey *key, const Sweep *sweep,
                  Range *range);
void range_keep(const Graph *graph, const RangeKey *key, const Sweep *sweep, const Range *range);

#endif
