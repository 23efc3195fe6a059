/* Readings into the job: from the lines of the file to its quantities. */
#include "resolve/readings.h"

#include "resolve/readings_box.h"

#include "base/text.h"
#include "model/job_words.h"

/* ---- one box ---- */

typedef struct Taking {
  Run *run;
  Job *job;
  const Printed *printed;
  const Readings *readings;
  const Plan *plan;           /* whose boxes the file means */
  bool earlier;               /* that is the earlier issue's */
  const ReadingLine **by_box; /* index: number of the box */
} Taking;

static Quantity *quantity_of(const Job *job, const Quantity *like) {
  for (size_t i = 0; i < job->quantities.n; i++)
    if (same_quantity(job->quantities.at[i], like)) return job->quantities.at[i];
  return NULL;
}

/* false after a finding: nothing of the line is taken. */
static bool read_line(Taking *t, const PlanBox *box, const ReadingLine *line, Reading *reading) {
  if (line->word.s) {
    reading->word = line->word.s;
    reading->passed = line->go;
    return reading_word_fits(t->run, box, line);
  }
  for (size_t i = 0; i < line->values.n; i++) {
    double si = 0;
    if (!reading_si(t->run, box, &line->values.at[i], &si) ||
        !reading_is_likely(t->run, box, line, &line->values.at[i], si))
      return false;
    vec_push(t->run->arena, &reading->all, si);
  }
  reading->si = median(t->run->arena, reading->all.at, reading->all.n);
  reading->half = box->uncertainty;
  return true;
}

static void tell_void(Taking *t, const PlanBox *box, const PlanBox *again, const ReadingLine *line,
                      const Reading *reading, const char *why) {
  VoidReading gone = {box, reading_print(t->run->arena, box, reading), why};
  vec_push(t->run->arena, &t->printed->reissue->voids, gone);
  Finding *finding = finding_add(t->run, RULE_READING_VOID, line->at, "%s, %s, holds no more: %s",
                                 box->label, gone.value, why);
  finding_way_out(t->run, finding, again ? "measure it again: box %d" : "nothing is to be done",
                  again ? again->number : 0);
}

static void take_box(Taking *t, const PlanBox *box, const ReadingLine *line) {
  Reading reading = {.box = box->number, .position = box->position, .at = line->at};
  const PlanBox *again = t->earlier ? box_again(t->plan, box, t->printed->plan) : box;
  if (!read_line(t, box, line, &reading)) return;
  const char *why = t->earlier ? reading_void(t->run, t->printed, box, again) : NULL;
  if (why) {
    tell_void(t, box, again, line, &reading, why);
    return;
  }
  if (t->earlier) t->printed->reissue->carried++;
  reading.box = again->number;
  readings_agree(t->run, again, line, &reading);
  Quantity *quantity = quantity_of(t->job, box->quantity);
  if (quantity) vec_push(t->run->arena, &quantity->readings, reading);
}

static void match_lines(Taking *t) {
  t->by_box = ARENA_NEW_N(t->run->arena, const ReadingLine *, t->plan->boxes.n + 1);
  for (size_t i = 0; i < t->readings->lines.n; i++) {
    const ReadingLine *line = &t->readings->lines.at[i];
    const PlanBox *box = need_box(t->run, t->job, t->plan, line);
    if (!box) continue;
    const ReadingLine **slot = &t->by_box[box->number];
    if (*slot) {
      Finding *finding = finding_add(t->run, RULE_READ_TWICE, line->at,
                                     "box %d, %s, is given twice", box->number, box->label);
      finding_note(t->run, finding, (*slot)->at, "first given here");
      finding_way_out(t->run, finding, "several readings of one box stand in one line, in [ ]");
    } else {
      *slot = line;
    }
  }
}

/* ---- sizes fitted ---- */

