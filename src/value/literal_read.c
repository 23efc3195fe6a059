#include "value/literal_read.h"

#include "base/near.h"

#include "base/decimal.h"

#include <math.h>
#include <string.h>

/* What is said about it, and what to write instead. */
#define DASH_READS_TWO_WAYS                                                                        \
  "a dash between two numbers can be read two ways", "write a band as: 0.055 to 0.070 mm"

/* A letter, of whatever script. */
static bool is_letter_byte(char c) {
  return is_letter(c) || (unsigned char)c >= 0x80;
}

static int characters(const Cursor *cursor, size_t from, size_t to) {
  return (int)utf8_count(arena_text(cursor->run->arena, cursor->text + from, to - from));
}

Place cursor_place(const Cursor *cursor, size_t from, size_t to) {
  int width = to > from ? characters(cursor, from, to) : 1;
  return place_inside(cursor->place, characters(cursor, 0, from), width);
}

void cursor_skip_blanks(Cursor *cursor) {
  while (is_space(cursor->text[cursor->at])) cursor->at++;
}

bool cursor_takes(Cursor *cursor, const char *mark) {
  if (!text_starts(cursor->text + cursor->at, mark)) return false;
  cursor->at += strlen(mark);
  return true;
}

bool cursor_takes_word(Cursor *cursor, const char *word) {
  size_t at = cursor->at;
  for (; *word; word++) {
    if (*word != cursor->text[at]) return false;
    at++;
    while (*word == ' ' && is_space(cursor->text[at])) at++;
  }
  if (is_letter_byte(cursor->text[at]) || is_digit(cursor->text[at])) return false;
  cursor->at = at;
  return true;
}

/* The end of what stands there without a blank. */
static size_t end_of_chunk(const Cursor *cursor, size_t at) {
  while (cursor->text[at] && !is_space(cursor->text[at])) at++;
  return at;
}

static const char *slice(const Cursor *cursor, size_t from, size_t to) {
  return arena_text(cursor->run->arena, cursor->text + from, to - from);
}

static bool bad_number(Cursor *cursor, size_t from, size_t to, const char *what,
                       const char *way_out) {
  Finding *finding =
      finding_add(cursor->run, RULE_BAD_NUMBER, cursor_place(cursor, from, to), "%s", what);
  if (way_out) finding_way_out(cursor->run, finding, "%s", way_out);
  return false;
}

/* Words and signs that people put in front of a limit. */
static const struct {
  const char *typed;
  bool least;
} limit_slips[] = {
    {"minimum", true},
    {"min.", true},
    {"min", true},
    {">=", true},
    {">", true},
    {"≥", true},
    {"over", true},
    {"least", true},
    {"maximum", false},
    {"max.", false},
    {"max", false},
    {"<=", false},
    {"<", false},
    {"≤", false},
    {"up to", false},
    {"under", false},
    {"most", false},
    {"no more than", false},
    {"not more than", false},
};

static const char *limit_way_out(const char *text) {
  for (size_t i = 0; i < sizeof limit_slips / sizeof limit_slips[0]; i++) {
    if (text_starts(text, limit_slips[i].typed)) {
      return limit_slips[i].least ? "a lower limit is written: at least 1.8 mm"
                                  : "an upper limit is written: at most 0.10 mm";
    }
  }
  return NULL;
}

static bool too_many_digits(Cursor *cursor, size_t from) {
  if (!decimal_is_long(cursor->text + from)) return false;
  return !bad_number(cursor, from, end_of_chunk(cursor, from), DECIMAL_TOO_LONG,
                     "leave out what no gauge can show");
}

static bool no_number(Cursor *cursor) {
  size_t from = cursor->at, to = end_of_chunk(cursor, from);
  const char *text = cursor->text + from;
  Arena *arena = cursor->run->arena;
  if (text_starts(text, "−") || text_starts(text, "–")) {
    return bad_number(cursor, from, to, "this dash is not a minus sign", "write the sign as -");
  }
  if (text_starts(text, "“") || text_starts(text, "”") || text_starts(text, "„"))
    return bad_number(cursor, from, to, "this is a printer's quote",
                      "leave it out: a number stands without quotes");
  const char *what = to == from ? "a number is missing here"
                                : arena_printf(arena, "a number should stand here, not '%s'",
                                               slice(cursor, from, to));
  return bad_number(cursor, from, to, what, limit_way_out(text));
}

/* ".015": told, and read on as what was meant, so that all of them are told at once. */
static bool read_bare_point(Cursor *cursor, Number *number) {
  size_t from = cursor->at;
  const char *text = cursor->text + from;
  int sign = *text == '+' || *text == '-' ? 1 : 0;
  Arena *arena = cursor->run->arena;
  const char *behind = slice(cursor, from + (size_t)sign, end_of_chunk(cursor, from));
  const char *meant = arena_printf(arena, "%.*s0%s", sign, text, behind);
  (void)bad_number(cursor, from, end_of_chunk(cursor, from), "a digit is missing before the point",
                   arena_printf(arena, "write %s", meant));
  size_t length = decimal_read(meant, &number->value, &number->places);
  if (length == 0) return false;
  cursor->at += length - 1;
  cursor->guessed = true;
  return true;
}

