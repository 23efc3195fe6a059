/* Which K a joint's torque is for: of a lubricant, a threadlocker, or two lubricants. */
#include "resolve/joint_parts.h"

#include "trade/joint.h"

#include <math.h>

/* K where the sheet does not say for which lubricant its torque holds: from
 * anti-seize to plain black (Shigley, Mechanical Engineering Design, 9th ed., table
 * 8-15). */
#define K_NOT_STATED_LOW  0.12
#define K_NOT_STATED_HIGH 0.30

/* Friction in one place, or K. */
typedef struct Spread {
  double low, middle, high;
} Spread;

static bool spread_of(Resolver *r, const JobJoint *joint, const Expr *expr, const char *what,
                      Spread *out) {
  Literal band;
  if (!expr_numbers(r, expr, joint->instance, DIM_NUMBER, what, &band)) return false;
  *out = (Spread){band.low, band.nominal, band.high};
  return isfinite(out->low) && isfinite(out->high) && out->low > 0;
}

/* The friction of a lubricant in the thread, or under the head: as it gives it, else what
 * its K comes from when both are equal. */
static bool friction_of(Resolver *r, const JobJoint *joint, const Expr *given, const Expr *k,
                        const char *what, Spread *out) {
  if (given->kind != EXPR_NONE) return spread_of(r, joint, given, what, out);
  if (!spread_of(r, joint, k, "K", out)) return false;
  const Thread *thread = &joint->figures.thread;
  *out = (Spread){joint_friction_of_k(thread, out->low), joint_friction_of_k(thread, out->middle),
                  joint_friction_of_k(thread, out->high)};
  return true;
}

static const Expr nothing = {.kind = EXPR_NONE};

static bool in_thread(Resolver *r, const JobJoint *joint, const Entry *on, Spread *out) {
  bool locker = on->kind == ENTRY_THREADLOCKER;
  return friction_of(r, joint, locker ? &nothing : &on->is.lubricant.thread_friction,
                     locker ? &on->is.threadlocker.k : &on->is.lubricant.k, "thread friction", out);
}

static bool under_head(Resolver *r, const JobJoint *joint, const Entry *on, Spread *out) {
  bool locker = on->kind == ENTRY_THREADLOCKER;
  return friction_of(r, joint, locker ? &nothing : &on->is.lubricant.head_friction,
                     locker ? &on->is.threadlocker.k : &on->is.lubricant.k, "head friction", out);
}

/* K by the long form, from the friction in the thread and that under the head. */
static bool by_friction(Resolver *r, JobJoint *joint, const Entry *thread, const Entry *head) {
  JointFigures *figures = &joint->figures;
  Spread t, h;
  if (!in_thread(r, joint, thread, &t) || !under_head(r, joint, head, &h)) return false;
  figures->k_low = joint_k_of(&figures->thread, figures->collar, t.low, h.low);
  figures->k_middle = joint_k_of(&figures->thread, figures->collar, t.middle, h.middle);
  figures->k_high = joint_k_of(&figures->thread, figures->collar, t.high, h.high);
  figures->friction_low = t.low;
  figures->by_friction = true;
  figures->condition = thread == head ? thread->name.s
                                      : arena_printf(r->arena, "%s, under the head %s",
                                                     thread->name.s, head->name.s);
  return isfinite(figures->k_low) && isfinite(figures->k_high) && figures->k_low > 0;
}

/* A K is told for the usual head; under another the same friction gives another K. */
static double k_under_this_head(const JointFigures *figures, double k) {
  double friction = joint_friction_of_k(&figures->thread, k);
  return joint_k_of(&figures->thread, figures->collar, friction, friction);
}

static bool by_k(Resolver *r, JobJoint *joint, const Expr *expr, const char *condition) {
  JointFigures *figures = &joint->figures;
  Spread k;
  if (!spread_of(r, joint, expr, "K", &k)) return false;
  figures->k_low = k.low;
  figures->k_middle = k.middle;
  figures->k_high = k.high;
  figures->friction_low = joint_friction_of_k(&figures->thread, k.low);
  figures->condition = condition;
  if (!(figures->head_face > 0)) return true;
  double *all[] = {&figures->k_low, &figures->k_middle, &figures->k_high};
  for (size_t i = 0; i < 3; i++) *all[i] = k_under_this_head(figures, *all[i]);
  return true;
}

bool joint_k_find(Resolver *r, JobJoint *joint) {
  JointFigures *figures = &joint->figures;
  const Entry *locker = joint->bundle->threadlock.entry;
  const Entry *lubricant = joint->bundle->lubricant.entry;
  const Entry *head = joint->bundle->under_head.entry;
  const Entry *on = locker && locker->kind == ENTRY_THREADLOCKER ? locker : lubricant;
  if (on && on->kind != ENTRY_THREADLOCKER && on->kind != ENTRY_LUBRICANT) return false;
  if (on && head && head->kind == ENTRY_LUBRICANT) return by_friction(r, joint, on, head);
  if (on && on->kind == ENTRY_THREADLOCKER)
    return by_k(r, joint, &on->is.threadlocker.k, on->name.s);
  if (on) {
    const LubricantEntry *is = &on->is.lubricant;
    bool both = is->thread_friction.kind != EXPR_NONE && is->head_friction.kind != EXPR_NONE;
    return both ? by_friction(r, joint, on, on) : by_k(r, joint, &is->k, on->name.s);
  }
  if (!text_is(joint->bundle->lubricant.id, "not_stated")) return false;
  figures->k_low = K_NOT_STATED_LOW;
  figures->k_middle = (K_NOT_STATED_LOW + K_NOT_STATED_HIGH) / 2;
  figures->k_high = K_NOT_STATED_HIGH;
  figures->friction_low = joint_friction_of_k(&figures->thread, figures->k_low);
  figures->condition = "lubricant not stated";
  return true;
}
