/* The part that a step decides on: one of those on hand. */
#include "compose/composer.h"

#include "model/readings.h"

static void add_parts(Composer *c, Parts *parts, const RefList *refs) {
  for (size_t i = 0; i < refs->n; i++) {
    const Entry *part = refs->at[i].entry;
    bool known = !part || part->kind != ENTRY_PART;
    for (size_t j = 0; j < parts->n && !known; j++) known = parts->at[j] == part;
    if (!known) vec_push(c->arena, parts, part);
  }
}

/* Those the build names, then those of bench tables that go by them. */
Parts parts_offered(Composer *c, const Role *role) {
  Parts parts = {0};
  for (size_t i = 0; i < c->job->build->parts.n; i++) {
    const PartChoice *choice = &c->job->build->parts.at[i];
    if (text_is(choice->role, role->name)) add_parts(c, &parts, &choice->offered);
  }
  for (size_t i = 0; i < c->plan->steps.n; i++) {
    const PlanTable *table = c->plan->steps.at[i]->table;
    if (!table) continue;
    if (text_is(table->decl->row.role.s, role->name)) add_parts(c, &parts, &table->row_parts);
    if (text_is(table->decl->column.role.s, role->name)) add_parts(c, &parts, &table->column_parts);
  }
  return parts;
}

static void offer_row(Composer *c, Block *table, const Entry *part, bool taken) {
  add_row(c, table);
  add_cell(c, table, taken ? CELL_TEXT : CELL_TICK, taken ? "taken" : NULL);
  add_cell(c, table, CELL_TEXT, part->name.s ? part->name.s : part->id);
  add_cell(c, table, CELL_TEXT, said_or(&part->is.part.number, ""));
}

/* Where one part alone is named, there is nothing to tick. */
static void add_choice(Composer *c, const Role *role) {
  Parts parts = parts_offered(c, role);
  if (parts.n < 2) return;
  bool decided = !role_is_open(c->job, c->plan, role);
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Taken", 15, false);
  add_column(c, table, role->label, 100, false);
  add_column(c, table, "Order number", 60, false);
  for (size_t i = 0; i < parts.n; i++)
    offer_row(c, table, parts.at[i], decided && parts.at[i] == role->part);
}

void add_choices(Composer *c, const PlanStep *step) {
  for (size_t i = 0; i < step->decl->chooses.n; i++) {
    const Role *role = job_role(c->job, step->decl->chooses.at[i].s);
    if (role) add_choice(c, role);
  }
}
