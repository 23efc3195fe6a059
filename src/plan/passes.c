/* The tightening of each step, pass by pass, with wrench and setting. */
#include "plan/work.h"
#include "plan/passes.h"

#include "trade/wrench.h"

#include <math.h>

/* A sheet that gives a torque and no passes asks for one, and the angle after it. */
void joint_passes(Arena *arena, const JobJoint *joint, Passes *out) {
  const JointDecl *bundle = joint->bundle;
  if (!bundle) return;
  for (size_t i = 0; i < bundle->passes.n; i++) vec_push(arena, out, bundle->passes.at[i]);
  if (out->n > 0) return;
  Pass pass = {.at = bundle->at,
               .kind = text_is(bundle->method.s, "hand") ? PASS_HAND : PASS_FINAL};
  vec_push(arena, out, pass);
  if (bundle->angle.kind == EXPR_NONE) return;
  Pass angle = {.at = bundle->angle.at, .kind = PASS_ANGLE, .amount = bundle->angle};
  vec_push(arena, out, angle);
}

void joint_retorque(Arena *arena, const JobJoint *joint, Passes *out) {
  const JointDecl *bundle = joint->bundle;
  if (!bundle || !bundle->retorque_after.s) return;
  for (size_t i = 0; i < bundle->retorque.n; i++) vec_push(arena, out, bundle->retorque.at[i]);
  if (out->n > 0) return;
  Pass pass = {.at = bundle->retorque_after.at, .kind = PASS_FINAL};
  vec_push(arena, out, pass);
}

static double setting_for(const JobJoint *joint, const Wrench *wrench, double torque) {
  double length = 0, adapter = 0, angle = 0;
  expr_si(&joint->bundle->adapter_angle, &angle);
  if (!expr_si(&joint->bundle->adapter, &adapter) || !expr_si(&wrench->length, &length))
    return torque;
  return wrench_setting(torque, length, adapter, angle);
}

static bool reaches(const Wrench *wrench, double setting) {
  const Literal *range = &wrench->range.literal;
  if (wrench->range.kind != EXPR_LITERAL || range->shape == LITERAL_NONE) return false;
  return wrench_is_in_range(setting, range->low, range->high) &&
         wrench_is_promised(setting, range->high);
}

/* The wrench of the final torque where it reaches, so that few are picked up; else
 * the shop's first that does. */
static void choose_wrench(const Planner *planner, PlanPass *pass) {
  const JobJoint *joint = pass->joint;
  const Wrench *final = joint->figures.wrench;
  if (pass->kind == PASS_FINAL) {
    pass->wrench = final;
    pass->setting = joint->figures.setting;
    pass->unrounded = joint->figures.unrounded;
    return;
  }
  const ShopEntry *shop = planner->job->shop;
  for (size_t i = 0; i <= (shop ? shop->wrenches.n : 0); i++) {
    const Wrench *wrench = i == 0 ? final : &shop->wrenches.at[i - 1];
    if (!wrench) continue;
    double setting = setting_for(joint, wrench, pass->amount);
    if (!isfinite(setting) || !reaches(wrench, setting)) continue;
    pass->wrench = wrench;
    pass->setting = wrench_division(setting, wrench_resolution(wrench), 1, 0, 0);
    pass->unrounded = setting;
    return;
  }
}

static void set_amount(const Planner *planner, PlanPass *pass, const Pass *decl) {
  double si = 0;
  const JointFigures *figures = pass->joint ? &pass->joint->figures : NULL;
  if (pass->kind == PASS_FINAL && figures) {
    pass->amount = figures->torque;
    pass->unit = figures->torque_unit;
    pass->places = figures->torque_places;
  } else if (expr_si(&decl->amount, &si)) {
    pass->amount = si;
    pass->unit = decl->amount.literal.unit;
    pass->places = decl->amount.literal.places;
  }
  bool by_wrench = pass->kind == PASS_FINAL || pass->kind == PASS_TO;
  if (by_wrench && pass->joint && pass->joint->bundle && pass->amount > 0)
    choose_wrench(planner, pass);
}

/* The fasteners of a pass, in its own order where it names some, else the joint's. */
static void set_fasteners(Planner *planner, PlanPass *pass, const SaidList *only,
                          const Said *step_joint) {
  JobJoint *joint = pass->joint;
  if (only->n == 0) {
    for (size_t i = 0; i < joint->order.n; i++)
      vec_push(planner->arena, &pass->fasteners, joint->order.at[i]);
    return;
  }
  for (size_t i = 0; i < only->n; i++) {
    if (text_has(&joint->place_names, only->at[i].s)) {
      vec_push(planner->arena, &pass->fasteners, only->at[i].s);
      continue;
    }
    /* what the joint's own passes name is for its sheet to answer */
    if (!step_joint) continue;
    Finding *finding = finding_add(planner->run, RULE_ORDER_WRONG, only->at[i].at,
                                   "%s has no place '%s'", joint->label, only->at[i].s);
    finding_subject(finding, joint->name);
    finding_way_out(planner->run, finding, "its places are %s",
                    text_join(planner->arena, &joint->place_names, ", "));
  }
}

