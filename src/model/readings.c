#include "model/reissue.h"

#include "base/decimal.h"
#include "base/text.h"
#include "model/job_words.h"

#include <math.h>

static bool hangs_on(const Job *job, const Quantity *quantity, NodeId node) {
  const Allowed *allowed = &quantity->allowed;
  return graph_depends(job->graph, quantity->value, node) ||
         (allowed->has_min && graph_depends(job->graph, allowed->min, node)) ||
         (allowed->has_max && graph_depends(job->graph, allowed->max, node));
}

bool quantity_is_touched(const Job *job, const Quantity *quantity) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *read = job->quantities.at[i];
    if (!read->read_complete) continue;
    if (read == quantity || hangs_on(job, quantity, read->value)) return true;
  }
  return false;
}

static bool is_decided(const Readings *readings, const Role *role) {
  for (size_t i = 0; readings && i < readings->fitted.n; i++)
    if (text_is(readings->fitted.at[i].name, role->name)) return true;
  return false;
}

static bool has_another(const RefList *parts, const Role *role) {
  for (size_t i = 0; i < parts->n; i++) {
    const Entry *part = parts->at[i].entry;
    if (part && part->kind == ENTRY_PART && part != role->part) return true;
  }
  return false;
}

bool role_is_open(const Job *job, const Plan *plan, const Role *role) {
  if (!role->part || is_decided(job->readings, role)) return false;
  for (size_t i = 0; i < job->build->parts.n; i++) {
    const PartChoice *choice = &job->build->parts.at[i];
    if (text_is(choice->role, role->name) && has_another(&choice->offered, role)) return true;
  }
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    if (!table) continue;
    if (text_is(table->decl->row.role.s, role->name) && has_another(&table->row_parts, role))
      return true;
    if (text_is(table->decl->column.role.s, role->name) && has_another(&table->column_parts, role))
      return true;
  }
  return false;
}

bool quantity_is_open(const Job *job, const Plan *plan, const Quantity *quantity) {
  const Role *role = NULL; /* facts of one stand together */
  bool open = false;
  for (size_t i = 0; i < job->facts.n; i++) {
    const FactValue *fact = &job->facts.at[i];
    if (fact->role != role) {
      role = fact->role;
      open = role && role_is_open(job, plan, role);
    }
    if (open && fact->node && graph_depends(job->graph, quantity->value, fact->node)) return true;
  }
  return false;
}

bool quantity_is_settled(const Job *job, const Plan *plan, const Quantity *quantity) {
  if (quantity->read_complete) return true;
  if (!quantity_is_touched(job, quantity) || quantity_is_open(job, plan, quantity)) return false;
  for (size_t i = 0; i < plan->boxes.n; i++) {
    const Quantity *asked = plan->boxes.at[i]->quantity;
    if (asked == quantity) return false; /* it has a box of its own */
    if (!asked->read_complete && asked->value && hangs_on(job, quantity, asked->value))
      return false;
  }
  return true;
}

bool quantity_is_out(const Quantity *quantity) {
  const Allowed *allowed = &quantity->allowed;
  if (text_is(quantity->decl->report.s, "only")) return false;
  if (quantity->predicted.state != VALUE_KNOWN) return false;
  double si = quantity->predicted.nominal;
  double slack = 1e-9 * fabs(si) + 1e-9 * fabs(quantity->decl->unit->factor);
  if (allowed->has_min && allowed->min_now.state == VALUE_KNOWN && si < allowed->min_now.si - slack)
    return true;
  return allowed->has_max && allowed->max_now.state == VALUE_KNOWN &&
         si > allowed->max_now.si + slack;
}

/* ---- bench tables ---- */

static Quantity *axis_quantity(const Job *job, const PlanTable *table, const TableAxis *axis) {
  if (!axis->quantity.s) return NULL;
  size_t length = 0;
  while (axis->quantity.s[length] && axis->quantity.s[length] != '[') length++;
  for (const Instance *at = table->instance; at; at = at->parent)
    for (size_t i = 0; i < job->quantities.n; i++) {
      Quantity *quantity = job->quantities.at[i];
      bool named = text_starts(axis->quantity.s, quantity->name) && !quantity->name[length];
      if (named && quantity->instance == at && text_is(quantity->occasion, "final"))
        return quantity;
    }
  return NULL;
}

/* The line nearest to a value that was read or fitted, not farther than half a step away; half
 * way, the first: so it is printed at the table. */
static bool line_of_value(double si, const double *lines, size_t n, size_t *line) {
  double best = INFINITY, step = n > 1 ? fabs(lines[1] - lines[0]) : INFINITY;
  double hair = n > 1 ? 1e-6 * step : 0;
  for (size_t i = 0; i < n; i++) {
    if (!(fabs(lines[i] - si) < best - hair)) continue;
    best = fabs(lines[i] - si);
    *line = i;
  }
  return n > 0 && best <= step * 0.5 * (1 + 1e-9);
}

