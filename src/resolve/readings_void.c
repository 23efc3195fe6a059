/* Whether a reading of an earlier issue holds: what a changed part or step does to it. */
#include "resolve/readings_box.h"

#include "base/text.h"

static const char *changed_role(const Reissue *reissue, const Quantity *quantity) {
  const Job *was = reissue->was;
  for (size_t i = 0; i < was->roles.n; i++) {
    const Role *role = was->roles.at[i];
    if (!reissue_has(reissue, CHANGE_PART, role->name)) continue;
    for (size_t j = 0; j < quantity->decl->parties.n; j++)
      if (text_is(quantity->decl->parties.at[j].s, role->name)) return role->label;
    for (size_t j = 0; j < was->facts.n; j++)
      if (was->facts.at[j].role == role && was->facts.at[j].node &&
          graph_depends(was->graph, quantity->value, was->facts.at[j].node))
        return role->label;
  }
  return NULL;
}

const char *reading_void(Run *run, const Printed *printed, const PlanBox *box,
                         const PlanBox *again) {
  const Reissue *reissue = printed->reissue;
  const PlanStep *was = box_step(reissue->was_plan, box);
  if (!again) return "this packet no longer asks for it";
  const char *role = changed_role(reissue, box->quantity);
  if (role) return arena_printf(run->arena, "%s: another part now", role);
  const PlanStep *is = box_step(printed->plan, again);
  if (!was || !is) return NULL;
  if (!text_is(was->key, is->key)) return "it is read at another step now";
  if (!text_is(was->decl->text.s, is->decl->text.s)) return "its step is done another way now";
  const char *gauge = box->gauge ? box->gauge->name : NULL;
  if (!text_is(gauge, again->gauge ? again->gauge->name : NULL)) return "another gauge is used now";
  return NULL;
}
