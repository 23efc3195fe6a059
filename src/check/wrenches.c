/* The shop's torque wrenches against the torques of the job. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"
#include "trade/wrench.h"

static void none_in_range(Run *run, const Job *job, const JobJoint *joint) {
  Text ranges = text_new(run->arena);
  for (size_t i = 0; i < job->shop->wrenches.n; i++) {
    const Wrench *wrench = &job->shop->wrenches.at[i];
    text_addf(&ranges, "%s%s %s", i ? ", " : "", wrench_name(wrench),
              literal_print(run->arena, &wrench->range.literal));
  }
  Finding *finding = finding_add(run, RULE_NO_WRENCH, joint->bundle->torque.at,
                                 "%s asks for %s; no wrench of %s reaches it (%s)", joint->label,
                                 torque_said(run, joint), job->shop_entry->name.s,
                                 job->shop->wrenches.n ? text_done(&ranges) : "it has none");
  finding_subject(finding, joint->name);
  finding_way_out(run, finding,
                  "borrow one and enter it in the shop's file, or use an adapter that brings the "
                  "setting into range");
}

/* Between two divisions of its scale a wrench is set by guess. */
static void too_coarse(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  const Wrench *wrench = figures->wrench;
  double gets = figures->setting * figures->torque / figures->unrounded;
  if (wrench_is_near(gets, figures->torque, figures->torque_low, figures->torque_high)) return;
  const Literal *scale = &wrench->resolution.literal;
  Finding *finding = finding_add(
      run, RULE_WRENCH_COARSE, joint->bundle->torque.at,
      "%s asks for %s; wrench %s has steps of %s, and its nearest, %s, puts %s on it",
      joint->label, torque_said(run, joint), wrench_name(wrench),
      literal_print(run->arena, scale),
      quantity_print(run->arena, figures->setting, scale->unit, scale->places),
      quantity_print(run->arena, gets, figures->torque_unit, figures->torque_places + 1));
  finding_subject(finding, joint->name);
  finding_note(run, finding, wrench->resolution.at, "the steps of its scale stand here");
  finding_way_out(run, finding,
                  "use a wrench with a finer scale; with an adapter one of another length may do");
}

static void calibration(Run *run, const Job *job, const Wrench *wrench) {
  if (!date_before(wrench->due.s, job->build->date.s)) return;
  Finding *finding = finding_add(run, RULE_CALIBRATION_OUT, wrench->due.at,
                                 "torque wrench %s was due for calibration on %s; the job is of %s",
                                 wrench_name(wrench), wrench->due.s, job->build->date.s);
  finding_subject(finding, wrench->name);
  finding_way_out(run, finding, "have it checked, or use another");
}

static void low_passes(Run *run, const Plan *plan) {
  const JobJoint *told = NULL;
  for (size_t i = 0; i < plan->steps.n; i++) {
    for (size_t j = 0; j < plan->steps.at[i]->passes.n; j++) {
      const PlanPass *pass = &plan->steps.at[i]->passes.at[j];
      if (pass->kind != PASS_TO || !pass->joint || pass->wrench || pass->joint == told) continue;
      if (!pass->unit) continue;                  /* said where it is written */
      if (!pass->joint->figures.wrench) continue; /* said for the joint as a whole */
      if (joint_is_past_proof(pass->joint) || joint_holds_nothing(pass->joint)) continue;
      told = pass->joint;
      Finding *finding = finding_add(
          run, RULE_WRENCH_LOW_PASS, pass->decl->at,
          "%s: no wrench of the shop promises anything at the pass to %s", pass->joint->label,
          quantity_print(run->arena, pass->amount, pass->unit, pass->places));
      finding_subject(finding, pass->joint->name);
    }
  }
}

void check_wrenches(Run *run, const Job *job, const Plan *plan) {
  if (!job->shop) return;
  for (size_t i = 0; i < job->shop->wrenches.n; i++) {
    const Wrench *wrench = &job->shop->wrenches.at[i];
    if (plan_uses_wrench(plan, job, wrench)) calibration(run, job, wrench);
  }
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (!joint_leads(job, i) || !plan_tightens(plan, joint)) continue;
    if (joint_is_past_proof(joint) || joint_holds_nothing(joint)) continue;
    if (joint->bundle && joint->figures.torque > 0 && !joint->figures.wrench)
      none_in_range(run, job, joint);
    else if (joint->figures.wrench)
      too_coarse(run, joint);
  }
  low_passes(run, plan);
}
