/* Torques and stretches that nothing is reckoned from: what is missing for it. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"

static bool is_by_stretch(const JobJoint *joint) {
  return text_is(joint->bundle->method.s, "stretch") && joint->bundle->stretch.kind == EXPR_LITERAL;
}

/* The first thing that is missing; NULL: nothing, or it is told by itself. */
static const char *missing(const JobJoint *joint) {
  const JointDecl *hardware = joint->hardware;
  if (!hardware->thread.s) return "its thread";
  if (!joint->figures.thread_known) return NULL;
  if (!hardware->strength.id) return "the class of the fastener";
  if (!joint->figures.strength_known) return NULL;
  if (is_by_stretch(joint) && hardware->clamped_length.kind == EXPR_NONE)
    return "the clamped length";
  return NULL;
}

static void judge(Run *run, const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  const Expr *asked = is_by_stretch(joint) ? &bundle->stretch : &bundle->torque;
  if (asked->kind != EXPR_LITERAL || text_is(bundle->method.s, "hand")) return;
  const char *what = missing(joint);
  if (!what) return;
  Finding *finding = finding_add(run, RULE_NOT_JUDGED, asked->at,
                                 "%s: %s is held against nothing, for %s is not given",
                                 joint->label, literal_print(run->arena, &asked->literal), what);
  finding_subject(finding, joint->name);
  finding_note(run, finding, joint->hardware->at, "the fastener stands here");
  finding_way_out(run, finding, "add it from the sheet, or read it off the fastener");
}

void check_unjudged(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (joint->bundle && joint_leads(job, i) && plan_tightens(plan, joint)) judge(run, joint);
  }
}
