/* What the engine asks of the work: measurements, holds; and decisions after them. */
#include "plan/work.h"

static bool is_measured(const Planner *planner, const Quantity *quantity) {
  for (size_t i = 0; i < planner->plan->boxes.n; i++) {
    const Quantity *box = planner->plan->boxes.at[i]->quantity;
    if (!box_is_as_built(planner->plan->boxes.at[i]->decl)) continue;
    if (box->instance == quantity->instance && text_is(box->name, quantity->name)) return true;
  }
  return false;
}

static void demand(Planner *planner, const DemandDecl *decl, const Said *said) {
  const QuantityList *list = quantities_named(planner, said->s);
  if (!list) {
    tell_unknown(planner, NULL, said, "quantity", &planner->quantity_names);
    return;
  }
  Text missing = text_new(planner->arena);
  size_t count = 0;
  for (size_t i = 0; i < list->n; i++) {
    bool seen = false;
    for (size_t j = 0; j < i; j++) seen = seen || list->at[j]->instance == list->at[i]->instance;
    if (seen || is_measured(planner, list->at[i])) continue;
    const char *tail = instance_tail(planner->arena, list->at[i]->instance);
    if (count++ && text_starts(tail, ", "))
      text_addf(&missing, " and %s", tail + 2);
    else
      text_add(&missing, tail);
  }
  if (count == 0) return;
  Finding *finding =
      finding_add(planner->run, RULE_NOT_MEASURED, said->at,
                  "%s%s is to be measured, and no step does%s%s", list->at[0]->label,
                  text_done(&missing), decl->why.s ? ": " : "", decl->why.s ? decl->why.s : "");
  finding_subject(finding, said->s);
  finding_way_out(planner->run, finding, "add a box for %s, or name the procedure that has it",
                  said->s);
  offer_procedure(planner, finding, OFFER_MEASURES, said->s);
}

static void demands(Planner *planner) {
  const Job *job = planner->job;
  for (size_t i = 0; i < job->engine->demands.n; i++) {
    const DemandDecl *decl = &job->engine->demands.at[i];
    if (decl->when && !job->when(job, planner->run, decl->when, job->instances.at[0])) continue;
    for (size_t m = 0; m < decl->measure.n; m++) demand(planner, decl, &decl->measure.at[m]);
  }
}

/* The hold between these steps; -1: none. */
static int hold_between(const Planner *planner, const char *kind, int from, int to) {
  for (int s = from < 0 ? 0 : from; s < to; s++) {
    const StepDecl *decl = planner->plan->steps.at[s]->decl;
    if (decl->kind == STEP_HOLD && text_is(decl->hold_kind.s, kind)) return s;
  }
  return -1;
}

static void no_hold(Planner *planner, const Said *kind, const char *what) {
  Finding *finding = finding_add(planner->run, RULE_NO_HOLD, kind->at,
                                 "%s asks for the hold '%s', and no step is one", what, kind->s);
  finding_subject(finding, kind->s);
  finding_way_out(planner->run, finding, "add a step 'hold:' with 'hold_kind: %s'", kind->s);
  offer_procedure(planner, finding, OFFER_HOLD, kind->s);
}

/* From the first step that opens it to the last that closes it; false: none opens it. */
static bool is_opened(const Planner *planner, const char *opening, int *from, int *to) {
  *from = -1;
  *to = (int)planner->plan->steps.n;
  for (int i = 0; i < (int)planner->plan->steps.n; i++) {
    const StepDecl *decl = planner->plan->steps.at[i]->decl;
    if (*from < 0 && said_names(&decl->opens, opening)) *from = i;
    if (*from >= 0 && said_names(&decl->closes, opening)) *to = i + 1;
  }
  return *from >= 0;
}

/* A hold that stands where nothing can be looked at any more, or yet. */
static void hold_elsewhere(Planner *planner, const Said *kind, const char *label, int hold,
                           int close) {
  const char *when = hold < close ? "before it is opened"
                                  : arena_printf(planner->arena, "after %s has closed it",
                                                 step_print(planner, close));
  Finding *finding =
      finding_add(planner->run, RULE_NO_HOLD, planner->plan->steps.at[hold]->decl->at,
                  "%s is the hold '%s' of the %s, and comes %s", step_print(planner, hold), kind->s,
                  label, when);
  finding_subject(finding, kind->s);
  finding_note(planner->run, finding, kind->at, "asked for here");
  finding_way_out(planner->run, finding, "put it between the opening and %s",
                  step_print(planner, close));
}

