/* A build against its earlier issue: parts, values, limits, joints. */
#include "compose/compose.h"
#include "compose/joint_texts.h"
#include "compose/reissue.h"

#include "model/job_words.h"

void reissue_add(Run *run, Reissue *reissue, Change change) {
  if (reissue->list.n) {
    Change *last = &reissue->list.at[reissue->list.n - 1];
    bool alike = last->kind == change.kind && text_is(last->name, change.name) &&
                 text_is(last->was, change.was) && text_is(last->is, change.is);
    if (alike && change.kind != CHANGE_STEP_CHANGED) {
      last->what = arena_printf(run->arena, "%s; %s", last->what, change.what);
      return;
    }
  }
  vec_push(run->arena, &reissue->list, change);
}

static void differ(Run *run, Reissue *reissue, ChangeKind kind, const char *name, const char *what,
                   const char *was, const char *is) {
  if (text_is(was, is)) return;
  Change change = {kind, name, what, was, is};
  reissue_add(run, reissue, change);
}

/* ---- lines of texts ---- */

static void split(Arena *arena, const char *text, Words *lines) {
  while (text && *text) {
    size_t n = 0;
    while (*text == ' ') text++;
    while (text[n] && text[n] != '\n') n++;
    if (n) vec_push(arena, lines, arena_text(arena, text, n));
    text += n + (text[n] == '\n');
  }
}

static const char *first_not_in(const Words *lines, const Words *other) {
  for (size_t i = 0; i < lines->n; i++)
    if (!text_has(other, lines->at[i])) return lines->at[i];
  return NULL;
}

void reissue_lines(Arena *arena, const char *was, const char *is, const char **was_line,
                   const char **is_line) {
  Words before = {0}, after = {0};
  split(arena, was, &before);
  split(arena, is, &after);
  *was_line = first_not_in(&before, &after);
  *is_line = first_not_in(&after, &before);
}

/* ---- the build's own lines ---- */

static const char *ref_said(const Ref *ref) {
  return ref->entry && ref->entry->name.s ? ref->entry->name.s : ref->id;
}

static void compare_machine(Run *run, Reissue *reissue, const BuildEntry *was,
                            const BuildEntry *is) {
  for (size_t i = 0; i < is->machine.n; i++) {
    const Detail *line = &is->machine.at[i];
    const char *before = NULL;
    for (size_t j = 0; j < was->machine.n; j++)
      if (text_is(was->machine.at[j].label, line->label)) before = was->machine.at[j].value.s;
    differ(run, reissue, CHANGE_DETAIL, line->label, text_title(run->arena, line->label), before,
           line->value.s);
  }
}

static const char *choice_of(const BuildEntry *build, const char *name) {
  for (size_t i = 0; i < build->choices.n; i++)
    if (text_is(build->choices.at[i].name, name)) return build->choices.at[i].word.s;
  return NULL;
}

static bool has_concession(const BuildEntry *build, const Concession *like) {
  for (size_t i = 0; i < build->concessions.n; i++) {
    const Concession *one = &build->concessions.at[i];
    if (text_is(one->rule.s, like->rule.s) && text_is(one->subject.s, like->subject.s) &&
        text_is(one->reason.s, like->reason.s) && text_is(one->approver.s, like->approver.s))
      return true;
  }
  return false;
}

static void compare_concessions(Run *run, Reissue *reissue, const Job *job) {
  const BuildEntry *was = reissue->was->build, *is = job->build;
  for (size_t i = 0; i < is->concessions.n; i++) {
    const Concession *one = &is->concessions.at[i];
    if (!has_concession(was, one))
      differ(run, reissue, CHANGE_DETAIL, "concession", "Concession", NULL,
             arena_printf(run->arena, "%s: %s", subject_said(job, one->subject.s),
                          said_or(&one->reason, "")));
  }
  for (size_t i = 0; i < was->concessions.n; i++) {
    const Concession *one = &was->concessions.at[i];
    if (!has_concession(is, one))
      differ(run, reissue, CHANGE_DETAIL, "concession", "Concession",
             subject_said(job, one->subject.s), NULL);
  }
}

