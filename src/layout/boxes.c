#include "layout/boxes.h"

#include <string.h>

#define TYPED_SIDE MM(1.2)

void tick_set(Sketch *sketch, Um x, Um y, bool ticked) {
  sketch_box(sketch, x, y, TICK_SIDE, TICK_SIDE, LINE_RULE);
  if (!ticked) return;
  Um s = TICK_SIDE;
  Point points[] = {
      {x + s * 20 / 100, y + s * 52 / 100}, {x + s * 31 / 100, y + s * 42 / 100},
      {x + s * 43 / 100, y + s * 57 / 100}, {x + s * 72 / 100, y + s * 17 / 100},
      {x + s * 83 / 100, y + s * 25 / 100}, {x + s * 44 / 100, y + s * 82 / 100},
  };
  sketch_polygon(sketch, points, sizeof points / sizeof *points, 0, true, INK_BLACK);
}

static int clamped(int value, int least, int most) {
  return value < least ? least : value > most ? most : value;
}

static int digits_before(const NumericBox *box) {
  return clamped(box->whole, 1, 9) + (box->sign ? 1 : 0);
}

static int digits_after(const NumericBox *box) {
  return clamped(box->places, 0, 6);
}

Um numeric_box_width(const NumericBox *box) {
  int characters = digits_before(box) + digits_after(box) + (digits_after(box) > 0 ? 1 : 0);
  Um width = DIGIT_PITCH * characters + MM(5);
  Um typed = box->value ? type_width(TYPE_VALUE, box->value) + MM(3) : 0;
  return typed > width ? typed : width;
}

void numeric_box_set(Layout *layout, Sketch *sketch, Um x, Um y, const NumericBox *box) {
  Um width = numeric_box_width(box), bottom = y + WRITE_HEIGHT, line = x + MM(2.5);
  sketch_box(sketch, x, y, width, WRITE_HEIGHT, LINE_RULE);
  if (box->value) {
    Um middle = y + (WRITE_HEIGHT - type_of(TYPE_VALUE)->leading) / 2;
    line_set_centre(layout, sketch, x + width / 2, middle, width - MM(2), TYPE_VALUE, box->value);
    return;
  }
  int before = digits_before(box), after = digits_after(box);
  int cells = before + after + (after > 0 ? 1 : 0);
  for (int i = 1; i < cells; i++) {
    if (after > 0 && (i == before || i == before + 1)) continue; /* the mark parts them */
    Um at = line + DIGIT_PITCH * i;
    sketch_line(sketch, at, bottom - MM(1.6), at, bottom, LINE_HAIR);
  }
  if (after > 0)
    sketch_circle(sketch, line + DIGIT_PITCH * before + DIGIT_PITCH / 2, bottom - MM(2.1), MM(0.75),
                  0, true);
}

/* What is typed stands large where it fits, else small and on two lines. */
static void typed_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const char *text) {
  Um room = width - 2 * TYPED_SIDE;
  bool number = !text[strspn(text, "+-.0123456789")];
  TypeName type = number ? TYPE_VALUE : TYPE_BODY_BOLD;
  if (type_width(type, text) > room) type = TYPE_LABEL_BOLD;
  Paragraph paragraph = {.type = type, .text = text, .width = room, .align = ALIGN_CENTRE};
  Sketch words = {.arena = layout->arena};
  Um height = paragraph_set(layout, &words, x + TYPED_SIDE, 0, &paragraph);
  sketch_add(sketch, &words, 0, y + (WRITE_HEIGHT - height) / 2);
}

Um written_boxes_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const Words *labels,
                     const Words *typed) {
  Um tallest = 0;
  for (size_t i = 0; i < labels->n; i++) {
    Sketch trial = {.arena = layout->arena};
    Um height = text_set(layout, &trial, 0, 0, width, TYPE_LABEL, labels->at[i]);
    if (height > tallest) tallest = height;
  }
  for (size_t i = 0; i < labels->n; i++) {
    Sketch label = {.arena = layout->arena};
    Um left = x + (Um)i * (width + BOX_GAP);
    Um height = text_set(layout, &label, left, y, width, TYPE_LABEL, labels->at[i]);
    sketch_add(sketch, &label, 0, tallest - height);
    sketch_box(sketch, left, y + tallest, width, WRITE_HEIGHT, LINE_BOX);
    if (typed && i < typed->n) typed_set(layout, sketch, left, y + tallest, width, typed->at[i]);
  }
  return tallest + WRITE_HEIGHT;
}

Um written_box_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const char *label) {
  Um top = y + type_of(TYPE_LABEL)->leading;
  line_set(layout, sketch, x, y, width, TYPE_LABEL, label);
  sketch_box(sketch, x, top, width, WRITE_HEIGHT, LINE_BOX);
  return top + WRITE_HEIGHT - y;
}
