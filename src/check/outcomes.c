/* Predicted against allowed, and whether somebody would notice in time. */
#include "check/rules.h"

#include "base/text.h"
#include "model/job_words.h"

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

/* A decide step whose table offers a choice that brings the value in. */
static bool can_be_chosen(const Plan *plan, const Quantity *quantity) {
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    if (!table || !table->any_inside) continue;
    for (size_t j = 0; j < table->answers.n; j++)
      if (table->answers.at[j] == quantity) return true;
  }
  return false;
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
  return range ? arena_printf(run->arena, "%s, worst case %s", nominal, range) : nominal;
}

static const char *widest_input(Run *run, const Job *job, const Quantity *quantity) {
  const Range *range = &quantity->predicted;
  if (!range->by_leaf.n) return NULL;
  return arena_printf(run->arena, "%s moves it most (%s of the half width)",
                      graph_name(job->graph, range->by_leaf.at[0].leaf),
                      quantity_print(run->arena, range->by_leaf.at[0].half_width,
                                     quantity->decl->unit, quantity_places(quantity) + 1));
}

/* The limit where it stands, the formula it comes from as a second place. */
static Finding *at_limit(Run *run, Rule rule, const Quantity *quantity, const char *what) {
  const Voice *winner = &quantity->allowed.winner;
  Finding *finding = finding_add(run, rule, winner->at, "%s %s; allowed %s", quantity->key, what,
                                 limits_said(run, quantity));
  finding_subject(finding, quantity->name);
  finding_note(run, finding, quantity->decl->at, "%s is worked out here", quantity->name);
  return finding;
}

static void judge(Run *run, const Job *job, const Plan *plan, const Quantity *quantity) {
  Finding *finding;
  const char *most;
  if (text_is(quantity->decl->report.s, "only")) return;
  switch (quantity->outcome) {
  case OUTCOME_NOT_LIMITED:
  case OUTCOME_PASS:
  case OUTCOME_POISON:
    return;
  case OUTCOME_UNKNOWN:
    if (is_judged(plan, quantity)) return;
    finding = at_limit(run, RULE_UNPROVEN, quantity,
                       "is not known from the parts and no step measures it");
    finding_way_out(run, finding, "record %s in a step, or state it in the build's facts",
                    quantity->name);
    return;
  case OUTCOME_OVERLAP:
    if (is_judged(plan, quantity)) {
      finding = at_limit(run, RULE_FIT_BY_HAND, quantity,
                         arena_printf(run->arena, "comes to %s: expect to fit this by hand",
                                      range_said(run, quantity)));
    } else {
      finding = at_limit(run, RULE_UNPROVEN, quantity,
                         arena_printf(run->arena, "comes to %s and no step measures it",
                                      range_said(run, quantity)));
      finding_way_out(run, finding, "record %s in a step, or choose parts with closer tolerances",
                      quantity->name);
    }
    most = widest_input(run, job, quantity);
    if (most) finding_note(run, finding, quantity->decl->at, "%s", most);
    return;
  case OUTCOME_DISJOINT:
    if (can_be_chosen(plan, quantity)) {
      at_limit(run, RULE_FIT_BY_HAND, quantity,
               arena_printf(run->arena,
                            "comes to %s with the parts named; the bench table offers others",
                            range_said(run, quantity)));
      return;
    }
    finding = at_limit(run, RULE_OUTSIDE_ALLOWED, quantity,
                       arena_printf(run->arena, "comes to %s", range_said(run, quantity)));
    most = widest_input(run, job, quantity);
    if (most) finding_note(run, finding, quantity->decl->at, "%s", most);
    finding_way_out(run, finding,
                    "change a part it is worked out from; `sheaf show BUILD %s` lists them",
                    quantity->name);
    return;
  }
}

void check_outcomes(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    judge(run, job, plan, quantity);
  }
}
