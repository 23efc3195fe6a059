/* Predicted against allowed, and whether somebody would notice in time. */
#include "check/rules.h"

#include "base/text.h"
#include "model/job_words.h"
#include "model/readings.h"

#include <string.h>

/* A box of its own, or an answer of a bench table, before the packet ends. What only
 * feeds the value does not judge it: nobody would work it out at the bench. */
static bool is_judged(const Plan *plan, const Quantity *quantity) {
  for (size_t i = 0; i < plan->boxes.n; i++) {
    const PlanBox *box = plan->boxes.at[i];
    if (box->quantity == quantity && box->kind == BOX_JUDGED) return true;
  }
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    if (!table) continue;
    for (size_t j = 0; j < table->answers.n; j++)
      if (table->answers.at[j] == quantity) return true;
  }
  return false;
}

/* The bench table that answers this; one that offers something inside before one that
 * does not. NULL: none. */
static const PlanTable *table_for(const Plan *plan, const Quantity *quantity) {
  const PlanTable *found = NULL;
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    if (!table || (found && !table->any_inside)) continue;
    for (size_t j = 0; j < table->answers.n; j++)
      if (table->answers.at[j] == quantity) found = table;
    if (found && found->any_inside) return found;
  }
  return found;
}

/* "0.85 to 1.15 mm (Orrest, piston sheet 12, edition C)" */
static const char *limits_said(Run *run, const Quantity *quantity) {
  const char *band = allowed_print(run->arena, quantity);
  return arena_printf(run->arena, "%s (%s)", band ? band : quantity->allowed.winner.says,
                      allowed_sheet_print(run->arena, quantity));
}

static const char *range_said(Run *run, const Quantity *quantity) {
  const char *range = range_print(run->arena, quantity);
  const char *nominal = predicted_print(run->arena, quantity);
  return range ? arena_printf(run->arena, "%s, worst found %s", nominal, range) : nominal;
}

/* Which number of which sheet to look at first. */
static void note_widest(Run *run, const Job *job, Finding *finding, const Quantity *quantity) {
  const Range *range = &quantity->predicted;
  if (!range->by_leaf.n || !(range->by_leaf.at[0].half_width > 0)) return;
  NodeId leaf = range->by_leaf.at[0].leaf;
  finding_note(run, finding, graph_place(job->graph, leaf),
               "%s moves it most, by %s either way over its tolerance",
               graph_name(job->graph, leaf),
               quantity_print(run->arena, range->by_leaf.at[0].half_width, quantity->decl->unit,
                              quantity_places(quantity)));
}

static const char *members_said(Run *run, const Job *job, const Quantity *quantity) {
  size_t index = 0;
  while (job->quantities.at[index] != quantity) index++;
  return quantity_members_print(run->arena, job, index, false);
}

/* A value that the build states stands where it is stated; any other where its limit
 * does, the formula as a second place. */
static Finding *at_limit(Run *run, const Job *job, Rule rule, const Quantity *quantity,
                         const char *what) {
  const Voice *winner = &quantity->allowed.winner;
  bool stated = quantity->stated.entry != NULL;
  Finding *finding =
      finding_add(run, rule, stated ? quantity->stated.at : winner->at, "%s %s; allowed %s",
                  members_said(run, job, quantity), what, limits_said(run, quantity));
  finding_subject(finding, quantity->name);
  if (stated)
    finding_note(run, finding, winner->at, "the limits stand here");
  else
    finding_note(run, finding, quantity->decl->at,
                 quantity->formula ? "%s is worked out here" : "%s is declared here",
                 quantity->name);
  return finding;
}

/* Something lies outside that no bench table answers: tables stop for that alone. */
static bool is_outside_elsewhere(const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    if (quantity->outcome == OUTCOME_DISJOINT && !text_is(quantity->decl->report.s, "only") &&
        !table_for(plan, quantity))
      return true;
  }
  return false;
}

/* A part of the columns with every square on STOP. */
static bool column_stops(const PlanTable *table, size_t column) {
  for (size_t row = 0; row < table->row_names.n; row++)
    if (!table_stops(table, row, column)) return false;
  return true;
}

/* The part the build names, with which no line of the table goes; NULL: some line does. The
 * parts with which one does go to others. */
