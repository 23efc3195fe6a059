#include "load/tables.h"

#include <string.h>

static bool is_in(const Shapes *shapes, const Shape *shape) {
  for (size_t i = 0; i < shapes->n; i++) {
    if (shapes->at[i] == shape) return true;
  }
  return false;
}

static void add(Arena *arena, Shapes *shapes, const Shape *shape) {
  if (shape && !is_in(shapes, shape)) vec_push(arena, shapes, shape);
}

static void add_inside(Arena *arena, Shapes *shapes, const Shape *shape) {
  for (size_t i = 0; i < shape->n; i++) {
    const Field *field = &shape->fields[i];
    add(arena, shapes, field->shape);
    if (field->type == FIELD_SOURCE) add(arena, shapes, &source_shape);
    if (field->type == FIELD_VALUES || field->type == FIELD_CHOICES)
      add(arena, shapes, &value_shape);
    if (field->type == FIELD_LIMITS) add(arena, shapes, &limit_shape);
  }
}

Shapes shapes_inside(Arena *arena) {
  Shapes shapes = {0};
  add_inside(arena, &shapes, &entry_shape);
  for (int kind = 0; kind < ENTRY_KIND_COUNT; kind++) {
    add_inside(arena, &shapes, shape_of_kind((EntryKind)kind));
  }
  add_inside(arena, &shapes, &readings_shape);
  for (size_t i = 0; i < shapes.n; i++) add_inside(arena, &shapes, shapes.at[i]);
  return shapes;
}

const char *shape_slug(Arena *arena, const Shapes *shapes, const Shape *shape) {
  size_t same = 0;
  for (size_t i = 0; i < shapes->n && shapes->at[i] != shape; i++) {
    same += text_is(shapes->at[i]->what, shape->what);
  }
  char *slug = arena_text(arena, shape->what, strlen(shape->what));
  for (char *at = slug; *at; at++) {
    if (*at == ' ' || *at == '\'') *at = '_';
  }
  return same > 0 ? arena_printf(arena, "%s_%zu", slug, same + 1) : slug;
}
