/* A bench table while it is made: its two sides, and what is judged in its squares. */
#ifndef SHEAF_PLAN_TABLER_H
#define SHEAF_PLAN_TABLER_H

#include "plan/axis.h"

typedef struct Tabler {
  Planner *planner;
  const PlanStep *step;
  PlanTable *table;
  Axis row, column;
  QuantityList judged; /* limited, hanging on what the table changes */
} Tabler;

/* Something judged lies outside its limits in that square, or at an edge of its lines. */
bool tabler_stops(const Tabler *tabler, size_t row, size_t column);
/* What is predicted of the side comes to some of what the line stands for. Of a side by parts, and
 * of one nothing is known of before it is read, each line may be the one. */
bool axis_line_is_reached(const Axis *axis, size_t line);

/* ---- table_ends.c ---- */

/* Tells a side that ends before its quantity does, and a table that nothing can stop. */
void table_ends(const Tabler *tabler);

#endif
