/* Entries of the library and the build, typed. What load hands to the stages.
 *
 * The field tables in load/ fill these structs; docs/language.md shows the same
 * keys as they are written. Whatever a person typed keeps its place. */
#ifndef SHEAF_MODEL_ENTRY_H
#define SHEAF_MODEL_ENTRY_H
/* Records are laid out as tables, a meaning beside each member. */
/* clang-format off */

#include "base/map.h"
#include "base/vec.h"
#include "diag/finding.h"
#include "value/formula.h"
#include "value/literal.h"

#include <stdbool.h>

/* ENTRY(id, word, folder of the library) */
#define ENTRY_KINDS(ENTRY)                     \
  ENTRY(ENGINE, engine, "specs/engines")             \
  ENTRY(PART, part, "specs/parts")                   \
  ENTRY(RELATION, relation, "specs/relations")       \
  ENTRY(PRACTICE, practice, "specs/practice")        \
  ENTRY(STRENGTH, strength, "specs/fasteners/strength")       \
  ENTRY(LUBRICANT, lubricant, "specs/fasteners/lubricants")   \
  ENTRY(THREADLOCKER, threadlocker, "specs/fasteners/threadlockers") \
  ENTRY(MATERIAL, material, "specs/materials")       \
  ENTRY(CONSUMABLE, consumable, "specs/consumables") \
  ENTRY(CAUTION, caution, "specs/cautions")          \
  ENTRY(SHOP, shop, "specs/shop")                    \
  ENTRY(PROCEDURE, procedure, "templates/procedures")\
  ENTRY(PACKET, packet, "templates/packets")         \
  ENTRY(BUILD, build, "templates/builds")

typedef enum EntryKind {
#define ENTRY(id, word, folder) ENTRY_##id,
  ENTRY_KINDS(ENTRY)
#undef ENTRY
  ENTRY_KIND_COUNT
} EntryKind;

typedef struct Entry Entry;

/* A scalar with its place; s NULL when the key is absent. */
typedef struct Said { const char *s; Place at; } Said;
typedef VEC(Said) SaidList;

typedef struct Detail { const char *label; Place at; Said value; } Detail; /* a line that the writer words freely */

/* A reference to another entry; entry NULL: absent, "none", or already reported. */
typedef struct Ref { const char *id; Place at; Entry *entry; } Ref;
typedef VEC(Ref) RefList;

/* A literal or a formula. */
typedef enum ExprKind { EXPR_NONE, EXPR_LITERAL, EXPR_FORMULA, EXPR_BAD } ExprKind;
typedef struct Expr { ExprKind kind; Place at; Literal literal; Formula *formula; } Expr;

typedef struct WholeNumber { bool said; long n; Place at; } WholeNumber;

typedef struct SheetSource {
  Place at; /* line 0: absent */
  Said maker, sheet, edition, page;
  bool practice; /* source: common practice */
} SheetSource;

/* One way a value may come: for a member, under a condition. */
typedef struct ValueChoice {
  Place at;
  Words member;      /* path below the owner's instance: ["intake"], ["intake","5"]; empty: itself */
  Places member_at;
  Expr value;        /* EXPR_LITERAL or EXPR_FORMULA */
  Formula *when;     /* NULL: always */
  Said page, why, note;
} ValueChoice;
typedef struct ValueDecl {
  const char *name; /* "diameter"; in a build's facts "crank.throw" or "rev_limit" */
  Place at;
  VEC(ValueChoice) choices;
} ValueDecl;
typedef VEC(ValueDecl *) ValueDecls;

typedef struct LimitChoice {
  Place at;
  Words member;
  Places member_at;
  Expr min, target, max; /* each EXPR_NONE when not given; a band fills min and max */
  Formula *when;
  Said occasion;     /* default "final" */
  Said page, why, note;
} LimitChoice;
typedef struct LimitDecl {
  const char *name; /* of the quantity */
  Place at;
  VEC(LimitChoice) choices;
} LimitDecl;
typedef VEC(LimitDecl *) LimitDecls;

/* pin: 20 mm | flange: square | bore: at most 84.2 mm */
typedef struct Mate { const char *name; Place at; bool is_word; Said word; Expr value; } Mate;
typedef VEC(Mate) Mates;

