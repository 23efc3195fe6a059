#include "read/traps.h"

#include "base/text.h"

#include <string.h>

size_t traps_text_end(const Reader *reader, size_t start) {
  size_t end = reader_line_end(reader, start);
  bool flow = reader->depth > 0 && reader->stack[reader->depth - 1].flow;
  if (!flow) return end;
  for (size_t at = start; at < end; at++) {
    if (strchr(",}]", reader->source->text[at])) return at;
  }
  return end;
}

/* The text that was meant takes the place of what the parser made of it, so
 * that nothing further is said about it. */
static void give_text(Reader *reader, Node *node, size_t start, size_t end) {
  node->text = reader_text(reader, start, end);
  node->at = source_place(reader->source, start, (int)utf8_count(node->text));
  node->one_line = true;
  node->told = true;
  node->bad = node->text[0] == '\0';
}

void traps_hash(Reader *reader, Span span) {
  const char *text = reader->source->text;
  size_t at = span.end;
  while (is_blank(text[at])) at++;
  if (at == span.end || text[at] != '#') return;
  char next = text[at + 1];
  if (next == '\0' || next == '#' || next == '\n' || next == '\r' || is_blank(next)) return;
  if (reader_is_full(reader)) return;
  const char *lost = reader_excerpt(reader, at, reader->source->size);
  Finding *finding =
      reader_quote_it(reader, span.start, traps_text_end(reader, span.start),
                      arena_printf(reader->run->arena,
                                   "a # behind a blank starts a comment: \"%s\" is lost", lost));
  if (finding) {
    finding_way_out(reader->run, finding, "%s; a real comment has a blank after its #",
                    finding->way_out);
  }
}

void traps_empty(Reader *reader, size_t offset, Span owner, Node *node) {
  node->bad = true;
  if (reader_is_full(reader)) return;
  const char *text = reader->source->text;
  size_t at = offset;
  while (is_blank(text[at])) at++;
  bool comment = text[at] == '#' && at > offset;
  if (comment && text[at + 1] != '\0' && !strchr(" \t\r\n#", text[at + 1])) {
    (void)reader_quote_it(reader, at, traps_text_end(reader, at),
                          "a # behind a blank starts a comment, so nothing is left of this value");
    give_text(reader, node, at, traps_text_end(reader, at));
    return;
  }
  Finding *finding;
  if (owner.end > owner.start) {
    const char *key = reader_excerpt(reader, owner.start, owner.end);
    finding = reader_report(reader, RULE_EMPTY_VALUE, owner.start, (int)utf8_count(key),
                            "\"%s\" has no value", key);
  } else {
    finding = reader_report(reader, RULE_EMPTY_VALUE, offset, 1, "nothing stands here");
  }
  if (finding) {
    finding_way_out(reader->run, finding, "%s",
                    comment ? "write the value before the #, or quote it if the # belongs to it"
                            : "write the value, or take the line out");
  }
}

void traps_question(Reader *reader, Span key) {
  const char *text = reader->source->text;
  size_t at = key.start;
  while (at > reader->base && text[at - 1] == ' ') at--;
  if (at == reader->base || text[at - 1] != '?') return;
  (void)reader_quote_it(reader, at - 1, traps_text_end(reader, at - 1),
                        "a ? at the start is lost, and what follows becomes a key");
}

void traps_mark(Reader *reader, Span span, Node *node) {
  if (node) node->bad = true;
  if (reader_is_full(reader)) return;
  char sign = reader->source->text[span.start];
  const char *what = sign == '!' ? "a tag" : sign == '&' ? "an anchor" : "a reference to an anchor";
  size_t end = traps_text_end(reader, span.start);
  bool prose = node && span.start + 1 < span.end && reader->source->text[span.start + 1] != '!';
  if (prose) {
    (void)reader_quote_it(reader, span.start, end,
                          arena_printf(reader->run->arena,
                                       "what begins with %c is taken for %s, not for text", sign,
                                       what));
    give_text(reader, node, span.start, end);
    return;
  }
  reader->trapped = true;
  Finding *finding = reader_report(reader, RULE_NOT_TAKEN, span.start, 1,
                                   "%s stands here; values are taken as they are written", what);
  if (finding) {
    finding_way_out(reader->run, finding,
                    "write the value out where it is needed; text that begins with %c is quoted",
                    sign);
  }
}

