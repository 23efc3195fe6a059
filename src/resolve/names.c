/* What the names in a formula stand for. */
#include "resolve/context.h"

#include "base/near.h"

/* Where a formula stands, and whether only exact facts may be named. */
typedef struct Scope {
  Resolver *r;
  const Instance *at;
  bool exact;
  NodeIds *named; /* facts met on the way */
} Scope;

static Words fact_places(Resolver *r) {
  Words names = job_set_names(r->arena, r->job);
  for (size_t i = 0; i < r->job->roles.n; i++)
    vec_push(r->arena, &names, r->job->roles.at[i]->name);
  vec_push(r->arena, &names, "engine");
  return names;
}

const Role *role_called(const Resolver *r, const char *name) {
  if (text_is(name, "engine")) return r->engine_role;
  return job_role(r->job, name);
}

/* "left top" of [left, top]; the last word is a member of the set, those before it of
 * the sets above, the rest follows from where the formula stands. */
static const Instance *member_named(const Resolver *r, const Set *set, const Words *index,
                                    const Instance *at) {
  const Set *chain[64];
  size_t n = 0;
  for (const Set *s = set; s && n < 64; s = s->within) chain[n++] = s;
  if (index->n > n) return NULL;
  const Instance *found = r->job->instances.at[0];
  for (size_t i = n; i-- > 0;) {
    const Instance *next = NULL;
    if (i < index->n) {
      next = instance_child(r->job, found, chain[i], index->at[index->n - 1 - i]);
    } else {
      next = instance_in(at, chain[i]);
      if (next && next->parent != found) next = NULL;
    }
    if (!next) return NULL;
    found = next;
  }
  return found;
}

static NodeId no_member(Scope *scope, const Formula *name, const Set *set) {
  Resolver *r = scope->r;
  for (size_t i = 0; i < name->index.n; i++) {
    bool known = false;
    for (const Set *s = set; s && !known; s = s->within)
      known = text_has(&s->members, name->index.at[i]);
    if (known) continue;
    Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, name->at, "%s has no member %s",
                                   set->name, name->index.at[i]);
    resolve_suggest(r->run, finding, name->index.at[i], &set->members);
    return 0;
  }
  Finding *finding =
      finding_add(r->run, RULE_UNKNOWN_NAME, name->at, "`%s` does not say which %s is meant",
                  formula_print(r->arena, name), set->name);
  if (set->within && name->index.n)
    finding_way_out(r->run, finding, "name the %s as well: %s[%s, %s].%s", set->within->name,
                    set->name, set->within->members.n ? set->within->members.at[0] : "...",
                    name->index.at[0], name->field ? name->field : name->name);
  else
    finding_way_out(r->run, finding,
                    "name the member in brackets, such as %s[%s], or gather with "
                    "largest, smallest, mean or sum",
                    set->name, set->members.n ? set->members.at[0] : "...");
  return 0;
}

/* A set below the place whose members have that quantity: it has to be said which. */
static const Set *finer_set(const Resolver *r, const char *name) {
  for (size_t i = 0; i < r->job->quantities.n; i++)
    if (text_is(r->job->quantities.at[i]->name, name))
      return r->job->quantities.at[i]->instance->set;
  return NULL;
}

/* The same formula of the member before asked for it: thousands may, and it is told once. */
static bool is_told(const Run *run, Place at) {
  size_t n = run->findings->list.n;
  const Finding *last = n ? run->findings->list.at[n - 1] : NULL;
  return last && last->rule == RULE_UNKNOWN_NAME && last->at.source == at.source &&
         last->at.line == at.line && last->at.column == at.column;
}

static NodeId unknown_quantity(Scope *scope, const Formula *name, const char *quantity) {
  Resolver *r = scope->r;
  if (is_told(r->run, name->at)) return 0;
  const Set *finer = quantity_is_declared(r, quantity) ? finer_set(r, quantity) : NULL;
  if (finer) {
    Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, name->at,
                                   "there is one %s for each %s; `%s` does not say which", quantity,
                                   finer->name, formula_print(r->arena, name));
    finding_way_out(r->run, finding, "say %s[%s].%s, or largest(%s, %s)", finer->name,
                    finer->members.n ? finer->members.at[0] : "...", quantity, finer->name,
                    quantity);
    return 0;
  }
  Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, name->at,
                                 "no relation of the engine has a quantity %s", quantity);
  if (fact_is_given(r, r->engine_role, quantity)) {
    finding_way_out(r->run, finding, "the engine's own value is written engine.%s", quantity);
    return 0;
  }
  Words names = job_quantity_names(r->arena, r->job);
  if (unit_find(quantity)) {
    finding_way_out(
        r->run, finding,
        "if the unit is meant: it stands right behind its number, as in 0.5 %s; a ratio "
        "of two lengths has none",
        quantity);
    return 0;
  }
  resolve_suggest(r->run, finding, quantity, &names);
  return 0;
}

