/* What the customer keeps: what was done and to which data, what it came to, what comes next. */
#include "compose/completed.h"

#include "model/job_words.h"

#include <string.h>

#define MOST_ACROSS 4 /* members with a column each */

static void parts_fitted(Composer *c) {
  Words sheets = {0};
  group_begin(c);
  add_heading(c, 2, "Parts fitted");
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Part", 104, false);
  add_column(c, table, "Order number", 32, false);
  add_column(c, table, "Fitted to", 34, false);
  for (size_t i = 0; i < c->job->roles.n; i++) {
    const Role *role = c->job->roles.at[i];
    bool chosen = false;
    for (size_t j = 0; j < c->job->build->parts.n; j++)
      chosen = chosen || text_is(c->job->build->parts.at[j].role, role->name);
    if (!chosen || !role->part) continue;
    add_row(c, table);
    add_cell(c, table, CELL_TEXT,
             arena_printf(c->arena, "%s: %s", role->label, role->part->name.s));
    add_cell(c, table, CELL_TEXT, said_or(&role->part->is.part.number, ""));
    add_cell(c, table, CELL_TEXT, source_by_letter(c, &sheets, role->part, NULL));
  }
  if (!table->rows.n) {
    c->group->blocks.n--;
    add_text(c, "None.");
  }
  add_sources(c, &sheets);
}

/* ---- what it came to ---- */

/* Has a box of its own, or once there are readings hangs on one. */
static bool is_measured_here(const Composer *c, const Quantity *quantity) {
  int of = 0;
  boxes_filled(c->plan, quantity, &of);
  return of > 0 || (c->job->readings && quantity_is_touched(c->job, quantity));
}

static bool any_member_measured(const Composer *c, const Quantity *quantity) {
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    const Quantity *other = c->job->quantities.at[i];
    if (text_is(other->name, quantity->name) && text_is(other->occasion, quantity->occasion) &&
        is_measured_here(c, other))
      return true;
  }
  return false;
}

static size_t members_of(const Composer *c, const Set *set) {
  size_t n = 0;
  for (size_t i = 0; i < c->job->instances.n; i++) n += c->job->instances.at[i]->set == set;
  return n;
}

/* The set whose members get a column each; NULL: the value is told in a row of its own. */
static const Set *set_across(const Composer *c, const Quantity *quantity) {
  if (!quantity->instance->set || !any_member_measured(c, quantity)) return NULL;
  const Set *set = instance_top(quantity->instance)->set;
  size_t n = members_of(c, set);
  return n > 1 && n <= MOST_ACROSS ? set : NULL;
}

static const char *by_the_parts(Composer *c, const Quantity *quantity) {
  Quantity parts = quantity_by_parts(c->job, quantity);
  return predicted_print(c->arena, &parts);
}

static void measured_cell(Composer *c, Block *table, const Quantity *quantity) {
  const char *measured = measured_print(c->arena, c->job, c->plan, quantity);
  bool open = !measured && is_measured_here(c, quantity);
  add_cell(c, table, measured ? CELL_NUMBER : open ? CELL_BLANK : CELL_TEXT, measured);
}

static void value_row(Composer *c, Block *table, size_t index, bool any) {
  const Quantity *quantity = c->job->quantities.at[index];
  const char *allowed = allowed_print(c->arena, quantity);
  bool alone = any_member_measured(c, quantity);
  add_row(c, table);
  add_cell(c, table, CELL_TEXT,
           !alone ? quantity_members_print(c->arena, c->job, index, true)
           : quantity->instance->id
               ? arena_printf(c->arena, "%s, %s", quantity->label, quantity->instance->label)
               : quantity->label);
  add_cell(c, table, CELL_NUMBER, by_the_parts(c, quantity));
  if (any) measured_cell(c, table, quantity);
  add_cell(c, table, CELL_NUMBER, allowed ? allowed : "");
}

static bool is_in_rows(Composer *c, size_t index) {
  const Quantity *quantity = c->job->quantities.at[index];
  if (!quantity->decl->headline.s || set_across(c, quantity)) return false;
  return any_member_measured(c, quantity) || quantity_leads(c->arena, c->job, index);
}

/* Values of the whole engine, and of members that print alike and are not measured one by one. */
static void values_in_rows(Composer *c) {
  Block *table = NULL;
  bool any = false; /* measured: else the column is left out */
  for (size_t i = 0; i < c->job->quantities.n; i++)
    any = any || (is_in_rows(c, i) && any_member_measured(c, c->job->quantities.at[i]));
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    if (!is_in_rows(c, i)) continue;
    if (!table || table->rows.n >= 24) {
      if (table) group_begin(c);
      table = block_add(c, BLOCK_TABLE);
      add_column(c, table, "Value", 74, false);
      add_column(c, table, "By the parts", 30, true);
      if (any) add_column(c, table, "As measured", 30, true);
      add_column(c, table, "Allowed", 38, true);
    }
    value_row(c, table, i, any);
  }
}

/* Does the row of a member tell the same apart from what was measured? */
static bool is_one_row(Composer *c, const Quantity *a, const Quantity *b) {
  return text_is(a->name, b->name) && text_is(a->occasion, b->occasion) &&
         text_is(instance_label_below(c->arena, a->instance),
                 instance_label_below(c->arena, b->instance)) &&
         text_is(by_the_parts(c, a), by_the_parts(c, b)) &&
         text_is(allowed_print(c->arena, a), allowed_print(c->arena, b));
}

