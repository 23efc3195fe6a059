/* Finding what the names in steps mean. */
#include "plan/work.h"

#include "base/near.h"

#include <string.h>

Name name_split(Arena *arena, const char *text) {
  Name name = {.base = text};
  const char *open = strchr(text, '[');
  if (!open) return name;
  name.base = arena_text(arena, text, (size_t)(open - text));
  const char *at = open + 1;
  while (*at && *at != ']') {
    size_t length = strcspn(at, ",. ]");
    if (length > 0) vec_push(arena, &name.index, arena_text(arena, at, length));
    at += length;
    at += strspn(at, ",. ");
  }
  name.all = name.index.n == 1 && text_is(name.index.at[0], "all");
  return name;
}

static const char *set_key(const Set *set) {
  return set ? set->name : "";
}

static void members_build(Planner *planner) {
  for (size_t i = 0; i < planner->job->instances.n; i++) {
    const Instance *instance = planner->job->instances.at[i];
    InstanceList *list = map_find(planner->members, set_key(instance->set));
    if (!list) {
      list = ARENA_NEW(planner->arena, InstanceList);
      map_put(planner->members, set_key(instance->set), list);
    }
    vec_push(planner->arena, list, instance);
  }
}

/* Names hold no stroke, so that these share a map with the names alone. */
static const char *quantity_key(Arena *arena, const char *name, const Instance *at,
                                const char *occasion) {
  return arena_printf(arena, "%s/%d/%s", name, at->id, occasion);
}

static const char *joint_key(Arena *arena, const char *name, const Instance *at) {
  return arena_printf(arena, "%s/%d", name, at->id);
}

void names_build(Planner *planner) {
  Arena *arena = planner->arena;
  planner->targets = map_new(arena);
  planner->spots = map_new(arena);
  planner->joins = map_new(arena);
  planner->members = map_new(arena);
  planner->quantities = map_new(arena);
  planner->joints = map_new(arena);
  planner->told = map_new(arena);
  members_build(planner);
  for (size_t i = 0; i < planner->job->quantities.n; i++) {
    Quantity *quantity = planner->job->quantities.at[i];
    QuantityList *list = map_find(planner->quantities, quantity->name);
    if (!list) {
      list = ARENA_NEW(arena, QuantityList);
      map_put(planner->quantities, quantity->name, list);
      vec_push(arena, &planner->quantity_names, quantity->name);
    }
    vec_push(arena, list, quantity);
    map_put(planner->quantities,
            quantity_key(arena, quantity->name, quantity->instance, quantity->occasion), quantity);
  }
  for (size_t i = 0; i < planner->job->joints.n; i++) {
    JobJoint *joint = planner->job->joints.at[i];
    JointList *list = map_find(planner->joints, joint->name);
    if (!list) {
      list = ARENA_NEW(arena, JointList);
      map_put(planner->joints, joint->name, list);
      vec_push(arena, &planner->joint_names, joint->name);
    }
    vec_push(arena, list, joint);
    map_put(planner->joints, joint_key(arena, joint->name, joint->instance), joint);
  }
}

const InstanceList *members_of(const Planner *planner, const Set *set) {
  static const InstanceList none = {0};
  const InstanceList *list = map_find(planner->members, set_key(set));
  return list ? list : &none;
}

QuantityList *quantities_named(const Planner *planner, const char *name) {
  return map_find(planner->quantities, name);
}

static JointList *joints_named(const Planner *planner, const char *name) {
  return map_find(planner->joints, name);
}

bool is_related(const Instance *a, const Instance *b) {
  return instance_within(a, b) || instance_within(b, a);
}

/* The members in brackets stand in this order on the way down to the instance. */
static bool is_indexed(const Name *name, const Instance *instance) {
  size_t left = name->index.n;
  for (; instance && left > 0; instance = instance->parent) {
    if (text_is(instance->member, name->index.at[left - 1])) left--;
  }
  return left == 0;
}

void pick_instances(const Planner *planner, const Name *name, const Set *set, const Instance *at,
                    InstanceList *out) {
  const InstanceList *members = members_of(planner, set);
  if (name->index.n == 0) {
    for (const Instance *above = at; above; above = above->parent) {
      if (above->set != set) continue;
      vec_push(planner->arena, out, above);
      return;
    }
  }
  for (size_t i = 0; i < members->n; i++) {
    const Instance *member = members->at[i];
    if (name->all || (is_indexed(name, member) && is_related(member, at)))
      vec_push(planner->arena, out, member);
  }
  if (out->n > 0 || name->index.n == 0) return;
  for (size_t i = 0; i < members->n; i++) {
    if (is_indexed(name, members->at[i])) vec_push(planner->arena, out, members->at[i]);
  }
}

