/* Conditions over the combination: roles, choices and exact facts. */
#include "resolve/context.h"

static Truth truth_of(bool yes) {
  return yes ? TRUTH_YES : TRUTH_NO;
}

static Truth is_truth(const Resolver *r, const Formula *is) {
  const Role *role = job_role(r->job, is->name);
  if (role) {
    condition_words(r, is, NULL);
    if (!role->none && !role->part) return TRUTH_POISON;
    bool same = text_has(&is->words, role->none ? "none" : role->part->id);
    return truth_of(same != is->negated);
  }
  const ChoiceDecl *choice = choice_find(r, is->name);
  if (!choice) return TRUTH_OPEN; /* the binder reports the name */
  condition_words(r, is, choice);
  const char *word = choice_word(r, is->name);
  if (!word) return TRUTH_POISON;
  return truth_of(text_has(&is->words, word) != is->negated);
}

static Truth both(Truth a, Truth b) {
  if (a == TRUTH_NO || b == TRUTH_NO) return TRUTH_NO;
  if (a == TRUTH_POISON || b == TRUTH_POISON) return TRUTH_POISON;
  return a == TRUTH_OPEN || b == TRUTH_OPEN ? TRUTH_OPEN : TRUTH_YES;
}

static Truth opposite(Truth truth) {
  if (truth == TRUTH_YES) return TRUTH_NO;
  return truth == TRUTH_NO ? TRUTH_YES : truth;
}

/* Formulas are at most 64 deep. */
Truth when_decided(const Resolver *r, const Formula *formula) {
  switch (formula->kind) {
  case FORMULA_IS:
    return is_truth(r, formula);
  case FORMULA_NOT:
    return opposite(when_decided(r, formula->arg[0]));
  case FORMULA_AND:
    return both(when_decided(r, formula->arg[0]), when_decided(r, formula->arg[1]));
  case FORMULA_OR:
    return opposite(both(opposite(when_decided(r, formula->arg[0])),
                         opposite(when_decided(r, formula->arg[1]))));
  default:
    return TRUTH_OPEN;
  }
}

static const Formula *with_args(Resolver *r, const Formula *formula) {
  Formula *copy = NULL;
  for (size_t i = 0; i < formula->args; i++) {
    const Formula *live = formula_live(r, formula->arg[i]);
    if (live == formula->arg[i]) continue;
    if (!copy) copy = arena_copy(r->arena, formula, sizeof *formula);
    copy->arg[i] = arena_copy(r->arena, live, sizeof *live);
  }
  return copy ? copy : formula;
}

/* A thickness that exists only while there is a gasket must not be asked for in the
 * branch of a formula that speaks of having none. */
const Formula *formula_live(Resolver *r, const Formula *formula) {
  if (formula->kind == FORMULA_IF && formula->args == 3) {
    Truth truth = when_decided(r, formula->arg[0]);
    if (truth == TRUTH_YES) return formula_live(r, formula->arg[1]);
    if (truth == TRUTH_NO) return formula_live(r, formula->arg[2]);
  }
  if (formula->kind == FORMULA_AND || formula->kind == FORMULA_OR) {
    bool any = formula->kind == FORMULA_OR;
    for (size_t i = 0; i < 2; i++) {
      Truth truth = when_decided(r, formula->arg[i]);
      if (truth == truth_of(any)) return formula->arg[i];
      if (truth == truth_of(!any)) return formula_live(r, formula->arg[1 - i]);
    }
  }
  return with_args(r, formula);
}

Truth when_truth(Resolver *r, const Formula *when, const Instance *at) {
  if (!when) return TRUTH_YES;
  Truth decided = when_decided(r, when);
  if (decided != TRUTH_OPEN) return decided;
  NodeId node = bind_condition(r, when, at);
  if (!node) return TRUTH_POISON;
  if (!graph_dim(r->graph, node).truth) {
    Finding *finding =
        finding_add(r->run, RULE_WRONG_DIMENSION, when->at, "`%s` is a value, not a condition",
                    formula_print(r->arena, when));
    finding_way_out(r->run, finding, "compare it with something, or use `is`");
    return TRUTH_POISON;
  }
  Evaluation now = graph_evaluate(r->graph, node, NULL);
  if (now.state != VALUE_KNOWN) return TRUTH_POISON;
  return truth_of(now.si > 0.5);
}

/* A step whose condition cannot be told stays: what is left out would raise a dozen
 * findings about things never fitted. */
bool job_when(const Job *job, Run *run, const Formula *when, const Instance *at) {
  Resolver *r = job->when_context;
  Run *before = r->run;
  r->run = run;
  Truth truth = when_truth(r, when, at ? at : job->instances.at[0]);
  r->run = before;
  return truth != TRUTH_NO;
}
