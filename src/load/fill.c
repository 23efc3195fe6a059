/* The engine over the tables: keys to readers, what is unknown, what is missing. */
#include "load/field.h"

#include "base/near.h"

#include <string.h>

static FieldReader *const readers[FIELD_TYPE_COUNT] = {
#define TYPE(id, reader, what) reader,
    FIELD_TYPES(TYPE)
#undef TYPE
};

static const char *const type_words[FIELD_TYPE_COUNT] = {
#define TYPE(id, reader, what) what,
    FIELD_TYPES(TYPE)
#undef TYPE
};

const char *field_type_words(FieldType type) {
  return type_words[type];
}

typedef struct AnyVec {
  void *at;
  size_t n, room;
} AnyVec;

void push_any(Arena *arena, void *vec, const void *item, size_t size) {
  AnyVec any;
  memcpy(&any, vec, sizeof any); /* every VEC is laid out so */
  any.at = vec_room(arena, any.at, any.n, &any.room, size);
  memcpy((char *)any.at + any.n * size, item, size);
  any.n++;
  memcpy(vec, &any, sizeof any);
}

const Field *shape_find(const Shape *shape, const char *key) {
  for (size_t i = 0; i < shape->n; i++) {
    const char *known = shape->fields[i].key; /* most differ by their first letter */
    if (known[0] == key[0] && strcmp(known, key) == 0) return &shape->fields[i];
  }
  return NULL;
}

bool shape_meets(const Shape *shape, const Node *map) {
  for (size_t i = 0; i < map->pairs.n; i++) {
    if (shape_find(shape, map->pairs.at[i].key)) return true;
  }
  return false;
}

/* The keys of one mapping while it is filled. */
typedef struct Filling {
  Loader *loader;
  const Layer *layers;
  size_t n;
  const char *what; /* of the mapping: "joint" */
} Filling;

static const Field *field_of(const Filling *filling, const char *key, size_t *layer) {
  for (size_t i = 0; i < filling->n; i++) {
    const Field *field = shape_find(filling->layers[i].shape, key);
    if (!field) continue;
    *layer = i;
    return field;
  }
  return NULL;
}

/* Answers the key it was probably meant for, or NULL. */
static const char *report_unknown(const Filling *filling, const Pair *pair) {
  if (pair->value->bad) return NULL; /* the tail of something already reported */
  Loader *loader = filling->loader;
  Words known = {0};
  for (size_t l = filling->n; l-- > 0;) {
    const Shape *shape = filling->layers[l].shape;
    for (size_t i = 0; i < shape->n; i++)
      vec_push(loader->run->arena, &known, shape->fields[i].key);
  }
  Finding *finding =
      finding_add(loader->run, RULE_UNKNOWN_KEY, pair->key_at, "\"%s\" is no key of %s", pair->key,
                  with_article(loader, filling->what));
  say_near(loader, finding, pair->key, &known);
  return near_word(pair->key, &known);
}

/* Unknown keys are reported, and read on as what they were probably meant for: one
 * slip is one finding, not also a value that is missing. */
static const Node *read_as_meant(const Filling *filling, const Node *map) {
  size_t known = 0, in = 0;
  while (known < map->pairs.n && field_of(filling, map->pairs.at[known].key, &in)) known++;
  if (known == map->pairs.n) return map;
  Node *meant = arena_copy(filling->loader->run->arena, map, sizeof *map);
  meant->pairs.n = meant->pairs.room = 0;
  meant->pairs.at = NULL;
  for (size_t i = 0; i < map->pairs.n; i++) {
    size_t layer = 0;
    Pair pair = map->pairs.at[i];
    if (!field_of(filling, pair.key, &layer)) {
      const char *near = report_unknown(filling, &pair);
      meant->bad = true;
      if (!near || node_find(map, near, NULL) || node_find(meant, near, NULL)) continue;
      pair.key = near;
    }
    vec_push(filling->loader->run->arena, &meant->pairs, pair);
  }
  return meant;
}

static void fill_pair(const Filling *filling, const Pair *pair) {
  size_t layer = 0;
  const Field *field = field_of(filling, pair->key, &layer);
  /* A bad value is read too: it becomes a poison value without a word. */
  readers[field->type](filling->loader, field, pair, filling->layers[layer].object);
}

static void report_missing(const Filling *filling, const Shape *shape, const Node *map, Place at) {
  Run *run = filling->loader->run;
  for (size_t i = 0; i < shape->n; i++) {
    const Field *field = &shape->fields[i];
    if (!field->required || node_find(map, field->key, NULL)) continue;
    Finding *finding =
        finding_add(run, RULE_MISSING_KEY, at, "this %s has no \"%s\"", filling->what, field->key);
    finding_way_out(run, finding, "add %s: %s", field->key, field->doc);
  }
}

void fill_layers(Loader *loader, const Layer *layers, size_t n, const Node *map, Place at) {
  Filling filling = {.loader = loader, .layers = layers, .n = n, .what = layers[n - 1].shape->what};
  map = read_as_meant(&filling, map);
  for (size_t i = 0; i < map->pairs.n; i++) fill_pair(&filling, &map->pairs.at[i]);
  for (size_t i = 0; i < n; i++) {
    const Shape *shape = layers[i].shape;
    if (shape->place != NOWHERE) {
      memcpy((char *)layers[i].object + shape->place, &at, sizeof at);
    }
    report_missing(&filling, shape, map, at);
    if (shape->finish) shape->finish(loader, map, layers[i].object);
  }
}

void fill(Loader *loader, const Shape *shape, const Node *map, Place at, void *object) {
  Layer layer = {shape, object};
  fill_layers(loader, &layer, 1, map, at);
}

/* ---- structs inside structs ---- */

void field_one(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  char *at = (char *)object + field->offset;
  if (field->by_pointer) {
    void *made = arena_alloc(loader->run->arena, field->shape->size);
    memcpy(at, &made, sizeof made);
    at = made;
  }
  fill(loader, field->shape, pair->value, pair->key_at, at);
}

/* Fills one struct of a VEC and appends it. */
static void push_filled(Loader *loader, const Field *field, const char *name, const Node *map,
                        Place at, void *vec) {
  const Shape *shape = field->shape;
  Arena *arena = loader->run->arena;
  char *made = arena_alloc(arena, shape->size);
  if (name && shape->name != NOWHERE) memcpy(made + shape->name, &name, sizeof name);
  fill(loader, shape, map, at, made);
  if (field->by_pointer)
    push_any(arena, vec, &made, sizeof made);
  else
    push_any(arena, vec, made, shape->size);
}

void field_list(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_list(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->items.n; i++) {
    const Node *item = need_item(loader, field->shape, pair->value->items.at[i], field->key);
    if (!item) continue;
    push_filled(loader, field, NULL, item, item->at, (char *)object + field->offset);
  }
}

void field_named(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *named = &pair->value->pairs.at[i];
    if (named->value->bad || !need_map(loader, named->value, named->key)) continue;
    push_filled(loader, field, named->key, named->value, named->key_at,
                (char *)object + field->offset);
  }
}
