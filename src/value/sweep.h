/* The search of a range: leaves moved within their tolerances, and what comes out. For the
 * files of this folder only. */
#ifndef SHEAF_VALUE_SWEEP_H
#define SHEAF_VALUE_SWEEP_H

#include "value/graph_node.h"

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

/* The bit of a leaf in Scratch.depends. */
uint64_t sweep_bit(size_t input);
/* The result with the leaves at x; every one looked at counts for the worst. */
double sweep_look(Sweep *sweep);
/* The same with one leaf elsewhere; x stays. */
double sweep_look_at(Sweep *sweep, size_t input, double x);
/* Each leaf alone, the others in the middle: its rise and width. */
void sweep_along(Sweep *sweep, size_t input);
/* Puts x where the slopes say that the worst of that side is. */
void sweep_start_at_signs(Sweep *sweep, Side side);
/* Puts all at low, middle, high or nominal: 0 to 3. */
void sweep_start_at(Sweep *sweep, int where);
/* From where x stands, leaf by leaf until nothing changes. */
void sweep_all(Sweep *sweep, Side side);
/* More of the same where the result turns: corners, other starts, and between them. */
void sweep_bends(Sweep *sweep);

#endif
