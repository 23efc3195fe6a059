/* The passes of a joint, fastener by fastener: they rise and end at the final value. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"

#include <math.h>

/* How far one fastener has come. */
typedef struct Climb {
  const JobJoint *joint;
  const char *place;
  double torque, turned; /* the last torque; turned on by this since */
  bool final;
  const Pass *ends; /* the last pass that concerns it */
} Climb;

static const char *angle_print(Run *run, double angle) {
  return quantity_print(run->arena, angle, unit_find("deg"), -1);
}

static bool concerns(const Pass *pass, const char *place) {
  for (size_t i = 0; i < pass->only.n; i++)
    if (text_is(pass->only.at[i].s, place)) return true;
  return pass->only.n == 0;
}

/* "", or ", place 3" where the passes part the fasteners. */
static const char *place_said(Run *run, const Climb *climb) {
  const Passes *passes = &climb->joint->bundle->passes;
  for (size_t i = 0; i < passes->n; i++)
    if (passes->at[i].only.n) return arena_printf(run->arena, ", place %s", climb->place);
  return "";
}

static void falls(Run *run, const Climb *climb, const Pass *pass, double to) {
  const JobJoint *joint = climb->joint;
  Finding *finding =
      finding_add(run, RULE_PASSES_WRONG, pass->at, "%s%s: the pass to %s follows one to %s",
                  joint->label, place_said(run, climb), joint_torque_print(run, joint, to),
                  joint_torque_print(run, joint, climb->torque));
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "passes rise, unless one backs off in between");
}

/* One pass. The same torque once more is a second round; false: reported. */
static bool climb_on(Run *run, Climb *climb, const Pass *pass) {
  const JointFigures *figures = &climb->joint->figures;
  double to = figures->torque;
  switch (pass->kind) {
  case PASS_TO:
    if (pass->amount.kind != EXPR_LITERAL) return false; /* said where it is written */
    to = pass->amount.literal.nominal;
    break;
  case PASS_FINAL:
    break;
  case PASS_BACK_OFF:
  case PASS_UNDO:
    climb->torque = climb->turned = 0;
    climb->final = false;
    climb->ends = pass;
    return true;
  case PASS_ANGLE:
    if (pass->amount.kind == EXPR_LITERAL) climb->turned += pass->amount.literal.nominal;
    climb->ends = pass;
    return true;
  case PASS_HAND:
  case PASS_SEAT:
  case PASS_TURN_OVER:
  case PASS_OWN:
  case PASS_RETORQUE:
  case PASS_CHECK:
    return true;
  }
  climb->ends = pass;
  if (to < climb->torque * (1 - 1e-9)) {
    falls(run, climb, pass, to);
    return false;
  }
  climb->final = fabs(to - figures->torque) < 1e-9;
  climb->torque = to;
  return true;
}

static bool ends_short(Run *run, const Climb *climb, const Pass *first) {
  const JobJoint *joint = climb->joint;
  if (climb->final) return false;
  Finding *finding = finding_add(
      run, RULE_PASSES_WRONG, (climb->ends ? climb->ends : first)->at,
      "%s%s: the passes end at %s, the final torque is %s", joint->label, place_said(run, climb),
      joint_torque_print(run, joint, climb->torque), torque_said(run, joint));
  finding_subject(finding, joint->name);
  finding_way_out(run, finding,
                  joint_is_stretched(joint) ? "bring them to `{to: final}` before the angle"
                                            : "end the passes with `{to: final}`");
  return true;
}

/* The turn that the sheet asks for after the torque, and what the passes make of it. */
static bool turned_wrong(Run *run, const Climb *climb, const Pass *first) {
  const JobJoint *joint = climb->joint;
  const Expr *angle = &joint->bundle->angle;
  if (angle->kind != EXPR_LITERAL || fabs(angle->literal.nominal - climb->turned) < 1e-6)
    return false;
  const char *turned = climb->turned > 0 ? angle_print(run, climb->turned) : "nothing";
  Finding *finding =
      finding_add(run, RULE_PASSES_WRONG, (climb->ends ? climb->ends : first)->at,
                  "%s%s: the passes turn it on by %s, the sheet's angle is %s", joint->label,
                  place_said(run, climb), turned, literal_print(run->arena, &angle->literal));
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "give the angle as passes behind `{to: final}`");
  return true;
}

/* false: one fastener goes wrong, the others most likely in the same way. */
static bool climb_passes(Run *run, const JobJoint *joint, const Passes *passes, const char *place,
                         bool again) {
  Climb climb = {.joint = joint, .place = place};
  for (size_t i = 0; i < passes->n; i++)
    if (concerns(&passes->at[i], place) && !climb_on(run, &climb, &passes->at[i])) return false;
  if (ends_short(run, &climb, &passes->at[0])) return false;
  return again || !turned_wrong(run, &climb, &passes->at[0]);
}

/* Places that a pass of the sheet's names and the joint has not. */
static bool names_places(Run *run, const JobJoint *joint, const Passes *passes) {
  bool all = true;
  for (size_t i = 0; i < passes->n; i++) {
    const SaidList *only = &passes->at[i].only;
    for (size_t j = 0; j < only->n; j++) {
      if (!only->at[j].s || text_has(&joint->place_names, only->at[j].s)) continue;
      all = false;
      Finding *finding =
          finding_add(run, RULE_ORDER_WRONG, only->at[j].at,
                      "%s: a pass names place %s, which it has not", joint->label, only->at[j].s);
      finding_subject(finding, joint->name);
      finding_way_out(run, finding, "the places go from %s to %s", joint->place_names.at[0],
                      joint->place_names.at[joint->place_names.n - 1]);
    }
  }
  return all;
}

/* A pass in lbf.ft on the way to a torque in N.m: one of the two is likely a slip. */
static void unit_apart(Run *run, const JobJoint *joint, const Passes *passes) {
  const Expr *torque = &joint->bundle->torque;
  for (size_t i = 0; i < passes->n; i++) {
    const Expr *amount = &passes->at[i].amount;
    if (passes->at[i].kind != PASS_TO || amount->kind != EXPR_LITERAL) continue;
    if (torque->kind != EXPR_LITERAL || amount->literal.unit == torque->literal.unit) continue;
    Finding *finding = finding_add(
        run, RULE_STANDS_APART, amount->at, "%s: a pass to %s on the way to %s, in another unit",
        joint->label, literal_print(run->arena, &amount->literal), torque_said(run, joint));
    finding_subject(finding, joint->name);
    finding_way_out(run, finding, "check the unit of both against %s", joint_sheet(run, joint));
    return;
  }
}

static void judge(Run *run, const JobJoint *joint, const Passes *passes, bool again) {
  if (!passes->n || !joint->place_names.n || !names_places(run, joint, passes)) return;
  if (!(joint->figures.torque > 0)) return;
  unit_apart(run, joint, passes);
  for (size_t i = 0; i < joint->place_names.n; i++)
    if (!climb_passes(run, joint, passes, joint->place_names.at[i], again)) return;
}

void check_passes(Run *run, const Job *job) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (!joint_leads(job, i) || !joint->bundle) continue;
    judge(run, joint, &joint->bundle->passes, false);
    judge(run, joint, &joint->bundle->retorque, true);
  }
}
