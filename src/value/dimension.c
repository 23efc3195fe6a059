#include "value/dimension.h"

#include <string.h>

typedef struct Dimension {
  const char *word, *name;
  Dim dim;
} Dimension;

static const Dimension dimensions[] = {
#define DIMENSION(id, word, name, m, kg, s, k, rad, from)                                          \
  {word, name, {m, kg, s, k, rad, (uint8_t)ORIGIN_##from, false}},
#include "value/dimensions.def"
#undef DIMENSION
};

#define DIMENSION_COUNT (sizeof dimensions / sizeof dimensions[0])

bool dimension_alike(Dim a, Dim b) {
  return a.truth == b.truth && a.length == b.length && a.mass == b.mass && a.time == b.time &&
         a.temperature == b.temperature && a.angle == b.angle;
}

bool dim_same(Dim a, Dim b) {
  return a.origin == b.origin && dimension_alike(a, b);
}

Dim dimension_without_origin(Dim dim) {
  dim.origin = ORIGIN_NONE;
  return dim;
}

bool dimension_by_word(const char *word, size_t length, Dim *dim) {
  for (size_t i = 0; i < DIMENSION_COUNT; i++) {
    if (strlen(dimensions[i].word) == length && !strncmp(dimensions[i].word, word, length)) {
      *dim = dimensions[i].dim;
      return true;
    }
  }
  return false;
}

static const char *with_power(Arena *arena, const char *so_far, const char *base, int power) {
  if (power == 0) return so_far;
  const char *gap = *so_far ? " " : "";
  if (power == 1) return arena_printf(arena, "%s%s%s", so_far, gap, base);
  return arena_printf(arena, "%s%s%s^%d", so_far, gap, base, power);
}

const char *dim_name(Arena *arena, Dim dim) {
  if (dim.truth) return "a condition, true or false";
  for (size_t i = 0; i < DIMENSION_COUNT; i++) {
    if (dim_same(dimensions[i].dim, dim)) return dimensions[i].name;
  }
  const char *name = "";
  name = with_power(arena, name, "kg", dim.mass);
  name = with_power(arena, name, "m", dim.length);
  name = with_power(arena, name, "s", dim.time);
  name = with_power(arena, name, "K", dim.temperature);
  return with_power(arena, name, "rad", dim.angle);
}
