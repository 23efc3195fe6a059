/* What the keys of each mapping mean: one table a mapping, filled by one engine.
 *
 * The tables drive reading, the editor schema and the reference page. */
#ifndef SHEAF_LOAD_FIELD_H
#define SHEAF_LOAD_FIELD_H

#include "load/loader.h"

#include <stddef.h>

/* TYPE(id, reader, what stands there, in words) */
#define FIELD_TYPES(TYPE)                                                                          \
  TYPE(KIND, field_kind, "the kind of entry")            /* looked at before the tables */         \
  TYPE(TEXT, field_text, "text")                         /* Said; may run over lines */            \
  TYPE(WORD, field_word, "a word")                       /* Said; one of words when given */       \
  TYPE(DATE, field_date, "a date, YYYY-MM-DD")           /* Said */                                \
  TYPE(JOB, field_job_number, "a job number")            /* Said */                                \
  TYPE(FLAG, field_flag, "the word itself")              /* bool; words holds the one word */      \
  TYPE(TEXTS, field_texts, "a list of texts")            /* SaidList */                            \
  TYPE(WORDS, field_words, "a list of words")            /* SaidList */                            \
  TYPE(NUMBER, field_number, "a whole number")           /* WholeNumber */                         \
  TYPE(REF, field_ref, "an id")                          /* Ref */                                 \
  TYPE(REFS, field_refs, "a list of ids")                /* RefList */                             \
  TYPE(LITERAL, field_literal, "a number with its unit") /* Expr */                                \
  TYPE(EXPR, field_expr, "a number with its unit, or a formula") /* Expr */                        \
  TYPE(FORMULA, field_formula, "a formula")                      /* Expr; the = may be left out */ \
  TYPE(CONDITION, field_condition, "a condition")                /* Formula * */                   \
  TYPE(UNIT, field_unit, "a unit")                               /* QuantityDecl */                \
  TYPE(ONE, field_one, "key: value lines")                       /* struct, or a pointer to one */ \
  TYPE(LIST, field_list, "a list of mappings")      /* VEC of structs or of pointers */            \
  TYPE(NAMED, field_named, "name: mapping lines")   /* VEC of structs or of pointers */            \
  TYPE(SOURCE, field_source, "where it comes from") /* SheetSource */                              \
  TYPE(VALUES, field_values, "name: value lines")   /* ValueDecls */                               \
  TYPE(LIMITS, field_limits, "name: limit lines")   /* LimitDecls */                               \
  TYPE(CHOICES, field_choices,                                                                     \
       "a formula, a list of choices, or by member")                    /* VEC(ValueChoice) */     \
  TYPE(BAND, field_band, "a band")                                      /* LimitChoice */          \
  TYPE(MATES, field_mates, "name: value or word lines")                 /* Mates */                \
  TYPE(PASSES, field_passes, "a list of passes")                        /* Passes */               \
  TYPE(RETORQUE, field_retorque, "a list of passes")                    /* Passes */               \
  TYPE(TIGHTEN, field_tighten, "a list of passes, each with its joint") /* Passes */               \
  TYPE(OPERATION, field_operation, "how far")                  /* Pass; words holds the kind */    \
  TYPE(PLACES, field_places, "name: [x, y] lines")             /* VEC(PlacePoint) */               \
  TYPE(NOTES, field_notes, "step: text lines")                 /* PartEntry */                     \
  TYPE(DETAILS, field_details, "name: text lines")             /* VEC(Detail) */                   \
  TYPE(WORD_SETS, field_word_sets, "name: [word, word] lines") /* VEC(ChoiceDecl) */               \
  TYPE(WORDS_CHOSEN, field_words_chosen, "name: word lines")   /* VEC(ChoiceMade) */               \
  TYPE(PARTS_CHOSEN, field_parts_chosen, "role: part lines")   /* VEC(PartChoice) */               \
  TYPE(READING, field_reading, "a reading, or several in [ ]") /* ReadingLine */                   \
  TYPE(BOX_READINGS, field_box_readings, "box number: reading lines")   /* VEC(ReadingLine) */     \
  TYPE(NAMED_READINGS, field_named_readings, "quantity: reading lines") /* VEC(ReadingLine) */     \
  TYPE(FITTED, field_fitted, "role: part or quantity: size lines")      /* VEC(FittedLine) */      \
  TYPE(OPEN_STEPS, field_open_steps, "step number: reason lines")       /* VEC(OpenStep) */        \
  TYPE(CHECKS, field_checks, "step number: go or no-go lines")          /* VEC(CheckLine) */       \
  TYPE(STEP, field_step_text, "what is done") /* StepDecl; step_kind says which */