void pick_quantities(const Planner *planner, const Name *name, const Instance *at,
                     const char *occasion, QuantityList *out) {
  const QuantityList *list = quantities_named(planner, name->base);
  if (!list) return;
  InstanceList picked = {0};
  pick_instances(planner, name, list->at[0]->instance->set, at, &picked);
  for (size_t i = 0; i < picked.n; i++) {
    Quantity *quantity = map_find(planner->quantities,
                                  quantity_key(planner->arena, name->base, picked.at[i], occasion));
    if (quantity) vec_push(planner->arena, out, quantity);
  }
}

void pick_joints(const Planner *planner, const Name *name, const Instance *at, JointList *out) {
  const JointList *list = joints_named(planner, name->base);
  if (!list) return;
  InstanceList picked = {0};
  pick_instances(planner, name, list->at[0]->instance->set, at, &picked);
  for (size_t i = 0; i < picked.n; i++) {
    JobJoint *joint =
        map_find(planner->joints, joint_key(planner->arena, name->base, picked.at[i]));
    if (joint) vec_push(planner->arena, out, joint);
  }
}

bool roles_name(const Planner *planner, const PlanStep *step, const SaidList *list,
                const char *role, const Instance *at) {
  const Role *known = job_role(planner->job, role);
  for (size_t i = 0; i < list->n; i++) {
    Name name = name_split(planner->arena, list->at[i].s);
    if (!text_is(name.base, role)) continue;
    InstanceList picked = {0};
    pick_instances(planner, &name, known ? known->per : NULL, step->instance, &picked);
    for (size_t p = 0; p < picked.n; p++)
      if (is_related(picked.at[p], at)) return true;
  }
  return false;
}

bool tell_once(Planner *planner, const char *key) {
  if (map_find(planner->told, key)) return false;
  map_put(planner->told, key, planner);
  return true;
}

const char *step_mark(const Planner *planner, int step) {
  if (step < 0) return "";
  const PlanStep *it = planner->plan->steps.at[step];
  return arena_printf(planner->arena, "%s.%s", it->procedure->id, it->id);
}

bool told_likewise(Planner *planner, const char *mark, const Instance *member) {
  Finding *finding = map_find(planner->told, mark);
  if (!finding) return false;
  const char *tail = instance_tail(planner->arena, member);
  if (text_starts(tail, ", "))
    finding->text = arena_printf(planner->arena, "%s; likewise %s", finding->text, tail + 2);
  return true;
}

void told_by(Planner *planner, const char *mark, Finding *finding) {
  map_put(planner->told, mark, finding);
}

void tell_unknown(Planner *planner, const Entry *procedure, const Said *said, const char *kind,
                  const Words *candidates) {
  const char *key =
      arena_printf(planner->arena, "%s/%s/%s", procedure ? procedure->id : "", kind, said->s);
  if (!tell_once(planner, key)) return;
  Finding *finding = finding_add(planner->run, RULE_UNKNOWN_NAME, said->at, "%s has no %s '%s'",
                                 planner->job->engine_entry->id, kind, said->s);
  const char *near = near_word(name_split(planner->arena, said->s).base, candidates);
  if (near) {
    finding_way_out(planner->run, finding, "did you mean '%s'?", near);
  } else {
    finding_way_out(planner->run, finding, "declare the %s with the engine, or take it out here",
                    kind);
  }
}

const char *step_print(const Planner *planner, int step) {
  const PlanStep *it = planner->plan->steps.at[step];
  return arena_printf(planner->arena, "step %d (%s%s)", it->number, it->id,
                      instance_tail(planner->arena, it->instance));
}

const char *instance_tail(Arena *arena, const Instance *instance) {
  const char *tail = "";
  for (; instance && instance->parent; instance = instance->parent) {
    tail = arena_printf(arena, ", %s%s", instance->member, tail);
  }
  return tail;
}

bool expr_si(const Expr *expr, double *si) {
  if (expr->kind != EXPR_LITERAL || expr->literal.shape == LITERAL_NONE) return false;
  *si = expr->literal.nominal;
  return true;
}
