/* What the files of resolve share while they build a job. */
#ifndef SHEAF_RESOLVE_CONTEXT_H
#define SHEAF_RESOLVE_CONTEXT_H

#include "base/map.h"
#include "base/text.h"
#include "model/job.h"

/* How deep one value may hang on another before it is refused. */
#define RESOLVE_DEEPEST 200
/* Members of all sets together. */
#define RESOLVE_MEMBERS_MOST 2000
/* Quantities, each member and occasion counted. */
#define RESOLVE_QUANTITIES_MOST 5000
/* Members that all gathering functions of a build may run over. */
#define RESOLVE_GATHERED_MOST 200000

typedef enum Building { BUILD_TO_DO, BUILD_DONE } Building;

/* A value that a formula asks for and no sheet gives: told only if something needs it. */
typedef struct Lack Lack;
/* What is missing of a value, its inputs' included. */
typedef VEC(Lack *) Lacks;

/* A value or condition under way, so that a circle can be shown as a path. */
typedef struct Frame {
  const void *what;
  const char *label;
  Place at;
  Lacks *lacks; /* of the value; NULL: a condition */
} Frame;

/* One way a fact is given, for one instance of its role. */
typedef struct FactSlot {
  const Role *role;
  const char *name;
  const char *label; /* "piston.diameter, left" */
  const Instance *owner;
  const ValueChoice *choice;
  const Entry *entry;
  NodeId node;
  Building building;
  Lacks lacks;
  bool asked; /* some formula, limit or step uses it */
} FactSlot;

typedef struct QuantityWork {
  Quantity *quantity;
  Building building;
  Lacks lacks;
} QuantityWork;

typedef struct Resolver {
  Run *run;
  Arena *arena;
  Job *job;
  Graph *graph;
  Role *engine_role; /* stands for "engine" in engine.NAME */
  VEC(FactSlot *) slots;
  VEC(QuantityWork *) works; /* same index as job->quantities */
  Map *slot_by_key, *work_by_key;
  VEC(Frame) frames;
  NodeIds forgotten; /* numbers without a unit that were told */
  size_t gathered;
  bool full; /* too many quantities, reported */
  VEC(const Entry *) all_parts; /* of the library, in order of id; empty: nobody asked */
} Resolver;

/* ---- sets.c ---- */
void resolve_sets(Resolver *r);
/* The instances of a set, in tree order; NULL: the engine as a whole. */
typedef VEC(const Instance *) Instances;
void instances_of(Resolver *r, const Set *set, Instances *out);
/* "left top" */
const char *instance_words(Arena *arena, const Instance *instance);

/* ---- roles.c ---- */
void resolve_roles(Resolver *r);
void resolve_choices(Resolver *r);
/* The word the build chose; NULL: none, or no such choice. */
const char *choice_word(const Resolver *r, const char *name);
const ChoiceDecl *choice_find(const Resolver *r, const char *name);

/* ---- when.c ---- */
typedef enum Truth { TRUTH_NO, TRUTH_YES, TRUTH_POISON, TRUTH_OPEN } Truth;
/* Is it true for this combination? NULL: yes. POISON after reporting. */
Truth when_truth(Resolver *r, const Formula *when, const Instance *at);
/* What roles and choices alone decide; OPEN where numbers are needed. Silent. */
Truth when_decided(const Resolver *r, const Formula *formula);
bool job_when(const Job *job, Run *run, const Formula *when, const Instance *at);
/* The formula without the branches that the combination rules out. */
const Formula *formula_live(Resolver *r, const Formula *formula);

/* ---- members.c, facts.c, fact_list.c ---- */
/* How a value is found among those a declaration gives. */
typedef enum Found {
  FOUND,
  FOUND_POISON, /* a condition was reported */
  FOUND_NONE,
  FOUND_OTHER_MEMBER, /* given for members, none of which is meant */
  FOUND_ONLY_WITH     /* given only under conditions that do not hold */
} Found;
/* Whether a choice for these members speaks at a place: each is named in said or
 * lies on the way to one of the two instances, and all of said is used. */
bool members_match(const Words *member, const Words *said, const Instance *owner,
                   const Instance *at);
Found value_pick(Resolver *r, const ValueChoice *choices, size_t n, const Words *said,
                 const Instance *owner, const Instance *at, const ValueChoice **out);
/* Node of a role's fact, for a name in a formula; reports and answers 0. said: the
 * members in [ ]. slot: which one, may be NULL. */
NodeId need_fact(Resolver *r, const Role *role, const char *fact, const Words *said,
                 const Instance *at, Place place, FactSlot **slot);
bool fact_is_given(const Resolver *r, const Role *role, const char *fact);
/* Everything the parts give, into job->facts. */
void resolve_facts(Resolver *r);
/* The instance of a role's set that members and place name; used: how many
 * members it took. NULL: not said which. */
const Instance *bind_owner(const Resolver *r, const Set *set, const Words *said, const Instance *at,
                           size_t *used);
