/* Reading along the text of a literal: numbers, units, and the slips people make. */
#ifndef SHEAF_VALUE_LITERAL_READ_H
#define SHEAF_VALUE_LITERAL_READ_H

#include "value/literal.h"

typedef struct Cursor {
  Run *run;
  Place place; /* of the text's first character */
  const char *text;
  size_t at; /* bytes */
  bool guessed; /* a unit was reported, and read on as what was probably meant */
} Cursor;

typedef struct Number {
  double value;
  int places;
  bool fraction; /* 1/4, 1 1/2 */
  bool signs;    /* written with + or -, or the 0 that needs none */
  size_t from, to;
} Number;

/* The place of bytes from to to; at least one character wide. */
Place cursor_place(const Cursor *cursor, size_t from, size_t to);
void cursor_skip_blanks(Cursor *cursor);
bool cursor_takes(Cursor *cursor, const char *mark);
/* The word, a blank in it standing for several, not running on into a letter or digit. */
bool cursor_takes_word(Cursor *cursor, const char *word);

/* These report and answer false. */
bool cursor_number(Cursor *cursor, Number *number);
bool cursor_unit(Cursor *cursor, const Unit **unit); /* NULL when none stands there */
bool cursor_need_end(Cursor *cursor);
/* What looked like a tolerance from there on is a band, or half a tolerance; first and
 * next: the numbers around it, NULL when unread. Always false. */
bool cursor_band_slip(Cursor *cursor, size_t from, const Number *first, const Number *next);

#endif
