/* What the files of this stage share: the build's steps as drafts, and what finds
 * names for them. */
#ifndef SHEAF_PLAN_WORK_H
#define SHEAF_PLAN_WORK_H

#include "base/map.h"
#include "base/text.h"
#include "model/job_words.h"
#include "model/plan.h"
#include "plan/sort.h"

#define MOST_STEPS 5000
#define MOST_EDGES 400000
#define MOST_BOXES 10000

typedef VEC(const Instance *) InstanceList;
typedef VEC(Quantity *) QuantityList;
typedef VEC(JobJoint *) JointList;
typedef VEC(const Entry *) EntryList;

/* One block for one member of its set. */
typedef struct BlockRun {
  int module;
  const Entry *procedure;
  const BlockDecl *decl;
  const Instance *instance;
  bool dropped;
  int start, end; /* its joins in the graph: before its first step, after its last */
  int last;       /* its last step that does not float, plus one; 0: none */
} BlockRun;

/* One step for one member, as written; its index is its node and its key. */
typedef struct Draft {
  int module; /* of the build's procedures */
  const Entry *procedure;
  const BlockDecl *block;
  BlockRun *run;
  const StepDecl *decl;
  const Instance *instance;
  bool dropped;   /* its condition does not hold */
  PlanStep *step; /* NULL when dropped */
} Draft;

/* What `after` and `before` name: a step or block with all its members. */
typedef struct Spot {
  const Instance *instance;
  int start, end; /* nodes; one and the same for a step */
} Spot;
typedef struct Target {
  int number;
  const char *id;
  int module;
  bool is_block;
  const Set *set; /* of its members; NULL: the whole engine */
  VEC(Spot *) spots;
} Target;
typedef VEC(Target *) TargetList;
typedef struct Join {
  int node; /* -1: nothing is meant */
} Join;

typedef struct Planner {
  Run *run;
  Arena *arena;
  Job *job;
  Plan *plan;
  VEC(Draft) drafts;
  bool boxes_full; /* reported */
  VEC(BlockRun *) runs;
  SortGraph graph;
  Map *targets; /* id -> TargetList */
  Words target_ids;
  int target_count;
  Map *spots;      /* "target/instance" -> Spot */
  Map *joins;      /* what stands for several spots at once -> Join */
  Map *members;    /* set name, "" for the engine -> InstanceList */
  Map *quantities; /* name -> QuantityList */
  Map *joints;     /* name -> JointList */
  Words quantity_names, joint_names;
  Map *told;       /* what was reported and need not be again */
  EntryList *left; /* the library's procedures that the build does not name; NULL: not asked yet */
} Planner;

/* ---- offers.c ---- */

/* What is missed: a step or block of that id, a state made, a role fitted, a face sealed, a kind
 * of hold, a quantity's box, a joint tightened, a table of a role's parts. */
typedef enum Offer {
  OFFER_STEP,
  OFFER_MAKES,
  OFFER_FITS,
  OFFER_SEALS,
  OFFER_HOLD,
  OFFER_MEASURES,
  OFFER_TIGHTENS,
  OFFER_DECIDES
} Offer;

/* Adds to the way out which procedures of the library have it, if any has. */
void offer_procedure(Planner *planner, Finding *finding, Offer offer, const char *what);

/* ---- names.c ---- */

/* "top_deck[left]": the name, and the members in brackets. */
typedef struct Name {
  const char *base;
  Words index;
  bool all; /* [all] */
} Name;
Name name_split(Arena *arena, const char *text);

void names_build(Planner *planner);
const InstanceList *members_of(const Planner *planner, const Set *set);
QuantityList *quantities_named(const Planner *planner, const char *name);
/* Which instances of the set are meant at `at`: the same or the one above; else all
 * beneath; with members in brackets those, the related ones first. Empty when the set is
 * neither above nor beneath and no brackets say more. */
void pick_instances(const Planner *planner, const Name *name, const Set *set, const Instance *at,
                    InstanceList *out);
/* The quantities of that name at those instances, of that occasion. */
void pick_quantities(const Planner *planner, const Name *name, const Instance *at,
                     const char *occasion, QuantityList *out);
/* The list names the role, with a member that has to do with the instance. */
bool roles_name(const Planner *planner, const PlanStep *step, const SaidList *list,
                const char *role, const Instance *at);
