/* The state of reading one file; for the files of this folder only. */
#ifndef SHEAF_READ_READER_H
#define SHEAF_READ_READER_H

#include "base/map.h"
#include "diag/finding.h"
#include "model/node.h"

#include <stdbool.h>
#include <yaml.h>

#define DEPTH_MOST 64
#define NODES_MOST 200000
#define KEYS_MOST  5000 /* of one mapping */
#define TRAPS_MOST 200  /* findings of one file; a file with more is hostile */

/* Where a scalar stands: byte offsets into the source, end exclusive, quotes
 * included. */
typedef struct Span {
  size_t start, end;
} Span;

/* A pair of a { } or an item of a [ ] (then only value counts), for the lints
 * that need neighbours. */
typedef struct Slot {
  Span key, value;
  bool colon; /* a colon follows the key */
  Node *node; /* the value; NULL for a dropped key */
} Slot;

typedef struct Frame {
  Node *node;
  bool flow;    /* inside { } or [ ] */
  size_t start; /* offset of the opening bracket when flow */
  bool has_key; /* MAP: a key waits for its value */
  bool drop;    /* ...which is thrown away: the key was reported */
  Pair pair;    /* ...and goes here */
  Span key;
  Map *seen;       /* keys of a larger map, to their Pair index + 1 */
  VEC(Slot) slots; /* flow only */
} Frame;

typedef struct Reader {
  Run *run;
  const Source *source;
  size_t base; /* length of the byte order mark */
  yaml_parser_t parser;
  Frame stack[DEPTH_MOST];
  size_t depth;
  Node *root;
  size_t nodes;
  size_t documents;
  size_t found; /* findings so far */
  bool trapped; /* one of them explains why the outline may break */
  bool stop;
  Span long_quote;                    /* the last text in quotes that runs over lines */
  size_t cursor_index, cursor_offset; /* a character count and its byte */
} Reader;

/* The byte a mark points at. Marks count characters. */
size_t reader_offset(Reader *reader, const yaml_mark_t *mark);

/* The file's text from offset to the end of the line or until, whichever comes first, blanks
 * at the end left off, at most 60 characters. */
const char *reader_excerpt(Reader *reader, size_t offset, size_t until);
/* The same, as long as it is. */
const char *reader_text(Reader *reader, size_t offset, size_t until);
size_t reader_line_end(const Reader *reader, size_t offset);
/* text in the quotes that YAML needs. */
const char *reader_quoted(Reader *reader, const char *text);

/* Enough was said about this file: nothing more is looked into. */
bool reader_is_full(const Reader *reader);
/* quote-it at [start, end): what happened, and the text in quotes as the way
 * out. Answers NULL when enough was said about this file. */
Finding *reader_quote_it(Reader *reader, size_t start, size_t end, const char *what);
/* Any other finding; NULL likewise. */
SHEAF_PRINTF(5, 6)
Finding *reader_report(Reader *reader, Rule rule, size_t offset, int width, const char *format,
                       ...);

#endif
