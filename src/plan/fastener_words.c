/* One pass beside another: are they the same, and how they are called. */
#include "plan/passes.h"
#include "plan/work.h"

#include <math.h>

static bool is_near(double a, double b) {
  return fabs(a - b) <= 1e-6 * fabs(b);
}

bool pass_is_same(const JobJoint *joint, const Pass *asked, const PlanPass *done) {
  double torque = joint->figures.torque, amount = 0;
  bool has_amount = expr_si(&asked->amount, &amount);
  if (asked->kind == PASS_FINAL && done->kind == PASS_TO)
    return torque > 0 && is_near(done->amount, torque);
  if (asked->kind == PASS_TO && done->kind == PASS_FINAL)
    return has_amount && is_near(amount, torque);
  if (asked->kind != done->kind) return false;
  bool measured = done->kind == PASS_TO || done->kind == PASS_ANGLE || done->kind == PASS_BACK_OFF;
  return !measured || (has_amount && is_near(done->amount, amount));
}

static const char *amount_print(Arena *arena, const JobJoint *joint, PassKind kind,
                                const char *amount) {
  switch (kind) {
  case PASS_TO:
    return arena_printf(arena, "to %s", amount);
  case PASS_HAND:
    return "by hand";
  case PASS_SEAT:
    return "to its seat";
  case PASS_FINAL:
    if (!(joint->figures.torque > 0)) return "to final";
    return arena_printf(arena, "to final (%s)",
                        quantity_print(arena, joint->figures.torque, joint->figures.torque_unit,
                                       joint->figures.torque_places));
  case PASS_ANGLE:
    return arena_printf(arena, "on by %s", amount);
  case PASS_BACK_OFF:
    return arena_printf(arena, "back by %s", amount);
  case PASS_UNDO:
    return "undo";
  default:
    return "";
  }
}

const char *asked_print(Arena *arena, const JobJoint *joint, const Pass *pass) {
  const char *amount =
      pass->amount.kind == EXPR_LITERAL ? literal_print(arena, &pass->amount.literal) : "";
  return amount_print(arena, joint, pass->kind, amount);
}

const char *done_print(Arena *arena, const JobJoint *joint, const PlanPass *pass) {
  const char *amount =
      pass->unit ? quantity_print(arena, pass->amount, pass->unit, pass->places) : "";
  return amount_print(arena, joint, pass->kind, amount);
}
