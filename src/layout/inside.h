/* What the files that lay out sheets share. */
#ifndef SHEAF_LAYOUT_INSIDE_H
#define SHEAF_LAYOUT_INSIDE_H

#include "base/text.h"
#include "layout/layout.h"
#include "layout/sketch.h"

/* Where something came to stand. */
typedef struct Spot {
  int number; /* of the step or figure */
  int page;   /* from 0 */
  Um y;
} Spot;
typedef VEC(Spot) Spots;

/* How loosely a group is set: less so that the page takes one group more; least where the group is
 * too tall for a page as it is, notes run in. */
typedef enum Air { AIR_USUAL, AIR_SNUG, AIR_LEAST } Air;

/* Sheets are laid out twice: breaks reserve room for references, so that the
 * second time, with all places known, they come out the same. */
typedef struct Layout {
  Run *run;
  Arena *arena;
  const Packet *packet;
  Pages *pages;
  Um width, height;                 /* of the paper */
  const char *where;                /* title of the sheet being set, for findings */
  Spots steps, figures;             /* found this time */
  Spots known_steps, known_figures; /* found the time before */
  bool second;                      /* findings were given already */
  bool asked;                       /* where something stands; set by find_step and find_figure */
  bool scale_bar; /* the packet has one; it stands at the foot of the first page */
  Air air;
  VEC(uint32_t) missing;          /* characters reported */
  struct Lettering *lettering;    /* see paragraph.c; NULL at first */
  VEC(struct Setting *) settings; /* of each sheet in turn: what they were the first time */
} Layout;

/* Where it was found the time before; NULL: not, or not yet. */
const Spot *find_step(Layout *layout, int number);
const Spot *find_figure(Layout *layout, int number);
/* A finding that something does not fit; once, not again in the second round. */
void report_too_long(Layout *layout, const char *what, const char *text);

/* A strip of a block that is never cut. */
typedef struct Piece {
  Sketch sketch;    /* from the strip's own top left corner */
  Um height, space; /* space: above, left out at the top of a page */
  Um wide;          /* the space where there is room; 0: it is the same everywhere */
  Um rule;          /* width of a line above, left out at the top of a page; 0: none */
  const Block *block;
  bool first;         /* of its block */
  bool with_next;     /* never the last on a page */
  struct Piece *head; /* put again when a page begins with this piece */
} Piece;

/* Everything of one group, top to bottom. */
typedef struct Form {
  Layout *layout;
  const Group *group;
  size_t at;          /* index of the block in the group */
  const Block *block; /* being set */
  VEC(Piece *) pieces;
  Air air;          /* it was set with */
  bool says_places; /* of steps or figures: it comes out another the second time */
} Form;

Piece *form_piece(Form *form, Um space);
Um space_with(Air air, Um wide);

/* The bar of 100 mm; answers its height. */
Um scale_bar_set(Layout *layout, Sketch *sketch);

/* Sets one block of the group, of whatever kind. */
void form_block(Form *form, size_t at);

#define COLUMN_WIDTH MM(173) /* of everything between the margins */
#define STEP_TEXT_X  MM(22)  /* where the text of a step begins */
#define PAD          MM(2.5) /* from a line to what it encloses */

#endif
