/* Quantities the engine's relations declare, one for each member and occasion. */
#include "resolve/context.h"

static const ValueDecl *stated_decl(const Resolver *r, const char *name) {
  for (size_t i = 0; i < r->job->build->facts.n; i++)
    if (text_is(r->job->build->facts.at[i]->name, name)) return r->job->build->facts.at[i];
  return NULL;
}

bool quantity_is_declared(const Resolver *r, const char *name) {
  for (size_t i = 0; i < r->job->quantities.n; i++)
    if (text_is(r->job->quantities.at[i]->name, name)) return true;
  return false;
}

static const char *work_key(Resolver *r, const char *name, const Instance *at,
                            const char *occasion) {
  return arena_printf(r->arena, "%s/%d/%s", name, at->id, occasion);
}

static Quantity *declare_one(Resolver *r, const Entry *relation, const QuantityDecl *decl,
                             const Instance *at, const char *occasion) {
  Quantity *quantity = ARENA_NEW(r->arena, Quantity);
  QuantityWork *work = ARENA_NEW(r->arena, QuantityWork);
  Text key = text_new(r->arena);
  text_add(&key, decl->name);
  if (at->parent) text_addf(&key, ", %s", instance_words(r->arena, at));
  if (!text_is(occasion, "final")) text_addf(&key, ", %s", occasion);
  quantity->decl = decl;
  quantity->relation = relation;
  quantity->instance = at;
  quantity->name = decl->name;
  quantity->label = decl->label.s ? decl->label.s : text_title(r->arena, decl->name);
  quantity->key = text_done(&key);
  quantity->occasion = occasion;
  if (decl->unit) quantity->value = graph_value(r->graph, quantity->key, decl->at, decl->unit->dim);
  work->quantity = quantity;
  vec_push(r->arena, &r->job->quantities, quantity);
  vec_push(r->arena, &r->works, work);
  map_put(r->work_by_key, work_key(r, decl->name, at, occasion), work);
  return quantity;
}

Quantity *quantity_declare(Resolver *r, const QuantityDecl *decl, const Instance *at) {
  return declare_one(r, NULL, decl, at, "final");
}

/* ---- occasions other than final: those a limit or a box names ---- */

static void occasion_add(Resolver *r, const Said *said, Words *out) {
  if (said->s && !text_is(said->s, "final") && !text_has(out, said->s))
    vec_push(r->arena, out, said->s);
}

static void occasions_of_limits(Resolver *r, const LimitDecls *limits, const char *name,
                                Words *out) {
  for (size_t i = 0; i < limits->n; i++) {
    const LimitDecl *decl = limits->at[i];
    if (!text_is(decl->name, name)) continue;
    for (size_t j = 0; j < decl->choices.n; j++)
      occasion_add(r, &decl->choices.at[j].occasion, out);
  }
}

static void occasions_of_boxes(Resolver *r, const ProcedureEntry *procedure, const char *name,
                               Words *out) {
  for (size_t i = 0; i < procedure->blocks.n; i++) {
    const BlockDecl *block = procedure->blocks.at[i];
    for (size_t j = 0; j < block->steps.n; j++) {
      const StepDecl *step = block->steps.at[j];
      for (size_t k = 0; k < step->boxes.n; k++)
        if (text_is(step->boxes.at[k].quantity.s, name))
          occasion_add(r, &step->boxes.at[k].occasion, out);
    }
  }
}

static void occasions_of(Resolver *r, const char *name, Words *out) {
  const BuildEntry *build = r->job->build;
  occasions_of_limits(r, &build->limits, name, out);
  for (size_t i = 0; i < r->job->roles.n; i++)
    if (r->job->roles.at[i]->part)
      occasions_of_limits(r, &r->job->roles.at[i]->part->is.part.limits, name, out);
  occasions_of_limits(r, &r->job->engine->limits, name, out);
  for (size_t i = 0; i < r->job->engine->practice.n; i++)
    if (r->job->engine->practice.at[i].entry)
      occasions_of_limits(r, &r->job->engine->practice.at[i].entry->is.practice.limits, name, out);
  for (size_t i = 0; i < build->procedures.n; i++)
    if (build->procedures.at[i].entry)
      occasions_of_boxes(r, &build->procedures.at[i].entry->is.procedure, name, out);
}

