#include "read/problem.h"

#include "base/text.h"
#include "read/traps.h"

#include <string.h>

/* What the parser says, where it began and where it gave up. */
typedef struct Problem {
  size_t began, gave_up; /* offsets */
  size_t line;           /* offset of the first character of the line it gave up in */
} Problem;

static size_t line_start(const Reader *reader, size_t offset) {
  while (offset > reader->base && reader->source->text[offset - 1] != '\n') offset--;
  return offset;
}

static size_t skip_blanks(const Reader *reader, size_t at) {
  while (is_blank(reader->source->text[at])) at++;
  return at;
}

/* Where the value of a line begins: behind "- " and the first "key: ". */
static size_t value_start(const Reader *reader, size_t line) {
  const char *text = reader->source->text;
  size_t at = skip_blanks(reader, line), end = reader_line_end(reader, line);
  while (text[at] == '-' && is_blank(text[at + 1])) at = skip_blanks(reader, at + 1);
  for (size_t colon = at; colon < end; colon++) {
    if (strchr("\"'{[#", text[colon])) break;
    if (text[colon] == ':' && is_blank(text[colon + 1])) return skip_blanks(reader, colon + 1);
  }
  return at;
}

/* The line before this one that is neither empty nor a comment; false: none. */
static bool line_before(const Reader *reader, size_t line, size_t *before) {
  while (line > reader->base) {
    line = line_start(reader, line - 1);
    size_t first = skip_blanks(reader, line);
    if (strchr("\r\n#", reader->source->text[first])) continue;
    *before = line;
    return true;
  }
  return false;
}

static bool say_tight_colon(Reader *reader, size_t line) {
  size_t at = value_start(reader, line), end = reader_line_end(reader, line);
  size_t colon = traps_tight_colon(reader->source->text + at, end - at);
  if (colon == 0) return false;
  traps_report_tight_colon(reader, (Span){at, end}, colon);
  return true;
}

static void say(Reader *reader, Rule rule, size_t offset, const char *what, const char *way_out) {
  Finding *finding = reader_report(reader, rule, offset, 1, "%s", what);
  if (finding && way_out) finding_way_out(reader->run, finding, "%s", way_out);
}

/* ---- one function a slip ---- */

static void on_symbol_at(Reader *reader, size_t offset) {
  char sign = reader->source->text[offset];
  if (sign == '\t') {
    say(reader, RULE_NOT_YAML, offset, "a tab stands where a value or a key should begin",
        "use blanks");
    return;
  }
  if (sign == '\0' || sign == '\n' || sign == '\r') {
    say(reader, RULE_NOT_YAML, offset, "the line breaks off here", "write the value");
    return;
  }
  if (sign == ',' && traps_text_end(reader, offset) == offset) {
    say(reader, RULE_NOT_YAML, offset, "nothing stands before this comma", "take it out");
    return;
  }
  (void)reader_quote_it(reader, offset, traps_text_end(reader, offset),
                        arena_printf(reader->run->arena,
                                     "text that begins with %c has another meaning in YAML", sign));
}

static void on_symbol_began(Reader *reader, const Problem *problem) {
  on_symbol_at(reader, problem->began);
}

static void on_symbol(Reader *reader, const Problem *problem) {
  on_symbol_at(reader, problem->gave_up);
}

static void on_comparison(Reader *reader, const Problem *problem) {
  const char *text = reader->source->text;
  size_t value = skip_blanks(reader, problem->began + 1), end = reader_line_end(reader, value);
  bool number = text[problem->began] == '>' && text[value] >= '0' && text[value] <= '9';
  Finding *finding = reader_quote_it(reader, problem->began, end,
                                     number ? "a line of text after > is not taken: > begins a "
                                              "block of text on the lines below"
                                            : "text that begins with > or | has another meaning in "
                                              "YAML");
  if (finding && number) {
    finding_way_out(reader->run, finding, "for a limit write: at least %s",
                    reader_excerpt(reader, value, end));
  }
}

static void on_colon(Reader *reader, const Problem *problem) {
  size_t value = value_start(reader, problem->line);
  size_t first = skip_blanks(reader, problem->line);
  if (value > first && value <= problem->gave_up) {
    (void)reader_quote_it(reader, value, reader_line_end(reader, value),
                          "a second colon with a blank behind it stands in this value");
    return;
  }
  if (first == problem->gave_up) {
    say(reader, RULE_NOT_YAML, first, "a colon without a key before it", "write key: value");
    return;
  }
  size_t before;
  if (line_before(reader, problem->line, &before)) {
    if (say_tight_colon(reader, before)) return;
    size_t above = skip_blanks(reader, before);
    if (value_start(reader, before) == above) {
      say(reader, RULE_NOT_YAML, above, "this line has no \"key: \" before its text",
          "write key: value, with a blank after the colon");
      return;
    }
  }
  say(reader, RULE_NOT_YAML, first,
      "this line is indented deeper than the one above it, which has its value already",
      "begin it in the same column as its neighbours");
}

