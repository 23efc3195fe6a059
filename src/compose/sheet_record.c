/* What was measured, and what was out. */
#include "compose/completed.h"

#include "model/job_words.h"

static const char *value_of(Composer *c, const PlanBox *box) {
  return box->has_value ? reading_print(c->arena, box, box->reading) : NULL;
}

static Block *values_table(Composer *c) {
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Box", 10, true);
  add_column(c, table, "Measured", 62, false);
  add_column(c, table, "Limits", 58, false);
  add_column(c, table, "Reading", 34, false);
  add_column(c, table, "In", 10, false);
  return table;
}

/* What is judged or recorded for itself, or else what feeds that. */
static size_t boxes_of(const Composer *c, bool feeds) {
  size_t n = 0;
  for (size_t i = 0; i < c->plan->boxes.n; i++)
    n += (c->plan->boxes.at[i]->kind == BOX_FEEDS) == feeds;
  return n;
}

void sheet_values(Composer *c) {
  if (!boxes_of(c, false)) return;
  sheet_begin(c, "values", "Measured values");
  group_begin(c);
  add_heading(c, 1, "Accepted readings, carried over");
  if (boxes_of(c, true))
    add_text(c, "Readings that these are worked out from stand at their steps only.");
  Block *table = values_table(c);
  for (size_t i = 0; i < c->plan->boxes.n; i++) {
    const PlanBox *box = c->plan->boxes.at[i];
    if (box->kind == BOX_FEEDS) continue;
    add_row(c, table);
    add_cell(c, table, CELL_NUMBER, arena_printf(c->arena, "%d", box->number));
    add_cell(c, table, CELL_TEXT, box->label);
    add_cell(c, table, CELL_TEXT, box_limits_print(c->arena, box));
    table->rows.at[table->rows.n - 1].at[2].large = box->has_min || box->has_max;
    const char *value = value_of(c, box);
    add_cell(c, table, value ? CELL_NUMBER : CELL_BLANK, value);
    if (box->verdict == VERDICT_NONE)
      add_cell(c, table, box->has_min || box->has_max ? CELL_TICK : CELL_TEXT, NULL);
    else
      add_cell(c, table, CELL_TEXT, box->verdict == VERDICT_IN ? "in" : "OUT");
  }
  for (size_t i = 0; i < c->sheet->groups.n; i++) c->sheet->groups.at[i].tight = true;
}

#define NONCONFORMANCE_ROWS 6
#define ROWS_A_GROUP        10

static Block *out_table(Composer *c) {
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "No.", 8, true);
  add_column(c, table, "Box or step", 20, false);
  add_column(c, table, "Found", 40, false);
  add_column(c, table, "Rework", 14, false);
  add_column(c, table, "Replace", 15, false);
  add_column(c, table, "Concede", 16, false);
  add_column(c, table, "Scrap", 13, false);
  add_column(c, table, "Approver, date", 26, false);
  add_column(c, table, "Customer", 24, false);
  return table;
}

#define SPARE_ROWS 4

/* Room for what is fitted in steps: measured, worked on, measured again. */
static void spare_table(Composer *c) {
  group_begin(c);
  add_heading(c, 2, "Worked on and measured again");
  add_text(
      c,
      "A box has room for one more try at its step; further ones go here, with the limits and the "
      "unit of the box.");
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Box", 14, true);
  add_column(c, table, "What was done", 52, false);
  add_column(c, table, "Limits", 34, false);
  add_column(c, table, "Reading, unit", 34, false);
  add_column(c, table, "In", 10, false);
  add_column(c, table, "Out", 10, false);
  add_column(c, table, "Initials", 18, false);
  for (int i = 0; i < SPARE_ROWS; i++) {
    add_row(c, table);
    for (int k = 0; k < 4; k++) add_cell(c, table, CELL_BLANK, NULL);
    for (int k = 0; k < 2; k++) add_cell(c, table, CELL_TICK, NULL);
    add_cell(c, table, CELL_BLANK, NULL);
  }
}

void sheet_nonconformance(Composer *c) {
  sheet_begin(c, "nonconformance", "Nonconformance list");
  group_begin(c);
  add_heading(c, 1, "What was out of its limits");
  add_text(
      c, "Give each reading outside its limits a row, and stop that work until the row is decided. "
         "A concession needs an approver who is not the technician, and the customer's signature.");
  Block *table = out_table(c);
  OutItems out = {0};
  out_items(c->arena, c->job, c->plan, &out);
  for (size_t i = 0; i < out.n + NONCONFORMANCE_ROWS; i++) {
    if (table->rows.n >= ROWS_A_GROUP) {
      group_begin(c);
      table = out_table(c);
    }
    add_row(c, table);
    add_cell(c, table, CELL_NUMBER, arena_printf(c->arena, "%zu", i + 1));
    add_cell(c, table, i < out.n ? CELL_TEXT : CELL_BLANK, i < out.n ? out.at[i].where : NULL);
    add_cell(c, table, i < out.n ? CELL_TEXT : CELL_BLANK, i < out.n ? out.at[i].found : NULL);
    for (int k = 0; k < 4; k++) add_cell(c, table, CELL_TICK, NULL);
    add_cell(c, table, CELL_BLANK, NULL);
    add_cell(c, table, CELL_BLANK, NULL);
  }
  spare_table(c);
  group_begin(c);
  add_heading(c, 2, "Remarks");
  const Readings *readings = c->job->readings;
  for (size_t i = 0; readings && i < readings->notes.n; i++) add_text(c, readings->notes.at[i].s);
  block_add(c, BLOCK_LINES)->count = 4;
}
