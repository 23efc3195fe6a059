#include "value/literal_read.h"

#include "base/decimal.h"

#include <math.h>
#include <string.h>

/* What is said about it, and what to write instead. */
#define DASH_READS_TWO_WAYS                                                                        \
  "a dash between two numbers can be read two ways", "write a band as: 0.055 to 0.070 mm"

static bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

static bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (unsigned char)c >= 0x80;
}

static bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\n';
}

static int characters(const Reader *reader, size_t from, size_t to) {
  return (int)utf8_count(arena_text(reader->run->arena, reader->text + from, to - from));
}

Place reader_place(const Reader *reader, size_t from, size_t to) {
  int width = to > from ? characters(reader, from, to) : 1;
  return place_inside(reader->place, characters(reader, 0, from), width);
}

void reader_skip_blanks(Reader *reader) {
  while (is_blank(reader->text[reader->at])) reader->at++;
}

bool reader_takes(Reader *reader, const char *mark) {
  if (!text_starts(reader->text + reader->at, mark)) return false;
  reader->at += strlen(mark);
  return true;
}

bool reader_takes_word(Reader *reader, const char *word) {
  size_t at = reader->at;
  for (; *word; word++) {
    if (*word != reader->text[at]) return false;
    at++;
    while (*word == ' ' && is_blank(reader->text[at])) at++;
  }
  if (is_letter(reader->text[at]) || is_digit(reader->text[at])) return false;
  reader->at = at;
  return true;
}

/* The end of what stands there without a blank. */
static size_t end_of_chunk(const Reader *reader, size_t at) {
  while (reader->text[at] && !is_blank(reader->text[at])) at++;
  return at;
}

static const char *slice(const Reader *reader, size_t from, size_t to) {
  return arena_text(reader->run->arena, reader->text + from, to - from);
}

