/* Bench tables: the graph evaluated for every row and column. */
#include "plan/tabler.h"

#include "plan/reach.h"

#include <math.h>

#define MOST_ROWS    12
#define MOST_COLUMNS 8
#define MOST_TABLES  200

static Evaluation with(const Tabler *tabler, NodeId node, const Overrides *pins) {
  return graph_evaluate(tabler->planner->job->graph, node, pins);
}

/* Outside by more than the last digit of a computer. A limit that is not known here
 * says nothing. */
static bool is_outside(const Tabler *tabler, const Quantity *quantity, const Overrides *pins) {
  Evaluation now = with(tabler, quantity->value, pins);
  if (now.state == VALUE_POISON) return now.not_finite;
  if (now.state != VALUE_KNOWN) return false;
  double grain = 1e-9 * fabs(now.si) + 1e-9 * fabs(quantity->decl->unit->factor);
  const Allowed *allowed = &quantity->allowed;
  if (allowed->has_min) {
    Evaluation min = with(tabler, allowed->min, pins);
    if (min.state == VALUE_KNOWN && now.si < min.si - grain) return true;
  }
  if (allowed->has_max) {
    Evaluation max = with(tabler, allowed->max, pins);
    if (max.state == VALUE_KNOWN && now.si > max.si + grain) return true;
  }
  return false;
}

/* A size that is read from the cell is fitted as it stands there, wherever in the cell the
 * reading lay. */
static void pin_sizes(const Tabler *tabler, const Overrides *middle, Overrides *pins) {
  for (size_t i = 0; i < tabler->table->answers.n; i++) {
    NodeId node = tabler->table->answers.at[i]->value;
    if (!graph_is_size(tabler->planner->job->graph, node)) continue;
    Evaluation now = with(tabler, node, middle);
    Override pin = {node, now.si};
    if (now.state == VALUE_KNOWN) vec_push(tabler->planner->arena, pins, pin);
  }
}

/* What lies outside the limits of its own box stops there: the line stands for the rest. */
static double edge_passed(const Tabler *tabler, const Axis *axis, double middle, double edge) {
  const Allowed *allowed = &axis->quantity->allowed;
  double hair = 1e-6 * axis->bin;
  if (allowed->has_min) {
    Evaluation min = with(tabler, allowed->min, &(Overrides){0});
    if (min.state == VALUE_KNOWN && edge < min.si && middle >= min.si - hair) return min.si;
  }
  if (allowed->has_max) {
    Evaluation max = with(tabler, allowed->max, &(Overrides){0});
    if (max.state == VALUE_KNOWN && edge > max.si && middle <= max.si + hair) return max.si;
  }
  return edge;
}

static void pin_edge(const Tabler *tabler, const Axis *axis, size_t line, int edge,
                     Overrides *pins) {
  axis_pin(tabler->planner, axis, line, edge, pins);
  if (!edge) return;
  Override *pin = &pins->at[pins->n - 1];
  pin->si = edge_passed(tabler, axis, axis->lines.at[line].si, pin->si);
}

/* The technician rounds to a line, so the edges of what it stands for count too. */
bool tabler_stops(const Tabler *tabler, size_t row, size_t column) {
  Overrides middle = {0};
  axis_pin(tabler->planner, &tabler->row, row, 0, &middle);
  axis_pin(tabler->planner, &tabler->column, column, 0, &middle);
  int rows = tabler->row.quantity && tabler->row.bin > 0;
  int columns = tabler->column.quantity && tabler->column.bin > 0;
  for (int r = -rows; r <= rows; r++) {
    for (int c = -columns; c <= columns; c++) {
      Overrides pins = {0};
      pin_edge(tabler, &tabler->row, row, r, &pins);
      pin_edge(tabler, &tabler->column, column, c, &pins);
      pin_sizes(tabler, &middle, &pins);
      for (size_t i = 0; i < tabler->judged.n; i++) {
        if (is_outside(tabler, tabler->judged.at[i], &pins)) return true;
      }
    }
  }
  return false;
}

bool axis_line_is_reached(const Axis *axis, size_t line) {
  const Quantity *quantity = axis->quantity;
  if (!quantity || quantity->predicted.state != VALUE_KNOWN) return true;
  double hair = 1e-6 * axis->bin, si = axis->lines.at[line].si;
  return si + axis->bin + hair >= quantity->predicted.low &&
         si - axis->bin - hair <= quantity->predicted.high;
}

static void fill_cells(Tabler *tabler) {
  PlanTable *table = tabler->table;
  for (size_t r = 0; r < tabler->row.lines.n; r++) {
    for (size_t c = 0; c < tabler->column.lines.n; c++) {
      Overrides pins = {0};
      axis_pin(tabler->planner, &tabler->row, r, 0, &pins);
      axis_pin(tabler->planner, &tabler->column, c, 0, &pins);
      bool stop = tabler_stops(tabler, r, c);
      bool reached =
          axis_line_is_reached(&tabler->row, r) && axis_line_is_reached(&tabler->column, c);
      table->any_inside = table->any_inside || (!stop && reached);
      table->inside_beyond = table->inside_beyond || (!stop && !reached);
      for (size_t a = 0; a < table->answers.n; a++) {
        Evaluation now = with(tabler, table->answers.at[a]->value, &pins);
        PlanCell cell = {.stop = stop, .known = now.state == VALUE_KNOWN, .si = now.si};
        vec_push(tabler->planner->arena, &table->cells, cell);
      }
    }
  }
}

static void mark_axis(Reach *reach, const Axis *axis) {
  if (axis->quantity) reach_mark(reach, axis->quantity->value, true);
  for (size_t i = 0; i < axis->lines.n; i++) {
    for (size_t p = 0; p < axis->lines.at[i].pins.n; p++)
      reach_mark(reach, axis->lines.at[i].pins.at[p].node, true);
  }
}