static void add_pass(Planner *planner, PlanStep *step, JobJoint *joint, const Pass *decl,
                     const Said *step_joint) {
  PlanPass pass = {.kind = decl->kind, .joint = joint, .text = decl->text.s, .decl = decl};
  bool alone = decl->kind == PASS_TURN_OVER || decl->kind == PASS_CHECK;
  if (joint && (!alone || decl->only.n > 0)) set_fasteners(planner, &pass, &decl->only, step_joint);
  if (alone) pass.joint = NULL;
  if (alone) pass.fasteners = (Words){0}; /* its places were only looked at */
  set_amount(planner, &pass, decl);
  vec_push(planner->arena, &step->passes, pass);
}

static void add_joint(Planner *planner, PlanStep *step, JobJoint *joint) {
  for (size_t i = 0; i < step->joints.n; i++) {
    if (step->joints.at[i] == joint) return;
  }
  vec_push(planner->arena, &step->joints, joint);
}

/* Those of the joint's sheet, on the places that the step names. */
static void add_passes(Planner *planner, PlanStep *step, JobJoint *joint, const Pass *decl,
                       const Passes *passes) {
  for (size_t p = 0; p < passes->n; p++) {
    Pass *own = arena_copy(planner->arena, &passes->at[p], sizeof *own);
    if (own->only.n == 0) own->only = decl->only;
    add_pass(planner, step, joint, own, decl->only.n > 0 ? &decl->joint : NULL);
    step->passes.at[step->passes.n - 1].retorque = decl->kind == PASS_RETORQUE;
  }
}

static void not_asked_again(Planner *planner, const PlanStep *step, const JobJoint *joint,
                            const Pass *decl) {
  if (!joint->bundle) return; /* nobody says how it is tightened at all: reported */
  Run *run = planner->run;
  Finding *finding = finding_add(run, RULE_TIGHTENED_WRONG, decl->at,
                                 "step %d (%s) tightens %s again; its sheet does not ask for it",
                                 step->number, step->id, joint->label);
  finding_subject(finding, joint->name);
  finding_note(run, finding, joint->bundle->at, "how it is tightened stands here");
  finding_way_out(run, finding, "give the joint `retorque: {after: ...}` as its sheet has it");
}

static void add_tightening(Planner *planner, PlanStep *step, const Pass *decl) {
  if (!decl->joint.s) {
    add_pass(planner, step, NULL, decl, NULL);
    return;
  }
  Name name = name_split(planner->arena, decl->joint.s);
  JointList joints = {0};
  pick_joints(planner, &name, step->instance, &joints);
  if (joints.n == 0)
    tell_unknown(planner, step->procedure, &decl->joint, "joint", &planner->joint_names);
  for (size_t i = 0; i < joints.n; i++) {
    JobJoint *joint = joints.at[i];
    add_joint(planner, step, joint);
    if (decl->kind != PASS_OWN && decl->kind != PASS_RETORQUE) {
      add_pass(planner, step, joint, decl, &decl->joint);
      continue;
    }
    Passes passes = {0};
    if (decl->kind == PASS_OWN)
      joint_passes(planner->arena, joint, &passes);
    else
      joint_retorque(planner->arena, joint, &passes);
    if (decl->kind == PASS_RETORQUE && passes.n == 0) not_asked_again(planner, step, joint, decl);
    add_passes(planner, step, joint, decl, &passes);
  }
}

static void add_coated(Planner *planner, PlanStep *step, const Said *said) {
  if (!said->s) return;
  Name name = name_split(planner->arena, said->s);
  JointList joints = {0};
  pick_joints(planner, &name, step->instance, &joints);
  if (joints.n == 0) tell_unknown(planner, step->procedure, said, "joint", &planner->joint_names);
  for (size_t i = 0; i < joints.n; i++) vec_push(planner->arena, &step->coated, joints.at[i]);
}

void passes_build(Planner *planner) {
  for (size_t i = 0; i < planner->plan->steps.n; i++) {
    PlanStep *step = planner->plan->steps.at[i];
    for (size_t t = 0; t < step->decl->tighten.n; t++)
      add_tightening(planner, step, &step->decl->tighten.at[t]);
    for (size_t c = 0; c < step->decl->coats.n; c++)
      add_coated(planner, step, &step->decl->coats.at[c]);
  }
}
