/* Readings into the job: from boxes to quantities, from quantities to the graph. */
#include "resolve/readings.h"

#include "resolve/readings_box.h"
#include "resolve/resolve.h"

#include "base/text.h"
#include "model/job_words.h"

#include <math.h>
#include <string.h>

#define REVISION_LEAST 8 /* digits, as printed */

/* ---- whose they are ---- */

static bool is_revision(const char *said, const char *revision) {
  size_t n = strlen(said);
  return n >= REVISION_LEAST && n <= strlen(revision) && strncmp(said, revision, n) == 0;
}

static bool by_number(const Readings *readings) {
  for (size_t i = 0; i < readings->lines.n; i++)
    if (readings->lines.at[i].box) return true;
  return false;
}

static bool of_earlier(const Printed *printed, const Readings *readings) {
  return printed->reissue && readings->revision.s &&
         is_revision(readings->revision.s, printed->reissue->was->revision) &&
         !is_revision(readings->revision.s, printed->job->revision);
}

static bool says_revision(Run *run, const Printed *printed, const Readings *readings) {
  if (readings->revision.s) return true;
  bool numbers = by_number(readings);
  if (!numbers && !printed->reissue) return true;
  Finding *finding = finding_add(run, RULE_MISSING_KEY, readings->at,
                                 "the readings do not say of which packet they are%s",
                                 numbers ? ", and boxes go by the numbers of one packet" : "");
  finding_way_out(run, finding, "add revision: the first 8 digits stand at the foot of every page");
  return false;
}

/* YYYY-MM-DD both: they sort as text. */
static void look_at_date(Run *run, const Job *job, const Readings *readings) {
  const Said *date = &job->build->date;
  if (!readings->date.s || !date->s || strcmp(readings->date.s, date->s) >= 0) return;
  Finding *finding =
      finding_add(run, RULE_READINGS_EARLY, readings->date.at,
                  "the readings are of %s, the job is of %s", readings->date.s, date->s);
  finding_note(run, finding, date->at, "the job's date stands here");
  finding_way_out(run, finding, "look at the sheet again, or give the day they were taken");
}

static bool says_something(Run *run, const Readings *readings) {
  if (readings->lines.n || readings->fitted.n || readings->open_steps.n || readings->notes.n)
    return true;
  Finding *finding = finding_add(run, RULE_NOTHING_READ, readings->at,
                                 "no reading and no decision is given: there is nothing to "
                                 "complete");
  finding_way_out(run, finding,
                  "enter what was read; without --readings the packet is printed "
                  "blank");
  return false;
}

bool readings_belong(Run *run, const Printed *printed, const Readings *readings) {
  const char *job = printed->job->build->job.s;
  if (readings->job.s && !text_is(readings->job.s, job)) {
    Finding *finding = finding_add(run, RULE_WRONG_JOB, readings->job.at,
                                   "the readings are of job %s, the build is job %s",
                                   readings->job.s, job ? job : "without a number");
    finding_way_out(run, finding, "name the build of that job, or its own readings");
    return false;
  }
  if (!says_something(run, readings) || !says_revision(run, printed, readings)) return false;
  look_at_date(run, printed->job, readings);
  if (!readings->revision.s || is_revision(readings->revision.s, printed->job->revision) ||
      of_earlier(printed, readings))
    return true;
  Finding *finding =
      finding_add(run, RULE_WRONG_REVISION, readings->revision.at,
                  "the readings were taken with the packet of revision %s; this build and its "
                  "library now are revision %.8s",
                  readings->revision.s, printed->job->revision);
  finding_way_out(run, finding,
                  "keep the build that was printed and name it with --since, or enter the readings "
                  "by name and leave the revision out");
  return false;
}

/* ---- what a changed part or step does to a reading ---- */

static const char *changed_role(const Reissue *reissue, const Quantity *quantity) {
  const Job *was = reissue->was;
  for (size_t i = 0; i < was->roles.n; i++) {
    const Role *role = was->roles.at[i];
    if (!reissue_has(reissue, CHANGE_PART, role->name)) continue;
    for (size_t j = 0; j < quantity->decl->parties.n; j++)
      if (text_is(quantity->decl->parties.at[j].s, role->name)) return role->label;
    for (size_t j = 0; j < was->facts.n; j++)
      if (was->facts.at[j].role == role && was->facts.at[j].node &&
          graph_depends(was->graph, quantity->value, was->facts.at[j].node))
        return role->label;
  }
  return NULL;
}

/* NULL: it holds. again: the box in this issue. */
static const char *why_void(Run *run, const Printed *printed, const PlanBox *box,
                            const PlanBox *again) {
  const Reissue *reissue = printed->reissue;
  const PlanStep *was = box_step(reissue->was_plan, box);
  if (!again) return "this packet no longer asks for it";
  const char *role = changed_role(reissue, box->quantity);
  if (role) return arena_printf(run->arena, "%s: another part now", role);
  const PlanStep *is = box_step(printed->plan, again);
  if (!was || !is) return NULL;
  if (!text_is(was->key, is->key)) return "it is read at another step now";
  if (!text_is(was->decl->text.s, is->decl->text.s)) return "its step is done another way now";
  const char *gauge = box->gauge ? box->gauge->name : NULL;
  if (!text_is(gauge, again->gauge ? again->gauge->name : NULL)) return "another gauge is used now";
  return NULL;
}

