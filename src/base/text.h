/* Text that grows, and small questions about text. All text is UTF-8. */
#ifndef SHEAF_BASE_TEXT_H
#define SHEAF_BASE_TEXT_H

#include "base/arena.h"
#include "base/vec.h"

#include <stdbool.h>
#include <stdint.h>

typedef struct Text {
  Arena *arena;
  char *at; /* NUL-terminated once anything was added; see text_done */
  size_t n, room;
} Text;

Text text_new(Arena *arena);
void text_add(Text *text, const char *more);
void text_add_n(Text *text, const char *more, size_t length);
#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
void text_addf(Text *text, const char *format, ...);
const char *text_done(const Text *text); /* "" when empty */

bool text_is(const char *a, const char *b); /* equal; NULL equals only NULL */
bool text_starts(const char *text, const char *with);
bool text_has(const Words *words, const char *word);

uint32_t utf8_next_long(const char *text, size_t *length); /* of utf8_next, beyond ASCII */
/* The code point at text and its length in bytes (1 to 4); on a bad byte U+FFFD and 1. */
static inline uint32_t utf8_next(const char *text, size_t *length) {
  *length = 1;
  return (unsigned char)*text < 0x80 ? (unsigned char)*text : utf8_next_long(text, length);
}
/* Offset of the first byte that is not valid UTF-8, or length. */
size_t utf8_bad(const char *text, size_t length);
size_t utf8_count(const char *text); /* code points */
/* Appends one code point. */
void text_add_code(Text *text, uint32_t code);

#endif
