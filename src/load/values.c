/* Values and limits: plain, by condition, by member, or written out as a record. */
#include "load/field.h"

#include "trade/thread.h"

#include <string.h>

/* ---- values ---- */

typedef struct ValueRecord {
  ValueChoice choice;
  const Node *value;
} ValueRecord;

static const Field value_fields[] = {
    {.key = "value",
     .type = FIELD_EXPR,
     .offset = NOWHERE,
     .required = true,
     .doc = "the number with its unit and tolerance, or a formula"},
    FIELD(ValueChoice, when, "when", CONDITION, "holds only under this condition"),
    FIELD(ValueChoice, page, "page", WORD, "page of the sheet"),
    FIELD(ValueChoice, why, "why", TEXT, "the reason"),
    FIELD(ValueChoice, note, "note", TEXT, "told by `sheaf show`"),
};
const Shape value_shape = {"value",
                           value_fields,
                           COUNT(value_fields),
                           sizeof(ValueChoice),
                           NOWHERE,
                           offsetof(ValueChoice, at),
                           NULL};

static Words words_and(Loader *loader, const Words *path, const char *more) {
  Words out = {0};
  for (size_t i = 0; i < path->n; i++) vec_push(loader->run->arena, &out, path->at[i]);
  vec_push(loader->run->arena, &out, more);
  return out;
}

static Places places_and(Loader *loader, const Places *path, Place more) {
  Places out = {0};
  for (size_t i = 0; i < path->n; i++) vec_push(loader->run->arena, &out, path->at[i]);
  vec_push(loader->run->arena, &out, more);
  return out;
}

static void add_value(Loader *loader, const Node *node, const ValueChoice *base, const char *key,
                      void *out);

static void add_value_record(Loader *loader, const Node *node, const ValueChoice *base, void *out) {
  ValueChoice record = *base;
  record.at = node->at;
  const Node *value = NULL;
  for (size_t i = 0; i < node->pairs.n; i++) {
    if (text_is(node->pairs.at[i].key, "value")) value = node->pairs.at[i].value;
  }
  /* "value" itself may go by member, so it is read below, not by the table. */
  Node others = {.kind = NODE_MAP, .at = node->at};
  for (size_t i = 0; i < node->pairs.n; i++) {
    if (!text_is(node->pairs.at[i].key, "value")) {
      vec_push(loader->run->arena, &others.pairs, node->pairs.at[i]);
    }
  }
  static const Shape others_shape = {
      "value", &value_fields[1], COUNT(value_fields) - 1, sizeof(ValueChoice), NOWHERE, NOWHERE,
      NULL};
  fill(loader, &others_shape, &others, node->at, &record);
  if (!value) {
    finding_add(loader->run, RULE_MISSING_KEY, node->at, "this value has no \"value\"");
    return;
  }
  add_value(loader, value, &record, "value", out);
}

/* Adds what node says to out, a VEC(ValueChoice). */
static void add_value(Loader *loader, const Node *node, const ValueChoice *base, const char *key,
                      void *out) {
  if (node->kind == NODE_SCALAR || node->bad) {
    ValueChoice choice = *base;
    if (choice.at.line == 0) choice.at = node->at;
    choice.value = node->bad ? (Expr){.kind = EXPR_BAD, .at = node->at} /* poison, not "left out" */
                             : expr_of(loader, node, key, true);
    push_any(loader->run->arena, out, &choice, sizeof choice);
    return;
  }
  bool list = node->kind == NODE_LIST;
  size_t n = list ? node->items.n : node->pairs.n;
  if (n == 0) {
    finding_add(loader->run, RULE_EMPTY_VALUE, node->at, "\"%s\" holds nothing", key);
    return;
  }
  if (!list && shape_meets(&value_shape, node)) {
    add_value_record(loader, node, base, out);
    return;
  }
  for (size_t i = 0; i < n; i++) { /* as deep as the file, which read bounds */
    ValueChoice inner = *base;
    inner.at = list ? node->items.at[i]->at : node->pairs.at[i].key_at;
    if (!list) {
      inner.member = words_and(loader, &base->member, node->pairs.at[i].key);
      inner.member_at = places_and(loader, &base->member_at, node->pairs.at[i].key_at);
    }
    add_value(loader, list ? node->items.at[i] : node->pairs.at[i].value, &inner,
              list ? key : node->pairs.at[i].key, out);
  }
}

void field_choices(Loader *loader, const Field *field, const Pair *pair, void *object) {
  ValueChoice base = {.at = {0}};
  if (pair->value->bad) { /* poison, not "left out" */
    base.value = (Expr){.kind = EXPR_BAD, .at = pair->value->at};
    push_any(loader->run->arena, (char *)object + field->offset, &base, sizeof base);
    return;
  }
  add_value(loader, pair->value, &base, field->key, (char *)object + field->offset);
}

