/* One step with all that belongs to it. */
#include "compose/completed.h"
#include "compose/reissue.h"

#include "model/job_words.h"

#include <math.h>

static const char *const acts[] = {
    [STEP_DO] = "Do",         [STEP_CHECK] = "Check",   [STEP_VERIFY] = "Verify",
    [STEP_RECORD] = "Record", [STEP_DECIDE] = "Decide", [STEP_WAIT] = "Wait",
    [STEP_HOLD] = "Hold",
};

/* "depth gauge G3, reads 0.01 mm"; short: "G3, reads 0.01 mm" */
static const char *gauge_said(Composer *c, const Gauge *gauge, bool brief) {
  if (!gauge) return "gauge ............";
  const char *reads = gauge->resolution.kind == EXPR_LITERAL
                          ? arena_printf(c->arena, ", reads %s",
                                         literal_print(c->arena, &gauge->resolution.literal))
                          : "";
  const char *id = said_or(&gauge->id, gauge->name);
  if (brief) return arena_printf(c->arena, "%s%s", id, reads);
  return arena_printf(c->arena, "%s %s%s", said_or(&gauge->label, gauge->name), id, reads);
}

static int digits_before_mark(double number) {
  number = fabs(number);
  int digits = 1;
  while (number >= 10 && digits < 7) {
    number /= 10;
    digits++;
  }
  return digits;
}

/* The most that the gauge can read, in the unit of the box; 0: nobody says. */
static double gauge_most(const PlanBox *box) {
  if (!box->gauge || box->gauge->range.kind != EXPR_LITERAL) return 0;
  return fabs(unit_from_si(box->unit, box->gauge->range.literal.high));
}

/* How wide a reading may come out: by the limits, else by the prediction, else by the gauge. */
static int whole_digits(const PlanBox *box) {
  double most = 0;
  const Range *range = &box->quantity->predicted;
  if (box->has_max) most = fmax(most, fabs(unit_from_si(box->unit, box->max)));
  if (box->has_min) most = fmax(most, fabs(unit_from_si(box->unit, box->min)));
  if (range->state == VALUE_KNOWN) most = fmax(most, fabs(unit_from_si(box->unit, range->nominal)));
  if (!(most > 0)) most = gauge_most(box);
  return most > 0 ? digits_before_mark(most) : 3;
}

/* The quantity that a line of the step works out; NULL: no single one. */
static const Quantity *worked_quantity(Composer *c, const PlanStep *step, const WorkLine *line) {
  const Formula *is = line->is.kind == EXPR_FORMULA ? line->is.formula : NULL;
  if (!is || is->kind != FORMULA_NAME || is->field || is->index.n) return NULL;
  return job_quantity(c->job, is->name, step->instance, NULL);
}

/* What formulas call what is written in the box: its own letter, or that of the line that works it
 * out; NULL: nothing. */
static const char *letter_of(Composer *c, const PlanStep *step, const PlanBox *box) {
  if (box->decl && box->decl->letter.s) return box->decl->letter.s;
  for (size_t i = 0; i < step->work_letters.n; i++)
    if (worked_quantity(c, step, &step->decl->work.at[i]) == box->quantity)
      return step->work_letters.at[i];
  return NULL;
}

static void measure(Composer *c, const PlanStep *step, const PlanBox *box) {
  if (box->joint) return; /* those stand under the card of their joint */
  Block *block = block_add(c, BLOCK_MEASURE);
  MeasureRow *row = &block->measure;
  const Unit *unit = box->unit;
  row->box = box->number;
  row->letter = letter_of(c, step, box);
  row->what = box->label;
  row->gauge = gauge_said(c, box->gauge, false);
  row->gauge_short = gauge_said(c, box->gauge, true);
  const char *low = box->has_min ? number_print(c->arena, box->min, unit, box->places) : NULL;
  const char *high = box->has_max ? number_print(c->arena, box->max, unit, box->places) : NULL;
  bool back = unit->factor < 0; /* the later position before a dead centre is the smaller number */
  row->min = back ? high : low;
  row->max = back ? low : high;
  if (box->has_target) row->target = number_print(c->arena, box->target, unit, box->places);
  row->unit = unit->print;
  if (box->kind == BOX_RECORD_ONLY) row->kind = "record only";
  if (box->kind == BOX_FEEDS)
    row->kind =
        box->judged_by ? arena_printf(c->arena, "judged by %s", box->judged_by) : "feeds a result";
  row->readings = box->readings > 0 ? box->readings : 1;
  if (row->readings > 1 && box->decl && box->decl->at_least_agree.kind == EXPR_LITERAL)
    row->agree = literal_print(c->arena, &box->decl->at_least_agree.literal);
  row->whole_digits = whole_digits(box);
  row->places = box->places;
  if (box->kind == BOX_JUDGED && !c->brief)
    row->source = allowed_sheet_print(c->arena, box->quantity);
  readings_typed(c, box, row);
  if (box->verdict == VERDICT_IN) row->verdict = "in";
  if (box->verdict == VERDICT_OUT) row->verdict = "OUT";
}

/* What a worked-out value came to: its line says which quantity it is. Of readings at several
 * places it is each time another. */
