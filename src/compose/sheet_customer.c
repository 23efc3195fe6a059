/* What the customer keeps: what was done and to which data, what it came to, what comes next. */
#include "compose/completed.h"

#include "model/job_words.h"

#include <string.h>

#define OUT_SHOWN 6

/* ---- what was done ---- */

static const char *procedures_said(Composer *c) {
  const RefList *procedures = &c->job->build->procedures;
  Text text = text_new(c->arena);
  for (size_t i = 0; i < procedures->n; i++)
    if (procedures->at[i].entry)
      text_addf(&text, "%s%s", text.n ? "; " : "", said_or(&procedures->at[i].entry->name, ""));
  if (!text.n) return NULL;
  const char *address = c->job->shop ? c->job->shop->address.s : NULL;
  const char *shop =
      address ? arena_printf(c->arena, "%s, %s", c->packet->shop, address) : c->packet->shop;
  const char *when = c->job->readings ? c->job->readings->date.s : NULL;
  return arena_printf(c->arena, "Done by %s: %s.%s%s%s", shop, text_done(&text),
                      when ? " Measured on " : "", when ? when : "", when ? "." : "");
}

static void what_was_done(Composer *c) {
  const BuildEntry *build = c->job->build;
  group_begin(c);
  add_heading(c, 1, "What was done to your machine");
  if (build->work.s) add_bold(c, build->work.s);
  const char *procedures = procedures_said(c);
  if (procedures) {
    Block *done = block_add(c, BLOCK_TEXT);
    done->text = procedures;
    done->small = true;
  }
  Block *fields = block_add(c, BLOCK_FIELDS);
  for (size_t i = 0; i < build->machine.n; i++)
    add_field(c, fields, text_title(c->arena, build->machine.at[i].label),
              build->machine.at[i].value.s, 3);
}

static bool is_brought(const BuildEntry *build, const char *role) {
  for (size_t i = 0; i < build->supplied_by_customer.n; i++)
    if (text_is(build->supplied_by_customer.at[i].s, role)) return true;
  return false;
}

static bool is_replaced(const BuildEntry *build, const Role *role) {
  for (size_t i = 0; role->part && i < build->parts.n; i++)
    if (text_is(build->parts.at[i].role, role->name)) return true;
  return false;
}

static void part_row(Composer *c, Block *table, Words *sheets, const Role *role) {
  bool yours = is_brought(c->job->build, role->name);
  add_row(c, table);
  add_cell(c, table, CELL_TEXT,
           arena_printf(c->arena, "%s: %s%s", role->label, role->part->name.s,
                        yours ? ", brought by you" : ""));
  add_cell(c, table, CELL_TEXT, said_or(&role->part->is.part.number, ""));
  add_cell(c, table, CELL_TEXT, source_by_letter(c, sheets, role->part, NULL));
}

/* With what became of those that came off. */
static void parts_fitted(Composer *c) {
  Words sheets = {0};
  group_begin(c);
  add_heading(c, 2, "Parts fitted, and what it came to");
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Part", 104, false);
  add_column(c, table, "Order number", 32, false);
  add_column(c, table, "Fitted to", 34, false);
  for (size_t i = 0; i < c->job->roles.n; i++)
    if (is_replaced(c->job->build, c->job->roles.at[i]))
      part_row(c, table, &sheets, c->job->roles.at[i]);
  if (!table->rows.n) {
    c->group->blocks.n--;
    add_text(c, "None.");
  }
  add_sources(c, &sheets);
  Block *old = block_add(c, BLOCK_FIELDS);
  add_field(c, old, "Old parts handed back to you: all, or which", NULL, 6);
  add_field(c, old, "Old parts kept or scrapped: which", NULL, 6);
}

/* ---- what was out, what is accepted ---- */

static void add_concession(Composer *c, const Concession *concession) {
  const char *reason = concession->reason.s;
  bool stop = reason[strlen(reason) - 1] == '.';
  add_text(c,
           arena_printf(c->arena, "Accepted: %s. %s%s Approved by %s. Customer: %s.",
                        subject_said(c->job, concession->subject.s), text_title(c->arena, reason),
                        stop ? "" : ".", concession->approver.s, concession->customer.s));
}

static void what_was_out(Composer *c) {
  const BuildEntry *build = c->job->build;
  OutItems out = {0};
  out_items(c->arena, c->job, c->plan, &out);
  group_begin(c);
  if (out.n || build->concessions.n) add_heading(c, 2, "Outside its limits, and what was accepted");
  for (size_t i = 0; i < out.n && i < OUT_SHOWN; i++)
    add_text(c, arena_printf(c->arena, "Found: %s.", out.at[i].found));
  if (out.n > OUT_SHOWN) add_text(c, arena_printf(c->arena, "And %zu more.", out.n - OUT_SHOWN));
  if (out.n) add_text(c, "What was decided stands in the nonconformance list of the packet.");
  for (size_t i = 0; i < build->concessions.n; i++) add_concession(c, &build->concessions.at[i]);
  if (!build->concessions.n)
    add_text(c, !c->job->readings ? "Concessions: none when printed; see the list of what was out."
                : out.n           ? "Concessions when printed: none."
                                  : "All that is entered lies inside its limits. No concession.");
}