static void compare_details(Run *run, Reissue *reissue, const Job *job) {
  const BuildEntry *was = reissue->was->build, *is = job->build;
  differ(run, reissue, CHANGE_DETAIL, "work", "Work", was->work.s, is->work.s);
  differ(run, reissue, CHANGE_DETAIL, "engine", "Engine data", ref_said(&was->engine),
         ref_said(&is->engine));
  differ(run, reissue, CHANGE_DETAIL, "shop", "Shop", ref_said(&was->shop), ref_said(&is->shop));
  compare_machine(run, reissue, was, is);
  for (size_t i = 0; job->engine && i < job->engine->choices.n; i++) {
    const ChoiceDecl *choice = &job->engine->choices.at[i];
    differ(run, reissue, CHANGE_DETAIL, choice->name,
           choice->label.s ? choice->label.s : text_title(run->arena, choice->name),
           choice_of(was, choice->name), choice_of(is, choice->name));
  }
  compare_concessions(run, reissue, job);
}

/* ---- parts and values ---- */

static const char *part_said(Run *run, const Role *role) {
  if (!role) return NULL;
  if (!role->part) return "none";
  return arena_printf(run->arena, "%s (%s)", said_or(&role->part->name, role->part->id),
                      source_print(run->arena, role->part, NULL));
}

static void compare_parts(Run *run, Reissue *reissue, const Job *job) {
  for (size_t i = 0; i < job->roles.n; i++) {
    const Role *is = job->roles.at[i], *was = job_role(reissue->was, is->name);
    differ(run, reissue, CHANGE_PART, is->name, is->label, part_said(run, was), part_said(run, is));
  }
  for (size_t i = 0; i < reissue->was->roles.n; i++) {
    const Role *was = reissue->was->roles.at[i];
    if (!job_role(job, was->name))
      differ(run, reissue, CHANGE_PART, was->name, was->label, part_said(run, was), NULL);
  }
}

static const char *value_said(Run *run, const Quantity *quantity) {
  if (!quantity) return NULL;
  const char *range = range_print(run->arena, quantity);
  const char *value = predicted_print(run->arena, quantity);
  return range ? arena_printf(run->arena, "%s (%s)", value, range) : value;
}

static const char *limit_said(Run *run, const Quantity *quantity) {
  const char *allowed = quantity ? allowed_print(run->arena, quantity) : NULL;
  return allowed ? arena_printf(run->arena, "%s (%s)", allowed,
                                allowed_sheet_print(run->arena, quantity))
                 : NULL;
}

static const Quantity *quantity_like(const Job *job, const Quantity *quantity) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *other = job->quantities.at[i];
    if (text_is(other->name, quantity->name) && text_is(other->occasion, quantity->occasion) &&
        text_is(other->instance->path, quantity->instance->path))
      return other;
  }
  return NULL;
}

/* Printed somewhere, or asked for: the rest is on the way between. */
static bool is_told(const Plan *plan, const Quantity *quantity) {
  if (quantity->decl->headline.s || quantity->allowed.said) return true;
  for (size_t i = 0; i < plan->boxes.n; i++)
    if (plan->boxes.at[i]->quantity == quantity) return true;
  return false;
}

/* Members of one quantity that changed alike. */
typedef struct Alike {
  const char *was, *is;
  Words members;
} Alike;
typedef VEC(Alike) Alikes;

static const char *member_words(Run *run, const Quantity *quantity) {
  Text out = text_new(run->arena);
  text_add(&out, text_exchange(run->arena, quantity->instance->path, '.', ' '));
  if (!text_is(quantity->occasion, "final"))
    text_addf(&out, "%s%s", out.n ? " " : "", quantity->occasion);
  return text_done(&out);
}

static void alike_add(Run *run, Alikes *alikes, const char *was, const char *is,
                      const char *member) {
  size_t i = 0;
  while (i < alikes->n && !(text_is(alikes->at[i].was, was) && text_is(alikes->at[i].is, is))) i++;
  if (i == alikes->n) {
    Alike alike = {.was = was, .is = is};
    vec_push(run->arena, alikes, alike);
  }
  vec_push(run->arena, &alikes->at[i].members, member);
}

/* "Squish, each", or "Squish, left intake; right intake" */
static const char *alike_said(Run *run, const Quantity *quantity, const Alike *alike, size_t all) {
  if (all == 1 && !alike->members.at[0][0]) return quantity->label;
  if (alike->members.n == all && all > 1)
    return arena_printf(run->arena, "%s, each", quantity->label);
  Text out = text_new(run->arena);
  text_add(&out, quantity->label);
  for (size_t i = 0; i < alike->members.n; i++)
    text_addf(&out, "%s%s", i ? "; " : ", ", alike->members.at[i]);
  return text_done(&out);
}

