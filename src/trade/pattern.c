#include "trade/pattern.h"

#include <math.h>
#include <stdbool.h>

#define SHELL 0.15 /* of the box's half diagonal */
#define EQUAL 1e-6 /* distances no further apart count as equal, of the half diagonal */

typedef struct Box {
  double x, y;          /* middle */
  double half_diagonal; /* 0 when all points are one */
} Box;

static Box box_of(const PatternPoint *points, size_t n) {
  double left = points[0].x, right = left, low = points[0].y, high = low;
  for (size_t i = 1; i < n; i++) {
    left = fmin(left, points[i].x);
    right = fmax(right, points[i].x);
    low = fmin(low, points[i].y);
    high = fmax(high, points[i].y);
  }
  return (Box){(left + right) / 2.0, (low + high) / 2.0, hypot(right - left, high - low) / 2.0};
}

static double apart(PatternPoint a, PatternPoint b) {
  return hypot(a.x - b.x, a.y - b.y);
}

/* The first of the nearest to the middle among those not yet placed. */
static double nearest_left(const double *radius, const bool *placed, size_t n) {
  double least = INFINITY;
  for (size_t i = 0; i < n; i++) {
    if (!placed[i]) least = fmin(least, radius[i]);
  }
  return least;
}

void pattern_order(const PatternPoint *points, size_t n, size_t *order) {
  bool placed[PATTERN_MOST] = {false};
  double radius[PATTERN_MOST];
  if (n == 0 || n > PATTERN_MOST) {
    for (size_t i = 0; i < n; i++) order[i] = i;
    return;
  }
  Box box = box_of(points, n);
  PatternPoint middle = {box.x, box.y};
  for (size_t i = 0; i < n; i++) radius[i] = apart(points[i], middle);
  double shell = -1.0; /* outer edge of the shell being placed */
  for (size_t done = 0; done < n; done++) {
    double nearest = nearest_left(radius, placed, n);
    if (nearest > shell) shell = nearest + SHELL * box.half_diagonal;
    size_t best = n;
    double farthest = 0.0;
    for (size_t i = 0; i < n; i++) {
      if (placed[i] || radius[i] > shell) continue;
      double away = done == 0 ? -radius[i] : apart(points[i], points[order[done - 1]]);
      if (best < n && away <= farthest + EQUAL * box.half_diagonal) continue;
      best = i;
      farthest = away;
    }
    placed[best] = true;
    order[done] = best;
  }
}
