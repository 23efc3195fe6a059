#include "read/reader.h"

#include "base/text.h"

#include <limits.h>
#include <string.h>

#define EXCERPT_MOST 60

size_t reader_offset(Reader *reader, const yaml_mark_t *mark) {
  const char *text = reader->source->text;
  size_t size = reader->source->size, length = 0;
  if (reader->source->ascii) return reader->cursor_offset = mark->index < size ? mark->index : size;
  size_t index = reader->cursor_index, offset = reader->cursor_offset;
  /* Marks come nearly in order, so the walk is short either way. */
  while (index < mark->index && offset < size) {
    (void)utf8_next(text + offset, &length);
    offset += length;
    index++;
  }
  while (index > mark->index && offset > reader->base) {
    offset--;
    while (offset > reader->base && ((unsigned char)text[offset] & 0xC0) == 0x80) offset--;
    index--;
  }
  reader->cursor_index = index;
  reader->cursor_offset = offset;
  return offset;
}

size_t reader_line_end(const Reader *reader, size_t offset) {
  const char *text = reader->source->text;
  const char *end = memchr(text + offset, '\n', reader->source->size - offset);
  size_t at = end ? (size_t)(end - text) : reader->source->size;
  if (at > offset && text[at - 1] == '\r') at--;
  return at;
}

/* The end of the text from offset on its line, blanks at the end left off. */
static size_t text_end(const Reader *reader, size_t offset, size_t until) {
  const char *text = reader->source->text;
  size_t end = reader_line_end(reader, offset);
  if (end > until) end = until;
  while (end > offset && is_blank(text[end - 1])) end--;
  return end;
}

const char *reader_text(Reader *reader, size_t offset, size_t until) {
  size_t end = text_end(reader, offset, until);
  return arena_text(reader->run->arena, reader->source->text + offset, end - offset);
}

const char *reader_excerpt(Reader *reader, size_t offset, size_t until) {
  size_t end = text_end(reader, offset, until), at = offset, length = 0;
  for (size_t n = 0; at < end && n < EXCERPT_MOST; n++) {
    (void)utf8_next(reader->source->text + at, &length);
    at += length;
  }
  const char *shown = arena_text(reader->run->arena, reader->source->text + offset, at - offset);
  return at < end ? arena_printf(reader->run->arena, "%s...", shown) : shown;
}

bool reader_is_full(const Reader *reader) {
  return reader->found >= TRAPS_MOST;
}

const char *reader_quoted(Reader *reader, const char *text) {
  Arena *arena = reader->run->arena;
  if (!strpbrk(text, "\"\\")) return arena_printf(arena, "\"%s\"", text);
  Text out = text_new(arena);
  text_add(&out, "'");
  for (; *text; text++) {
    text_add_n(&out, text, 1);
    if (*text == '\'') text_add(&out, "'");
  }
  text_add(&out, "'");
  return text_done(&out);
}

Finding *reader_report(Reader *reader, Rule rule, size_t offset, int width, const char *format,
                       ...) {
  if (reader_is_full(reader)) return NULL;
  reader->found++;
  va_list values;
  va_start(values, format);
  const char *text = arena_vprintf(reader->run->arena, format, values);
  va_end(values);
  return finding_add(reader->run, rule, source_place(reader->source, offset, width), "%s", text);
}

Finding *reader_quote_it(Reader *reader, size_t start, size_t end, const char *what) {
  reader->trapped = true;
  const char *text = reader_excerpt(reader, start, end);
  size_t width = utf8_count(text);
  Finding *finding = reader_report(reader, RULE_QUOTE_IT, start, (int)width, "%s", what);
  if (finding) finding_way_out(reader->run, finding, "quote it: %s", reader_quoted(reader, text));
  return finding;
}