typedef enum FieldType {
#define TYPE(id, reader, what) FIELD_##id,
  FIELD_TYPES(TYPE)
#undef TYPE
      FIELD_TYPE_COUNT
} FieldType;

/* What a number measures; ANY is settled by the formula that uses it. */
typedef enum Measure {
  MEASURE_ANY,
  MEASURE_NUMBER,
  MEASURE_LENGTH,
  MEASURE_TORQUE,
  MEASURE_ANGLE,
  MEASURE_STRESS,
  MEASURE_TIME,
  MEASURE_TEMPERATURE,
  MEASURE_RISE, /* a difference of temperatures */
  MEASURE_EXPANSION
} Measure;
/* What the words behind a key are names of: NAME(id, what it is, for messages) */
#define NAME_KINDS(NAME)                                                                           \
  NAME(NONE, "") /* text, or a name of its own */                                                  \
  NAME(SET, "set of the engine")                                                                   \
  NAME(EACH, "set and no place of the engine")                                                     \
  NAME(ROLE, "place of the engine")                                                                \
  NAME(PLACE, "place and no set of the engine") /* before the dot of a formula */                  \
  NAME(IS, "place and no choice of the engine") /* before "is" */                                  \
  NAME(CHOICE, "choice of the engine")                                                             \
  NAME(CHOSEN, "word of the choice")                                                               \
  NAME(MEMBER, "member of a set of the engine")                                                    \
  NAME(OPENING, "opening of the engine")                                                           \
  NAME(FACE, "joint face of the engine")                                                           \
  NAME(SEAL, "place of the engine and no way to seal a face")                                      \
  NAME(LOOSE, "loose part that the engine knows")                                                  \
  NAME(HOLD, "hold that the engine asks for")                                                      \
  NAME(QUANTITY, "quantity of the engine")                                                         \
  NAME(STATED, "quantity and no value of the engine")                                              \
  NAME(JOINT, "joint of this build")                                                               \
  NAME(REACHED, "place of the engine and no joint")                                                \
  NAME(SETTLED, "quantity and no joint of this build")                                             \
  NAME(STEP, "step or block of this build's procedures")                                           \
  NAME(STATE, "state that a step makes")                                                           \
  NAME(OCCASION, "occasion")                                                                       \
  NAME(GAUGE, "gauge of the shop and no kind of measuring")                                        \
  NAME(MATERIAL, "material of the library")                                                        \
  NAME(SPOT, "place of the joint")                                                                 \
  NAME(FACT, "value of that part")

typedef enum NameKind {
#define NAME(id, what) NAME_##id,
  NAME_KINDS(NAME)
#undef NAME
      NAME_KIND_COUNT
} NameKind;

typedef enum Extent { EXTENT_ANY, EXTENT_EXACT, EXTENT_BAND } Extent;

typedef struct Field Field;
typedef struct Shape Shape;

