/* The work itself, block by block. */
#include "compose/composer.h"

#define STEPS_BEFORE_INITIALS 10

static void initials(Composer *c, const char *title) {
  group_begin(c);
  block_add(c, BLOCK_INITIALS)->text = title;
}

/* The head of a block: its title, its messages; kept with its first step. A procedure of one block
 * that is called the same needs no second title. */
static void block_head(Composer *c, const PlanBlock *block, const char *above) {
  vec_push(c->arena, &c->sheet->headers, arena_printf(c->arena, "%s (goes on)", block->title));
  group_begin(c);
  if (!text_is(block->title, above)) add_heading(c, 2, block->title);
  for (size_t i = 0; i < block->cautions.n; i++) add_message(c, block->cautions.at[i]);
  group_keep(c);
}

static void one_block(Composer *c, const PlanBlock *block, const char *above) {
  int since = 0;
  block_head(c, block, above);
  for (int i = block->first; i <= block->last; i++) {
    if (since == STEPS_BEFORE_INITIALS) {
      group_keep(c);
      initials(c, block->title);
      since = 0;
    }
    group_begin(c);
    add_step(c, c->plan->steps.at[i]);
    since++;
  }
  group_keep(c); /* initials at the head of a page of their own would be overlooked */
  initials(c, block->title);
}

/* Blocks of the procedures that print on this sheet; each procedure's name stands before its first
 * block. */
static void blocks(Composer *c, const char *sheet) {
  const Entry *last = NULL;
  for (size_t i = 0; i < c->plan->blocks.n; i++) {
    const PlanBlock *block = &c->plan->blocks.at[i];
    const char *prints = said_or(&block->procedure->is.procedure.sheet, "bench");
    if (!text_is(prints, sheet)) continue;
    const char *above = NULL;
    if (block->procedure != last) {
      above = block->procedure->name.s;
      group_begin(c);
      c->group->header = -1;
      add_heading(c, 1, above);
      group_keep(c);
    }
    last = block->procedure;
    one_block(c, block, above);
  }
}

static bool has_blocks(Composer *c, const char *sheet) {
  for (size_t i = 0; i < c->plan->blocks.n; i++)
    if (text_is(said_or(&c->plan->blocks.at[i].procedure->is.procedure.sheet, "bench"), sheet))
      return true;
  return false;
}

void sheet_bench(Composer *c) {
  if (!has_blocks(c, "bench")) return;
  sheet_begin(c, "bench", "Bench sheets");
  blocks(c, "bench");
}

/* What the odometer shows, by hand: the customer's sheet asks for the same. */
static void odometer(Composer *c) {
  static const char *const rows[] = {"At the first start", "At handover", "First re-check, due at",
                                     "First re-check, done at"};
  group_begin(c);
  c->group->header = -1;
  add_heading(c, 2, "Running in, by the odometer");
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "When", 52, false);
  add_column(c, table, "Odometer, with its unit", 50, false);
  add_column(c, table, "Date", 40, false);
  add_column(c, table, "Initials", 26, false);
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    add_row(c, table);
    add_cell(c, table, CELL_TEXT, rows[i]);
    for (int k = 0; k < 3; k++) add_cell(c, table, CELL_BLANK, NULL);
  }
}

void sheet_start(Composer *c) {
  if (!has_blocks(c, "start")) return;
  sheet_begin(c, "start", "First start and running in");
  blocks(c, "start");
  odometer(c);
}
