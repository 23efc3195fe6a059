/* Worked-out values: one operation a line, each result in a lettered box of its own or in the
 * numbered one below that has its letter. */
#include "layout/block.h"

#include "layout/boxes.h"

#define LETTER_WIDTH MM(7)
#define RESULT_WIDTH MM(34)
#define UNIT_PLACE   MM(12)

static bool has_units(const Block *block) {
  for (size_t i = 0; i < block->units.n; i++)
    if (block->units.at[i] && block->units.at[i][0]) return true;
  return false;
}

/* A line whose result has a numbered box with its letter: written there and nowhere else. */
static void form_elsewhere(Form *form, const char *letter, const char *words, const char *box,
                           Um letter_x) {
  Piece *piece = form_piece(form, MM(1));
  Um text_x = letter_x + LETTER_WIDTH;
  line_set(form->layout, &piece->sketch, letter_x, 0, LETTER_WIDTH, TYPE_STEP_BOLD, letter);
  const char *text = arena_printf(form->layout->arena, "= %s. Write it in %s.", words, box);
  piece->height =
      text_set(form->layout, &piece->sketch, text_x, 0, COLUMN_WIDTH - text_x, TYPE_STEP, text);
}

void form_work(Form *form, const Block *block) {
  Layout *layout = form->layout;
  Um letter_x = STEP_TEXT_X - MM(9), text_x = letter_x + LETTER_WIDTH;
  Um box_x = COLUMN_WIDTH - (has_units(block) ? UNIT_PLACE : 0) - RESULT_WIDTH;
  Um slack = MM(3); /* above the box of the line before it */
  for (size_t i = 0; i < block->items.n; i++) {
    const char *letter = i < block->letters.n ? block->letters.at[i] : "";
    if (i < block->boxes.n && block->boxes.at[i]) {
      form_elsewhere(form, letter, block->items.at[i], block->boxes.at[i], letter_x);
      slack = MM(3);
      continue;
    }
    Piece *piece = form_piece(form, 0);
    Sketch words = {.arena = layout->arena}, *sketch = &piece->sketch;
    Um height =
        text_set(layout, &words, 0, 0, box_x - text_x - MM(9), TYPE_STEP, block->items.at[i]);
    piece->height = height > WRITE_HEIGHT ? height : WRITE_HEIGHT;
    sketch_add(sketch, &words, text_x, (piece->height - height) / 2);
    Um line = (piece->height - type_of(TYPE_STEP)->leading) / 2;
    /* words on two lines keep the boxes apart already */
    Um above = (piece->height - WRITE_HEIGHT) / 2;
    piece->space = slack > above + MM(1) ? slack - above : MM(1);
    slack = MM(3) - above;
    Um box_y = (piece->height - WRITE_HEIGHT) / 2;
    line_set(layout, sketch, letter_x, line, LETTER_WIDTH, TYPE_STEP_BOLD, letter);
    line_set_right(layout, sketch, box_x - MM(2), line, 0, TYPE_STEP_BOLD, "=");
    sketch_box(sketch, box_x, box_y, RESULT_WIDTH, WRITE_HEIGHT, LINE_RULE);
    if (i < block->values.n && block->values.at[i])
      line_set_right(layout, sketch, box_x + RESULT_WIDTH - MM(2), line, RESULT_WIDTH - MM(3),
                     TYPE_STEP, block->values.at[i]);
    line_set(layout, sketch, box_x + RESULT_WIDTH + MM(2), line, UNIT_PLACE - MM(2), TYPE_BODY,
             i < block->units.n && block->units.at[i] ? block->units.at[i] : "");
  }
}
