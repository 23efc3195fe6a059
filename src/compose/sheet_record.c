/* What was measured, what was out, and what the customer gets. */
#include "compose/completed.h"

#include "model/job_words.h"

#include <string.h>

static const char *limits_of(Composer *c, const PlanBox *box) {
  if (box->kind == BOX_RECORD_ONLY) return "record only";
  if (!box->has_min && !box->has_max)
    return box->judged_by ? arena_printf(c->arena, "judged by %s", box->judged_by) : "";
  return box_limits_print(c->arena, box);
}

static const char *value_of(Composer *c, const PlanBox *box) {
  return box->has_value ? quantity_print(c->arena, box->value, box->unit, box->places) : NULL;
}

static Block *values_table(Composer *c) {
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Box", 10, true);
  add_column(c, table, "Measured", 74, false);
  add_column(c, table, "Limits", 44, false);
  add_column(c, table, "Reading", 34, false);
  add_column(c, table, "In", 10, false);
  return table;
}

void sheet_values(Composer *c) {
  if (!c->plan->boxes.n) return;
  sheet_begin(c, "values", "Measured values");
  group_begin(c);
  add_heading(c, 1, "Measured values");
  add_text(c, "Carry each accepted reading over from its box on the bench sheets.");
  Block *table = values_table(c);
  for (size_t i = 0; i < c->plan->boxes.n; i++) {
    const PlanBox *box = c->plan->boxes.at[i];
    if (table->rows.n >= 18) {
      group_begin(c);
      table = values_table(c);
    }
    add_row(c, table);
    add_cell(c, table, CELL_NUMBER, arena_printf(c->arena, "%d", box->number));
    add_cell(c, table, CELL_TEXT, box->label);
    add_cell(c, table, CELL_TEXT, limits_of(c, box));
    const char *value = value_of(c, box);
    add_cell(c, table, value ? CELL_NUMBER : CELL_BLANK, value);
    if (box->verdict == VERDICT_NONE)
      add_cell(c, table, CELL_TICK, NULL);
    else
      add_cell(c, table, CELL_TEXT, box->verdict == VERDICT_IN ? "in" : "OUT");
  }
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
  group_begin(c);
  add_heading(c, 2, "Remarks");
  const Readings *readings = c->job->readings;
  for (size_t i = 0; readings && i < readings->notes.n; i++) add_text(c, readings->notes.at[i].s);
  block_add(c, BLOCK_LINES)->count = 5;
}

/* Headline values; a reading takes the place of the prediction once there is one. */
static void key_sizes(Composer *c) {
  group_begin(c);
  add_heading(c, 2, "What it came to");
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Value", 60, false);
  add_column(c, table, "By the parts", 36, true);
  add_column(c, table, "As measured", 34, false);
  add_column(c, table, "Allowed", 42, true);
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    const Quantity *quantity = c->job->quantities.at[i];
    if (!quantity->decl->headline.s) continue;
    add_row(c, table);
    add_cell(c, table, CELL_TEXT,
             quantity->instance->id
                 ? arena_printf(c->arena, "%s, %s", quantity->label, quantity->instance->label)
                 : quantity->label);
    Quantity parts = quantity_by_parts(c->job, quantity);
    const char *measured = measured_print(c->arena, c->job, c->plan, quantity);
    add_cell(c, table, CELL_NUMBER, predicted_print(c->arena, &parts));
    add_cell(c, table, measured ? CELL_NUMBER : CELL_BLANK, measured);
    const char *allowed = allowed_print(c->arena, quantity);
    add_cell(c, table, CELL_NUMBER, allowed ? allowed : "");
  }
}

static void parts_fitted(Composer *c) {
  group_begin(c);
  add_heading(c, 2, "Parts fitted");
  Block *bullets = block_add(c, BLOCK_BULLETS);
  for (size_t i = 0; i < c->job->roles.n; i++) {
    const Role *role = c->job->roles.at[i];
    bool chosen = false;
    for (size_t j = 0; j < c->job->build->parts.n; j++)
      chosen = chosen || text_is(c->job->build->parts.at[j].role, role->name);
    if (!chosen || !role->part) continue;
    vec_push(c->arena, &bullets->items,
             arena_printf(c->arena, "%s: %s%s%s (%s)", role->label, role->part->name.s,
                          role->part->is.part.number.s ? ", " : "",
                          said_or(&role->part->is.part.number, ""),
                          source_print(c->arena, role->part, NULL)));
  }
}

static void customer_concessions(Composer *c) {
  const BuildEntry *build = c->job->build;
  group_begin(c);
  add_heading(c, 2, "Concessions");
  if (!build->concessions.n)
    add_text(c, "None at the time of printing. Any made since stand on the nonconformance list.");
  for (size_t i = 0; i < build->concessions.n; i++) {
    const Concession *concession = &build->concessions.at[i];
    const char *reason = concession->reason.s;
    bool stop = reason[strlen(reason) - 1] == '.';
    add_text(c, arena_printf(c->arena, "%s: %s%s Approved by %s. Customer: %s.",
                             titled(c->arena, subject_said(c->job, concession->subject.s)),
                             reason, stop ? "" : ".", concession->approver.s,
                             concession->customer.s));
  }
}

void sheet_customer(Composer *c) {
  const BuildEntry *build = c->job->build;
  sheet_begin(c, "customer", "Customer sheet");
  group_begin(c);
  add_heading(c, 1, "What was done to your machine");
  if (build->work.s) add_text(c, build->work.s);
  Block *fields = block_add(c, BLOCK_FIELDS);
  for (size_t i = 0; i < build->machine.n; i++)
    add_field(c, fields, titled(c->arena, build->machine.at[i].label), build->machine.at[i].value.s,
              4);
  add_field(c, fields, "Odometer at handover", NULL, 4);
  parts_fitted(c);
  key_sizes(c);
  customer_concessions(c);
  group_begin(c);
  add_heading(c, 2, "Running in and first re-check");
  for (size_t i = 0; i < build->notes.n; i++) add_text(c, build->notes.at[i].s);
  Block *next = block_add(c, BLOCK_FIELDS);
  add_field(c, next, "First re-check at, odometer", NULL, 6);
  add_field(c, next, "or by, date", NULL, 6);
  group_begin(c);
  Block *signatures = block_add(c, BLOCK_SIGNATURES);
  vec_push(c->arena, &signatures->items, "Work done by");
  vec_push(c->arena, &signatures->items, "Approved by");
  vec_push(c->arena, &signatures->items, "Received by the customer");
}
