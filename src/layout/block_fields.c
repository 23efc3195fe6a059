/* Labels with values, or with lines to write on. */
#include "layout/block.h"

#include "layout/boxes.h"

#define TWELFTHS  12
#define FIELD_GAP MM(4)
#define ROW_GAP   MM(2.4)

static int twelfths(const Field *field) {
  return field->width < 1 || field->width > TWELFTHS ? TWELFTHS : field->width;
}

/* How many fields share a line from the first on. */
static size_t row_end(const Field *fields, size_t count, size_t first) {
  int taken = 0;
  size_t end = first;
  while (end < count && taken + twelfths(&fields[end]) <= TWELFTHS)
    taken += twelfths(&fields[end++]);
  return end;
}

static Um field_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const Field *field,
                    Um label_height) {
  Sketch label = {.arena = layout->arena};
  Um own = text_set(layout, &label, x, y, width, TYPE_LABEL, field->label);
  sketch_add(sketch, &label, 0, label_height - own); /* labels of a line stand on one level */
  Um top = y + label_height;
  if (field->value)
    return label_height + text_set(layout, sketch, x, top, width, TYPE_BODY, field->value);
  Um line = top + WRITE_HEIGHT - MM(1.5);
  sketch_line(sketch, x, line, x + width, line, LINE_HAIR);
  return label_height + WRITE_HEIGHT - MM(1.5);
}

static Um row_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const Field *fields,
                  size_t count) {
  Sketch trial = {.arena = layout->arena};
  Um label = type_of(TYPE_LABEL)->leading, height = label;
  for (int drawn = 0; drawn < 2; drawn++) {
    int at = 0;
    for (size_t i = 0; i < count; i++) {
      Um left = (Um)((int64_t)width * at / TWELFTHS);
      Um wide = (Um)((int64_t)width * twelfths(&fields[i]) / TWELFTHS);
      at += twelfths(&fields[i]);
      if (at < TWELFTHS) wide -= FIELD_GAP;
      Um more = drawn ? field_set(layout, sketch, x + left, y, wide, &fields[i], label)
                      : text_set(layout, &trial, 0, 0, wide, TYPE_LABEL, fields[i].label);
      if (!drawn && more > label) label = more;
      if (drawn && more > height) height = more;
    }
  }
  return height;
}

Um fields_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const Field *fields,
              size_t count) {
  Um at = y;
  for (size_t i = 0; i < count;) {
    size_t end = row_end(fields, count, i);
    if (i > 0) at += ROW_GAP;
    at += row_set(layout, sketch, x, at, width, fields + i, end - i);
    i = end;
  }
  return at - y;
}

void form_fields(Form *form, const Block *block) {
  const Field *fields = block->fields.at;
  for (size_t i = 0; i < block->fields.n;) {
    size_t end = row_end(fields, block->fields.n, i);
    Piece *row = form_piece(form, i == 0 ? MM(4) : ROW_GAP);
    row->height = row_set(form->layout, &row->sketch, 0, 0, COLUMN_WIDTH, fields + i, end - i);
    i = end;
  }
}