/* ---- one box ---- */

typedef struct Taking {
  Run *run;
  Job *job;
  const Printed *printed;
  const Readings *readings;
  const Plan *plan;           /* whose boxes the file means */
  bool earlier;               /* that is the earlier issue's */
  const ReadingLine **by_box; /* index: number of the box */
} Taking;

static Quantity *quantity_of(const Job *job, const Quantity *like) {
  for (size_t i = 0; i < job->quantities.n; i++)
    if (same_quantity(job->quantities.at[i], like)) return job->quantities.at[i];
  return NULL;
}

static void tell_apart(Taking *t, const PlanBox *box, const ReadingLine *line,
                       const Reading *reading) {
  const Expr *agree = &box->decl->at_least_agree;
  if (reading->all.n < 2) return;
  double low = INFINITY, high = -INFINITY;
  for (size_t i = 0; i < reading->all.n; i++) {
    low = fmin(low, reading->all.at[i]);
    high = fmax(high, reading->all.at[i]);
  }
  const char *at_most = NULL;
  if (agree->kind == EXPR_LITERAL) {
    if (high - low > agree->literal.nominal * (1 + 1e-6))
      at_most = arena_printf(t->run->arena, "at most %s may be",
                             literal_print(t->run->arena, &agree->literal));
  } else if (readings_scatter(box, low, high)) {
    at_most = "that is more than all that is expected there";
  }
  if (!at_most) return;
  Finding *finding =
      finding_add(t->run, RULE_READINGS_APART, line->at,
                  "box %d, %s: the readings are %s apart; %s", box->number, box->label,
                  quantity_print(t->run->arena, high - low, box->unit, box->places), at_most);
  finding_subject(finding, box->quantity->name);
  finding_way_out(t->run, finding, "take them again");
}

static void take_box(Taking *t, const PlanBox *box, const ReadingLine *line) {
  Reading reading = {.box = box->number, .position = box->position, .at = line->at};
  const PlanBox *again = t->earlier ? box_again(t->plan, box, t->printed->plan) : box;
  for (size_t i = 0; i < line->values.n; i++) {
    double si = 0;
    if (!reading_si(t->run, box, &line->values.at[i], &si) ||
        !reading_is_likely(t->run, box, line, &line->values.at[i], si))
      return;
    vec_push(t->run->arena, &reading.all, si);
  }
  reading.si = median(t->run->arena, reading.all.at, reading.all.n);
  reading.half = box->uncertainty;
  const char *why = t->earlier ? why_void(t->run, t->printed, box, again) : NULL;
  if (why) {
    VoidReading gone = {box, quantity_print(t->run->arena, reading.si, box->unit, box->places),
                        why};
    vec_push(t->run->arena, &t->printed->reissue->voids, gone);
    Finding *finding = finding_add(t->run, RULE_READING_VOID, line->at, "%s, %s, holds no more: %s",
                                   box->label, gone.value, why);
    finding_way_out(t->run, finding, again ? "measure it again: box %d" : "nothing is to be done",
                    again ? again->number : 0);
    return;
  }
  if (t->earlier) t->printed->reissue->carried++;
  reading.box = again->number;
  tell_apart(t, again, line, &reading);
  Quantity *quantity = quantity_of(t->job, box->quantity);
  if (quantity) vec_push(t->run->arena, &quantity->readings, reading);
}

static void match_lines(Taking *t) {
  t->by_box = ARENA_NEW_N(t->run->arena, const ReadingLine *, t->plan->boxes.n + 1);
  for (size_t i = 0; i < t->readings->lines.n; i++) {
    const ReadingLine *line = &t->readings->lines.at[i];
    const PlanBox *box = need_box(t->run, t->plan, line);
    if (!box) continue;
    const ReadingLine **slot = &t->by_box[box->number];
    if (*slot) {
      Finding *finding = finding_add(t->run, RULE_READ_TWICE, line->at,
                                     "box %d, %s, is given twice", box->number, box->label);
      finding_note(t->run, finding, (*slot)->at, "first given here");
      finding_way_out(t->run, finding, "several readings of one box stand in one line, in [ ]");
    } else {
      *slot = line;
    }
  }
}

/* ---- sizes fitted ---- */

static Quantity *fitted_quantity(const Job *job, const FittedLine *line) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    Quantity *quantity = job->quantities.at[i];
    if (!text_is(quantity->name, line->name) || !text_is(quantity->occasion, "final")) continue;
    size_t depth = 0;
    for (const Instance *at = quantity->instance; at && at->parent; at = at->parent) depth++;
    if (depth != line->path.n) continue;
    bool same = true;
    for (const Instance *at = quantity->instance; same && at && at->parent; at = at->parent)
      same = text_is(at->member, line->path.at[--depth].s);
    if (same) return quantity;
  }
  return NULL;
}

