/* Between the files that take readings in. */
#ifndef SHEAF_RESOLVE_READINGS_BOX_H
#define SHEAF_RESOLVE_READINGS_BOX_H

#include "resolve/readings.h"

/* The box meant; NULL after unknown-box. */
const PlanBox *need_box(Run *run, const Plan *plan, const ReadingLine *line);
/* The same box in another packet of the job; NULL: it has none. */
const PlanBox *box_again(const Plan *was, const PlanBox *box, const Plan *is);
const PlanStep *box_step(const Plan *plan, const PlanBox *box);
bool same_quantity(const Quantity *a, const Quantity *b);

/* A value in SI as it stands in that box: a bare number has the unit the box prints.
 * false after wrong-dimension. */
bool reading_si(Run *run, const PlanBox *box, const Expr *value, double *si);
/* Could that gauge show it, and is it of the size that is expected? Reports. */
bool reading_is_likely(Run *run, const PlanBox *box, const ReadingLine *line, const Expr *value,
                       double si);
/* Are readings from low to high of one box farther apart than the gauge and the part explain? */
bool readings_scatter(const PlanBox *box, double low, double high);
/* Middle one of those in order of size, or the mean of the middle two. */
double median(Arena *arena, const double *values, size_t n);

#endif