static NodeId not_exact(Scope *scope, const Formula *name, const char *why) {
  Finding *finding =
      finding_add(scope->r->run, RULE_NOT_EXACT, name->at, "a condition may not ask for %s: %s",
                  formula_print(scope->r->arena, name), why);
  finding_way_out(scope->r->run, finding,
                  "ask for a part, a choice or an exact fact, or let a decide step choose");
  return 0;
}

static NodeId bind_quantity(Scope *scope, const Formula *name, const char *quantity,
                            const Instance *at) {
  bool circle = false;
  Quantity *found = quantity_from(scope->r, quantity, at, name->at, &circle);
  if (circle) return 0;
  if (!found) return unknown_quantity(scope, name, quantity);
  if (!scope->exact) return found->value;
  if (!found->stated.entry) return not_exact(scope, name, "a reading may change it");
  Range range = graph_range(scope->r->graph, scope->r->arena, found->value, NULL);
  if (range.state == VALUE_KNOWN && range.low < range.high)
    return not_exact(scope, name, "it has a tolerance");
  return found->value;
}

static NodeId bind_fact(Scope *scope, const Formula *name, const Role *role) {
  FactSlot *slot = NULL;
  NodeId node = need_fact(scope->r, role, name->field, &name->index, scope->at, name->at, &slot);
  if (node) vec_push(scope->r->arena, scope->named, node);
  if (!node || !scope->exact) return node;
  Range range = graph_range(scope->r->graph, scope->r->arena, node, NULL);
  if (range.state == VALUE_POISON) return 0;
  if (range.state == VALUE_UNKNOWN) return not_exact(scope, name, "it waits for a reading");
  if (range.low < range.high) return not_exact(scope, name, "it has a tolerance");
  return node;
}

static NodeId bind_name(void *context, const Formula *name) {
  Scope *scope = context;
  Resolver *r = scope->r;
  if (!name->field) {
    const Instance *at = scope->at;
    const Set *set = name->index.n ? finer_set(r, name->name) : NULL;
    if (set) at = member_named(r, set, &name->index, scope->at);
    if (set && !at) return no_member(scope, name, set);
    return bind_quantity(scope, name, name->name, at);
  }
  const Role *role = role_called(r, name->name);
  const Set *set = job_set(r->job, name->name);
  if (role && (!set || fact_is_given(r, role, name->field))) return bind_fact(scope, name, role);
  if (set) {
    const Instance *at = member_named(r, set, &name->index, scope->at);
    if (!at) return no_member(scope, name, set);
    return bind_quantity(scope, name, name->field, at);
  }
  Words names = fact_places(r);
  Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, name->at,
                                 "the engine has no place and no set called %s", name->name);
  resolve_suggest(r->run, finding, name->name, &names);
  return 0;
}

static NodeId bind_is(void *context, const Formula *is) {
  Scope *scope = context;
  Resolver *r = scope->r;
  const ChoiceDecl *choice = choice_find(r, is->name);
  const Role *role = job_role(r->job, is->name);
  if (!choice && !role) {
    Words names = job_role_names(r->arena, r->job);
    for (size_t i = 0; i < r->job->engine->choices.n; i++)
      vec_push(r->arena, &names, r->job->engine->choices.at[i].name);
    Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, is->at,
                                   "the engine has no place and no choice called %s", is->name);
    resolve_suggest(r->run, finding, is->name, &names);
    return 0;
  }
  Truth truth = when_decided(r, is);
  if (truth != TRUTH_YES && truth != TRUTH_NO) return 0;
  return graph_truth(r->graph, truth == TRUTH_YES);
}