static bool bad_number(Reader *reader, size_t from, size_t to, const char *what,
                       const char *way_out) {
  Finding *finding =
      finding_add(reader->run, RULE_BAD_NUMBER, reader_place(reader, from, to), "%s", what);
  if (way_out) finding_way_out(reader->run, finding, "%s", way_out);
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

static bool too_many_digits(Reader *reader, size_t from) {
  if (!decimal_is_long(reader->text + from)) return false;
  return !bad_number(reader, from, end_of_chunk(reader, from), "a number has at most 12 digits",
                     "leave out what no gauge can show");
}

static bool no_number(Reader *reader) {
  size_t from = reader->at, to = end_of_chunk(reader, from);
  const char *text = reader->text + from;
  size_t sign = *text == '+' || *text == '-' ? 1 : 0;
  Arena *arena = reader->run->arena;
  if (text[sign] == '.' && is_digit(text[sign + 1])) {
    return bad_number(
        reader, from, to, "a digit is missing before the point",
        arena_printf(arena, "write %.*s0%s", (int)sign, text, slice(reader, from + sign, to)));
  }
  if (text_starts(text, "−") || text_starts(text, "–")) {
    return bad_number(reader, from, to, "this dash is not a minus sign", "write the sign as -");
  }
  const char *way_out = limit_way_out(text);
  if (!way_out && to == from) way_out = NULL;
  const char *what = to == from ? "a number is missing here"
                                : arena_printf(arena, "a number should stand here, not '%s'",
                                               slice(reader, from, to));
  return bad_number(reader, from, to, what, way_out);
}

/* Digits with commas or blanks between them read two ways; neither is guessed. */
static bool comma_slip(Reader *reader, const Number *number) {
  size_t end = reader->at + 1;
  while (is_digit(reader->text[end])) end++;
  bool thousands = end - reader->at == 4 && number->places == 0;
  Arena *arena = reader->run->arena;
  const char *front = slice(reader, number->from, reader->at);
  const char *behind = slice(reader, reader->at + 1, end);
  size_t trimmed = end; /* 6.8, not 6.800, which looks like thousands once more */
  while (thousands && trimmed > reader->at + 2 && reader->text[trimmed - 1] == '0') trimmed--;
  const char *decimals = slice(reader, reader->at + 1, trimmed);
  const char *way_out = thousands
                            ? arena_printf(arena,
                                           "%s%s if the comma parts thousands, %s.%s if it is a "
                                           "decimal comma",
                                           front, behind, front, decimals)
                            : arena_printf(arena, "write the decimal point: %s.%s", front, behind);
  return bad_number(reader, number->from, end, "a comma in a number can be read two ways", way_out);
}

/* What may not follow a number without a blank. */
static bool ends_well(Reader *reader, const Number *number) {
  const char *next = reader->text + reader->at;
  size_t from = number->from, end = end_of_chunk(reader, from);
  Arena *arena = reader->run->arena;
  const char *so_far = slice(reader, from, reader->at);
  if (*next == ',' && is_digit(next[1])) return comma_slip(reader, number);
  if (*next == '.' && !is_digit(next[1])) {
    return bad_number(reader, from, reader->at + 1, "a digit is missing after the point",
                      arena_printf(arena, "write %s or %s.0", so_far, so_far));
  }
  if (*next == '.') {
    return bad_number(reader, from, end, "a number has one point", NULL);
  }
  bool exponent = (*next == 'e' || *next == 'E') &&
                  (is_digit(next[1]) || ((next[1] == '-' || next[1] == '+') && is_digit(next[2])));
  if (exponent) {
    return bad_number(reader, from, end, "numbers are not written with powers of ten",
                      "write all digits, or take a larger or smaller unit");
  }
  if ((*next == 'x' || *next == 'X') && is_digit(next[1])) {
    return bad_number(reader, from, end, "this is not one number", NULL);
  }
  if (*next == '_' || (*next == '\'' && is_digit(next[1]))) {
    return bad_number(reader, from, end, "digits are not set apart", "write the digits together");
  }
  if (*next == ':') {
    return bad_number(reader, from, end, "a ratio is written as one number",
                      arena_printf(arena, "write %s", so_far));
  }
  if (text_starts(next, "–") || (*next == '-' && is_digit(next[1]))) {
    bool plain = *next == '-' ? is_digit(next[1]) : true;
    if (plain && !strchr(next, '/')) {
      return bad_number(reader, from, end, "a dash between two numbers can be read two ways",
                        "write a band as: 0.055 to 0.070 mm");
    }
  }
  return true;
}

/* num/den at the reader, the slash known to be there. */
static bool read_fraction(Reader *reader, double whole, Number *number) {
  double top = 0, bottom = 0;
  int ignored = 0;
  size_t from = reader->at;
  size_t n = decimal_read(reader->text + reader->at, &top, &ignored);
  int top_places = ignored;
  size_t m = decimal_read(reader->text + reader->at + n + 1, &bottom, &ignored);
  size_t to = reader->at + n + 1 + m;
  bool power_of_two = false;
  for (double two = 2; two <= 128; two *= 2) power_of_two = power_of_two || bottom == two;
  bool small = fabs(top) < bottom || whole == 0;
  if (!power_of_two || !small || top_places > 0 || top < 0 || ignored > 0) {
    return bad_number(reader, from, to, "this is not a fraction of the inch",
                      "halves, quarters and so on down to 1/128 are read; else write a decimal");
  }
  reader->at = to;
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

static bool read_mixed(Reader *reader, Number *number) {
  const char *text = reader->text + reader->at;
  bool minus = *text == '-';
  bool sign = minus || *text == '+';
  if (sign) reader->at++;
  const char *digits = text + sign;
  double whole = 0;
  if (!digits_then(digits, '/')) {
    int ignored = 0;
    reader->at += decimal_read(digits, &whole, &ignored);
    reader_skip_blanks(reader);
  }
  if (!read_fraction(reader, whole, number)) return false;
  number->value = (minus ? -1 : 1) * (whole + number->value);
  return true;
}

/* Whole blank num/den, or num/den. */
static bool is_mixed(const char *text) {
  if (*text == '+' || *text == '-') text++;
  if (digits_then(text, '/')) return true;
  if (!is_digit(*text)) return false;
  while (is_digit(*text)) text++;
  if (!is_blank(*text)) return false;
  while (is_blank(*text)) text++;
  return digits_then(text, '/');
}

bool reader_number(Reader *reader, Number *number) {
  *number = (Number){.from = reader->at};
  const char *text = reader->text + reader->at;
  if (too_many_digits(reader, reader->at)) return false;
  /* +5/-0 is no fraction: its second half has a sign. */
  if (is_mixed(text)) {
    if (!read_mixed(reader, number)) return false;
    number->to = reader->at;
    return ends_well(reader, number);
  }
  size_t length = decimal_read(text, &number->value, &number->places);
  if (length == 0) return no_number(reader);
  reader->at += length;
  number->to = reader->at;
  number->signs = *text == '+' || *text == '-' || number->value == 0;
  if (!ends_well(reader, number)) return false;
  const char *next = reader->text + reader->at;
  size_t gap = 0;
  while (is_blank(next[gap])) gap++;
  size_t unused = 0;
  if (gap > 0 && is_digit(next[gap]) && !unit_read(next + gap, &unused)) {
    return bad_number(reader, number->from, end_of_chunk(reader, reader->at + gap),
                      "two numbers stand side by side",
                      "write the digits together, or a band as: 0.055 to 0.070 mm");
  }
  return true;
}

/* What may stand behind a unit. */
static bool is_bound(const char *text) {
  return *text == '\0' || is_blank(*text) || *text == '+' || *text == '(' || *text == ')' ||
         text_starts(text, "±") || (*text == '-' && is_digit(text[1]));
}

bool reader_unit(Reader *reader, const Unit **unit) {
  *unit = NULL;
  reader_skip_blanks(reader);
  size_t from = reader->at, length = 0;
  const char *text = reader->text + from;
  Reader ahead = *reader;
  bool dash = *text == '-' || text_starts(text, "–") || text_starts(text, "—");
  if (is_bound(text) || dash || reader_takes_word(&ahead, "to")) return true;
  const Unit *found = unit_read(text, &length);
  if (found && is_bound(text + length)) {
    *unit = found;
    reader->at += length;
    reader_skip_blanks(reader);
    return true;
  }
  size_t to = from;
  while (!is_bound(reader->text + to)) to++;
  Arena *arena = reader->run->arena;
  const char *token = slice(reader, from, to);
  if (!is_letter(*text) && !strchr("\"'%", *text)) {
    return bad_number(reader, from, to,
                      arena_printf(arena, "'%s' does not belong to the value", token), NULL);
  }
  Finding *finding = finding_add(reader->run, RULE_UNKNOWN_UNIT, reader_place(reader, from, to),
                                 "'%s' is not a unit", token);
  const char *near = unit_near(arena, token);
  const char *limit = limit_way_out(token);
  if (near)
    finding_way_out(reader->run, finding, "did you mean %s?", near);
  else if (limit)
    finding_way_out(reader->run, finding, "%s", limit);
  return false;
}

bool reader_need_end(Reader *reader) {
  reader_skip_blanks(reader);
  if (!reader->text[reader->at]) return true;
  size_t to = reader->at + strlen(reader->text + reader->at);
  while (to > reader->at && is_blank(reader->text[to - 1])) to--;
  const char *rest = slice(reader, reader->at, to);
  return bad_number(reader, reader->at, to,
                    arena_printf(reader->run->arena, "'%s' does not belong to the value", rest),
                    limit_way_out(rest));
}

bool reader_band_slip(Reader *reader, size_t from, const Number *first, const Number *next) {
  if (!first) {
    return bad_number(reader, from, end_of_chunk(reader, from), DASH_READS_TWO_WAYS);
  }
  if (next->value < 0 && first->value >= 0 && -next->value > first->value) {
    return bad_number(reader, from, next->to, DASH_READS_TWO_WAYS);
  }
  return bad_number(reader, from, reader->at, "a tolerance has two ends",
                    "write +-0.03 for both ends alike, or +0.05/-0.02");
}
