/* What differs between a build and its earlier issue. What compose finds out
 * and prints, and what decides whether a reading still holds. */
#ifndef SHEAF_MODEL_REISSUE_H
#define SHEAF_MODEL_REISSUE_H

#include "base/map.h"
#include "model/readings.h"

typedef enum ChangeKind {
  CHANGE_DETAIL,
  CHANGE_PART,
  CHANGE_VALUE,
  CHANGE_LIMIT,
  CHANGE_JOINT,
  CHANGE_STEP_ADDED,
  CHANGE_STEP_REMOVED,
  CHANGE_STEP_CHANGED,
  CHANGE_STEP_MOVED,
  CHANGE_KINDS
} ChangeKind;

typedef struct Change {
  ChangeKind kind;
  const char *name;     /* of the role, quantity or joint; key of the step */
  const char *what;     /* as printed: "Head gasket", "Squish, left cylinder", "41 Measure ..." */
  const char *was, *is; /* NULL: nothing */
} Change;

/* Which of a step's printed blocks differ, in their order; figures, which print once in a
 * packet, counted by themselves. */
typedef struct StepMark {
  const char *key;
  VEC(bool) blocks;
  bool figures;
} StepMark;

typedef struct Reissue {
  const Job *was;
  const Plan *was_plan;
  VEC(Change) list; /* by kind, then in order of the packet */
  Map *marks;       /* step key -> StepMark, for those that changed */
  VEC(VoidReading) voids;
  int carried; /* readings that stay valid */
} Reissue;

bool reissue_has(const Reissue *reissue, ChangeKind kind, const char *name);

#endif
