/* What must lie ready before the first step. */
#include "compose/composer.h"
#include "compose/joint_texts.h"

#include "model/job_words.h"

static int role_count(Composer *c, const Role *role) {
  int n = 0;
  for (size_t i = 0; i < c->job->instances.n; i++)
    if (c->job->instances.at[i]->set == role->per) n++;
  return n;
}

/* Further new ones that the work takes in place of those it uses up. */
static int further(Composer *c, const Role *role) {
  int n = 0;
  for (size_t i = 0; i < c->plan->steps.n; i++)
    n += said_names(&c->plan->steps.at[i]->decl->another, role->name);
  return n;
}

static void none(Composer *c) {
  add_text(c, "None.");
}

static const PartChoice *choice_of(Composer *c, const Role *role) {
  for (size_t i = 0; i < c->job->build->parts.n; i++)
    if (text_is(c->job->build->parts.at[i].role, role->name)) return &c->job->build->parts.at[i];
  return NULL;
}

static void part_row(Composer *c, Block *table, const Role *role, const Entry *part,
                     const char *how) {
  add_row(c, table);
  add_cell(c, table, CELL_TICK, NULL);
  add_cell(c, table, CELL_NUMBER,
           arena_printf(c->arena, "%d", role_count(c, role) + further(c, role)));
  add_cell(c, table, CELL_TEXT, arena_printf(c->arena, "%s%s: %s", role->label, how, part->name.s));
  add_cell(c, table, CELL_TEXT, said_or(&part->is.part.number, ""));
  add_cell(c, table, CELL_TEXT, is_new_part(c->job, part) ? "new" : "");
  add_cell(c, table, CELL_BLANK, NULL);
}

/* The parts the build chose come first; the engine's own follow. */
static void parts(Composer *c) {
  for (int chosen = 1; chosen >= 0; chosen--) {
    Block *table = NULL;
    group_begin(c);
    add_heading(c, 2, chosen ? "Parts chosen for this build" : "The machine's own parts");
    for (size_t i = 0; i < c->job->roles.n; i++) {
      const Role *role = c->job->roles.at[i];
      const PartChoice *choice = choice_of(c, role);
      if (!role->part || (choice != NULL) != (chosen == 1)) continue;
      if (!chosen && !role_in_work(c, role)) continue;
      if (!table || table->rows.n >= 20) {
        if (table) group_begin(c);
        table = block_add(c, BLOCK_TABLE);
        add_column(c, table, "Ready", 15, false);
        add_column(c, table, "Qty", 10, true);
        add_column(c, table, "Part", 70, false);
        add_column(c, table, "Order number", 32, false);
        add_column(c, table, "New", 12, false);
        add_column(c, table, "Batch or mark", 36, false);
      }
      part_row(c, table, role, role->part, "");
      for (size_t o = 0; choice && o < choice->offered.n; o++) {
        const Entry *other = choice->offered.at[o].entry;
        if (other && other->kind == ENTRY_PART && other != role->part)
          part_row(c, table, role, other, ", or");
      }
    }
    if (!table) none(c);
  }
}

static void consumables(Composer *c) {
  Block *table = NULL;
  group_begin(c);
  add_heading(c, 2, "Consumables");
  for (size_t i = 0; i < c->job->library->list.n; i++) {
    const Entry *entry = c->job->library->list.at[i];
    if (entry->kind != ENTRY_CONSUMABLE || !consumable_in_work(c, entry)) continue;
    if (!table) {
      table = block_add(c, BLOCK_TABLE);
      add_column(c, table, "Ready", 15, false);
      add_column(c, table, "What", 60, false);
      add_column(c, table, "For", 70, false);
      add_column(c, table, "Batch, use by", 30, false);
    }
    add_row(c, table);
    add_cell(c, table, CELL_TICK, NULL);
    add_cell(c, table, CELL_TEXT, entry->name.s);
    add_cell(c, table, CELL_TEXT, said_or(&entry->is.consumable.use, ""));
    add_cell(c, table, CELL_BLANK, NULL);
  }
  if (table)
    add_fuel_and_oil(c);
  else
    none(c);
}

