/* What this job has to do with: nothing need lie ready for parts that stay where they are. */
#include "compose/composer.h"

#include <string.h>

/* "springs[left.intake]" names springs. */
static bool names_role(const SaidList *list, const char *role) {
  for (size_t i = 0; i < list->n; i++) {
    const char *name = list->at[i].s;
    if (strlen(role) == strcspn(name, "[") && strncmp(name, role, strlen(role)) == 0) return true;
  }
  return false;
}

bool role_in_work(const Composer *c, const Role *role) {
  if (c->plan->steps.n == 0) return true;
  for (size_t i = 0; i < c->plan->steps.n; i++) {
    const StepDecl *decl = c->plan->steps.at[i]->decl;
    if (names_role(&decl->fits, role->name) || names_role(&decl->trial, role->name) ||
        names_role(&decl->removes, role->name))
      return true;
  }
  return false;
}

bool joint_in_work(const Composer *c, const JobJoint *joint) {
  if (c->plan->steps.n == 0) return true;
  for (size_t i = 0; i < c->plan->steps.n; i++) {
    const PlanStep *step = c->plan->steps.at[i];
    for (size_t j = 0; j < step->joints.n; j++)
      if (step->joints.at[j] == joint) return true;
  }
  return false;
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
