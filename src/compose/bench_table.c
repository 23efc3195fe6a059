/* A bench table: find the row, find the column, read the answer. */
#include "compose/completed.h"

#include "model/job_words.h"

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
  const char *allowed = allowed_print(c->arena, answer);
  return allowed ? arena_printf(c->arena, "%s, %s", answer->label, allowed)
                 : arena_printf(c->arena, "%s %s", answer->label, answer->decl->unit->print);
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

void add_bench_table(Composer *c, const PlanStep *step) {
  const PlanTable *table = step->table;
  Block *block = block_add(c, BLOCK_BENCH);
  BenchTable *bench = &block->bench;
  bench->title = table->title ? table->title : "Bench table";
  bench->row_label = table->row_label;
  bench->column_label = table->column_label;
  bench->row_unit = table->row_unit ? table->row_unit->print : "";
  bench->row_names = table->row_names;
  bench->column_names = table->column_names;
  bench->valid_for = arena_printf(c->arena, "valid only for revision %.8s", c->job->revision);
  for (size_t i = 0; i < table->answers.n; i++)
    vec_push(c->arena, &bench->answers, answer_said(c, table->answers.at[i]));
  add_found(c, table, bench);
  for (size_t row = 0; row < table->row_names.n; row++)
    for (size_t column = 0; column < table->column_names.n; column++) {
      bool stop = table_stops(table, row, column);
      Cell cell = {.kind = stop ? CELL_STOP : CELL_NUMBER,
                   .text = stop ? "STOP" : square_text(c, table, table_cells(table, row, column))};
      vec_push(c->arena, &bench->cells, cell);
    }
}
