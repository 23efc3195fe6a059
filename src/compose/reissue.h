/* Between the files that find and print what changed since an earlier issue. */
#ifndef SHEAF_COMPOSE_REISSUE_H
#define SHEAF_COMPOSE_REISSUE_H

#include "compose/composer.h"
#include "model/reissue.h"

/* What the packet says of one joint, numbers of figures left out. */
const char *reissue_joint_text(Run *run, const Job *job, const Plan *plan, const JobJoint *joint);
void reissue_compare_steps(Run *run, Reissue *reissue, const Job *job, const Plan *plan);
/* Marks the blocks of the group from first on, as the step changed. */
void reissue_mark(const Composer *c, const PlanStep *step, size_t first);
void reissue_add(Run *run, Reissue *reissue, Change change);
/* The first line of each that the other does not have; NULL: none. */
void reissue_lines(Arena *arena, const char *was, const char *is, const char **was_line,
                   const char **is_line);

#endif
