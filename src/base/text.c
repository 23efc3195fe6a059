#include "base/text.h"

#include <stdarg.h>
#include <string.h>

Text text_new(Arena *arena) {
  return (Text){.arena = arena};
}

void text_add_n(Text *text, const char *more, size_t length) {
  if (length == 0) return;
  if (length >= ARENA_MOST) length = ARENA_MOST; /* the arena refuses it below */
  size_t wanted = text->n + length + 1;
  if (wanted > text->room) {
    size_t room = text->room * 2 > wanted ? text->room * 2 : wanted;
    if (room < 64) room = 64;
    if (text->n > 0 && arena_extend(text->arena, text->at, text->room, room)) {
      text->room = room;
    } else {
      char *grown = arena_room(text->arena, room);
      if (text->n > 0) memcpy(grown, text->at, text->n);
      text->at = grown;
      text->room = room;
    }
  }
  memcpy(text->at + text->n, more, length);
  text->n += length;
  text->at[text->n] = '\0';
}

void text_add(Text *text, const char *more) {
  text_add_n(text, more, strlen(more));
}

void text_addf(Text *text, const char *format, ...) {
  va_list values;
  va_start(values, format);
  text_add(text, arena_vprintf(text->arena, format, values));
  va_end(values);
}

const char *text_done(const Text *text) {
  return text->at ? text->at : "";
}

bool text_has(const Words *words, const char *word) {
  for (size_t i = 0; i < words->n; i++) {
    if (text_is(words->at[i], word)) return true;
  }
  return false;
}

const char *text_join(Arena *arena, const Words *words, const char *between) {
  Text out = text_new(arena);
  for (size_t i = 0; i < words->n; i++) {
    if (i > 0) text_add(&out, between);
    text_add(&out, words->at[i]);
  }
  return text_done(&out);
}

const char *text_trim(Arena *arena, const char *text) {
  while (is_space(*text)) text++;
  size_t n = strlen(text);
  while (n > 0 && is_space(text[n - 1])) n--;
  return arena_text(arena, text, n);
}

void text_split(Arena *arena, const char *text, char mark, Words *out) {
  for (;;) {
    const char *end = strchr(text, mark);
    size_t length = end ? (size_t)(end - text) : strlen(text);
    vec_push(arena, out, arena_text(arena, text, length));
    if (!end) return;
    text = end + 1;
  }
}

const char *text_exchange(Arena *arena, const char *text, char from, char to) {
  char *out = arena_text(arena, text, strlen(text));
  for (char *at = out; *at; at++)
    if (*at == from) *at = to;
  return out;
}

const char *text_title(Arena *arena, const char *name) {
  const char *words = text_exchange(arena, name, '_', ' ');
  if (words[0] < 'a' || words[0] > 'z') return words;
  return arena_printf(arena, "%c%s", words[0] - 'a' + 'A', words + 1);
}

bool date_before(const char *a, const char *b) {
  return a && b && strlen(a) == 10 && strlen(b) == 10 && strcmp(a, b) < 0;
}

#define UTF8_BAD 0xFFFDu

/* Length of the code point in the first room bytes, 0 when it is not valid:
 * the table of well-formed sequences in RFC 3629, section 4. */
static size_t decode(const char *text, size_t room, uint32_t *code) {
  const unsigned char *at = (const unsigned char *)text;
  if (at[0] < 0x80) {
    *code = at[0];
    return 1;
  }
  size_t length = at[0] >= 0xF0 ? 4 : at[0] >= 0xE0 ? 3 : 2;
  if (at[0] < 0xC2 || at[0] > 0xF4 || room < length) return 0;
  uint32_t low = 0x80, high = 0xBF; /* bounds of the second byte */
  if (at[0] == 0xE0) low = 0xA0;    /* shorter form exists */
  if (at[0] == 0xED) high = 0x9F;   /* surrogates */
  if (at[0] == 0xF0) low = 0x90;    /* shorter form exists */
  if (at[0] == 0xF4) high = 0x8F;   /* beyond U+10FFFF */
  uint32_t value = at[0] & (0xFFu >> (length + 1));
  for (size_t i = 1; i < length; i++) {
    if (at[i] < low || at[i] > high) return 0;
    value = value << 6 | (at[i] & 0x3Fu);
    low = 0x80;
    high = 0xBF;
  }
  *code = value;
  return length;
}

uint32_t utf8_next_long(const char *text, size_t *length) {
  uint32_t code = 0;
  size_t n = decode(text, 4, &code); /* stops at the NUL: it continues nothing */
  *length = n > 0 ? n : 1;
  return n > 0 ? code : UTF8_BAD;
}

/* How many bytes of ASCII text begins with, in whole words of the machine. */
static size_t ascii_words(const char *text, size_t length) {
  uint64_t word;
  size_t at = 0;
  for (; length - at >= sizeof word; at += sizeof word) {
    memcpy(&word, text + at, sizeof word);
    if (word & 0x8080808080808080u) break;
  }
  return at;
}

bool text_is_ascii(const char *text, size_t length) {
  size_t at = ascii_words(text, length);
  while (at < length && (unsigned char)text[at] < 0x80) at++;
  return at == length;
}

size_t utf8_bad(const char *text, size_t length) {
  size_t at = ascii_words(text, length);
  while (at < length) {
    uint32_t code;
    if ((unsigned char)text[at] < 0x80) {
      at++;
      continue;
    }
    size_t n = decode(text + at, length - at, &code);
    if (n == 0) return at;
    at += n;
  }
  return length;
}

size_t utf8_count(const char *text) {
  size_t count = 0, length = 0;
  for (; *text; text += length, count++) (void)utf8_next(text, &length);
  return count;
}

bool utf8_is_control(uint32_t code) {
  return code < 0x20 || (code >= 0x7F && code < 0xA0);
}

bool utf8_is_invisible(uint32_t code) {
  return code == 0x00AD || code == 0x061C || code == 0xFEFF || (code >= 0x200B && code <= 0x200F) ||
         (code >= 0x202A && code <= 0x202E) || (code >= 0x2060 && code <= 0x206F);
}

void text_add_code(Text *text, uint32_t code) {
  if (code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF)) code = UTF8_BAD;
  char bytes[4];
  size_t length = code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
  static const unsigned char first[] = {0, 0x00, 0xC0, 0xE0, 0xF0};
  for (size_t i = length - 1; i > 0; i--) {
    bytes[i] = (char)(0x80 | (code & 0x3F));
    code >>= 6;
  }
  bytes[0] = (char)(first[length] | code);
  text_add_n(text, bytes, length);
}