/* {that: "head_gasket.bore >= barrel.bore", why: ...} */
typedef struct Need { Place at; Formula *that; Said why; } Need;
typedef struct Forbid { Place at; Said part, role; Formula *when; Said why; } Forbid;

/* ---- joints ---- */

typedef enum PassKind { PASS_TO, PASS_HAND, PASS_SEAT, PASS_FINAL, PASS_ANGLE, PASS_BACK_OFF, PASS_UNDO, PASS_TURN_OVER, PASS_CHECK,
  PASS_RETORQUE, /* a step has the joint tightened again as its sheet asks */
  PASS_OWN /* a step names a joint and no operation: all the joint's own passes */ } PassKind;
typedef struct Pass {
  Place at;
  PassKind kind;
  Expr amount;      /* TO: torque; ANGLE, BACK_OFF, TURN_OVER: angle (2 turn, 90 deg) */
  Said joint;       /* in a step's tighten list; s NULL in a joint's own passes */
  SaidList only;    /* places; empty: all, in the joint's order */
  Said text;        /* CHECK: what to look at */
} Pass;
typedef VEC(Pass) Passes;

typedef struct PlacePoint { const char *name; Place at; Expr x, y; } PlacePoint; /* of one fastener */

typedef struct JointDecl {
  const char *name;
  Place at;
  /* what is there */
  Said label, thread;
  Ref strength;            /* key "class" */
  WholeNumber count;       /* per instance of the part's role */
  Said reuse;              /* new | any | limit */
  Said duty;               /* clamp (default) | seal | lock | locate */
  Said drive;              /* "13 mm socket" */
  Said seen;               /* "from above, front of the machine at the bottom" */
  Ref into_material;       /* into: {material, engagement, hole_depth} */
  Said hole_thread;        /* cut in the part, where its sheet names it */
  Said stud_thread;        /* of a stud, on the end that goes into the hole */
  Expr engagement, hole_depth;
  Expr shank, hollow;      /* least diameter of a waisted shank; bore of a hollow bolt */
  Expr length;             /* of the screw under its head */
  Expr scrap_length;       /* free length above which it is scrapped */
  Expr prevailing;         /* torque that only turns a locking nut or insert */
  Expr clamped_length;     /* of what lies between head and thread; may be a formula */
  Expr clamped_across, clamped_rise; /* diameter of what is squeezed; how much hotter it runs */
  Ref clamped_material, stud_material;
  Said head;               /* hexagon | socket | flange: the face under it, by the standard */
  Expr across_flats, face, hole; /* or its size: of a hexagon; outside and hole of the face */
  VEC(PlacePoint) places;
  SaidList parties;        /* roles held together: their makers may speak for the joint */
  /* how it is tightened: wins or loses as one bundle */
  Ref lubricant;           /* id, or the words none, not_stated in lubricant.id */
  Ref under_head;          /* lubricant under the head or nut where it is another */
  Ref threadlock;          /* id, or none */
  Expr torque;             /* may be a band or toleranced */
  Expr angle;              /* final angle after torque */
  Expr stretch;            /* band of bolt elongation */
  Said method;             /* torque (default) | angle | yield | stretch | hand */
  Passes passes;
  Said retorque_after;     /* retorque: {after: ..., passes: [...]}; s NULL: not asked for */
  Passes retorque;
  SaidList order;          /* names of places, or numbers */
  Expr adapter, adapter_angle; /* effective length added to the wrench */
  Formula *when;
  Said page, why, note;
  bool hardware, bundle;   /* which halves this record gives (set by load) */
} JointDecl;
typedef VEC(JointDecl *) JointDecls;

/* ---- engine ---- */

