/* The build resolved: who fills what, every quantity with its three faces,
 * every joint with the record that won. What resolve hands to the stages. */
#ifndef SHEAF_MODEL_JOB_H
#define SHEAF_MODEL_JOB_H
/* Records are laid out as tables, a meaning beside each member. */
/* clang-format off */

#include "model/entry.h"
#include "trade/thread.h"
#include "value/graph.h"

typedef struct Set { const char *name, *label; const struct Set *within; Words members; } Set;

/* A member of a set below its parent, or the whole engine (id 0, path ""). */
typedef struct Instance {
  int id;
  const Set *set;                 /* NULL: the whole engine */
  const struct Instance *parent;
  const char *member;             /* "left" */
  const char *path;               /* "left.intake", "" for the engine */
  const char *label;              /* "left cylinder, intake valve" */
} Instance;

typedef struct Role {
  const char *name, *label;
  const Set *per;                 /* NULL: one */
  const RoleDecl *decl;
  Entry *part;                    /* NULL: none, or unfilled and reported */
  Place at;                       /* where it was chosen */
  bool none;                      /* chosen to be none */
} Role;

/* Higher wins. */
typedef enum Rank { RANK_PRACTICE, RANK_ENGINE, RANK_PARTY, RANK_KIT, RANK_BUILD } Rank;
const char *rank_word(Rank rank);

/* A record that spoke for a quantity or joint. */
typedef struct Voice {
  const Entry *entry;
  const char *page;
  Rank rank;
  Place at;
  const char *says;               /* as printed: "0.85 to 1.15 mm" */
} Voice;
typedef VEC(Voice) Voices;

typedef struct Allowed {
  bool said;
  NodeId min, target, max;        /* 0: not given (has_* tell) */
  bool has_min, has_target, has_max;
  Evaluation min_now, target_now, max_now; /* evaluated at the nominal */
  bool worked_out;                /* a formula gives one of them: no digits of a sheet's to keep */
  const char *occasion;
  Voice winner; Voices losers;
} Allowed;

typedef enum Outcome {
  OUTCOME_NOT_LIMITED, OUTCOME_UNKNOWN, OUTCOME_PASS, OUTCOME_OVERLAP, OUTCOME_DISJOINT, OUTCOME_POISON
} Outcome;

/* What stands in one box. half: half width of what the gauge leaves open, its uncertainty or
 * else its resolution. */
typedef struct Reading {
  int box;                        /* number as printed; 0: a size fitted, without a box */
  const char *position;
  double si, half;                /* si: the median where it was read more than once */
  VEC(double) all;                /* as read; none: a word */
  const char *word; bool passed;  /* of a gauge that only says "go" or "no-go"; NULL: a number */
  Place at;
} Reading;

/* What is measured of a fastener. */
typedef enum JointLength { LENGTH_FREE, LENGTH_TIGHT, LENGTH_STRETCH } JointLength;

typedef struct Quantity {
  const QuantityDecl *decl;
  const Entry *relation;          /* who gives the formula */
  const Instance *instance;
  const char *name;               /* "deck_height" */
  const char *label;              /* "Deck height" */
  const char *key;                /* "deck_height, left" */
  const char *occasion;           /* "final" */
  NodeId value;
  const Formula *formula;         /* that defines it; NULL: stated or waits for a reading */
  Voice stated;                   /* when a build states it; entry NULL otherwise */
  Range predicted;
  Allowed allowed;
  Outcome outcome;
  VEC(Reading) readings;          /* from a readings file */
  struct JobJoint *joint;         /* a length of one of its fasteners; NULL: of the engine */
  JointLength length;
  bool read_complete;             /* every position is read: the mean is the value */
  bool overruled;                 /* worked out on paper as inside its limits; what it rests on puts
                                     it outside, and that holds */
  Range led_to;                   /* a size that was fitted: what its own readings lead to */
  Range by_parts;                 /* predicted, before readings took its place */
  Words lacks;                    /* "piston.expansion": asked for, and no sheet gives it */
} Quantity;

