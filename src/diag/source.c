#include "diag/source.h"

#include "base/text.h"

#include <string.h>

Source *source_new(Arena *arena, const char *path, const char *text, size_t size) {
  Source *source = ARENA_NEW(arena, Source);
  source->path = arena_text(arena, path, strlen(path));
  source->text = arena_text(arena, text, size);
  source->size = size;
  source->ascii = text_is_ascii(text, size);
  source->line_count = 1;
  const char *end = text + size, *at = text;
  for (; (at = memchr(at, '\n', (size_t)(end - at))); at++) source->line_count++;
  source->line_start = ARENA_NEW_N(arena, size_t, source->line_count);
  size_t line = 0;
  /* A byte order mark is no character of the first line. */
  source->line_start[line++] = size >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
  for (at = text; (at = memchr(at, '\n', (size_t)(end - at))); at++)
    source->line_start[line++] = (size_t)(at - text) + 1;
  return source;
}

Place place_at(const Source *source, int line, int column, int width) {
  return (Place){source, line, column, width < 1 ? 1 : width};
}

Place place_inside(Place scalar, int characters, int width) {
  return place_at(scalar.source, scalar.line, scalar.column + characters, width);
}

const char *source_line(Arena *arena, const Source *source, int line) {
  if (line < 1 || (size_t)line > source->line_count) return "";
  size_t start = source->line_start[line - 1];
  size_t end = (size_t)line < source->line_count ? source->line_start[line] - 1 : source->size;
  if (end > start && source->text[end - 1] == '\r') end--;
  return arena_text(arena, source->text + start, end - start);
}

/* Index of the last line that starts at or before offset. */
static size_t line_of(const Source *source, size_t offset) {
  size_t low = 0, high = source->line_count;
  while (high - low > 1) {
    size_t middle = low + (high - low) / 2;
    if (source->line_start[middle] <= offset)
      low = middle;
    else
      high = middle;
  }
  return low;
}

Place source_place(const Source *source, size_t offset, int width) {
  if (offset > source->size) offset = source->size;
  size_t line = line_of(source, offset);
  int column = 1;
  size_t length = 0;
  for (size_t at = source->line_start[line]; at < offset; at += length, column++) {
    (void)utf8_next(source->text + at, &length);
  }
  return place_at(source, (int)line + 1, column, width);
}

int place_compare(Place a, Place b) {
  if (a.source != b.source) {
    if (!a.source) return -1;
    if (!b.source) return 1;
    int by_path = strcmp(a.source->path, b.source->path);
    if (by_path != 0) return by_path;
  }
  if (a.line != b.line) return a.line < b.line ? -1 : 1;
  return (a.column > b.column) - (a.column < b.column);
}
