/* Conditions of use, and what a maker says must not go together. */
#include "check/rules.h"

#include "base/text.h"

void check_needs(Run *run, const Job *job) {
  for (size_t i = 0; i < job->needs.n; i++) {
    const NeedValue *need = &job->needs.at[i];
    Range range = graph_range(job->graph, run->arena, need->truth, NULL);
    /* low 0: some corner of the tolerances breaks it */
    if (range.state != VALUE_KNOWN || range.low > 0.5) continue;
    Finding *finding = finding_add(
        run, RULE_NEEDS_UNMET, need->need->at, "%s asks for %s%s%s, which %s%s%s",
        need->entry->name.s, formula_print(run->arena, need->need->that),
        need->instance->id ? ", " : "", need->instance->label ? need->instance->label : "",
        range.nominal > 0.5 ? "may fail within the tolerances" : "is not so",
        need->need->why.s ? ": " : "", need->need->why.s ? need->need->why.s : "");
    finding_subject(finding, need->entry->id);
    finding_way_out(run, finding, "change one of the parts the condition names");
  }
}

/* Where a choice or a part could not be told the condition is neither true nor untrue; that is
 * reported where it was met. */
static bool holds_for_certain(Run *run, const Job *job, Formula *when) {
  const Instance *engine = job->instances.at[0];
  if (!job->when(job, run, when, engine)) return false;
  Formula *otherwise = ARENA_NEW(run->arena, Formula);
  otherwise->kind = FORMULA_NOT;
  otherwise->at = when->at;
  otherwise->arg[0] = when;
  otherwise->args = 1;
  Run silent = {run->arena, findings_new(run->arena)};
  return !job->when(job, &silent, otherwise, engine);
}

static void forbid(Run *run, const Job *job, const Role *role, const Forbid *forbid) {
  if (forbid->when && !holds_for_certain(run, job, forbid->when)) return;
  for (size_t i = 0; i < job->roles.n; i++) {
    const Role *other = job->roles.at[i];
    if (!other->part || other == role) continue;
    if (!(forbid->part.s && text_is(other->part->id, forbid->part.s)) &&
        !(forbid->role.s && text_is(other->name, forbid->role.s)))
      continue;
    Finding *finding = finding_add(run, RULE_FORBIDDEN, forbid->at, "%s must not go with %s%s%s",
                                   role->part->name.s, other->part->name.s,
                                   forbid->why.s ? ": " : "", forbid->why.s ? forbid->why.s : "");
    finding_note(run, finding, other->at, "chosen here as the %s", other->label);
    finding_way_out(run, finding, "choose another %s or another %s", role->label, other->label);
  }
}

void check_forbids(Run *run, const Job *job) {
  for (size_t i = 0; i < job->roles.n; i++) {
    const Role *role = job->roles.at[i];
    if (!role->part) continue;
    for (size_t j = 0; j < role->part->is.part.forbids.n; j++)
      forbid(run, job, role, &role->part->is.part.forbids.at[j]);
  }
}
