/* The steps of two issues: which came, went, moved, and which say something else. */
#include "compose/reissue.h"

#include "compose/compose.h"

#include <string.h>

/* Steps written to a sheet of their own, each as if it were the first. */
static Composer composer_alone(Run *run, const Job *job, const Plan *plan) {
  Composer c = {.run = run, .arena = run->arena, .job = job, .plan = plan};
  c.packet = ARENA_NEW(run->arena, Packet);
  c.joint_figure = ARENA_NEW_N(run->arena, int, job->joints.n + 1);
  sheet_begin(&c, "step", "Step");
  group_begin(&c);
  return c;
}

/* "step 12" is another number as soon as a step comes before it. */
static const char *without_numbers(Arena *arena, const char *text) {
  Text out = text_new(arena);
  while (*text) {
    Reference to = {0};
    size_t length = reference_at(text, &to);
    if (length)
      text_add(&out, to.figure ? "figure" : "step");
    else
      text_add_n(&out, text, 1);
    text += length ? length : 1;
  }
  return text_done(&out);
}

static const char *block_text(Run *run, const Block *block) {
  Block plain = *block;
  plain.step = 0;
  plain.measure.box = 0;
  plain.measure.verdict = NULL;
  memset(plain.measure.values, 0, sizeof plain.measure.values);
  plain.figure.number = 0;
  plain.torque.figure = 0;
  plain.bench.valid_for = "";
  plain.bench.found = (Words){0};
  Text out = text_new(run->arena);
  compose_block_text(&out, &plain);
  return without_numbers(run->arena, text_done(&out));
}

static void texts_of(Run *run, const Composer *c, bool figures, Words *out) {
  const Group *group = &c->sheet->groups.at[c->sheet->groups.n - 1];
  for (size_t i = 0; i < group->blocks.n; i++)
    if ((group->blocks.at[i]->kind == BLOCK_FIGURE) == figures)
      vec_push(run->arena, out, block_text(run, group->blocks.at[i]));
}

/* What the packet says of one step, a text for each of its blocks. */
static void step_texts(Run *run, const Job *job, const Plan *plan, const PlanStep *step,
                       Words *blocks, Words *figures) {
  Composer c = composer_alone(run, job, plan);
  add_step(&c, step);
  texts_of(run, &c, false, blocks);
  texts_of(run, &c, true, figures);
}

const char *reissue_joint_text(Run *run, const Job *job, const Plan *plan, const JobJoint *joint) {
  Composer c = composer_alone(run, job, plan);
  PlanStep none = {0};
  Words texts = {0};
  add_torque_card(&c, &none, joint);
  texts_of(run, &c, false, &texts);
  texts_of(run, &c, true, &texts);
  return text_join(run->arena, &texts, "");
}

static const char *joined(Run *run, const Words *texts, const Words *more) {
  return arena_printf(run->arena, "%s%s", text_join(run->arena, texts, ""),
                      text_join(run->arena, more, ""));
}

static const char *step_said(Run *run, const PlanStep *step) {
  return arena_printf(run->arena, "%d. %s", step->number, step_says(run->arena, step));
}

/* The step of each key. */
static Map *steps_by_key(Run *run, const Plan *plan) {
  Map *map = map_new(run->arena);
  for (size_t i = 0; i < plan->steps.n; i++)
    map_put(map, plan->steps.at[i]->key, plan->steps.at[i]);
  return map;
}

static void compare_one(Run *run, Reissue *reissue, const Job *job, const Plan *plan,
                        const PlanStep *was, const PlanStep *is) {
  Words before = {0}, after = {0}, drawn_before = {0}, drawn_after = {0};
  StepMark *mark = ARENA_NEW(run->arena, StepMark);
  bool any = false;
  step_texts(run, job, plan, is, &after, &drawn_after);
  if (was) step_texts(run, reissue->was, reissue->was_plan, was, &before, &drawn_before);
  const char *all_before = joined(run, &before, &drawn_before);
  const char *all_after = joined(run, &after, &drawn_after);
  if (was && text_is(all_before, all_after)) return;
  for (size_t i = 0; i < after.n; i++) {
    bool changed = !text_has(&before, after.at[i]);
    vec_push(run->arena, &mark->blocks, changed);
    any = any || changed;
  }
  for (size_t i = 0; i < drawn_after.n; i++)
    mark->figures = mark->figures || !text_has(&drawn_before, drawn_after.at[i]);
  /* where something only fell away the step itself is marked */
  if (!any && !mark->figures && mark->blocks.n) mark->blocks.at[0] = true;
  mark->key = is->key;
  map_put(reissue->marks, is->key, mark);
  Change change = {.kind = was ? CHANGE_STEP_CHANGED : CHANGE_STEP_ADDED,
                   .name = is->key,
                   .what = step_said(run, is)};
  if (was) reissue_lines(run->arena, all_before, all_after, &change.was, &change.is);
  reissue_add(run, reissue, change);
}

