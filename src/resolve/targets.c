/* What would reach the targets of the build: one input moved, or other parts tried.
 * A proposal only; the build stays as it is. */
#include "resolve/context.h"

#include "base/decimal.h"
#include "model/job_words.h"

#include <math.h>
#include <string.h>

/* Points at which a range is tried before its crossing is bisected. */
#define TARGET_SAMPLES  32
#define TARGET_HALVINGS 60

typedef struct Search {
  Resolver *r;
  const TargetDecl *decl;
  const Quantity *quantity;
  NodeIds inputs; /* every instance of the input */
  double want;
} Search;

static Evaluation at_value(const Search *search, double si) {
  Overrides pins = {0};
  for (size_t i = 0; i < search->inputs.n; i++) {
    Override pin = {search->inputs.at[i], si};
    vec_push(search->r->arena, &pins, pin);
  }
  return graph_evaluate(search->r->graph, search->quantity->value, &pins);
}

static bool holds(const Search *search, const Quantity *quantity, const Overrides *pins) {
  const Allowed *allowed = &quantity->allowed;
  const Graph *graph = search->r->graph;
  Evaluation now = graph_evaluate(graph, quantity->value, pins);
  if (now.state != VALUE_KNOWN) return now.state == VALUE_UNKNOWN;
  double slack = 1e-9 * fabs(now.si);
  if (allowed->has_min) {
    Evaluation min = graph_evaluate(graph, allowed->min, pins);
    if (min.state == VALUE_KNOWN && now.si < min.si - slack) return false;
  }
  if (allowed->has_max) {
    Evaluation max = graph_evaluate(graph, allowed->max, pins);
    if (max.state == VALUE_KNOWN && now.si > max.si + slack) return false;
  }
  return true;
}

/* Limits of whatever hangs on the input, at the nominal. */
static bool all_hold(const Search *search, const Overrides *pins) {
  const Job *job = search->r->job;
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    bool hangs = false;
    if (!quantity->allowed.said || text_is(quantity->decl->report.s, "only")) continue;
    for (size_t j = 0; j < pins->n && !hangs; j++)
      hangs = graph_depends(search->r->graph, quantity->value, pins->at[j].node);
    if (hangs && !holds(search, quantity, pins)) return false;
  }
  return true;
}

static void add_value(const Search *search, JobTarget *target, double si, const Unit *unit) {
  Overrides pins = {0};
  for (size_t i = 0; i < search->inputs.n; i++) {
    Override pin = {search->inputs.at[i], si};
    vec_push(search->r->arena, &pins, pin);
  }
  Evaluation now = at_value(search, si);
  TargetLine line = {quantity_print(search->r->arena, si, unit, target->places),
                     NULL,
                     now.state == VALUE_KNOWN,
                     si,
                     now.si,
                     all_hold(search, &pins),
                     false};
  vec_push(search->r->arena, &target->lines, line);
}

static void add_part(const Search *search, JobTarget *target, const Role *role, const Entry *part) {
  Overrides pins = {0};
  if (!job_candidate(search->r->job, search->r->run, role, part, &pins)) return;
  Evaluation now = graph_evaluate(search->r->graph, search->quantity->value, &pins);
  TargetLine line = {part->name.s ? part->name.s : part->id,
                     part,
                     now.state == VALUE_KNOWN,
                     NAN,
                     now.si,
                     all_hold(search, &pins),
                     false};
  vec_push(search->r->arena, &target->lines, line);
}

/* The value that meets the target, else that of the samples which comes nearest. */
static double meet(const Search *search, double from, double to, bool *reached) {
  double best = from, miss = INFINITY, low = from, before = NAN;
  *reached = false;
  for (int i = 0; i <= TARGET_SAMPLES; i++) {
    double x = from + (to - from) * i / TARGET_SAMPLES;
    Evaluation now = at_value(search, x);
    if (now.state != VALUE_KNOWN) continue;
    double off = now.si - search->want;
    if (fabs(off) < miss) {
      miss = fabs(off);
      best = x;
    }
    if (!*reached && isfinite(before) && (before < 0) != (off < 0)) {
      double high = x;
      for (int j = 0; j < TARGET_HALVINGS; j++) {
        double middle = (low + high) / 2;
        Evaluation half = at_value(search, middle);
        if (half.state != VALUE_KNOWN) break;
        if ((half.si - search->want < 0) == (before < 0))
          low = middle;
        else
          high = middle;
      }
      *reached = true;
      return (low + high) / 2;
    }
    low = x;
    before = off;
  }
  *reached = miss <= 1e-9 * fabs(search->want);
  return best;
}

