/* States of the work: which hold, where, and the steps that made and ended them. */
#ifndef SHEAF_PLAN_STATES_H
#define SHEAF_PLAN_STATES_H

#include "plan/work.h"

/* A state of one instance. */
typedef struct Mark {
  const Instance *instance;
  bool live;
  int made, ended; /* steps; ended -1: never */
} Mark;
typedef struct State {
  const char *word; /* "clean base_joint" */
  VEC(Mark) marks;
} State;

typedef struct States {
  Planner *planner;
  Map *by_word;
  VEC(State *) list; /* in the order the work names them */
} States;

/* What a step says of states: the word without brackets, and for whom. */
typedef struct StateName {
  const char *word;
  InstanceList at;
} StateName;

States *states_new(Planner *planner);
State *state_of(States *states, const char *word); /* made when it is new */
/* "tdc[left] compression" is the left one's; without brackets it is the step's own.
 * A member nobody has is reported. */
StateName state_name(Planner *planner, const PlanStep *step, const Said *said);

/* Live for the instance: made for it or one above, or for every member beneath. */
bool state_is_live(const States *states, const State *state, const Instance *at);
/* "tdc" asks for that on any stroke, "locked" for whatever is locked: so do other words that
 * stand alone and have a meaning of their own. */
bool state_answers(const State *state, const char *asked);
/* "cam locked" has the word locked. */
bool state_has(const char *state, const char *word);
void state_make(States *states, State *state, const Instance *at, int step);
/* Ends it there and beneath; what was made for a whole above stays for its other members. */
void state_end(States *states, State *state, const Instance *at, int step);
/* All but what this step has made. */
void state_end_everywhere(State *state, int step);

/* ---- turning.c: the crank, and what is put in for the work ---- */

bool is_tdc(const char *word);
/* The step turns the crank: said so, in its passes, to a dead centre, or by running it. */
bool step_turns(States *states, const PlanStep *step);
/* What forbids turning is reported; top dead centre is over. */
void crank_turn(States *states, int step);
/* Tools and the like that are still in an opening which the step closes. */
void left_inside(States *states, int step);
/* "pin in cam_chst" is meant for the chest. */
void place_meant(States *states, int step, const Said *said, const char *word);
/* Hands stay out of an engine that runs. */
void work_on_running(States *states, int step);
void start_drained(States *states, int step);
/* What holds the crank, a valve or lies in an opening when the work ends. */
void left_at_end(States *states);

/* ---- turned_covered.c: a cloth or plug that lies in the way when the crank turns ---- */

void turned_covered(States *states, int step);

#endif
