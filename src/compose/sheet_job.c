/* The first sheet: what the job is, what comes out, and what the marks mean. */
#include "compose/completed.h"

#include "model/job_words.h"

#include <string.h>

static void what_it_is(Composer *c) {
  const BuildEntry *build = c->job->build;
  group_begin(c);
  add_heading(c, 1, said_or(&c->job->build_entry->name, c->packet->job));
  if (build->work.s) add_text(c, build->work.s);
  Block *fields = block_add(c, BLOCK_FIELDS);
  add_field(c, fields, "Job", c->packet->job, 4);
  add_field(c, fields, "Date of the inputs", c->packet->date, 4);
  add_field(c, fields, "Copy", c->packet->copy, 4);
  for (size_t i = 0; i < build->machine.n; i++)
    add_field(c, fields, text_title(c->arena, build->machine.at[i].label),
              build->machine.at[i].value.s, 4);
  for (size_t i = 0; i < build->customer.n; i++)
    add_field(c, fields, arena_printf(c->arena, "Customer, %s", build->customer.at[i].label),
              build->customer.at[i].value.s, 4);
  for (size_t i = 0; i < build->people.n; i++)
    add_field(c, fields, text_title(c->arena, build->people.at[i].label),
              build->people.at[i].value.s, 4);
  add_field(c, fields, "Shop", c->packet->shop, 4);
}

static void what_holds(Composer *c) {
  group_begin(c);
  Block *bullets = block_add(c, BLOCK_BULLETS);
  static const char *const lines[] = {
      "Where the maker's service information or local law differs from this packet, follow them.",
      "Work that needs a licence or training is for those who have it.",
      "Measure first, then decide. A prediction is not a reading.",
      ("A reading outside its limits, or a check that fails: tick out, stop that work, enter it in "
       "the nonconformance list."),
      ("Of several readings in one box the middle one counts, of several places of one size their "
       "mean."),
      "A tightening pass broken off begins again at its first fastener.",
      "To correct an entry, draw one line through it and add your initials and the date.",
  };
  for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
    vec_push(c->arena, &bullets->items, lines[i]);
}

static Block *values_table(Composer *c) {
  Block *table = block_add(c, BLOCK_TABLE);
  bool read = c->job->readings != NULL;
  add_column(c, table, "Value", read ? 46 : 62, false);
  add_column(c, table, read ? "By the parts" : "Predicted", 22, true);
  add_column(c, table, "Worst found", 31, true);
  if (read) add_column(c, table, "Measured", 22, true);
  add_column(c, table, "Allowed", 31, true);
  add_column(c, table, "Whose limit", 22, false);
  return table;
}

/* The unit stands beside the prediction; again in every cell it only breaks lines. */
static const char *without_unit(Composer *c, const char *text, const Unit *unit) {
  size_t n = strlen(text), tail = strlen(unit->print);
  if (!tail || n < tail + 1 || !text_is(text + n - tail, unit->print)) return text;
  return arena_text(c->arena, text, n - tail - 1);
}

/* "2 of 4 read" while boxes of the value are still empty: the prediction stays. */
static const char *measured_so_far(Composer *c, const Quantity *quantity) {
  int of = 0, filled = boxes_filled(c->plan, quantity, &of);
  const char *measured = measured_print(c->arena, c->job, c->plan, quantity);
  if (measured || !filled) return measured;
  return arena_printf(c->arena, "%d of %d read", filled, of);
}

static void value_row(Composer *c, Block *table, size_t index, Words *sheets) {
  const Quantity *quantity = c->job->quantities.at[index];
  Quantity parts = quantity_by_parts(c->job, quantity);
  add_row(c, table);
  add_cell(c, table, CELL_TEXT, quantity_members_print(c->arena, c->job, index, true));
  add_cell(c, table, CELL_NUMBER, predicted_print(c->arena, &parts));
  const char *range = range_print(c->arena, &parts);
  add_cell(c, table, CELL_NUMBER,
           range                                  ? without_unit(c, range, quantity->decl->unit)
           : parts.predicted.state == VALUE_KNOWN ? "exact"
                                                  : "");
  if (c->job->readings) add_cell(c, table, CELL_NUMBER, measured_so_far(c, quantity));
  const char *allowed = allowed_print(c->arena, quantity);
  add_cell(c, table, CELL_NUMBER, allowed ? without_unit(c, allowed, quantity->decl->unit) : "");
  const Voice *whose = &quantity->allowed.winner;
  add_cell(c, table, CELL_TEXT,
           allowed && whose->entry ? source_by_letter(c, sheets, whose->entry, whose->page) : "");
}

