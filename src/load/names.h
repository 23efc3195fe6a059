/* Names by which entries speak of each other: all that a build reached are gathered, held
 * against what is declared, and what is misspelt is told once and read on as what was meant. */
#ifndef SHEAF_LOAD_NAMES_H
#define SHEAF_LOAD_NAMES_H

#include "load/field.h"

/* A name where it is used. */
typedef struct Use {
  NameKind kind;
  const char **text; /* the word is the n bytes of it from there on */
  size_t from, n;
  const char *word;
  Place at;
  const char *of; /* FACT: the role; CHOSEN: the choice; SPOT: the joint; else "" */
} Use;
typedef VEC(Use) Uses;

/* A name where it is declared; the same under several kinds, as a role is a place in a formula. */
typedef struct Named {
  const char *word;
  Place at; /* source NULL: a word of the language */
  const char **text;
  size_t uses, misses;   /* how often it is used; how often something near to it is */
  const char *taken_for; /* the slip already told */
} Named;
typedef struct NameList {
  VEC(Named *) list;
  Words words;
} NameList;

typedef struct Names {
  Loader *loader;
  Arena *arena;
  Uses uses;
  Map *declared; /* "kind/of/word" to Named */
  Map *lists;    /* "kind/of" to NameList */
  size_t told;
} Names;

/* ---- names_met.c ---- */

/* All names used in the entry. */
void names_meet(Names *names, Entry *entry);

/* ---- names_declared.c ---- */

void names_declare(Names *names, Entry *entry);
void names_declare_language(Names *names);
Named *name_find(const Names *names, NameKind kind, const char *of, const char *word);
const NameList *names_of(const Names *names, NameKind kind, const char *of);
/* Nothing happens where the word is declared already. */
void name_put(Names *names, NameKind kind, const char *of, Named *named);

/* ---- names_values.c: where the sheet may be wrong rather than who asks ---- */

void names_of_values(Names *names);
void names_of_mates(Names *names);
void names_of_states(Names *names);

/* ---- names_meant.c ---- */

/* The finding at a misspelt name; NULL when enough were told. */
Finding *name_told(Names *names, NameKind kind, Place at, const char *word, const char *meant);
/* The one of the words that was meant by a slip of the pen, or NULL. */
const char *name_near(const char *word, const Words *words);

void names_as_meant(Loader *loader);

#endif