/* Limited values of this member, or of the whole engine, that change with the table. */
static void find_judged(Tabler *tabler) {
  const Job *job = tabler->planner->job;
  Reach *reach = reach_new(tabler->planner->arena, job->graph);
  mark_axis(reach, &tabler->row);
  mark_axis(reach, &tabler->column);
  const SaidList *judges = &tabler->table->decl->judges;
  for (size_t i = 0; i < judges->n; i++)
    if (!quantities_named(tabler->planner, judges->at[i].s))
      tell_unknown(tabler->planner, tabler->step->procedure, &judges->at[i], "quantity",
                   &tabler->planner->quantity_names);
  for (size_t i = 0; i < job->quantities.n; i++) {
    Quantity *quantity = job->quantities.at[i];
    if (!quantity_is_judged(quantity) || !quantity->value) continue;
    if (judges->n && !said_names(judges, quantity->name)) continue;
    if (!is_related(quantity->instance, tabler->table->instance)) continue;
    NodeIds under = {0};
    reach_under(reach, quantity, false, &under);
    bool is_side = quantity == tabler->row.quantity || quantity == tabler->column.quantity;
    if (under.n > 0 || is_side) vec_push(tabler->planner->arena, &tabler->judged, quantity);
  }
}

static bool find_answers(Tabler *tabler) {
  Planner *planner = tabler->planner;
  const TableDecl *decl = tabler->table->decl;
  for (size_t i = 0; i < decl->answers.n; i++) {
    Name name = name_split(planner->arena, decl->answers.at[i].s);
    QuantityList list = {0};
    pick_quantities(planner, &name, tabler->table->instance, "final", &list);
    if (list.n == 0)
      tell_unknown(planner, tabler->step->procedure, &decl->answers.at[i], "quantity",
                   &planner->quantity_names);
    for (size_t q = 0; q < list.n; q++) {
      if (list.at[q]->decl->unit) vec_push(planner->arena, &tabler->table->answers, list.at[q]);
    }
  }
  return tabler->table->answers.n > 0;
}

static void copy_axes(Tabler *tabler) {
  Arena *arena = tabler->planner->arena;
  PlanTable *table = tabler->table;
  table->row_label = tabler->row.label;
  table->column_label = tabler->column.label;
  table->row_unit = tabler->row.unit;
  table->column_unit = tabler->column.unit;
  table->row_parts = tabler->row.parts;
  table->column_parts = tabler->column.parts;
  for (size_t i = 0; i < tabler->row.lines.n; i++) {
    vec_push(arena, &table->row_names, tabler->row.lines.at[i].name);
    if (tabler->row.quantity) vec_push(arena, &table->rows, tabler->row.lines.at[i].si);
  }
  for (size_t i = 0; i < tabler->column.lines.n; i++) {
    vec_push(arena, &table->column_names, tabler->column.lines.at[i].name);
    if (tabler->column.quantity) vec_push(arena, &table->columns, tabler->column.lines.at[i].si);
  }
}

/* The step's own member, or the one the table names in its place. */
static const Instance *member_of(Planner *planner, const PlanStep *step, const TableDecl *decl) {
  if (!decl->member.s) return step->instance;
  Name name = {.base = ""};
  Name split = name_split(planner->arena, arena_printf(planner->arena, "x[%s]", decl->member.s));
  name.index = split.index;
  for (size_t i = 0; i < planner->job->sets.n; i++) {
    InstanceList picked = {0};
    pick_instances(planner, &name, planner->job->sets.at[i], step->instance, &picked);
    if (picked.n == 1) return picked.at[0];
  }
  Words members = {0};
  for (size_t i = 0; i < planner->job->sets.n; i++) {
    const Set *set = planner->job->sets.at[i];
    for (size_t m = 0; m < set->members.n; m++)
      vec_push(planner->arena, &members, set->members.at[m]);
  }
  tell_unknown(planner, step->procedure, &decl->member, "member", &members);
  return step->instance;
}

static void build_table(Planner *planner, PlanStep *step) {
  PlanTable *table = ARENA_NEW(planner->arena, PlanTable);
  table->decl = step->decl->table;
  table->instance = member_of(planner, step, table->decl);
  Tabler tabler = {.planner = planner, .step = step, .table = table};
  if (!axis_build(planner, step, table->instance, &table->decl->row, MOST_ROWS, &tabler.row) ||
      !axis_build(planner, step, table->instance, &table->decl->column, MOST_COLUMNS,
                  &tabler.column) ||
      !find_answers(&tabler))
    return;
  const char *title = fill_text(planner, step->procedure, &table->decl->title, table->instance);
  table->title = title ? title : "";
  find_judged(&tabler);
  copy_axes(&tabler);
  table->cut = tabler.row.cut || tabler.column.cut;
  table->rounds_rows = tabler.row.quantity && tabler.row.bin > 0;
  table->rounds_columns = tabler.column.quantity && tabler.column.bin > 0;
  fill_cells(&tabler);
  table_ends(&tabler);
  step->table = table;
}

void tables_build(Planner *planner) {
  size_t tables = 0;
  for (size_t i = 0; i < planner->plan->steps.n; i++) {
    PlanStep *step = planner->plan->steps.at[i];
    if (!step->decl->table) continue;
    if (tables++ == MOST_TABLES) {
      finding_add(planner->run, RULE_TOO_BIG, step->decl->at, "the work has more than %d tables",
                  MOST_TABLES);
      return;
    }
    build_table(planner, step);
  }
}
