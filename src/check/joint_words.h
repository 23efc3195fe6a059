/* Phrases about joints that several rules print. */
#ifndef SHEAF_CHECK_JOINT_WORDS_H
#define SHEAF_CHECK_JOINT_WORDS_H

#include "model/plan.h"

/* "Head nuts (M10x1.25, class 10.9, engine oil)" */
const char *joint_said(Run *run, const JobJoint *joint);
/* "53 %" */
const char *percent(Run *run, double share);
/* "36.0 kN" */
const char *kilonewton(Run *run, double newton);
/* The final torque as the sheet gives it, or another of the same joint: "46 N.m" */
const char *torque_said(Run *run, const JobJoint *joint);
const char *joint_torque_print(Run *run, const JobJoint *joint, double torque);
/* Whose record the way of tightening is. */
const char *joint_sheet(Run *run, const JobJoint *joint);
/* What comes of two threads that are not the same: "M8 is 8 mm and 1.25 mm a turn, ...". */
const char *thread_clash(Run *run, const Thread *a, const Thread *b);
/* The torque was given, and what it does to the bolt could be worked out. */
bool joint_is_judged(const JobJoint *joint);
/* Tightened on purpose by angle, to yield or by stretch: other rules hold. */
bool joint_is_stretched(const JobJoint *joint);

/* Refused as past proof, or as holding nothing: what else the torque asks for says no more. */
bool joint_is_past_proof(const JobJoint *joint);
bool joint_holds_nothing(const JobJoint *joint);

#endif
