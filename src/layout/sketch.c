#include "layout/sketch.h"

#include <math.h>

Mark *sketch_mark(Sketch *sketch, MarkKind kind) {
  Mark mark = {.kind = kind, .group = -1};
  vec_push(sketch->arena, &sketch->marks, mark);
  return &sketch->marks.at[sketch->marks.n - 1];
}

static Mark *spanning(Sketch *sketch, MarkKind kind, Um x, Um y, Um x2, Um y2) {
  Mark *mark = sketch_mark(sketch, kind);
  mark->x = x;
  mark->y = y;
  mark->x2 = x2;
  mark->y2 = y2;
  return mark;
}

void sketch_line(Sketch *sketch, Um x, Um y, Um x2, Um y2, Um width) {
  spanning(sketch, MARK_LINE, x, y, x2, y2)->width = width;
}

void sketch_dashed(Sketch *sketch, Um x, Um y, Um x2, Um y2, Um width) {
  Mark *mark = spanning(sketch, MARK_LINE, x, y, x2, y2);
  mark->width = width;
  mark->dashed = true;
}

void sketch_box(Sketch *sketch, Um x, Um y, Um width, Um height, Um line) {
  Um in = line / 2;
  spanning(sketch, MARK_RECTANGLE, x + in, y + in, x + width - in, y + height - in)->width = line;
}

void sketch_fill(Sketch *sketch, Um x, Um y, Um width, Um height, Ink ink) {
  Mark *mark = spanning(sketch, MARK_RECTANGLE, x, y, x + width, y + height);
  mark->filled = true;
  mark->ink = ink;
}

void sketch_polygon(Sketch *sketch, const Point *points, size_t count, Um line, bool filled,
                    Ink ink) {
  Mark *mark = sketch_mark(sketch, MARK_POLYGON);
  mark->points = arena_copy(sketch->arena, points, count * sizeof *points);
  mark->point_count = (uint32_t)count;
  mark->width = line;
  mark->filled = filled;
  mark->ink = ink;
}

void sketch_circle(Sketch *sketch, Um x, Um y, Um radius, Um line, bool filled) {
  Mark *mark = spanning(sketch, MARK_CIRCLE, x, y, radius, 0);
  mark->width = line;
  mark->filled = filled;
}

void sketch_arc(Sketch *sketch, Um x, Um y, Um radius, double from, double to, Um line) {
  Mark *mark = spanning(sketch, MARK_ARC, x, y, radius, (Um)lround(from * 1000));
  mark->y3 = (Um)lround(to * 1000);
  mark->width = line;
}

static void arrow_head(Sketch *sketch, Um x, Um y, Um x2, Um y2) {
  double dx = (double)x2 - x, dy = (double)y2 - y, length = hypot(dx, dy);
  if (!(length > 0)) return;
  const double deep = MM(2.4), half = MM(0.8);
  double ux = dx / length, uy = dy / length;
  Point points[3] = {
      {x2, y2},
      {(Um)lround(x2 - deep * ux + half * uy), (Um)lround(y2 - deep * uy - half * ux)},
      {(Um)lround(x2 - deep * ux - half * uy), (Um)lround(y2 - deep * uy + half * ux)},
  };
  sketch_polygon(sketch, points, 3, 0, true, INK_BLACK);
}

void sketch_arrow(Sketch *sketch, Um x, Um y, Um x2, Um y2, Um line) {
  sketch_line(sketch, x, y, x2, y2, line);
  arrow_head(sketch, x, y, x2, y2);
}

void sketch_measure(Sketch *sketch, Um x, Um y, Um x2, Um y2) {
  sketch_line(sketch, x, y, x2, y2, LINE_HAIR);
  arrow_head(sketch, x, y, x2, y2);
  arrow_head(sketch, x2, y2, x, y);
}

void sketch_text(Sketch *sketch, Um x, Um baseline, const Type *type, const char *text, Ink ink) {
  if (text[0] == '\0') return;
  Mark *mark = spanning(sketch, MARK_TEXT, x, baseline, 0, 0);
  mark->face = type->face;
  mark->size = type->size;
  mark->text = text;
  mark->ink = ink;
}

/* What a mark's second pair means differs: only corners and ends move. */
void mark_move(Arena *arena, Mark *mark, Um dx, Um dy) {
  mark->x += dx;
  mark->y += dy;
  if (mark->kind == MARK_LINE || mark->kind == MARK_RECTANGLE || mark->kind == MARK_LINK) {
    mark->x2 += dx;
    mark->y2 += dy;
  }
  if (mark->kind != MARK_POLYGON) return;
  Point *points = arena_copy(arena, mark->points, mark->point_count * sizeof *points);
  for (uint32_t i = 0; i < mark->point_count; i++) {
    points[i].x += dx;
    points[i].y += dy;
  }
  mark->points = points;
}

void sketch_add(Sketch *sketch, const Sketch *other, Um dx, Um dy) {
  for (size_t i = 0; i < other->marks.n; i++) {
    Mark mark = other->marks.at[i];
    mark_move(sketch->arena, &mark, dx, dy);
    vec_push(sketch->arena, &sketch->marks, mark);
  }
}

Um mark_bottom(const Mark *mark) {
  Um bottom = mark->y;
  switch (mark->kind) {
  case MARK_LINE:
  case MARK_RECTANGLE:
  case MARK_LINK:
    if (mark->y2 > bottom) bottom = mark->y2;
    break;
  case MARK_POLYGON:
    bottom = INT32_MIN;
    for (uint32_t i = 0; i < mark->point_count; i++)
      if (mark->points[i].y > bottom) bottom = mark->points[i].y;
    break;
  case MARK_CIRCLE:
  case MARK_ARC:
    bottom += mark->x2;
    break;
  case MARK_TEXT:
    break;
  }
  return bottom;
}