static bool bind_over(void *context, const Formula *over, NodeIds *members) {
  Scope *scope = context;
  Resolver *r = scope->r;
  const char *word = over->words.n ? over->words.at[0] : "";
  const Set *set = job_set(r->job, word);
  if (!set) {
    Words names = job_set_names(r->arena, r->job);
    Finding *finding =
        finding_add(r->run, RULE_UNKNOWN_NAME, over->at, "the engine has no set %s", word);
    resolve_suggest(r->run, finding, word, &names);
    return false;
  }
  /* of this cylinder where the formula stands in one, else of all */
  const Instance *near = NULL;
  for (const Set *up = set->within; up && !near; up = up->within) near = instance_in(scope->at, up);
  bool good = true;
  for (size_t i = 0; i < r->job->instances.n; i++) {
    const Instance *at = r->job->instances.at[i];
    if (at->set != set || (near && !instance_within(at, near))) continue;
    if (r->gathered == RESOLVE_GATHERED_MOST)
      finding_add(r->run, RULE_TOO_BIG, over->at, "formulas gather more than %d members in all",
                  RESOLVE_GATHERED_MOST);
    if (r->gathered++ >= RESOLVE_GATHERED_MOST) return false;
    Scope inner = {r, at, scope->exact, scope->named};
    Binder binder = {&inner, bind_name, bind_is, bind_over};
    NodeId node = graph_compile(r->graph, r->run, over->arg[0], &binder);
    if (!node) good = false;
    vec_push(r->arena, members, node);
  }
  return good;
}

/* The formula that stands at that place; formulas are at most 64 deep. */
static const Formula *standing_at(const Formula *formula, Place at) {
  if (formula->at.source == at.source && formula->at.line == at.line &&
      formula->at.column == at.column && formula->kind != FORMULA_OVER)
    return formula;
  for (size_t i = 0; i < formula->args; i++) {
    const Formula *found = standing_at(formula->arg[i], at);
    if (found) return found;
  }
  return NULL;
}

/* Is "head.chamber_volume, left" what the formula calls head.chamber_volume? */
static bool is_called(Resolver *r, const Formula *name, NodeId node) {
  if (name->kind != FORMULA_NAME || !name->field) return false;
  return text_starts(graph_name(r->graph, node),
                     arena_printf(r->arena, "%s.%s", name->name, name->field));
}

static bool stands_in(Resolver *r, const Formula *formula, NodeId node) {
  if (is_called(r, formula, node)) return true;
  for (size_t i = 0; i < formula->args; i++)
    if (is_called(r, formula->arg[i], node)) return true;
  return false;
}

Finding *forgotten_unit(Resolver *r, Finding *finding, NodeId node, const char *asks) {
  Place used = finding->at;
  Findings *findings = r->run->findings;
  for (size_t i = 0; i + 1 < findings->list.n; i++) { /* once for each number */
    const Finding *other = findings->list.at[i];
    Place at = graph_place(r->graph, node);
    if (other->rule != RULE_WRONG_DIMENSION || other->at.source != at.source ||
        other->at.line != at.line || other->at.column != at.column)
      continue;
    findings->list.n--; /* the last: this one */
    return NULL;
  }
  vec_push(r->arena, &r->forgotten, node);
  const char *was = finding->text;
  finding->at = graph_place(r->graph, node);
  Dim dim = graph_dim(r->graph, node);
  bool bare = dim_same(dim, DIM_NUMBER);
  finding->text = arena_printf(r->arena, "%s %s%s%s%s", graph_name(r->graph, node),
                               bare ? "has no unit" : "is ", bare ? "" : dim_name(r->arena, dim),
                               asks ? ", " : "", asks ? asks : "");
  finding_note(r->run, finding, used, "it is used here: %s", was);
  finding_way_out(r->run, finding,
                  bare ? "write its unit behind the number, as mm or cm3"
                       : "look whether the sheet's unit is another");
  return finding;
}

bool hangs_on_forgotten(const Resolver *r, NodeId node) {
  for (size_t i = 0; i < r->forgotten.n; i++)
    if (graph_depends(r->graph, node, r->forgotten.at[i])) return true;
  return false;
}