static void holds_of_opening(Planner *planner, const OpeningDecl *opening) {
  int from = 0, to = 0, n = (int)planner->plan->steps.n;
  if (!is_opened(planner, opening->name, &from, &to)) return;
  const char *label = opening->label.s ? opening->label.s : opening->name;
  for (size_t i = 0; i < opening->holds.n; i++) {
    const Said *kind = &opening->holds.at[i];
    int hold = hold_between(planner, kind->s, 0, n);
    if (hold < 0)
      no_hold(planner, kind, arena_printf(planner->arena, "opening the %s", label));
    else if (hold_between(planner, kind->s, from, to) < 0)
      hold_elsewhere(planner, kind, label, hold, to - 1);
  }
}

static void holds(Planner *planner) {
  const EngineEntry *engine = planner->job->engine;
  for (size_t i = 0; i < engine->holds.n; i++)
    if (hold_between(planner, engine->holds.at[i].s, 0, (int)planner->plan->steps.n) < 0)
      no_hold(planner, &engine->holds.at[i], "this engine");
  for (size_t i = 0; i < engine->openings.n; i++)
    holds_of_opening(planner, &engine->openings.at[i]);
}

/* A table side by a quantity: measured before, itself or what it is computed from. */
static void decided(Planner *planner, int step, const Said *side, bool must) {
  const Graph *graph = planner->job->graph;
  const PlanStep *it = planner->plan->steps.at[step];
  Name name = name_split(planner->arena, side->s);
  QuantityList list = {0};
  pick_quantities(planner, &name, it->instance, "final", &list);
  if (list.n == 0) return; /* reported */
  int later = -1;
  for (int s = 0; s < (int)planner->plan->steps.n; s++) {
    const PlanStep *other = planner->plan->steps.at[s];
    for (size_t b = 0; b < other->boxes.n; b++) {
      const Quantity *box = other->boxes.at[b]->quantity;
      bool itself = text_is(box->name, name.base) && is_related(box->instance, it->instance) &&
                    box_is_as_built(other->boxes.at[b]->decl);
      bool under = s < step && box->value && list.at[0]->value &&
                   graph_depends(graph, list.at[0]->value, box->value);
      if (s < step && (itself || under)) return;
      if (itself && later < 0) later = s;
    }
  }
  if (later < 0 && !must) return;
  const char *mark = arena_printf(planner->arena, "decided/%s/%s/%d", it->id, name.base, later < 0);
  if (told_likewise(planner, mark, it->instance)) return;
  const char *what =
      later < 0 ? "no step measures it"
                : arena_printf(planner->arena, "%s measures it", step_print(planner, later));
  Finding *finding =
      finding_add(planner->run, RULE_DECIDED_EARLY, it->decl->at, "%s decides by %s, and %s%s",
                  step_print(planner, step), list.at[0]->label, later < 0 ? "" : "only ", what);
  told_by(planner, mark, finding);
  finding_subject(finding, it->id);
  if (later < 0) {
    finding_way_out(planner->run, finding, "add a step before that measures %s", name.base);
    return;
  }
  finding_note(planner->run, finding, planner->plan->steps.at[later]->decl->at, "measured here");
  finding_way_out(planner->run, finding, "the earliest place for it is right after %s",
                  step_print(planner, later));
}

static bool has_table_of(const Planner *planner, const char *role) {
  for (size_t i = 0; i < planner->plan->steps.n; i++) {
    const TableDecl *table = planner->plan->steps.at[i]->decl->table;
    if (table && (text_is(table->row.role.s, role) || text_is(table->column.role.s, role)))
      return true;
  }
  return false;
}

/* Several parts are named for a place: the bench chooses, by a table. */
static void choices_decided(Planner *planner) {
  const BuildEntry *build = planner->job->build;
  for (size_t i = 0; i < build->parts.n; i++) {
    const PartChoice *choice = &build->parts.at[i];
    const Role *role = job_role(planner->job, choice->role);
    if (!role || choice->offered.n < 2 || has_table_of(planner, choice->role)) continue;
    Finding *finding = finding_add(planner->run, RULE_UNDECIDED, choice->at,
                                   "%s: %zu parts are offered, and no bench table decides which",
                                   role->label, choice->offered.n);
    finding_subject(finding, role->name);
    finding_way_out(planner->run, finding,
                    "name one part, or the procedure whose table has `role: %s`", role->name);
    offer_procedure(planner, finding, OFFER_DECIDES, role->name);
  }
}

void asks_check(Planner *planner) {
  if (planner->plan->steps.n == 0) return;
  demands(planner);
  choices_decided(planner);
  holds(planner);
  for (int i = 0; i < (int)planner->plan->steps.n; i++) {
    const TableDecl *table = planner->plan->steps.at[i]->decl->table;
    if (!table) continue;
    if (table->row.quantity.s) decided(planner, i, &table->row.quantity, true);
    if (table->column.quantity.s) decided(planner, i, &table->column.quantity, false);
  }
}