static bool begins_with_point(const char *text) {
  if (*text == '+' || *text == '-') text++;
  return *text == '.' && is_digit(text[1]);
}

/* Digits with commas or blanks between them read two ways; neither is guessed. */
static bool comma_slip(Cursor *cursor, const Number *number) {
  size_t end = cursor->at + 1;
  while (is_digit(cursor->text[end])) end++;
  bool thousands = end - cursor->at == 4 && number->places == 0;
  Arena *arena = cursor->run->arena;
  const char *front = slice(cursor, number->from, cursor->at);
  const char *behind = slice(cursor, cursor->at + 1, end);
  size_t trimmed = end; /* 6.8, not 6.800, which looks like thousands once more */
  while (thousands && trimmed > cursor->at + 2 && cursor->text[trimmed - 1] == '0') trimmed--;
  const char *decimals = slice(cursor, cursor->at + 1, trimmed);
  const char *way_out = thousands
                            ? arena_printf(arena,
                                           "%s%s if the comma parts thousands, %s.%s if it is a "
                                           "decimal comma",
                                           front, behind, front, decimals)
                            : arena_printf(arena, "write the decimal point: %s.%s", front, behind);
  return bad_number(cursor, number->from, end, "a comma in a number can be read two ways", way_out);
}

/* What may not follow a number without a blank. */
static bool ends_well(Cursor *cursor, const Number *number) {
  const char *next = cursor->text + cursor->at;
  size_t from = number->from, end = end_of_chunk(cursor, from);
  Arena *arena = cursor->run->arena;
  const char *so_far = slice(cursor, from, cursor->at);
  if (*next == ',' && is_digit(next[1])) return comma_slip(cursor, number);
  if (*next == '.' && !is_digit(next[1])) {
    return bad_number(cursor, from, cursor->at + 1, "a digit is missing after the point",
                      arena_printf(arena, "write %s or %s.0", so_far, so_far));
  }
  if (*next == '.') {
    return bad_number(cursor, from, end, "a number has one point", NULL);
  }
  if (decimal_has_exponent(next)) {
    return bad_number(cursor, from, end, "numbers are not written with powers of ten",
                      "write all digits, or take a larger or smaller unit");
  }
  if ((*next == 'x' || *next == 'X') && is_digit(next[1])) {
    return bad_number(cursor, from, end, "this is not one number", NULL);
  }
  if (*next == '_' || (*next == '\'' && is_digit(next[1]))) {
    return bad_number(cursor, from, end, "digits are not set apart", "write the digits together");
  }
  if (*next == ':') {
    return bad_number(cursor, from, end, "a ratio is written as one number",
                      arena_printf(arena, "write %s", so_far));
  }
  bool dash = text_starts(next, "–") || (*next == '-' && is_digit(next[1]));
  if (dash && !strchr(next, '/')) return bad_number(cursor, from, end, DASH_READS_TWO_WAYS);
  return true;
}

/* num/den at the cursor, the slash known to be there. */
static bool read_fraction(Cursor *cursor, double whole, Number *number) {
  double top = 0, bottom = 0;
  int ignored = 0;
  size_t from = cursor->at;
  size_t n = decimal_read(cursor->text + cursor->at, &top, &ignored);
  int top_places = ignored;
  size_t m = decimal_read(cursor->text + cursor->at + n + 1, &bottom, &ignored);
  size_t to = cursor->at + n + 1 + m;
  bool power_of_two = false;
  for (double two = 2; two <= 128; two *= 2) power_of_two = power_of_two || bottom == two;
  bool small = fabs(top) < bottom || whole == 0;
  if (!power_of_two || !small || top_places > 0 || top < 0 || ignored > 0) {
    return bad_number(cursor, from, to, "this is not a fraction of the inch",
                      "halves, quarters and so on down to 1/128 are read; else write a decimal");
  }
  cursor->at = to;
  number->value = top / bottom;
  number->fraction = true;
  number->places = 0;
  for (double two = bottom; two > 1; two /= 2) number->places++;
  return true;
}

static bool digits_then(const char *text, char mark) {
  if (!is_digit(*text)) return false;
  while (is_digit(*text)) text++;
  return *text == mark && is_digit(text[1]);
}

static bool read_mixed(Cursor *cursor, Number *number) {
  const char *text = cursor->text + cursor->at;
  bool minus = *text == '-';
  bool sign = minus || *text == '+';
  if (sign) cursor->at++;
  const char *digits = text + sign;
  double whole = 0;
  if (!digits_then(digits, '/')) {
    int ignored = 0;
    cursor->at += decimal_read(digits, &whole, &ignored);
    cursor_skip_blanks(cursor);
  }
  if (!read_fraction(cursor, whole, number)) return false;
  number->value = (minus ? -1 : 1) * (whole + number->value);
  return true;
}

