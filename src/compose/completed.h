/* What a completed packet says beyond a blank one: readings, verdicts, what was out. */
#ifndef SHEAF_COMPOSE_COMPLETED_H
#define SHEAF_COMPOSE_COMPLETED_H

#include "compose/composer.h"
#include "model/reissue.h"

/* Readings and verdict of a box into its row. */
void readings_typed(Composer *c, const PlanBox *box, MeasureRow *row);
/* "Left open: ..." for a step the readings name so; NULL. */
const char *left_open(Composer *c, const PlanStep *step);
/* "Found: no-go. A scratch", of a step that looks at something; NULL: nothing is entered. */
const char *check_found(Composer *c, const PlanStep *step);
/* Under a bench table: the square the readings lead to, once they do. */
void add_square_found(Composer *c, const PlanStep *step);
/* What came of the value by measuring, for the customer: NULL while boxes are still empty. */
const char *measured_print(Arena *arena, const Job *job, const Plan *plan,
                           const Quantity *quantity);
/* The value as the parts alone give it. */
Quantity quantity_by_parts(const Job *job, const Quantity *quantity);

/* One thing that lies outside: of a box, of a result, of a decision. */
typedef struct OutItem {
  const char *where, *found;
} OutItem;
typedef VEC(OutItem) OutItems;
/* In order of the packet: boxes, results, decisions. */
void out_items(Arena *arena, const Job *job, const Plan *plan, OutItems *out);
/* What the box is judged by: "0.065 to 0.080 mm", "judged by Squish", "record only"; "": nothing.
 */
const char *box_limits_print(Arena *arena, const PlanBox *box);

/* On the job sheet: what the readings are, what changed since the earlier issue. */
void add_readings_head(Composer *c);
void add_changes(Composer *c);
const char *change_kind_word(ChangeKind kind);

/* Before and after, and the key sizes as built, for the customer. */
void add_as_built(Composer *c);

#endif
