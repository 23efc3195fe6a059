/* Parts that go back to their own places: each with its tag, and which way round it was. */
#include "compose/composer.h"

#include "value/literal.h"

#define ROWS_OF_A_TABLE 20

/* How many pieces stand in one place: a set of caps is one part on its sheet. */
static int pieces_of(const PartEntry *part) {
  for (size_t i = 0; i < part->values.n; i++) {
    const ValueDecl *value = part->values.at[i];
    if (!text_is(value->name, "pieces") || value->choices.n == 0) continue;
    const Expr *expr = &value->choices.at[0].value;
    double n = expr->kind == EXPR_LITERAL ? expr->literal.nominal : 1;
    if (n >= 1 && n <= 64) return (int)n;
  }
  return 1;
}

/* What its sheet says to the step that fits it; "" when it says nothing. */
static const char *way_round(const Composer *c, const Role *role) {
  const PartEntry *part = &role->part->is.part;
  for (size_t s = 0; s < c->plan->steps.n; s++) {
    const PlanStep *step = c->plan->steps.at[s];
    if (!said_names(&step->decl->fits, role->name)) continue;
    for (size_t n = 0; n < part->notes.n; n++)
      if (text_is(part->notes.at[n].step.s, step->id)) return part->notes.at[n].text.s;
  }
  return "";
}

static Block *tag_table(Composer *c) {
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Part", 34, false);
  add_column(c, table, "Place", 32, false);
  add_column(c, table, "Tag or mark", 26, false);
  add_column(c, table, "Which way round", 56, false);
  add_column(c, table, "Out", 12, false);
  add_column(c, table, "Back", 12, false);
  return table;
}

static const char *place_of(const Composer *c, const Instance *instance, int piece, int pieces) {
  const char *of = instance->parent ? instance->label : "";
  if (pieces == 1) return of;
  return arena_printf(c->arena, "%s%s%d of %d", of, *of ? ", " : "", piece, pieces);
}

void add_tag_table(Composer *c) {
  Block *table = NULL;
  for (size_t i = 0; i < c->job->roles.n; i++) {
    const Role *role = c->job->roles.at[i];
    if (!role->part || !text_is(role->part->is.part.fit.s, "own place") || !role_in_work(c, role))
      continue;
    int pieces = pieces_of(&role->part->is.part);
    const char *way = way_round(c, role);
    for (size_t m = 0; m < c->job->instances.n; m++) {
      const Instance *instance = c->job->instances.at[m];
      for (int piece = 1; instance->set == role->per && piece <= pieces; piece++) {
        if (!table || table->rows.n == ROWS_OF_A_TABLE) {
          group_begin(c);
          if (!table) add_heading(c, 2, "Parts that go back to their own places");
          table = tag_table(c);
        }
        add_row(c, table);
        add_cell(c, table, CELL_TEXT, role->label);
        add_cell(c, table, CELL_TEXT, place_of(c, instance, piece, pieces));
        add_cell(c, table, CELL_BLANK, NULL);
        add_cell(c, table, *way ? CELL_TEXT : CELL_BLANK, *way ? way : NULL);
        add_cell(c, table, CELL_TICK, NULL);
        add_cell(c, table, CELL_TICK, NULL);
      }
    }
  }
}