/* ---- declaring ---- */

static bool declared_before(Resolver *r, const Entry *relation, const QuantityDecl *decl) {
  for (size_t i = 0; i < r->job->quantities.n; i++) {
    const Quantity *other = r->job->quantities.at[i];
    if (!text_is(other->name, decl->name)) continue;
    if (other->relation == relation && other->decl == decl) return true;
    Finding *finding = finding_add(
        r->run, RULE_REPEATED_KEY, decl->at, "%s is a quantity of %s and of %s", decl->name,
        resolve_whose(r->arena, other->relation, NULL), resolve_whose(r->arena, relation, NULL));
    finding_note(r->run, finding, other->decl->at, "first declared here");
    finding_way_out(r->run, finding, "name one of the two relations of the engine, or rename it");
    return true;
  }
  return false;
}

static void declare(Resolver *r, const Entry *relation, const QuantityDecl *decl) {
  const Set *per = NULL;
  if (declared_before(r, relation, decl)) return;
  if (decl->per.s && !job_set_of(r->job, decl->per.s, &per)) {
    Words names = job_set_names(r->arena, r->job);
    Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, decl->per.at,
                                   "%s is per %s; the engine has no such set and no such role",
                                   decl->name, decl->per.s);
    resolve_suggest(r->run, finding, decl->per.s, &names);
  }
  Instances instances = {0};
  Words occasions = {0};
  instances_of(r, per, &instances);
  occasions_of(r, decl->name, &occasions);
  if (r->full) return;
  r->full = r->job->quantities.n + instances.n * (occasions.n + 1) > RESOLVE_QUANTITIES_MOST;
  if (r->full) {
    finding_add(r->run, RULE_TOO_BIG, decl->at,
                "the quantities of the build come to more than %d, members and occasions counted",
                RESOLVE_QUANTITIES_MOST);
    return;
  }
  for (size_t i = 0; i < instances.n; i++) {
    declare_one(r, relation, decl, instances.at[i], "final");
    for (size_t j = 0; j < occasions.n; j++)
      declare_one(r, relation, decl, instances.at[i], occasions.at[j]);
  }
}

/* ---- building ---- */

/* The build's statement outranks the formula. */
static bool state_it(Resolver *r, Quantity *quantity) {
  const ValueDecl *decl = stated_decl(r, quantity->name);
  const ValueChoice *choice = NULL;
  if (!decl) return false;
  Found found = value_pick(r, decl->choices.at, decl->choices.n, &(Words){0}, quantity->instance,
                           quantity->instance, &choice);
  if (found == FOUND_POISON) graph_define(r->graph, quantity->value, 0);
  if (found != FOUND) return found == FOUND_POISON;
  const Dim *dim = &quantity->decl->unit->dim;
  NodeId node =
      bind_expr(r, &choice->value, quantity->instance, quantity->key, dim, quantity->label);
  graph_define(r->graph, quantity->value, node);
  quantity->stated =
      (Voice){r->job->build_entry, NULL, RANK_BUILD, choice->at,
              choice->value.kind == EXPR_LITERAL && choice->value.literal.unit
                  ? literal_print(r->arena, &choice->value.literal)
              : choice->value.formula ? formula_print(r->arena, choice->value.formula)
                                      : ""};
  return true;
}

/* None of its conditions holds: it waits for a reading, like one without a formula. */
static void work_it_out(Resolver *r, Quantity *quantity) {
  const QuantityDecl *decl = quantity->decl;
  const ValueChoice *choice = NULL;
  Found found = value_pick(r, decl->formula.at, decl->formula.n, &(Words){0}, quantity->instance,
                           quantity->instance, &choice);
  if (found == FOUND_POISON) graph_define(r->graph, quantity->value, 0);
  if (found != FOUND) return;
  NodeId node =
      bind_expr(r, &choice->value, quantity->instance, quantity->key, &decl->unit->dim, decl->name);
  quantity->formula = choice->value.formula;
  graph_define(r->graph, quantity->value, node);
}

