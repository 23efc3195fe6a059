/* What was read takes the place of what was predicted, and all that hangs on it is worked
 * out again. */
#include "resolve/readings_box.h"
#include "resolve/resolve.h"

#include "base/text.h"
#include "model/job_words.h"

#include <math.h>

static bool has_position(const Quantity *quantity, const char *position) {
  for (size_t i = 0; i < quantity->readings.n; i++)
    if (!quantity->readings.at[i].word && text_is(quantity->readings.at[i].position, position))
      return true;
  return false;
}

static void complete(const Plan *printed, Quantity *quantity) {
  if (!quantity->readings.n || quantity->read_complete) return;
  quantity->read_complete = true;
  for (size_t i = 0; i < printed->boxes.n; i++) {
    const PlanBox *box = printed->boxes.at[i];
    if (same_quantity(box->quantity, quantity) && !has_position(quantity, box->position))
      quantity->read_complete = false;
  }
}

/* Read again at the same position by a later box: that counts. A word is no number. */
static bool is_superseded(const Quantity *quantity, size_t index) {
  if (quantity->readings.at[index].word) return true;
  for (size_t i = index + 1; i < quantity->readings.n; i++)
    if (!quantity->readings.at[i].word &&
        text_is(quantity->readings.at[i].position, quantity->readings.at[index].position))
      return true;
  return false;
}

static void mean(const Quantity *quantity, double *si, double *half) {
  double sum = 0, halves = 0, n = 0;
  for (size_t i = 0; i < quantity->readings.n; i++) {
    if (is_superseded(quantity, i)) continue;
    sum += quantity->readings.at[i].si;
    halves += quantity->readings.at[i].half;
    n++;
  }
  *si = sum / n;
  *half = halves / n;
}

static void read_in(const Job *job, const Quantity *quantity) {
  double si, half, least = INFINITY, most = -INFINITY;
  mean(quantity, &si, &half);
  graph_read(job->graph, quantity->value, si, si - half, si + half);
  for (size_t i = 0; i < quantity->readings.n; i++) {
    if (is_superseded(quantity, i)) continue;
    least = fmin(least, quantity->readings.at[i].si);
    most = fmax(most, quantity->readings.at[i].si);
  }
  graph_read_positions(job->graph, quantity->value, least, most);
}

static bool rests_on_readings(const Job *job, const Quantity *quantity) {
  for (size_t i = 0; quantity->formula && i < job->quantities.n; i++) {
    const Quantity *other = job->quantities.at[i];
    if (other != quantity && other->read_complete && other->value &&
        graph_depends(job->graph, quantity->value, other->value))
      return true;
  }
  return false;
}

static bool is_outside(const Job *job, const Quantity *quantity, double si) {
  Quantity like = *quantity;
  Allowed *allowed = &like.allowed;
  like.predicted = (Range){.state = VALUE_KNOWN, .nominal = si};
  if (allowed->has_min) allowed->min_now = graph_evaluate(job->graph, allowed->min, NULL);
  if (allowed->has_max) allowed->max_now = graph_evaluate(job->graph, allowed->max, NULL);
  return quantity_is_out(&like);
}

static bool is_worked(const Plan *printed, const Quantity *quantity) {
  for (size_t i = 0; i < printed->boxes.n; i++)
    if (printed->boxes.at[i]->worked && same_quantity(printed->boxes.at[i]->quantity, quantity))
      return true;
  return false;
}

/* What was worked out on paper against what its own readings give. A slip of reckoning makes
 * nothing fit: what they put outside is outside, and told as that. */
static void add_up(Run *run, const Job *job, const Plan *printed, Quantity *quantity) {
  double si, half;
  mean(quantity, &si, &half);
  Range range = graph_range(job->graph, run->arena, quantity->value, NULL);
  double slack = half + 1e-9 * fabs(si);
  if (range.state == VALUE_KNOWN && is_worked(printed, quantity) &&
      is_outside(job, quantity, range.nominal) && !is_outside(job, quantity, si)) {
    quantity->overruled = true;
    return;
  }
  if (range.state != VALUE_KNOWN || (si >= range.low - slack && si <= range.high + slack)) return;
  Quantity like = *quantity;
  like.predicted = range;
  const char *band = range_print(run->arena, &like);
  Finding *finding =
      finding_add(run, RULE_ADDS_UP_OTHERWISE, quantity->readings.at[0].at,
                  "%s is entered as %s; what it is worked out from gives %s", quantity->key,
                  quantity_print(run->arena, si, quantity->decl->unit, quantity_places(quantity)),
                  band ? band : predicted_print(run->arena, &like));
  finding_subject(finding, quantity->name);
  finding_way_out(run, finding, "work it out again, or look for the reading that is wrong");
}

void resolve_readings(Run *run, Job *job) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    if (!quantity->read_complete || !quantity->readings.n || !quantity->value) continue;
    if (!quantity->overruled) read_in(job, quantity);
  }
  resolve_recompute(run, job);
}

/* Those that rest on nothing else that was read go in first, the others are held against them. */
void readings_into_graph(Run *run, Job *job, const Plan *printed) {
  VEC(Quantity *) later = {0}, first = {0};
  for (size_t i = 0; i < job->quantities.n; i++) {
    Quantity *quantity = job->quantities.at[i];
    quantity->by_parts = quantity->predicted;
    complete(printed, quantity);
  }
  for (size_t i = 0; i < job->quantities.n; i++) {
    Quantity *quantity = job->quantities.at[i];
    if (!quantity->read_complete || !quantity->value) continue;
    if (rests_on_readings(job, quantity))
      vec_push(run->arena, &later, quantity);
    else
      vec_push(run->arena, &first, quantity);
  }
  for (size_t i = 0; i < first.n; i++) read_in(job, first.at[i]);
  for (size_t i = 0; i < later.n; i++)
    if (later.at[i]->readings.at[0].box)
      add_up(run, job, printed, later.at[i]);
    else
      later.at[i]->led_to = graph_range(job->graph, run->arena, later.at[i]->value, NULL);
  resolve_readings(run, job);
}
