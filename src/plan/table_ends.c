/* What a bench table leaves without an answer: values past its last line, and limits that nobody
 * gave. */
#include "plan/tabler.h"

#include "base/text.h"
#include "plan/reach.h"

#include <math.h>

#define MOST_BEYOND 40 /* lines looked at past one end */

/* A value that the box of the side itself refuses needs no line. */
static bool is_refused(const Tabler *tabler, const Quantity *quantity, double si, double hair) {
  const Graph *graph = tabler->planner->job->graph;
  const Allowed *allowed = &quantity->allowed;
  if (!quantity_is_judged(quantity)) return false;
  if (allowed->has_min) {
    Evaluation min = graph_evaluate(graph, allowed->min, &(Overrides){0});
    if (min.state == VALUE_KNOWN && si < min.si - hair) return true;
  }
  if (!allowed->has_max) return false;
  Evaluation max = graph_evaluate(graph, allowed->max, &(Overrides){0});
  return max.state == VALUE_KNOWN && si > max.si + hair;
}

/* A line of that value would not be all STOP. */
static bool would_serve(const Tabler *tabler, bool row, double si) {
  Tabler beyond = *tabler;
  Axis *side = row ? &beyond.row : &beyond.column;
  const Axis *other = row ? &beyond.column : &beyond.row;
  AxisLine line = {.name = "", .by_value = true, .si = si};
  side->lines.at = &line;
  side->lines.n = side->lines.room = 1;
  for (size_t i = 0; i < other->lines.n; i++)
    if (axis_line_is_reached(other, i) && !tabler_stops(&beyond, row ? 0 : i, row ? i : 0))
      return true;
  return false;
}

/* The farthest value past the end, in steps of the table, that may come up and that something on
 * hand would serve; the end itself where there is none. */
static double serves_to(const Tabler *tabler, bool row, double end, double by) {
  const Axis *axis = row ? &tabler->row : &tabler->column;
  double half = fabs(by) / 2, hair = 1e-6 * fabs(by), farthest = end;
  for (int i = 1; i <= MOST_BEYOND; i++) {
    double si = end + i * by;
    const Range *may = &axis->quantity->predicted;
    if (si + half - hair <= may->low || si - half + hair >= may->high) break;
    if (!is_refused(tabler, axis->quantity, si, hair) && would_serve(tabler, row, si))
      farthest = si;
  }
  return farthest;
}

static void judge_side(const Tabler *tabler, bool row) {
  const Axis *axis = row ? &tabler->row : &tabler->column;
  Planner *planner = tabler->planner;
  const Quantity *quantity = axis->quantity;
  if (!quantity || axis->cut || axis->lines.n < 2 || quantity->predicted.state != VALUE_KNOWN)
    return;
  if (planner->job->readings) return; /* the value that was read has its line or is told */
  double first = axis->lines.at[0].si, last = axis->lines.at[axis->lines.n - 1].si;
  double by = axis->lines.at[1].si - first;
  double low = serves_to(tabler, row, first, -by), high = serves_to(tabler, row, last, by);
  if (!(low < first) && !(high > last)) return;
  const char *lines = row ? "rows" : "columns";
  const char *mark = arena_printf(planner->arena, "%s of %s", lines, tabler->step->id);
  if (told_likewise(planner, mark, tabler->table->instance)) return;
  Finding *finding = finding_add(planner->run, RULE_TABLE_SHORT, axis->decl->at,
                                 "the %s reach from %s; %s may lie anywhere from %s", lines,
                                 band_print(planner->arena, first, last, axis->unit, axis->places),
                                 quantity->label, range_print(planner->arena, quantity));
  finding_subject(finding, quantity->name);
  finding_way_out(planner->run, finding, "let the %s reach from %s", lines,
                  band_print(planner->arena, low, high, axis->unit, axis->places));
  told_by(planner, mark, finding);
}

/* Is some quantity of the name judged by this table? */
static bool judges_by(const Tabler *tabler, const char *name) {
  for (size_t i = 0; i < tabler->judged.n; i++)
    if (text_is(tabler->judged.at[i]->name, name)) return true;
  return false;
}

static bool is_for_report(const PlanTable *table) {
  for (size_t i = 0; i < table->answers.n; i++)
    if (!table->answers.at[i]->decl->report.s) return false;
  return true;
}

static void tell_unjudged(const Tabler *tabler, Place at, const char *name, const char *what,
                          const char *way_out) {
  Planner *planner = tabler->planner;
  const char *mark = arena_printf(planner->arena, "%s of %s", name, tabler->step->id);
  if (told_likewise(planner, mark, tabler->table->instance)) return;
  Finding *finding = finding_add(planner->run, RULE_NOT_JUDGED, at, "%s", what);
  finding_subject(finding, name);
  finding_way_out(planner->run, finding, "%s", way_out);
  told_by(planner, mark, finding);
}

/* Without limits no square says STOP. */
static void judge_limits(const Tabler *tabler) {
  const PlanTable *table = tabler->table;
  const SaidList *judges = &table->decl->judges;
  Arena *arena = tabler->planner->arena;
  if (is_sheet_missing(tabler->planner->job)) return; /* its limits may stand there */
  for (size_t i = 0; i < judges->n; i++) {
    const char *name = judges->at[i].s;
    if (!quantities_named(tabler->planner, name) || judges_by(tabler, name)) continue;
    tell_unjudged(
        tabler, judges->at[i].at, name,
        arena_printf(arena, "nothing in this table is judged by %s, for nothing limits it", name),
        arena_printf(arena, "give the limits of %s, with their source", name));
  }
  if (judges->n || tabler->judged.n || is_for_report(table)) return;
  const char *name = table->answers.at[0]->name;
  tell_unjudged(tabler, table->decl->answers.at[0].at, name,
                "this table cannot say STOP, for nothing limits what it answers",
                "give the limits of an answer, with their source, or write 'report: only' at each");
}

void table_ends(const Tabler *tabler) {
  judge_side(tabler, true);
  judge_side(tabler, false);
  judge_limits(tabler);
}
