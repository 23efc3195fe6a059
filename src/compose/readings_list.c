/* What readings leave to do: out of limits, still missing; and the file to write them in. */
#include "compose/compose.h"
#include "compose/completed.h"

#include "model/job_words.h"

static const char *step_of(Arena *arena, const Plan *plan, const PlanBox *box) {
  for (size_t i = 0; i < plan->steps.n; i++)
    for (size_t j = 0; j < plan->steps.at[i]->boxes.n; j++)
      if (plan->steps.at[i]->boxes.at[j] == box)
        return arena_printf(arena, "step %d", plan->steps.at[i]->number);
  return "";
}

static void list_missing(Text *out, const Plan *plan) {
  Text list = text_new(out->arena);
  for (size_t i = 0; i < plan->boxes.n; i++) {
    const PlanBox *box = plan->boxes.at[i];
    size_t given = box->reading ? box->reading->all.n : 0;
    if (given >= (size_t)box->readings) continue;
    text_addf(&list, "  box %d, %s: %s", box->number, step_of(out->arena, plan, box), box->label);
    if (given) text_addf(&list, ", %zu of %d readings", given, box->readings);
    text_add(&list, "\n");
  }
  text_addf(out, "\nstill missing:%s\n%s", list.n ? "" : " nothing", text_done(&list));
}

void compose_changes(Text *out, const Reissue *reissue) {
  if (!reissue) return;
  text_addf(out, "\nchanged since revision %.8s:%s\n", reissue->was->revision,
            reissue->list.n ? "" : " nothing that is printed");
  for (size_t i = 0; i < reissue->list.n; i++) {
    const Change *change = &reissue->list.at[i];
    text_addf(out, "  %s: %s\n", change_kind_word(change->kind), change->what);
    if (change->was) text_addf(out, "      was %s\n", change->was);
    if (change->is) text_addf(out, "      is %s\n", change->is);
  }
}

void compose_readings(Text *out, const Job *job, const Plan *plan) {
  const Readings *readings = job->readings;
  Arena *arena = out->arena;
  OutItems items = {0};
  size_t filled = 0;
  if (!readings) return;
  for (size_t i = 0; i < plan->boxes.n; i++) filled += plan->boxes.at[i]->has_value;
  text_addf(out, "\nreadings of %s by %s: %zu of %zu boxes\n", said_or(&readings->date, "no date"),
            said_or(&readings->technician, "nobody"), filled, plan->boxes.n);
  out_items(arena, job, plan, &items);
  text_addf(out, "\nout of limits:%s\n", items.n ? "" : " nothing");
  for (size_t i = 0; i < items.n; i++)
    text_addf(out, "  %s: %s\n", items.at[i].where, items.at[i].found);
  list_missing(out, plan);
  for (size_t i = 0; i < readings->open_steps.n; i++)
    text_addf(out, "%s  step %s: %s\n", i ? "" : "\nleft open:\n", readings->open_steps.at[i].step,
              readings->open_steps.at[i].why.s);
  if (!job->reissue || (!job->reissue->voids.n && !job->reissue->carried)) return;
  text_addf(out, "\nof the earlier issue: %d hold, %zu void\n", job->reissue->carried,
            job->reissue->voids.n);
  for (size_t i = 0; i < job->reissue->voids.n; i++)
    text_addf(out, "  %s, %s: %s\n", job->reissue->voids.at[i].box->label,
              job->reissue->voids.at[i].value, job->reissue->voids.at[i].why);
}

/* ---- the file ---- */

static void form_box(Text *out, const PlanBox *box) {
  Arena *arena = out->arena;
  const char *limits = box_limits_print(arena, box);
  const char *several =
      box->readings > 1 ? arena_printf(arena, "; %d readings, in [ ]", box->readings) : "";
  const char *what = gauge_is_go(box->gauge) ? "go or no-go"
                     : box->unit->print[0]   ? arena_printf(arena, "in %s", box->unit->print)
                                             : "a number";
  text_addf(out, "  %d: not given   # %s%s%s; %s%s\n", box->number,
            text_exchange(arena, box->label, '\n', ' '), limits[0] ? "; " : "", limits, what,
            several);
}

