/* A bench table: find the row, find the column, read the answer. */
#include "compose/composer.h"

#include "model/job_words.h"

static const char *cell_text(Composer *c, const PlanTable *table, size_t first) {
  Text text = text_new(c->arena);
  for (size_t i = 0; i < table->answers.n; i++) {
    const Quantity *answer = table->answers.at[i];
    const PlanCell *cell = &table->cells.at[first + i];
    if (i) text_add(&text, " / ");
    text_add(&text, cell->known ? number_print(c->arena, cell->si, answer->decl->unit,
                                               quantity_places(answer))
                                : "?");
  }
  return text_done(&text);
}

static bool is_stop(const PlanTable *table, size_t first) {
  for (size_t i = 0; i < table->answers.n; i++)
    if (table->cells.at[first + i].stop) return true;
  return false;
}

/* "Squish, 0.85 to 1.15 mm" */
static const char *answer_said(Composer *c, const Quantity *answer) {
  const char *allowed = allowed_print(c->arena, answer);
  return allowed ? arena_printf(c->arena, "%s, %s", answer->label, allowed)
                 : arena_printf(c->arena, "%s %s", answer->label, answer->decl->unit->print);
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
  size_t cells = table->row_names.n * table->column_names.n;
  for (size_t i = 0; i < cells; i++) {
    size_t first = i * table->answers.n;
    bool stop = is_stop(table, first);
    Cell cell = {.kind = stop ? CELL_STOP : CELL_NUMBER,
                 .text = stop ? "STOP" : cell_text(c, table, first)};
    vec_push(c->arena, &bench->cells, cell);
  }
}
