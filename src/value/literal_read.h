/* Reading along the text of a literal: numbers, units, and the slips people make. */
#ifndef SHEAF_VALUE_LITERAL_READ_H
#define SHEAF_VALUE_LITERAL_READ_H

#include "value/literal.h"

typedef struct Reader {
  Run *run;
  Place place; /* of the text's first character */
  const char *text;
  size_t at; /* bytes */
} Reader;

typedef struct Number {
  double value;
  int places;
  bool fraction; /* 1/4, 1 1/2 */
  bool signs;    /* written with + or -, or the 0 that needs none */
  size_t from, to;
} Number;

/* The place of bytes from to to; at least one character wide. */
Place reader_place(const Reader *reader, size_t from, size_t to);
void reader_skip_blanks(Reader *reader);
bool reader_takes(Reader *reader, const char *mark);
/* The word, a blank in it standing for several, not running on into a letter or digit. */
bool reader_takes_word(Reader *reader, const char *word);

/* These report and answer false. */
bool reader_number(Reader *reader, Number *number);
bool reader_unit(Reader *reader, const Unit **unit); /* NULL when none stands there */
bool reader_need_end(Reader *reader);
/* What looked like a tolerance from there on is a band, or half a tolerance; first and
 * next: the numbers around it, NULL when unread. Always false. */
bool reader_band_slip(Reader *reader, size_t from, const Number *first, const Number *next);

#endif