/* A fact of a part for one instance: "barrel.bore", "piston.diameter, left". */
typedef struct FactValue {
  const Role *role;
  const char *name;
  const Instance *instance;       /* of the role, or a member below it */
  NodeId node;
  const ValueChoice *choice;
  const Entry *entry;
} FactValue;

/* What is worked out for a joint. SI: m, m2, N, N.m, shares as 1.0 = all. */
typedef struct JointFigures {
  bool thread_known, strength_known, preload_known;
  Thread thread;
  bool end_known, hole_known;
  Thread end_thread, hole_thread; /* what goes into the hole, the hole's own as its sheet has it */
  double stress_area;             /* of the weakest section */
  bool waisted;                   /* that is the shank */
  double head_face, head_hole;    /* of the face under the head; 0: not known */
  double collar;                  /* its mean diameter */
  const char *collar_from;        /* "ISO 4762", "as usual" */
  double proof, yield, tensile;   /* stresses of the class at this diameter */
  double proof_load;
  double torque;                  /* final, nominal; 0: none (hand, stretch) */
  double torque_low, torque_high; /* the sheet's tolerance */
  double prevailing_low, prevailing_high; /* of it, only to turn a locking nut */
  const Unit *torque_unit; int torque_places;
  double k_low, k_middle, k_high;
  bool by_friction;               /* K of the long form, not the lubricant's own */
  double friction_low;            /* in the thread, at low K */
  const char *condition;          /* "engine oil", "medium threadlocker, wet": whose K it is */
  double preload_high_k, preload_middle_k, preload_low_k;
  double share_high_k, share_middle_k, share_low_k; /* of the proof load */
  double yield_share_low_k;       /* tension and torsion together, of yield */
  double stiffness;               /* of the fastener by its clamped length, N/m; 0: not known */
  double snug_share_middle_k;     /* of proof, by the torque before an angle; 0: not known */
  bool strip_known;
  double engagement;              /* length of thread that holds */
  double strip_load, strip_usual; /* at the worst limits of size, and in their middle */
  bool strips_itself;             /* the fastener's thread goes first */
  bool reach_known;               /* how far the screw comes out of what it clamps */
  double length, stack_low, stack_high, reach_low, reach_high;
  double hot_rise;                /* K; 0: not known */
  double hot_gain;                /* N */
  double squeezed_area;           /* of what one fastener clamps, m2 */
  double hot_share_low_k;         /* with the preload gained at the stated rise; 0: not known */
  const Wrench *wrench;           /* of the shop, for the final torque; NULL: none in range */
  double setting;                 /* of that wrench, adapter reckoned in, on its scale */
  double unrounded;               /* the same, where its scale has no such division */
} JointFigures;

typedef struct JobJoint {
  const char *name, *label;
  const Instance *instance;       /* one a cylinder where its part is per cylinder */
  bool leads;                     /* the first of its copies */
  const JointDecl *hardware;      /* never NULL */
  const JointDecl *bundle;        /* NULL: nobody says how, and it was reported */
  const Entry *hardware_entry;
  Voice winner; Voices losers;    /* of the bundle */
  Words place_names;              /* "1".."8", count of them */
  Words order;                    /* of places; proposed where the sheet gives none */
  bool order_proposed;
  const Detail *undisturbed;       /* the build leaves it alone; NULL: it does not */
  VEC(const Instance *) fasteners; /* same index as place_names, where they are measured */
  VEC(Quantity *) lengths;        /* free, then tight, then stretch */
  JointFigures figures;
} JobJoint;

/* A condition of use, at each instance it concerns: a truth in the graph, so
 * that check can ask whether tolerances may break it. */
typedef struct NeedValue {
  const Need *need;
  const Entry *entry;             /* who asks */
  const Instance *instance;
  NodeId truth;                   /* 0: poison */
} NeedValue;

/* One way to a target: a value of the input or a part, and what comes of it. */
typedef struct TargetLine {
  const char *input;              /* "0.65 mm", "Head gasket 0.80 mm" */
  const Entry *part;              /* NULL: a value */
  bool known;
  double si, result;              /* of the input (NAN for a part); of the quantity, nominal */
  bool inside;                    /* every limit that hangs on the input holds, nominal */
  bool nearest;                   /* comes nearest to what is wanted */
} TargetLine;

