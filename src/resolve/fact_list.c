/* All facts of the parts chosen, those the build states, and those of candidates. */
#include "resolve/facts.h"

#include <string.h>

const char *conditions_print(Resolver *r, const ValueDecl *decl, const FactAsk *ask) {
  Text text = text_new(r->arena);
  for (size_t i = 0; i < decl->choices.n; i++) {
    const ValueChoice *choice = &decl->choices.at[i];
    if (!choice->when || !members_match(&choice->member, &ask->said, ask->owner, ask->at)) continue;
    const char *when = formula_print(r->arena, choice->when);
    text_addf(&text, "%s%s", text.n ? ", or " : "", when);
  }
  return text_done(&text);
}

static void list_members(Resolver *r, const Role *role, const char *fact, const ValueDecl *decl,
                         const Instance *owner) {
  for (size_t i = 0; decl && i < decl->choices.n; i++) {
    const Words *member = &decl->choices.at[i].member;
    const Instance *at = fact_instance(r, owner, member);
    FactAsk ask = {role, fact, *member, owner, at};
    fact_list(r, &ask);
  }
}

static void list_fact(Resolver *r, const Role *role, const char *fact) {
  Instances owners = {0};
  instances_of(r, role->per, &owners);
  for (size_t i = 0; i < owners.n; i++) {
    list_members(r, role, fact, build_fact(r, role, fact), owners.at[i]);
    list_members(r, role, fact, role_value(r, role, fact), owners.at[i]);
  }
}

static void list_role(Resolver *r, const Role *role) {
  const ValueDecls *values = role_values(r, role);
  for (size_t i = 0; values && i < values->n; i++) list_fact(r, role, values->at[i]->name);
  size_t length = strlen(role->name);
  for (size_t i = 0; i < r->job->build->facts.n; i++) {
    const char *name = r->job->build->facts.at[i]->name;
    if (!text_starts(name, role->name) || name[length] != '.') continue;
    if (!role_value(r, role, name + length + 1)) list_fact(r, role, name + length + 1);
  }
}

static bool is_asked(const Resolver *r, const ValueDecl *decl) {
  for (size_t i = 0; i < r->slots.n; i++) {
    const FactSlot *slot = r->slots.at[i];
    if (!slot->asked) continue;
    for (size_t j = 0; j < decl->choices.n; j++)
      if (slot->choice == &decl->choices.at[j]) return true;
  }
  return false;
}

/* A fact that nothing has and nothing asks for is a slip of the pen. */
static void check_stated(Resolver *r, const ValueDecl *decl) {
  const char *dot = strchr(decl->name, '.');
  Words names = {0};
  Finding *finding;
  if (!dot) {
    if (quantity_is_declared(r, decl->name) || role_value(r, r->engine_role, decl->name)) return;
    finding =
        finding_add(r->run, RULE_UNKNOWN_NAME, decl->at,
                    "the build states %s; the engine has no such quantity or value", decl->name);
    for (size_t i = 0; i < r->job->quantities.n; i++)
      if (!text_has(&names, r->job->quantities.at[i]->name))
        vec_push(r->arena, &names, r->job->quantities.at[i]->name);
    for (size_t i = 0; i < r->job->engine->values.n; i++)
      vec_push(r->arena, &names, r->job->engine->values.at[i]->name);
    resolve_suggest(r->run, finding, decl->name, &names);
    return;
  }
  const char *place = arena_text(r->arena, decl->name, (size_t)(dot - decl->name));
  const Role *role = role_called(r, place);
  if (!role) {
    finding =
        finding_add(r->run, RULE_UNKNOWN_NAME, decl->at,
                    "the build states %s; the engine has no place called %s", decl->name, place);
    for (size_t i = 0; i < r->job->roles.n; i++)
      vec_push(r->arena, &names, r->job->roles.at[i]->name);
    resolve_suggest(r->run, finding, place, &names);
    return;
  }
  if (role_value(r, role, dot + 1) || is_asked(r, decl) || (!role->part && !role->none)) return;
  finding =
      finding_add(r->run, RULE_UNKNOWN_NAME, decl->at,
                  "the build states %s; no sheet gives it and nothing asks for it", decl->name);
  const ValueDecls *values = role_values(r, role);
  for (size_t i = 0; values && i < values->n; i++)
    vec_push(r->arena, &names, arena_printf(r->arena, "%s.%s", place, values->at[i]->name));
  resolve_suggest(r->run, finding, decl->name, &names);
}

void resolve_facts(Resolver *r) {
  for (size_t i = 0; i < r->job->roles.n; i++) list_role(r, r->job->roles.at[i]);
  list_role(r, r->engine_role);
  for (size_t i = 0; i < r->job->build->facts.n; i++) check_stated(r, r->job->build->facts.at[i]);
}

/* What the candidate gives where the part fitted gives this fact. */
static bool candidate_value(Resolver *r, const FactValue *fact, const Entry *part, double *si) {
  const ValueDecl *decl = NULL;
  for (size_t i = 0; i < part->is.part.values.n && !decl; i++)
    if (text_is(part->is.part.values.at[i]->name, fact->name)) decl = part->is.part.values.at[i];
  if (!decl) return false;
  const ValueChoice *choice = NULL;
  const Words *said = fact->choice ? &fact->choice->member : &(Words){0};
  Found found = value_pick(r, decl->choices.at, decl->choices.n, said, fact->instance,
                           fact->instance, &choice);
  if (found == FOUND_OTHER_MEMBER)
    found = value_pick(r, decl->choices.at, decl->choices.n, &(Words){0}, fact->instance,
                       fact->instance, &choice);
  if (found != FOUND) return false;
  Dim dim = graph_dim(r->graph, fact->node);
  NodeId node = bind_expr(r, &choice->value, fact->instance, fact->name, &dim, fact->name);
  Evaluation now = graph_evaluate(r->graph, node, NULL);
  *si = now.si;
  return node && now.state == VALUE_KNOWN;
}

static bool was_asked(const Resolver *r, const FactValue *fact) {
  for (size_t i = 0; i < r->slots.n; i++)
    if (r->slots.at[i]->choice == fact->choice && r->slots.at[i]->node == fact->node)
      return r->slots.at[i]->asked;
  return false;
}

bool job_candidate(const Job *job, Run *run, const Role *role, const Entry *part, Overrides *out) {
  Resolver *r = job->when_context;
  Run *before = r->run;
  bool good = true, any = false;
  r->run = run;
  for (size_t i = 0; i < job->facts.n; i++) {
    const FactValue *fact = &job->facts.at[i];
    if (fact->role != role || !fact->node || fact->entry == job->build_entry) continue;
    double si = 0;
    if (candidate_value(r, fact, part, &si)) {
      Override override = {fact->node, si};
      vec_push(run->arena, out, override);
      any = true;
    } else if (was_asked(r, fact)) {
      Finding *finding =
          finding_add(run, RULE_NO_VALUE, part->at, "%s is offered as a %s and does not give %s",
                      part->name.s ? part->name.s : part->id, role->name, fact->name);
      finding_note(run, finding, fact->choice->at, "the part chosen gives it here");
      finding_way_out(run, finding, "add %s to its values", fact->name);
      good = false;
    }
  }
  r->run = before;
  return good && any;
}
