/* What the customer keeps: what was done and to which data, what it came to, what comes next. */
#include "compose/completed.h"
#include "compose/joint_texts.h"

#include "base/near.h"
#include "model/job_words.h"
#include "model/readings.h"

#include <string.h>

#define OUT_SHOWN    3
#define TICKS_ACROSS 3 /* parts to tick beside each other */

/* ---- what was done ---- */

/* "Ring gaps filed to fit; Handover." where the build does not say in a sentence what was wanted:
 * chapters are the shop's words. */
static const char *work_said(Composer *c) {
  const BuildEntry *build = c->job->build;
  if (build->work.s) return build->work.s;
  Text text = text_new(c->arena);
  for (size_t i = 0; i < build->procedures.n; i++)
    if (build->procedures.at[i].entry)
      text_addf(&text, "%s%s", text.n ? "; " : "",
                said_or(&build->procedures.at[i].entry->name, ""));
  if (text.n) text_add(&text, ".");
  return text_done(&text);
}

/* The work, who did it, and the machine it was done to. */
static void what_was_done(Composer *c) {
  const BuildEntry *build = c->job->build;
  const char *address = c->job->shop ? c->job->shop->address.s : NULL;
  const char *when = c->job->readings ? c->job->readings->date.s : NULL;
  const char *who = arena_printf(c->arena, "%s%s%s", c->packet->shop, address ? ", " : "",
                                 address ? address : "");
  group_begin(c);
  add_heading(c, 1, "What was done to your machine");
  add_bold(c, work_said(c));
  Block *fields = block_add(c, BLOCK_FIELDS);
  add_field(c, fields, "Done by", who, when ? 9 : 12);
  if (when) add_field(c, fields, "Measured on", when, 3);
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

/* Which part is fitted is for the bench to say, and it has not yet. */
static bool is_open(Composer *c, const Role *role) {
  return is_replaced(c->job->build, role) && role_is_open(c->job, c->plan, role);
}

/* Not chosen by the build, but new because the work uses the old one up. */
static bool is_used_up(Composer *c, const Role *role) {
  if (!role->part || is_replaced(c->job->build, role)) return false;
  return is_new_part(c->job, role->part) && role_in_work(c, role);
}

/* "Orrest forged piston 83.4 mm, OR-8340" */
static const char *name_said(Composer *c, const Entry *part) {
  const char *number = part->is.part.number.s;
  return arena_printf(c->arena, "%s%s%s", said_or(&part->name, part->id), number ? ", " : "",
                      number ? number : "");
}

/* "Piston: Orrest forged piston 83.4 mm, OR-8340" */
static const char *part_said(Composer *c, const Role *role) {
  return arena_printf(c->arena, "%s: %s%s", role->label, name_said(c, role->part),
                      is_brought(c->job->build, role->name) ? ", brought by you" : "");
}

/* The parts of one sheet from a role on, a line each; those are taken from the list. */
static const char *parts_of_sheet(Composer *c, size_t from, const char *sheet, bool *told) {
  Text text = text_new(c->arena);
  for (size_t i = from; i < c->job->roles.n; i++) {
    const Role *role = c->job->roles.at[i];
    if (told[i] || !is_replaced(c->job->build, role) || is_open(c, role)) continue;
    if (!text_is(sheet_print(c, role->part), sheet)) continue;
    told[i] = true;
    text_addf(&text, "%s%s", text.n ? "\n" : "", part_said(c, role));
  }
  return text_done(&text);
}

/* "Cover seal; Intake O-ring.": they come without a choice; NULL: there are none. */
static const char *used_up_said(Composer *c) {
  Text text = text_new(c->arena);
  for (size_t i = 0; i < c->job->roles.n; i++) {
    const Role *role = c->job->roles.at[i];
    if (!is_used_up(c, role)) continue;
    text_addf(&text, "%s%s", text.n ? "; " : "", role->label);
  }
  if (!text.n) return NULL;
  text_add(&text, ".");
  return text_done(&text);
}

/* The parts on hand, to tick: none is told as fitted before that is known. */
static void parts_open(Composer *c, const Role *role) {
  Parts parts = parts_offered(c, role);
  size_t across = parts.n < TICKS_ACROSS ? parts.n : TICKS_ACROSS;
  Block *table = block_add(c, BLOCK_TABLE);
  for (size_t i = 0; i < across; i++) {
    add_column(c, table, i ? "" : "Fitted", 12, false);
    add_column(c, table, i ? "" : arena_printf(c->arena, "%s: tick which", role->label), 46, false);
  }
  for (size_t i = 0; i < parts.n || i % across; i++) {
    const Entry *part = i < parts.n ? parts.at[i] : NULL;
    if (i % across == 0) add_row(c, table);
    add_cell(c, table, part ? CELL_TICK : CELL_TEXT, part ? NULL : "");
    add_cell(c, table, CELL_TEXT, part ? name_said(c, part) : "");
  }
}

/* A row for each maker's sheet; with what became of the parts that came off. */
static void parts_fitted(Composer *c) {
  bool *told = ARENA_NEW_N(c->arena, bool, c->job->roles.n + 1), any = false;
  group_begin(c);
  add_heading(c, 2, "Parts fitted, and what it came to");
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Part, order number", 98, false);
  add_column(c, table, "By whose sheet", 72, false);
  for (size_t i = 0; i < c->job->roles.n; i++) {
    const Role *role = c->job->roles.at[i];
    if (told[i] || !is_replaced(c->job->build, role)) continue;
    any = true;
    if (is_open(c, role)) continue;
    const char *sheet = sheet_print(c, role->part);
    add_row(c, table);
    add_cell(c, table, CELL_TEXT, parts_of_sheet(c, i, sheet, told));
    add_cell(c, table, CELL_TEXT, sheet);
  }
  const char *used_up = used_up_said(c);
  if (!any) {
    add_row(c, table);
    add_cell(c, table, CELL_TEXT, used_up ? arena_printf(c->arena, "New: %s", used_up) : "None.");
    add_cell(c, table, CELL_TEXT, "");
  }
  add_row(c, table);
  add_cell(c, table, CELL_TEXT, "Old parts handed back, kept or scrapped: which");
  add_cell(c, table, CELL_BLANK, NULL);
  for (size_t i = 0; i < c->job->roles.n; i++)
    if (is_open(c, c->job->roles.at[i])) parts_open(c, c->job->roles.at[i]);
  if (!any || !used_up) return;
  Block *block = block_add(c, BLOCK_TEXT);
  block->text = arena_printf(c->arena, "Also new: %s", used_up);
  block->small = true;
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

/* "Found: Ring gap, top: 0.49 mm, limits 0.38 to 0.45 mm; and 26 more." */
static const char *out_said(Composer *c, const OutItems *out) {
  Text text = text_new(c->arena);
  for (size_t i = 0; i < out->n && i < OUT_SHOWN; i++)
    text_addf(&text, "%s%s", i ? "; " : "Found: ", out->at[i].found);
  if (out->n > OUT_SHOWN) text_addf(&text, "; and %zu more", out->n - OUT_SHOWN);
  text_addf(&text, ". What was decided stands in the packet's nonconformance list.%s",
            c->job->build->concessions.n ? "" : " Concessions when printed: none.");
  return text_done(&text);
}

static void what_was_out(Composer *c) {
  const BuildEntry *build = c->job->build;
  OutItems out = {0};
  out_items(c->arena, c->job, c->plan, &out);
  group_begin(c);
  if (out.n || build->concessions.n) add_heading(c, 2, "Outside its limits, and what was accepted");
  if (out.n) add_text(c, out_said(c, &out));
  for (size_t i = 0; i < build->concessions.n; i++) add_concession(c, &build->concessions.at[i]);
  if (!build->concessions.n && !out.n)
    add_text(c, c->job->readings ? "All that is entered lies inside its limits. No concession."
                                 : "Concessions: none when printed. The list of what was out goes with this sheet.");
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

/* "fuel" and "fule" are one and the same. */
static bool is_one_label(const char *a, const char *b) {
  return text_is(a, b) || near_slip(a, b) || near_slip(b, a);
}

static bool is_asked_by_part(const Job *job, const char *label) {
  for (size_t i = 0; i < job->roles.n; i++) {
    const Entry *part = job->roles.at[i]->part;
    for (size_t j = 0; part && j < part->is.part.asks.n; j++)
      if (is_one_label(part->is.part.asks.at[j].label, label)) return true;
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

/* Beside what the work uses up: which oil, and how much of it. */
void add_fuel_and_oil(Composer *c) {
  Block *bullets = block_add(c, BLOCK_BULLETS);
  fuel_and_oil(c, bullets);
  if (!bullets->items.n) c->group->blocks.n--;
}

static void check_row(Composer *c, Block *table, const char *what, const char *when) {
  add_row(c, table);
  add_cell(c, table, CELL_TEXT, what);
  add_cell(c, table, when ? CELL_TEXT : CELL_BLANK, when);
  for (int i = 0; i < 3; i++) add_cell(c, table, CELL_BLANK, NULL);
}

static void re_checks(Composer *c) {
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Re-checks", 62, false);
  add_column(c, table, "When", 34, false);
  add_column(c, table, "Odometer", 26, false);
  add_column(c, table, "Date", 26, false);
  add_column(c, table, "Initials", 22, false);
  check_row(c, table, "First re-check", c->job->build->recheck.s);
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
  add_heading(c, 2, "What comes next");
  Block *bullets = block_add(c, BLOCK_BULLETS);
  fuel_and_oil(c, bullets);
  for (size_t i = 0; i < build->notes.n; i++)
    vec_push(c->arena, &bullets->items, build->notes.at[i].s);
  if (!bullets->items.n) c->group->blocks.n--;
  re_checks(c);
}

/* ---- who ---- */

static void add_signature(Composer *c, Block *fields, const char *what, const char *name,
                          int width) {
  add_field(c, fields, name ? arena_printf(c->arena, "%s %s", what, name) : what, NULL, width);
}

static void who_and_when(Composer *c) {
  const Readings *readings = c->job->readings;
  const char *technician = readings ? readings->technician.s : NULL;
  group_begin(c);
  Block *fields = block_add(c, BLOCK_FIELDS);
  add_signature(c, fields, "Work done by",
                technician ? technician : build_line(c->job, "technician"), 4);
  add_signature(c, fields, "Approved by", build_line(c->job, "approver"), 3);
  add_signature(c, fields, "Received by you", NULL, 3);
  add_signature(c, fields, "Date, odometer", NULL, 2);
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