static void on_no_colon(Reader *reader, const Problem *problem) {
  size_t line = line_start(reader, problem->began);
  if (say_tight_colon(reader, line)) return;
  say(reader, RULE_NOT_YAML, problem->began, "this line has no \"key: \" before its text",
      "write key: value; text that goes on from the line above is indented deeper than its key");
}

/* Text goes on behind a closing quote or bracket on one line. */
static void on_tail(Reader *reader, const Problem *problem) {
  const char *text = reader->source->text;
  char sign = text[problem->gave_up];
  if (sign == ']' || sign == '}') {
    Finding *finding =
        reader_report(reader, RULE_NOT_YAML, problem->gave_up, 1, "this %c closes nothing", sign);
    if (finding) finding_way_out(reader->run, finding, "take it out, or open it before");
    return;
  }
  Span quote = reader->long_quote;
  if (quote.end > problem->line && quote.end <= problem->gave_up) {
    say(reader, RULE_NOT_YAML, quote.start,
        arena_printf(reader->run->arena, "the quote that opens here is closed only in line %d",
                     source_place(reader->source, quote.end, 1).line),
        "close it where the text ends");
    return;
  }
  size_t start = value_start(reader, problem->line), end = reader_line_end(reader, start);
  Finding *finding = reader_quote_it(reader, start, end, "text goes on behind the closing quote");
  const char *whole = reader_excerpt(reader, start, end);
  size_t length = strlen(whole);
  if (finding && length > 2 && strchr("\"'", whole[0]) && whole[length - 1] == whole[0]) {
    const char *inner = arena_text(reader->run->arena, whole + 1, length - 2);
    finding_way_out(reader->run, finding, "quote it: %s", reader_quoted(reader, inner));
  }
}

static void on_neighbour(Reader *reader, const Problem *problem) {
  const char *text = reader->source->text;
  size_t first = skip_blanks(reader, problem->line);
  if (first < problem->gave_up) {
    on_tail(reader, problem);
    return;
  }
  bool item = text[first] == '-' && is_blank(text[first + 1]);
  bool list = text[problem->began] == '-';
  const char *what = "this line is indented unlike those it should stand beside";
  if (item && !list) what = "a list item stands here among \"key: value\" lines";
  if (!item && list) what = "a line without \"- \" stands here among list items";
  Finding *finding = reader_report(reader, RULE_NOT_YAML, first, 1, "%s", what);
  if (!finding) return;
  finding_note(reader->run, finding, source_place(reader->source, problem->began, 1),
               "these begin here");
  finding_way_out(reader->run, finding, "begin it in the column of the lines it belongs to");
}

/* "page:[": a colon and a bracket without a blank between them. */
static void on_joined_colon(Reader *reader, const Problem *problem) {
  size_t at = problem->began, end = traps_text_end(reader, at);
  size_t colon = traps_tight_colon(reader->source->text + at, end - at);
  if (colon > 0) {
    traps_report_tight_colon(reader, (Span){at, end}, colon);
    return;
  }
  say(reader, RULE_NOT_YAML, problem->gave_up, "a colon stands here without a blank behind it",
      "put a blank behind it, or quote the text");
}

static void on_open_quote(Reader *reader, const Problem *problem) {
  say(reader, RULE_NOT_YAML, problem->began, "the quote that opens here is never closed",
      "close it where the text ends; inside single quotes a ' is written twice");
}

static void on_escape(Reader *reader, const Problem *problem) {
  size_t at = problem->gave_up;
  while (at > problem->began && reader->source->text[at] != '\\') at--;
  say(reader, RULE_NOT_YAML, at, "inside double quotes a \\ begins a code, and this is none",
      "use single quotes, where a \\ is a \\");
}

/* "{phone: tel: 01}": where the value begins that has another colon in it; false: it is no such
 * slip. */
static bool second_colon(const Reader *reader, const Problem *problem, Span *value) {
  const char *text = reader->source->text;
  size_t colon = problem->gave_up, at = colon;
  if (text[colon] != ':' || !is_blank(text[colon + 1])) return false;
  for (; at > problem->line && !strchr(",{[", text[at - 1]); at--) {
    if (text[at - 1] != ':' || !is_blank(text[at])) continue;
    value->start = skip_blanks(reader, at);
    value->end = colon + strcspn(text + colon, ",}]\r\n");
    return true;
  }
  return false;
}

