/* What the work came to, for the customer: before and after, and the sizes as built. */
#include "compose/completed.h"

#include "model/job_words.h"

#define MOST_ACROSS 4 /* members with a column each */
#define ROWS_MOST   24

/* ---- before and after ---- */

static int boxes_of(const Composer *c, const Quantity *quantity) {
  int of = 0;
  boxes_filled(c->plan, quantity, &of);
  return of;
}

/* A quantity of its own says how it was when it came in. */
static bool is_afterwards(const Composer *c, const char *name) {
  for (size_t i = 0; i < c->job->quantities.n; i++)
    if (text_is(c->job->quantities.at[i]->decl->afterwards.s, name) &&
        boxes_of(c, c->job->quantities.at[i]))
      return true;
  return false;
}

/* Before the work: what is read during it is no before to the customer. */
static bool is_of_before(const char *occasion) {
  return text_is(occasion, "as found") || text_is(occasion, "as received");
}

/* What says the same when the work is done; NULL: this is no reading of before. */
static const Quantity *after_of(const Composer *c, const Quantity *before) {
  const char *name = before->decl->afterwards.s;
  if ((!name && !is_of_before(before->occasion)) || !boxes_of(c, before)) return NULL;
  if (!name && !is_afterwards(c, before->name)) name = before->name;
  if (!name) return NULL;
  return job_quantity(c->job, name, before->instance, NULL);
}

static bool is_compared(const Composer *c, const Quantity *quantity) {
  if (after_of(c, quantity)) return true;
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    const Quantity *before = c->job->quantities.at[i];
    const char *later = before->decl->afterwards.s;
    bool may = before->decl == quantity->decl || (later && text_is(later, quantity->name));
    if (may && after_of(c, before) == quantity) return true;
  }
  return false;
}

/* Its value once it is read; a box to write in until then. */
static void built_cell(Composer *c, Block *table, const Quantity *quantity) {
  const char *measured = measured_print(c->arena, c->job, c->plan, quantity);
  add_cell(c, table, measured ? CELL_NUMBER : CELL_BLANK, measured);
}

static const char *of_member(Composer *c, const Quantity *quantity) {
  return quantity->instance->id
             ? arena_printf(c->arena, "%s, %s", quantity->label, quantity->instance->label)
             : quantity->label;
}

/* ---- values as built ---- */

static bool is_open(const Composer *c, const Quantity *quantity) {
  return quantity_is_open(c->job, c->plan, quantity);
}

static bool is_table_answer(const Composer *c, const Quantity *quantity) {
  for (size_t i = 0; i < c->plan->steps.n; i++) {
    const PlanTable *table = c->plan->steps.at[i]->table;
    for (size_t j = 0; table && j < table->answers.n; j++)
      if (table->answers.at[j] == quantity) return true;
  }
  return false;
}

/* Has a box of its own, or once there are readings hangs on one. While nothing says which part is
 * fitted, what a bench table answers is to be written in. */
static bool is_measured_here(const Composer *c, const Quantity *quantity) {
  if (boxes_of(c, quantity) > 0) return true;
  if (is_open(c, quantity)) return is_table_answer(c, quantity);
  return c->job->readings && quantity_is_touched(c->job, quantity);
}