void field_values(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *named = &pair->value->pairs.at[i];
    ValueDecl *decl = ARENA_NEW(loader->run->arena, ValueDecl);
    decl->name = named->key;
    decl->at = named->key_at;
    ValueChoice base = {.at = {0}};
    add_value(loader, named->value, &base, named->key, &decl->choices);
    if (decl->choices.n == 0) { /* reported: a poison value keeps later stages quiet */
      base.at = named->value->at;
      base.value = (Expr){.kind = EXPR_BAD, .at = base.at};
      vec_push(loader->run->arena, &decl->choices, base);
    }
    push_any(loader->run->arena, (char *)object + field->offset, &decl, sizeof decl);
  }
}

/* ---- limits ---- */

static const Field limit_fields[] = {
    FIELD(LimitChoice, min, "allowed", BAND, "a band: LOW to HIGH, at least, at most, or +-"),
    FIELD(LimitChoice, min, "min", EXPR, "least that is allowed", .extent = EXTENT_EXACT),
    FIELD(LimitChoice, target, "target", EXPR, "what to aim at", .extent = EXTENT_EXACT),
    FIELD(LimitChoice, max, "max", EXPR, "most that is allowed", .extent = EXTENT_EXACT),
    FIELD(LimitChoice, when, "when", CONDITION, "holds only under this condition"),
    FIELD(LimitChoice, occasion, "occasion", WORD, "which measurement it judges; final if left out",
          .names = NAME_OCCASION),
    FIELD(LimitChoice, page, "page", WORD, "page of the sheet"),
    FIELD(LimitChoice, why, "why", TEXT, "the reason"),
    FIELD(LimitChoice, note, "note", TEXT, "for the reader of the file"),
};

static bool is_number(const Expr *expr) {
  return expr->kind == EXPR_LITERAL;
}

/* Degrees before a dead centre count backwards: the larger is the earlier. */
static bool counts_backwards(const Expr *expr) {
  return expr->kind == EXPR_NONE || (is_number(expr) && expr->literal.unit->factor < 0);
}

static void exchange_ends(LimitChoice *limit) {
  Expr earlier = limit->max;
  limit->max = limit->min;
  limit->min = earlier;
}

/* back: min as it is written has become max. */
static void check_target(Loader *loader, const LimitChoice *limit, bool back) {
  if (!is_number(&limit->target)) return;
  double target = limit->target.literal.nominal;
  const Expr *end = NULL;
  if (is_number(&limit->min) && target < limit->min.literal.nominal) end = &limit->min;
  if (is_number(&limit->max) && target > limit->max.literal.nominal) end = &limit->max;
  if (!end) return;
  Finding *finding =
      finding_add(loader->run, RULE_TARGET_OUTSIDE, limit->target.at,
                  "the target %s lies outside the limits: %s %s", limit->target.literal.text,
                  (end == &limit->min) != back ? "min" : "max", end->literal.text);
  finding_note(loader->run, finding, end->at, "the limit is given here");
}

static void check_limit(Loader *loader, const Node *map, void *object) {
  LimitChoice *limit = object;
  Place allowed;
  bool ends =
      node_find(map, "min", NULL) || node_find(map, "target", NULL) || node_find(map, "max", NULL);
  if (node_find(map, "allowed", &allowed) && ends) {
    Finding *finding =
        finding_add(loader->run, RULE_REPEATED_KEY, allowed,
                    "\"allowed\" and \"min\", \"target\" or \"max\" say the same thing twice");
    finding_way_out(loader->run, finding, "keep one of the two");
  }
  if (limit->min.kind == EXPR_NONE && limit->max.kind == EXPR_NONE) {
    Finding *finding = finding_add(loader->run, RULE_MISSING_KEY, limit->at,
                                   "this limit has neither \"min\" nor \"max\"");
    finding_way_out(loader->run, finding, "give min, max, or both; or allowed: LOW to HIGH");
    return;
  }
  const Expr *with = is_number(&limit->min) ? &limit->min : &limit->max;
  Expr *others[] = {&limit->max, &limit->target};
  for (size_t i = 0; i < COUNT(others); i++) {
    if (!is_number(with) || !is_number(others[i])) continue;
    if (!literal_need(loader->run, others[i]->at, &others[i]->literal, with->literal.unit->dim,
                      NULL)) {
      others[i]->kind = EXPR_BAD;
    }
  }
  bool back = ends && counts_backwards(&limit->min) && counts_backwards(&limit->max);
  double sign = back ? -1 : 1;
  if (is_number(&limit->min) && is_number(&limit->max) &&
      sign * limit->min.literal.nominal > sign * limit->max.literal.nominal) {
    Finding *finding =
        finding_add(loader->run, RULE_BAND_REVERSED, limit->min.at, "min %s lies above max %s",
                    limit->min.literal.text, limit->max.literal.text);
    finding_note(loader->run, finding, limit->max.at, "max is given here");
    limit->min.kind = limit->max.kind = EXPR_BAD;
    return;
  }
  if (back) exchange_ends(limit);
  check_target(loader, limit, back);
}

