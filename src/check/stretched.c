/* Fasteners tightened by angle, to yield or by stretch: they may pass proof on purpose, and
 * are judged by the torque before the angle and by the stretch. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"

/* The torque that only brings the parts together, taken for the final one. */
static void snug_past_proof(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  if (figures->snug_share_middle_k <= 1) return;
  Finding *finding =
      finding_add(run, RULE_PAST_PROOF, joint->bundle->torque.at,
                  "%s: the torque alone, %s, gives %s of proof, and the %s comes on top",
                  joint_said(run, joint), torque_said(run, joint),
                  percent(run, figures->snug_share_middle_k), joint->bundle->method.s);
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "check the number and its unit against %s",
                  joint_sheet(run, joint));
}

static void stretch_past_yield(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  const char *stretch = literal_print(run->arena, &joint->bundle->stretch.literal);
  double yield_load = figures->yield * figures->stress_area;
  if (figures->preload_middle_k > figures->proof_load ||
      (yield_load > 0 && figures->preload_low_k > yield_load)) {
    Finding *finding =
        finding_add(run, RULE_PAST_PROOF, joint->bundle->stretch.at,
                    "%s: stretched by %s it pulls %s to %s, proof is %s", joint_said(run, joint),
                    stretch, kilonewton(run, figures->preload_high_k),
                    kilonewton(run, figures->preload_low_k), kilonewton(run, figures->proof_load));
    finding_subject(finding, joint->name);
    finding_way_out(run, finding, "check the stretch and the clamped length against %s",
                    joint_sheet(run, joint));
  } else if (figures->share_low_k > 1) {
    Finding *finding = finding_add(
        run, RULE_NEAR_PROOF, joint->bundle->stretch.at,
        "%s: stretched by %s it stands at %s to %s of proof", joint_said(run, joint), stretch,
        percent(run, figures->share_high_k), percent(run, figures->share_low_k));
    finding_subject(finding, joint->name);
  }
}

void check_stretched(Run *run, const Job *job) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (!joint->bundle || !joint_is_stretched(joint) || !joint_leads(job, i)) continue;
    snug_past_proof(run, joint);
    if (joint->figures.preload_known && joint->bundle->stretch.kind == EXPR_LITERAL)
      stretch_past_yield(run, joint);
  }
}
