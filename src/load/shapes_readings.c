/* The keys of a file of readings: readings by box number and by name, parts and sizes fitted,
 * checks, steps left open. */
#include "load/field.h"
#include "load/readings.h"

#include <string.h>

#define BOX_MOST 99999
#define GO_WORDS "go|no-go|yes|no"

bool reading_left_out(const Node *node) {
  return node->bad || (node->kind == NODE_SCALAR && text_is(node->text, READING_NOT_GIVEN));
}

/* ---- values ---- */

/* A gauge that says go or no-go, a check that says yes or no. */
static bool is_go_word(const char *text, bool *go) {
  *go = text_is(text, "go") || text_is(text, "yes");
  return *go || text_is(text, "no-go") || text_is(text, "no");
}

/* "0.25 0.26": two readings without the brackets. */
static bool report_side_by_side(Loader *loader, const Node *node) {
  static const char digits[] = "0123456789.";
  if (node->kind != NODE_SCALAR) return false;
  Words pieces = {0};
  for (const char *at = node->text; *at; at += strspn(at, " ")) {
    size_t n = strcspn(at, " ");
    vec_push(loader->run->arena, &pieces, arena_text(loader->run->arena, at, n));
    if (strspn(at, digits) != n) return false;
    at += n;
  }
  if (pieces.n < 2) return false;
  Finding *finding = finding_add(loader->run, RULE_BAD_NUMBER, node->at,
                                 "%zu numbers stand side by side", pieces.n);
  finding_way_out(loader->run, finding, "several readings of one box are written [%s]",
                  text_join(loader->run->arena, &pieces, ", "));
  return true;
}