static bool line_of_part(const Job *job, const TableAxis *axis, const RefList *parts,
                         size_t *line) {
  const Role *role = job_role(job, axis->role.s);
  if (!role || !role->part) return false;
  for (size_t i = 0; i < parts->n; i++) {
    if (parts->at[i].entry != role->part) continue;
    *line = i;
    return true;
  }
  return false;
}

static bool is_known_by_work(const Quantity *quantity) {
  return quantity->read_complete || quantity->predicted.by_leaf.n == 0;
}

static bool line_of(const Job *job, const PlanTable *table, bool row, size_t *line) {
  const TableAxis *axis = row ? &table->decl->row : &table->decl->column;
  size_t n = row ? table->row_names.n : table->column_names.n;
  if (axis->role.s)
    return line_of_part(job, axis, row ? &table->row_parts : &table->column_parts, line);
  const Quantity *quantity = axis_quantity(job, table, axis);
  if (!quantity) {
    *line = 0;
    return !axis->quantity.s && n == 1; /* a side left out is one line */
  }
  if (quantity->predicted.state != VALUE_KNOWN || !is_known_by_work(quantity)) return false;
  const double *lines = row ? table->rows.at : table->columns.at;
  return line_of_value(quantity->predicted.nominal, lines, row ? table->rows.n : table->columns.n,
                       line);
}

bool table_square(const Job *job, const PlanTable *table, size_t *row, size_t *column) {
  const Quantity *by_row = axis_quantity(job, table, &table->decl->row);
  const Quantity *by_column = axis_quantity(job, table, &table->decl->column);
  bool read = (by_row && by_row->read_complete) || (by_column && by_column->read_complete);
  return read && line_of(job, table, true, row) && line_of(job, table, false, column);
}

bool table_fitted_stop(const Job *job, const PlanTable *table, size_t *row, size_t *column) {
  return table_square(job, table, row, column) && table_stops(table, *row, *column);
}

/* A part is named; a size needs its label and unit. */
static const char *line_print(Arena *arena, const TableAxis *axis, const char *label,
                              const char *name, const Unit *unit) {
  if (axis->role.s) return name;
  bool units = unit && unit->print[0];
  return arena_printf(arena, "%s %s%s%s", label, name, units ? " " : "", units ? unit->print : "");
}

const char *square_print(Arena *arena, const PlanTable *table, size_t row, size_t column) {
  const char *down = line_print(arena, &table->decl->row, table->row_label,
                                table->row_names.at[row], table->row_unit);
  if (!table->column_names.at[column][0]) return down;
  return arena_printf(arena, "%s with %s", down,
                      line_print(arena, &table->decl->column, table->column_label,
                                 table->column_names.at[column], table->column_unit));
}

const char *reading_print(Arena *arena, const PlanBox *box, const Reading *reading) {
  return reading->word ? reading->word : quantity_print(arena, reading->si, box->unit, box->places);
}

/* As many places as show that it is outside: 0.0804 is, 0.080 is not. */
static int places_beyond(const Quantity *quantity, const PlanBox *box) {
  Quantity shown = *quantity;
  for (int places = box->places; places < box->places + 3; places++) {
    double step = pow(10, -places);
    double number = decimal_round(unit_from_si(box->unit, quantity->predicted.nominal), step);
    shown.predicted.nominal = unit_to_si(box->unit, number);
    if (quantity_is_out(&shown)) return places;
  }
  return box->places + 3;
}

const char *found_print(Arena *arena, const PlanBox *box) {
  const char *written = reading_print(arena, box, box->reading);
  const Quantity *quantity = box->quantity;
  if (!quantity->overruled) return written;
  return arena_printf(
      arena, "%s, but %s by what it is worked out from", written,
      quantity_print(arena, quantity->predicted.nominal, box->unit, places_beyond(quantity, box)));
}

const CheckLine *found_at(const Readings *readings, const PlanStep *step) {
  for (size_t i = 0; readings && i < readings->checks.n; i++)
    if (text_is(readings->checks.at[i].key, step->key)) return &readings->checks.at[i];
  return NULL;
}

int boxes_filled(const Plan *plan, const Quantity *quantity, int *of) {
  int filled = 0;
  *of = 0;
  for (size_t i = 0; i < plan->boxes.n; i++) {
    if (plan->boxes.at[i]->quantity != quantity) continue;
    ++*of;
    filled += plan->boxes.at[i]->has_value;
  }
  return filled;
}

bool result_is_out(const Job *job, const Plan *plan, const Quantity *quantity) {
  int of = 0;
  return quantity_is_touched(job, quantity) && quantity_is_out(quantity) &&
         boxes_filled(plan, quantity, &of) == 0;
}

bool reissue_has(const Reissue *reissue, ChangeKind kind, const char *name) {
  for (size_t i = 0; i < reissue->list.n; i++)
    if (reissue->list.at[i].kind == kind && text_is(reissue->list.at[i].name, name)) return true;
  return false;
}