typedef struct SetDecl { const char *name; Place at; Said within; SaidList members; Said label; } SetDecl;
typedef struct RoleDecl {
  const char *name; Place at;
  Said label, per;      /* per: a set, or absent: one */
  Ref part;             /* the engine's own, unless the build chooses */
  bool optional;        /* the build may say none */
  SaidList in_front_of; /* roles and joints that cannot be reached while it is on */
  ValueDecls when_none; /* facts while the role is none: {thickness: 0 mm} */
} RoleDecl;
typedef struct OpeningDecl {
  const char *name; Place at;
  Said label, per;
  Said starts;          /* open | closed | covered: as the first step finds it; default closed */
  SaidList swallows;    /* loose parts that fall in; the word "all" */
  SaidList holds;       /* kinds of hold that work which opens it must have */
  bool to_turn;         /* the crank is not turned while it is covered */
} OpeningDecl;
typedef struct FaceDecl { const char *name; Place at; Said label, per; SaidList sealed_by, between; } FaceDecl; /* gasket role names, sealant, o_ring, dry */
typedef struct DemandDecl { Place at; Formula *when; SaidList measure; Said why; } DemandDecl;
typedef struct ChoiceDecl { const char *name; Place at; Said label; SaidList words; } ChoiceDecl;

typedef struct EngineEntry {
  VEC(SetDecl) sets;
  VEC(RoleDecl) roles;
  VEC(OpeningDecl) openings;
  VEC(FaceDecl) faces;
  VEC(ChoiceDecl) choices;
  VEC(DemandDecl) demands;
  SaidList loose;         /* loose parts that steps may handle; see OpeningDecl.swallows */
  RefList relations, practice;
  SaidList holds;         /* kinds of hold this work must have, e.g. "final clean", named by steps' `hold_kind` */
  ValueDecls values;
  LimitDecls limits;
  JointDecls joints;
  VEC(Need) needs;
  VEC(Detail) asks;        /* fuel, oil: what the customer is to use */
} EngineEntry;

/* What a part's sheet says to a step. */
typedef struct StepNote {
  Said step; /* its id */
  Said text;
} StepNote;

typedef struct PartEntry {
  SaidList role;           /* what it may fill */
  Said number;             /* order number */
  ValueDecls values;
  LimitDecls limits;
  Mates mates;
  JointDecls joints;
  SaidList speaks_for;     /* a kit's sheet: joints it names outrank the components' sheets */
  VEC(Need) needs;
  VEC(Forbid) forbids;
  VEC(Detail) asks;         /* fuel, oil: what the customer is to use */
  VEC(StepNote) notes;     /* notes: {fit_piston: text} */
  Said fit;                /* new: always a new one; new with the job: where chosen, used again
                              within it; own place: each goes back where it was */
  Ref material;
  RefList threadlock_forbidden; /* products this part must not meet */
} PartEntry;

/* ---- relations ---- */

typedef struct QuantityDecl {
  const char *name; Place at;
  Said label, per;
  const Unit *unit; Said unit_said;  /* printed unit; fixes the dimension */
  WholeNumber places;                /* digits after the point in print; default 2 */
  VEC(ValueChoice) formula;          /* may differ by member or `when`; empty: only measured or stated */
  SaidList parties;                  /* roles whose makers own it or are party to it */
  Said report;                       /* "only": never judged */
  Said afterwards;                   /* the quantity that says the same when the work is done */
  Said headline;                     /* "yes" word "headline": shown in the job sheet's table first */
  Said note;
} QuantityDecl;
typedef struct RelationEntry { VEC(QuantityDecl *) quantities; VEC(Need) needs; } RelationEntry;

typedef struct PracticeEntry { LimitDecls limits; } PracticeEntry;

/* ---- fasteners, materials, consumables, cautions ---- */

typedef struct StrengthBand { Place at; Expr over, up_to; Expr proof, yield, tensile; } StrengthBand;
typedef struct StrengthEntry { VEC(StrengthBand) bands; Said note, stands_in; /* for a proof stress that the standard does not give */ } StrengthEntry;
typedef struct LubricantEntry { Expr k, thread_friction, head_friction; /* bands */ Ref product; } LubricantEntry;
typedef struct ThreadlockerEntry { Expr k; Said strength; Expr cure, service_temperature; RefList cautions; SaidList not_on; Ref product; } ThreadlockerEntry;
typedef struct MaterialEntry { Expr expansion, modulus, shear, tensile, yield; } MaterialEntry;
typedef struct ConsumableEntry { Said use; Said greasy; /* oil, grease, paste */ Expr open_time, cure; RefList cautions; Ref lubricant, threadlocker; /* what it is on a thread */ } ConsumableEntry;
typedef struct CautionEntry {
  Said word;            /* danger | warning | caution | notice */
  Said hazard, consequence;
  SaidList avoid;       /* acts and abstentions, each an imperative sentence */
  SaidList needs;       /* states that work under it has, whichever procedure it stands in */
  Said symbol;          /* crush, fumes, fire, eye, spring, fingers, battery, hot, chemical, pressure; optional */
} CautionEntry;

