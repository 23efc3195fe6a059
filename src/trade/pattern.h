/* A tightening order for fasteners that came without one. */
#ifndef SHEAF_TRADE_PATTERN_H
#define SHEAF_TRADE_PATTERN_H

#include <stddef.h>

typedef struct PatternPoint {
  double x, y; /* m, in the plane of the joint face */
} PatternPoint;

#define PATTERN_MOST 200

/* Fills order[0..n-1] with indices into points. Common practice, no source: from the
 * centre outwards and crosswise. The rule: the points stand in shells by distance from the
 * middle of their bounding box (the same shell when within 15 % of the box's half
 * diagonal); the inner shell comes first; in a shell the next is always the one
 * farthest from the last tightened, the lower index among equals; the
 * very first is the lowest index of the innermost shell. n at most PATTERN_MOST; more
 * are left in the order given. */
void pattern_order(const PatternPoint *points, size_t n, size_t *order);

#endif
