#include "value/formula_lex.h"

#include "base/near.h"

#include "base/decimal.h"

#include <string.h>

static bool begins_word(char c) {
  return is_letter(c) || c == '_';
}

static bool is_id_character(char c) {
  return is_word_character(c) || c == '-';
}

static const char *slice(const Lexer *lexer, size_t from, size_t to) {
  return arena_text(lexer->run->arena, lexer->text + from, to - from);
}

static int characters(const Lexer *lexer, size_t from, size_t to) {
  int count = 0;
  for (size_t length = 0; from < to; from += length, count++)
    (void)utf8_next(lexer->text + from, &length);
  return count;
}

static Place place_of(const Lexer *lexer, size_t from, size_t to) {
  int column = characters(lexer, 0, from), width = characters(lexer, from, to);
  return place_inside(lexer->place, column, width > 0 ? width : 1);
}

Place lexer_place(const Lexer *lexer, const Token *token) {
  return place_of(lexer, token->from, token->to);
}

static void stop(Lexer *lexer) {
  lexer->failed = true;
  lexer->at += strlen(lexer->text + lexer->at);
  lexer->token = (Token){.kind = TOKEN_END, .from = lexer->at, .to = lexer->at, .text = ""};
}

static bool fail_at(Lexer *lexer, size_t from, size_t to, const char *what, const char *way_out) {
  if (!lexer->failed) {
    Finding *finding =
        finding_add(lexer->run, RULE_BAD_FORMULA, place_of(lexer, from, to), "%s", what);
    if (way_out) finding_way_out(lexer->run, finding, "%s", way_out);
  }
  stop(lexer);
  return false;
}

bool lexer_fail(Lexer *lexer, const char *what, const char *way_out) {
  return fail_at(lexer, lexer->token.from, lexer->token.to, what, way_out);
}

/* Signs that other ways of writing use, and ours. */
static const struct {
  const char *typed, *ours;
} sign_slips[] = {
    {"≥", ">="},   {"≤", "<="},  {"≠", "!="},       {"<>", "!="}, {"×", "*"},  {"·", "*"},
    {"÷", "/"},    {"−", "-"},   {"–", "-"},        {"²", "^2"},  {"³", "^3"}, {"**", "^"},
    {"&&", "and"}, {"||", "or"}, {"!", "not"},      {"=", "=="},  {":", "/"},  {";", ","},
    {"{", "("},    {"}", ")"},   {"%", "a number"},
};

static const char *const marks[] = {"<=", ">=", "==", "!=", "<", ">", "+", "-", "*",
                                    "/",  "^",  "(",  ")",  "[", "]", ",", "."};

static void lex_unknown(Lexer *lexer) {
  const char *text = lexer->text + lexer->at;
  size_t length = 0;
  (void)utf8_next(text, &length);
  const char *way_out = NULL;
  for (size_t i = 0; i < sizeof sign_slips / sizeof sign_slips[0] && !way_out; i++) {
    if (!text_starts(text, sign_slips[i].typed)) continue;
    length = strlen(sign_slips[i].typed);
    way_out = arena_printf(lexer->run->arena, "write %s", sign_slips[i].ours);
  }
  const char *what = arena_printf(lexer->run->arena, "'%s' has no meaning in a formula",
                                  slice(lexer, lexer->at, lexer->at + length));
  (void)fail_at(lexer, lexer->at, lexer->at + length, what, way_out);
}

static void lex_mark(Lexer *lexer) {
  const char *text = lexer->text + lexer->at;
  for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++) {
    bool slip = text_starts(text, "<>") || text_starts(text, "**");
    if (slip || !text_starts(text, marks[i])) continue;
    size_t from = lexer->at;
    lexer->at += strlen(marks[i]);
    lexer->token = (Token){.kind = TOKEN_MARK, .from = from, .to = lexer->at, .text = marks[i]};
    return;
  }
  lex_unknown(lexer);
}

static const char *const keywords[] = {"and", "or", "not", "is"};

/* Words that go on with the formula behind a number, and are no unit. */
static bool is_formula_word(const char *text) {
  for (size_t i = 0; i < COUNT_OF(keywords); i++) {
    size_t n = strlen(keywords[i]);
    if (text_starts(text, keywords[i]) && !is_word_character(text[n])) return true;
  }
  return false;
}

static bool number_is_whole(Lexer *lexer, size_t from) {
  const char *next = lexer->text + lexer->at;
  size_t end = lexer->at + 1;
  if (*next == '.') {
    return fail_at(lexer, from, end, "a digit is missing after the point", NULL);
  }
  if (decimal_has_exponent(next)) {
    while (is_id_character(lexer->text[end]) || lexer->text[end] == '+') end++;
    return fail_at(lexer, from, end, "numbers are not written with powers of ten",
                   "write all digits, or take a larger or smaller unit");
  }
  return true;
}

