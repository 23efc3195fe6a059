#include "read/yaml.h"

#include "base/text.h"
#include "read/bytes.h"
#include "read/problem.h"
#include "read/reader.h"
#include "read/traps.h"

#include <string.h>

#define FEW_KEYS 16 /* up to here a map's keys are compared one by one */

/* ---- putting nodes where they belong ---- */

static Node *new_node(Reader *reader, NodeKind kind, Place at) {
  if (++reader->nodes > NODES_MOST) {
    (void)reader_report(reader, RULE_TOO_BIG, reader->cursor_offset, 1,
                        "the file holds more than %d values", NODES_MOST);
    reader->stop = true;
  }
  Node *node = ARENA_NEW(reader->run->arena, Node);
  node->kind = kind;
  node->at = at;
  return node;
}

static const Pair *find_key(Frame *frame, Arena *arena, const char *key) {
  Node *map = frame->node;
  if (map->pairs.n <= FEW_KEYS) {
    for (size_t i = 0; i < map->pairs.n; i++) {
      if (text_is(map->pairs.at[i].key, key)) return &map->pairs.at[i];
    }
    return NULL;
  }
  if (!frame->seen) {
    frame->seen = map_new(arena);
    for (size_t i = 0; i < map->pairs.n; i++) {
      map_put(frame->seen, map->pairs.at[i].key,
              arena_copy(arena, &map->pairs.at[i], sizeof(Pair)));
    }
  }
  return map_find(frame->seen, key);
}

/* A finished key: waits for its value, or makes the value drop. */
static void take_key(Reader *reader, Frame *frame, Node *key, Span span) {
  frame->has_key = true;
  frame->drop = true;
  frame->key = span;
  if (key->kind != NODE_SCALAR) {
    Finding *finding = reader_report(reader, RULE_NOT_TAKEN, span.start, 1,
                                     "a list, or key: value lines, where a key belongs");
    if (finding) {
      finding_way_out(reader->run, finding, "a key is a word; text that begins with %s is quoted",
                      key->kind == NODE_LIST ? "[" : "{");
    }
    reader->trapped = true;
    return;
  }
  if (key->bad) return;
  if (key->text[0] == '\0') {
    (void)reader_report(reader, RULE_EMPTY_VALUE, span.start, 1, "a value without a key");
    return;
  }
  if (!key->quoted) traps_question(reader, span);
  if (text_is(key->text, "<<") && !key->quoted) {
    Finding *finding =
        reader_report(reader, RULE_NOT_TAKEN, span.start, 2,
                      "mappings are not merged; values are taken as they are written");
    if (finding) finding_way_out(reader->run, finding, "write the keys out here");
    return;
  }
  const Pair *first = find_key(frame, reader->run->arena, key->text);
  if (first) {
    Finding *finding = reader_report(reader, RULE_REPEATED_KEY, span.start, key->at.width,
                                     "the key \"%s\" is given twice", key->text);
    if (finding) {
      finding_note(reader->run, finding, first->key_at, "first given here");
      finding_way_out(reader->run, finding, "keep one of the two");
    }
    return;
  }
  if (frame->node->pairs.n == KEYS_MOST) {
    (void)reader_report(reader, RULE_TOO_BIG, span.start, key->at.width,
                        "more than %d keys stand in one mapping", KEYS_MOST);
    reader->stop = true;
    return;
  }
  frame->drop = false;
  frame->pair = (Pair){key->text, key->at, NULL};
  if (frame->node->pairs.n == 0) frame->node->at = key->at;
}

static void take_value(Reader *reader, Frame *frame, Node *value, Span span) {
  Arena *arena = reader->run->arena;
  if (frame->flow) {
    size_t at = frame->key.end;
    const char *text = reader->source->text;
    while (text[at] && strchr(" \t\r\n", text[at])) at++;
    Slot slot = {frame->key, span, text[at] == ':', value};
    vec_push(arena, &frame->slots, slot);
  }
  frame->has_key = false;
  if (frame->drop) return;
  frame->pair.value = value;
  vec_push(arena, &frame->node->pairs, frame->pair);
  if (frame->seen)
    map_put(frame->seen, frame->pair.key, arena_copy(arena, &frame->pair, sizeof(Pair)));
}

/* Hangs a node into the innermost open list or map. */
static void attach(Reader *reader, Node *node, Span span) {
  if (reader->depth == 0) {
    if (!reader->root) reader->root = node;
    return;
  }
  Frame *frame = &reader->stack[reader->depth - 1];
  if (frame->node->kind == NODE_LIST) {
    if (frame->node->items.n == 0 && !frame->flow) frame->node->at = node->at;
    vec_push(reader->run->arena, &frame->node->items, node);
    if (frame->flow) {
      Slot slot = {{0, 0}, span, true, node};
      vec_push(reader->run->arena, &frame->slots, slot);
    }
  } else if (frame->has_key) {
    take_value(reader, frame, node, span);
  } else {
    take_key(reader, frame, node, span);
  }
}

/* ---- events ---- */