void pick_joints(const Planner *planner, const Name *name, const Instance *at, JointList *out);
bool is_related(const Instance *a, const Instance *b); /* one is the other or above it */

/* true the first time for this key. */
bool tell_once(Planner *planner, const char *key);
/* A step as written, whatever its member: "top_end.fit_piston"; "" for -1. */
const char *step_mark(const Planner *planner, int step);
/* One mistake of several members is one finding. What told_by has kept under the mark gets
 * "; likewise right" at its end, and the answer is true; false: it is to be told. */
bool told_likewise(Planner *planner, const char *mark, const Instance *member);
void told_by(Planner *planner, const char *mark, Finding *finding);
/* The first of the step's loose parts that falls into it; NULL: none. A part that it fits
 * or takes off is one where the opening names it: a set of clips for the word clip too. */
const char *opening_swallows(Arena *arena, const OpeningDecl *decl, const StepDecl *step);
/* unknown-name, once per procedure, kind and name; nearest of candidates in the way out. */
void tell_unknown(Planner *planner, const Entry *procedure, const Said *said, const char *kind,
                  const Words *candidates);
/* "step 12 (fit_piston, left)" */
const char *step_print(const Planner *planner, int step);
const char *instance_tail(Arena *arena, const Instance *instance); /* ", left, intake" or "" */

/* ---- the way through ---- */

void expand_modules(Planner *planner); /* expand.c: drafts, runs */
void targets_build(Planner *planner);  /* targets.c */
/* Nodes that the reference means at `at`; several as one join. -1: none, reported
 * when nobody declared it. end: what comes after them; else what comes before. */
int target_node(Planner *planner, const Said *said, int module, const Instance *at, bool end);
void edges_build(Planner *planner); /* edges.c */
void edge_add(Planner *planner, int from, int to, ReasonKind kind, const char *why, Place at);
void order_steps(Planner *planner); /* order.c: plan->steps, reasons, blocks */
void letters_check(Planner *planner); /* letters.c */
void work_sums_check(Planner *planner); /* work_sums.c */
void texts_fill(Planner *planner);  /* text.c: texts, titles, notes, work */
const char *fill_text(Planner *planner, const Entry *procedure, const Said *text,
                      const Instance *at);
void notes_join(Planner *planner);    /* notes.c */
void cautions_join(Planner *planner); /* cautions.c */
/* A step's own hazards, and those of what it is done with, the worst first. */
void cautions_met(Planner *planner, const PlanStep *step, EntryList *list);
void boxes_build(Planner *planner); /* boxes.c */
/* Numbers the box and fills it in where it was read; NULL: there are too many, reported. */
PlanBox *box_add(Planner *planner, PlanStep *step, const BoxDecl *decl, Quantity *quantity,
                 const char *position, const Gauge *gauge);
/* Lengths of the fasteners that the step brings to their final pass (joint_boxes.c). */
void joint_boxes(Planner *planner, PlanStep *step);
void fitness_judge(Planner *planner); /* fitness.c: shares, readings, coarse gauges */
void tables_build(Planner *planner);  /* tables.c */
void passes_build(Planner *planner);  /* passes.c */
/* What follows plays the steps through in their order. */
void openings_play(Planner *planner);  /* openings.c */
void worked_build(Planner *planner);   /* fitted.c */
void fitted_play(Planner *planner);    /* fitted.c: parts */
bool role_is_chosen(const Role *role); /* by the build, other than the engine's own */
bool role_is_worked(const Planner *planner, const char *role);
void fasteners_play(Planner *planner); /* fasteners.c */
void states_play(Planner *planner);    /* states_play.c */
bool step_runs(const PlanStep *step);  /* states.c: from here on the engine runs */
void times_check(Planner *planner);    /* times.c */
void faces_play(Planner *planner);     /* faces.c */
void asks_check(Planner *planner);     /* asks.c: demands, holds, early decisions */

/* A place that should hold a part holds none, which was reported. */
bool is_sheet_missing(const Job *job); /* fitness.c */
/* Measured as the engine is built: at the mock-up or for good, not as it was found. */
bool box_is_as_built(const BoxDecl *box); /* NULL: it is */

/* The literal's nominal in SI; false when it was not given or is no literal. */
bool expr_si(const Expr *expr, double *si);

#endif
