/* Every fastener of the job, as the work leaves it. */
#ifndef SHEAF_PLAN_FASTENERS_H
#define SHEAF_PLAN_FASTENERS_H

#include "plan/work.h"

typedef enum Tightness { LOOSE, STARTED, FINAL, DISTURBED } Tightness;
/* One fastener. */
typedef struct Trace {
  Tightness now;
  Passes asked;   /* the joint's passes that concern it */
  size_t done;    /* of them, since it was last loose */
  bool was_final; /* at its final pass, then undone */
  size_t angles;  /* turned on by, since it was last loose */
  size_t again;   /* passes done of tightening again */
  bool retorqued; /* through with them */
  int tight_at;   /* the step that brought it to its final pass, -1: loose, or loosened since */
  size_t round;   /* passes done once more since then, from the first on */
} Trace;

typedef struct Track {
  JobJoint *joint;
  VEC(Trace) traces; /* same index as joint->place_names */
  Passes retorque;   /* tightening again, as its sheet asks; none: it does not */
  int last;          /* the last step that worked on it, -1: none */
  bool wrong;        /* reported; what follows from it is not */
  bool worn;         /* reported as used again */
  bool again;        /* reported as tight already */
} Track;

/* A joint that is short when an opening is closed or the engine run. */
typedef struct Short {
  Track *track;
  int step, last;     /* that closes; that worked on it before */
  const char *places; /* "all are loose" */
  bool told;
} Short;

typedef struct Play {
  Planner *planner;
  VEC(Short) shorts;   /* told at the end: those of several members as one */
  VEC(Track *) tracks; /* same index as job->joints */
  Map *by_key;
} Play;

/* Does the pass concern that place? */
bool pass_concerns(const Pass *pass, const char *place);
/* The joint is the part's own, or one of the parties it holds. */
bool joint_holds(const JobJoint *joint, const Role *role);
/* That joint's. */
Track *track_of(const Play *play, const JobJoint *joint);
/* A pass on a fastener that is tight: a whole round once more is reported. */
void fastener_round(Play *play, Track *track, int step, const PlanPass *pass, Trace *trace);
/* What closed an opening is loose once that is opened. */
void fasteners_opened(Play *play, int step);
/* It is loose again, and has been tight where it was. */
void fastener_undone(Trace *trace);
/* One pass of a step on one fastener: how far it has come; reports what its sheet does not ask. */
void fastener_pass(Play *play, Track *track, int step, const PlanPass *pass, size_t place);

#endif