static void take_fitted(Taking *t, const FittedLine *line) {
  Run *run = t->run;
  Quantity *quantity = fitted_quantity(t->job, line);
  if (!quantity) return; /* readings_fit reported it */
  const Literal *literal = &line->size.literal;
  if (line->size.kind != EXPR_LITERAL) return;
  double si = literal->nominal;
  if (literal->unit == unit_of_number())
    si = unit_to_si(quantity->decl->unit, literal->nominal);
  else if (!literal_need(run, line->size.at, literal, quantity->decl->unit->dim, quantity->label))
    return;
  if (quantity->readings.n) {
    Finding *finding = finding_add(run, RULE_READ_TWICE, line->at, "%s is both measured and fitted",
                                   quantity->label);
    finding_note(run, finding, quantity->readings.at[0].at, "measured here");
    finding_way_out(run, finding, "give it once");
    return;
  }
  Reading reading = {.si = si, .at = line->at};
  vec_push(run->arena, &reading.all, si);
  vec_push(run->arena, &quantity->readings, reading);
  quantity->read_complete = true;
}

/* ---- into the graph ---- */

static bool has_position(const Quantity *quantity, const char *position) {
  for (size_t i = 0; i < quantity->readings.n; i++)
    if (text_is(quantity->readings.at[i].position, position)) return true;
  return false;
}

static void complete(Taking *t, Quantity *quantity) {
  if (!quantity->readings.n || quantity->read_complete) return;
  quantity->read_complete = true;
  for (size_t i = 0; i < t->printed->plan->boxes.n; i++) {
    const PlanBox *box = t->printed->plan->boxes.at[i];
    if (same_quantity(box->quantity, quantity) && !has_position(quantity, box->position))
      quantity->read_complete = false;
  }
}

/* Read again at the same position by a later box: that counts. */
static bool is_superseded(const Quantity *quantity, size_t index) {
  for (size_t i = index + 1; i < quantity->readings.n; i++)
    if (text_is(quantity->readings.at[i].position, quantity->readings.at[index].position))
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

/* What was worked out on paper against what its own readings give. */
static void add_up(Taking *t, const Quantity *quantity) {
  double si, half;
  Run *run = t->run;
  mean(quantity, &si, &half);
  Range range = graph_range(t->job->graph, run->arena, quantity->value, NULL);
  double slack = half + 1e-9 * fabs(si);
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
    if (quantity->read_complete && quantity->readings.n && quantity->value) read_in(job, quantity);
  }
  resolve_recompute(run, job);
}

/* Those that rest on nothing else that was read go in first, the others are held against them. */
static void into_graph(Taking *t) {
  VEC(Quantity *) later = {0}, first = {0};
  Job *job = t->job;
  for (size_t i = 0; i < job->quantities.n; i++) {
    Quantity *quantity = job->quantities.at[i];
    quantity->by_parts = quantity->predicted;
    complete(t, quantity);
  }
  for (size_t i = 0; i < job->quantities.n; i++) {
    Quantity *quantity = job->quantities.at[i];
    if (!quantity->read_complete || !quantity->value) continue;
    if (rests_on_readings(job, quantity))
      vec_push(t->run->arena, &later, quantity);
    else
      vec_push(t->run->arena, &first, quantity);
  }
  for (size_t i = 0; i < first.n; i++) read_in(job, first.at[i]);
  for (size_t i = 0; i < later.n; i++)
    if (later.at[i]->readings.at[0].box) add_up(t, later.at[i]);
  resolve_readings(t->run, job);
}

static void name_open_steps(Run *run, const Plan *plan, Readings *readings) {
  for (size_t i = 0; i < readings->open_steps.n; i++) {
    OpenStep *open = &readings->open_steps.at[i];
    for (size_t j = 0; j < plan->steps.n && !open->key; j++)
      if (text_is(arena_printf(run->arena, "%d", plan->steps.at[j]->number), open->step))
        open->key = plan->steps.at[j]->key;
    if (open->key) continue;
    Finding *finding =
        finding_add(run, RULE_UNKNOWN_STEP, open->at, "the packet has no step %s", open->step);
    finding_way_out(run, finding, "its steps are numbered 1 to %zu", plan->steps.n);
  }
}

void readings_take(Run *run, Job *job, const Printed *printed, Readings *readings) {
  Taking t = {.run = run, .job = job, .printed = printed, .readings = readings};
  t.earlier = of_earlier(printed, readings);
  t.plan = t.earlier ? printed->reissue->was_plan : printed->plan;
  job->readings = readings;
  match_lines(&t);
  name_open_steps(run, t.plan, readings);
  for (size_t i = 0; i < t.plan->boxes.n; i++) {
    const PlanBox *box = t.plan->boxes.at[i];
    if (t.by_box[box->number]) take_box(&t, box, t.by_box[box->number]);
  }
  for (size_t i = 0; i < readings->fitted.n; i++) take_fitted(&t, &readings->fitted.at[i]);
  into_graph(&t);
}