static const Role *stopped_choice(const Job *job, Run *run, const PlanTable *table, Words *others) {
  const TableAxis *axis = &table->decl->column;
  const Role *role = axis->role.s ? job_role(job, axis->role.s) : NULL;
  bool stopped = false;
  if (!role || !role->part) return NULL;
  const RefList *parts = &table->column_parts;
  for (size_t i = 0; i < parts->n; i++) {
    bool stops = column_stops(table, i);
    if (parts->at[i].entry == role->part) stopped = stops;
    if (!stops) vec_push(run->arena, others, parts->at[i].id);
  }
  return stopped ? role : NULL;
}

static void refuse_choice(Run *run, const Job *job, const Quantity *quantity, const Role *role,
                          const Words *others) {
  Finding *finding = at_limit(
      run, job, RULE_OUTSIDE_ALLOWED, quantity,
      arena_printf(run->arena, "comes to %s; every line of the bench table says STOP to %s",
                   range_said(run, quantity), role->part->id));
  finding_note(run, finding, role->at, "chosen here as the %s", role->label);
  finding_way_out(run, finding, "choose %s as the %s", text_join(run->arena, others, " or "),
                  role->label);
}

static void not_known(Run *run, const Job *job, const Plan *plan, const Quantity *quantity) {
  if (!job->build->procedures.n) return; /* need_work says so */
  if (quantity->joint) return;           /* where its fasteners are tightened there are boxes */
  if (is_judged(plan, quantity) || is_left_alone(job, plan, quantity)) return;
  Finding *finding = at_limit(run, job, RULE_UNPROVEN, quantity,
                              "is not known from the parts and no step measures it");
  finding_way_out(run, finding, "record %s in a step, or state it in the build's facts",
                  quantity->name);
}

static void may_miss(Run *run, const Job *job, const Plan *plan, const Quantity *quantity) {
  const char *range = range_said(run, quantity);
  Finding *finding;
  if (!job->build->procedures.n) return; /* as above */
  if (is_judged(plan, quantity)) {
    finding = at_limit(run, job, RULE_FIT_BY_HAND, quantity,
                       arena_printf(run->arena, "comes to %s: %sexpect to pair or work parts for it", range,
                                    quantity_is_out(quantity)
                                        ? "inside only at one end of its tolerances, "
                                        : ""));
  } else {
    finding = at_limit(run, job, RULE_UNPROVEN, quantity,
                       arena_printf(run->arena, "comes to %s and no step measures it", range));
    finding_way_out(run, finding, "record %s in a step, or choose parts with closer tolerances",
                    quantity->name);
  }
  note_widest(run, job, finding, quantity);
}

static void misses(Run *run, const Job *job, const Plan *plan, const Quantity *quantity) {
  const PlanTable *table = table_for(plan, quantity);
  const char *range = range_said(run, quantity);
  Words others = {0};
  if (table && !table->any_inside && !is_outside_elsewhere(job, plan)) return; /* check_offers */
  const Role *role = table ? stopped_choice(job, run, table, &others) : NULL;
  if (role && others.n) {
    refuse_choice(run, job, quantity, role, &others);
    return;
  }
  if (table && table->any_inside) {
    at_limit(run, job, RULE_FIT_BY_HAND, quantity,
             arena_printf(run->arena,
                          "comes to %s with the parts named; the bench table offers others",
                          range));
    return;
  }
  Finding *finding = at_limit(run, job, RULE_OUTSIDE_ALLOWED, quantity,
                              arena_printf(run->arena, "comes to %s", range));
  note_widest(run, job, finding, quantity);
  if (quantity->stated.entry)
    finding_way_out(run, finding, "state a value inside the limits, or change a part");
  else
    finding_way_out(run, finding,
                    "change a part it is worked out from; `sheaf show BUILD %s` lists them",
                    quantity->name);
}

/* An answer of a bench table that could not be made, which was reported. */
static bool is_answer_lost(const Plan *plan, const Quantity *quantity) {
  for (size_t i = 0; i < plan->steps.n; i++) {
    const TableDecl *lost = plan->steps.at[i]->table ? NULL : plan->steps.at[i]->decl->table;
    for (size_t j = 0; lost && j < lost->answers.n; j++) {
      const char *name = lost->answers.at[j].s;
      size_t n = strlen(quantity->name);
      if (text_starts(name, quantity->name) && (!name[n] || name[n] == '[')) return true;
    }
  }
  return false;
}

