/* What comes on a thread: what parts, materials and steps say of it. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"

static bool is_party(const JobJoint *joint, const Role *role) {
  if (!role->part) return false;
  if (role->part == joint->hardware_entry) return true;
  for (size_t i = 0; i < joint->hardware->parties.n; i++)
    if (text_is(joint->hardware->parties.at[i].s, role->name)) return true;
  return false;
}

/* A part that takes harm from a threadlocker, where that product is used on it. */
static void forbidden_locker(Run *run, const JobJoint *joint, const Role *role) {
  const Entry *locker = joint->bundle->threadlock.entry;
  const RefList *never = &role->part->is.part.threadlock_forbidden;
  for (size_t i = 0; i < never->n; i++) {
    if (!text_is(never->at[i].id, locker->id)) continue;
    Finding *finding = finding_add(run, RULE_LUBRICANT_CONFLICT, joint->bundle->threadlock.at,
                                   "%s asks for %s, which %s must not meet", joint->label,
                                   locker->name.s, role->part->name.s);
    finding_subject(finding, joint->name);
    finding_note(run, finding, never->at[i].at, "forbidden by %s",
                 source_print(run->arena, role->part, NULL));
    finding_way_out(run, finding, "use another threadlocker, or ask the maker of the %s",
                    role->label);
  }
}

/* The threadlocker's own sheet names materials that it harms. */
static void harmed_material(Run *run, const JobJoint *joint, const Entry *material,
                            const char *where) {
  const Entry *locker = joint->bundle->threadlock.entry;
  if (!material) return;
  for (size_t i = 0; i < locker->is.threadlocker.not_on.n; i++) {
    const Said *never = &locker->is.threadlocker.not_on.at[i];
    if (!text_is(never->s, material->id)) continue;
    Finding *finding = finding_add(run, RULE_LUBRICANT_CONFLICT, joint->bundle->threadlock.at,
                                   "%s asks for %s, which must not meet %s (%s)", joint->label,
                                   locker->name.s, material->name.s, where);
    finding_subject(finding, joint->name);
    finding_note(run, finding, never->at, "forbidden by %s",
                 source_print(run->arena, locker, NULL));
    finding_way_out(run, finding, "use another threadlocker, or another way of locking");
  }
}

/* The joint is put together at 20 degC, the temperature at which sizes hold (ISO 1). */
#define ASSEMBLED_AT 293.15

static void too_hot(Run *run, const JobJoint *joint) {
  const Entry *locker = joint->bundle->threadlock.entry;
  const Expr *holds = &locker->is.threadlocker.service_temperature;
  double runs = ASSEMBLED_AT + joint->figures.hot_rise;
  if (holds->kind != EXPR_LITERAL || holds->literal.shape == LITERAL_NONE) return;
  if (joint->figures.hot_rise <= 0 || runs <= holds->literal.nominal) return;
  Finding *finding = finding_add(
      run, RULE_LUBRICANT_CONFLICT, joint->bundle->threadlock.at,
      "%s asks for %s, which holds to %s; the joint runs at about %s", joint->label, locker->name.s,
      literal_print(run->arena, &holds->literal),
      quantity_print(run->arena, runs, unit_find("degC"), 0));
  finding_subject(finding, joint->name);
  finding_note(run, finding, holds->at, "said by %s", source_print(run->arena, locker, NULL));
  finding_way_out(run, finding,
                  "use one that holds at that heat, or look at what `hot_rise` was stated");
}

static void check_locker(Run *run, const Job *job, const JobJoint *joint) {
  const Entry *locker = joint->bundle->threadlock.entry;
  if (!locker || locker->kind != ENTRY_THREADLOCKER) return;
  too_hot(run, joint);
  harmed_material(run, joint, joint->hardware->into_material.entry, "the thread's hole");
  for (size_t i = 0; i < job->roles.n; i++) {
    const Role *role = job->roles.at[i];
    if (!is_party(joint, role)) continue;
    forbidden_locker(run, joint, role);
    if (role->part->is.part.material.entry != joint->hardware->into_material.entry)
      harmed_material(run, joint, role->part->is.part.material.entry, role->label);
  }
}

/* A sheet that does not say for what its torque holds is told by itself. */
static bool asks_for(const JobJoint *joint, const Entry *product) {
  const JointDecl *bundle = joint->bundle;
  if (!bundle || !bundle->lubricant.id || text_is(bundle->lubricant.id, "not_stated")) return true;
  return bundle->lubricant.entry == product || bundle->under_head.entry == product ||
         bundle->threadlock.entry == product;
}

/* What the product is on a thread; NULL: it is none for threads. */
static const Entry *on_thread(const Ref *use) {
  if (!use->entry || use->entry->kind != ENTRY_CONSUMABLE) return NULL;
  const ConsumableEntry *is = &use->entry->is.consumable;
  return is->threadlocker.entry ? is->threadlocker.entry : is->lubricant.entry;
}