static void by_value(const Search *search, JobTarget *target) {
  Resolver *r = search->r;
  const TargetDecl *decl = search->decl;
  const Instance *engine = r->job->instances.at[0];
  Dim dim = graph_dim(r->graph, search->inputs.at[0]);
  Literal from, to, step;
  if (!expr_numbers(r, &decl->from, engine, dim, "the beginning of the range", &from) ||
      !expr_numbers(r, &decl->to, engine, dim, "the end of the range", &to) ||
      !expr_numbers(r, &decl->step, engine, dim, "the step", &step))
    return;
  if (step.nominal <= 0) {
    Finding *finding = finding_add(r->run, RULE_BAD_NUMBER, decl->step.at,
                                   "a target is looked for in steps of more than 0, not of %s",
                                   decl->step.kind == EXPR_LITERAL ? decl->step.literal.text : "0");
    finding_way_out(r->run, finding, "write the step the input comes in, such as 0.05 mm");
    return;
  }
  double low = fmin(from.nominal, to.nominal), high = fmax(from.nominal, to.nominal);
  double found = decimal_round(meet(search, low, high, &target->reached), step.nominal);
  if (found < low) found += step.nominal;
  if (found > high) found -= step.nominal;
  target->input = decl->by.s;
  target->input_unit = from.unit ? from.unit : step.unit;
  if (!target->input_unit) return;
  bool alike = step.unit == target->input_unit;
  target->places = !alike ? -1 : step.places > from.places ? step.places : from.places;
  for (int i = -1; i <= 1; i++) {
    double si = found + i * step.nominal, slack = 1e-9 * step.nominal;
    if (si >= low - slack && si <= high + slack) add_value(search, target, si, target->input_unit);
  }
}

static void by_parts(const Search *search, JobTarget *target) {
  const TargetDecl *decl = search->decl;
  const Role *role = job_role(search->r->job, decl->role.s);
  if (!role) {
    Words names = job_role_names(search->r->arena, search->r->job);
    Finding *finding = finding_add(search->r->run, RULE_UNKNOWN_NAME, decl->role.at,
                                   "the engine has no place called %s", decl->role.s);
    resolve_suggest(search->r->run, finding, decl->role.s, &names);
    return;
  }
  target->input = role->label;
  for (size_t i = 0; i < decl->parts.n; i++)
    if (decl->parts.at[i].entry && decl->parts.at[i].entry->kind == ENTRY_PART)
      add_part(search, target, role, decl->parts.at[i].entry);
}

static void say(const Search *search, JobTarget *target) {
  Arena *arena = search->r->arena;
  const Unit *unit = search->quantity->decl->unit;
  int places = quantity_places(search->quantity);
  TargetLine *best = NULL;
  for (size_t i = 0; i < target->lines.n; i++) {
    TargetLine *line = &target->lines.at[i];
    if (!line->known) continue;
    if (!best || fabs(line->result - target->want) < fabs(best->result - target->want)) best = line;
  }
  const char *want = quantity_print(arena, target->want, unit, places);
  if (!best) {
    target->says =
        arena_printf(arena, "%s is wanted; it cannot be told before more is measured", want);
    return;
  }
  best->nearest = true;
  if (best->part) target->reached = fabs(best->result - target->want) <= 0.5 * pow(10, -places);
  target->says = arena_printf(arena, "%s%s gives %s, %s is wanted%s",
                              target->reached || best->part ? "" : "best reachable: ", best->input,
                              quantity_print(arena, best->result, unit, places), want,
                              best->inside ? "" : "; a limit does not hold there");
}

/* A fact of a role that is empty after a finding: nothing more to say. */
static bool is_of_unfilled(const Resolver *r, const char *name) {
  for (size_t i = 0; i < r->job->roles.n; i++) {
    const Role *role = r->job->roles.at[i];
    size_t n = strlen(role->name);
    if (!role->part && !role->none && text_starts(name, role->name) && name[n] == '.') return true;
  }
  return false;
}

/* "head_gasket.thickness" */
static bool is_fact(const FactValue *fact, const char *name) {
  size_t n = strlen(fact->role->name);
  return text_starts(name, fact->role->name) && name[n] == '.' && text_is(name + n + 1, fact->name);
}