/* A formula speaks of the engine as built; on other occasions but the mock-up the value is
 * what is found by measuring. */
static bool is_predicted(const Quantity *quantity) {
  const char *occasion = quantity->occasion;
  return text_is(occasion, "final") || text_is(occasion, "mock-up") || text_is(occasion, "mock_up");
}

static bool build(Resolver *r, QuantityWork *work, Place place) {
  Quantity *quantity = work->quantity;
  if (work->building == BUILD_DONE) return true;
  if (!circle_enter(r, work, quantity->key, place, &work->lacks)) return false;
  if (quantity->value && is_predicted(quantity) && !state_it(r, quantity)) work_it_out(r, quantity);
  work->building = BUILD_DONE;
  circle_leave(r);
  return true;
}

Quantity *quantity_from(Resolver *r, const char *name, const Instance *at, Place place,
                        bool *circle) {
  for (; at; at = at->parent) {
    QuantityWork *work = map_find(r->work_by_key, work_key(r, name, at, "final"));
    if (!work) continue;
    *circle = !build(r, work, place);
    if (*circle) return NULL;
    lacks_passed_on(r, &work->lacks);
    return work->quantity;
  }
  return NULL;
}

/* left, right: members that a statement names and the engine does not have. */
static void check_members(Resolver *r, const ValueDecl *decl) {
  Words members = {0};
  for (size_t i = 0; i < r->job->instances.n; i++) {
    const char *member = r->job->instances.at[i]->member;
    if (member && !text_has(&members, member)) vec_push(r->arena, &members, member);
  }
  for (size_t i = 0; i < decl->choices.n; i++)
    for (size_t j = 0; j < decl->choices.at[i].member.n; j++) {
      const char *member = decl->choices.at[i].member.at[j];
      if (text_has(&members, member)) continue;
      Finding *finding =
          finding_add(r->run, RULE_UNKNOWN_NAME, decl->choices.at[i].at,
                      "%s is given for %s; the engine has no such member", decl->name, member);
      resolve_suggest(r->run, finding, member, &members);
    }
}

/* before and after: both are there. */
static void check_afterwards(Resolver *r, const QuantityDecl *decl) {
  if (!decl->afterwards.s || quantity_is_declared(r, decl->afterwards.s)) return;
  Words names = {0};
  for (size_t i = 0; i < r->job->quantities.n; i++)
    if (!text_has(&names, r->job->quantities.at[i]->name))
      vec_push(r->arena, &names, r->job->quantities.at[i]->name);
  Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, decl->afterwards.at,
                                 "%s is to be %s afterwards; the engine has no such quantity",
                                 decl->name, decl->afterwards.s);
  resolve_suggest(r->run, finding, decl->afterwards.s, &names);
}

void resolve_quantities(Resolver *r) {
  const RefList *relations = &r->job->engine->relations;
  for (size_t i = 0; i < relations->n; i++) {
    const Entry *relation = relations->at[i].entry;
    if (!relation || relation->kind != ENTRY_RELATION) continue;
    for (size_t j = 0; j < relation->is.relation.quantities.n; j++)
      declare(r, relation, relation->is.relation.quantities.at[j]);
  }
  for (size_t i = 0; i < r->job->quantities.n; i++)
    check_afterwards(r, r->job->quantities.at[i]->decl);
  for (size_t i = 0; i < r->works.n; i++)
    build(r, r->works.at[i], r->works.at[i]->quantity->decl->at);
  for (size_t i = 0; i < r->job->build->facts.n; i++)
    if (quantity_is_declared(r, r->job->build->facts.at[i]->name))
      check_members(r, r->job->build->facts.at[i]);
}
