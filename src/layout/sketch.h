/* Marks put together at a place of their own, to be moved onto a page later. */
#ifndef SHEAF_LAYOUT_SKETCH_H
#define SHEAF_LAYOUT_SKETCH_H

#include "layout/type.h"

/* Widths of lines, in micrometres; the thinnest is half a point. */
#define LINE_HAIR   POINTS(0.5)
#define LINE_BOX    POINTS(0.75)
#define LINE_RULE   POINTS(1)
#define LINE_STRONG POINTS(1.5)
#define LINE_HEAVY  POINTS(3)
#define LINE_GRAVE  POINTS(4.5)

typedef struct Sketch {
  Arena *arena;
  VEC(Mark) marks;
} Sketch;

/* A mark of that kind appended; valid until the next one. */
Mark *sketch_mark(Sketch *sketch, MarkKind kind);
void sketch_line(Sketch *sketch, Um x, Um y, Um x2, Um y2, Um width);
void sketch_dashed(Sketch *sketch, Um x, Um y, Um x2, Um y2, Um width);
/* The line stays within the box, whatever its width. */
void sketch_box(Sketch *sketch, Um x, Um y, Um width, Um height, Um line);
void sketch_fill(Sketch *sketch, Um x, Um y, Um width, Um height, Ink ink);
/* points are copied */
void sketch_polygon(Sketch *sketch, const Point *points, size_t count, Um line, bool filled,
                    Ink ink);
void sketch_circle(Sketch *sketch, Um x, Um y, Um radius, Um line, bool filled);
/* Degrees clockwise from twelve o'clock. */
void sketch_arc(Sketch *sketch, Um x, Um y, Um radius, double from, double to, Um line);
/* A straight arrow; the head is at the second point. */
void sketch_arrow(Sketch *sketch, Um x, Um y, Um x2, Um y2, Um line);
/* Arrow heads at both ends. */
void sketch_measure(Sketch *sketch, Um x, Um y, Um x2, Um y2);
/* Text as it is, on its baseline: for text that went through text_clean. */
void sketch_text(Sketch *sketch, Um x, Um baseline, const Type *type, const char *text, Ink ink);
/* All marks of another sketch, moved. */
void sketch_add(Sketch *sketch, const Sketch *other, Um dx, Um dy);
/* The lowest point of the mark's ink; of a text, its baseline. */
Um mark_bottom(const Mark *mark);
void mark_move(Arena *arena, Mark *mark, Um dx, Um dy);

#endif