bool job_candidate(const Job *job, Run *run, const Role *role, const Entry *part, Overrides *out);

/* ---- names.c ---- */
/* Node of a formula, names bound from that instance; 0 after reporting. */
NodeId bind_formula(Resolver *r, const Formula *formula, const Instance *at);
/* The same for conditions: only exact facts; reports not-exact. */
NodeId bind_condition(Resolver *r, const Formula *formula, const Instance *at);
NodeId job_bind(const Job *job, Run *run, const Formula *formula, const Instance *at);
/* Which role a name stands for, the engine itself included; NULL: none. */
const Role *role_called(const Resolver *r, const char *name);
/* Node of a literal or formula that must have that dimension (NULL: any). name: of the
 * leaf; what: "the upper limit of squish". */
NodeId bind_expr(Resolver *r, const Expr *expr, const Instance *at, const char *name,
                 const Dim *dim, const char *what);
/* Its numbers: nominal, low, high. false: not given, not known, or reported. */
bool expr_numbers(Resolver *r, const Expr *expr, const Instance *at, Dim dim, const char *what,
                  Literal *out);

/* ---- quantities.c ---- */
void resolve_quantities(Resolver *r);
/* One more, that no relation declares. */
Quantity *quantity_declare(Resolver *r, const QuantityDecl *decl, const Instance *at);
/* The finished quantity of that name at the instance or above it; NULL: none there. Not
 * one that is still under way: that is a circle, reported, and circle is set. */
Quantity *quantity_from(Resolver *r, const char *name, const Instance *at, Place place,
                        bool *circle);
bool quantity_is_declared(const Resolver *r, const char *name);

/* ---- circles.c ---- */
/* Starts on something named label, asked for at a place. false: it is under way
 * already, which is a circle, or hangs too deep; reported. */
bool circle_enter(Resolver *r, const void *what, const char *label, Place at, Lacks *lacks);
void circle_leave(Resolver *r);

/* ---- lacks.c ---- */
/* A value was asked for: what it lacks, the value under way lacks too; if none is under way, or
 * a condition, it is needed. */
void lacks_passed_on(Resolver *r, const Lacks *lacks);
/* Tells what is missing of the values that have limits, boxes, targets or bench tables, and
 * writes it down with the others. */
void resolve_lacks(Resolver *r);
void job_need(const Job *job, Run *run, const Quantity *quantity);

/* ---- limits.c, ranks.c ---- */
void resolve_limits(Resolver *r);
const Settle *settle_find(const Resolver *r, const char *name);

/* One record's limits for one quantity. */
typedef struct LimitVoice {
  Voice voice;
  const LimitChoice *choice;
  NodeId min, target, max;
  bool has_min, has_target, has_max;
  bool known;                 /* all three could be worked out */
  double low, aim, high;      /* SI; -INFINITY and INFINITY where open */
  double low_half, high_half; /* half the last printed digit; 0 for formulas */
  const Unit *low_unit, *high_unit;
  int places; /* most digits the sheet gives; -1: worked out */
} LimitVoice;
typedef VEC(LimitVoice) LimitVoices;
/* The record that holds, and those that do not. false: two of one rank rule each other
 * out, and that was reported. voices: highest rank first. */
bool limits_rank(Resolver *r, const Quantity *quantity, const LimitVoices *voices,
                 LimitVoice *winner, Voices *losers);
const char *limit_says(Arena *arena, const LimitVoice *voice, const Unit *unit);

/* ---- joints.c, joint_figures.c ---- */
void resolve_joints(Resolver *r);
void joint_figures(Resolver *r, JobJoint *joint);

/* ---- needs.c ---- */
void resolve_needs(Resolver *r);

/* ---- targets.c ---- */
void resolve_build_form(Resolver *r);
/* Moves a wrong-dimension to the number of a sheet that has no unit; NULL: told already, and
 * dropped. The finding is the last one added. asks: "a volume is wanted", or NULL. */
/* Does it hang on such a number? Then nothing more is said about its unit. */
bool hangs_on_forgotten(const Resolver *r, NodeId node);
Finding *forgotten_unit(Resolver *r, Finding *finding, NodeId node, const char *asks);
/* ---- slips.c ---- */
/* Reports a word of `NAME is WORD` that the choice does not offer, or, choice NULL, that is no
 * part of the library. */
void condition_words(const Resolver *r, const Formula *is, const ChoiceDecl *choice);
void resolve_slips(Resolver *r);

void resolve_targets(Resolver *r); /* after the ranges are known */

/* ---- words.c ---- */
/* "; did you mean X?" as a way out, when a word is near. */
const char *resolve_suggest(Run *run, Finding *finding, const char *word, const Words *candidates);
/* "piston sheet 12, edition C", with the part's name before it. */
const char *resolve_whose(Arena *arena, const Entry *entry, const char *page);
/* "left, right and middle" */
const char *resolve_listing(Arena *arena, const Words *words);

#endif