static void wrong_product(Run *run, const PlanStep *step, const Ref *use, const JobJoint *joint,
                          const char *does) {
  const char *tail = step->decl->coats.n ? "" : ", or move it to a step of its own";
  Finding *finding = finding_add(
      run, RULE_LUBRICANT_CONFLICT, use->at, "step %d (%s) %s %s; the torque of %s is for %s",
      step->number, step->id, does, use->entry->name.s, joint->label,
      joint->figures.condition ? joint->figures.condition : "clean, dry threads");
  finding_subject(finding, joint->name);
  finding_note(run, finding, joint->bundle->at, "its sheet stands here");
  finding_way_out(run, finding, "use what the joint's sheet names%s", tail);
}

/* A step that coats names its joints, and each must want it; one that tightens may use the
 * product for any of them. */
static void check_use(Run *run, const PlanStep *step, const Ref *use) {
  const Entry *product = on_thread(use);
  if (!product) return;
  const JobJoint *told = NULL;
  for (size_t i = 0; i < step->coated.n; i++) {
    const JobJoint *joint = step->coated.at[i];
    if (asks_for(joint, product) || (told && text_is(told->name, joint->name))) continue;
    told = joint;
    wrong_product(run, step, use, joint,
                  arena_printf(run->arena, "coats the threads of %s with", joint->label));
  }
  if (step->coated.n || !step->joints.n) return;
  for (size_t i = 0; i < step->joints.n; i++)
    if (asks_for(step->joints.at[i], product)) return;
  wrong_product(run, step, use, step->joints.at[0], "uses");
}

static bool has_joint(JobJoint *const *joints, size_t n, const JobJoint *joint) {
  for (size_t i = 0; i < n; i++)
    if (joints[i] == joint) return true;
  return false;
}

/* Number of steps up to the last that works on the joint. */
static size_t steps_until_tight(const Plan *plan, const JobJoint *joint) {
  size_t n = plan->steps.n;
  while (n > 0 &&
         !has_joint(plan->steps.at[n - 1]->joints.at, plan->steps.at[n - 1]->joints.n, joint))
    n--;
  return n;
}

/* By a step that coats the joint, or with which it is tightened. */
static bool is_put_on(const Plan *plan, const JobJoint *joint, const Entry *product) {
  size_t n = steps_until_tight(plan, joint);
  for (size_t i = 0; i < n; i++) {
    const PlanStep *step = plan->steps.at[i];
    if (!has_joint(step->coated.at, step->coated.n, joint) &&
        !has_joint(step->joints.at, step->joints.n, joint))
      continue;
    for (size_t j = 0; j < step->decl->uses.n; j++) {
      const Ref *use = &step->decl->uses.at[j];
      if (!use->entry || on_thread(use) == product) return true; /* unknown: it was reported */
    }
  }
  return n == 0; /* nobody tightens it: that is told by itself */
}

/* Answers whether it was told. */
static bool check_put_on(Run *run, const Plan *plan, const JobJoint *joint, const Ref *asked) {
  const Entry *product = asked->entry;
  if (!product) return false;
  const Ref *with = product->kind == ENTRY_LUBRICANT      ? &product->is.lubricant.product
                    : product->kind == ENTRY_THREADLOCKER ? &product->is.threadlocker.product
                                                          : NULL;
  if (!with || !with->entry || is_put_on(plan, joint, product)) return false;
  Finding *finding = finding_add(run, RULE_NOT_COATED, asked->at,
                                 "%s: the torque is for %s, and no step puts it on before",
                                 joint->label, product->name.s);
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "write `coats: [%s]` and `uses: [%s]` in the step that does",
                  joint->name, with->entry->id);
  return true;
}

/* One finding for all copies of a joint. */
static void check_coats(Run *run, const Job *job, const Plan *plan) {
  const char *told = NULL;
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (!joint->bundle || joint->undisturbed || text_is(told, joint->name)) continue;
    bool now = check_put_on(run, plan, joint, &joint->bundle->lubricant) ||
               check_put_on(run, plan, joint, &joint->bundle->under_head) ||
               check_put_on(run, plan, joint, &joint->bundle->threadlock);
    if (now) told = joint->name;
  }
}

void check_on_threads(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (joint->bundle && joint_leads(job, i)) check_locker(run, job, joint);
  }
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanStep *step = plan->steps.at[i];
    if ((!step->joints.n && !step->coated.n) || !step_leads(plan, i)) continue;
    for (size_t j = 0; j < step->decl->uses.n; j++) check_use(run, step, &step->decl->uses.at[j]);
  }
  check_coats(run, job, plan);
}
