/* Fits between parts that stay where they are are no matter of this work. */
#include "check/rules.h"

#include "base/text.h"
#include "model/job_words.h"

#include <string.h>

/* "springs[left.intake]" names springs. */
static bool names_role(const SaidList *list, const char *role) {
  for (size_t i = 0; i < list->n; i++) {
    const char *name = list->at[i].s;
    size_t length = strcspn(name, "[");
    if (strlen(role) == length && strncmp(name, role, length) == 0) return true;
  }
  return false;
}

static bool is_worked(const Plan *plan, const char *role) {
  for (size_t i = 0; i < plan->steps.n; i++) {
    const StepDecl *decl = plan->steps.at[i]->decl;
    if (names_role(&decl->fits, role) || names_role(&decl->trial, role) ||
        names_role(&decl->removes, role))
      return true;
  }
  return false;
}

bool is_left_alone(const Job *job, const Plan *plan, const Quantity *quantity) {
  const SaidList *parties = &quantity->decl->parties;
  if (plan->steps.n == 0 || parties->n == 0) return false;
  for (size_t i = 0; i < parties->n; i++) {
    const Role *role = job_role(job, parties->at[i].s);
    if (!role || !role->part || role->part != role->decl->part.entry || is_worked(plan, role->name))
      return false;
  }
  return true;
}