static void judge(Run *run, const Job *job, const Plan *plan, const Quantity *quantity) {
  if (text_is(quantity->decl->report.s, "only")) return;
  if (job->readings && quantity_is_touched(job, quantity)) return; /* check_readings */
  Outcome outcome = quantity->outcome;
  bool is_fine = outcome == OUTCOME_NOT_LIMITED || outcome == OUTCOME_PASS;
  switch (is_fine || !is_answer_lost(plan, quantity) ? outcome : OUTCOME_POISON) {
  case OUTCOME_NOT_LIMITED:
  case OUTCOME_PASS:
  case OUTCOME_POISON:
    break;
  case OUTCOME_UNKNOWN:
    not_known(run, job, plan, quantity);
    break;
  case OUTCOME_OVERLAP:
    may_miss(run, job, plan, quantity);
    break;
  case OUTCOME_DISJOINT:
    misses(run, job, plan, quantity);
    break;
  }
}

static bool has_known_cell(const PlanTable *table) {
  for (size_t i = 0; i < table->cells.n; i++)
    if (table->cells.at[i].known) return true;
  return false;
}

static bool is_missed(const PlanTable *table) {
  for (size_t i = 0; i < table->answers.n; i++)
    if (table->answers.at[i]->outcome == OUTCOME_DISJOINT) return true;
  return false;
}

/* Then what was found makes it stop, and that is told by itself. */
static bool is_read(const Job *job, const PlanTable *table) {
  for (size_t i = 0; i < table->answers.n; i++)
    if (job->readings && quantity_is_touched(job, table->answers.at[i])) return true;
  return false;
}

/* A table in which every square says STOP leaves nothing to choose. Blamed are the
 * answers that miss their limits with the parts named; all of them where none does. */
void check_offers(Run *run, const Job *job, const Plan *plan) {
  if (is_outside_elsewhere(job, plan)) return;
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    if (!table || table->cut || table->any_inside || !has_known_cell(table) || !step_leads(plan, i))
      continue;
    if (is_read(job, table)) continue;
    bool missed = is_missed(table);
    Text limits = text_new(run->arena);
    for (size_t j = 0; j < table->answers.n; j++) {
      const Quantity *answer = table->answers.at[j];
      if (!answer->allowed.said || (missed && answer->outcome != OUTCOME_DISJOINT)) continue;
      text_addf(&limits, "%s%s %s", limits.n ? ", " : "", members_said(run, job, answer),
                limits_said(run, answer));
    }
    const char *what = table->inside_beyond
                           ? "no line of the bench table that these parts come to stays inside"
                           : "nothing the bench table offers stays inside";
    Finding *finding = finding_add(run, RULE_NOT_AVAILABLE, table->decl->at, "%s the limits%s%s",
                                   what, limits.n ? ": " : "", text_done(&limits));
    finding_subject(finding, plan->steps.at[i]->id);
    for (size_t j = 0; j < table->answers.n; j++) {
      const Quantity *answer = table->answers.at[j];
      if (answer->outcome == OUTCOME_DISJOINT)
        finding_note(run, finding, answer->allowed.winner.at, "%s comes to %s with the parts named",
                     members_said(run, job, answer), range_said(run, answer));
    }
    finding_way_out(run, finding, "offer other parts or sizes in the table, or change a part");
  }
}

/* Said once: without a step nothing is measured either. */
static void need_work(Run *run, const Job *job) {
  if (!job->build->idle) return;
  Finding *finding = finding_add(run, RULE_MISSING_KEY, job->build_entry->at,
                                 "this build names no procedure: there is no step in it, and "
                                 "nothing is measured");
  finding_way_out(run, finding, "add procedures: [...]; `sheaf list procedure` shows them");
}

void check_outcomes(Run *run, const Job *job, const Plan *plan) {
  need_work(run, job);
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    if (quantity_leads(run->arena, job, i)) judge(run, job, plan, quantity);
  }
}
