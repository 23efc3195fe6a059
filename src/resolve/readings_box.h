/* Between the files that take readings in. */
#ifndef SHEAF_RESOLVE_READINGS_BOX_H
#define SHEAF_RESOLVE_READINGS_BOX_H

#include "resolve/readings.h"

/* The box meant; NULL after unknown-box. */
const PlanBox *need_box(Run *run, const Job *job, const Plan *plan, const ReadingLine *line);
/* The same box in another packet of the job; NULL: it has none. */
const PlanBox *box_again(const Plan *was, const PlanBox *box, const Plan *is);
const PlanStep *box_step(const Plan *plan, const PlanBox *box);
bool same_quantity(const Quantity *a, const Quantity *b);

/* Were they taken with the earlier issue that this one is compared with? */
bool readings_are_earlier(const Printed *printed, const Readings *readings);
/* Why a reading of the earlier issue holds no more; NULL: it holds. again: its box now. */
const char *reading_void(Run *run, const Printed *printed, const PlanBox *box,
                         const PlanBox *again);

/* A value in SI as it stands in that box: a bare number has the unit the box prints.
 * false after wrong-dimension. */
bool reading_si(Run *run, const PlanBox *box, const Expr *value, double *si);
/* May the box hold that word? wrong-dimension where its gauge shows a number. */
bool reading_word_fits(Run *run, const PlanBox *box, const ReadingLine *line);
/* Could that gauge show it, and is it of the size that is expected? Reports. */
bool reading_is_likely(Run *run, const PlanBox *box, const ReadingLine *line, const Expr *value,
                       double si);
/* From the least to the most that parts and limits give reason to expect; false: nothing does. */
bool readings_expected(const Quantity *quantity, double *low, double *high);
/* Is it a mark of the box's gauge, and within its range? */
bool gauge_reads(const PlanBox *box, double si);
/* "38.50 mm, the point in another place,": what an unlikely one was probably meant to be; NULL. */
const char *reading_meant(Run *run, const PlanBox *box, const Expr *value, double si);
/* Readings of one box farther apart than it allows, or else than the gauge and the part
 * explain, are reported: readings-apart. */
void readings_agree(Run *run, const PlanBox *box, const ReadingLine *line, const Reading *reading);
/* Quantities of which all that was printed is read take their readings for their value; results
 * worked out on paper that their own readings do not give are reported: does-not-add-up. */
void readings_into_graph(Run *run, Job *job, const Plan *printed);
/* Middle one of those in order of size, or the mean of the middle two. */
double median(Arena *arena, const double *values, size_t n);

#endif