/* Whole blank num/den, or num/den. */
static bool is_mixed(const char *text) {
  if (*text == '+' || *text == '-') text++;
  if (digits_then(text, '/')) return true;
  if (!is_digit(*text)) return false;
  while (is_digit(*text)) text++;
  if (!is_space(*text)) return false;
  while (is_space(*text)) text++;
  return digits_then(text, '/');
}

bool cursor_number(Cursor *cursor, Number *number) {
  *number = (Number){.from = cursor->at};
  const char *text = cursor->text + cursor->at;
  if (too_many_digits(cursor, cursor->at)) return false;
  /* +5/-0 is no fraction: its second half has a sign. */
  if (is_mixed(text)) {
    if (!read_mixed(cursor, number)) return false;
    number->to = cursor->at;
    return ends_well(cursor, number);
  }
  if (begins_with_point(text)) {
    if (!read_bare_point(cursor, number)) return false;
  } else {
    size_t length = decimal_read(text, &number->value, &number->places);
    if (length == 0) return no_number(cursor);
    cursor->at += length;
  }
  number->to = cursor->at;
  number->signs = *text == '+' || *text == '-' || number->value == 0;
  if (!ends_well(cursor, number)) return false;
  const char *next = cursor->text + cursor->at;
  size_t gap = 0;
  while (is_space(next[gap])) gap++;
  size_t unused = 0;
  if (gap > 0 && is_digit(next[gap]) && !unit_read(next + gap, &unused)) {
    return bad_number(cursor, number->from, end_of_chunk(cursor, cursor->at + gap),
                      "two numbers stand side by side",
                      "write the digits together, or a band as: 0.055 to 0.070 mm");
  }
  return true;
}

/* What may stand behind a unit. */
static bool is_bound(const char *text) {
  return *text == '\0' || is_space(*text) || *text == '+' || *text == '(' || *text == ')' ||
         text_starts(text, "±") || (*text == '-' && is_digit(text[1]));
}

bool cursor_unit(Cursor *cursor, const Unit **unit) {
  *unit = NULL;
  cursor_skip_blanks(cursor);
  size_t from = cursor->at, length = 0;
  const char *text = cursor->text + from;
  Cursor ahead = *cursor;
  bool dash = *text == '-' || text_starts(text, "–") || text_starts(text, "—");
  if (is_bound(text) || dash || cursor_takes_word(&ahead, "to")) return true;
  const Unit *found = unit_read(text, &length);
  if (found && is_bound(text + length)) {
    *unit = found;
    cursor->at += length;
    cursor_skip_blanks(cursor);
    return true;
  }
  size_t to = from;
  while (!is_bound(cursor->text + to)) to++;
  Arena *arena = cursor->run->arena;
  const char *token = slice(cursor, from, to);
  if (!is_letter_byte(*text) && !strchr("\"'%", *text)) {
    return bad_number(
        cursor, from, to, arena_printf(arena, "'%s' does not belong to the value", token),
        text_starts(token, "..") || text_starts(token, "…") ? "write a band as: 0.055 to 0.070 mm"
                                                            : NULL);
  }
  Finding *finding = finding_add(cursor->run, RULE_UNKNOWN_UNIT, cursor_place(cursor, from, to),
                                 "'%s' is not a unit", token);
  const char *near = unit_near(arena, token);
  const char *limit = limit_way_out(token);
  if (near)
    finding_way_out(cursor->run, finding, "did you mean %s?", near);
  else if (limit)
    finding_way_out(cursor->run, finding, "%s", limit);
  /* read on as what was meant: one slip, one finding; "deg ATDC" is one unit of two words */
  const char *meant = near ? arena_printf(arena, "%s%s", near, cursor->text + to) : "";
  *unit = near && near_slip(token, near) ? unit_read(meant, &length) : NULL;
  if (!*unit || length < strlen(near)) return false;
  cursor->at = to + length - strlen(near);
  cursor->guessed = true;
  cursor_skip_blanks(cursor);
  return true;
}

bool cursor_need_end(Cursor *cursor) {
  cursor_skip_blanks(cursor);
  if (!cursor->text[cursor->at]) return true;
  size_t to = cursor->at + strlen(cursor->text + cursor->at);
  while (to > cursor->at && is_space(cursor->text[to - 1])) to--;
  const char *rest = slice(cursor, cursor->at, to);
  return bad_number(cursor, cursor->at, to,
                    arena_printf(cursor->run->arena, "'%s' does not belong to the value", rest),
                    limit_way_out(rest));
}

bool cursor_band_slip(Cursor *cursor, size_t from, const Number *first, const Number *next) {
  if (!first) {
    return bad_number(cursor, from, end_of_chunk(cursor, from), DASH_READS_TWO_WAYS);
  }
  if (next->value < 0 && first->value >= 0 && -next->value > first->value) {
    return bad_number(cursor, from, next->to, DASH_READS_TWO_WAYS);
  }
  return bad_number(cursor, from, cursor->at, "a tolerance has two ends",
                    "write +-0.03 for both ends alike, or +0.05/-0.02");
}
