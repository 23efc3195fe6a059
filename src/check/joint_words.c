#include "check/joint_words.h"

#include "base/decimal.h"
#include "base/text.h"
#include "trade/slip.h"

const char *percent(Run *run, double share) {
  return arena_printf(run->arena, "%s %%", decimal_print(run->arena, share * 100, 0));
}

const char *kilonewton(Run *run, double newton) {
  return arena_printf(run->arena, "%s kN", decimal_print(run->arena, newton / 1000, 1));
}

const char *joint_said(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  const Ref *strength = &joint->hardware->strength;
  const char *stands_in = strength->entry && strength->entry->kind == ENTRY_STRENGTH
                              ? strength->entry->is.strength.stands_in.s
                              : NULL;
  return arena_printf(run->arena, "%s (%s%s%s%s%s%s%s)", joint->label,
                      figures->thread_known ? figures->thread.name : "thread not known",
                      strength->entry ? ", " : "", strength->entry ? strength->entry->name.s : "",
                      stands_in ? ", " : "", stands_in ? stands_in : "",
                      figures->condition ? ", " : "", figures->condition ? figures->condition : "");
}

const char *joint_torque_print(Run *run, const JobJoint *joint, double torque) {
  const JointFigures *figures = &joint->figures;
  return quantity_print(run->arena, torque, figures->torque_unit, figures->torque_places);
}

const char *torque_said(Run *run, const JobJoint *joint) {
  return joint_torque_print(run, joint, joint->figures.torque);
}

const char *joint_sheet(Run *run, const JobJoint *joint) {
  if (!joint->winner.entry) return "no sheet";
  return source_print(run->arena, joint->winner.entry, joint->winner.page);
}

static const char *thread_size(Run *run, const Thread *thread) {
  const Unit *mm = unit_find("mm");
  return arena_printf(run->arena, "%s is %s with %s a turn%s", thread->name,
                      quantity_print(run->arena, thread->major, mm, 2),
                      quantity_print(run->arena, thread->pitch, mm, 2),
                      thread->left_hand ? ", left-hand" : "");
}

const char *thread_clash(Run *run, const Thread *a, const Thread *b) {
  bool starts = thread_is_near(a, b) && a->left_hand == b->left_hand;
  return arena_printf(run->arena, "%s, %s: one %s", thread_size(run, a), thread_size(run, b),
                      starts ? "starts on the other by hand, then binds and strips"
                             : "does not go on the other");
}

bool joint_is_judged(const JobJoint *joint) {
  return joint->bundle && joint->figures.preload_known && joint->figures.torque > 0;
}

bool joint_is_stretched(const JobJoint *joint) {
  const char *method = joint->bundle ? joint->bundle->method.s : NULL;
  return text_is(method, "angle") || text_is(method, "yield") || text_is(method, "stretch");
}

bool joint_is_past_proof(const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  if (!joint_is_judged(joint) || joint_is_stretched(joint)) return false;
  return figures->share_middle_k > 1 || figures->yield_share_low_k > 1;
}

bool joint_holds_nothing(const JobJoint *joint) {
  const char *duty = joint->hardware->duty.s;
  if (!joint_is_judged(joint) || joint_is_stretched(joint)) return false;
  return (!duty || text_is(duty, "clamp")) && joint->figures.share_middle_k < SLIP_LEAST;
}
