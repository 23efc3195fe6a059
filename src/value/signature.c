/* Reads the signatures of functions.def against the arguments of a call. */
#include "value/dimension.h"
#include "value/function.h"

#include "base/text.h"

#include <string.h>

typedef struct Slot {
  const char *word; /* the dimension's */
  size_t length;
  bool repeats;
} Slot;

/* The next argument's slot; at goes behind it, NULL once "->" is reached. */
static Slot next_slot(const char **at) {
  const char *text = *at, *end = strstr(text, "->");
  const char *comma = strchr(text, ',');
  const char *stop = comma && comma < end ? comma : end;
  *at = stop == end ? NULL : stop + 2;
  const char *colon = memchr(text, ':', (size_t)(stop - text));
  if (colon) text = colon + 2;
  size_t length = (size_t)(stop - text);
  while (length > 0 && text[length - 1] == ' ') length--;
  bool repeats = length > 3 && !strncmp(text + length - 3, "...", 3);
  return (Slot){text, repeats ? length - 3 : length, repeats};
}

static bool slot_is(Slot slot, const char *word) {
  return slot.length == strlen(word) && !strncmp(slot.word, word, slot.length);
}

static bool is_position(Dim dim) {
  return dim.origin == ORIGIN_TDC || dim.origin == ORIGIN_BDC;
}

/* What the arguments so far have settled. */
typedef struct Settled {
  bool alike_known; /* the first quantity or amount */
  Dim alike;
  bool position_known;
  Dim position;
} Settled;

static bool fits(Arena *arena, Slot slot, Dim arg, Settled *settled, const char **wanted) {
  Dim dim;
  if (dimension_by_word(slot.word, slot.length, &dim)) {
    *wanted = dim_name(arena, dim);
    return dim_same(arg, dim);
  }
  if (slot_is(slot, "position") || slot_is(slot, "other position")) {
    bool other = slot_is(slot, "other position") && settled->position_known;
    *wanted = other ? "a crank position from the other dead centre" : "a crank position";
    bool good = is_position(arg) && (!other || arg.origin != settled->position.origin);
    if (good && !settled->position_known) {
      settled->position_known = true;
      settled->position = arg;
    }
    return good;
  }
  *wanted = "a number, not a condition";
  if (arg.truth) return false;
  if (slot_is(slot, "amount") && arg.origin != ORIGIN_NONE) {
    *wanted = "a plain size, not a position or a temperature";
    return false;
  }
  if (settled->alike_known) {
    *wanted = dim_name(arena, settled->alike);
    return dim_same(arg, settled->alike);
  }
  settled->alike_known = true;
  settled->alike = arg;
  return true;
}

static bool halve(Dim *dim) {
  const int8_t all[] = {dim->length, dim->mass, dim->time, dim->temperature, dim->angle};
  for (size_t i = 0; i < sizeof all; i++) {
    if (all[i] % 2 != 0) return false;
  }
  *dim = (Dim){.length = (int8_t)(dim->length / 2),
               .mass = (int8_t)(dim->mass / 2),
               .time = (int8_t)(dim->time / 2),
               .temperature = (int8_t)(dim->temperature / 2),
               .angle = (int8_t)(dim->angle / 2)};
  return true;
}

static bool result_of(const Function *function, const Settled *settled, Dim *result) {
  const char *word = strstr(function->signature, "-> ") + 3;
  if (dimension_by_word(word, strlen(word), result)) return true;
  *result = settled->alike;
  if (text_is(word, "difference")) *result = dimension_without_origin(*result);
  return !text_is(word, "root") || halve(result);
}

bool function_types(Arena *arena, const Function *function, const Dim *args, size_t n, Dim *result,
                    size_t *wrong, const char **wanted) {
  const char *at = function->signature;
  bool over = function_is_over(function);
  if (over) (void)next_slot(&at);
  Settled settled = {0};
  Slot slot = {0};
  for (size_t i = 0; i < n; i++) {
    if (at && !slot.repeats) slot = next_slot(&at);
    if (over) slot.repeats = true; /* one slot for every member */
    *wrong = i;
    if (!fits(arena, slot, args[i], &settled, wanted)) return false;
  }
  *wrong = 0;
  *wanted = "something that has a square root, as an area has";
  return result_of(function, &settled, result);
}