static Words input_names(Resolver *r) {
  Words names = {0};
  for (size_t i = 0; i < r->job->facts.n; i++) {
    const FactValue *fact = &r->job->facts.at[i];
    const char *name = arena_printf(r->arena, "%s.%s", fact->role->name, fact->name);
    if (!text_has(&names, name)) vec_push(r->arena, &names, name);
  }
  for (size_t i = 0; i < r->job->quantities.n; i++) {
    const Quantity *quantity = r->job->quantities.at[i];
    if (text_is(quantity->occasion, "final") && !text_has(&names, quantity->name))
      vec_push(r->arena, &names, quantity->name);
  }
  return names;
}

/* head_gasket.thickness of every instance, or a quantity. false after reporting. */
static bool find_inputs(Resolver *r, const Said *by, NodeIds *out) {
  bool known = false;
  for (size_t i = 0; i < r->job->facts.n; i++) {
    const FactValue *fact = &r->job->facts.at[i];
    if (!is_fact(fact, by->s)) continue;
    known = true;
    if (fact->node) vec_push(r->arena, out, fact->node);
  }
  for (size_t i = 0; i < r->job->quantities.n; i++) {
    const Quantity *quantity = r->job->quantities.at[i];
    if (!text_is(quantity->occasion, "final") || !text_is(quantity->name, by->s)) continue;
    known = true;
    if (quantity->value) vec_push(r->arena, out, quantity->value);
  }
  if (known) return out->n > 0;
  if (is_of_unfilled(r, by->s)) return false;
  Finding *finding =
      finding_add(r->run, RULE_UNKNOWN_NAME, by->at, "no fact and no quantity is called %s", by->s);
  Words names = input_names(r);
  resolve_suggest(r->run, finding, by->s, &names);
  return false;
}

/* false after reporting */
static bool is_complete(Resolver *r, const TargetDecl *decl) {
  bool range =
      decl->from.kind != EXPR_NONE && decl->to.kind != EXPR_NONE && decl->step.kind != EXPR_NONE;
  if ((decl->by.s && range) || (!decl->by.s && decl->role.s && decl->parts.n)) return true;
  Finding *finding =
      finding_add(r->run, RULE_MISSING_KEY, decl->at,
                  "the target %s does not say what may be changed to reach it", decl->quantity.s);
  finding_way_out(r->run, finding,
                  "give `by` with `from`, `to` and `step`, or `role` with `parts`");
  return false;
}

static void reach(Resolver *r, const TargetDecl *decl, const Quantity *quantity) {
  Search search = {.r = r, .decl = decl, .quantity = quantity};
  JobTarget target = {.decl = decl, .quantity = quantity};
  Literal want;
  if (!expr_numbers(r, &decl->want, quantity->instance, quantity->decl->unit->dim,
                    arena_printf(r->arena, "what is wanted of %s", quantity->name), &want))
    return;
  search.want = target.want = want.nominal;
  if (decl->by.s) {
    if (!find_inputs(r, &decl->by, &search.inputs)) return;
    by_value(&search, &target);
  } else if (decl->role.s) {
    by_parts(&search, &target);
  }
  if (!target.input) return;
  say(&search, &target);
  for (size_t i = 0; i < r->job->targets.n; i++)
    if (r->job->targets.at[i].decl == decl && text_is(r->job->targets.at[i].says, target.says))
      return;
  vec_push(r->arena, &r->job->targets, target);
}

void resolve_targets(Resolver *r) {
  for (size_t i = 0; i < r->job->build->targets.n; i++) {
    const TargetDecl *decl = &r->job->build->targets.at[i];
    bool any = false;
    if (decl->quantity.s && !is_complete(r, decl)) continue;
    for (size_t j = 0; j < r->job->quantities.n && decl->quantity.s; j++) {
      const Quantity *quantity = r->job->quantities.at[j];
      if (!text_is(quantity->name, decl->quantity.s) || !text_is(quantity->occasion, "final"))
        continue;
      any = true;
      if (quantity->decl->unit) reach(r, decl, quantity);
    }
    if (any || !decl->quantity.s) continue;
    Words names = job_quantity_names(r->arena, r->job);
    Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, decl->quantity.at,
                                   "no relation of the engine has a quantity %s", decl->quantity.s);
    resolve_suggest(r->run, finding, decl->quantity.s, &names);
  }
}
