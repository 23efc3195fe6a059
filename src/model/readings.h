/* What a technician found and decided, typed in from a filled-in packet; and
 * how it bears on the job. What load hands to resolve, and resolve to compose. */
#ifndef SHEAF_MODEL_READINGS_H
#define SHEAF_MODEL_READINGS_H

#include "model/plan.h"

/* One box: by the number beside it, or by quantity, members, occasion, position. */
typedef struct ReadingLine {
  Place at;
  int box;          /* 0: by name */
  Said quantity;    /* s NULL: by number */
  SaidList path;    /* words below the quantity */
  VEC(Expr) values; /* literals; several readings of one box */
  Said word;        /* "go" or "no-go", in place of values */
  bool go;
  Said why; /* what vouches for an unlikely one */
} ReadingLine;

/* What a decision came to: a part in a role, or a size fitted. */
typedef struct FittedLine {
  Place at;
  const char *name; /* of a role or a quantity */
  SaidList path;    /* members */
  Said what;
  Expr size; /* when it is one; else EXPR_NONE */
} FittedLine;

/* A step that looks at something: is it so? */
typedef struct CheckLine {
  const char *step; /* number as printed */
  const char *key;  /* of that step; NULL until it meets the packet */
  Place at;
  Said found, why;
  bool passed;
} CheckLine;

typedef struct OpenStep {
  const char *step; /* number as printed */
  const char *key;  /* of that step; NULL until it meets the packet */
  Place at;
  Said why;
} OpenStep;

typedef struct Readings {
  Place at;
  Said job, revision, date, technician;
  VEC(ReadingLine) lines;
  VEC(FittedLine) fitted;
  VEC(CheckLine) checks;
  VEC(OpenStep) open_steps;
  SaidList notes;
  const char *digest; /* 64 hex: of the file */
} Readings;

/* ---- how it bears on the job ---- */

/* The box a reading belongs to is void: its part or step changed since it was read. */
typedef struct VoidReading {
  const PlanBox *box; /* of the packet it was written on */
  const char *value;  /* as printed */
  const char *why;
} VoidReading;

/* Does the value, or a limit of it, hang on something that was read? Itself included. */
bool quantity_is_touched(const Job *job, const Quantity *quantity);
/* ... and is everything read and decided that the packet asks for and it hangs on? */
bool quantity_is_settled(const Job *job, const Plan *plan, const Quantity *quantity);
/* Several parts are offered for the role, and nothing that was entered says which was fitted. */
bool role_is_open(const Job *job, const Plan *plan, const Role *role);
/* Does the value hang on such a part? */
bool quantity_is_open(const Job *job, const Plan *plan, const Quantity *quantity);
/* Outside its limits as it stands, tolerances left aside: how a reading is judged. */
bool quantity_is_out(const Quantity *quantity);
/* What the readings make of it lies outside, and no box of its own tells so. */
bool result_is_out(const Job *job, const Plan *plan, const Quantity *quantity);
/* The square of a bench table that readings and the parts fitted lead to; false: not
 * read, or off the table. */
bool table_square(const Job *job, const PlanTable *table, size_t *row, size_t *column);
/* ... and that square says STOP. */
bool table_fitted_stop(const Job *job, const PlanTable *table, size_t *row, size_t *column);
/* "Deck height 0.30 mm with Pellam 0.80 mm, layered steel" */
const char *square_print(Arena *arena, const PlanTable *table, size_t row, size_t column);
/* As it stands in that box: "0.22 mm", "no-go". */
const char *reading_print(Arena *arena, const PlanBox *box, const Reading *reading);
/* ... and what it rests on gives, where that puts it outside: "0.070 mm, but 0.095 mm by what it is
 * worked out from". */
const char *found_print(Arena *arena, const PlanBox *box);
/* What was found at the step, where it looks at something; NULL: nothing is entered. */
const CheckLine *found_at(const Readings *readings, const PlanStep *step);
/* Boxes of the quantity, and how many of them are filled. */
int boxes_filled(const Plan *plan, const Quantity *quantity, int *of);

#endif
