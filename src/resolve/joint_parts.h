/* Between the files that work out a joint's figures. */
#ifndef SHEAF_RESOLVE_JOINT_PARTS_H
#define SHEAF_RESOLVE_JOINT_PARTS_H

#include "resolve/context.h"

/* The nominal number, SI; otherwise where it is not given or was reported. */
double joint_number(Resolver *r, const Expr *expr, const JobJoint *joint, Dim dim, const char *what,
                    double otherwise);
/* Its threads, weakest section, and the face under its head (joint_threads.c). */
void joint_threads(Resolver *r, JobJoint *joint);
void joint_head_find(Resolver *r, JobJoint *joint);
/* The joint's K and what gives it; false: nothing does. Needs thread and bundle. */
bool joint_k_find(Resolver *r, JobJoint *joint);
/* Shares of the proof load, from the three preloads. */
void joint_shares(JointFigures *figures);

/* What follows from the stack that the fastener holds together (joint_stack.c). */
void joint_stretch_find(Resolver *r, JobJoint *joint);
void joint_reach_find(Resolver *r, JobJoint *joint);
void joint_strip_find(Resolver *r, JobJoint *joint);
void joint_hot_find(Resolver *r, JobJoint *joint);

#endif
