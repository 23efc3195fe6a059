/* The text of a file and places in it. */
#ifndef SHEAF_DIAG_SOURCE_H
#define SHEAF_DIAG_SOURCE_H

#include "base/arena.h"
#include "base/vec.h"

#include <stdbool.h>
#include <stddef.h>

#define SOURCE_MOST ((size_t)10 * 1024 * 1024) /* bytes of one file; a larger one is no entry */

typedef struct Source {
  const char *path; /* as shown to people */
  const char *text; /* NUL-terminated beyond size */
  size_t size;
  size_t *line_start; /* byte offset of each line, behind a byte order mark; line_count of them */
  size_t line_count;
  bool ascii; /* every character is one byte */
} Source;

/* Where something stands. line and column count from 1, column in characters;
 * width is how many characters to mark (at least 1). line 0: the file as a
 * whole; source NULL: nowhere (the command line). */
typedef struct Place {
  const Source *source;
  int line, column, width;
} Place;
typedef VEC(Place) Places;

Source *source_new(Arena *arena, const char *path, const char *text, size_t size);
Place place_at(const Source *source, int line, int column, int width);
/* The same place moved right by characters, with a new width: a token inside a
 * one-line scalar. */
Place place_inside(Place scalar, int characters, int width);
/* The line's text without its end; "" past the end. */
const char *source_line(Arena *arena, const Source *source, int line);
/* The place of a byte offset. */
Place source_place(const Source *source, size_t offset, int width);
/* Total order: path, line, column. Negative, zero, positive. */
int place_compare(Place a, Place b);

#endif