/* The longest run of common steps in one order stays; the others moved. Quadratic in the
 * number of steps, which plan bounds. */
static void compare_order(Run *run, Reissue *reissue, const Plan *plan) {
  Map *was = steps_by_key(run, reissue->was_plan);
  VEC(const PlanStep *) common = {0};
  for (size_t i = 0; i < plan->steps.n; i++)
    if (map_find(was, plan->steps.at[i]->key)) vec_push(run->arena, &common, plan->steps.at[i]);
  size_t n = common.n, best = 0;
  if (!n) return;
  int *place = ARENA_NEW_N(run->arena, int, n);
  size_t *length = ARENA_NEW_N(run->arena, size_t, n), *before = ARENA_NEW_N(run->arena, size_t, n);
  bool *stays = ARENA_NEW_N(run->arena, bool, n);
  for (size_t i = 0; i < n; i++) {
    const PlanStep *old = map_find(was, common.at[i]->key);
    place[i] = old->number;
    length[i] = 1;
    before[i] = n;
    for (size_t j = 0; j < i; j++)
      if (place[j] < place[i] && length[j] >= length[i]) {
        length[i] = length[j] + 1;
        before[i] = j;
      }
    if (length[i] > length[best]) best = i;
  }
  for (size_t i = best; i < n; i = before[i]) stays[i] = true;
  for (size_t i = 0; i < n; i++) {
    if (stays[i]) continue;
    Change change = {
        .kind = CHANGE_STEP_MOVED, .name = common.at[i]->key, .what = step_said(run, common.at[i])};
    change.was = arena_printf(run->arena, "it was step %d", place[i]);
    reissue_add(run, reissue, change);
    if (map_find(reissue->marks, common.at[i]->key)) continue;
    StepMark *mark = ARENA_NEW(run->arena, StepMark);
    mark->key = common.at[i]->key;
    vec_push(run->arena, &mark->blocks, true);
    map_put(reissue->marks, mark->key, mark);
  }
}

void reissue_compare_steps(Run *run, Reissue *reissue, const Job *job, const Plan *plan) {
  Map *was = steps_by_key(run, reissue->was_plan), *is = steps_by_key(run, plan);
  for (int kind = 0; kind < 3; kind++) { /* added, removed, changed */
    const Plan *through = kind == 1 ? reissue->was_plan : plan;
    for (size_t i = 0; i < through->steps.n; i++) {
      const PlanStep *step = through->steps.at[i];
      const PlanStep *other = map_find(kind == 1 ? is : was, step->key);
      if ((kind == 0 && !other) || (kind == 2 && other))
        compare_one(run, reissue, job, plan, other, step);
      if (kind != 1 || other) continue;
      Change change = {
          .kind = CHANGE_STEP_REMOVED, .name = step->key, .what = step_said(run, step)};
      reissue_add(run, reissue, change);
    }
  }
  compare_order(run, reissue, plan);
}

void reissue_mark(const Composer *c, const PlanStep *step, size_t first) {
  const Reissue *reissue = c->job->reissue;
  const StepMark *mark = reissue ? map_find(reissue->marks, step->key) : NULL;
  size_t n = 0;
  for (size_t i = first; mark && i < c->group->blocks.n; i++) {
    Block *block = c->group->blocks.at[i];
    bool figure = block->kind == BLOCK_FIGURE;
    block->changed = figure ? mark->figures : n < mark->blocks.n && mark->blocks.at[n];
    n += !figure;
  }
}