/* What reaches a target of the build: a proposal, it changes nothing. */
typedef struct JobTarget {
  const TargetDecl *decl;
  const Quantity *quantity;
  const char *input;              /* "head_gasket.thickness", "Head gasket" */
  const Unit *input_unit;         /* NULL: parts */
  int places;                     /* of the input, as the step has them; -1: as it needs */
  double want;
  VEC(TargetLine) lines;          /* parts as listed; values: the nearest step and its neighbours */
  bool reached;                   /* within half a step of the input, or exactly */
  const char *says;               /* "0.55 mm gives 9.41, 9.40 is wanted" */
} JobTarget;

typedef struct Job Job;
struct Job {
  const Library *library;
  const BuildEntry *build;
  const Entry *build_entry;
  const EngineEntry *engine;      /* NULL: reported */
  const Entry *engine_entry;
  const ShopEntry *shop;
  const Entry *shop_entry;
  Graph *graph;
  VEC(Set *) sets;
  VEC(Instance *) instances;      /* in tree order; at[0] is the engine */
  VEC(Role *) roles;              /* in the engine's order */
  VEC(Quantity *) quantities;     /* in declared order, members in tree order */
  VEC(FactValue) facts;
  VEC(NeedValue) needs;
  VEC(JobTarget) targets;         /* cylinders that come out alike once */
  VEC(JobJoint *) joints;         /* in order of the engine, then roles */
  /* Is the condition true for this combination, at that instance? NULL: yes.
   * Looks only at roles, choices and exact facts; reports not-exact, unknown-name. */
  bool (*when)(const struct Job *job, Run *run, const Formula *when, const Instance *at);
  void *when_context;
  /* Node of a formula whose names are bound at that instance (NULL: the engine); 0 after
   * reporting. */
  NodeId (*bind)(const struct Job *job, Run *run, const Formula *formula, const Instance *at);
  /* Some text or step hangs on its value: what it lacks is told. */
  void (*need)(const struct Job *job, Run *run, const Quantity *quantity);
  /* What a candidate part's fact would be for a role: nominal SI. false: it has none. */
  bool (*candidate)(const struct Job *job, Run *run, const Role *role, const Entry *part,
                    Overrides *out);
  const char *revision;           /* 64 hex: of all inputs used */
  const char *library_revision;   /* 64 hex: of the library entries used */
  const struct Readings *readings;/* model/readings.h; NULL: a blank packet */
  const struct Reissue *reissue;  /* model/reissue.h; NULL: not compared with an earlier issue */
};

/* What there is, each name once: for "did you mean". */
Words job_set_names(Arena *arena, const Job *job);
Words job_role_names(Arena *arena, const Job *job);
Words job_quantity_names(Arena *arena, const Job *job);
const Set *job_set(const Job *job, const char *name);
Role *job_role(const Job *job, const char *name);
/* A set by its name, or that of the role of this name: one for each part there. NULL set: one for
 * the whole engine. false: neither a set nor a role. */
bool job_set_of(const Job *job, const char *name, const Set **set);
/* The member of that name right below the parent, of the set (NULL: whichever); NULL: none. */
const Instance *instance_child(const Job *job, const Instance *parent, const Set *set,
                               const char *member);
/* The instance of set above or at `from`; NULL when none. */
const Instance *instance_in(const Instance *from, const Set *set);
bool instance_within(const Instance *inner, const Instance *outer); /* outer is inner or above it */
/* The quantity at exactly that instance and occasion (NULL occasion: final). */
Quantity *job_quantity(const Job *job, const char *name, const Instance *at, const char *occasion);
/* ... or at the nearest instance above `at`. */
Quantity *job_quantity_from(const Job *job, const char *name, const Instance *at);
/* The copies of a joint at several cylinders share one sheet: is this the first of them? */
bool joint_leads(const Job *job, size_t index);
/* What the shop calls it: "W2". */
const char *wrench_name(const Wrench *wrench);
double wrench_resolution(const Wrench *wrench); /* N.m; 0: not given */
JobJoint *job_joint(const Job *job, const char *name, const Instance *at);
const FactValue *job_fact(const Job *job, const char *role, const char *fact, const Instance *at);

#endif