/* Values of sheets that are added, subtracted or compared with each other. */
static void gather_terms(Resolver *r, const Formula *formula, const NodeIds *named, NodeIds *out) {
  bool chain = formula->kind == FORMULA_ADD || formula->kind == FORMULA_SUBTRACT ||
               (formula->kind >= FORMULA_LESS && formula->kind <= FORMULA_NOT_EQUAL);
  for (size_t i = 0; chain && i < formula->args; i++) gather_terms(r, formula->arg[i], named, out);
  for (size_t i = 0; !chain && i < named->n; i++) {
    if (!is_called(r, formula, named->at[i])) continue;
    vec_push(r->arena, out, named->at[i]);
    return;
  }
}

/* One sheet's value measures something else than all it is added to: a slip of unit there. */
static bool point_at_odd(Resolver *r, const Formula *formula, const NodeIds *named) {
  NodeIds terms = {0};
  gather_terms(r, formula, named, &terms);
  for (size_t i = 0; terms.n > 2 && i < terms.n; i++) {
    NodeId odd = terms.at[i], other = terms.at[i == 0];
    Dim dim = graph_dim(r->graph, odd), wanted = graph_dim(r->graph, other);
    bool alone =
        !dim_same(dim, wanted) && !dim_same(dim, DIM_NUMBER) && graph_place(r->graph, odd).source;
    for (size_t j = 0; alone && j < terms.n; j++)
      alone = j == i || dim_same(graph_dim(r->graph, terms.at[j]), wanted);
    if (!alone) continue;
    Finding *finding = r->run->findings->list.at[r->run->findings->list.n - 1];
    Place used = finding->at;
    vec_push(r->arena, &r->forgotten, odd); /* told: what hangs on it is silent */
    finding->at = graph_place(r->graph, odd);
    finding->text = arena_printf(r->arena, "%s is %s here, %s is wanted", graph_name(r->graph, odd),
                                 dim_name(r->arena, dim), dim_name(r->arena, wanted));
    finding_note(r->run, finding, used, "it is used here with others");
    finding_way_out(r->run, finding, "look its unit up on the sheet");
    return true;
  }
  return false;
}

/* A unit forgotten on a sheet shows only where its number meets others. */
static void point_at_plain(Resolver *r, const Formula *formula, size_t before,
                           const NodeIds *named) {
  Findings *findings = r->run->findings;
  if (findings->list.n <= before) return;
  Finding *finding = findings->list.at[findings->list.n - 1];
  if (finding->rule != RULE_WRONG_DIMENSION) return;
  for (size_t i = 0; i < named->n; i++) {
    if (!hangs_on_forgotten(r, named->at[i])) continue;
    while (findings->list.n > before &&
           findings->list.at[findings->list.n - 1]->rule == RULE_WRONG_DIMENSION)
      findings->list.n--;
    return;
  }
  if (point_at_odd(r, formula, named)) return;
  const Formula *there = standing_at(formula, finding->at);
  for (size_t i = 0; i < named->n; i++) {
    NodeId node = named->at[i];
    if (!dim_same(graph_dim(r->graph, node), DIM_NUMBER)) continue;
    if (there && stands_in(r, there, node) && graph_place(r->graph, node).source) {
      forgotten_unit(r, finding, node, NULL);
      return;
    }
    finding_note(r->run, finding, graph_place(r->graph, node), "%s is a plain number here",
                 graph_name(r->graph, node));
  }
}

static NodeId compile(Resolver *r, const Formula *formula, const Instance *at, bool exact) {
  NodeIds named = {0};
  Scope scope = {r, at, exact, &named};
  Binder binder = {&scope, bind_name, bind_is, bind_over};
  size_t before = r->run->findings->list.n;
  NodeId node = graph_compile(r->graph, r->run, formula_live(r, formula), &binder);
  if (!node) point_at_plain(r, formula, before, &named);
  return node;
}

NodeId bind_formula(Resolver *r, const Formula *formula, const Instance *at) {
  return compile(r, formula, at, false);
}

NodeId bind_condition(Resolver *r, const Formula *formula, const Instance *at) {
  return compile(r, formula, at, true);
}

NodeId job_bind(const Job *job, Run *run, const Formula *formula, const Instance *at) {
  Resolver *r = job->when_context;
  Run *before = r->run;
  r->run = run;
  NodeId node = bind_formula(r, formula, at ? at : job->instances.at[0]);
  r->run = before;
  return node;
}
