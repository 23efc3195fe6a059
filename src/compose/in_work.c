/* What this job has to do with: nothing need lie ready for parts that stay where they are. */
#include "compose/composer.h"

bool role_in_work(const Composer *c, const Role *role) {
  return c->plan->steps.n == 0 || plan_works_on(c->plan, role->name);
}

bool consumable_in_work(const Composer *c, const Entry *consumable) {
  if (c->plan->steps.n == 0) return true;
  for (size_t i = 0; i < c->plan->steps.n; i++) {
    const RefList *uses = &c->plan->steps.at[i]->decl->uses;
    for (size_t j = 0; j < uses->n; j++)
      if (uses->at[j].entry == consumable) return true;
  }
  return false;
}
