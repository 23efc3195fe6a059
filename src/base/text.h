/* Text that grows, and small questions about text. All text is UTF-8. */
#ifndef SHEAF_BASE_TEXT_H
#define SHEAF_BASE_TEXT_H

#include "base/arena.h"
#include "base/vec.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

typedef struct Text {
  Arena *arena;
  char *at; /* NUL-terminated once anything was added; see text_done */
  size_t n, room;
} Text;

Text text_new(Arena *arena);
void text_add(Text *text, const char *more);
void text_add_n(Text *text, const char *more, size_t length);
SHEAF_PRINTF(2, 3)
void text_addf(Text *text, const char *format, ...);
const char *text_done(const Text *text); /* "" when empty */

/* Equal; NULL equals only NULL. Most that differ do so in their first byte. */
static inline bool text_is(const char *a, const char *b) {
  if (a == b) return true;
  return a && b && *a == *b && strcmp(a, b) == 0;
}
static inline bool text_starts(const char *text, const char *with) {
  if (!text || !with) return false;
  while (*with && *text == *with) text++, with++;
  return *with == '\0';
}
bool text_is_ascii(const char *text, size_t length);
bool text_has(const Words *words, const char *word);
const char *text_join(Arena *arena, const Words *words, const char *between);
/* The pieces between the marks, appended to out; two marks side by side give an empty one. */
void text_split(Arena *arena, const char *text, char mark, Words *out);
/* Without blanks at its ends. */
const char *text_trim(Arena *arena, const char *text);

/* The text with another character in the place of one. */
const char *text_exchange(Arena *arena, const char *text, char from, char to);
/* A name as people write it: "engine_number" -> "Engine number". */
const char *text_title(Arena *arena, const char *name);

/* Of ASCII alone, whatever the locale. */
static inline bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
static inline bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
static inline bool is_blank(char c) { /* within a line */
  return c == ' ' || c == '\t';
}
static inline bool is_space(char c) {
  return is_blank(c) || c == '\n';
}
static inline bool is_word_character(char c) {
  return is_letter(c) || is_digit(c) || c == '_';
}

uint32_t utf8_next_long(const char *text, size_t *length); /* of utf8_next, beyond ASCII */
/* A date YYYY-MM-DD before another? Text that is no date is never before. */
bool date_before(const char *a, const char *b);

/* The code point at text and its length in bytes (1 to 4); on a bad byte U+FFFD and 1. */
static inline uint32_t utf8_next(const char *text, size_t *length) {
  *length = 1;
  return (unsigned char)*text < 0x80 ? (unsigned char)*text : utf8_next_long(text, length);
}
/* Offset of the first byte that is not valid UTF-8, or length. */
size_t utf8_bad(const char *text, size_t length);
size_t utf8_count(const char *text); /* code points */
bool utf8_is_control(uint32_t code);
/* Takes no room on a line: joins, soft hyphens, marks of direction and of byte order. */
bool utf8_is_invisible(uint32_t code);
/* Appends one code point. */
void text_add_code(Text *text, uint32_t code);

#endif
