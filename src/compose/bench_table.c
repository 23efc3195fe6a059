/* A bench table: find the row, find the column, read the answer. */
#include "compose/completed.h"

#include "model/job_words.h"

#include <string.h>

/* The answers of a square: "0.85 / 9.50" */
static const char *square_text(Composer *c, const PlanTable *table, const PlanCell *cells) {
  Text text = text_new(c->arena);
  for (size_t i = 0; i < table->answers.n; i++) {
    const Quantity *answer = table->answers.at[i];
    if (i) text_add(&text, " / ");
    text_add(&text, cells[i].known ? number_print(c->arena, cells[i].si, answer->decl->unit,
                                                  quantity_places(answer))
                                   : "?");
  }
  return text_done(&text);
}

/* "Squish, 0.85 to 1.15 mm" */
static const char *answer_said(Composer *c, const Quantity *answer) {
  const char *allowed = allowed_print(c->arena, answer), *unit = answer->decl->unit->print;
  return allowed   ? arena_printf(c->arena, "%s, %s", answer->label, allowed)
         : unit[0] ? arena_printf(c->arena, "%s %s", answer->label, unit)
                   : answer->label;
}

/* What the technician writes below the table, once the readings lead there. */
static void add_found(Composer *c, const PlanTable *table, BenchTable *bench) {
  size_t row = 0, column = 0;
  if (!c->job->readings || !table_square(c->job, table, &row, &column)) return;
  const PlanCell *cells = table_cells(table, row, column);
  bool stop = table_stops(table, row, column);
  vec_push(c->arena, &bench->found, table->row_names.at[row]);
  if (!bench_is_list(bench)) vec_push(c->arena, &bench->found, table->column_names.at[column]);
  for (size_t i = 0; i < table->answers.n; i++) {
    const Quantity *answer = table->answers.at[i];
    const char *said = stop             ? "STOP"
                       : cells[i].known ? number_print(c->arena, cells[i].si, answer->decl->unit,
                                                       quantity_places(answer))
                                        : "?";
    vec_push(c->arena, &bench->found, said);
  }
}

/* "left cylinder", "left intake valve"; NULL: of the whole engine. */
static const char *member_said(Composer *c, const Instance *instance) {
  if (!instance || !instance->set) return NULL;
  const char *members = text_exchange(c->arena, instance->path, '.', ' ');
  return arena_printf(c->arena, "%s %s", members, instance->set->label);
}

#define SQUARE_HOLDS " A square says STOP if any reading rounded to it would be out."

/* The readings go to their lines by the same words: line_of_value. Why a square says STOP whose own
 * figure would be in: tabler_stops. */
static const char *rounding_said(const PlanTable *table) {
  bool rows = table->rounds_rows, columns = table->rounds_columns;
  if (rows && columns)
    return "Between two lines take the nearer; half way, the one above or to the left." SQUARE_HOLDS;
  if (rows) return "Between two rows take the nearer; half way, the one above." SQUARE_HOLDS;
  if (columns) return "Between two columns take the nearer; half way, the left one." SQUARE_HOLDS;
  return NULL;
}

static BenchTable bench_of(Composer *c, const PlanStep *step) {
  const PlanTable *table = step->table;
  BenchTable bench = {.title = table->title ? table->title : "Bench table",
                      .row_label = table->row_label,
                      .column_label = table->column_label,
                      .row_unit = table->row_unit ? table->row_unit->print : "",
                      .row_names = table->row_names,
                      .column_names = table->column_names};
  bench.valid_for = arena_printf(c->arena, "valid only for revision %.8s", c->job->revision);
  bench.member = member_said(c, table->instance);
  bench.rounding = rounding_said(table);
  bench.column_ends = table->rounds_columns;
  bench.chooses = table->column_parts.n > 1;
  for (size_t i = 0; i < table->answers.n; i++)
    vec_push(c->arena, &bench.answers, answer_said(c, table->answers.at[i]));
  add_found(c, table, &bench);
  for (size_t row = 0; row < table->row_names.n; row++)
    for (size_t column = 0; column < table->column_names.n; column++) {
      bool stop = table_stops(table, row, column);
      Cell cell = {.kind = stop ? CELL_STOP : CELL_NUMBER,
                   .text = stop ? "STOP" : square_text(c, table, table_cells(table, row, column))};
      vec_push(c->arena, &bench.cells, cell);
    }
  return bench;
}

static bool same_words(const Words *a, const Words *b) {
  if (a->n != b->n) return false;
  for (size_t i = 0; i < a->n; i++)
    if (!text_is(a->at[i], b->at[i])) return false;
  return true;
}

/* All that is printed of the two but for whom they are. */
static bool same_squares(const BenchTable *a, const BenchTable *b) {
  if (!text_is(a->title, b->title) || !text_is(a->row_label, b->row_label) ||
      !text_is(a->column_label, b->column_label) || !text_is(a->row_unit, b->row_unit) ||
      !same_words(&a->row_names, &b->row_names) ||
      !same_words(&a->column_names, &b->column_names) || !same_words(&a->answers, &b->answers) ||
      a->cells.n != b->cells.n)
    return false;
  for (size_t i = 0; i < a->cells.n; i++)
    if (!text_is(a->cells.at[i].text, b->cells.at[i].text)) return false;
  return true;
}

/* The next step with a table, before or behind it in its block with nothing else between. */
static const PlanStep *neighbour(const Composer *c, const PlanStep *step, int side) {
  int at = step->number - 1 + side;
  if (at < 0 || (size_t)at >= c->plan->steps.n) return NULL;
  const PlanStep *other = c->plan->steps.at[at];
  return other->table && other->plan_block == step->plan_block ? other : NULL;
}

/* The farthest step on that side with the same table for another member, and no other table
 * between: under one table nobody is sent to another. */
static const PlanStep *shares(Composer *c, const PlanStep *step, const BenchTable *bench,
                              int side) {
  const PlanStep *found = NULL;
  for (const PlanStep *at = neighbour(c, step, side); bench->member && at;
       at = neighbour(c, at, side)) {
    BenchTable other = bench_of(c, at);
    if (!other.member || text_is(other.member, bench->member) || !same_squares(bench, &other))
      break;
    found = at;
  }
  return found;
}

const char *bench_table_again(Composer *c, const PlanStep *step) {
  BenchTable bench = bench_of(c, step);
  const PlanStep *first = shares(c, step, &bench, -1);
  if (!first || first->decl != step->decl) return NULL;
  return arena_printf(c->arena,
                      "Find the answers for the %s in the table of " PACKET_STEP_REF "%d}.",
                      bench.member, first->number);
}

/* The squares stand at the first of the steps that share them; each has boxes of its own. Squares
 * that are one member's say so. */
void add_bench_table(Composer *c, const PlanStep *step) {
  Block *block = block_add(c, BLOCK_BENCH);
  BenchTable *bench = &block->bench;
  *bench = bench_of(c, step);
  const PlanStep *first = shares(c, step, bench, -1), *next = shares(c, step, bench, 1);
  if (first) bench->squares_at = first->number;
  bench->squares_said = first && first->decl == step->decl;
  if (next) group_keep(c);
  if (first || next || !bench->member || strstr(bench->title, step->table->instance->member))
    return;
  bench->title = arena_printf(c->arena, "%s, %s", bench->title, bench->member);
}
