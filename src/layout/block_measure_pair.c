/* Two measured rows on one line: the same size at two places, each with one reading and no limits
 * of its own. */
#include "layout/measure_row.h"

#define PAIR_GAP   MM(7)
#define PAIR_WIDTH ((COLUMN_WIDTH - PAIR_GAP) / 2)
#define PAIR_BOX_X MM(20) /* from the left of its half to the text of a box */

/* One reading without limits of its own takes half a line. */
static bool is_short(const Block *block) {
  const MeasureRow *row = &block->measure;
  if (block->kind != BLOCK_MEASURE || row_has_limits(row) || row_readings(row) > 1) return false;
  NumericBox box = row_box(row, 0);
  Um needed = PAIR_BOX_X + numeric_box_width(&box) + MM(2) +
              type_width(TYPE_BODY, row->unit ? row->unit : "") + BOX_GAP + INITIALS;
  return needed <= PAIR_WIDTH &&
         type_width(TYPE_STEP, row->what ? row->what : "") <= 2 * (PAIR_WIDTH - PAIR_BOX_X);
}

/* The same size read with the same gauge at another place. */
static bool is_alike(const Block *a, const Block *b) {
  if (!is_short(a) || !is_short(b) || a->changed != b->changed) return false;
  return text_is(a->measure.gauge, b->measure.gauge) && text_is(a->measure.unit, b->measure.unit) &&
         text_is(a->measure.kind, b->measure.kind) && a->measure.places == b->measure.places;
}

/* How many boxes like this one stand right before it. */
static size_t alike_before(const Form *form, size_t at) {
  size_t count = 0;
  for (; at > 0 && is_alike(form->group->blocks.at[at - 1], form->group->blocks.at[at]); at--)
    count++;
  return count;
}

/* The words take at least that height, so that two boxes side by side stand on one level. Answers
 * the height; words: what they took. */
static Um set_half(Layout *layout, Sketch *sketch, const MeasureRow *row, bool goes_on, Um least,
                   Um *words) {
  Um top = MM(1.2), width = PAIR_WIDTH - PAIR_BOX_X;
  line_set(layout, sketch, 0, top, 0, TYPE_STEP_BOLD,
           arena_printf(layout->arena, "Box %d", row->box));
  Um at =
      top + row_what_set(layout, sketch, PAIR_BOX_X, top, width, row);
  Paragraph how = {.type = TYPE_SMALL,
                   .lead = row_kind(layout, row),
                   .text = goes_on && row->gauge_short ? row->gauge_short
                           : row->gauge                ? row->gauge
                                                       : "",
                   .width = width};
  at += paragraph_set(layout, sketch, PAIR_BOX_X, at, &how);
  *words = at;
  Um label = (at > least ? at : least) + MM(0.6), box_y = label + type_of(TYPE_LABEL)->leading;
  NumericBox box = row_box(row, 0);
  Um end = PAIR_BOX_X + numeric_box_width(&box);
  line_set(layout, sketch, PAIR_BOX_X, label, 0, TYPE_LABEL, "reading");
  numeric_box_set(layout, sketch, PAIR_BOX_X, box_y, &box);
  line_set(layout, sketch, end + MM(2), box_y + (WRITE_HEIGHT - type_of(TYPE_BODY)->leading) / 2, 0,
           TYPE_BODY, row->unit ? row->unit : "");
  Um x = PAIR_WIDTH - INITIALS;
  line_set(layout, sketch, x, label, INITIALS, TYPE_LABEL, "initials");
  sketch_box(sketch, x, box_y, INITIALS, WRITE_HEIGHT, LINE_BOX);
  sketch_line(sketch, 0, LINE_HAIR / 2, PAIR_WIDTH, LINE_HAIR / 2, LINE_HAIR);
  return box_y + WRITE_HEIGHT;
}

/* Two alike on one line, in the order of their numbers. */
static void form_pair(Form *form, const Block *left, const Block *right) {
  Piece *piece = form_piece(form, MM(2.2));
  Arena *arena = form->layout->arena;
  Sketch half = {.arena = arena}, trial = {.arena = arena};
  Um one = 0, other = 0;
  bool goes_on = row_goes_on(form, form->at);
  set_half(form->layout, &trial, &left->measure, goes_on, 0, &one);
  set_half(form->layout, &trial, &right->measure, true, 0, &other);
  Um least = one > other ? one : other;
  piece->height =
      set_half(form->layout, &piece->sketch, &left->measure, goes_on, least, &one) + MM(0.3);
  set_half(form->layout, &half, &right->measure, true, least, &other);
  sketch_add(&piece->sketch, &half, PAIR_WIDTH + PAIR_GAP, 0);
}

bool pair_set(Form *form, const Block *block) {
  if (alike_before(form, form->at) % 2 == 1) return true; /* stands beside the one before it */
  const Block *next =
      form->at + 1 < form->group->blocks.n ? form->group->blocks.at[form->at + 1] : NULL;
  if (!next || !is_alike(block, next)) return false;
  form_pair(form, block, next);
  return true;
}
