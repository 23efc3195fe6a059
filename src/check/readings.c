/* What was found to lie outside its limits, and what was fitted all the same: told, listed
 * on the packet, never a reason not to print it. */
#include "check/rules.h"

#include "base/text.h"
#include "model/job_words.h"
#include "model/readings.h"

#include <math.h>

#define SAME_SIZE 1e-6 /* of the size */

static const char *found_out(Run *run, const PlanBox *box) {
  const char *read = found_print(run->arena, box);
  if (!box->quantity->allowed.said) return read;
  return arena_printf(run->arena, "%s; allowed %s (%s)", read,
                      allowed_print(run->arena, box->quantity),
                      allowed_sheet_print(run->arena, box->quantity));
}

static void judge_boxes(Run *run, const Plan *plan) {
  for (size_t i = 0; i < plan->boxes.n; i++) {
    const PlanBox *box = plan->boxes.at[i];
    if (box->verdict != VERDICT_OUT) continue;
    Finding *finding = finding_add(run, RULE_MEASURED_OUT, box->reading->at, "box %d, %s, reads %s",
                                   box->number, box->label, found_out(run, box));
    finding_subject(finding, box->quantity->name);
    if (box->quantity->allowed.said)
      finding_note(run, finding, box->quantity->allowed.winner.at, "the limits stand here");
    if (box->quantity->overruled)
      finding_way_out(run, finding, "work it out again, or look for the reading that is wrong");
  }
}

/* The first reading it hangs on: where to look. */
static Place where_read(const Job *job, const Quantity *quantity) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *read = job->quantities.at[i];
    if (read->read_complete && read->readings.n &&
        graph_depends(job->graph, quantity->value, read->value))
      return read->readings.at[0].at;
  }
  return quantity->allowed.winner.at;
}

static void judge_results(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    if (!result_is_out(job, plan, quantity)) continue;
    Finding *finding =
        finding_add(run, RULE_MEASURED_OUT, where_read(job, quantity),
                    "%s comes to %s by the readings%s; allowed %s (%s)", quantity->key,
                    predicted_print(run->arena, quantity),
                    quantity_is_settled(job, plan, quantity) ? "" : " so far",
                    allowed_print(run->arena, quantity), allowed_sheet_print(run->arena, quantity));
    finding_subject(finding, quantity->name);
    finding_note(run, finding, quantity->allowed.winner.at, "the limits stand here");
  }
}

/* Where the decision is written; else the file as a whole. */
static Place where_fitted(const Job *job, const PlanTable *table) {
  for (size_t i = 0; i < job->readings->fitted.n; i++) {
    const FittedLine *line = &job->readings->fitted.at[i];
    if (text_is(line->name, table->decl->column.role.s) ||
        text_is(line->name, table->decl->row.role.s))
      return line->what.at;
  }
  return table->answers.n ? where_read(job, table->answers.at[0]) : job->readings->at;
}

static void judge_checks(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanStep *step = plan->steps.at[i];
    const CheckLine *line = found_at(job->readings, step);
    if (!line || line->passed) continue;
    Finding *finding = finding_add(run, RULE_CHECK_FAILED, line->at, "step %d is not so: %s%s%s",
                                   step->number, step_says(run->arena, step),
                                   line->why.s ? " " : "", line->why.s ? line->why.s : "");
    finding_subject(finding, step->id);
    finding_way_out(run, finding, "decide it in the nonconformance list");
  }
}

static void judge_decisions(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    size_t row = 0, column = 0;
    if (!table || !table_fitted_stop(job, table, &row, &column)) continue;
    Finding *finding =
        finding_add(run, RULE_FITTED_STOP, where_fitted(job, table), "%s: %s is a STOP",
                    table->title, square_print(run->arena, table, row, column));
    finding_subject(finding, plan->steps.at[i]->id);
    finding_way_out(run, finding,
                    "take another line of the table, or write in \"fitted\" what was fitted");
  }
}

/* Between two lines the table is read by the rule that stands below it: so is the size. */
static bool table_leads_to(const Job *job, const Plan *plan, const Quantity *quantity, double si) {
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    size_t row = 0, column = 0;
    for (size_t a = 0; table && a < table->answers.n; a++) {
      if (table->answers.at[a] != quantity || !table_square(job, table, &row, &column)) continue;
      const PlanCell *cell = &table_cells(table, row, column)[a];
      if (cell->known && fabs(cell->si - si) <= SAME_SIZE * fabs(si)) return true;
    }
  }
  return false;
}

/* A size that was picked from a table against the one that its readings lead to. */
static void judge_fitted(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    if (!quantity->readings.n || quantity->led_to.state != VALUE_KNOWN) continue;
    const Reading *fitted = &quantity->readings.at[0];
    double led = quantity->led_to.nominal;
    if (fabs(led - fitted->si) <= SAME_SIZE * fabs(fitted->si) ||
        table_leads_to(job, plan, quantity, fitted->si))
      continue;
    const Unit *unit = quantity->decl->unit;
    int places = quantity_places(quantity);
    Finding *finding = finding_add(run, RULE_FITTED_OTHERWISE, fitted->at,
                                   "%s: %s is fitted; the readings lead to %s", quantity->key,
                                   quantity_print(run->arena, fitted->si, unit, places),
                                   quantity_print(run->arena, led, unit, places));
    finding_subject(finding, quantity->name);
    finding_way_out(run, finding, "look at the size on the part and at the bench table again");
  }
}

void check_readings(Run *run, const Job *job, const Plan *plan) {
  if (!job->readings) return;
  judge_boxes(run, plan);
  judge_results(run, job, plan);
  judge_fitted(run, job, plan);
  judge_decisions(run, job, plan);
  judge_checks(run, job, plan);
}