/* ---- shop ---- */

typedef struct Gauge {
  const char *name; Place at;
  Said label, id, measures;     /* measures: outside | bore | depth | gap | angle | volume | pressure | mass | force | temperature | runout | other */
  Expr range, resolution, uncertainty;
  Said due, reading;            /* due: date; reading: "go" for go/no-go, see gauge_is_go */
} Gauge;
typedef struct Wrench { const char *name; Place at; Said label, id; Expr range, resolution; Expr length; Said due; } Wrench;
typedef struct ShopEntry { Said address; VEC(Gauge) gauges; VEC(Wrench) wrenches; SaidList people; Said one_person; } ShopEntry;

/* ---- procedures ---- */

typedef enum StepKind { STEP_DO, STEP_CHECK, STEP_VERIFY, STEP_RECORD, STEP_DECIDE, STEP_WAIT, STEP_HOLD } StepKind;

typedef struct BoxDecl {
  Place at;
  Said quantity;         /* of the engine */
  Said label;            /* instead of the quantity's own */
  SaidList positions;    /* at: [front, rear]; one box each */
  Said gauge;            /* of the shop, or a kind of measuring: "depth" */
  Said only;             /* "record": record only */
  Said occasion;         /* default final */
  WholeNumber readings;  /* asked for; at least what the gauge demands */
  Expr at_least_agree;   /* two readings agree within this */
  Said letter;           /* what formulas of the step call the reading */
} BoxDecl;

typedef struct TableAxis {
  Place at;
  Said quantity;         /* row or column by a quantity... */
  Expr from, to, step, bin; /* ... over a range; bin: half width judged at its edges, default half a step */
  Said role; RefList parts; /* ... or by parts in a role */
  Said fact; 
} TableAxis;
typedef struct TableDecl {
  Place at;
  Said title;
  TableAxis row, column;
  SaidList answers;
  SaidList judges;       /* quantities that stop a cell; none: all that hang on the sides */
  Said member;
} TableDecl;

typedef struct WorkLine { Place at; Said text; Said letter; Expr is; } WorkLine; /* worked-out value: C = A - B */

typedef struct StepBefore { Place at; Said step, why; } StepBefore;

typedef struct StepDecl {
  Said id; Place at;
  StepKind kind; Said text;
  Said for_each;
  SaidList after; VEC(StepBefore) before;
  Said place;                       /* "floats": no edge to written neighbours */
  Formula *when;
  SaidList through, opens, closes, covers, uncovers; /* openings */
  SaidList handles, over;           /* loose parts; openings they are handled over (default: all that are near: the same member's and the engine's) */
  Said count;                       /* "in and out": where the part works in the opening */
  SaidList fits, trial, removes;    /* roles */
  SaidList old;                     /* roles of which an old part is put on for a trial */
  SaidList another;                 /* roles: of what was used before a further new one is taken */
  SaidList chooses;                 /* roles: which of the parts offered is taken */
  SaidList works_on;                /* roles: on, by now, for good or on trial */
  SaidList seals;                   /* faces */
  VEC(BoxDecl) boxes;
  SaidList coats;                   /* joints whose threads get what it uses */
  Passes tighten; Said disturbs;    /* joint loosened by this work */
  TableDecl *table;
  VEC(WorkLine) work;
  SaidList needs, makes, ends;      /* states: clean, dry, pumped, tdc, locked; "clean base_joint" as state and thing */
  Expr turns;                       /* turns the crank: ends tdc */
  Expr within, not_before, fail_after; Said since; /* time windows after step `since` */
  Said otherwise;                   /* what is done when the time has passed */
  Expr wait;                        /* WAIT: a time, or text only: until */
  RefList cautions, uses;           /* consumables */
  SaidList tools;
  SaidList figures;                 /* deck_section, bore_points, ring_clock, piston_way, valve_circle, spring_height, pattern */
  Said hold_kind;
  Said note;
} StepDecl;

