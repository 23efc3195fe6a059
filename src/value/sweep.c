#include "value/sweep.h"

#include <math.h>

#define MOST_SWEEPS    4
#define MOST_NODES_RUN 100000000.0 /* a bound on hostile graphs: node evaluations */

/* All leaves from the 63rd on share the last bit. */
uint64_t sweep_bit(size_t input) {
  return (uint64_t)1 << (input < 63 ? input : 63);
}

/* Puts the leaves at x; those that moved since the look before. */
static uint64_t move(Sweep *sweep) {
  uint64_t moved = 0;
  for (size_t i = 0; i < sweep->inputs.n; i++) {
    if (sweep->looked && sweep->x[i] == sweep->last_x[i]) continue;
    moved |= sweep_bit(i);
    sweep->last_x[i] = sweep->x[i];
    sweep->scratch->pin[sweep->inputs.at[i].id] = sweep->x[i];
  }
  sweep->looked = true;
  return moved;
}

double sweep_look(Sweep *sweep) {
  if (sweep->nodes_run > MOST_NODES_RUN) {
    sweep->turns = true; /* not searched to the end: nothing is claimed */
    return NAN;
  }
  Cell cell = scratch_run_again(sweep->graph, sweep->scratch, sweep->target, move(sweep),
                                &sweep->nodes_run);
  if (cell.state != VALUE_KNOWN) {
    if (cell.state == VALUE_UNKNOWN)
      sweep->waits = true;
    else
      sweep->not_finite = true;
    return NAN;
  }
  for (size_t i = 0; i < sweep->divisors.n; i++) {
    Divisor *divisor = &sweep->divisors.at[i];
    Cell by = sweep->scratch->cells[divisor->id];
    divisor->below = divisor->below || (by.state == VALUE_KNOWN && by.si < 0);
    divisor->above = divisor->above || (by.state == VALUE_KNOWN && by.si > 0);
    if (divisor->below && divisor->above) sweep->not_finite = true;
  }
  for (int side = SIDE_LOW; side <= SIDE_HIGH; side++) {
    bool worse = side == SIDE_LOW ? cell.si < sweep->worst[side] : cell.si > sweep->worst[side];
    if (!worse) continue;
    sweep->worst[side] = cell.si;
    for (size_t i = 0; i < sweep->inputs.n; i++) sweep->worst_x[side][i] = sweep->x[i];
  }
  return cell.si;
}

double sweep_look_at(Sweep *sweep, size_t input, double x) {
  double before = sweep->x[input];
  sweep->x[input] = x;
  double result = sweep_look(sweep);
  sweep->x[input] = before;
  return result;
}

/* Differences below this are rounding. */
static double grain(const Sweep *sweep) {
  double size = fmax(fabs(sweep->worst[SIDE_LOW]), fabs(sweep->worst[SIDE_HIGH]));
  return 1e-13 * size + 1e-9 * (sweep->worst[SIDE_HIGH] - sweep->worst[SIDE_LOW]);
}

void sweep_along(Sweep *sweep, size_t index) {
  Input *input = &sweep->inputs.at[index];
  double step = (input->high - input->low) / 4;
  double first = sweep_look_at(sweep, index, input->low), before = first;
  double least = first, most = first, up = 0, down = 0, last = first;
  for (int i = 1; i <= 4; i++) {
    last = sweep_look_at(sweep, index, i == 4 ? input->high : input->low + i * step);
    least = fmin(least, last);
    most = fmax(most, last);
    up = fmax(up, last - before);
    down = fmax(down, before - last);
    before = last;
  }
  input->rise = last - first;
  input->width = (most - least) / 2;
  if (up > grain(sweep) && down > grain(sweep)) sweep->turns = true;
}

static bool is_better(const Sweep *sweep, Side side, double a, double than) {
  double step = side == SIDE_HIGH ? a - than : than - a;
  return step > grain(sweep) * 1e-3;
}

/* One leaf at low, middle and high: the best for that side stays. best: the result at x. */
static bool sweep_leaf(Sweep *sweep, Side side, size_t index, double *best) {
  const Input *input = &sweep->inputs.at[index];
  const double points[] = {input->low, input->middle, input->high};
  double result[3], chosen = sweep->x[index], here = *best;
  bool changed = false;
  for (int i = 0; i < 3; i++) {
    result[i] = points[i] == sweep->x[index] ? here : sweep_look_at(sweep, index, points[i]);
    if (!is_better(sweep, side, result[i], *best)) continue;
    *best = result[i];
    chosen = points[i];
    changed = true;
  }
  sweep->x[index] = chosen;
  double rise = result[2] - result[0], fine = grain(sweep);
  bool turned = (rise > fine && input->rise < -fine) || (rise < -fine && input->rise > fine);
  bool bent = result[1] > fmax(result[0], result[2]) + fine ||
              result[1] < fmin(result[0], result[2]) - fine;
  if (turned || bent) sweep->turns = true;
  return changed;
}

void sweep_all(Sweep *sweep, Side side) {
  double best = sweep_look(sweep);
  for (int i = 0; i < MOST_SWEEPS; i++) {
    bool changed = false;
    for (size_t n = 0; n < sweep->inputs.n; n++) {
      changed = sweep_leaf(sweep, side, n, &best) || changed;
    }
    if (!changed) return;
  }
}

void sweep_start_at_signs(Sweep *sweep, Side side) {
  for (size_t i = 0; i < sweep->inputs.n; i++) {
    const Input *input = &sweep->inputs.at[i];
    sweep->x[i] = (input->rise > 0) == (side == SIDE_HIGH) ? input->high : input->low;
  }
}

void sweep_start_at(Sweep *sweep, int where) {
  for (size_t i = 0; i < sweep->inputs.n; i++) {
    const Input *input = &sweep->inputs.at[i];
    const double points[] = {input->low, input->middle, input->high, input->nominal};
    sweep->x[i] = points[where];
  }
}
