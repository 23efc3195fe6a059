#include "compose/completed.h"

#include "base/decimal.h"
#include "model/job_words.h"

#include <math.h>

#define READINGS_SHOWN 3 /* boxes of a row */

void readings_typed(Composer *c, const PlanBox *box, MeasureRow *row) {
  const Reading *reading = box->reading;
  if (!reading) return;
  if (reading->word) row->values[0] = reading->word;
  if (reading->word) return;
  size_t asked = (size_t)row->readings;
  bool all = reading->all.n <= asked && reading->all.n <= READINGS_SHOWN;
  for (size_t i = 0; i < (all ? reading->all.n : 1); i++)
    row->values[i] =
        number_print(c->arena, all ? reading->all.at[i] : reading->si, box->unit, box->places);
}

const char *left_open(Composer *c, const PlanStep *step) {
  const Readings *readings = c->job->readings;
  for (size_t i = 0; readings && i < readings->open_steps.n; i++)
    if (text_is(readings->open_steps.at[i].key, step->key))
      return arena_printf(c->arena, "Left open: %s", readings->open_steps.at[i].why.s);
  return NULL;
}

const char *check_found(Composer *c, const PlanStep *step) {
  const CheckLine *line = found_at(c->job->readings, step);
  if (!line) return NULL;
  return arena_printf(c->arena, "Found: %s%s%s", line->found.s, line->why.s ? ". " : "",
                      line->why.s ? line->why.s : "");
}

void add_square_found(Composer *c, const PlanStep *step) {
  const PlanTable *table = step->table;
  size_t row = 0, column = 0;
  if (!table || !c->job->readings || !table_square(c->job, table, &row, &column)) return;
  if (!table_stops(table, row, column)) return;
  add_bold(c, arena_printf(c->arena, "STOP at %s: see the nonconformance list.",
                           square_print(c->arena, table, row, column)));
}

Quantity quantity_by_parts(const Job *job, const Quantity *quantity) {
  Quantity like = *quantity;
  if (job->readings) like.predicted = quantity->by_parts;
  return like;
}

const char *measured_print(Arena *arena, const Job *job, const Plan *plan,
                           const Quantity *quantity) {
  if (!job->readings || !quantity_is_settled(job, plan, quantity)) return NULL;
  return quantity->predicted.state == VALUE_KNOWN ? predicted_print(arena, quantity) : NULL;
}

/* ---- what is out ---- */

const char *box_limits_print(Arena *arena, const PlanBox *box) {
  if (box->kind == BOX_RECORD_ONLY) return "record only";
  if (box->has_min || box->has_max)
    return band_print(arena, box->has_min ? box->min : -INFINITY,
                      box->has_max ? box->max : INFINITY, box->unit, box->places);
  return box->judged_by ? arena_printf(arena, "judged by %s", box->judged_by) : "";
}

static void item_add(Arena *arena, OutItems *out, const char *where, const char *found) {
  OutItem item = {where, found};
  vec_push(arena, out, item);
}

/* What the build accepts already: "; the build has a concession, approved by Foreman". */
static const char *conceded(Arena *arena, const Job *job, const Quantity *quantity) {
  for (size_t i = 0; i < job->build->concessions.n; i++) {
    const Concession *one = &job->build->concessions.at[i];
    if (text_is(one->subject.s, quantity->name))
      return arena_printf(arena, "; the build has a concession, approved by %s", one->approver.s);
  }
  return "";
}

static void boxes_out(Arena *arena, const Job *job, const Plan *plan, OutItems *out) {
  for (size_t i = 0; i < plan->boxes.n; i++) {
    const PlanBox *box = plan->boxes.at[i];
    if (box->verdict != VERDICT_OUT) continue;
    const char *limits = box_limits_print(arena, box);
    item_add(arena, out, arena_printf(arena, "Box %d", box->number),
             arena_printf(arena, "%s: %s%s%s%s", box->label, found_print(arena, box),
                          limits[0] ? ", limits " : "", limits,
                          conceded(arena, job, box->quantity)));
  }
}

static void results_out(Arena *arena, const Job *job, const Plan *plan, OutItems *out) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    if (!result_is_out(job, plan, quantity)) continue;
    const char *where = quantity->instance->id ? quantity->instance->label : "";
    item_add(arena, out, "Result",
             arena_printf(arena, "%s%s%s: %s%s, limits %s%s", quantity->label, where[0] ? ", " : "",
                          where, predicted_print(arena, quantity),
                          quantity_is_settled(job, plan, quantity) ? "" : " so far",
                          allowed_print(arena, quantity), conceded(arena, job, quantity)));
  }
}

static void decisions_out(Arena *arena, const Job *job, const Plan *plan, OutItems *out) {
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    size_t row = 0, column = 0;
    if (!table || !table_fitted_stop(job, table, &row, &column)) continue;
    item_add(arena, out, arena_printf(arena, "Step %d", plan->steps.at[i]->number),
             arena_printf(arena, "%s: STOP at %s", table->title,
                          square_print(arena, table, row, column)));
  }
}

static void checks_out(Arena *arena, const Job *job, const Plan *plan, OutItems *out) {
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanStep *step = plan->steps.at[i];
    const CheckLine *line = found_at(job->readings, step);
    if (!line || line->passed) continue;
    item_add(arena, out, arena_printf(arena, "Step %d", step->number),
             arena_printf(arena, "%s %s%s%s", step->text, text_title(arena, line->found.s),
                          line->why.s ? ": " : ".", line->why.s ? line->why.s : ""));
  }
}

void out_items(Arena *arena, const Job *job, const Plan *plan, OutItems *out) {
  if (!job->readings) return;
  boxes_out(arena, job, plan, out);
  results_out(arena, job, plan, out);
  decisions_out(arena, job, plan, out);
  checks_out(arena, job, plan, out);
}

/* ---- the job sheet ---- */

void add_readings_head(Composer *c) {
  const Readings *readings = c->job->readings;
  size_t filled = 0;
  OutItems out = {0};
  if (!readings) return;
  for (size_t i = 0; i < c->plan->boxes.n; i++) filled += c->plan->boxes.at[i]->has_value;
  out_items(c->arena, c->job, c->plan, &out);
  group_begin(c);
  add_heading(c, 2, "Readings entered");
  Block *fields = block_add(c, BLOCK_FIELDS);
  add_field(c, fields, "Date", said_or(&readings->date, "not given"), 3);
  add_field(c, fields, "Taken by", said_or(&readings->technician, "not given"), 3);
  add_field(c, fields, "Boxes filled",
            arena_printf(c->arena, "%zu of %zu", filled, c->plan->boxes.n), 2);
  add_field(c, fields, "Outside limits", arena_printf(c->arena, "%zu", out.n), 2);
  add_field(c, fields, "Readings", arena_text(c->arena, readings->digest, 8), 2);
}
