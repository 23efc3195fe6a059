/* Readings by box number and by name, parts and sizes fitted, steps left open. */
#include "load/readings.h"

#include "load/field.h"

#include "base/digest.h"

#include <string.h>

#define BOX_MOST 99999

static bool is_left_out(const Node *node) {
  return node->bad || (node->kind == NODE_SCALAR && text_is(node->text, READING_NOT_GIVEN));
}

/* ---- values ---- */

static void add_value(Loader *loader, const Node *node, const char *key, ReadingLine *line) {
  if (is_left_out(node)) return;
  Expr value = expr_of(loader, node, key, false);
  if (value.kind != EXPR_LITERAL) return;
  if (value.literal.shape == LITERAL_EXACT) {
    vec_push(loader->run->arena, &line->values, value);
    return;
  }
  Finding *finding = finding_add(loader->run, RULE_BAD_NUMBER, value.at,
                                 "a reading is one number, not `%s`", value.literal.text);
  finding_way_out(loader->run, finding,
                  "write what stands in the box; several readings of one box in [ ]");
}

static void add_values(Loader *loader, const Node *node, const char *key, ReadingLine *line) {
  if (node->kind != NODE_LIST) {
    add_value(loader, node, key, line);
    return;
  }
  for (size_t i = 0; i < node->items.n; i++) add_value(loader, node->items.at[i], key, line);
}

static const Field record_fields[] = {
    {.key = "value", .type = FIELD_EXPR, .offset = NOWHERE, .required = true, .doc = "the reading"},
    FIELD(ReadingLine, why, "why", TEXT, "what vouches for it, when it looks like a slip"),
};
static const Shape record_shape = {
    "reading", record_fields, COUNT(record_fields), sizeof(ReadingLine), NOWHERE, NOWHERE, NULL};

/* {value: 83.55 mm, why: read twice} */
static void add_record(Loader *loader, const Node *map, const char *key, ReadingLine *line) {
  static const Shape others = {
      "reading", &record_fields[1], COUNT(record_fields) - 1, sizeof(ReadingLine), NOWHERE, NOWHERE,
      NULL};
  Node rest = {.kind = NODE_MAP, .at = map->at};
  const Node *value = node_find(map, "value", NULL);
  for (size_t i = 0; i < map->pairs.n; i++)
    if (map->pairs.at[i].value != value)
      vec_push(loader->run->arena, &rest.pairs, map->pairs.at[i]);
  fill(loader, &others, &rest, map->at, line);
  if (value) {
    add_values(loader, value, key, line);
    return;
  }
  Finding *finding =
      finding_add(loader->run, RULE_MISSING_KEY, map->at, "this reading has no \"value\"");
  finding_way_out(loader->run, finding, "add value: the reading");
}

/* ---- by number ---- */

static int box_number(Loader *loader, const Pair *pair) {
  size_t length = strlen(pair->key);
  long number = 0;
  for (size_t i = 0; i < length && length <= 5; i++) {
    if (pair->key[i] < '0' || pair->key[i] > '9')
      length = 6;
    else
      number = number * 10 + (pair->key[i] - '0');
  }
  if (length > 0 && length <= 5 && number > 0 && number <= BOX_MOST) return (int)number;
  Finding *finding = finding_add(loader->run, RULE_BAD_WORD, pair->key_at,
                                 "\"%s\" is no number of a box", pair->key);
  finding_way_out(loader->run, finding,
                  "boxes go by the number printed beside them; names go under \"readings\"");
  return 0;
}

void field_box_readings(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *box = &pair->value->pairs.at[i];
    ReadingLine line = {.at = box->key_at, .box = box_number(loader, box)};
    if (!line.box || is_left_out(box->value)) continue;
    if (box->value->kind == NODE_MAP)
      add_record(loader, box->value, box->key, &line);
    else
      add_values(loader, box->value, box->key, &line);
    if (line.values.n > 0)
      push_any(loader->run->arena, (char *)object + field->offset, &line, sizeof line);
  }
}

/* ---- by name ---- */

static SaidList path_and(Loader *loader, const SaidList *path, const Pair *pair) {
  SaidList out = {0};
  for (size_t i = 0; i < path->n; i++) vec_push(loader->run->arena, &out, path->at[i]);
  Said word = {pair->key, pair->key_at};
  vec_push(loader->run->arena, &out, word);
  return out;
}

/* As deep as the file, which read bounds. */
static void add_named(Loader *loader, const ReadingLine *base, const Pair *pair, void *out) {
  const Node *node = pair->value;
  ReadingLine line = *base;
  line.at = pair->key_at;
  if (is_left_out(node)) return;
  if (node->kind == NODE_MAP && !shape_meets(&record_shape, node)) {
    for (size_t i = 0; i < node->pairs.n; i++) {
      ReadingLine inner = line;
      inner.path = path_and(loader, &line.path, &node->pairs.at[i]);
      add_named(loader, &inner, &node->pairs.at[i], out);
    }
    return;
  }
  if (node->kind == NODE_MAP)
    add_record(loader, node, pair->key, &line);
  else
    add_values(loader, node, pair->key, &line);
  if (line.values.n > 0) push_any(loader->run->arena, out, &line, sizeof line);
}

void field_named_readings(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *named = &pair->value->pairs.at[i];
    ReadingLine base = {.quantity = {named->key, named->key_at}};
    add_named(loader, &base, named, (char *)object + field->offset);
  }
}

/* ---- what was decided ---- */

