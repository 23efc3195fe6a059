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

static void check_locker(Run *run, const Job *job, const JobJoint *joint) {
  const Entry *locker = joint->bundle->threadlock.entry;
  if (!locker || locker->kind != ENTRY_THREADLOCKER) return;
  harmed_material(run, joint, joint->hardware->into_material.entry, "the thread's hole");
  for (size_t i = 0; i < job->roles.n; i++) {
    const Role *role = job->roles.at[i];
    if (!is_party(joint, role)) continue;
    forbidden_locker(run, joint, role);
    if (role->part->is.part.material.entry != joint->hardware->into_material.entry)
      harmed_material(run, joint, role->part->is.part.material.entry, role->label);
  }
}

/* Does one of the joints that the step tightens ask for it? */
static bool is_asked_for(const PlanStep *step, const Entry *product) {
  for (size_t i = 0; i < step->joints.n; i++) {
    const JointDecl *bundle = step->joints.at[i]->bundle;
    if (!bundle || bundle->lubricant.entry == product || bundle->under_head.entry == product ||
        bundle->threadlock.entry == product)
      return true;
  }
  return false;
}

/* A product for threads, used in a step that tightens joints none of which is to have it. */
static void check_use(Run *run, const PlanStep *step, const Ref *use) {
  if (!use->entry || use->entry->kind != ENTRY_CONSUMABLE) return;
  const ConsumableEntry *is = &use->entry->is.consumable;
  const Entry *product = is->threadlocker.entry ? is->threadlocker.entry : is->lubricant.entry;
  if (!product || is_asked_for(step, product)) return;
  const JobJoint *joint = step->joints.at[0];
  Finding *finding = finding_add(
      run, RULE_LUBRICANT_CONFLICT, use->at, "step %d (%s) uses %s; the torque of %s is for %s",
      step->number, step->id, use->entry->name.s, joint->label,
      joint->figures.condition ? joint->figures.condition : "clean, dry threads");
  finding_subject(finding, joint->name);
  finding_note(run, finding, joint->bundle->at, "its sheet stands here");
  finding_way_out(run, finding,
                  "use what the joint's sheet names, or move it to a step of its own");
}

void check_on_threads(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (joint->bundle && joint_leads(job, i)) check_locker(run, job, joint);
  }
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanStep *step = plan->steps.at[i];
    if (!step->joints.n || !step_leads(plan, i)) continue;
    for (size_t j = 0; j < step->decl->uses.n; j++) check_use(run, step, &step->decl->uses.at[j]);
  }
}