typedef struct BlockDecl {
  Said id; Place at;
  Said title, for_each, by;         /* by: member (default) | step */
  Formula *when;
  SaidList after;
  RefList cautions;
  VEC(StepDecl *) steps;
} BlockDecl;
typedef struct ProcedureEntry {
  Said sheet;                       /* bench (default) | start: which part of the packet it prints in */
  VEC(BlockDecl *) blocks;
  SaidList needs_sets, needs_openings, needs_roles, needs_quantities;
} ProcedureEntry;

typedef struct PacketEntry { SaidList sheets; Said paper, detail, sides; } PacketEntry;

/* ---- build ---- */

/* The part that is meant, id "none": none; and all that the bench may choose from, that one first. */
typedef struct PartChoice { const char *role; Place at; Ref part; RefList offered; } PartChoice;
typedef struct ChoiceMade { const char *name; Place at; Said word; } ChoiceMade;
typedef struct Concession { Place at; Said rule, subject, reason, approver, customer; } Concession;
typedef struct Settle { const char *name; Place at; Said sheet, why; } Settle; /* whose sheet holds for a quantity or joint */
typedef struct TargetDecl { Place at; Said quantity; Expr want; Said by; Expr from, to, step; Said role; RefList parts; } TargetDecl;

typedef struct BuildEntry {
  Said job, title, date, copy, work;    /* work: one sentence on what is wanted */
  VEC(Detail) machine, customer;         /* printed as given; machine has engine_number */
  VEC(Detail) people;                    /* technician, approver, service_writer */
  Ref engine, shop, packet;
  VEC(PartChoice) parts;
  Place parts_at;                       /* of the key; no line when it is missing */
  VEC(ChoiceMade) choices;
  ValueDecls facts;                     /* "rev_limit" or "crank.throw" */
  LimitDecls limits;                    /* narrower ones; wider needs a concession */
  JointDecls joints;
  RefList procedures;
  bool idle; /* no procedure is named, by no slip that was told */
  VEC(Settle) settle;
  VEC(Concession) concessions;
  VEC(TargetDecl) targets;
  VEC(Detail) undisturbed;               /* joints left alone, and why */
  SaidList notes;
  Said recheck;            /* "after 500 km": the first re-check */
  SaidList supplied_by_customer;
} BuildEntry;

struct Entry {
  EntryKind kind;
  const char *id;
  Place at;
  Said name, maker, note;
  SheetSource source;
  const Source *file;
  union {
    EngineEntry engine; PartEntry part; RelationEntry relation; PracticeEntry practice;
    StrengthEntry strength; LubricantEntry lubricant; ThreadlockerEntry threadlocker;
    MaterialEntry material; ConsumableEntry consumable; CautionEntry caution; ShopEntry shop;
    ProcedureEntry procedure; PacketEntry packet; BuildEntry build;
  } is;
};

/* Every entry this build reached, by kind and id; list in order of kind, then id. */
typedef struct Library {
  VEC(Entry *) list;
  Map *by_key; /* "part/forged_84" */
  Entry *build;
  /* Of all entries there are, reached or not: looked for only when somebody asks. look reads one
   * without the entries it names and says nothing of what is wrong in it; NULL: cannot be read. */
  const Words *(*ids)(void *asked, EntryKind kind);
  const Entry *(*look)(void *asked, EntryKind kind, const char *id);
  void *asked;
} Library;

/* "springs[left.intake]" names springs. */
bool said_names(const SaidList *list, const char *name);

const char *entry_kind_word(EntryKind kind);
const char *entry_kind_folder(EntryKind kind);
Entry *library_find(const Library *library, EntryKind kind, const char *id);
/* "piston sheet 12, edition C, page 3" or "common practice, no source". */
const char *source_print(Arena *arena, const Entry *entry, const char *page);

/* Its sheet gives that role. */
bool part_fills(const Entry *part, const char *role);
/* It passes or does not; it shows no number. */
bool gauge_is_go(const Gauge *gauge);

#endif
