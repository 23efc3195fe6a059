/* A size read several times at each of several places, without limits of its own: a grid, places
 * down and readings across, what they share said at its first row. */
#include "layout/measure_row.h"

#include <string.h>

#define LEAST_PLACE MM(27) /* for the number of the box and the place below it */

Um grid_boxes_x(const MeasureRow *row) {
  return row_boxes_end(row) - row_boxes_width(row, row_readings(row));
}

/* "top across" of "Bore, left, top across"; NULL: no place is named. */
static const char *place_of(const MeasureRow *row) {
  const char *place = NULL;
  for (const char *at = row->what ? row->what : ""; (at = strstr(at, ", ")); at += 2)
    place = at + 2;
  return place;
}

static bool same_size(const MeasureRow *a, const MeasureRow *b) {
  const char *place = place_of(a), *other = place_of(b);
  if (!place || !other || place - a->what != other - b->what) return false;
  return strncmp(a->what, b->what, (size_t)(place - a->what)) == 0;
}

static bool is_alike(const Block *a, const Block *b) {
  if (a->kind != BLOCK_MEASURE || b->kind != BLOCK_MEASURE || a->changed != b->changed)
    return false;
  const MeasureRow *row = &a->measure, *other = &b->measure;
  return row_readings(row) > 1 && row_readings(row) == row_readings(other) &&
         !row_has_limits(row) && !row_has_limits(other) && same_size(row, other) &&
         text_is(row->gauge, other->gauge) && text_is(row->kind, other->kind) &&
         text_is(row->unit, other->unit) && text_is(row->agree, other->agree) &&
         row->whole_digits == other->whole_digits && row->places == other->places &&
         grid_boxes_x(row) >= LEAST_PLACE && grid_boxes_x(row) == grid_boxes_x(other);
}

bool in_grid_before(const Form *form, size_t at) {
  return at > 0 && is_alike(form->group->blocks.at[at - 1], form->group->blocks.at[at]);
}

bool in_grid(const Form *form, size_t at) {
  return in_grid_before(form, at) ||
         (at + 1 < form->group->blocks.n && in_grid_before(form, at + 1));
}

/* What stands above the boxes again where the grid goes on on another page. */
static Piece *labels_again(Form *form, const MeasureRow *row) {
  Piece *piece = ARENA_NEW(form->layout->arena, Piece);
  piece->sketch.arena = form->layout->arena;
  piece->block = form->block;
  Um x = grid_boxes_x(row);
  for (int i = 0; i < row_readings(row); i++) {
    NumericBox box = row_box(row, i);
    line_set(form->layout, &piece->sketch, x, 0, 0, TYPE_LABEL,
             arena_printf(form->layout->arena, "reading %d", i + 1));
    x += numeric_box_width(&box) + BOX_GAP;
  }
  line_set(form->layout, &piece->sketch, COLUMN_WIDTH - INITIALS, 0, INITIALS, TYPE_LABEL,
           "initials");
  piece->height = type_of(TYPE_LABEL)->leading;
  return piece;
}

void form_grid_row(Form *form, const Block *block) {
  Layout *layout = form->layout;
  const MeasureRow *row = &block->measure;
  Piece *piece = form_piece(form, 0);
  piece->space = MM(3.2); /* boxes below one another keep their distance */
  piece->head = labels_again(form, row);
  Sketch *sketch = &piece->sketch;
  Um x = grid_boxes_x(row), unit = (WRITE_HEIGHT - type_of(TYPE_BODY)->leading) / 2;
  Um below = type_of(TYPE_STEP)->leading - MM(0.6);
  line_set(layout, sketch, 0, -MM(0.6), 0, TYPE_STEP_BOLD,
           arena_printf(layout->arena, "Box %d", row->box));
  Um height = below + text_set(layout, sketch, 0, below, x - MM(1), TYPE_BODY, place_of(row));
  for (int i = 0; i < row_readings(row); i++) {
    NumericBox box = row_box(row, i);
    numeric_box_set(layout, sketch, x, 0, &box);
    x += numeric_box_width(&box) + BOX_GAP;
  }
  line_set(layout, sketch, x - BOX_GAP + MM(2), unit, 0, TYPE_BODY, row->unit ? row->unit : "");
  sketch_box(sketch, COLUMN_WIDTH - INITIALS, 0, INITIALS, WRITE_HEIGHT, LINE_BOX);
  piece->height = (height > WRITE_HEIGHT ? height : WRITE_HEIGHT) + MM(0.3);
}