static const Entry *thread_condition(const JobJoint *joint) {
  if (!joint->bundle) return NULL;
  return joint->bundle->threadlock.entry ? joint->bundle->threadlock.entry
                                         : joint->bundle->lubricant.entry;
}

/* What goes on which threads: a torque holds for that condition only. */
static void threads(Composer *c) {
  Block *table = NULL;
  for (size_t i = 0; i < c->job->library->list.n; i++) {
    const Entry *entry = c->job->library->list.at[i];
    Text joints = text_new(c->arena);
    const char *last = NULL;
    for (size_t j = 0; j < c->job->joints.n; j++) {
      const JobJoint *joint = c->job->joints.at[j];
      if (thread_condition(joint) != entry || text_is(joint->name, last)) continue;
      if (!plan_tightens(c->plan, joint)) continue;
      text_addf(&joints, "%s%s", last ? ", " : "", joint->label);
      last = joint->name;
    }
    if (!last) continue;
    if (!table) {
      group_begin(c);
      add_heading(c, 2, "What goes on the threads");
      table = block_add(c, BLOCK_TABLE);
      add_column(c, table, "Condition", 55, false);
      add_column(c, table, "Joints", 120, false);
    }
    add_row(c, table);
    add_cell(c, table, CELL_TEXT, entry->name.s);
    add_cell(c, table, CELL_TEXT, text_done(&joints));
  }
}

static const char *old_one(Composer *c, const Role *role) {
  return arena_printf(c->arena, "%s, an old one for the trial", role->label);
}

/* Tools the steps name and drives the joints ask for, each once. */
static void tools(Composer *c) {
  Words words = {0};
  for (size_t i = 0; i < c->plan->steps.n; i++) {
    const SaidList *tools = &c->plan->steps.at[i]->decl->tools;
    for (size_t j = 0; j < tools->n; j++)
      if (!text_has(&words, tools->at[j].s)) vec_push(c->arena, &words, tools->at[j].s);
  }
  for (size_t i = 0; i < c->job->joints.n; i++) {
    const char *drive = c->job->joints.at[i]->hardware->drive.s;
    if (drive && plan_tightens(c->plan, c->job->joints.at[i]) && !text_has(&words, drive))
      vec_push(c->arena, &words, drive);
  }
  for (size_t i = 0; i < c->job->roles.n; i++)
    for (size_t s = 0; s < c->plan->steps.n; s++)
      if (said_names(&c->plan->steps.at[s]->decl->old, c->job->roles.at[i]->name)) {
        vec_push(c->arena, &words, old_one(c, c->job->roles.at[i]));
        break;
      }
  group_begin(c);
  add_heading(c, 2, "Tools");
  if (!words.n) {
    none(c);
    return;
  }
  Block *table = block_add(c, BLOCK_TABLE);
  for (int i = 0; i < 2; i++) {
    add_column(c, table, "Ready", 15, false);
    add_column(c, table, "Tool", 75, false);
  }
  for (size_t i = 0; i < words.n; i += 2) {
    add_row(c, table);
    for (size_t j = i; j < i + 2; j++) {
      add_cell(c, table, j < words.n ? CELL_TICK : CELL_TEXT, NULL);
      add_cell(c, table, CELL_TEXT, j < words.n ? text_title(c->arena, words.at[j]) : "");
    }
  }
}

static bool gauge_is_used(Composer *c, const Gauge *gauge) {
  for (size_t i = 0; i < c->plan->boxes.n; i++)
    if (c->plan->boxes.at[i]->gauge == gauge) return true;
  return false;
}

static void instrument(Composer *c, Block *table, const char *id, const char *label,
                       const Expr *range, const Expr *reads, const char *due) {
  add_row(c, table);
  add_cell(c, table, CELL_TICK, NULL);
  add_cell(c, table, CELL_TEXT, id);
  add_cell(c, table, CELL_TEXT, label);
  add_cell(c, table, CELL_TEXT,
           range->kind == EXPR_LITERAL ? literal_print(c->arena, &range->literal) : "");
  add_cell(c, table, CELL_TEXT,
           reads && reads->kind == EXPR_LITERAL ? literal_print(c->arena, &reads->literal) : "");
  add_cell(c, table, CELL_TEXT, due ? due : "not given");
}

