/* One step: a box to tick, its number, what to do, and notes with whose they are. */
#include "layout/block.h"

#include "layout/boxes.h"

#include <string.h>

/* The act in bold, but for Do, ahead of the text; a text that begins with the same word keeps it
 * once: "Wait until ...". */
static void set_act(Layout *layout, const Block *block, Paragraph *text) {
  text->text = block->text ? block->text : "";
  if (!block->act || !block->act[0] || text_is(block->act, "Do")) return;
  size_t length = strlen(block->act);
  bool said = text_starts(text->text, block->act) && text->text[length] == ' ';
  text->lead = said ? block->act : arena_printf(layout->arena, "%s:", block->act);
  if (said) text->text += length;
}

void form_step(Form *form, const Block *block) {
  Layout *layout = form->layout;
  Piece *piece = form_piece(form, MM(4));
  piece->with_next = true;
  Sketch *sketch = &piece->sketch;
  Um air = MM(0.6);
  const Type *type = type_of(TYPE_STEP), *number = type_of(TYPE_STEP_NUMBER);
  Um line = air + (type->leading - TICK_SIDE) / 2; /* the box is taller than a line of text */
  tick_set(sketch, 0, line > 0 ? line : 0, false);
  if (block->step > 0)
    line_set_right(layout, sketch, STEP_TEXT_X - MM(3.2),
                   air + (type->leading - number->leading) / 2, 0,
                   block->step > 999 ? TYPE_LABEL_BOLD : TYPE_STEP_NUMBER,
                   arena_printf(layout->arena, "%d", block->step));
  Paragraph text = {.type = TYPE_STEP, .width = COLUMN_WIDTH - STEP_TEXT_X};
  set_act(layout, block, &text);
  Um at = air + paragraph_set(layout, sketch, STEP_TEXT_X, air, &text);
  for (size_t i = 0; i < block->notes.n; i++) {
    at += MM(1.2);
    at += bullet_set(layout, sketch, STEP_TEXT_X, at, COLUMN_WIDTH - STEP_TEXT_X, TYPE_BODY,
                     block->notes.at[i]);
  }
  piece->height = at > TICK_SIDE ? at : TICK_SIDE;
}
