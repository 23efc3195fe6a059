/* Facts of parts: a leaf for each number of a sheet and each instance of its part. */
#include "resolve/facts.h"

#include "base/near.h"

static const ValueDecl *decl_named(const ValueDecls *decls, const char *name) {
  for (size_t i = 0; decls && i < decls->n; i++)
    if (text_is(decls->at[i]->name, name)) return decls->at[i];
  return NULL;
}

const ValueDecls *role_values(const Resolver *r, const Role *role) {
  if (role == r->engine_role) return &r->job->engine->values;
  if (role->none) return &role->decl->when_none;
  return role->part ? &role->part->is.part.values : NULL;
}

const ValueDecl *role_value(const Resolver *r, const Role *role, const char *fact) {
  return decl_named(role_values(r, role), fact);
}

/* facts: {crank.throw: ...}, and rev_limit for the engine's own. */
const ValueDecl *build_fact(const Resolver *r, const Role *role, const char *fact) {
  const ValueDecl *decl =
      decl_named(&r->job->build->facts, arena_printf(r->arena, "%s.%s", role->name, fact));
  if (decl || role != r->engine_role || quantity_is_declared(r, fact)) return decl;
  return decl_named(&r->job->build->facts, fact);
}

bool fact_is_given(const Resolver *r, const Role *role, const char *fact) {
  return role_value(r, role, fact) || build_fact(r, role, fact);
}

static const Entry *giver(const Resolver *r, const Role *role) {
  return role == r->engine_role || role->none ? r->job->engine_entry : role->part;
}

/* "piston.diameter, left", "cam.lift, intake" */
static const char *label_of(Resolver *r, const Role *role, const char *fact, const Instance *owner,
                            const ValueChoice *choice) {
  Text text = text_new(r->arena);
  text_addf(&text, "%s.%s", role->name, fact);
  const char *words = instance_words(r->arena, owner);
  if (*words) text_addf(&text, ", %s", words);
  for (size_t i = 0; i < choice->member.n; i++)
    text_addf(&text, "%s%s", i || *words ? " " : ", ", choice->member.at[i]);
  return text_done(&text);
}

const Instance *fact_instance(const Resolver *r, const Instance *owner, const Words *member) {
  const Instance *at = owner;
  for (size_t i = 0; i < member->n; i++) {
    const Instance *next = instance_child(r->job, at, NULL, member->at[i]);
    if (!next) return owner;
    at = next;
  }
  return at;
}

static FactSlot *slot_for(Resolver *r, const Role *role, const char *fact, const Instance *owner,
                          const ValueChoice *choice, const Entry *entry) {
  const char *key = arena_printf(r->arena, "%s.%s/%d/%zu", role->name, fact, owner->id,
                                 (size_t)(uintptr_t)choice);
  FactSlot *slot = map_find(r->slot_by_key, key);
  if (slot) return slot;
  slot = ARENA_NEW(r->arena, FactSlot);
  *slot = (FactSlot){.role = role, .name = fact, .owner = owner, .choice = choice, .entry = entry};
  slot->label = label_of(r, role, fact, owner, choice);
  map_put(r->slot_by_key, key, slot);
  vec_push(r->arena, &r->slots, slot);
  return slot;
}

/* false: a circle, which was reported */
static bool slot_build(Resolver *r, FactSlot *slot, Place place) {
  if (slot->building == BUILD_DONE) return true;
  if (!circle_enter(r, slot, slot->label, place, &slot->lacks)) return false;
  const Expr *expr = &slot->choice->value;
  const Instance *at = fact_instance(r, slot->owner, &slot->choice->member);
  NodeId node = bind_expr(r, expr, at, slot->label, NULL, slot->label);
  if (node && expr->kind == EXPR_FORMULA) {
    slot->node = graph_value(r->graph, slot->label, expr->at, graph_dim(r->graph, node));
    graph_define(r->graph, slot->node, node);
  } else {
    slot->node = node;
  }
  slot->building = BUILD_DONE;
  circle_leave(r);
  return true;
}

