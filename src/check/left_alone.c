/* Fits between parts that stay where they are are no matter of this work. */
#include "check/rules.h"

bool is_left_alone(const Job *job, const Plan *plan, const Quantity *quantity) {
  const SaidList *parties = &quantity->decl->parties;
  if (plan->steps.n == 0 || parties->n == 0) return false;
  for (size_t i = 0; i < parties->n; i++) {
    const Role *role = job_role(job, parties->at[i].s);
    if (!role || !role->part || role->part != role->decl->part.entry ||
        plan_works_on(plan, role->name))
      return false;
  }
  return true;
}
