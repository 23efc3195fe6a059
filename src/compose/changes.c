/* What changed since the earlier issue, on the job sheet. */
#include "compose/completed.h"

#define ROWS_A_GROUP 16
#define ROWS_MOST    200

static const char *const kinds[CHANGE_KINDS] = {
    [CHANGE_DETAIL] = "Job",
    [CHANGE_PART] = "Part",
    [CHANGE_VALUE] = "Value",
    [CHANGE_LIMIT] = "Limit",
    [CHANGE_JOINT] = "Joint",
    [CHANGE_STEP_ADDED] = "Step new",
    [CHANGE_STEP_REMOVED] = "Step gone",
    [CHANGE_STEP_CHANGED] = "Step changed",
    [CHANGE_STEP_MOVED] = "Step moved",
};

const char *change_kind_word(ChangeKind kind) {
  return kinds[kind];
}

static Block *changes_table(Composer *c) {
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Kind", 20, false);
  add_column(c, table, "What", 52, false);
  add_column(c, table, "Was", 36, false);
  add_column(c, table, "Is", 36, false);
  return table;
}

static void change_row(Composer *c, Block *table, const Change *change) {
  add_row(c, table);
  add_cell(c, table, CELL_TEXT, kinds[change->kind]);
  add_cell(c, table, CELL_TEXT, change->what);
  add_cell(c, table, CELL_TEXT, change->was);
  add_cell(c, table, CELL_TEXT, change->is);
}

static void void_readings(Composer *c, const Reissue *reissue) {
  if (!c->job->readings || !(reissue->voids.n || reissue->carried)) return;
  group_begin(c);
  add_heading(c, 2, "Readings taken with the earlier issue");
  add_text(c,
           arena_printf(c->arena, "%d of them hold.%s", reissue->carried,
                        reissue->voids.n ? " These are void; measure again where a box asks for it."
                                         : ""));
  if (!reissue->voids.n) return;
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Old box", 14, true);
  add_column(c, table, "Measured", 56, false);
  add_column(c, table, "Reading", 22, true);
  add_column(c, table, "Why it is void", 56, false);
  for (size_t i = 0; i < reissue->voids.n; i++) {
    const VoidReading *gone = &reissue->voids.at[i];
    add_row(c, table);
    add_cell(c, table, CELL_NUMBER, arena_printf(c->arena, "%d", gone->box->number));
    add_cell(c, table, CELL_TEXT, gone->box->label);
    add_cell(c, table, CELL_NUMBER, gone->value);
    add_cell(c, table, CELL_TEXT, gone->why);
  }
}

void add_changes(Composer *c) {
  const Reissue *reissue = c->job->reissue;
  Block *table = NULL;
  if (!reissue) return;
  group_begin(c);
  add_heading(c, 2,
              arena_printf(c->arena, "Changed since revision %.8s of %s", reissue->was->revision,
                           said_or(&reissue->was->build->date, "no date")));
  if (!reissue->list.n) {
    add_text(c, "Nothing that is printed.");
  } else {
    add_text(
        c, "A bar in the margin marks the steps concerned. Take the earlier issue off the bench.");
  }
  for (size_t i = 0; i < reissue->list.n && i < ROWS_MOST; i++) {
    if (!table || table->rows.n >= ROWS_A_GROUP) {
      if (table) group_begin(c);
      table = changes_table(c);
    }
    change_row(c, table, &reissue->list.at[i]);
  }
  if (reissue->list.n > ROWS_MOST)
    add_text(c, arena_printf(c->arena, "and %zu more.", reissue->list.n - ROWS_MOST));
  void_readings(c, reissue);
}
