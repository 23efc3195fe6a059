/* Hold points, and places to sign. */
#include "layout/block.h"

#include "layout/boxes.h"

#define INITIALS_WIDTH MM(26)
#define DATE_WIDTH     MM(38)
#define HOLD_BAR       MM(2.6)
#define HOLD_BOX       MM(42)

/* Two bars across the page that nobody works past without two initials: not to be mistaken for
 * the reversed heading of a danger. */
void form_hold(Form *form, const Block *block) {
  static const char *const labels[] = {"initials, technician", "initials, second person",
                                       "date and time"};
  Layout *layout = form->layout;
  Piece *piece = form_piece(form, MM(4));
  Sketch *sketch = &piece->sketch;
  sketch_fill(sketch, 0, 0, COLUMN_WIDTH, HOLD_BAR, INK_BLACK);
  Um at = HOLD_BAR + MM(2);
  line_set(layout, sketch, 0, at, 0, TYPE_SIGNAL,
           block->step > 0 ? arena_printf(layout->arena, "HOLD %d", block->step) : "HOLD");
  line_set_right(layout, sketch, COLUMN_WIDTH, at + MM(1.4), 0, TYPE_BODY,
                 block->notes.n ? block->notes.at[0] : "Go on only with both initials.");
  at += type_of(TYPE_SIGNAL)->leading + MM(0.6);
  at +=
      text_set(layout, sketch, 0, at, COLUMN_WIDTH, TYPE_STEP_BOLD, block->text ? block->text : "");
  Words words = {0};
  for (size_t i = 0; i < sizeof labels / sizeof *labels; i++)
    vec_push(layout->arena, &words, i < block->items.n ? block->items.at[i] : labels[i]);
  Um width = (Um)words.n * (HOLD_BOX + BOX_GAP) - BOX_GAP;
  at += MM(1.5);
  at +=
      written_boxes_set(layout, sketch, COLUMN_WIDTH - width, at, HOLD_BOX, &words, NULL) + MM(2.5);
  sketch_fill(sketch, 0, at, COLUMN_WIDTH, HOLD_BAR, INK_BLACK);
  piece->height = at + HOLD_BAR;
}

void form_initials(Form *form, const Block *block) {
  Layout *layout = form->layout;
  Piece *piece = form_piece(form, MM(4));
  Um taken = INITIALS_WIDTH + DATE_WIDTH + BOX_GAP;
  Um x = COLUMN_WIDTH - taken, label = type_of(TYPE_LABEL)->leading;
  Sketch words = {.arena = layout->arena};
  Um wide = x - MM(6);
  Um height = text_set(layout, &words, 0, 0, wide, TYPE_BODY_BOLD, block->text);
  piece->height = written_box_set(layout, &piece->sketch, x, 0, INITIALS_WIDTH, "initials");
  written_box_set(layout, &piece->sketch, x + INITIALS_WIDTH + BOX_GAP, 0, DATE_WIDTH, "date");
  Um down = height < WRITE_HEIGHT ? label + (WRITE_HEIGHT - height) / 2 : label;
  sketch_add(&piece->sketch, &words, 0, down);
  if (down + height > piece->height) piece->height = down + height;
}