static Quantity *fitted_quantity(const Job *job, const FittedLine *line) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    Quantity *quantity = job->quantities.at[i];
    if (!text_is(quantity->name, line->name) || !text_is(quantity->occasion, "final")) continue;
    size_t depth = 0;
    for (const Instance *at = quantity->instance; at && at->parent; at = at->parent) depth++;
    if (depth != line->path.n) continue;
    bool same = true;
    for (const Instance *at = quantity->instance; same && at && at->parent; at = at->parent)
      same = text_is(at->member, line->path.at[--depth].s);
    if (same) return quantity;
  }
  return NULL;
}

static void take_fitted(Taking *t, const FittedLine *line) {
  Run *run = t->run;
  Quantity *quantity = fitted_quantity(t->job, line);
  if (!quantity) return; /* readings_fit reported it */
  const Literal *literal = &line->size.literal;
  if (line->size.kind != EXPR_LITERAL) return;
  double si = literal->nominal;
  if (literal->unit == unit_of_number())
    si = unit_to_si(quantity->decl->unit, literal->nominal);
  else if (!literal_need(run, line->size.at, literal, quantity->decl->unit->dim, quantity->label))
    return;
  if (quantity->readings.n) {
    Finding *finding = finding_add(run, RULE_READ_TWICE, line->at, "%s is both measured and fitted",
                                   quantity->label);
    finding_note(run, finding, quantity->readings.at[0].at, "measured here");
    finding_way_out(run, finding, "give it once");
    return;
  }
  Reading reading = {.si = si, .at = line->at};
  vec_push(run->arena, &reading.all, si);
  vec_push(run->arena, &quantity->readings, reading);
  quantity->read_complete = true;
}

/* ---- steps by their numbers ---- */

/* NULL after unknown-step. */
static const PlanStep *need_step(Run *run, const Plan *plan, const char *number, Place at) {
  for (size_t i = 0; i < plan->steps.n; i++)
    if (text_is(arena_printf(run->arena, "%d", plan->steps.at[i]->number), number))
      return plan->steps.at[i];
  Finding *finding = finding_add(run, RULE_UNKNOWN_STEP, at, "the packet has no step %s", number);
  finding_way_out(run, finding, "its steps are numbered 1 to %zu", plan->steps.n);
  return NULL;
}

static void name_steps(Run *run, const Plan *plan, Readings *readings) {
  for (size_t i = 0; i < readings->open_steps.n; i++) {
    OpenStep *open = &readings->open_steps.at[i];
    const PlanStep *step = need_step(run, plan, open->step, open->at);
    if (step) open->key = step->key;
  }
  for (size_t i = 0; i < readings->checks.n; i++) {
    CheckLine *line = &readings->checks.at[i];
    const PlanStep *step = need_step(run, plan, line->step, line->at);
    if (!step) continue;
    if (step->decl->kind == STEP_CHECK || step->decl->kind == STEP_VERIFY) {
      line->key = step->key;
      continue;
    }
    Finding *finding = finding_add(run, RULE_UNKNOWN_STEP, line->at, "step %s looks at nothing: %s",
                                   line->step, step->text);
    finding_way_out(run, finding,
                    "`checks` are of steps that say Check or Verify; one left undone "
                    "goes under `open`");
  }
}

void readings_take(Run *run, Job *job, const Printed *printed, Readings *readings) {
  Taking t = {.run = run, .job = job, .printed = printed, .readings = readings};
  t.earlier = readings_are_earlier(printed, readings);
  t.plan = t.earlier ? printed->reissue->was_plan : printed->plan;
  job->readings = readings;
  match_lines(&t);
  name_steps(run, t.plan, readings);
  for (size_t i = 0; i < t.plan->boxes.n; i++) {
    const PlanBox *box = t.plan->boxes.at[i];
    if (t.by_box[box->number]) take_box(&t, box, t.by_box[box->number]);
  }
  for (size_t i = 0; i < readings->fitted.n; i++) take_fitted(&t, &readings->fitted.at[i]);
  readings_into_graph(run, job, printed->plan);
}
