/* Numbers and literals as text. */
#include "value/literal.h"

#include "base/decimal.h"

#include <math.h>
#include <string.h>

#define MOST_UNASKED 4  /* places of a number whose places nobody gave */
#define MOST_LITERAL 12 /* places it takes to read back a converted tolerance */

static const char *as_needed(Arena *arena, double number) {
  const char *all = decimal_print(arena, number, MOST_UNASKED);
  size_t n = strlen(all);
  if (!strchr(all, '.')) return all;
  while (n > 0 && all[n - 1] == '0') n--;
  if (n > 0 && all[n - 1] == '.') n--;
  const char *shorter = arena_text(arena, all, n);
  return text_is(shorter, "-0") ? "0" : shorter;
}

static const char *print_number(Arena *arena, double number, int places) {
  if (!isfinite(number)) return "-";
  return places < 0 ? as_needed(arena, number) : decimal_print(arena, number, places);
}

static const char *with_unit(Arena *arena, const char *number, const Unit *unit) {
  return *unit->print ? arena_printf(arena, "%s %s", number, unit->print) : number;
}

const char *number_print(Arena *arena, double si, const Unit *unit, int places) {
  return print_number(arena, unit_from_si(unit, si), places);
}

const char *quantity_print(Arena *arena, double si, const Unit *unit, int places) {
  return with_unit(arena, number_print(arena, si, unit, places), unit);
}

/* Does the number, printed with so many places, read back to itself? */
static bool reads_back(Arena *arena, double number, double size, int places) {
  double back = 0;
  int ignored = 0;
  const char *text = decimal_print(arena, number, places);
  (void)decimal_read(text, &back, &ignored);
  return fabs(back - number) <= 1e-10 * size;
}

/* size: of what the numbers come to, in their unit. */
static int enough_places(Arena *arena, const double *numbers, size_t n, double size, int places) {
  size = fmax(size, 1e-6);
  for (size_t i = 0; i < n; i++) {
    while (places < MOST_LITERAL && !reads_back(arena, numbers[i], size, places)) places++;
  }
  return places;
}

/* A number takes the places of its fellows, but for those that no number may have: one
 * of more digits would not be read back. */
static const char *print_fellow(Arena *arena, double number, int places) {
  const char *text = decimal_print(arena, number, places);
  while (places > 0 && decimal_is_long(text)) text = decimal_print(arena, number, --places);
  return text;
}

/* A limit keeps 15 digits of its sum of number and tolerance: places beyond those are noise. */
static int places_left(double limit) {
  int places = 15;
  for (double size = fabs(limit); size >= 1 && places > 0; size /= 10) places--;
  return places;
}

static const char *print_tolerance(Arena *arena, const Literal *literal) {
  const Unit *unit = literal->unit;
  double nominal = unit_from_si(unit, literal->nominal);
  double a = unit_from_si(unit, literal->low), b = unit_from_si(unit, literal->high);
  double up = fmax(a, b) - nominal, down = nominal - fmin(a, b);
  const double numbers[] = {nominal, up, down};
  double limit = fmax(fabs(a), fabs(b));
  int places = enough_places(arena, numbers, 3, fmax(limit, fabs(nominal)), literal->places);
  const char *number = print_fellow(arena, nominal, places);
  int kept = places_left(limit);
  if (kept > places) kept = places;
  const char *more = print_fellow(arena, up, kept);
  const char *less = print_fellow(arena, down, kept);
  const char *all = text_is(more, less) ? arena_printf(arena, "%s +-%s", number, more)
                                        : arena_printf(arena, "%s +%s/-%s", number, more, less);
  return with_unit(arena, all, unit);
}

static const char *print_band(Arena *arena, const Literal *literal) {
  const Unit *unit = literal->unit;
  double a = unit_from_si(unit, literal->low), b = unit_from_si(unit, literal->high);
  const double numbers[] = {fmin(a, b), fmax(a, b)};
  int places = enough_places(arena, numbers, 2, fmax(fabs(a), fabs(b)), literal->places);
  return with_unit(arena,
                   arena_printf(arena, "%s to %s", print_fellow(arena, numbers[0], places),
                                print_fellow(arena, numbers[1], places)),
                   unit);
}

const char *literal_print(Arena *arena, const Literal *literal) {
  if (literal->shape == LITERAL_NONE) return literal->text ? literal->text : "";
  if (literal->fraction && !literal->guessed) return literal->fraction;
  if (literal->shape == LITERAL_TOLERANCE) return print_tolerance(arena, literal);
  if (literal->shape == LITERAL_BAND) return print_band(arena, literal);
  double nominal = unit_from_si(literal->unit, literal->nominal);
  int places = enough_places(arena, &nominal, 1, fabs(nominal), literal->places);
  const char *number = with_unit(arena, print_fellow(arena, nominal, places), literal->unit);
  if (literal->shape == LITERAL_AT_LEAST) return arena_printf(arena, "at least %s", number);
  if (literal->shape == LITERAL_AT_MOST) return arena_printf(arena, "at most %s", number);
  return number;
}

/* Places that make the last digit in the other unit no coarser than in this one. */
static int other_places(const char *printed, const Unit *unit, const Unit *other) {
  const char *point = strchr(printed, '.');
  double step = fabs(unit->factor / other->factor);
  for (size_t i = point ? strlen(point + 1) : 0; i > 0; i--) step /= 10;
  int places = 0;
  for (double digit = 1; digit > step * (1 + 1e-9) && places < unit_most_places(other);
       digit /= 10) {
    places++;
  }
  return places;
}

const char *both_units_print(Arena *arena, double si, const Unit *unit, int places) {
  const char *own = number_print(arena, si, unit, places);
  const Unit *other = isfinite(si) ? unit_other(unit, si) : NULL;
  if (!other) return with_unit(arena, own, unit);
  const char *second = quantity_print(arena, si, other, other_places(own, unit, other));
  return arena_printf(arena, "%s (%s)", with_unit(arena, own, unit), second);
}