static void form_boxes(Text *out, const Plan *plan) {
  if (!plan->boxes.n) return;
  text_add(out, "boxes:\n");
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanStep *step = plan->steps.at[i];
    if (!step->boxes.n) continue;
    text_addf(out, "  # Step %d: %s\n", step->number,
              text_exchange(out->arena, step_says(out->arena, step), '\n', ' '));
    for (size_t j = 0; j < step->boxes.n; j++) form_box(out, step->boxes.at[j]);
  }
}

static bool form_fitted(Text *out, const Plan *plan) {
  Words done = {0};
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    if (!table) continue;
    for (int side = 0; side < 2; side++) {
      const TableAxis *axis = side ? &table->decl->column : &table->decl->row;
      if (!axis->role.s || text_has(&done, axis->role.s)) continue;
      if (!done.n) text_add(out, "fitted:\n");
      vec_push(out->arena, &done, axis->role.s);
      text_addf(out, "  %s: not given   # one of", axis->role.s);
      const RefList *parts = side ? &table->column_parts : &table->row_parts;
      for (size_t j = 0; j < parts->n; j++) text_addf(out, " %s", parts->at[j].id);
      text_add(out, "\n");
    }
  }
  return done.n > 0;
}

static bool has_box(const Plan *plan, const Quantity *quantity) {
  for (size_t i = 0; i < plan->boxes.n; i++)
    if (plan->boxes.at[i]->quantity == quantity) return true;
  return false;
}

/* Answers of bench tables that nobody measures or judges: sizes that are picked. */
static bool is_picked(const Plan *plan, const Quantity *quantity) {
  if (!quantity->decl->report.s || has_box(plan, quantity)) return false;
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    for (size_t j = 0; table && j < table->answers.n; j++)
      if (table->answers.at[j] == quantity) return true;
  }
  return false;
}

/* A line a member, those of one parent under it; path is that of the member before. */
static void form_member(Text *out, const Quantity *quantity, Words *path) {
  Words here = {0};
  if (quantity->instance->id) text_split(out->arena, quantity->instance->path, '.', &here);
  size_t same = 0;
  while (same < path->n && same < here.n && text_is(path->at[same], here.at[same])) same++;
  for (size_t i = same; i < here.n; i++) {
    for (size_t j = 0; j < 2 * (i + 2); j++) text_add(out, " ");
    text_addf(out, "%s:%s\n", here.at[i], i + 1 == here.n ? " not given" : "");
  }
  *path = here;
}

static void form_sizes(Text *out, const Job *job, const Plan *plan, bool begun) {
  const char *name = NULL;
  Words path = {0};
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    const char *unit = quantity->decl->unit ? quantity->decl->unit->print : "";
    if (!is_picked(plan, quantity)) continue;
    if (!begun) text_add(out, "fitted:\n");
    begun = true;
    if (!text_is(name, quantity->name)) {
      text_addf(out, "  %s:%s   # %s%s%s\n", quantity->name,
                quantity->instance->parent ? "" : " not given", quantity->label,
                unit[0] ? ", in " : "", unit);
      path = (Words){0};
    }
    name = quantity->name;
    form_member(out, quantity, &path);
  }
}

/* Steps go by their numbers; most need no line. */
static void form_steps(Text *out, const Plan *plan) {
  const PlanStep *looks = NULL;
  for (size_t i = 0; i < plan->steps.n && !looks; i++) {
    StepKind kind = plan->steps.at[i]->decl->kind;
    if (kind == STEP_CHECK || kind == STEP_VERIFY) looks = plan->steps.at[i];
  }
  if (looks)
    text_addf(out,
              "checks: not given   # of steps that say Check or Verify, by number: "
              "{%d: go}, or {%d: {found: no-go, why: what was seen}}\n",
              looks->number, looks->number);
  text_add(out, "open: not given     # steps that were left open, by number, each with the reason\n"
                "notes: not given    # remarks for the nonconformance list, in [ ]\n");
}

void compose_readings_form(Text *out, const Job *job, const Plan *plan) {
  text_addf(
      out,
      "# Readings of job %s. Write each value in place of \"not given\", as it stands in the box;\n"
      "# a bare number has the unit beside it. What stays \"not given\" stays an empty box.\n"
      "kind: readings\njob: %s\nrevision: \"%.8s\"\ndate: not given         # YYYY-MM-DD\n"
      "technician: not given\n",
      said_or(&job->build->job, ""), said_or(&job->build->job, ""), job->revision);
  form_boxes(out, plan);
  form_sizes(out, job, plan, form_fitted(out, plan));
  form_steps(out, plan);
}