/* Somebody holds it against another before it is used, and says so. */
static void check_it(Composer *c, Block **fields, const char *id, const char *due) {
  if (!date_before(due, c->job->build->date.s)) return;
  if (!*fields) {
    add_bold(c, "Past its calibration: check before use.");
    *fields = block_add(c, BLOCK_FIELDS);
  }
  add_field(c, *fields, arena_printf(c->arena, "%s held against", id), NULL, 4);
  add_field(c, *fields, "it reads", NULL, 2);
  add_field(c, *fields, "the other", NULL, 2);
  add_field(c, *fields, "by, date", NULL, 4);
}

static void past_calibration(Composer *c) {
  const ShopEntry *shop = c->job->shop;
  Block *fields = NULL;
  for (size_t i = 0; shop && i < shop->gauges.n; i++) {
    const Gauge *gauge = &shop->gauges.at[i];
    if (gauge_is_used(c, gauge))
      check_it(c, &fields, said_or(&gauge->id, gauge->name), gauge->due.s);
  }
  for (size_t i = 0; shop && i < shop->wrenches.n; i++) {
    const Wrench *wrench = &shop->wrenches.at[i];
    if (plan_uses_wrench(c->plan, c->job, wrench))
      check_it(c, &fields, wrench_name(wrench), wrench->due.s);
  }
}

static void instruments(Composer *c) {
  const ShopEntry *shop = c->job->shop;
  group_begin(c);
  add_heading(c, 2, "Gauges and torque wrenches");
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Ready", 15, false);
  add_column(c, table, "Id", 14, false);
  add_column(c, table, "Instrument", 56, false);
  add_column(c, table, "Range", 36, false);
  add_column(c, table, "Reads", 24, false);
  add_column(c, table, "Calibration due", 32, false);
  for (size_t i = 0; shop && i < shop->gauges.n; i++) {
    const Gauge *gauge = &shop->gauges.at[i];
    if (gauge_is_used(c, gauge))
      instrument(c, table, said_or(&gauge->id, gauge->name), said_or(&gauge->label, gauge->name),
                 &gauge->range, &gauge->resolution, gauge->due.s);
  }
  for (size_t i = 0; shop && i < shop->wrenches.n; i++) {
    const Wrench *wrench = &shop->wrenches.at[i];
    if (plan_uses_wrench(c->plan, c->job, wrench))
      instrument(c, table, wrench_name(wrench), said_or(&wrench->label, wrench->name),
                 &wrench->range, NULL, wrench->due.s);
  }
  past_calibration(c);
}

/* By what people call them; a word that is no role was reported. */
static const char *customers_parts(Composer *c) {
  const SaidList *roles = &c->job->build->supplied_by_customer;
  Words labels = {0};
  for (size_t i = 0; i < roles->n; i++) {
    const Role *role = job_role(c->job, roles->at[i].s);
    if (role) vec_push(c->arena, &labels, role->label);
  }
  return labels.n ? text_join(c->arena, &labels, ", ") : "none";
}

/* Who is not named yet writes the name here. */
static void condition(Composer *c) {
  Block *fields = block_add(c, BLOCK_FIELDS);
  if (!build_line(c->job, "technician")) add_field(c, fields, "Technician", NULL, 6);
  if (!build_line(c->job, "second person"))
    add_field(c, fields, "Second person for verify and hold", NULL, 6);
  add_field(c, fields, "Room temperature, degC", NULL, 4);
  add_field(c, fields, "As received", NULL, 4);
  add_field(c, fields, "Customer's own parts", customers_parts(c), 4);
}

void sheet_setup(Composer *c) {
  sheet_begin(c, "setup", "Setup sheet");
  group_begin(c);
  add_heading(c, 1, "Ready before the first step");
  condition(c);
  parts(c);
  add_tag_table(c);
  add_stock(c);
  consumables(c);
  if (!c->brief) threads(c); /* the torque sheet has the condition of each joint */
  tools(c);
  instruments(c);
  for (size_t i = 0; i < c->sheet->groups.n; i++) c->sheet->groups.at[i].tight = true;
}
