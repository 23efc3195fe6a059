/* How far a value can lie from its nominal: the worst found, and the root-sum-square. */
#include "value/graph_node.h"

#include <math.h>
#include <stdlib.h>

#define MOST_SWEEPS     4
#define MOST_ENUMERATED 8
#define SAMPLES         9 /* along one leaf, ahead of closing in on a bend */
#define CLOSING_STEPS   40
#define GOLDEN          0.6180339887498949
#define MOST_NODES_RUN  100000000.0 /* a bound on hostile graphs: node evaluations */

typedef enum Side { SIDE_LOW, SIDE_HIGH } Side;

typedef struct Input {
  NodeId id;
  double nominal, low, middle, high;
  double rise;  /* of the result from low to high, the others in the middle */
  double width; /* of the result over the same */
} Input;

/* What something is divided by: seen on both sides of zero, there is no worst. */
typedef struct Divisor {
  NodeId id;
  bool below, above;
} Divisor;

typedef struct Sweep {
  const Graph *graph;
  Scratch *scratch;
  NodeId target;
  VEC(Input) inputs;
  VEC(Divisor) divisors; /* those that vary */
  double worst[2];       /* found so far, by Side */
  double *worst_x[2];    /* where */
  double *x;             /* now */
  double *last_x;        /* of the look before */
  bool looked;           /* last_x counts */
  double nodes_run;
  bool waits, not_finite; /* somewhere in the range */
  bool turns;             /* the result does not rise or fall throughout in some leaf */
} Sweep;

/* All leaves from the 63rd on share the last bit. */
static uint64_t bit_of(size_t input) {
  return (uint64_t)1 << (input < 63 ? input : 63);
}

/* Puts the leaves at x; those that moved since the look before. */
static uint64_t move(Sweep *sweep) {
  uint64_t moved = 0;
  for (size_t i = 0; i < sweep->inputs.n; i++) {
    if (sweep->looked && sweep->x[i] == sweep->last_x[i]) continue;
    moved |= bit_of(i);
    sweep->last_x[i] = sweep->x[i];
    sweep->scratch->pin[sweep->inputs.at[i].id] = sweep->x[i];
  }
  sweep->looked = true;
  return moved;
}