static Span event_span(Reader *reader, const yaml_event_t *event) {
  size_t start = reader_offset(reader, &event->start_mark);
  return (Span){start, reader_offset(reader, &event->end_mark)};
}

/* The first bad character of a text made by escapes in quotes, or NULL. */
static const char *trouble_in(const char *text, size_t length) {
  if (strlen(text) < length) return bytes_trouble(0);
  size_t step = 0;
  for (; *text; text += step) {
    const char *trouble = bytes_trouble(utf8_next(text, &step));
    if (trouble) return trouble;
  }
  return NULL;
}

/* A key in a { } whose colon is missing gets an empty value from the parser. */
static bool lacks_colon(const Reader *reader) {
  const Frame *frame = reader->depth > 0 ? &reader->stack[reader->depth - 1] : NULL;
  if (!frame || !frame->flow || frame->node->kind != NODE_MAP || !frame->has_key) return false;
  const char *at = reader->source->text + frame->key.end;
  while (*at && strchr(" \t\r\n", *at)) at++;
  return *at != ':';
}

static void lint_scalar(Reader *reader, Node *node, Span span, const yaml_event_t *event) {
  bool plain = !node->quoted;
  if (event->data.scalar.tag || event->data.scalar.anchor) {
    traps_mark(reader, span, node);
  } else if (plain && node->text[0] == '\0') {
    Frame *frame = reader->depth > 0 ? &reader->stack[reader->depth - 1] : NULL;
    bool is_key = frame && frame->node->kind == NODE_MAP && !frame->has_key;
    Span owner = frame && frame->node->kind == NODE_MAP ? frame->key : (Span){0, 0};
    bool reported = frame && frame->node->kind == NODE_MAP && frame->has_key && frame->drop;
    if (!lacks_colon(reader) && !is_key && !reported)
      traps_empty(reader, span.start, owner, node);
    else
      node->bad = !is_key;
  } else if (plain) {
    traps_hash(reader, span);
  }
  const char *trouble = trouble_in(node->text, event->data.scalar.length);
  if (trouble) {
    (void)reader_report(reader, RULE_NOT_TEXT, span.start, node->at.width, "this text holds %s",
                        trouble);
    node->bad = true;
  }
}

static void on_scalar(Reader *reader, const yaml_event_t *event) {
  Span span = event_span(reader, event);
  yaml_scalar_style_t style = event->data.scalar.style;
  const char *bytes = (const char *)event->data.scalar.value;
  size_t length = event->data.scalar.length;
  const char *written = reader->source->text + span.start;
  bool quoted =
      style == YAML_SINGLE_QUOTED_SCALAR_STYLE || style == YAML_DOUBLE_QUOTED_SCALAR_STYLE;
  bool one_line = event->start_mark.line == event->end_mark.line;
  /* An escape makes the text shorter than what is written. */
  bool plain_columns = !quoted || span.end - span.start == length + 2;
  int width = one_line ? (int)(event->end_mark.column - event->start_mark.column) - 2 * quoted : 1;
  Place at = place_at(reader->source, (int)event->start_mark.line + 1,
                      (int)event->start_mark.column + 1 + quoted, width);
  Node *node = new_node(reader, NODE_SCALAR, at);
  node->text = arena_text(reader->run->arena, bytes, length);
  node->quoted = style != YAML_PLAIN_SCALAR_STYLE && *written != '\0';
  node->one_line = one_line && plain_columns;
  if (node->quoted && !one_line) reader->long_quote = span;
  lint_scalar(reader, node, span, event);
  attach(reader, node, span);
}

static void on_start(Reader *reader, const yaml_event_t *event, NodeKind kind) {
  bool map = kind == NODE_MAP;
  Span span = event_span(reader, event);
  if (reader->depth == DEPTH_MOST) {
    (void)reader_report(reader, RULE_TOO_BIG, span.start, 1,
                        "lists and keys are nested more than %d deep", DEPTH_MOST);
    reader->stop = true;
    return;
  }
  const yaml_char_t *anchor =
      map ? event->data.mapping_start.anchor : event->data.sequence_start.anchor;
  const yaml_char_t *tag = map ? event->data.mapping_start.tag : event->data.sequence_start.tag;
  if (anchor || tag) traps_mark(reader, span, NULL);
  bool flow = map ? event->data.mapping_start.style == YAML_FLOW_MAPPING_STYLE
                  : event->data.sequence_start.style == YAML_FLOW_SEQUENCE_STYLE;
  Place at = place_at(reader->source, (int)event->start_mark.line + 1,
                      (int)event->start_mark.column + 1, 1);
  Node *node = new_node(reader, kind, at);
  attach(reader, node, span);
  reader->stack[reader->depth++] = (Frame){.node = node, .flow = flow, .start = span.start};
}

