/* A tightening order for fasteners that came without one. */
#ifndef SHEAF_TRADE_PATTERN_H
#define SHEAF_TRADE_PATTERN_H

#include <stddef.h>

typedef struct PatternPoint {
  double x, y; /* m, in the plane of the joint face */
} PatternPoint;

#define PATTERN_MOST 200

/* Fills order[0..n-1] with indices into points. Common practice, no source: from
 * the middle outwards and crosswise. The rule: the very first is the point nearest
 * the middle of the points' bounding box. Points no more than 15 % of the box's half
 * diagonal farther out than the nearest one left make a shell; a shell is finished
 * before the next begins. In a shell the next is the one farthest from the
 * last. The lower index among equals. More than PATTERN_MOST points stay in the order given. */
void pattern_order(const PatternPoint *points, size_t n, size_t *order);

#endif