static void compare_quantity(Run *run, Reissue *reissue, const Job *job, const Plan *plan,
                             size_t index, ChangeKind kind) {
  const char *(*said)(Run *, const Quantity *) = kind == CHANGE_LIMIT ? limit_said : value_said;
  const Quantity *first = job->quantities.at[index];
  Alikes alikes = {0};
  size_t all = 0;
  for (size_t i = index; i < job->quantities.n; i++) {
    const Quantity *is = job->quantities.at[i], *was = quantity_like(reissue->was, is);
    if (!text_is(is->name, first->name) || (kind == CHANGE_VALUE && !is_told(plan, is))) continue;
    all++;
    const char *before = said(run, was), *after = said(run, is);
    if (!text_is(before, after)) alike_add(run, &alikes, before, after, member_words(run, is));
  }
  for (size_t i = 0; i < alikes.n; i++)
    differ(run, reissue, kind, first->name, alike_said(run, first, &alikes.at[i], all),
           alikes.at[i].was, alikes.at[i].is);
}

static bool is_first_of_name(const Job *job, size_t index) {
  for (size_t i = 0; i < index; i++)
    if (text_is(job->quantities.at[i]->name, job->quantities.at[index]->name)) return false;
  return true;
}

static void compare_values(Run *run, Reissue *reissue, const Job *job, const Plan *plan,
                           ChangeKind kind) {
  for (size_t i = 0; i < job->quantities.n; i++)
    if (is_first_of_name(job, i)) compare_quantity(run, reissue, job, plan, i, kind);
  const Job *was = reissue->was;
  for (size_t i = 0; i < was->quantities.n; i++) {
    const Quantity *quantity = was->quantities.at[i];
    const char *before =
        kind == CHANGE_LIMIT ? limit_said(run, quantity) : value_said(run, quantity);
    if (is_first_of_name(was, i) && !quantity_like(job, quantity) && before &&
        (kind == CHANGE_LIMIT || is_told(reissue->was_plan, quantity)))
      differ(run, reissue, kind, quantity->name, quantity->label, before, NULL);
  }
}

/* ---- joints ---- */

static const JobJoint *joint_like(const Job *job, const JobJoint *joint) {
  for (size_t i = 0; i < job->joints.n; i++)
    if (text_is(job->joints.at[i]->name, joint->name) &&
        text_is(job->joints.at[i]->instance->path, joint->instance->path))
      return job->joints.at[i];
  return NULL;
}

static void compare_joints(Run *run, Reissue *reissue, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *is = job->joints.at[i], *was = joint_like(reissue->was, is);
    const char *after = reissue_joint_text(run, job, plan, is), *before = NULL;
    if (was) before = reissue_joint_text(run, reissue->was, reissue->was_plan, was);
    if (text_is(before, after)) continue;
    Change change = {.kind = CHANGE_JOINT, .name = is->name, .what = joint_name(run->arena, is)};
    reissue_lines(run->arena, before, after, &change.was, &change.is);
    reissue_add(run, reissue, change);
  }
  for (size_t i = 0; i < reissue->was->joints.n; i++) {
    const JobJoint *was = reissue->was->joints.at[i];
    if (joint_like(job, was)) continue;
    Change change = {.kind = CHANGE_JOINT, .name = was->name, .what = joint_name(run->arena, was)};
    change.was = "tightened";
    reissue_add(run, reissue, change);
  }
}

Reissue *compose_reissue(Run *run, const Job *was, const Plan *was_plan, const Job *job,
                         const Plan *plan) {
  Reissue *reissue = ARENA_NEW(run->arena, Reissue);
  reissue->was = was;
  reissue->was_plan = was_plan;
  reissue->marks = map_new(run->arena);
  compare_details(run, reissue, job);
  compare_parts(run, reissue, job);
  compare_values(run, reissue, job, plan, CHANGE_VALUE);
  compare_values(run, reissue, job, plan, CHANGE_LIMIT);
  compare_joints(run, reissue, job, plan);
  reissue_compare_steps(run, reissue, job, plan);
  return reissue;
}