static void on_end(Reader *reader, const yaml_event_t *event) {
  Frame *frame = &reader->stack[--reader->depth];
  if (!frame->flow) return;
  size_t end = reader_offset(reader, &event->end_mark);
  /* "[a: b]" makes a map without braces of its own. */
  char last = end > 0 ? reader->source->text[end - 1] : '\0';
  char first = reader->source->text[frame->start];
  if ((first == '{' && last == '}') || (first == '[' && last == ']')) {
    traps_flow(reader, frame, end);
  }
  /* A key that was a list or a map ends where its bracket does. */
  Frame *owner = reader->depth > 0 ? &reader->stack[reader->depth - 1] : NULL;
  if (owner && owner->has_key && owner->key.start == frame->start) owner->key.end = end;
}

static void on_alias(Reader *reader, const yaml_event_t *event) {
  Span span = event_span(reader, event);
  Place at = place_at(reader->source, (int)event->start_mark.line + 1,
                      (int)event->start_mark.column + 1, 1);
  Node *node = new_node(reader, NODE_SCALAR, at);
  node->text = "";
  traps_mark(reader, span, node);
  attach(reader, node, span);
}

static void on_document(Reader *reader, const yaml_event_t *event) {
  Span span = event_span(reader, event);
  if (++reader->documents > 1) {
    Finding *finding = reader_report(reader, RULE_NOT_TAKEN, span.start, 3,
                                     "a second document begins here; a file holds one entry");
    if (finding) finding_way_out(reader->run, finding, "put it in a file of its own");
    reader->stop = true;
  }
  bool tags = event->data.document_start.tag_directives.start !=
              event->data.document_start.tag_directives.end;
  if (event->data.document_start.version_directive || tags) {
    (void)reader_report(reader, RULE_NOT_TAKEN, span.start, 1,
                        "a line that begins with %% is taken for an "
                        "order to the reader; none is taken");
  }
}

static void on_event(Reader *reader, const yaml_event_t *event) {
  switch (event->type) {
  case YAML_DOCUMENT_START_EVENT:
    on_document(reader, event);
    break;
  case YAML_SCALAR_EVENT:
    on_scalar(reader, event);
    break;
  case YAML_ALIAS_EVENT:
    on_alias(reader, event);
    break;
  case YAML_SEQUENCE_START_EVENT:
    on_start(reader, event, NODE_LIST);
    break;
  case YAML_MAPPING_START_EVENT:
    on_start(reader, event, NODE_MAP);
    break;
  case YAML_SEQUENCE_END_EVENT:
  case YAML_MAPPING_END_EVENT:
    on_end(reader, event);
    break;
  case YAML_STREAM_END_EVENT:
    reader->stop = true;
    break;
  default:
    break;
  }
}

/* True when the whole outline was read. */
static bool read_events(Reader *reader) {
  yaml_parser_set_encoding(&reader->parser, YAML_UTF8_ENCODING);
  yaml_parser_set_input_string(&reader->parser,
                               (const unsigned char *)reader->source->text + reader->base,
                               reader->source->size - reader->base);
  bool ended = false;
  while (!reader->stop) {
    yaml_event_t event;
    if (!yaml_parser_parse(&reader->parser, &event)) {
      problem_report(reader);
      return false;
    }
    ended = event.type == YAML_STREAM_END_EVENT;
    on_event(reader, &event);
    yaml_event_delete(&event);
  }
  return ended; /* of a second document nothing is known: what the first lacks may stand there */
}

/* The first node that is passed over later on, or NULL. */
static const Node *find_bad(const Node *node) {
  if (node->bad) return node;
  const Node *bad = NULL;
  for (size_t i = 0; i < node->items.n && !bad; i++) bad = find_bad(node->items.at[i]);
  for (size_t i = 0; i < node->pairs.n && !bad; i++) bad = find_bad(node->pairs.at[i].value);
  return bad;
}

/* Whatever slips through the lints is not lost in silence. */
static void say_bad(Reader *reader) {
  const Node *bad = reader->found == 0 ? find_bad(reader->root) : NULL;
  if (!bad) return;
  Finding *finding =
      finding_add(reader->run, RULE_QUOTE_IT, bad->at, "it cannot be made out what is meant here");
  finding_way_out(reader->run, finding, "put the text in quotes");
}

Node *read_yaml(Run *run, const char *path, const char *text, size_t size) {
  Source *source = source_new(run->arena, path, text, size);
  if (!bytes_are_text(run, source)) return NULL;
  Reader reader = {.run = run, .source = source};
  reader.base = size > 0 ? source->line_start[0] : 0;
  reader.cursor_offset = reader.base;
  if (!yaml_parser_initialize(&reader.parser)) arena_give_up(run->arena);
  bool whole = read_events(&reader);
  yaml_parser_delete(&reader.parser);
  if (!whole) return NULL;
  if (!reader.root || (reader.root->kind == NODE_SCALAR && reader.root->text[0] == '\0')) {
    if (reader.found == 0) {
      Finding *finding =
          finding_add(run, RULE_NOT_YAML, place_at(source, 0, 0, 1), "the file holds nothing");
      finding_way_out(run, finding, "was it saved? an entry begins with kind: and name:");
    }
    return NULL;
  }
  say_bad(&reader);
  return reader.root;
}