static bool begins_row(Composer *c, size_t index) {
  for (size_t i = 0; i < index; i++)
    if (is_one_row(c, c->job->quantities.at[i], c->job->quantities.at[index])) return false;
  return true;
}

static void across_row(Composer *c, Block *table, const Set *set, const Quantity *first) {
  const char *below = instance_label_below(c->arena, first->instance);
  const char *allowed = allowed_print(c->arena, first);
  add_row(c, table);
  add_cell(c, table, CELL_TEXT,
           below[0] ? arena_printf(c->arena, "%s, %s", first->label, below) : first->label);
  add_cell(c, table, CELL_NUMBER, by_the_parts(c, first));
  add_cell(c, table, CELL_NUMBER, allowed ? allowed : "");
  for (size_t i = 0; i < c->job->instances.n; i++) {
    const Instance *member = c->job->instances.at[i];
    const Quantity *here = NULL;
    if (member->set != set) continue;
    for (size_t j = 0; j < c->job->quantities.n; j++) {
      const Quantity *other = c->job->quantities.at[j];
      bool inside = other->instance->set && instance_top(other->instance) == member;
      if (inside && is_one_row(c, first, other)) here = other;
    }
    if (here)
      measured_cell(c, table, here);
    else
      add_cell(c, table, CELL_TEXT, NULL);
  }
}

static Block *across_table(Composer *c, const Set *set) {
  Block *table = block_add(c, BLOCK_TABLE);
  table->text = arena_printf(c->arena, "As measured, %s by %s", set->label, set->label);
  add_column(c, table, "Value", 58, false);
  add_column(c, table, "By the parts", 26, true);
  add_column(c, table, "Allowed", 38, true);
  for (size_t i = 0; i < c->job->instances.n; i++)
    if (c->job->instances.at[i]->set == set)
      add_column(c, table, text_title(c->arena, c->job->instances.at[i]->member), 24, true);
  return table;
}

/* A column a cylinder. */
static void values_across(Composer *c) {
  for (size_t s = 0; s < c->job->sets.n; s++) {
    Block *table = NULL;
    for (size_t i = 0; i < c->job->quantities.n; i++) {
      const Quantity *quantity = c->job->quantities.at[i];
      if (!quantity->decl->headline.s || set_across(c, quantity) != c->job->sets.at[s]) continue;
      if (!begins_row(c, i)) continue;
      if (!table || table->rows.n >= 20) {
        group_begin(c);
        table = across_table(c, c->job->sets.at[s]);
      }
      across_row(c, table, c->job->sets.at[s], quantity);
    }
  }
}

static void concessions(Composer *c) {
  const BuildEntry *build = c->job->build;
  group_begin(c);
  if (!build->concessions.n) {
    add_text(c, "Concessions: none when printed; see the list of what was out.");
    return;
  }
  add_heading(c, 2, "Concessions");
  for (size_t i = 0; i < build->concessions.n; i++) {
    const Concession *concession = &build->concessions.at[i];
    const char *reason = concession->reason.s;
    bool stop = reason[strlen(reason) - 1] == '.';
    add_text(c, arena_printf(c->arena, "%s: %s%s Approved by %s. Customer: %s.",
                             text_title(c->arena, subject_said(c->job, concession->subject.s)), reason,
                             stop ? "" : ".", concession->approver.s, concession->customer.s));
  }
}

static void what_was_done(Composer *c) {
  const BuildEntry *build = c->job->build;
  group_begin(c);
  add_heading(c, 1, "What was done to your machine");
  if (build->work.s) add_text(c, build->work.s);
  Block *fields = block_add(c, BLOCK_FIELDS);
  const char *address = c->job->shop ? c->job->shop->address.s : NULL;
  add_field(c, fields, "Shop",
            address ? arena_printf(c->arena, "%s, %s", c->packet->shop, address) : c->packet->shop,
            12);
  for (size_t i = 0; i < build->machine.n; i++)
    add_field(c, fields, text_title(c->arena, build->machine.at[i].label), build->machine.at[i].value.s,
              3);
}

static void what_comes_next(Composer *c) {
  const BuildEntry *build = c->job->build;
  group_begin(c);
  add_heading(c, 2, "Running in and first re-check");
  Block *bullets = block_add(c, BLOCK_BULLETS);
  for (size_t i = 0; i < build->notes.n; i++)
    vec_push(c->arena, &bullets->items, build->notes.at[i].s);
  Block *next = block_add(c, BLOCK_FIELDS);
  add_field(c, next, "Odometer at handover", NULL, 4);
  add_field(c, next, "First re-check at, odometer", NULL, 4);
  add_field(c, next, "or by, date", NULL, 4);
}

void sheet_customer(Composer *c) {
  sheet_begin(c, "customer", "Customer sheet");
  what_was_done(c);
  parts_fitted(c);
  group_begin(c);
  add_heading(c, 2, "What it came to");
  values_in_rows(c);
  values_across(c);
  concessions(c);
  what_comes_next(c);
  group_begin(c);
  Block *signatures = block_add(c, BLOCK_SIGNATURES);
  vec_push(c->arena, &signatures->items, "Work done by");
  vec_push(c->arena, &signatures->items, "Approved by");
  vec_push(c->arena, &signatures->items, "Received by the customer");
}