static void computed(Composer *c, bool headline, Words *sheets) {
  Block *table = NULL;
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    const Quantity *quantity = c->job->quantities.at[i];
    if ((quantity->decl->headline.s != NULL) != headline) continue;
    if (!headline && !quantity->allowed.said) continue; /* `sheaf check` has them all */
    if (quantity->predicted.state != VALUE_KNOWN || !quantity_leads(c->arena, c->job, i)) continue;
    if (!table) {
      group_begin(c);
      add_heading(c, 2, headline ? "What this build comes to" : "Other values with limits");
      table = values_table(c);
    }
    value_row(c, table, i, sheets);
  }
}

/* What would reach the targets of the build: proposals, the build stays as it is. */
static void targets(Composer *c) {
  if (!c->job->targets.n) return;
  group_begin(c);
  add_heading(c, 2, "Targets");
  for (size_t i = 0; i < c->job->targets.n; i++) {
    const JobTarget *target = &c->job->targets.at[i];
    add_text(c, arena_printf(c->arena, "%s: %s. A proposal: the build stays as it is.",
                             target->quantity->label, target->says));
    Block *table = block_add(c, BLOCK_TABLE);
    add_column(c, table, text_title(c->arena, text_exchange(c->arena, target->input, '.', ' ')), 60,
               false);
    add_column(c, table, target->quantity->label, 40, true);
    add_column(c, table, "Limits", 50, false);
    for (size_t j = 0; j < target->lines.n; j++) {
      const TargetLine *line = &target->lines.at[j];
      add_row(c, table);
      add_cell(c, table, CELL_TEXT, line->input);
      add_cell(c, table, CELL_NUMBER,
               line->known ? quantity_print(c->arena, line->result, target->quantity->decl->unit,
                                            quantity_places(target->quantity))
                           : "not known");
      add_cell(c, table, CELL_TEXT,
               !line->inside   ? "outside"
               : line->nearest ? "inside, nearest"
                               : "inside");
    }
  }
}

static void concessions(Composer *c) {
  const BuildEntry *build = c->job->build;
  if (!build->concessions.n) {
    if (!c->brief) add_text(c, "Concessions: none.");
    return;
  }
  group_begin(c);
  add_heading(c, 2, "Concessions");
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "What", 30, false);
  add_column(c, table, "Reason", 60, false);
  add_column(c, table, "Approved by", 24, false);
  add_column(c, table, "Customer", 24, false);
  for (size_t i = 0; i < build->concessions.n; i++) {
    const Concession *concession = &build->concessions.at[i];
    add_row(c, table);
    add_cell(c, table, CELL_TEXT, subject_said(c->job, concession->subject.s));
    add_cell(c, table, CELL_TEXT, concession->reason.s);
    add_cell(c, table, CELL_TEXT, concession->approver.s);
    add_cell(c, table, CELL_TEXT, concession->customer.s);
  }
}

/* What the compile found and let pass: the technician should know before starting. */
static void concerns(Composer *c) {
  Block *bullets = NULL;
  const Findings *findings = c->run->findings;
  for (size_t i = 0; i < findings->list.n; i++) {
    const Finding *finding = findings->list.at[i];
    if (finding->severity != SEVERITY_CONCERN) continue;
    if (!bullets) {
      group_begin(c);
      add_heading(c, 2, "To keep in mind");
      bullets = block_add(c, BLOCK_BULLETS);
    } else if (bullets->items.n >= 8) {
      group_begin(c);
      bullets = block_add(c, BLOCK_BULLETS);
    }
    vec_push(c->arena, &bullets->items,
             arena_printf(c->arena, "%s.", text_title(c->arena, finding->text)));
  }
}

void add_legend(Composer *c) {
  group_begin(c);
  add_heading(c, 2, "What the marks mean");
  block_add(c, BLOCK_LEGEND);
}

/* In a short packet it has room for the legend, where the first page has none. */
static bool has_safety_sheet(const Composer *c) {
  const Entry *packet = c->job->build->packet.entry;
  for (size_t i = 0; packet && i < packet->is.packet.sheets.n; i++)
    if (text_is(packet->is.packet.sheets.at[i].s, "safety")) return true;
  return false;
}

void sheet_job(Composer *c) {
  sheet_begin(c, "job", "Job sheet");
  what_it_is(c);
  what_holds(c);
  add_changes(c);
  add_readings_head(c);
  Words sheets = {0};
  computed(c, true, &sheets);
  computed(c, false, &sheets);
  add_sources(c, &sheets);
  concessions(c);
  targets(c);
  concerns(c);
  if (!c->brief || !has_safety_sheet(c)) add_legend(c);
  block_add(c, BLOCK_SCALE_BAR);
  for (size_t i = 0; i < c->sheet->groups.n; i++) c->sheet->groups.at[i].tight = true;
}