struct Field {
  const char *key;
  FieldType type;
  size_t offset;
  const char *doc; /* one line for the reference page and the editor */
  bool required;
  bool joined;        /* TEXT: a list is taken too and joined with commas */
  bool by_pointer;    /* ONE, LIST, NAMED: the struct is held by pointer */
  const char *words;  /* allowed words, parted by |; REF: words beside ids */
  const Shape *shape; /* ONE, LIST, NAMED, PASSES, TIGHTEN */
  EntryKind kind;     /* REF, REFS, PARTS_CHOSEN */
  Measure measure;
  NameKind names; /* WORD, WORDS, NAMED, LIMITS, DETAILS: what is called so */
  Extent extent;
  StepKind step_kind; /* STEP */
  PassKind pass_kind; /* OPERATION */
};

#define NOWHERE ((size_t)-1)

/* The keys of one mapping and the struct they fill. */
struct Shape {
  const char *what; /* "gauge", for messages */
  const Field *fields;
  size_t n;
  size_t size;  /* of the struct */
  size_t name;  /* offset of const char *name, or NOWHERE */
  size_t place; /* offset of Place at, or NOWHERE */
  void (*finish)(Loader *loader, const Node *map,
                 void *object); /* checks over several keys; may be NULL */
};

#define FIELD(T, member, key_, type_, ...)                                                         \
  { .key = key_, .type = FIELD_##type_, .offset = offsetof(T, member), .doc = __VA_ARGS__ }
/* A mapping that keeps no place of its own, and one that does. */
#define SHAPE(name_, what_, fields_, T, finish_)                                                   \
  const Shape name_ = {what_, fields_, COUNT(fields_), sizeof(T), NOWHERE, NOWHERE, finish_}
#define PLACED(name_, what_, fields_, T, finish_)                                                  \
  static const Shape name_ = {what_,   fields_,         COUNT(fields_), sizeof(T),                 \
                              NOWHERE, offsetof(T, at), finish_}
/* ... and one whose key is its name. */
#define NAMED(name_, what_, fields_, T)                                                            \
  static const Shape name_ = {                                                                     \
      what_, fields_, COUNT(fields_), sizeof(T), offsetof(T, name), offsetof(T, at), NULL}
#define COUNT(array) (sizeof(array) / sizeof *(array))

/* ---- the engine (fill.c) ---- */

typedef struct Layer {
  const Shape *shape;
  void *object;
} Layer;

/* Every key goes to the first layer that knows it. Reports unknown and missing keys. */
void fill_layers(Loader *loader, const Layer *layers, size_t n, const Node *map, Place at);
void fill(Loader *loader, const Shape *shape, const Node *map, Place at, void *object);
const Field *shape_find(const Shape *shape, const char *key);
/* Does the mapping hold any of the shape's keys? */
bool shape_meets(const Shape *shape, const Node *map);

/* Appends a copy of item to a VEC of items of that size. */
void push_any(Arena *arena, void *vec, const void *item, size_t size);

typedef void FieldReader(Loader *loader, const Field *field, const Pair *pair, void *object);
#define TYPE(id, reader, what) FieldReader reader;
FIELD_TYPES(TYPE)
#undef TYPE

/* ---- the mappings ---- */

extern const Shape entry_shape; /* kind, name, source, note */
extern const Shape source_shape;
extern const Shape value_shape; /* a value written as a record */
extern const Shape limit_shape;
extern const Shape joint_shape;
extern const Shape pass_shape, tighten_shape;
extern const Shape engine_shape, part_shape, relation_shape, practice_shape, strength_shape,
    lubricant_shape, threadlocker_shape, material_shape, consumable_shape, caution_shape,
    shop_shape, procedure_shape, packet_shape, build_shape;

/* A file of readings is no entry: it belongs to one packet. */
extern const Shape readings_shape;
#define READINGS_KIND "readings"

const Shape *shape_of_kind(EntryKind kind);
/* An item of a list of such mappings. A value alone is reported, and read as that of the shape's
 * first key; NULL: nothing can be made of it. */
const Node *need_item(Loader *loader, const Shape *shape, const Node *node, const char *key);
/* What stands behind a key of that type, in words. */
const char *field_type_words(FieldType type);

#endif