/* ---- what comes next ---- */

/* "Fuel: unleaded petrol of at least 95 RON (Orrest)" */
static void add_asks(Composer *c, Block *bullets, const Entry *entry, size_t n,
                     const Detail *asks) {
  const char *whose = said_or(&entry->source.maker, source_print(c->arena, entry, NULL));
  for (size_t i = 0; i < n; i++)
    vec_push(c->arena, &bullets->items,
             arena_printf(c->arena, "%s: %s (%s)", text_title(c->arena, asks[i].label),
                          asks[i].value.s, whose));
}

static bool is_asked_by_part(const Job *job, const char *label) {
  for (size_t i = 0; i < job->roles.n; i++) {
    const Entry *part = job->roles.at[i]->part;
    for (size_t j = 0; part && j < part->is.part.asks.n; j++)
      if (text_is(part->is.part.asks.at[j].label, label)) return true;
  }
  return false;
}

/* A part's maker goes before the engine's; where two parts ask, both stand there. */
static void fuel_and_oil(Composer *c, Block *bullets) {
  const Job *job = c->job;
  for (size_t i = 0; i < job->engine->asks.n; i++)
    if (!is_asked_by_part(job, job->engine->asks.at[i].label))
      add_asks(c, bullets, job->engine_entry, 1, &job->engine->asks.at[i]);
  for (size_t i = 0; i < job->roles.n; i++) {
    const Entry *part = job->roles.at[i]->part;
    bool first = part != NULL;
    for (size_t j = 0; j < i && first; j++) first = job->roles.at[j]->part != part;
    if (first) add_asks(c, bullets, part, part->is.part.asks.n, part->is.part.asks.at);
  }
}

/* Its sheet has it tightened again, and no step of this work does. */
static bool is_due_later(const Plan *plan, const JobJoint *joint) {
  if (!joint->bundle || !joint->bundle->retorque_after.s || joint->undisturbed) return false;
  for (size_t i = 0; i < plan->steps.n; i++)
    for (size_t j = 0; j < plan->steps.at[i]->passes.n; j++) {
      const PlanPass *pass = &plan->steps.at[i]->passes.at[j];
      if (pass->joint == joint && pass->retorque) return false;
    }
  return true;
}

static void check_row(Composer *c, Block *table, const char *what, const char *when) {
  add_row(c, table);
  add_cell(c, table, CELL_TEXT, what);
  add_cell(c, table, when ? CELL_TEXT : CELL_BLANK, when);
  for (int i = 0; i < 3; i++) add_cell(c, table, CELL_BLANK, NULL);
}

static void re_checks(Composer *c) {
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Handover and re-checks", 62, false);
  add_column(c, table, "When", 34, false);
  add_column(c, table, "Odometer", 26, false);
  add_column(c, table, "Date", 26, false);
  add_column(c, table, "Initials", 22, false);
  check_row(c, table, "Handed over", "now");
  check_row(c, table, "First re-check", NULL);
  for (size_t i = 0; i < c->job->joints.n; i++) {
    const JobJoint *joint = c->job->joints.at[i];
    if (!is_due_later(c->plan, joint)) continue;
    const char *where = joint->instance->id ? joint->instance->label : "";
    check_row(c, table,
              arena_printf(c->arena, "%s%s%s, tightened again", joint->label, where[0] ? ", " : "",
                           where),
              joint_again_print(c->arena, joint));
  }
}

static void what_comes_next(Composer *c) {
  const BuildEntry *build = c->job->build;
  group_begin(c);
  add_heading(c, 2, "Fuel, oil, running in and re-checks");
  Block *bullets = block_add(c, BLOCK_BULLETS);
  fuel_and_oil(c, bullets);
  for (size_t i = 0; i < build->notes.n; i++)
    vec_push(c->arena, &bullets->items, build->notes.at[i].s);
  if (!bullets->items.n) c->group->blocks.n--;
  re_checks(c);
}

/* ---- who ---- */

static void add_signature(Composer *c, Block *fields, const char *what, const char *name) {
  add_field(c, fields,
            arena_printf(c->arena, "%s%s%s: sign, date", what, name ? " " : "", name ? name : ""),
            NULL, 4);
}

static void who_and_when(Composer *c) {
  const Readings *readings = c->job->readings;
  const char *technician = readings ? readings->technician.s : NULL;
  group_begin(c);
  Block *fields = block_add(c, BLOCK_FIELDS);
  add_signature(c, fields, "Work done by",
                technician ? technician : build_line(c->job, "technician"));
  add_signature(c, fields, "Approved by", build_line(c->job, "approver"));
  add_signature(c, fields, "Received by the customer", NULL);
}

void sheet_customer(Composer *c) {
  sheet_begin(c, "customer", "Customer sheet");
  what_was_done(c);
  parts_fitted(c);
  add_as_built(c);
  what_was_out(c);
  what_comes_next(c);
  who_and_when(c);
  for (size_t i = 0; i < c->sheet->groups.n; i++) c->sheet->groups.at[i].tight = true;
}