static bool any_member_measured(const Composer *c, const Quantity *quantity) {
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    const Quantity *other = c->job->quantities.at[i];
    if (other->decl == quantity->decl && text_is(other->occasion, quantity->occasion) &&
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

static bool is_key_size(const Composer *c, const Quantity *quantity) {
  bool of_between = !text_is(quantity->occasion, "final") && !is_of_before(quantity->occasion);
  return quantity->decl->headline.s && !of_between && !is_compared(c, quantity);
}

static bool is_in_rows(Composer *c, size_t index) {
  const Quantity *quantity = c->job->quantities.at[index];
  if (!is_key_size(c, quantity) || set_across(c, quantity)) return false;
  if (any_member_measured(c, quantity)) return true;
  return !is_open(c, quantity) && quantity_leads(c->arena, c->job, index);
}

/* The set whose two members stand beside each other; NULL: a row each. */
static const Set *set_compared(const Composer *c, const Quantity *before) {
  if (!before->instance->set) return NULL;
  const Set *set = instance_top(before->instance)->set;
  return members_of(c, set) == 2 ? set : NULL;
}

/* Follows from the parts alone: nobody limits it and nothing measures it. */
static bool is_given(Composer *c, size_t index) {
  const Quantity *quantity = c->job->quantities.at[index];
  return !any_member_measured(c, quantity) && !allowed_print(c->arena, quantity);
}

/* "Stroke 79.60 mm; Displacement 869.7 cm3": no row for each, nothing is to be compared. */
static void values_given(Composer *c) {
  Text text = text_new(c->arena);
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    if (!is_in_rows(c, i) || !is_given(c, i)) continue;
    Quantity by_parts = quantity_by_parts(c->job, c->job->quantities.at[i]);
    text_addf(&text, "%s%s %s",
              text.n ? "; " : "By the parts: ", quantity_members_print(c->arena, c->job, i, true),
              predicted_print(c->arena, &by_parts));
  }
  if (!text.n) return;
  text_add(&text, ".");
  group_begin(c);
  Block *block = block_add(c, BLOCK_TEXT);
  block->text = text_done(&text);
  block->small = true;
}

/* Of the whole engine, as it came in and now: in the columns of what is measured. */
static bool is_compared_in_rows(const Composer *c, const Quantity *before) {
  return after_of(c, before) && !set_compared(c, before);
}

static void compared_in_rows(Composer *c, Block *table, const Quantity *before) {
  const Quantity *after = after_of(c, before);
  const char *allowed = allowed_print(c->arena, after);
  add_row(c, table);
  add_cell(c, table, CELL_TEXT, of_member(c, after));
  built_cell(c, table, before);
  built_cell(c, table, after);
  add_cell(c, table, CELL_NUMBER, allowed ? allowed : "");
}

static void value_row(Composer *c, Block *table, size_t index, bool any) {
  const Quantity *quantity = c->job->quantities.at[index];
  if (is_compared_in_rows(c, quantity)) {
    compared_in_rows(c, table, quantity);
    return;
  }
  const char *allowed = allowed_print(c->arena, quantity);
  Quantity by_parts = quantity_by_parts(c->job, quantity);
  add_row(c, table);
  add_cell(c, table, CELL_TEXT,
           any_member_measured(c, quantity)
               ? of_member(c, quantity)
               : quantity_members_print(c->arena, c->job, index, true));
  add_cell(c, table, CELL_NUMBER,
           is_open(c, quantity) ? "-" : predicted_print(c->arena, &by_parts));
  if (any && is_measured_here(c, quantity))
    built_cell(c, table, quantity);
  else if (any)
    add_cell(c, table, CELL_TEXT, "");
  add_cell(c, table, CELL_NUMBER, allowed ? allowed : "");
}

/* Has a row among the sizes. */
static bool has_row(Composer *c, size_t index) {
  return is_compared_in_rows(c, c->job->quantities.at[index]) ||
         (is_in_rows(c, index) && !is_given(c, index));
}

/* Which columns the sizes need. */
typedef struct SizeColumns {
  bool measured, before;
} SizeColumns;

static SizeColumns size_columns(Composer *c) {
  SizeColumns columns = {0};
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    const Quantity *quantity = c->job->quantities.at[i];
    if (is_compared_in_rows(c, quantity)) columns.before = true;
    if (has_row(c, i) && any_member_measured(c, quantity)) columns.measured = true;
  }
  columns.measured = columns.measured || columns.before;
  return columns;
}

/* Values of the whole engine, and of members that print alike and are not measured one by one. */
static void values_in_rows(Composer *c) {
  Block *table = NULL;
  SizeColumns columns = size_columns(c);
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    if (!has_row(c, i)) continue;
    if (!table || table->rows.n >= ROWS_MOST) {
      group_begin(c);
      table = block_add(c, BLOCK_TABLE);
      add_column(c, table, "Size or value", 66, false);
      add_column(c, table, columns.before ? "By parts, before" : "By the parts", 32, true);
      if (columns.measured) add_column(c, table, "As measured", 32, true);
      add_column(c, table, "Allowed", 42, true);
    }
    value_row(c, table, i, columns.measured);
  }
}

/* The same of two members. */
static bool is_one_row(Composer *c, const Quantity *a, const Quantity *b) {
  return text_is(a->name, b->name) && text_is(a->occasion, b->occasion) &&
         text_is(instance_label_below(c->arena, a->instance),
                 instance_label_below(c->arena, b->instance));
}

/* What is allowed in the row: once where it is the same for all, else in order of the columns. */
static const char *allowed_in_row(Composer *c, const Quantity *first) {
  Words said = {0};
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    const char *allowed = is_one_row(c, first, c->job->quantities.at[i])
                              ? allowed_print(c->arena, c->job->quantities.at[i])
                              : NULL;
    if (allowed && !text_has(&said, allowed)) vec_push(c->arena, &said, allowed);
  }
  Text out = text_new(c->arena);
  for (size_t i = 0; i < said.n; i++) text_addf(&out, "%s%s", i ? "; " : "", said.at[i]);
  return text_done(&out);
}

