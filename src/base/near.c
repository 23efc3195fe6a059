#include "base/near.h"

#include "base/text.h"

#include <stdint.h>

#define LONGEST 64 /* characters; longer words are not worth guessing at */

typedef struct Letters {
  uint32_t at[LONGEST];
  size_t n;
  uint32_t kinds; /* a bit for each of 32 kinds of letters that it has */
} Letters;

static bool spell(const char *word, Letters *letters) {
  letters->n = 0;
  letters->kinds = 0;
  for (size_t length; *word; word += length) {
    if (letters->n == LONGEST) return false;
    uint32_t letter = utf8_next(word, &length);
    letters->at[letters->n++] = letter;
    letters->kinds |= UINT32_C(1) << (letter % 32);
  }
  return true;
}

static size_t least(size_t a, size_t b) {
  return a < b ? a : b;
}

/* Edits from a to b, no place edited twice (optimal string alignment); some number above most
 * where there are more. */
static size_t distance(const Letters *a, const Letters *b, size_t most) {
  size_t rows[3][LONGEST + 1], low = 0;
  size_t *before = rows[0], *above = rows[1], *row = rows[2];
  for (size_t j = 0; j <= b->n; j++) row[j] = j;
  for (size_t i = 1; i <= a->n; i++) {
    size_t *freed = before;
    size_t low_above = low;
    before = above;
    above = row;
    row = freed;
    low = row[0] = i;
    for (size_t j = 1; j <= b->n; j++) {
      size_t replace = above[j - 1] + (a->at[i - 1] != b->at[j - 1]);
      row[j] = least(replace, least(above[j], row[j - 1]) + 1);
      bool swapped = i > 1 && j > 1 && a->at[i - 1] == b->at[j - 2] && a->at[i - 2] == b->at[j - 1];
      if (swapped) row[j] = least(row[j], before[j - 2] + 1);
      low = least(low, row[j]);
    }
    if (low > most && low_above > most) return low; /* a row comes of the two before it */
  }
  return row[b->n];
}

/* An edit brings one kind of letter and takes one away, at most. */
static bool too_far(const Letters *a, const Letters *b, size_t most) {
  size_t longer = a->n > b->n ? a->n - b->n : b->n - a->n, kinds = 0;
  for (uint32_t other = a->kinds ^ b->kinds; other; other &= other - 1) kinds++;
  return longer > most || kinds > 2 * most;
}

/* Are they two words of the trade for one thing? */
static const char *const pairs[][2] = {
    {"inlet", "intake"},    {"lube", "lubricant"}, {"crankshaft", "crank"},
    {"camshaft", "cam"},    {"conrod", "rod"},     {"connecting_rod", "rod"},
    {"gudgeon_pin", "pin"}, {"wrist_pin", "pin"},  {"spanner", "wrench"},
    {"turn", "angle"},      {"degrees", "angle"},  {"loosen", "undo"},
    {"slacken", "undo"},
};

static bool has_other_word(const char *word) {
  for (size_t i = 0; i < COUNT_OF(pairs); i++)
    if (text_is(word, pairs[i][0]) || text_is(word, pairs[i][1])) return true;
  return false;
}

static bool is_other_word(const char *a, const char *b) {
  for (size_t i = 0; i < COUNT_OF(pairs); i++)
    if ((text_is(a, pairs[i][0]) && text_is(b, pairs[i][1])) ||
        (text_is(a, pairs[i][1]) && text_is(b, pairs[i][0])))
      return true;
  return false;
}

const char *near_word(const char *word, const Words *candidates) {
  for (size_t i = 0; has_other_word(word) && i < candidates->n; i++)
    if (is_other_word(word, candidates->at[i])) return candidates->at[i];
  Letters wanted, offered;
  if (!word || !spell(word, &wanted) || wanted.n == 0) return NULL;
  size_t most = wanted.n < 3 ? 1 : wanted.n / 3;
  const char *nearest = NULL;
  for (size_t i = 0; i < candidates->n; i++) {
    if (!spell(candidates->at[i], &offered)) continue;
    if (too_far(&wanted, &offered, most)) continue;
    size_t far = distance(&wanted, &offered, most);
    if (far > most || (nearest && far == most)) continue;
    nearest = candidates->at[i];
    if (far == 0) break;
    most = far;
  }
  return nearest;
}

/* The same but for digits: another size or number, not another spelling. */
static bool differ_in_digits(const Letters *a, const Letters *b) {
  size_t i = 0, j = 0;
  for (;;) {
    while (i < a->n && a->at[i] >= '0' && a->at[i] <= '9') i++;
    while (j < b->n && b->at[j] >= '0' && b->at[j] <= '9') j++;
    if (i == a->n || j == b->n) return i == a->n && j == b->n;
    if (a->at[i++] != b->at[j++]) return false;
  }
}

/* A letter typed twice. */
static bool is_doubled(const Letters *a, const Letters *b) {
  size_t i = 0;
  if (a->n != b->n + 1) return false;
  while (i < b->n && a->at[i] == b->at[i]) i++;
  if (i == 0 || a->at[i] != a->at[i - 1]) return false;
  for (; i < b->n; i++)
    if (a->at[i + 1] != b->at[i]) return false;
  return true;
}

bool near_slip(const char *word, const char *meant) {
  Letters a, b;
  if (word && meant && is_other_word(word, meant)) return true;
  if (!word || !meant || !spell(word, &a) || !spell(meant, &b)) return false;
  if (is_doubled(&a, &b)) return true;
  if (a.n < 3) return false;
  size_t most = a.n < 6 ? 1 : 2;
  return !differ_in_digits(&a, &b) && distance(&a, &b, most) <= most;
}