static const char *worked_value(Composer *c, const PlanStep *step, const WorkLine *line) {
  const Quantity *quantity = worked_quantity(c, step, line);
  if (!quantity) return NULL;
  size_t here = 0;
  for (size_t i = 0; i < step->boxes.n; i++) here += step->boxes.at[i]->quantity == quantity;
  return here > 1 ? NULL : measured_print(c->arena, c->job, c->plan, quantity);
}

/* "box 43", "boxes 40, 41": where the step has the result written; NULL: nowhere. */
static const char *written_in(Composer *c, const PlanStep *step, const WorkLine *line) {
  const Quantity *quantity = worked_quantity(c, step, line);
  Text numbers = text_new(c->arena);
  size_t count = 0;
  for (size_t i = 0; quantity && i < step->boxes.n; i++) {
    if (step->boxes.at[i]->quantity != quantity) continue;
    text_addf(&numbers, "%s%d", count++ ? ", " : "", step->boxes.at[i]->number);
  }
  if (!count) return NULL;
  return arena_printf(c->arena, count > 1 ? "boxes %s" : "box %s", text_done(&numbers));
}

static void worked_out(Composer *c, const PlanStep *step) {
  if (!step->work_letters.n) return;
  Block *block = block_add(c, BLOCK_WORK);
  for (size_t i = 0; i < step->work_letters.n; i++) {
    vec_push(c->arena, &block->letters, step->work_letters.at[i]);
    vec_push(c->arena, &block->items, step->work_lines.at[i]);
    const Quantity *quantity = worked_quantity(c, step, &step->decl->work.at[i]);
    vec_push(c->arena, &block->units, quantity ? quantity->decl->unit->print : "");
    vec_push(c->arena, &block->values, worked_value(c, step, &step->decl->work.at[i]));
    vec_push(c->arena, &block->boxes, written_in(c, step, &step->decl->work.at[i]));
  }
}

static bool is_worked_out(Composer *c, const PlanStep *step, const PlanBox *box) {
  for (size_t i = 0; i < step->decl->work.n; i++)
    if (worked_quantity(c, step, &step->decl->work.at[i]) == box->quantity) return true;
  return false;
}

/* The boxes that are read before anything is worked out: what comes of it stands below. */
static size_t boxes_read(Composer *c, const PlanStep *step) {
  size_t n = 0;
  if (!step->work_letters.n) return step->boxes.n;
  while (n < step->boxes.n && step->boxes.at[n]->kind != BOX_JUDGED &&
         !is_worked_out(c, step, step->boxes.at[n]))
    n++;
  return n;
}

/* Where nobody else is there, the same person looks again after a while. */
static void second_look(Composer *c, Block *block) {
  static const char *const labels[] = {"initials and time", "second look, initials and time",
                                       "date"};
  for (size_t i = 0; i < sizeof labels / sizeof *labels; i++)
    vec_push(c->arena, &block->items, labels[i]);
  vec_push(c->arena, &block->notes, "Do other work for 20 minutes, then look again.");
}

static void hold(Composer *c, const PlanStep *step) {
  Block *block = block_add(c, BLOCK_HOLD);
  if (c->job->shop && c->job->shop->one_person.s) second_look(c, block);
  block->text = step->text;
  block->step = step->number;
  block->bookmark = arena_printf(c->arena, "%d Hold: %s", step->number, step->text);
}

/* Where a time counts: what the clock said. */
static void times(Composer *c, const PlanStep *step) {
  Block *fields = step->times.n > 0 ? block_add(c, BLOCK_FIELDS) : NULL;
  for (size_t i = 0; i < step->times.n; i++) add_field(c, fields, step->times.at[i], NULL, 6);
}

void add_step(Composer *c, const PlanStep *step) {
  size_t first = c->group->blocks.n;
  for (size_t i = 0; i < step->cautions.n; i++) add_message(c, step->cautions.at[i]);
  if (step->decl->kind == STEP_HOLD) {
    hold(c, step);
  } else {
    Block *block = block_add(c, BLOCK_STEP);
    block->step = step->number;
    block->act = acts[step->decl->kind];
    const char *again = step->table ? bench_table_again(c, step) : NULL;
    block->text = again ? again : step->text;
    for (size_t i = 0; i < step->notes.n; i++) vec_push(c->arena, &block->notes, step->notes.at[i]);
    const char *open = left_open(c, step);
    if (open) vec_push(c->arena, &block->notes, open);
    const char *found = check_found(c, step);
    if (found) vec_push(c->arena, &block->notes, found);
    block->bookmark = arena_printf(c->arena, "%d %s", step->number, step->text);
  }
  add_figures(c, step);
  size_t read = boxes_read(c, step);
  for (size_t i = 0; i < read; i++) measure(c, step, step->boxes.at[i]);
  times(c, step);
  worked_out(c, step);
  for (size_t i = read; i < step->boxes.n; i++) measure(c, step, step->boxes.at[i]);
  if (step->table) add_bench_table(c, step);
  add_choices(c, step);
  add_sequence(c, step);
  for (size_t i = 0; i < step->joints.n; i++)
    if (step->joints.n == 1 || is_tightened(step, step->joints.at[i]))
      add_torque_card(c, step, step->joints.at[i]);
  add_square_found(c, step);
  figures_said(c, step, first);
  reissue_mark(c, step, first);
}
