/* The work in order: steps with reasons, boxes, passes, tables; the traces of
 * openings and fasteners. What plan hands to check and compose. */
#ifndef SHEAF_MODEL_PLAN_H
#define SHEAF_MODEL_PLAN_H
/* Records are laid out as tables, a meaning beside each member. */
/* clang-format off */

#include "model/job.h"

/* Why a step stands after another. */
typedef enum ReasonKind {
  REASON_WRITTEN,   /* written next to each other in one block */
  REASON_AFTER, REASON_BEFORE, REASON_DECIDES, REASON_BLOCK
} ReasonKind;
typedef struct Reason { ReasonKind kind; int step; /* index in Plan.steps */ const char *why; Place at; } Reason;

typedef enum BoxKind { BOX_JUDGED, BOX_RECORD_ONLY, BOX_FEEDS } BoxKind;
typedef enum Verdict { VERDICT_NONE, VERDICT_IN, VERDICT_OUT } Verdict;

typedef struct PlanBox {
  int number;                 /* from 1, in order of the packet */
  const BoxDecl *decl;
  Quantity *quantity;
  const char *label;          /* "Deck height, left, front" */
  const char *position;       /* "front", or NULL */
  BoxKind kind;
  bool worked;                /* worked out on paper from other boxes: no gauge is put to it */
  const JobJoint *joint;      /* a length of one of its fasteners; NULL: written in a step */
  const Gauge *gauge;         /* NULL: none found, and reported */
  double resolution, uncertainty; /* SI */
  const Unit *unit; int places;   /* as printed */
  bool has_min, has_target, has_max;
  double min, target, max;    /* SI, min and max rounded inward to the resolution */
  double share;               /* combined resolution over the band it is judged by; 0: no band */
  const char *judged_by;      /* FEEDS: "Squish" */
  int readings;               /* asked for: 1, 2 or 3 */
  bool has_value; double value; Verdict verdict; /* from a readings file */
  const Reading *reading;     /* NULL: not read */
} PlanBox;

typedef struct PlanCell { bool stop; bool known; double si; } PlanCell;
/* rows x columns x answers, answers innermost: see table_cells. */
typedef struct PlanTable {
  const TableDecl *decl;
  const Instance *instance;
  const char *title, *row_label, *column_label;
  const Unit *row_unit, *column_unit;
  VEC(double) rows, columns;          /* SI; empty when they are parts */
  RefList row_parts, column_parts;    /* the parts offered, where a side goes by parts */
  Words row_names, column_names;      /* as printed */
  VEC(Quantity *) answers;
  VEC(PlanCell) cells;
  bool any_inside;                    /* some cell that the parts can come to is not STOP */
  bool inside_beyond;                 /* some cell is not STOP, of a line they cannot come to */
  bool cut;                           /* more lines are asked for than fit, reported */
  bool rounds_rows, rounds_columns;   /* a reading is rounded to a line of these */
} PlanTable;

/* One operation on some fasteners of one joint, or between operations. */
typedef struct PlanPass {
  PassKind kind;
  JobJoint *joint;            /* NULL: TURN_OVER, CHECK */
  Words fasteners;            /* in order of tightening */
  double amount;              /* SI: torque or angle */
  const Unit *unit; int places;
  const char *text;
  const Wrench *wrench; double setting, unrounded; /* on its scale; as reckoned */
  bool retorque;              /* of the tightening again that the sheet asks for */
  const Pass *decl;
} PlanPass;

typedef struct PlanStep {
  int number;                 /* as printed, from 1 */
  const Entry *procedure; const BlockDecl *block; const StepDecl *decl;
  const Instance *instance;
  const char *key;            /* "top_end.fit_piston, left" */
  const char *id;             /* "fit_piston" */
  const char *text;           /* names in { } filled in, but for PLAN_FIGURE_OF */
  VEC(Reason) reasons;
  VEC(PlanBox *) boxes;
  VEC(PlanPass) passes;
  VEC(JobJoint *) joints;     /* that this step tightens, each once */
  VEC(JobJoint *) coated;     /* whose threads it oils, pastes or locks */
  PlanTable *table;
  Words work_letters, work_lines; /* "C", "A + B" */
  Words times;                /* what the clock is read for; a line to write on each */
  Words notes;                /* of the step, and of the parts that name it; with whose sheet */
  VEC(const Entry *) cautions;/* DANGER first */
  int plan_block;             /* index in Plan.blocks */
} PlanStep;

/* "{figure_of:12}" in texts of steps and their notes: compose numbers the figures. */
#define PLAN_FIGURE_OF "{figure_of:"
/* How the figure of the step of that number is called. */
typedef const char *FigureWords(void *context, int step);

typedef struct PlanBlock {
  const Entry *procedure; const BlockDecl *decl; const Instance *instance;
  const char *title;          /* names filled in */
  int first, last;            /* steps */
  VEC(const Entry *) cautions;
} PlanBlock;

typedef enum OpeningState { OPENING_OPEN, OPENING_COVERED, OPENING_CLOSED } OpeningState;
typedef struct Opening { const OpeningDecl *decl; const Instance *instance; const char *label; OpeningState starts; } Opening;
typedef struct OpeningEvent { int opening, step; OpeningState becomes; } OpeningEvent;

typedef struct Plan {
  VEC(PlanStep *) steps;      /* in working order */
  VEC(PlanBlock) blocks;
  VEC(Opening) openings;
  VEC(OpeningEvent) opening_trace;
  VEC(PlanBox *) boxes;       /* in order of number */
  Map *worked;                /* names of the roles that steps fit, try or remove */
  bool ordered;               /* false: a circle was reported, steps are in written order */
} Plan;

/* Does some step fit, try or remove what is in the role? */
bool plan_works_on(const Plan *plan, const char *role);
/* Some step has to do with the joint or one like it at another cylinder. Of work without steps:
 * all joints but those left undisturbed. */
bool plan_tightens(const Plan *plan, const JobJoint *joint);
/* A pass of the work is done with the wrench. Of work without steps: a final one. */
bool plan_uses_wrench(const Plan *plan, const Job *job, const Wrench *wrench);
/* A text of a step with its figures called by name. */
const char *figures_named(Arena *arena, const char *text, FigureWords *words, void *context);
/* The step's text where nothing is on pages: "step 7", "the figure", "the figure at step 12". */
const char *step_says(Arena *arena, const PlanStep *step);
/* A step that is repeated for members is written once: is this the first of them? */
bool step_leads(const Plan *plan, size_t index);

/* The answers of one square. They stop together. */
const PlanCell *table_cells(const PlanTable *table, size_t row, size_t column);
bool table_stops(const PlanTable *table, size_t row, size_t column);

#endif