size_t traps_tight_colon(const char *text, size_t length) {
  size_t at = 0;
  while (at < length && is_word_character(text[at])) at++;
  if (at == 0 || at + 1 >= length || text[at] != ':') return 0;
  /* "10:30" and "C://" are no slips */
  bool name = !is_digit(text[0]);
  return name && !strchr(": /\\\t\r\n", text[at + 1]) ? at : 0;
}

void traps_report_tight_colon(Reader *reader, Span key, size_t colon) {
  reader->trapped = true;
  if (reader_is_full(reader)) return;
  const char *name = reader_excerpt(reader, key.start, key.start + colon);
  const char *rest = reader_excerpt(reader, key.start + colon + 1, key.end);
  Finding *finding =
      reader_report(reader, RULE_QUOTE_IT, key.start, (int)(colon + 1),
                    "no blank after the colon: \"%s:%s\" is one word here", name, rest);
  if (finding) finding_way_out(reader->run, finding, "write %s: %s", name, rest);
}

/* Opening brackets that [start, end) leaves open. */
static int open_brackets(const Reader *reader, Span span) {
  int open = 0;
  for (size_t at = span.start; at < span.end; at++) {
    open += reader->source->text[at] == '(';
    open -= reader->source->text[at] == ')';
  }
  return open;
}

/* Digits of a number that stand before text[at], and behind text[at - 1]. */
static size_t digits_before(const char *text, size_t from, size_t at) {
  size_t n = 0;
  while (at - n > from && is_digit(text[at - n - 1])) n++;
  return n;
}

static size_t digits_behind(const char *text, size_t at) {
  size_t n = 0;
  while (is_digit(text[at + n])) n++;
  return n;
}

/* A comma inside a value cut it; the pieces reach from the first's start to
 * the last's end. A decimal comma is not guessed at: node goes bad. */
static void report_split(Reader *reader, Span first, Span last, Node *node) {
  node->bad = true;
  if (reader_is_full(reader)) return;
  const char *text = reader->source->text;
  Span whole = {first.start, last.end};
  size_t comma = first.end;
  bool decimal = text[comma] == ',' && comma > first.start && is_digit(text[comma - 1]) &&
                 is_digit(text[comma + 1]) && open_brackets(reader, first) <= 0;
  if (!decimal) {
    (void)reader_quote_it(reader, whole.start, whole.end,
                          "inside { } and [ ] a comma ends the value, so this one is cut in two");
    if (reader_line_end(reader, whole.start) >= whole.end)
      give_text(reader, node, whole.start, whole.end);
    return;
  }
  const char *before = reader_excerpt(reader, whole.start, comma);
  const char *after = reader_excerpt(reader, comma + 1, whole.end);
  Finding *finding = reader_report(reader, RULE_QUOTE_IT, whole.start,
                                   (int)(utf8_count(before) + utf8_count(after) + 1),
                                   "\"%s,%s\" is cut at the comma", before, after);
  size_t in_front = digits_before(text, first.start, comma);
  bool thousands = digits_behind(text, comma + 1) == 3 && in_front <= 3 &&
                   text[comma - in_front] != '0' &&
                   (comma == first.start + in_front || text[comma - in_front - 1] != '.');
  if (finding && thousands) {
    size_t kept = 3; /* 6.8, not 6.800, which looks like thousands once more */
    while (kept > 1 && text[comma + kept] == '0') kept--;
    finding_way_out(reader->run, finding,
                    "write %s%s if the comma parts thousands, %s.%.*s%s if it is a decimal comma",
                    before, after, before, (int)kept, after, after + 3);
  } else if (finding) {
    finding_way_out(reader->run, finding,
                    "write a decimal point, %s.%s, or a blank after a comma "
                    "that parts two values",
                    before, after);
  }
  reader->trapped = true;
}

static bool is_plain(const Slot *slot) {
  return slot->node && slot->node->kind == NODE_SCALAR && !slot->node->quoted;
}

/* A word in { } that is no key: value pair. */
static void report_no_value(Reader *reader, Span key) {
  if (reader_is_full(reader)) return;
  const char *name = reader_excerpt(reader, key.start, key.end);
  Finding *finding = reader_report(reader, RULE_EMPTY_VALUE, key.start, (int)utf8_count(name),
                                   "\"%s\" has no value", name);
  if (finding) {
    finding_way_out(reader->run, finding, "inside { } write key: value; a list is written [a, b]");
  }
}