const Shape limit_shape = {"limit",
                           limit_fields,
                           COUNT(limit_fields),
                           sizeof(LimitChoice),
                           NOWHERE,
                           offsetof(LimitChoice, at),
                           check_limit};

static Expr end_of(Loader *loader, const Expr *band, double si) {
  Expr end = *band;
  end.literal.shape = LITERAL_EXACT;
  end.literal.nominal = end.literal.low = end.literal.high = si;
  end.literal.text =
      quantity_print(loader->run->arena, si, band->literal.unit, band->literal.places);
  return end;
}

/* A band as min, target and max. */
static void take_band(Loader *loader, const Node *node, const char *key, LimitChoice *limit) {
  Expr band = expr_of(loader, node, key, true);
  if (band.kind == EXPR_FORMULA ||
      (band.kind == EXPR_LITERAL && band.literal.shape == LITERAL_EXACT)) {
    Finding *finding = finding_add(loader->run, RULE_BAD_NUMBER, node->at,
                                   "one %s is no limit: it does not say which side is allowed",
                                   band.kind == EXPR_FORMULA ? "formula" : "number");
    finding_way_out(loader->run, finding,
                    "write at least, at most, LOW to HIGH, or {min: ..., max: ...}");
    band.kind = EXPR_BAD;
  }
  if (band.kind != EXPR_LITERAL) {
    limit->min = limit->max = (Expr){.kind = EXPR_BAD, .at = node->at};
    return;
  }
  const Literal *literal = &band.literal;
  if (literal->shape != LITERAL_AT_MOST) limit->min = end_of(loader, &band, literal->low);
  if (literal->shape != LITERAL_AT_LEAST) limit->max = end_of(loader, &band, literal->high);
  if (literal->shape == LITERAL_TOLERANCE) limit->target = end_of(loader, &band, literal->nominal);
}

void field_band(Loader *loader, const Field *field, const Pair *pair, void *object) {
  take_band(loader, pair->value, field->key, object);
}

static void add_limit(Loader *loader, const Node *node, const LimitChoice *base, const char *key,
                      LimitDecl *out) {
  LimitChoice limit = *base;
  limit.at = node->at;
  if (node->bad) { /* poison, not "left out" */
    limit.min = limit.max = (Expr){.kind = EXPR_BAD, .at = node->at};
    vec_push(loader->run->arena, &out->choices, limit);
    return;
  }
  bool map = node->kind == NODE_MAP, record = map && shape_meets(&limit_shape, node);
  if (node->kind == NODE_SCALAR) take_band(loader, node, key, &limit);
  if (record) fill(loader, &limit_shape, node, node->at, &limit);
  if (node->kind == NODE_SCALAR || record) {
    vec_push(loader->run->arena, &out->choices, limit);
    return;
  }
  size_t n = map ? node->pairs.n : node->items.n;
  if (n == 0) finding_add(loader->run, RULE_EMPTY_VALUE, node->at, "\"%s\" holds nothing", key);
  for (size_t i = 0; i < n; i++) { /* as deep as the file, which read bounds */
    LimitChoice inner = *base;
    if (map) {
      inner.member = words_and(loader, &base->member, node->pairs.at[i].key);
      inner.member_at = places_and(loader, &base->member_at, node->pairs.at[i].key_at);
    }
    add_limit(loader, map ? node->pairs.at[i].value : node->items.at[i], &inner,
              map ? node->pairs.at[i].key : key, out);
  }
}

void field_limits(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *named = &pair->value->pairs.at[i];
    LimitDecl *decl = ARENA_NEW(loader->run->arena, LimitDecl);
    decl->name = named->key;
    decl->at = named->key_at;
    LimitChoice base = {.at = {0}};
    add_limit(loader, named->value, &base, named->key, decl);
    if (decl->choices.n == 0) {
      base.at = named->value->at;
      base.min = base.max = (Expr){.kind = EXPR_BAD, .at = base.at};
      vec_push(loader->run->arena, &decl->choices, base);
    }
    push_any(loader->run->arena, (char *)object + field->offset, &decl, sizeof decl);
  }
}

/* ---- mates ---- */

void field_mates(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *named = &pair->value->pairs.at[i];
    const Node *node = named->value;
    if (!need_word(loader, node, named->key)) continue;
    Mate mate = {.name = named->key, .at = named->key_at};
    char first = node->text[0];
    bool letter = (first >= 'a' && first <= 'z') || (first >= 'A' && first <= 'Z');
    Thread thread; /* an inch thread begins with a digit and is no number */
    mate.is_word =
        thread_parse(node->text, &thread) ||
        (letter && !text_starts(node->text, "at least ") && !text_starts(node->text, "at most "));
    if (mate.is_word)
      mate.word = said_word(loader, node, named->key);
    else
      mate.value = expr_of(loader, node, named->key, true);
    push_any(loader->run->arena, (char *)object + field->offset, &mate, sizeof mate);
  }
}
