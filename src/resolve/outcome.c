/* Ranges, limits and outcomes as the graph stands; again after readings. */
#include "resolve/resolve.h"

#include "base/text.h"

#include <math.h>

static void evaluate_limits(const Job *job, Allowed *allowed) {
  if (allowed->has_min) allowed->min_now = graph_evaluate(job->graph, allowed->min, NULL);
  if (allowed->has_target) allowed->target_now = graph_evaluate(job->graph, allowed->target, NULL);
  if (allowed->has_max) allowed->max_now = graph_evaluate(job->graph, allowed->max, NULL);
}

static Outcome outcome_of(const Quantity *quantity) {
  const Allowed *allowed = &quantity->allowed;
  const Range *range = &quantity->predicted;
  if (text_is(quantity->decl->report.s, "only")) return OUTCOME_NOT_LIMITED;
  if (!allowed->said || (!allowed->has_min && !allowed->has_max)) return OUTCOME_NOT_LIMITED;
  ValueState least = allowed->has_min ? allowed->min_now.state : VALUE_KNOWN;
  ValueState most = allowed->has_max ? allowed->max_now.state : VALUE_KNOWN;
  if (range->state == VALUE_POISON || least == VALUE_POISON || most == VALUE_POISON)
    return OUTCOME_POISON;
  if (range->state == VALUE_UNKNOWN || least == VALUE_UNKNOWN || most == VALUE_UNKNOWN)
    return OUTCOME_UNKNOWN;
  double min = allowed->has_min ? allowed->min_now.si : -INFINITY;
  double max = allowed->has_max ? allowed->max_now.si : INFINITY;
  /* a reading is judged as it was read, as the technician does */
  double low = quantity->read_complete ? range->nominal : range->low;
  double high = quantity->read_complete ? range->nominal : range->high;
  double size = fmax(isinf(min) ? 0 : fabs(min), isinf(max) ? 0 : fabs(max));
  double slack = 1e-9 * fmax(size, high - low) + 1e-15;
  if (high < min - slack || low > max + slack) return OUTCOME_DISJOINT;
  if (low < min - slack || high > max + slack) return OUTCOME_OVERLAP;
  return OUTCOME_PASS;
}

typedef VEC(NodeId) Reported;

static bool was_reported(const Reported *reported, NodeId node) {
  for (size_t i = 0; i < reported->n; i++)
    if (reported->at[i] == node) return true;
  return false;
}

/* Once for each place in a formula, wherever its result goes. */
static void not_finite(Run *run, const Job *job, const Quantity *quantity, Reported *reported) {
  Evaluation now = graph_evaluate(job->graph, quantity->value, NULL);
  if (now.state != VALUE_POISON || !now.not_finite || was_reported(reported, now.culprit)) return;
  vec_push(run->arena, reported, now.culprit);
  Place at = graph_place(job->graph, now.culprit);
  if (!at.source) at = quantity->formula ? quantity->formula->at : quantity->decl->at;
  Finding *finding = finding_add(
      run, RULE_DIVISION_BY_ZERO, at,
      "%s comes to nothing that can be measured: it divides by zero, or takes a root, a power or "
      "an angle of something out of range",
      quantity->name);
  finding_subject(finding, quantity->name);
  NodeIds inputs = {0};
  graph_inputs(job->graph, run->arena, quantity->value, &inputs);
  for (size_t i = 0; i < inputs.n; i++) {
    Evaluation input = graph_evaluate(job->graph, inputs.at[i], NULL);
    if (input.state != VALUE_KNOWN || input.si != 0) continue;
    finding_note(run, finding, graph_place(job->graph, inputs.at[i]), "%s is zero",
                 graph_name(job->graph, inputs.at[i]));
  }
  finding_way_out(run, finding, "check the values it is worked out from");
}

void resolve_recompute(Run *run, Job *job) {
  Reported reported = {0};
  for (size_t i = 0; i < job->quantities.n; i++) {
    Quantity *quantity = job->quantities.at[i];
    quantity->predicted = graph_range(job->graph, run->arena, quantity->value, NULL);
    if (quantity->value && quantity->predicted.state == VALUE_POISON)
      not_finite(run, job, quantity, &reported);
    evaluate_limits(job, &quantity->allowed);
    quantity->outcome = outcome_of(quantity);
  }
}