/* "bore:84 mm" as the pair it was meant to be. */
static void mend_pair(Reader *reader, Node *map, Pair *pair, Span key, size_t colon) {
  if (reader_is_full(reader)) return;
  const char *name = reader_text(reader, key.start, key.start + colon);
  if (node_find(map, name, NULL)) return;
  pair->key = name;
  pair->key_at.width = (int)colon;
  give_text(reader, pair->value, key.start + colon + 1, key.end);
}

/* Keys without a colon: the tails of a value that was cut, or words in braces.
 * Tails are taken out of the map. */
static void lint_map(Reader *reader, const Frame *frame) {
  Node *map = frame->node;
  size_t kept = 0, next = 0; /* pairs are the slots but for dropped keys */
  Slot *owner = NULL;        /* a value that a tail may belong to */
  Slot *cut = NULL, *tail = NULL;
  for (size_t i = 0; i <= frame->slots.n; i++) {
    Slot *slot = i < frame->slots.n ? &frame->slots.at[i] : NULL;
    Pair *pair = slot && next < map->pairs.n && map->pairs.at[next].value == slot->node
                     ? &map->pairs.at[next++]
                     : NULL;
    size_t colon = slot && !slot->colon ? traps_tight_colon(reader->source->text + slot->key.start,
                                                            slot->key.end - slot->key.start)
                                        : 0;
    if (slot && !slot->colon && colon == 0 && owner) {
      cut = owner;
      tail = slot;
      continue;
    }
    if (cut) report_split(reader, cut->value, tail->key, cut->node);
    cut = NULL;
    if (!slot) break;
    owner = slot->colon && is_plain(slot) ? slot : NULL;
    if (colon > 0)
      traps_report_tight_colon(reader, slot->key, colon);
    else if (!slot->colon)
      report_no_value(reader, slot->key);
    if (colon > 0 && pair) mend_pair(reader, map, pair, slot->key, colon);
    if (pair) map->pairs.at[kept++] = *pair;
  }
  map->pairs.n = kept;
}

/* A bare number, a comma without a blank, digits and a unit: "1,5 mm". */
static bool looks_decimal(const Reader *reader, Span left, Span right) {
  const char *text = reader->source->text;
  for (size_t at = left.start; at < left.end; at++) {
    if (!is_digit(text[at]) && !(at == left.start && strchr("+-", text[at]))) return false;
  }
  if (left.end == left.start || right.start != left.end + 1 || !is_digit(text[right.start])) {
    return false;
  }
  for (size_t at = right.start; at < right.end; at++) {
    if (!is_digit(text[at])) return true;
  }
  return false;
}

static void lint_list(Reader *reader, const Frame *frame) {
  for (size_t i = 0; i + 1 < frame->slots.n; i++) {
    Slot *slot = &frame->slots.at[i], *next = &frame->slots.at[i + 1];
    if (!is_plain(slot) || !is_plain(next)) continue;
    if (looks_decimal(reader, slot->value, next->value)) {
      report_split(reader, slot->value, next->value, slot->node);
      next->node->bad = true;
      continue;
    }
    int open = open_brackets(reader, slot->value);
    if (open <= 0) continue;
    size_t last = i;
    while (open > 0 && last + 1 < frame->slots.n && is_plain(&frame->slots.at[last + 1])) {
      open += open_brackets(reader, frame->slots.at[++last].value);
      frame->slots.at[last].node->bad = true;
    }
    report_split(reader, slot->value, frame->slots.at[last].value, slot->node);
    i = last;
  }
}

void traps_flow(Reader *reader, Frame *frame, size_t end) {
  const char *text = reader->source->text;
  size_t at = end;
  while (is_blank(text[at])) at++;
  bool outermost = reader->depth == 0 || !reader->stack[reader->depth - 1].flow;
  bool tail = text[at] != '\0' && !strchr(",}]#:\r\n", text[at]);
  if (outermost && tail) {
    size_t stop = at; /* a comment behind it is none of it */
    while (text[stop] && text[stop] != '\n' && !(is_blank(text[stop]) && text[stop + 1] == '#'))
      stop++;
    while (stop > at && is_blank(text[stop - 1])) stop--;
    bool list = text[frame->start] == '[';
    Finding *finding = reader_quote_it(reader, frame->start, stop,
                                       list ? "what begins with [ is taken for a list"
                                            : "what begins with { is taken for keys with values");
    if (finding && list && is_digit(text[frame->start + 1]))
      finding_way_out(reader->run, finding, "write %s behind each number inside the [ ]",
                      reader_excerpt(reader, at, stop));
    return;
  }
  if (frame->node->kind == NODE_MAP)
    lint_map(reader, frame);
  else
    lint_list(reader, frame);
}
