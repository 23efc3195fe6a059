/* How a joint is told on paper. */
#ifndef SHEAF_COMPOSE_JOINT_TEXTS_H
#define SHEAF_COMPOSE_JOINT_TEXTS_H

#include "compose/composer.h"

/* "Head nuts, left cylinder" */
const char *joint_name(Arena *arena, const JobJoint *joint);
/* A fastener is called by its turn in the order, as the figure numbers it. */
const char *joint_turn(Composer *c, const JobJoint *joint, const char *place);
/* Under a card: the lengths of each fastener that the step measures, one row a fastener. */
void add_lengths(Composer *c, const PlanStep *step, const JobJoint *joint);
/* "46 N.m", "10 N.m + 90 deg", "stretch 0.12 to 0.15 mm", "by hand" */
const char *joint_torque_said(Composer *c, const JobJoint *joint);
bool joint_is_by_stretch(const JobJoint *joint);
/* The same in the other system; "" when there is none. */
const char *joint_other_unit(Composer *c, double si, const Unit *unit);
const char *joint_count(Composer *c, const JobJoint *joint);
const char *joint_lubricant(Composer *c, const JobJoint *joint);
const char *joint_threadlock(const JobJoint *joint);
const char *joint_reuse(Composer *c, const JobJoint *joint);
/* The part is a new one in this job: each time, or because the build chose it. */
bool is_new_part(const Job *job, const Entry *part);
/* What its sheet adds in words; NULL: nothing. */
const char *joint_note(const JobJoint *joint);
/* "preload 29 kN, 60 % of proof (53 to 70)"; NULL: not known. */
const char *joint_share_said(Composer *c, const JobJoint *joint);
/* What the wrench is set to, adapter reckoned in; "" without one. */
const char *joint_setting(Composer *c, const JointFigures *figures);
/* ", the nearest on its scale to 7.826 N.m"; "" where the scale has the setting itself. */
const char *joint_rounded(Arena *arena, const JointFigures *figures);
/* It is tightened through an adapter that changes what the wrench is set to. */
bool joint_has_adapter(const JobJoint *joint);
/* A table for each such joint: length of the adapter by wrench. */
void add_adapter_tables(Composer *c);

#endif
