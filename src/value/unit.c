#include "value/unit.h"

#include "base/near.h"
#include "base/text.h"
#include "trade/circle.h"

#include <math.h>
#include <string.h>

#define TURN (2.0 * TRADE_PI)

/* Exponents of each dimension as constants, so that the table below is static. */
enum {
#define DIMENSION(id, word, name, m, kg, s, k, rad, from)                                          \
  id##_M = (m), id##_KG = (kg), id##_S = (s), id##_K = (k), id##_RAD = (rad),                      \
  id##_FROM = ORIGIN_##from,
#include "value/dimensions.def"
#undef DIMENSION
};

typedef enum UnitId {
#define UNIT(id, print, dim, factor, offset, other, small, below, places) UNIT_##id,
#define SPELLING(id, spelling)
#define SLIP(spelling, hint)
#include "value/units.def"
#undef UNIT
#undef SPELLING
#undef SLIP
} UnitId;

static const Unit units[] = {
#define UNIT(id, print, dim, factor, offset, other, small, below, places)                          \
  {print,                                                                                          \
   {dim##_M, dim##_KG, dim##_S, dim##_K, dim##_RAD, (uint8_t)dim##_FROM, false},                   \
   factor,                                                                                         \
   offset},
#define SPELLING(id, spelling)
#define SLIP(spelling, hint)
#include "value/units.def"
#undef UNIT
#undef SPELLING
#undef SLIP
};

typedef struct Other {
  UnitId usual, small;
  double below;
  int places;
} Other;

static const Other others[] = {
#define UNIT(id, print, dim, factor, offset, other, small, below, places)                          \
  {UNIT_##other, UNIT_##small, below, places},
#define SPELLING(id, spelling)
#define SLIP(spelling, hint)
#include "value/units.def"
#undef UNIT
#undef SPELLING
#undef SLIP
};

typedef struct Spelling {
  const char *text;
  UnitId unit;
} Spelling;

static const Spelling spellings[] = {
#define UNIT(id, print, dim, factor, offset, other, small, below, places) {print, UNIT_##id},
#define SPELLING(id, spelling)                                            {spelling, UNIT_##id},
#define SLIP(spelling, hint)
#include "value/units.def"
#undef UNIT
#undef SPELLING
#undef SLIP
};

static const struct {
  const char *spelling, *hint;
} slips[] = {
#define UNIT(id, print, dim, factor, offset, other, small, below, places)
#define SPELLING(id, spelling)
#define SLIP(spelling, hint) {spelling, hint},
#include "value/units.def"
#undef UNIT
#undef SPELLING
#undef SLIP
};

/* A unit ends before anything that cannot be part of a longer word. The sign
 * for plus-or-minus is the one character outside ASCII that may follow. */
static bool ends_here(const char *text) {
  if (is_word_character(*text)) return false;
  if ((unsigned char)*text >= 0x80) return text_starts(text, "±");
  return true;
}

/* Bytes of text that the spelling takes, 0 when it does not stand there. */
static size_t spelled(const char *text, const char *spelling) {
  size_t n = 0;
  for (; *spelling; spelling++) {
    if (text[n] != *spelling) return 0;
    n++;
    while (*spelling == ' ' && text[n] == ' ') n++;
  }
  return n;
}

const Unit *unit_read(const char *text, size_t *length) {
  const Unit *best = NULL;
  size_t best_length = 0;
  for (size_t i = 0; i < COUNT_OF(spellings); i++) {
    if (*spellings[i].text != *text) continue; /* most, at once */
    size_t n = spelled(text, spellings[i].text);
    if (n > best_length && ends_here(text + n)) {
      best = &units[spellings[i].unit];
      best_length = n;
    }
  }
  if (length) *length = best_length;
  return best;
}

const Unit *unit_find(const char *spelling) {
  size_t length = 0;
  const Unit *unit = unit_read(spelling, &length);
  return unit && spelling[length] == '\0' ? unit : NULL;
}

const Unit *unit_of_number(void) {
  return &units[UNIT_NUMBER];
}

void unit_spellings(Arena *arena, Words *out) {
  for (size_t i = 0; i < COUNT_OF(spellings); i++) {
    if (*spellings[i].text) vec_push(arena, out, spellings[i].text);
  }
}

static char lower(char c) {
  return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* Nor for a sign between the letters that was left out: Nmm2 is N/mm2. */
static bool same_but_for_case(const char *unit, const char *spelling) {
  for (; *unit; unit++) {
    if (lower(*unit) == lower(*spelling))
      spelling++;
    else if (*unit != '/' && *unit != '.')
      return false;
  }
  return *spelling == '\0';
}

const char *unit_near(Arena *arena, const char *spelling) {
  for (size_t i = 0; i < COUNT_OF(slips); i++) {
    if (text_is(slips[i].spelling, spelling)) return slips[i].hint;
  }
  for (size_t i = 0; i < COUNT_OF(spellings); i++) {
    if (*spelling && same_but_for_case(spellings[i].text, spelling)) {
      return units[spellings[i].unit].print;
    }
  }
  if (utf8_count(spelling) < 2) return NULL; /* every short unit would be near */
  Words candidates = {0};
  unit_spellings(arena, &candidates);
  const char *near = near_word(spelling, &candidates);
  return near ? unit_find(near)->print : NULL;
}

double unit_to_si(const Unit *unit, double number) {
  return number * unit->factor + unit->offset;
}

double unit_from_si(const Unit *unit, double si) {
  return (si - unit->offset) / unit->factor;
}

const Unit *unit_other(const Unit *unit, double si) {
  const Other *other = &others[unit - units];
  UnitId id = fabs(si) < other->below ? other->small : other->usual;
  return id == UNIT_NUMBER ? NULL : &units[id];
}

int unit_most_places(const Unit *unit) {
  return others[unit - units].places;
}