/* The unit behind a number, if there is one. */
static bool lex_unit(Lexer *lexer, const Unit **unit) {
  size_t at = lexer->at;
  while (is_space(lexer->text[at])) at++;
  const char *text = lexer->text + at;
  *unit = unit_of_number();
  size_t length = 0;
  const Unit *found = is_formula_word(text) ? NULL : unit_read(text, &length);
  if (found) {
    *unit = found;
    lexer->at = at + length;
    return true;
  }
  bool begins = begins_word(*text) || (unsigned char)*text == 0xC2 || (unsigned char)*text == 0xCE;
  for (size_t i = 0; i < sizeof sign_slips / sizeof sign_slips[0]; i++) {
    begins = begins && !text_starts(text, sign_slips[i].typed);
  }
  if (!begins || is_formula_word(text)) return true;
  size_t end = at;
  while (is_word_character(lexer->text[end]) || (unsigned char)lexer->text[end] >= 0x80) {
    end++;
  }
  Finding *finding = finding_add(lexer->run, RULE_UNKNOWN_UNIT, place_of(lexer, at, end),
                                 "'%s' is not a unit", slice(lexer, at, end));
  const char *near = unit_near(lexer->run->arena, slice(lexer, at, end));
  if (near) finding_way_out(lexer->run, finding, "did you mean %s?", near);
  found = near && near_slip(slice(lexer, at, end), near) ? unit_find(near) : NULL;
  if (found) { /* read on as what was meant: one slip, one finding */
    *unit = found;
    lexer->at = end;
    return true;
  }
  stop(lexer);
  return false;
}

static void lex_number(Lexer *lexer) {
  size_t from = lexer->at;
  double number = 0;
  int places = 0;
  if (decimal_is_long(lexer->text + from)) {
    while (is_digit(lexer->text[lexer->at]) || lexer->text[lexer->at] == '.') lexer->at++;
    (void)fail_at(lexer, from, lexer->at, DECIMAL_TOO_LONG,
                  "leave out what does not matter; the circle's number is pi()");
    return;
  }
  lexer->at += decimal_read(lexer->text + from, &number, &places);
  const Unit *unit = NULL;
  if (!number_is_whole(lexer, from) || !lex_unit(lexer, &unit)) return;
  double si = unit_to_si(unit, number);
  lexer->token = (Token){.kind = TOKEN_NUMBER, .from = from, .to = lexer->at};
  lexer->token.text = slice(lexer, from, lexer->at);
  lexer->token.literal = (Literal){.shape = LITERAL_EXACT,
                                   .nominal = si,
                                   .low = si,
                                   .high = si,
                                   .unit = unit,
                                   .places = places,
                                   .text = lexer->token.text};
}

void lexer_next(Lexer *lexer) {
  if (lexer->failed) return;
  while (is_space(lexer->text[lexer->at])) lexer->at++;
  const char *text = lexer->text + lexer->at;
  size_t from = lexer->at;
  if (++lexer->tokens > FORMULA_MOST_TOKENS) {
    (void)fail_at(lexer, from, from, "the formula is too long",
                  "split it: give its parts names of their own");
  } else if (*text == '\0') {
    lexer->token = (Token){.kind = TOKEN_END, .from = from, .to = from, .text = ""};
  } else if (is_digit(*text)) {
    lex_number(lexer);
  } else if (*text == '.' && is_digit(text[1])) {
    (void)fail_at(lexer, from, from + 1, "a digit is missing before the point", "write 0.5");
  } else if (begins_word(*text)) {
    while (is_word_character(lexer->text[lexer->at])) lexer->at++;
    lexer->token = (Token){.kind = TOKEN_WORD, .from = from, .to = lexer->at};
    lexer->token.text = slice(lexer, from, lexer->at);
  } else {
    lex_mark(lexer);
  }
}

void lexer_start(Lexer *lexer, Run *run, Place place, const char *text) {
  *lexer = (Lexer){.run = run, .place = place, .text = text};
  while (is_space(text[lexer->at])) lexer->at++;
  if (text[lexer->at] == '=' && text[lexer->at + 1] != '=') lexer->at++;
  lexer_next(lexer);
}

bool lexer_is(const Lexer *lexer, const char *text) {
  bool named = lexer->token.kind == TOKEN_MARK || lexer->token.kind == TOKEN_WORD;
  return named && text_is(lexer->token.text, text);
}

bool lexer_takes(Lexer *lexer, const char *text) {
  if (!lexer_is(lexer, text)) return false;
  lexer_next(lexer);
  return true;
}

void lexer_next_id(Lexer *lexer) {
  if (lexer->failed) return;
  while (is_space(lexer->text[lexer->at])) lexer->at++;
  size_t from = lexer->at, to = from;
  while (is_id_character(lexer->text[to])) to++;
  if (to == from || lexer->text[from] == '-' || lexer->tokens >= FORMULA_MOST_TOKENS) {
    lexer_next(lexer);
    return;
  }
  lexer->tokens++;
  lexer->at = to;
  lexer->token = (Token){.kind = TOKEN_WORD, .from = from, .to = to};
  lexer->token.text = slice(lexer, from, to);
}

bool lexer_is_keyword(const Lexer *lexer) {
  for (size_t i = 0; i < COUNT_OF(keywords); i++)
    if (lexer_is(lexer, keywords[i])) return true;
  return false;
}

bool lexer_list_goes_on(const Lexer *lexer) {
  size_t at = lexer->token.to;
  while (is_space(lexer->text[at])) at++;
  size_t from = at;
  while (is_id_character(lexer->text[at])) at++;
  if (at == from || is_formula_word(lexer->text + from)) return false;
  while (is_space(lexer->text[at])) at++;
  const char *behind = lexer->text + at;
  bool joined =
      is_formula_word(behind) && (text_starts(behind, "and") || text_starts(behind, "or"));
  return *behind == '\0' || *behind == ')' || *behind == ',' || joined;
}