static void add_value(Loader *loader, const Node *node, const char *key, ReadingLine *line) {
  if (reading_left_out(node)) return;
  if (node->kind == NODE_SCALAR && is_go_word(node->text, &line->go)) {
    line->word = (Said){line->go ? "go" : "no-go", node->at};
    return;
  }
  if (report_side_by_side(loader, node)) return;
  size_t before = loader->run->findings->list.n;
  Expr value = expr_of(loader, node, key, false);
  Findings *findings = loader->run->findings;
  if (findings->list.n > before && !findings->list.at[findings->list.n - 1]->way_out)
    finding_way_out(loader->run, findings->list.at[findings->list.n - 1],
                    "write the number that stands in the box; where nothing was read, leave it: %s",
                    READING_NOT_GIVEN);
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

static bool is_digits(const char *text) {
  return text[0] && !text[strspn(text, "0123456789")];
}

/* [0,40, 0,41]: a comma between digits without a blank is a decimal comma, or may be one. */
static bool is_cut(const Node *left, const Node *right) {
  return left->kind == NODE_SCALAR && right->kind == NODE_SCALAR && !left->quoted &&
         !right->quoted && is_digits(left->text) && right->text[0] >= '0' &&
         right->text[0] <= '9' && left->at.line == right->at.line &&
         right->at.column == left->at.column + (int)strlen(left->text) + 1;
}

static bool report_cut(Loader *loader, const Node *list) {
  for (size_t i = 0; i + 1 < list->items.n; i++) {
    const Node *left = list->items.at[i], *right = list->items.at[i + 1];
    if (left->bad || right->bad || !is_cut(left, right)) continue;
    Place at = left->at;
    at.width = (int)(strlen(left->text) + 1 + strlen(right->text));
    Finding *finding = finding_add(loader->run, RULE_QUOTE_IT, at, "\"%s,%s\" is cut at the comma",
                                   left->text, right->text);
    finding_way_out(
        loader->run, finding,
        "write a decimal point, %s.%s, or a blank after a comma that parts two readings",
        left->text, right->text);
    return true;
  }
  return false;
}

static void add_values(Loader *loader, const Node *node, const char *key, ReadingLine *line) {
  if (node->kind != NODE_LIST) {
    add_value(loader, node, key, line);
    return;
  }
  if (report_cut(loader, node)) return;
  for (size_t i = 0; i < node->items.n; i++) add_value(loader, node->items.at[i], key, line);
}

void field_reading(Loader *loader, const Field *field, const Pair *pair, void *object) {
  add_values(loader, pair->value, field->key, object);
}

static const Field reading_fields[] = {
    {.key = "value", .type = FIELD_READING, .required = true, .doc = "the reading"},
    FIELD(ReadingLine, why, "why", TEXT, "what vouches for it, when it looks like a slip"),
};
static SHAPE(reading_shape, "reading", reading_fields, ReadingLine, NULL);

static bool is_given(const ReadingLine *line) {
  return line->values.n > 0 || line->word.s;
}

/* A plain reading, a list of them, or {value: 83.55 mm, why: read twice}. */
static void add_reading(Loader *loader, const Pair *pair, ReadingLine *line) {
  if (pair->value->kind == NODE_MAP)
    fill(loader, &reading_shape, pair->value, pair->value->at, line);
  else
    add_values(loader, pair->value, pair->key, line);
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
    if (!line.box || reading_left_out(box->value)) continue;
    add_reading(loader, box, &line);
    if (is_given(&line))
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
  if (reading_left_out(node)) return;
  if (node->kind == NODE_MAP && !shape_meets(&reading_shape, node)) {
    for (size_t i = 0; i < node->pairs.n; i++) {
      ReadingLine inner = line;
      inner.path = path_and(loader, &line.path, &node->pairs.at[i]);
      add_named(loader, &inner, &node->pairs.at[i], out);
    }
    return;
  }
  add_reading(loader, pair, &line);
  if (is_given(&line)) push_any(loader->run->arena, out, &line, sizeof line);
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
  if (reading_left_out(pair->value)) return;
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

static const Field check_fields[] = {
    FIELD(CheckLine, found, "found", WORD, "is it as the step says", .words = GO_WORDS,
          .required = true),
    FIELD(CheckLine, why, "why", TEXT, "what was seen"),
};
static SHAPE(check_shape, "result of a check", check_fields, CheckLine, NULL);

/* A word, or {found: no, why: a scratch}. */
void field_checks(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *step = &pair->value->pairs.at[i];
    CheckLine line = {.step = step->key, .at = step->key_at};
    if (reading_left_out(step->value)) continue;
    if (step->value->kind == NODE_MAP)
      fill(loader, &check_shape, step->value, step->key_at, &line);
    else
      field_word(loader, &check_fields[0], step, &line);
    if (line.found.s && is_go_word(line.found.s, &line.passed))
      push_any(loader->run->arena, (char *)object + field->offset, &line, sizeof line);
  }
}

/* ---- the file ---- */

static const Field readings_fields[] = {
    {.key = "kind", .type = FIELD_KIND, .offset = NOWHERE, .required = true, .doc = READINGS_KIND},
    FIELD(Readings, job, "job", JOB, "the job number of the packet", .required = true),
    FIELD(Readings, revision, "revision", WORD, "as printed at the foot of the packet's pages"),
    FIELD(Readings, date, "date", DATE, "when they were entered or taken"),
    FIELD(Readings, technician, "technician", TEXT, "who took them"),
    FIELD(Readings, lines, "boxes", BOX_READINGS, "readings by the number beside the box",
          .shape = &reading_shape),
    FIELD(Readings, lines, "readings", NAMED_READINGS, "readings by quantity, member, position",
          .shape = &reading_shape),
    FIELD(Readings, fitted, "fitted", FITTED, "what the decisions came to: part ids and sizes"),
    FIELD(Readings, checks, "checks", CHECKS, "what was looked at, by the step's number: is it so",
          .shape = &check_shape),
    FIELD(Readings, open_steps, "open", OPEN_STEPS, "steps that were left open, with the reason"),
    FIELD(Readings, notes, "notes", TEXTS, "remarks, printed on the nonconformance list"),
};
const Shape readings_shape = {"file of readings",
                              readings_fields,
                              COUNT(readings_fields),
                              sizeof(Readings),
                              NOWHERE,
                              offsetof(Readings, at),
                              NULL};
