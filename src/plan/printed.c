/* A packet worked out again from its readings keeps what stands on the paper. */
#include "plan/plan_job.h"

#include "base/text.h"

/* A box is filled in as it was printed: measuring cuts off what hung on its value, and with
 * it what judges the box and how often it is read. */
static void boxes_as_printed(const Plan *printed, const Plan *plan) {
  for (size_t i = 0; i < plan->boxes.n && i < printed->boxes.n; i++) {
    const PlanBox *was = printed->boxes.at[i];
    PlanBox *box = plan->boxes.at[i];
    if (!text_is(was->label, box->label) || was->kind != box->kind) continue;
    box->judged_by = was->judged_by;
    box->readings = was->readings;
    if (box->gauge) continue;
    box->gauge = was->gauge;
    box->unit = was->unit;
    box->places = was->places;
    box->resolution = was->resolution;
    box->uncertainty = was->uncertainty;
  }
}

/* The table that the technician read is the one that was printed: a size read from it would
 * stand in all its squares. */
static void tables_as_printed(const Plan *printed, const Plan *plan) {
  for (size_t i = 0; i < plan->steps.n && i < printed->steps.n; i++) {
    const PlanTable *was = printed->steps.at[i]->table;
    PlanTable *table = plan->steps.at[i]->table;
    if (!was || !table || !text_is(printed->steps.at[i]->key, plan->steps.at[i]->key)) continue;
    if (was->cells.n == table->cells.n) table->cells = was->cells;
  }
}

void plan_as_printed(const Plan *printed, Plan *plan) {
  boxes_as_printed(printed, plan);
  tables_as_printed(printed, plan);
}
