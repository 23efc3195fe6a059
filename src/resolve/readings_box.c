/* The same box in two packets of one job. */
#include "resolve/readings_box.h"

#include "base/text.h"

bool same_quantity(const Quantity *a, const Quantity *b) {
  return text_is(a->name, b->name) && text_is(a->instance->path, b->instance->path) &&
         text_is(a->occasion, b->occasion);
}

static int earlier_like(const Plan *plan, const PlanBox *box) {
  int n = 0;
  for (size_t i = 0; i < plan->boxes.n && plan->boxes.at[i] != box; i++)
    n += same_quantity(plan->boxes.at[i]->quantity, box->quantity) &&
         text_is(plan->boxes.at[i]->position, box->position);
  return n;
}

const PlanBox *box_again(const Plan *was, const PlanBox *box, const Plan *is) {
  int n = earlier_like(was, box);
  for (size_t i = 0; i < is->boxes.n; i++) {
    const PlanBox *other = is->boxes.at[i];
    if (same_quantity(other->quantity, box->quantity) && text_is(other->position, box->position) &&
        n-- == 0)
      return other;
  }
  return NULL;
}

const PlanStep *box_step(const Plan *plan, const PlanBox *box) {
  for (size_t i = 0; i < plan->steps.n; i++)
    for (size_t j = 0; j < plan->steps.at[i]->boxes.n; j++)
      if (plan->steps.at[i]->boxes.at[j] == box) return plan->steps.at[i];
  return NULL;
}
