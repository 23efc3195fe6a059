/* Every opening of the engine, as the work leaves it. */
#ifndef SHEAF_PLAN_OPENINGS_H
#define SHEAF_PLAN_OPENINGS_H

#include "plan/work.h"

typedef struct OpeningTrack {
  OpeningState now;
  int since;  /* the step that made it so; -1: found so */
  bool doubt; /* something was reported: what follows from it is not */
} OpeningTrack;

/* A finding whose way out can be told only when the end is known. */
typedef struct Pending {
  Finding *finding;
  int opening, step;
  OpeningState state;
  bool wants; /* the state; else any but it */
  const char *also;
} Pending;

typedef struct OpeningPlay {
  Planner *planner;
  Map *by_key; /* "name/instance" -> Slot */
  Words names;
  VEC(OpeningTrack) tracks;
  VEC(Pending) pending;
} OpeningPlay;
const char *opening_state_word(OpeningState state); /* "covered" */
Opening *opening_at(const OpeningPlay *play, int index);
/* "closed since step 12 (fit_head, left)". */
const char *opening_since_print(const OpeningPlay *play, int index);
/* Where it was made as it is. */
Place opening_since_place(const OpeningPlay *play, int index);

/* ---- openings_end.c ---- */

void openings_end(OpeningPlay *play);

#endif
