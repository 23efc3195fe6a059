/* Where each part is while the work goes on. */
#ifndef SHEAF_PLAN_SEATS_H
#define SHEAF_PLAN_SEATS_H

#include "plan/work.h"

typedef enum Fit { FIT_AS_FOUND, FIT_DONE, FIT_TRIAL, FIT_OFF } Fit;

/* A part of one role for one instance. */
typedef struct Seat {
  const Instance *instance;
  Fit now;
  int since; /* step, -1: as found */
  int used;  /* the step that had it on first; -1: none */
} Seat;
typedef struct RoleSeats {
  Role *role;
  VEC(Seat) seats;
} RoleSeats;
typedef struct Seats {
  Planner *planner;
  VEC(RoleSeats) tracks; /* same index as job->roles */
  Map *by_name;
  Words names;
} Seats;

/* ---- in_front.c ---- */

/* What parts say they stand in front of is a role or a joint. */
void reach_names(Seats *seats);
/* The step works behind a part that is on. */
void reach_check(Seats *seats, int step);

#endif