static void on_open_bracket(Reader *reader, const Problem *problem) {
  char sign = reader->source->text[problem->began];
  Span value;
  if (second_colon(reader, problem, &value)) {
    (void)reader_quote_it(reader, value.start, value.end,
                          "a second colon with a blank behind it stands in this value");
    return;
  }
  int line = source_place(reader->source, problem->gave_up, 1).line;
  bool same = line_start(reader, problem->began) == problem->line;
  if (same) {
    say(reader, RULE_NOT_YAML, problem->gave_up,
        "a comma or a closing bracket is missing before this",
        "part the values with commas; text that holds a comma or a bracket is quoted");
    return;
  }
  Finding *finding = reader_report(reader, RULE_NOT_YAML, problem->began, 1,
                                   "the %c that opens here is not closed by line %d", sign, line);
  if (finding) {
    finding_way_out(reader->run, finding, "close it with %c, and part its values with commas",
                    sign == '[' ? ']' : '}');
  }
}

static void on_list_here(Reader *reader, const Problem *problem) {
  size_t at = problem->gave_up;
  Finding *finding =
      reader_report(reader, RULE_NOT_YAML, at, 1, "a list cannot begin behind its key");
  if (finding) {
    finding_way_out(
        reader->run, finding,
        "put the items on lines of their own, or write [a, b]; if it is text, quote it: %s",
        reader_quoted(reader, reader_excerpt(reader, at, reader->source->size)));
  }
}

static void on_directive(Reader *reader, const Problem *problem) {
  say(reader, RULE_NOT_TAKEN, problem->began,
      "a line that begins with % is an order to the reader; none is taken",
      "take it out, or quote it");
}

static void on_more(Reader *reader, const Problem *problem) {
  say(reader, RULE_NOT_TAKEN, problem->gave_up, "the file goes on behind the end of its entry",
      "a file holds one entry; put the next in a file of its own");
}

static void on_other(Reader *reader, const Problem *problem) {
  say(reader, RULE_NOT_YAML, problem->gave_up, "the outline of the file breaks here",
      "look for a missing colon, quote or bracket, or a line indented unlike its neighbours");
}

/* The parser's words, the first that are found in what it says. Tabs in the indentation were
 * found before it began. */
static const struct {
  const char *context, *problem; /* parts of; NULL: any */
  void (*say)(Reader *, const Problem *);
} slips[] = {
    {"scanning a directive", NULL, on_directive},
    {NULL, "%YAML directive", on_directive},
    {NULL, "%TAG directive", on_directive},
    {NULL, "incompatible YAML document", on_directive},
    {"an alias", NULL, on_symbol_began},
    {"an anchor", NULL, on_symbol_began},
    {"a tag", NULL, on_symbol_began},
    {NULL, "tag handle", on_symbol_began},
    {"a block scalar", NULL, on_comparison},
    {NULL, "unexpected ':'", on_joined_colon},
    {NULL, "cannot start any token", on_symbol},
    {NULL, "expected node content", on_symbol},
    {NULL, "mapping keys are not allowed", on_symbol},
    {NULL, "mapping values are not allowed", on_colon},
    {NULL, "block sequence entries are not allowed", on_list_here},
    {NULL, "could not find expected ':'", on_no_colon},
    {NULL, "unexpected end of stream", on_open_quote},
    {NULL, "unexpected document indicator", on_open_quote},
    {"a quoted scalar", NULL, on_escape},
    {NULL, "expected ',' or", on_open_bracket},
    {NULL, "did not find expected key", on_neighbour},
    {NULL, "'-' indicator", on_neighbour},
    {NULL, "<document start>", on_more},
};

static bool holds(const char *said, const char *part) {
  return !part || (said && strstr(said, part));
}

void problem_report(Reader *reader) {
  if (reader->trapped) return;
  const yaml_parser_t *parser = &reader->parser;
  Problem problem = {0};
  if (parser->error == YAML_READER_ERROR) {
    /* marks are not set then */
    problem.gave_up = problem.began = reader->base + parser->problem_offset;
    on_other(reader, &problem);
    return;
  }
  problem.began = reader_offset(reader, &parser->context_mark);
  problem.gave_up = reader_offset(reader, &parser->problem_mark);
  problem.line = line_start(reader, problem.gave_up);
  if (parser->error == YAML_MEMORY_ERROR) arena_give_up(reader->run->arena);
  for (size_t i = 0; i < sizeof slips / sizeof *slips; i++) {
    if (!holds(parser->context, slips[i].context)) continue;
    if (!holds(parser->problem, slips[i].problem)) continue;
    slips[i].say(reader, &problem);
    return;
  }
  on_other(reader, &problem);
}