/* The result with the leaves at x; every one looked at counts for the worst. */
static double look(Sweep *sweep) {
  if (sweep->nodes_run > MOST_NODES_RUN) {
    sweep->turns = true; /* not searched to the end: nothing is claimed */
    return NAN;
  }
  Cell cell =
      plan_run_again(sweep->graph, sweep->scratch, sweep->target, move(sweep), &sweep->nodes_run);
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

static double look_at(Sweep *sweep, size_t input, double x) {
  double before = sweep->x[input];
  sweep->x[input] = x;
  double result = look(sweep);
  sweep->x[input] = before;
  return result;
}

/* Differences below this are rounding. */
static double grain(const Sweep *sweep) {
  double size = fmax(fabs(sweep->worst[SIDE_LOW]), fabs(sweep->worst[SIDE_HIGH]));
  return 1e-13 * size + 1e-9 * (sweep->worst[SIDE_HIGH] - sweep->worst[SIDE_LOW]);
}

/* Each leaf alone, the others in the middle. */
static void look_along(Sweep *sweep, size_t index) {
  Input *input = &sweep->inputs.at[index];
  double step = (input->high - input->low) / 4;
  double first = look_at(sweep, index, input->low), before = first;
  double least = first, most = first, up = 0, down = 0, last = first;
  for (int i = 1; i <= 4; i++) {
    last = look_at(sweep, index, i == 4 ? input->high : input->low + i * step);
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
    result[i] = points[i] == sweep->x[index] ? here : look_at(sweep, index, points[i]);
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

/* From where x stands, leaf by leaf until nothing changes. */
static void sweep_all(Sweep *sweep, Side side) {
  double best = look(sweep);
  for (int i = 0; i < MOST_SWEEPS; i++) {
    bool changed = false;
    for (size_t n = 0; n < sweep->inputs.n; n++) {
      changed = sweep_leaf(sweep, side, n, &best) || changed;
    }
    if (!changed) return;
  }
}

static void start_at_signs(Sweep *sweep, Side side) {
  for (size_t i = 0; i < sweep->inputs.n; i++) {
    const Input *input = &sweep->inputs.at[i];
    sweep->x[i] = (input->rise > 0) == (side == SIDE_HIGH) ? input->high : input->low;
  }
}

static void start_at(Sweep *sweep, int where) {
  for (size_t i = 0; i < sweep->inputs.n; i++) {
    const Input *input = &sweep->inputs.at[i];
    const double points[] = {input->low, input->middle, input->high, input->nominal};
    sweep->x[i] = points[where];
  }
}

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
    (void)look(sweep);
  }
}

static double signed_look(Sweep *sweep, Side side, size_t index, double x) {
  double result = look_at(sweep, index, x);
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

/* A bend between corner and middle: sampled, then closed in on. */
static void close_in(Sweep *sweep, Side side, size_t index) {
  const Input *input = &sweep->inputs.at[index];
  double step = (input->high - input->low) / (SAMPLES - 1);
  Peak peak = {sweep->x[index], signed_look(sweep, side, index, sweep->x[index])};
  for (int i = 0; i < SAMPLES; i++) {
    double x = i == SAMPLES - 1 ? input->high : input->low + i * step;
    (void)try_at(sweep, side, index, x, &peak);
  }
  bool at_low = peak.x == input->low, at_high = peak.x == input->high;
  bool at_end = (at_low && is_best_end(sweep, side, index, input->low, step)) ||
                (at_high && is_best_end(sweep, side, index, input->high, -step));
  if (!at_end) {
    double a = fmax(input->low, peak.x - step), b = fmin(input->high, peak.x + step);
    close_in_between(sweep, side, index, a, b, &peak);
  }
  sweep->x[index] = peak.x;
}

static void search_bends(Sweep *sweep) {
  if (sweep->inputs.n <= MOST_ENUMERATED) enumerate(sweep);
  for (int side = SIDE_LOW; side <= SIDE_HIGH; side++) {
    for (int where = 0; where < 4; where++) {
      start_at(sweep, where);
      sweep_all(sweep, (Side)side);
    }
    for (size_t i = 0; i < sweep->inputs.n; i++) sweep->x[i] = sweep->worst_x[side][i];
    for (int pass = 0; pass < 2; pass++) {
      for (size_t i = 0; i < sweep->inputs.n; i++) close_in(sweep, (Side)side, i);
    }
  }
}

/* Toleranced leaves of the plan; they are pinned, so that x can move them. */
static void collect_inputs(Sweep *sweep, Arena *arena) {
  Scratch *scratch = sweep->scratch;
  for (size_t i = 0; i < scratch->order_n; i++) {
    NodeId id = scratch->order[i];
    const GraphNode *node = &sweep->graph->nodes.at[id];
    bool leaf = node->op == OP_LEAF || node->has_reading;
    scratch->depends[id] = 0;
    bool varies = leaf && !scratch->pinned[id] && node->low < node->high && isfinite(node->low) &&
                  isfinite(node->high);
    if (!varies) continue;
    scratch->depends[id] = bit_of(sweep->inputs.n);
    Input input = {.id = id, .nominal = node->si, .low = node->low, .high = node->high};
    input.middle = node->low + (node->high - node->low) / 2;
    vec_push(arena, &sweep->inputs, input);
    scratch->pinned[id] = true;
  }
}

/* Which leaves each node hangs on. The plan keeps those that hang on any. */
static void find_dependence(Sweep *sweep) {
  Scratch *scratch = sweep->scratch;
  size_t kept = 0;
  for (size_t i = 0; i < scratch->order_n; i++) {
    NodeId id = scratch->order[i];
    const GraphNode *node = &sweep->graph->nodes.at[id];
    for (uint32_t k = 0; !scratch->pinned[id] && k < node->args; k++)
      scratch->depends[id] |= scratch->depends[node->arg[k]];
    if (scratch->depends[id]) scratch->order[kept++] = id;
  }
  scratch->order_n = kept;
}

/* Does a toleranced leaf reach an operator that bends or jumps? Notes divisors on the way. */
static bool has_bend(Sweep *sweep, Arena *arena) {
  Scratch *scratch = sweep->scratch;
  bool bend = false;
  for (size_t i = 0; i < scratch->order_n; i++) {
    NodeId id = scratch->order[i];
    const GraphNode *node = &sweep->graph->nodes.at[id];
    if (scratch->pinned[id]) continue; /* leaves are settled already */
    if (node->op == OP_DIVIDE && scratch->depends[node->arg[1]]) {
      vec_push(arena, &sweep->divisors, ((Divisor){node->arg[1], false, false}));
    }
    if (node->op == OP_CALL)
      bend = bend || !function_is_smooth(node->function);
    else if (node->op == OP_IF)
      bend = bend || scratch->depends[node->arg[0]];
    else
      bend = bend || node->dim.truth;
  }
  return bend;
}

static int by_width(const void *a, const void *b) {
  const Contribution *x = a, *y = b;
  if (x->half_width != y->half_width) return x->half_width > y->half_width ? -1 : 1;
  return (x->leaf > y->leaf) - (x->leaf < y->leaf);
}

static void search(Sweep *sweep, Arena *arena, Range *range) {
  find_dependence(sweep);
  plan_settle(sweep->graph, sweep->scratch);
  sweep->turns = has_bend(sweep, arena);
  start_at(sweep, 1);
  for (size_t i = 0; i < sweep->inputs.n; i++) look_along(sweep, i);
  for (int side = SIDE_LOW; side <= SIDE_HIGH; side++) {
    start_at_signs(sweep, (Side)side);
    sweep_all(sweep, (Side)side);
  }
  if (sweep->turns) search_bends(sweep);
  range->low = sweep->worst[SIDE_LOW];
  range->high = sweep->worst[SIDE_HIGH];
  if (sweep->not_finite) {
    range->low = -INFINITY;
    range->high = INFINITY;
  }
  range->monotone = !sweep->turns && !sweep->not_finite && !sweep->waits;
  if (sweep->waits) range->state = VALUE_UNKNOWN;
  double squares = 0;
  for (size_t i = 0; i < sweep->inputs.n; i++) {
    const Input *input = &sweep->inputs.at[i];
    Contribution one = {input->id, input->width};
    if (!(one.half_width > 0)) continue;
    squares += one.half_width * one.half_width;
    vec_push(arena, &range->by_leaf, one);
  }
  if (range->by_leaf.n > 1) {
    qsort(range->by_leaf.at, range->by_leaf.n, sizeof *range->by_leaf.at, by_width);
  }
  range->rss = range->monotone ? sqrt(squares) : NAN;
}

Range graph_range(const Graph *graph, Arena *arena, NodeId node, const Overrides *overrides) {
  Range range = {.nominal = NAN, .low = NAN, .high = NAN, .rss = NAN};
  Sweep sweep = {.graph = graph, .target = node};
  sweep.scratch = plan_make(graph, node, overrides);
  Cell nominal = plan_run(graph, sweep.scratch, node);
  range.state = (ValueState)nominal.state;
  if (range.state != VALUE_KNOWN) {
    plan_unpin(sweep.scratch, overrides);
    return range;
  }
  range.nominal = range.low = range.high = nominal.si;
  range.rss = 0;
  range.monotone = true;
  collect_inputs(&sweep, arena);
  if (sweep.inputs.n > 0) {
    sweep.x = ARENA_NEW_N(arena, double, sweep.inputs.n);
    sweep.last_x = ARENA_NEW_N(arena, double, sweep.inputs.n);
    for (int side = SIDE_LOW; side <= SIDE_HIGH; side++) {
      sweep.worst[side] = nominal.si;
      sweep.worst_x[side] = ARENA_NEW_N(arena, double, sweep.inputs.n);
      for (size_t i = 0; i < sweep.inputs.n; i++) {
        sweep.worst_x[side][i] = sweep.inputs.at[i].nominal;
      }
    }
    search(&sweep, arena, &range);
  }
  for (size_t i = 0; i < sweep.inputs.n; i++) {
    sweep.scratch->pinned[sweep.inputs.at[i].id] = false;
  }
  plan_unpin(sweep.scratch, overrides);
  return range;
}
