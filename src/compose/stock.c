/* Sizes that bench tables answer with, such as shims: what must be in stock. */
#include "compose/composer.h"

#include "model/job_words.h"

#include <math.h>

#define LISTED_MOST 6 /* more of one step are told as a row */

typedef VEC(double) Sizes;

/* Kept in order. What differs by less than rounding is the same size; none is no size. */
static void size_add(Composer *c, Sizes *sizes, double si) {
  double alike = 1e-9;
  if (fabs(si) < alike) return;
  size_t at = sizes->n;
  while (at > 0 && sizes->at[at - 1] > si + alike) at--;
  if (at > 0 && fabs(sizes->at[at - 1] - si) < alike) return;
  vec_push(c->arena, sizes, si);
  for (size_t i = sizes->n - 1; i > at; i--) sizes->at[i] = sizes->at[i - 1];
  sizes->at[at] = si;
}

/* What the squares that stop nobody answer, over all members. */
static Sizes sizes_of(Composer *c, const QuantityDecl *decl) {
  Sizes sizes = {0};
  for (size_t s = 0; s < c->plan->steps.n; s++) {
    const PlanTable *table = c->plan->steps.at[s]->table;
    for (size_t a = 0; table && a < table->answers.n; a++) {
      if (table->answers.at[a]->decl != decl) continue;
      for (size_t row = 0; row < table->row_names.n; row++)
        for (size_t column = 0; column < table->column_names.n; column++) {
          const PlanCell *cell = &table_cells(table, row, column)[a];
          if (cell->known && !table_stops(table, row, column)) size_add(c, &sizes, cell->si);
        }
    }
  }
  return sizes;
}

/* The step from each to the next; 0 when they differ. */
static double even_step(const Sizes *sizes) {
  if (sizes->n < 2) return 0;
  double step = sizes->at[1] - sizes->at[0];
  for (size_t i = 2; i < sizes->n; i++)
    if (fabs(sizes->at[i] - sizes->at[i - 1] - step) > 1e-9) return 0;
  return step;
}

static const char *sizes_print(Composer *c, const Sizes *sizes, const Quantity *of) {
  const Unit *unit = of->decl->unit;
  int places = quantity_places(of);
  double step = even_step(sizes);
  if (sizes->n > LISTED_MOST && step > 0)
    return arena_printf(c->arena, "%s to %s %s by %s",
                        number_print(c->arena, sizes->at[0], unit, places),
                        number_print(c->arena, sizes->at[sizes->n - 1], unit, places), unit->print,
                        number_print(c->arena, step, unit, places));
  Words words = {0};
  for (size_t i = 0; i < sizes->n; i++)
    vec_push(c->arena, &words, number_print(c->arena, sizes->at[i], unit, places));
  return arena_printf(c->arena, "%s %s", text_join(c->arena, &words, ", "), unit->print);
}

typedef VEC(const QuantityDecl *) Told;

static bool is_told(const Told *told, const QuantityDecl *decl) {
  for (size_t i = 0; i < told->n; i++)
    if (told->at[i] == decl) return true;
  return false;
}

static void stock_row(Composer *c, Block **table, const Quantity *answer) {
  Sizes sizes = sizes_of(c, answer->decl);
  if (!sizes.n) return;
  if (!*table) {
    group_begin(c);
    add_heading(c, 2, "Sizes to have in stock");
    *table = block_add(c, BLOCK_TABLE);
    add_column(c, *table, "Ready", 15, false);
    add_column(c, *table, "What", 60, false);
    add_column(c, *table, "Sizes a bench table may ask for", 100, false);
  }
  add_row(c, *table);
  add_cell(c, *table, CELL_TICK, NULL);
  add_cell(c, *table, CELL_TEXT, answer->label);
  add_cell(c, *table, CELL_TEXT, sizes_print(c, &sizes, answer));
}

void add_stock(Composer *c) {
  Block *block = NULL;
  Told told = {0};
  for (size_t s = 0; s < c->plan->steps.n; s++) {
    const PlanTable *table = c->plan->steps.at[s]->table;
    for (size_t a = 0; table && a < table->answers.n; a++) {
      const Quantity *answer = table->answers.at[a];
      if (!answer->value || !graph_is_size(c->job->graph, answer->value)) continue;
      if (is_told(&told, answer->decl)) continue;
      vec_push(c->arena, &told, answer->decl);
      stock_row(c, &block, answer);
    }
  }
}