static void add_fitted(Loader *loader, const FittedLine *base, const Pair *pair, void *out) {
  FittedLine line = *base;
  line.at = pair->key_at;
  if (is_left_out(pair->value)) return;
  if (pair->value->kind == NODE_MAP) {
    for (size_t i = 0; i < pair->value->pairs.n; i++) {
      FittedLine inner = line;
      inner.path = path_and(loader, &line.path, &pair->value->pairs.at[i]);
      add_fitted(loader, &inner, &pair->value->pairs.at[i], out);
    }
    return;
  }
  line.what = said_word(loader, pair->value, pair->key);
  if (!line.what.s) return;
  bool digit = strchr("0123456789+-", line.what.s[0]) != NULL;
  if (digit) {
    line.size = expr_of(loader, pair->value, pair->key, false);
    if (line.size.kind != EXPR_LITERAL) return;
  }
  push_any(loader->run->arena, out, &line, sizeof line);
}

void field_fitted(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    FittedLine base = {.name = pair->value->pairs.at[i].key};
    add_fitted(loader, &base, &pair->value->pairs.at[i], (char *)object + field->offset);
  }
}

void field_open_steps(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *step = &pair->value->pairs.at[i];
    OpenStep open = {.step = step->key, .at = step->key_at};
    open.why = said_text(loader, step->value, step->key);
    if (open.why.s)
      push_any(loader->run->arena, (char *)object + field->offset, &open, sizeof open);
  }
}

/* ---- the file ---- */

static const Field readings_fields[] = {
    {.key = "kind", .type = FIELD_KIND, .offset = NOWHERE, .required = true, .doc = "readings"},
    FIELD(Readings, job, "job", JOB, "the job number of the packet", .required = true),
    FIELD(Readings, revision, "revision", WORD, "as printed at the foot of the packet's pages"),
    FIELD(Readings, date, "date", DATE, "when they were entered or taken"),
    FIELD(Readings, technician, "technician", TEXT, "who took them"),
    FIELD(Readings, lines, "boxes", BOX_READINGS, "readings by the number beside the box"),
    FIELD(Readings, lines, "readings", NAMED_READINGS, "readings by quantity, member, position"),
    FIELD(Readings, fitted, "fitted", FITTED, "what the decisions came to: part ids and sizes"),
    FIELD(Readings, open_steps, "open", OPEN_STEPS, "steps that were left open, with the reason"),
    FIELD(Readings, notes, "notes", TEXTS, "remarks, printed on the nonconformance list"),
};
static const Shape readings_shape = {"file of readings",
                                     readings_fields,
                                     COUNT(readings_fields),
                                     sizeof(Readings),
                                     NOWHERE,
                                     offsetof(Readings, at),
                                     NULL};

static bool is_readings(Run *run, const Node *root) {
  const Node *kind = root->kind == NODE_MAP ? node_find(root, "kind", NULL) : NULL;
  if (kind && kind->bad) return false;
  if (kind && kind->kind == NODE_SCALAR && text_is(kind->text, "readings")) return true;
  Finding *finding =
      finding_add(run, RULE_WRONG_KIND, kind ? kind->at : root->at, "this is no file of readings");
  finding_way_out(run, finding,
                  "it begins with kind: readings; `sheaf readings BUILD FILE` writes one");
  return false;
}

/* Keys still to be filled in are as good as left out. */
static Node filled_in(Arena *arena, const Node *root) {
  Node out = {.kind = NODE_MAP, .at = root->at};
  for (size_t i = 0; i < root->pairs.n; i++)
    if (!is_left_out(root->pairs.at[i].value)) vec_push(arena, &out.pairs, root->pairs.at[i]);
  return out;
}

/* Something stands there that could not be taken: that is reported. */
static bool is_bad(const Node *root, const char *key) {
  const Node *node = node_find(root, key, NULL);
  return node && !is_left_out(node);
}

/* Whoever reads it later asks when and by whom. */
static void need_who(Run *run, const Readings *readings, const Node *root) {
  if (!readings->lines.n && !readings->fitted.n) return;
  const char *missing = !readings->date.s         ? "date"
                        : !readings->technician.s ? "technician"
                                                  : NULL;
  if (!missing || is_bad(root, missing)) return;
  Finding *finding = finding_add(run, RULE_MISSING_KEY, readings->at, "the readings do not say %s",
                                 readings->date.s ? "who took them" : "when they were taken");
  finding_way_out(run, finding,
                  readings->date.s ? "add technician: and a name" : "add date: YYYY-MM-DD");
}

Readings *load_readings(Run *run, const LoadSource *source, const char *path) {
  size_t size = 0, before = run->findings->list.n;
  const char *text = source->text(source->context, run, path, &size);
  if (!text) {
    if (run->findings->list.n == before)
      finding_add(run, RULE_NO_FILE, place_at(source_new(run->arena, path, "", 0), 0, 0, 1),
                  "there is no such file");
    return NULL;
  }
  const Node *root = source->nodes(run, path, text, size);
  if (!root || !is_readings(run, root)) return NULL;
  Loader loader = {.run = run, .source = source};
  Readings *readings = ARENA_NEW(run->arena, Readings);
  Node filled = filled_in(run->arena, root);
  fill(&loader, &readings_shape, &filled, root->at, readings);
  need_who(run, readings, root);
  Digest *digest = digest_new(run->arena);
  digest_add(digest, text, size);
  readings->digest = digest_hex(digest);
  return readings;
}