static bool begins_row(Composer *c, size_t index) {
  for (size_t i = 0; i < index; i++)
    if (is_one_row(c, c->job->quantities.at[i], c->job->quantities.at[index])) return false;
  return true;
}

static const Quantity *of_row_at(Composer *c, const Quantity *first, const Instance *member) {
  const Quantity *here = NULL;
  for (size_t i = 0; i < c->job->quantities.n; i++) {
    const Quantity *other = c->job->quantities.at[i];
    bool inside = other->instance->set && instance_top(other->instance) == member;
    if (inside && is_one_row(c, first, other)) here = other;
  }
  return here;
}

static void across_label(Composer *c, Block *table, const Quantity *first) {
  const char *below = instance_label_below(c->arena, first->instance);
  add_row(c, table);
  add_cell(c, table, CELL_TEXT,
           below[0] ? arena_printf(c->arena, "%s, %s", first->label, below) : first->label);
}

/* What is not measured before has a dash there, not an empty place. */
static void across_row(Composer *c, Block *table, const Set *set, const Quantity *first,
                       bool before) {
  across_label(c, table, first);
  for (size_t i = 0; i < c->job->instances.n; i++) {
    const Instance *member = c->job->instances.at[i];
    if (member->set != set) continue;
    const Quantity *here = of_row_at(c, first, member);
    if (before) add_cell(c, table, CELL_NUMBER, "-");
    if (here && is_measured_here(c, here))
      built_cell(c, table, here);
    else
      add_cell(c, table, CELL_TEXT, NULL);
  }
  add_cell(c, table, CELL_NUMBER, allowed_in_row(c, first));
}

static void compared_row(Composer *c, Block *table, const Set *set, const Quantity *before) {
  across_label(c, table, after_of(c, before));
  for (size_t i = 0; i < c->job->instances.n; i++) {
    const Instance *member = c->job->instances.at[i];
    if (member->set != set) continue;
    const Quantity *here = of_row_at(c, before, member);
    const Quantity *after = here ? after_of(c, here) : NULL;
    if (after) {
      built_cell(c, table, here);
      built_cell(c, table, after);
    } else {
      add_cell(c, table, CELL_TEXT, NULL);
      add_cell(c, table, CELL_TEXT, NULL);
    }
  }
  add_cell(c, table, CELL_NUMBER, allowed_in_row(c, after_of(c, before)));
}

static Block *across_table(Composer *c, const Set *set, bool before) {
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table,
             arena_printf(c->arena, "%s by %s", text_title(c->arena, set->label), set->label),
             before ? 60 : 74, false);
  for (size_t i = 0; i < c->job->instances.n; i++) {
    if (c->job->instances.at[i]->set != set) continue;
    const char *member = text_title(c->arena, c->job->instances.at[i]->member);
    if (before) add_column(c, table, arena_printf(c->arena, "%s, before", member), 21, true);
    add_column(c, table, before ? "After" : member, before ? 20 : 28, true);
  }
  add_column(c, table, "Allowed", before ? 38 : 40, true);
  return table;
}

typedef struct Across {
  const Set *set;
  bool before; /* a member has a column of before, too */
} Across;

/* The row that begins with this quantity; false: none does. */
static bool row_kind(Composer *c, const Across *across, size_t index, bool *compared) {
  const Quantity *quantity = c->job->quantities.at[index];
  *compared = false;
  if (!quantity->instance->set || instance_top(quantity->instance)->set != across->set)
    return false;
  *compared = after_of(c, quantity) && set_compared(c, quantity) == across->set;
  bool measured = is_key_size(c, quantity) && set_across(c, quantity) == across->set;
  return (*compared || measured) && begins_row(c, index);
}

/* Columns for each cylinder. */
static void values_across(Composer *c) {
  for (size_t s = 0; s < c->job->sets.n; s++) {
    Across across = {.set = c->job->sets.at[s]};
    bool compared = false;
    for (size_t i = 0; i < c->job->quantities.n && !across.before; i++)
      across.before = row_kind(c, &across, i, &compared) && compared;
    Block *table = NULL;
    for (size_t i = 0; i < c->job->quantities.n; i++) {
      if (!row_kind(c, &across, i, &compared)) continue;
      if (!table || table->rows.n >= ROWS_MOST) {
        group_begin(c);
        table = across_table(c, across.set, across.before);
      }
      if (compared)
        compared_row(c, table, across.set, c->job->quantities.at[i]);
      else
        across_row(c, table, across.set, c->job->quantities.at[i], across.before);
    }
  }
}

void add_as_built(Composer *c) {
  values_given(c);
  values_in_rows(c);
  values_across(c);
}
