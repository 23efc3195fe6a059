/* The passes a joint's sheet asks for. */
#ifndef SHEAF_PLAN_PASSES_H
#define SHEAF_PLAN_PASSES_H

#include "model/plan.h"

/* Those written, or what a torque (and angle) alone amounts to; none without a bundle. */
void joint_passes(Arena *arena, const JobJoint *joint, Passes *out);

/* Tightening again: what its sheet asks for, else to the final torque; none: not asked for. */
void joint_retorque(Arena *arena, const JobJoint *joint, Passes *out);

/* ---- fastener_words.c ---- */
/* The pass the sheet asks for and the one done are the same. */
bool pass_is_same(const JobJoint *joint, const Pass *asked, const PlanPass *done);
const char *asked_print(Arena *arena, const JobJoint *joint, const Pass *pass);
const char *done_print(Arena *arena, const JobJoint *joint, const PlanPass *pass);

#endif
