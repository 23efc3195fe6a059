/* Where a result turns within a tolerance: the worst is not at the corners alone. */
#include "value/sweep.h"

#include <math.h>

#define MOST_ENUMERATED 8
#define SAMPLES         9 /* along one leaf, ahead of closing in on a bend */
#define CLOSING_STEPS   40
#define GOLDEN          0.6180339887498949

/* All corners and middles. */
static void enumerate(Sweep *sweep) {
  size_t n = sweep->inputs.n, total = 1;
  for (size_t i = 0; i < n; i++) total *= 3;
  for (size_t code = 0; code < total; code++) {
    size_t rest = code;
    for (size_t i = 0; i < n; i++, rest /= 3) {
      const Input *input = &sweep->inputs.at[i];
      const double points[] = {input->low, input->middle, input->high};
      sweep->x[i] = points[rest % 3];
    }
    (void)sweep_look(sweep);
  }
}

static double signed_look(Sweep *sweep, Side side, size_t index, double x) {
  double result = sweep_look_at(sweep, index, x);
  return side == SIDE_HIGH ? result : -result;
}

/* Where the result is best, and how good. */
typedef struct Peak {
  double x, result;
} Peak;

static double try_at(Sweep *sweep, Side side, size_t index, double x, Peak *peak) {
  double result = signed_look(sweep, side, index, x);
  if (result > peak->result) *peak = (Peak){x, result};
  return result;
}

/* Golden section: each step keeps one of the two points inside. */
static void close_in_between(Sweep *sweep, Side side, size_t index, double a, double b,
                             Peak *peak) {
  double left = b - GOLDEN * (b - a), right = a + GOLDEN * (b - a);
  double at_left = try_at(sweep, side, index, left, peak);
  double at_right = try_at(sweep, side, index, right, peak);
  for (int i = 1; i < CLOSING_STEPS; i++) {
    if (at_left > at_right) {
      b = right;
      right = left, at_right = at_left;
      left = b - GOLDEN * (b - a);
      at_left = try_at(sweep, side, index, left, peak);
    } else {
      a = left;
      left = right, at_left = at_right;
      right = a + GOLDEN * (b - a);
      at_right = try_at(sweep, side, index, right, peak);
    }
  }
}

/* Is the end the best of its neighbourhood, a step wide? */
static bool is_best_end(Sweep *sweep, Side side, size_t index, double end, double inward) {
  Peak peak = {end, signed_look(sweep, side, index, end)};
  (void)try_at(sweep, side, index, end + inward / 64, &peak);
  (void)try_at(sweep, side, index, end + inward / 4, &peak);
  return peak.x == end;
}

/* A bend between corner and middle: sampled, then closed in on. Answers whether the leaf moved;
 * one that makes no difference here, as the lesser side of a min(), is left where it is. */
static bool close_in(Sweep *sweep, Side side, size_t index) {
  const Input *input = &sweep->inputs.at[index];
  double step = (input->high - input->low) / (SAMPLES - 1), before = sweep->x[index];
  double here = signed_look(sweep, side, index, before);
  Peak peak = {before, here};
  bool level = true;
  for (int i = 0; i < SAMPLES; i++) {
    double x = i == SAMPLES - 1 ? input->high : input->low + i * step;
    level = try_at(sweep, side, index, x, &peak) == here && level;
  }
  if (level) return false;
  bool at_low = peak.x == input->low, at_high = peak.x == input->high;
  bool at_end = (at_low && is_best_end(sweep, side, index, input->low, step)) ||
                (at_high && is_best_end(sweep, side, index, input->high, -step));
  if (!at_end) {
    double a = fmax(input->low, peak.x - step), b = fmin(input->high, peak.x + step);
    close_in_between(sweep, side, index, a, b, &peak);
  }
  sweep->x[index] = peak.x;
  return peak.x != before;
}

void sweep_bends(Sweep *sweep) {
  if (sweep->inputs.n <= MOST_ENUMERATED) enumerate(sweep);
  for (int side = SIDE_LOW; side <= SIDE_HIGH; side++) {
    for (int where = 0; where < 4; where++) {
      sweep_start_at(sweep, where);
      sweep_all(sweep, (Side)side);
    }
    for (size_t i = 0; i < sweep->inputs.n; i++) sweep->x[i] = sweep->worst_x[side][i];
    bool moved = true;
    for (int pass = 0; pass < 2 && moved; pass++) {
      moved = false;
      for (size_t i = 0; i < sweep->inputs.n; i++) moved = close_in(sweep, (Side)side, i) || moved;
    }
  }
}
