/* Conditions of use as truths in the graph, for check to judge with tolerances. */
#include "resolve/context.h"

static void add(Resolver *r, const Need *need, const Entry *entry, const Instance *at) {
  if (!need->that) return;
  NodeId truth = bind_formula(r, need->that, at);
  if (truth && !graph_dim(r->graph, truth).truth) {
    Finding *finding =
        finding_add(r->run, RULE_WRONG_DIMENSION, need->that->at,
                    "`%s` is a value, not a condition", formula_print(r->arena, need->that));
    finding_way_out(r->run, finding, "compare it with something");
    truth = 0;
  }
  NeedValue value = {need, entry, at, truth};
  vec_push(r->arena, &r->job->needs, value);
}

static size_t depth_of(const Set *set) {
  size_t depth = 0;
  for (; set && depth < 64; set = set->within) depth++;
  return depth;
}

/* The finest set that a name without members stands for: one check for each of them.
 * Formulas are at most 64 deep. */
static const Set *finest(const Resolver *r, const Formula *formula, const Set *so_far) {
  const Set *set = NULL;
  if (formula->kind == FORMULA_OVER) return so_far;
  if (formula->kind == FORMULA_NAME && !formula->index.n) {
    const Role *role = formula->field ? role_called(r, formula->name) : NULL;
    if (role) set = role->per;
    if (!formula->field)
      for (size_t i = 0; i < r->job->quantities.n && !set; i++)
        if (text_is(r->job->quantities.at[i]->name, formula->name))
          set = r->job->quantities.at[i]->instance->set;
  }
  if (depth_of(set) > depth_of(so_far)) so_far = set;
  for (size_t i = 0; i < formula->args; i++) so_far = finest(r, formula->arg[i], so_far);
  return so_far;
}

static void add_each(Resolver *r, const Need *need, const Entry *entry, const Set *per) {
  Instances instances = {0};
  instances_of(r, need->that ? finest(r, need->that, per) : per, &instances);
  for (size_t i = 0; i < instances.n; i++) add(r, need, entry, instances.at[i]);
}

void resolve_needs(Resolver *r) {
  const RefList *relations = &r->job->engine->relations;
  for (size_t i = 0; i < r->job->engine->needs.n; i++)
    add_each(r, &r->job->engine->needs.at[i], r->job->engine_entry, NULL);
  for (size_t i = 0; i < r->job->roles.n; i++) {
    const Role *role = r->job->roles.at[i];
    if (!role->part) continue;
    for (size_t j = 0; j < role->part->is.part.needs.n; j++)
      add_each(r, &role->part->is.part.needs.at[j], role->part, role->per);
  }
  for (size_t i = 0; i < relations->n; i++) {
    const Entry *relation = relations->at[i].entry;
    if (!relation || relation->kind != ENTRY_RELATION) continue;
    for (size_t j = 0; j < relation->is.relation.needs.n; j++)
      add_each(r, &relation->is.relation.needs.at[j], relation, NULL);
  }
}
