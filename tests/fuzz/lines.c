#include "fuzz/lines.h"

#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define PIECE_MOST 4096

typedef struct Span {
  size_t from, size;
} Span;

static size_t pick(unsigned *state, size_t below) {
  *state = *state * 1664525u + 1013904223u;
  return below ? (size_t)(*state >> 8) % below : 0;
}

/* A line anywhere, its end included. */
static Span any_line(const uint8_t *data, size_t size, unsigned *state) {
  size_t from = pick(state, size), until = from;
  while (from > 0 && data[from - 1] != '\n') from--;
  while (until < size && data[until] != '\n') until++;
  return (Span){from, until < size ? until + 1 - from : until - from};
}

static bool is_word(uint8_t c, bool number) {
  if (c >= '0' && c <= '9') return true;
  if (number) return c == '.';
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || c == '.' || c >= 0x80;
}

/* The next word or number behind any place; empty when there is none. */
static Span any_word(const uint8_t *data, size_t size, unsigned *state, bool number) {
  size_t from = pick(state, size);
  while (from < size && !is_word(data[from], number)) from++;
  size_t until = from;
  while (until < size && is_word(data[until], number)) until++;
  return (Span){from, until - from};
}

/* Puts text in the place of a span; the data as they are when there is no room. */
static size_t replace(uint8_t *data, size_t size, size_t most, Span span, const uint8_t *text,
                      size_t n) {
  if (size - span.size + n > most) return size;
  memmove(data + span.from + n, data + span.from + span.size, size - span.from - span.size);
  memcpy(data + span.from, text, n);
  return size - span.size + n;
}

static size_t put(uint8_t *data, size_t size, size_t most, Span at, Span from) {
  uint8_t piece[PIECE_MOST];
  if (from.size > sizeof piece) return size;
  memcpy(piece, data + from.from, from.size);
  return replace(data, size, most, at, piece, from.size);
}

static size_t change_number(uint8_t *data, size_t size, size_t most, Span at, unsigned *state) {
  static const char *const odd[] = {"0",  "0.0", "1",   "100000", "0.0001", "999999999",
                                    "-1", "1/3", "0.5", "2",      "10",     "64"};
  const char *text = odd[pick(state, sizeof odd / sizeof *odd)];
  return replace(data, size, most, at, (const uint8_t *)text, strlen(text));
}

static size_t once(uint8_t *data, size_t size, size_t most, unsigned *state) {
  Span line = any_line(data, size, state), other = any_line(data, size, state);
  bool number = pick(state, 2) == 0;
  Span word = any_word(data, size, state, number), source = any_word(data, size, state, number);
  switch (pick(state, 8)) {
  case 0:
    return replace(data, size, most, line, data, 0);
  case 1:
    return put(data, size, most, (Span){line.from, 0}, line);
  case 2:
    return put(data, size, most, (Span){line.from, 0}, other);
  case 3:
    return put(data, size, most, line, other);
  case 4:
    return change_number(data, size, most, any_word(data, size, state, true), state);
  case 5:
    return replace(data, size, most, word, data, 0);
  default:
    return put(data, size, most, word, source);
  }
}

size_t lines_mutate(uint8_t *data, size_t size, size_t most, unsigned seed) {
  unsigned state = seed;
  for (size_t times = 1 + pick(&state, 3); times > 0 && size > 0; times--)
    size = once(data, size, most, &state);
  return size;
}
