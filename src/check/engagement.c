/* The thread that a fastener goes into: enough of it, and not too little depth. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"
#include "trade/thread_limits.h"

/* What the thread in the part must hold: proof, or yield where the fastener is turned to it. */
static double load_to_hold(const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  const char *method = joint->bundle ? joint->bundle->method.s : NULL;
  bool to_yield = text_is(method, "angle") || text_is(method, "yield");
  return to_yield ? figures->yield * figures->stress_area : figures->proof_load;
}

static const char *length_said(Run *run, double length) {
  return quantity_print(run->arena, length, unit_find("mm"), -1);
}

static Place engagement_place(const JobJoint *joint) {
  const JointDecl *hardware = joint->hardware;
  if (hardware->engagement.kind != EXPR_NONE) return hardware->engagement.at;
  return hardware->length.kind != EXPR_NONE ? hardware->length.at : hardware->at;
}

static void strips(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  double load = load_to_hold(joint);
  if (!figures->strip_known || !(load > 0) || figures->strip_load >= load) return;
  const Entry *into = joint->hardware->into_material.entry;
  Finding *finding = finding_add(
      run, RULE_ENGAGEMENT_SHORT, engagement_place(joint),
      "%s: %s of %s in %s strips at %s%s, before the fastener's %s load %s", joint_said(run, joint),
      length_said(run, figures->engagement), figures->end_thread.name,
      into ? into->name.s : "its part", kilonewton(run, figures->strip_load),
      figures->strips_itself ? ", on the fastener's side" : "",
      load > figures->proof_load ? "yield" : "proof", kilonewton(run, load));
  finding_subject(finding, joint->name);
  finding_note(run, finding, engagement_place(joint),
               "reckoned at the worst of the tolerances %s; in their middle it is %s",
               thread_limits_name(&figures->end_thread), kilonewton(run, figures->strip_usual));
  finding_way_out(run, finding,
                  "a longer engagement, a thread insert, or a lower class with its own torque");
}

/* The engagement that the sheet gives is longer than the hole is deep. */
static void bottoms_by_sheet(Run *run, const JobJoint *joint) {
  const Expr *length = &joint->hardware->engagement, *hole = &joint->hardware->hole_depth;
  if (length->kind != EXPR_LITERAL || !(hole->literal.low < length->literal.high)) return;
  Finding *finding = finding_add(run, RULE_BOTTOMS_OUT, hole->at,
                                 "%s: the fastener reaches %s into a thread %s deep", joint->label,
                                 literal_print(run->arena, &length->literal),
                                 literal_print(run->arena, &hole->literal));
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "a shorter fastener, or a washer under the head");
}

/* The stack as built is so short that the screw comes to the end of the hole. */
static void bottoms_as_built(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  const Expr *hole = &joint->hardware->hole_depth;
  Finding *finding = finding_add(
      run, RULE_BOTTOMS_OUT, joint->hardware->length.at,
      "%s: a screw %s long comes %s out of a stack of %s; the thread is %s deep", joint->label,
      length_said(run, figures->length), length_said(run, figures->reach_high),
      length_said(run, figures->stack_low), literal_print(run->arena, &hole->literal));
  finding_subject(finding, joint->name);
  finding_note(run, finding, joint->hardware->clamped_length.at, "the stack stands here");
  finding_way_out(run, finding, "a shorter screw, or a washer under the head");
}

void check_engagement(Run *run, const Job *job) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    const Expr *hole = &joint->hardware->hole_depth;
    if (!joint_leads(job, i)) continue;
    strips(run, joint);
    if (hole->kind != EXPR_LITERAL) continue;
    if (joint->figures.reach_known && joint->figures.reach_high > hole->literal.low)
      bottoms_as_built(run, joint);
    else
      bottoms_by_sheet(run, joint);
  }
}
