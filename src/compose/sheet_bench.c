/* The work itself, block by block. */
#include "compose/composer.h"

#define STEPS_MOST 10 /* before initials are asked for */

/* Signed for: the steps from..to, counted in the order of the plan. */
static void initials(Composer *c, const PlanBlock *block, int from, int to) {
  int first = c->plan->steps.at[from]->number, last = c->plan->steps.at[to]->number;
  group_begin(c);
  Block *line = block_add(c, BLOCK_INITIALS);
  line->text = first == last
                   ? arena_printf(c->arena, "Step %d done: %s", first, block->title)
                   : arena_printf(c->arena, "Steps %d to %d done: %s", first, last, block->title);
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

/* A long block is signed in parts of much the same length. */
static void one_block(Composer *c, const PlanBlock *block, const char *above) {
  int steps = block->last - block->first + 1;
  int parts = (steps + STEPS_MOST - 1) / STEPS_MOST;
  block_head(c, block, above);
  for (int part = 0; part < parts; part++) {
    int from = block->first + steps * part / parts;
    int to = block->first + steps * (part + 1) / parts - 1;
    for (int i = from; i <= to; i++) {
      group_begin(c);
      add_step(c, c->plan->steps.at[i]);
    }
    group_keep(c); /* initials at the head of a page of their own would be overlooked */
    initials(c, block, from, to);
  }
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
  const char *after = c->job->build->recheck.s;
  const char *due = after ? arena_printf(c->arena, "Re-check due, %s", after) : "Re-check due";
  const char *const whens[] = {"At first start or ride", "At handover", due, "Re-check done"};
  static const char *const rows[] = {"Odometer, unit", "Date, initials"};
  group_begin(c);
  c->group->header = -1;
  add_heading(c, 2, "Running in, by the odometer");
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "", 28, false);
  for (size_t i = 0; i < sizeof whens / sizeof *whens; i++)
    add_column(c, table, whens[i], 35, false);
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    add_row(c, table);
    add_cell(c, table, CELL_TEXT, rows[i]);
    for (size_t k = 0; k < sizeof whens / sizeof *whens; k++) add_cell(c, table, CELL_BLANK, NULL);
  }
}

void sheet_start(Composer *c) {
  if (!has_blocks(c, "start")) return;
  sheet_begin(c, "start", "Start, running in, handover");
  blocks(c, "start");
  odometer(c);
}
