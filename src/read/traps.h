/* Text that YAML takes in silence for something else than what was meant. */
#ifndef SHEAF_READ_TRAPS_H
#define SHEAF_READ_TRAPS_H

#include "read/reader.h"

/* A value without quotes that ends at span.end: a # right behind it may have
 * swallowed the rest of the line. */
void traps_hash(Reader *reader, Span span);
/* An empty value without quotes at offset, behind its key or, in a list, an
 * empty span: reports. Gives node the text that was meant where that is plain; else marks it bad.
 */
void traps_empty(Reader *reader, size_t offset, Span owner, Node *node);
/* A tag, an anchor or an alias; node likewise, NULL before a list or a mapping. */
void traps_mark(Reader *reader, Span span, Node *node);
/* A key with a ? before it, which is no part of it to YAML. */
void traps_question(Reader *reader, Span key);
/* A { } or a [ ] that ends at end: values split at a comma, colons without a
 * blank, text behind the bracket. */
void traps_flow(Reader *reader, Frame *frame, size_t end);
/* "bore:84 mm": letters, a colon, no blank. Length up to the colon, or 0. */
size_t traps_tight_colon(const char *text, size_t length);
/* Says so, for a text that is that. */
void traps_report_tight_colon(Reader *reader, Span text, size_t colon);
/* The end of a text that begins at start without quotes: the bracket or comma
 * that closes it inside { } or [ ], else the line's end. */
size_t traps_text_end(const Reader *reader, size_t start);

#endif
