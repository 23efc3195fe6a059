/* Boxes for fasteners that are measured: free, tight, and the stretch worked out from both. */
#include "plan/gauges.h"
#include "plan/work.h"

static bool has_box(const Plan *plan, const Quantity *quantity) {
  for (size_t i = 0; i < plan->boxes.n; i++)
    if (plan->boxes.at[i]->quantity == quantity) return true;
  return false;
}

/* Their ends are touched from outside. The place is that of the sheet which wants them measured. */
static BoxDecl *decl_of(Planner *planner, const Quantity *quantity) {
  BoxDecl *decl = ARENA_NEW(planner->arena, BoxDecl);
  decl->at = quantity->decl->at;
  decl->quantity = (Said){quantity->name, quantity->decl->at};
  decl->gauge = (Said){"outside", quantity->decl->at};
  return decl;
}

/* One gauge for free and tight: its zero then does not matter. How long the fastener is only its
 * scrap length tells; without one, whoever measures it chooses. */
static const Gauge *gauge_of(Planner *planner, const Quantity *quantity) {
  const JobJoint *joint = quantity->joint;
  if (quantity->length == LENGTH_STRETCH || !joint->lengths.at[0]->allowed.said) return NULL;
  const Quantity *free_length = joint->lengths.at[0];
  return need_gauge(planner, decl_of(planner, free_length), free_length, false);
}

static void add(Planner *planner, PlanStep *step, Quantity *quantity, const Gauge *gauge) {
  if (has_box(planner->plan, quantity)) return;
  PlanBox *box = box_add(planner, step, decl_of(planner, quantity), quantity, NULL, gauge);
  if (box) box->joint = quantity->joint;
}

/* One fastener after the other, as they are tightened. */
static void add_fastener(Planner *planner, PlanStep *step, const JobJoint *joint,
                         const char *place) {
  for (size_t i = 0; i < joint->lengths.n; i++)
    if (text_is(joint->lengths.at[i]->instance->member, place))
      add(planner, step, joint->lengths.at[i], gauge_of(planner, joint->lengths.at[i]));
}

void joint_boxes(Planner *planner, PlanStep *step) {
  for (size_t i = 0; i < step->passes.n; i++) {
    const PlanPass *pass = &step->passes.at[i];
    if (!pass->joint || pass->kind != PASS_FINAL || pass->retorque) continue;
    for (size_t f = 0; f < pass->fasteners.n; f++)
      add_fastener(planner, step, pass->joint, pass->fasteners.at[f]);
  }
}
