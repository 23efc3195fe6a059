/* One side of a bench table: its lines, and what each puts in place of the
 * prediction. */
#ifndef SHEAF_PLAN_AXIS_H
#define SHEAF_PLAN_AXIS_H

#include "plan/work.h"

typedef struct AxisLine {
  const char *name; /* as printed */
  bool by_value;
  double si;      /* by_value */
  Overrides pins; /* else: the facts of the part */
} AxisLine;
typedef struct Axis {
  const TableAxis *decl;
  const char *label;
  Quantity *quantity; /* by value; NULL: by parts, or no such side */
  const Unit *unit;
  int places;
  double bin; /* half width of a line, SI */
  bool cut;   /* more lines are asked for than fit, reported */
  VEC(AxisLine) lines;
  RefList parts; /* of the lines, by parts */
} Axis;

/* false: nothing can be made of it, reported. most: lines that fit the sheet. A
 * side that is not given has one line that pins nothing. */
bool axis_build(Planner *planner, const PlanStep *step, const Instance *at, const TableAxis *decl,
                size_t most, Axis *axis);
/* Puts the line into pins, its value moved by that many bins (-1, 0, 1). */
void axis_pin(Planner *planner, const Axis *axis, size_t line, int edge, Overrides *pins);

#endif