/* The sheet's value for the same place, which the build overrules. */
static void overruled(Resolver *r, const FactSlot *slot, const ValueDecl *decl, const Words *said,
                      const Instance *at) {
  const ValueChoice *choice = NULL;
  const Entry *entry = giver(r, slot->role);
  if (!decl || !entry ||
      value_pick(r, decl->choices.at, decl->choices.n, said, slot->owner, at, &choice) != FOUND)
    return;
  const Expr *mine = &slot->choice->value, *theirs = &choice->value;
  if (mine->kind != EXPR_LITERAL || theirs->kind != EXPR_LITERAL) return;
  const Literal *a = &mine->literal, *b = &theirs->literal;
  if (!a->unit || !b->unit || !dim_same(a->unit->dim, b->unit->dim)) return;
  /* exactly equal as written, whatever the unit: rounding of the conversion only */
  double slack = 1e-12 + 1e-9 * (a->nominal < 0 ? -a->nominal : a->nominal);
  if (a->nominal - b->nominal <= slack && b->nominal - a->nominal <= slack) return;
  Finding *finding = finding_add(
      r->run, RULE_SHEET_OVERRULED, slot->choice->at, "the build states %s.%s as %s; %s gives %s",
      slot->role->name, slot->name, literal_print(r->arena, a),
      resolve_whose(r->arena, entry, choice->page.s), literal_print(r->arena, b));
  finding_subject(finding, arena_printf(r->arena, "%s.%s", slot->role->name, slot->name));
  finding_note(r->run, finding, choice->at, "the value that is not used");
}

Found fact_find(Resolver *r, const FactAsk *ask, FactSlot **slot) {
  const ValueChoice *choice = NULL;
  const ValueDecl *sheet = role_value(r, ask->role, ask->fact);
  const ValueDecl *built = build_fact(r, ask->role, ask->fact);
  Found found = FOUND_NONE;
  *slot = NULL;
  if (built) {
    found = value_pick(r, built->choices.at, built->choices.n, &ask->said, ask->owner, ask->at,
                       &choice);
    if (found == FOUND) {
      *slot = slot_for(r, ask->role, ask->fact, ask->owner, choice, r->job->build_entry);
      overruled(r, *slot, sheet, &ask->said, ask->at);
    }
    if (found == FOUND || found == FOUND_POISON) return found;
  }
  if (!sheet) return found;
  found =
      value_pick(r, sheet->choices.at, sheet->choices.n, &ask->said, ask->owner, ask->at, &choice);
  if (found == FOUND)
    *slot = slot_for(r, ask->role, ask->fact, ask->owner, choice, giver(r, ask->role));
  return found;
}

/* A member on the sheet that the engine does not have: which one was meant? */
static bool suggest_member(Resolver *r, Finding *finding, const Words *given) {
  Words members = {0};
  for (size_t i = 0; i < r->job->instances.n; i++) {
    const char *member = r->job->instances.at[i]->member;
    if (member && !text_has(&members, member)) vec_push(r->arena, &members, member);
  }
  for (size_t i = 0; i < given->n; i++) {
    if (text_has(&members, given->at[i])) continue;
    resolve_suggest(r->run, finding, given->at[i], &members);
    return finding->way_out != NULL;
  }
  return false;
}

static void which_member(Resolver *r, const FactAsk *ask, Place place, const ValueDecl *decl,
                         const char *sheet) {
  Words names = {0};
  for (size_t i = 0; i < decl->choices.n; i++) {
    const Words *member = &decl->choices.at[i].member;
    if (member->n && !text_has(&names, member->at[0])) vec_push(r->arena, &names, member->at[0]);
  }
  Finding *finding =
      finding_add(r->run, RULE_UNKNOWN_NAME, place, "%s gives %s for %s; not said which", sheet,
                  ask->fact, names.n ? resolve_listing(r->arena, &names) : "no members");
  finding_note(r->run, finding, decl->at, "given here");
  if (suggest_member(r, finding, &names)) return;
  if (names.n)
    finding_way_out(r->run, finding, "write %s[%s].%s", ask->role->name, names.at[0], ask->fact);
}

static Words given_names(const Resolver *r, const Role *role) {
  const ValueDecls *values = role_values(r, role);
  Words names = {0};
  for (size_t i = 0; values && i < values->n; i++) vec_push(r->arena, &names, values->at[i]->name);
  return names;
}

