/* Torque against what the fastener can take and must hold. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"
#include "trade/slip.h"

#include <stdlib.h>

/* Where tightening beyond the middle of the lubricant's range leaves too little. */
#define NEAR_PROOF 0.85

/* "12 lbf.ft would be 70 % of proof" for each reading of the same number in another
 * unit that makes sense: less torque where this is too much, more where it is too little. */
static void name_the_slip(Run *run, Finding *finding, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  SlipReading readings[SLIP_UNITS];
  double number = unit_from_si(figures->torque_unit, figures->torque);
  size_t n = slip_readings(number, figures->torque_unit->print, figures->k_middle,
                           figures->thread.major, figures->proof_load, readings);
  bool too_much = joint_is_past_proof(joint);
  size_t kept = 0;
  for (size_t i = 0; i < n; i++)
    if ((readings[i].torque < figures->torque) == too_much) readings[kept++] = readings[i];
  n = kept;
  if (!n && text_is(joint->bundle->lubricant.id, "not_stated")) {
    finding_way_out(run, finding,
                    "ask for which lubricant it holds and name that: the range of K is narrower");
    return;
  }
  if (!n) {
    finding_way_out(run, finding, "check the number and its unit against %s",
                    joint_sheet(run, joint));
    return;
  }
  Text text = text_new(run->arena);
  for (size_t i = 0; i < n; i++) {
    if (i) text_add(&text, "; ");
    text_addf(
        &text, "%s %s would be %s of proof",
        number_print(run->arena, figures->torque, figures->torque_unit, figures->torque_places),
        readings[i].unit, percent(run, readings[i].share));
  }
  finding_way_out(run, finding, "check the unit: %s", text_done(&text));
}

/* The end of the sheet's band that draws the fastener most. */
static const char *most_said(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  if (!(figures->torque_high > figures->torque)) return torque_said(run, joint);
  return arena_printf(run->arena, "%s, the most its sheet allows,",
                      quantity_print(run->arena, figures->torque_high, figures->torque_unit,
                                     figures->torque_places));
}

static Place torque_place(const JobJoint *joint) {
  return joint->bundle->torque.kind == EXPR_NONE ? joint->bundle->at : joint->bundle->torque.at;
}

static void past_proof(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  Finding *finding;
  if (figures->share_middle_k > 1) {
    finding = finding_add(
        run, RULE_PAST_PROOF, torque_place(joint), "%s: %s gives %s, %s of the proof load %s",
        joint_said(run, joint), torque_said(run, joint), kilonewton(run, figures->preload_middle_k),
        percent(run, figures->share_middle_k), kilonewton(run, figures->proof_load));
  } else if (figures->yield_share_low_k > 1) {
    finding =
        finding_add(run, RULE_PAST_PROOF, torque_place(joint),
                    "%s: %s reaches %s of yield with torsion when the thread runs easy (K %.2f)",
                    joint_said(run, joint), most_said(run, joint),
                    percent(run, figures->yield_share_low_k), figures->k_low);
  } else {
    return;
  }
  finding_subject(finding, joint->name);
  name_the_slip(run, finding, joint);
}

static void near_proof(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  if (joint_is_past_proof(joint)) return;
  if (figures->share_middle_k < NEAR_PROOF && figures->share_low_k <= 1) return;
  Finding *finding =
      finding_add(run, RULE_NEAR_PROOF, torque_place(joint),
                  "%s: %s gives %s of proof, %s to %s over the range of K", joint_said(run, joint),
                  torque_said(run, joint), percent(run, figures->share_middle_k),
                  percent(run, figures->share_high_k), percent(run, figures->share_low_k));
  finding_subject(finding, joint->name);
}

/* What the joint gains hot stays with it: the stud grows less than what it holds. */
static void hot_past_proof(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  if (joint_is_past_proof(joint) || figures->hot_share_low_k <= 1 || figures->share_low_k > 1)
    return;
  Finding *finding =
      finding_add(run, RULE_HOT_PAST_PROOF, torque_place(joint),
                  "%s: %s of proof cold becomes %s at %s more, when the thread runs easy",
                  joint_said(run, joint), percent(run, figures->share_low_k),
                  percent(run, figures->hot_share_low_k),
                  quantity_print(run->arena, figures->hot_rise, unit_find("K"), 0));
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "a lower torque cold leaves room: ask %s", joint_sheet(run, joint));
}

static void holds_nothing(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  if (!joint_holds_nothing(joint)) return;
  Finding *finding = finding_add(
      run, RULE_HOLDS_NOTHING, torque_place(joint), "%s: %s gives %s, only %s of the proof load %s",
      joint_said(run, joint), torque_said(run, joint), kilonewton(run, figures->preload_middle_k),
      percent(run, figures->share_middle_k), kilonewton(run, figures->proof_load));
  finding_subject(finding, joint->name);
  name_the_slip(run, finding, joint);
}

void check_strength(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (!joint_is_judged(joint) || joint_is_stretched(joint) || !joint_leads(job, i)) continue;
    past_proof(run, joint);
    if (plan_tightens(plan, joint)) {
      near_proof(run, joint);
      hot_past_proof(run, joint);
    }
    holds_nothing(run, joint);
  }
}

static int compare_shares(const void *a, const void *b) {
  double x = *(const double *)a, y = *(const double *)b;
  return x < y ? -1 : x > y;
}

/* The usual share among at least two fellows of the same thread and class. */
static bool usual_share(Run *run, const Job *job, const JobJoint *joint, double *usual) {
  VEC(double) shares = {0};
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *other = job->joints.at[i];
    if (other == joint || !joint_is_judged(other) || joint_is_stretched(other)) continue;
    if (!joint_leads(job, i) || text_is(other->name, joint->name)) continue;
    if (!thread_same(&other->figures.thread, &joint->figures.thread)) continue;
    if (other->hardware->strength.entry != joint->hardware->strength.entry) continue;
    vec_push(run->arena, &shares, other->figures.share_middle_k);
  }
  if (shares.n < 2) return false;
  qsort(shares.at, shares.n, sizeof *shares.at, compare_shares);
  *usual = shares.at[shares.n / 2];
  return true;
}

void check_fellows(Run *run, const Job *job) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    double usual;
    if (!joint_is_judged(joint) || joint_is_stretched(joint) || !joint_leads(job, i)) continue;
    if (!usual_share(run, job, joint, &usual)) continue;
    if (!slip_is_foot_pound_apart(joint->figures.share_middle_k, usual)) continue;
    Finding *finding =
        finding_add(run, RULE_STANDS_APART, torque_place(joint),
                    "%s: %s is %s of proof; its fellows of the same thread and class stand at %s",
                    joint_said(run, joint), torque_said(run, joint),
                    percent(run, joint->figures.share_middle_k), percent(run, usual));
    finding_subject(finding, joint->name);
    finding_way_out(run, finding, "the two differ as N.m and lbf.ft do: check the unit against %s",
                    joint_sheet(run, joint));
  }
}
