/* A paragraph's text taken apart: words, and references among them. */
#ifndef SHEAF_LAYOUT_WORDS_H
#define SHEAF_LAYOUT_WORDS_H

#include "layout/paragraph.h"

/* Text that no line break goes through. */
typedef struct Atom {
  const char *text; /* length bytes of it; the words stay where they are written */
  size_t length;
  Face face;
  Um width, room; /* as drawn, and as counted for breaking: a reference reserves */
  int count;      /* characters, reserved ones for a reference */
  int to;         /* leads to that step or figure; 0: to none */
  bool figure;
  bool space; /* a space stands before it; without, no break except by force */
  bool cut;   /* a break may come before it all the same: a word too long for a line */
  bool fresh; /* begins a line: the text said so */
} Atom;
typedef VEC(Atom) Atoms;

/* Appends the atoms of text, none wider than width or longer than a line's
 * characters. */
void words_add(Layout *layout, Atoms *atoms, const Type *type, Face face, const char *text,
               Um width);

/* "figure 2" and "0.05 mm" are read in one look: no line of that width ends at the blank behind the
 * word, of length bytes. In a narrow cell one may. */
bool words_held(const char *word, size_t length, Um width);

#endif