void fact_missing(Resolver *r, const FactAsk *ask, Place place, Found found) {
  const Role *role = ask->role;
  const ValueDecl *decl = role_value(r, role, ask->fact);
  const Entry *entry = decl ? giver(r, role) : r->job->build_entry;
  Words names = {0};
  Finding *finding;
  if (found == FOUND_NONE && role->none) {
    finding = finding_add(r->run, RULE_NO_VALUE, place,
                          "%s.%s is asked for and there is no %s in this build", role->name,
                          ask->fact, role->name);
    finding_note(r->run, finding, role->at, "chosen here to be none");
    finding_way_out(r->run, finding, "the engine may say `when_none: {%s: ...}` at that place",
                    ask->fact);
    return;
  }
  if (!decl) decl = build_fact(r, role, ask->fact);
  const char *sheet = resolve_whose(r->arena, decl ? entry : giver(r, role), NULL);
  if (found == FOUND_NONE) {
    names = given_names(r, role);
    /* a near word: a slip in the name; else the sheet lacks it */
    Rule rule = near_word(ask->fact, &names) ? RULE_UNKNOWN_NAME : RULE_NO_VALUE;
    finding = finding_add(r->run, rule, place, "%s.%s is asked for; %s does not give it",
                          role->name, ask->fact, sheet);
    finding_note(r->run, finding, role->at, "chosen here as the %s", role->name);
    if (rule == RULE_UNKNOWN_NAME) resolve_suggest(r->run, finding, ask->fact, &names);
    if (!finding->way_out)
      finding_way_out(r->run, finding,
                      "add %s to that sheet's values, or state %s.%s in the "
                      "build's facts",
                      ask->fact, role->name, ask->fact);
    return;
  }
  if (found == FOUND_ONLY_WITH) {
    finding = finding_add(r->run, RULE_NO_VALUE, place, "%s.%s: the sheet gives this only with %s",
                          role->name, ask->fact, conditions_print(r, decl, ask));
    finding_note(r->run, finding, decl->at, "given here, %s", sheet);
    finding_way_out(r->run, finding,
                    "choose the combination the sheet is for, or state %s.%s in the build's facts",
                    role->name, ask->fact);
    return;
  }
  which_member(r, ask, place, decl, sheet);
}

/* Another name or member was meant: wrong whoever needs it. */
static bool is_slip(Resolver *r, const FactAsk *ask, Found found) {
  Words names = given_names(r, ask->role);
  return found == FOUND_OTHER_MEMBER ||
         (found == FOUND_NONE && !ask->role->none && near_word(ask->fact, &names));
}

NodeId need_fact(Resolver *r, const Role *role, const char *fact, const Words *said,
                 const Instance *at, Place place, FactSlot **out) {
  size_t used = 0;
  FactAsk ask = {role, fact, {0}, NULL, at};
  FactSlot *slot = NULL;
  ask.owner = bind_owner(r, role->per, said, at, &used);
  if (!ask.owner) {
    Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, place,
                                   "there is one %s for each %s; %s.%s does not say which",
                                   role->name, role->per->name, role->name, fact);
    finding_way_out(r->run, finding, "write %s[%s].%s, or largest(%s, %s.%s)", role->name,
                    role->per->members.n ? role->per->members.at[0] : "...", fact, role->per->name,
                    role->name, fact);
    return 0;
  }
  for (size_t i = used; i < said->n; i++) vec_push(r->arena, &ask.said, said->at[i]);
  Found found = fact_find(r, &ask, &slot);
  if (found == FOUND_POISON) return 0;
  if (found != FOUND && !role->none && !role->part) return 0; /* unfilled: reported */
  if (found != FOUND) {
    if (is_slip(r, &ask, found) || !lack_put_off(r, &ask, place, found))
      fact_missing(r, &ask, place, found);
    return 0;
  }
  slot->asked = true;
  if (!slot_build(r, slot, place)) return 0;
  lacks_passed_on(r, &slot->lacks);
  if (out) *out = slot;
  return slot->node;
}

void fact_list(Resolver *r, const FactAsk *ask) {
  FactSlot *slot = NULL;
  if (fact_find(r, ask, &slot) != FOUND) return;
  slot_build(r, slot, slot->choice->at);
  lacks_passed_on(r, &slot->lacks); /* the sheet's own formula: a text may print it */
  for (size_t i = 0; i < r->job->facts.n; i++)
    if (r->job->facts.at[i].choice == slot->choice && r->job->facts.at[i].node == slot->node &&
        r->job->facts.at[i].role == slot->role && text_is(r->job->facts.at[i].name, slot->name))
      return;
  FactValue value = {slot->role, slot->name,   fact_instance(r, slot->owner, &slot->choice->member),
                     slot->node, slot->choice, slot->entry};
  vec_push(r->arena, &r->job->facts, value);
}
