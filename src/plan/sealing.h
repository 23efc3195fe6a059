/* With what a joint face is sealed. */
#ifndef SHEAF_PLAN_SEALING_H
#define SHEAF_PLAN_SEALING_H

#include "plan/work.h"

/* The step seals the face there: with its gasket, or with what it uses, not with both.
 * true: something was reported. */
bool sealed_with(Planner *planner, int step, const FaceDecl *face, const Instance *at);

#endif
