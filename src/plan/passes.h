/* The passes a joint's sheet asks for. */
#ifndef SHEAF_PLAN_PASSES_H
#define SHEAF_PLAN_PASSES_H

#include "model/plan.h"

/* Those written, or what a torque (and angle) alone amounts to; none without a bundle. */
void joint_passes(Arena *arena, const JobJoint *joint, Passes *out);

#endif
