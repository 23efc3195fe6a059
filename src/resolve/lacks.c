/* Values that formulas ask for and no sheet gives. One that is only printed may be not known;
 * where a limit, a box, a target or a joint hangs on it, it is told. */
#include "resolve/facts.h"

#define LACKS_MOST 64 /* kept with one value; who adds those sees the next */

struct Lack {
  FactAsk ask;
  Place place;
  Found found;
  bool told;
};

static Lacks *under_way(const Resolver *r) {
  return r->frames.n ? r->frames.at[r->frames.n - 1].lacks : NULL;
}

static void add(Resolver *r, Lacks *lacks, Lack *lack) {
  if (lacks->n == LACKS_MOST) return;
  for (size_t i = 0; i < lacks->n; i++)
    if (lacks->at[i] == lack) return;
  vec_push(r->arena, lacks, lack);
}

bool lack_put_off(Resolver *r, const FactAsk *ask, Place place, Found found) {
  Lacks *lacks = under_way(r);
  if (!lacks || lacks->n == LACKS_MOST) return false;
  Lack *lack = ARENA_NEW(r->arena, Lack);
  *lack = (Lack){*ask, place, found, false};
  add(r, lacks, lack);
  return true;
}

static void tell(Resolver *r, const Lacks *lacks) {
  for (size_t i = 0; i < lacks->n; i++) {
    Lack *lack = lacks->at[i];
    if (!lack->told) fact_missing(r, &lack->ask, lack->place, lack->found);
    lack->told = true;
  }
}

void lacks_passed_on(Resolver *r, const Lacks *lacks) {
  Lacks *user = under_way(r);
  if (!user) tell(r, lacks);
  for (size_t i = 0; user && user != lacks && i < lacks->n; i++) add(r, user, lacks->at[i]);
}

/* ---- who needs it ---- */

static bool axis_asks(const TableAxis *axis, const char *name) {
  return text_is(axis->quantity.s, name);
}

static bool list_asks(const SaidList *list, const char *name) {
  for (size_t i = 0; i < list->n; i++)
    if (text_is(list->at[i].s, name)) return true;
  return false;
}

static bool step_asks(const StepDecl *step, const char *name) {
  const TableDecl *table = step->table;
  for (size_t i = 0; i < step->boxes.n; i++)
    if (text_is(step->boxes.at[i].quantity.s, name)) return true;
  return table && (axis_asks(&table->row, name) || axis_asks(&table->column, name) ||
                   list_asks(&table->answers, name) || list_asks(&table->judges, name));
}

static bool work_asks(const BuildEntry *build, const char *name) {
  for (size_t i = 0; i < build->procedures.n; i++) {
    const Entry *entry = build->procedures.at[i].entry;
    for (size_t j = 0; entry && j < entry->is.procedure.blocks.n; j++) {
      const BlockDecl *block = entry->is.procedure.blocks.at[j];
      for (size_t k = 0; k < block->steps.n; k++)
        if (step_asks(block->steps.at[k], name)) return true;
    }
  }
  return false;
}

static bool is_needed(const Resolver *r, const Quantity *quantity) {
  const BuildEntry *build = r->job->build;
  if (quantity->allowed.said && !text_is(quantity->decl->report.s, "only")) return true;
  for (size_t i = 0; i < build->targets.n; i++)
    if (text_is(build->targets.at[i].quantity.s, quantity->name)) return true;
  for (size_t i = 0; i < r->job->engine->demands.n; i++)
    if (list_asks(&r->job->engine->demands.at[i].measure, quantity->name)) return true;
  return work_asks(build, quantity->name);
}

/* "piston.expansion", once for all cylinders. */
static void write_down(Resolver *r, const Lacks *lacks, Words *out) {
  for (size_t i = 0; i < lacks->n; i++) {
    const FactAsk *ask = &lacks->at[i]->ask;
    const char *name = arena_printf(r->arena, "%s.%s", ask->role->name, ask->fact);
    if (!text_has(out, name)) vec_push(r->arena, out, name);
  }
}

void resolve_lacks(Resolver *r) {
  for (size_t i = 0; i < r->works.n; i++) {
    QuantityWork *work = r->works.at[i];
    if (!work->lacks.n) continue;
    write_down(r, &work->lacks, &work->quantity->lacks);
    if (is_needed(r, work->quantity)) tell(r, &work->lacks);
  }
}

void job_need(const Job *job, Run *run, const Quantity *quantity) {
  Resolver *r = job->when_context;
  Run *before = r->run;
  r->run = run;
  for (size_t i = 0; quantity->lacks.n && i < r->works.n; i++)
    if (r->works.at[i]->quantity == quantity) tell(r, &r->works.at[i]->lacks);
  r->run = before;
}
