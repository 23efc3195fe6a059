/* Hold points, and places to sign. */
#include "layout/block.h"

#include "layout/boxes.h"

#define INITIALS_WIDTH MM(26)
#define DATE_WIDTH     MM(38)

/* A bar across the page that nobody works past without two initials. */
void form_hold(Form *form, const Block *block) {
  Layout *layout = form->layout;
  Piece *piece = form_piece(form, MM(4));
  Sketch *sketch = &piece->sketch;
  const Type *type = type_of(TYPE_SIGNAL);
  Um bar = type->leading + MM(2.4);
  sketch_fill(sketch, 0, 0, COLUMN_WIDTH, bar, INK_BLACK);
  sketch_text(sketch, PAD, MM(1.2) + type_baseline(type), type,
              block->step > 0 ? arena_printf(layout->arena, "HOLD %d", block->step) : "HOLD",
              INK_WHITE);
  const char *rule = "go on only with two initials";
  const Type *small = type_of(TYPE_BODY_BOLD);
  sketch_text(sketch, COLUMN_WIDTH - PAD - type_width(TYPE_BODY_BOLD, rule),
              MM(1.2) + type_baseline(type), small, rule, INK_WHITE);
  Um width = 2 * INITIALS_WIDTH + DATE_WIDTH + 2 * BOX_GAP;
  Um at = bar + MM(2.5);
  at += text_set(layout, sketch, PAD, at, COLUMN_WIDTH - 2 * PAD, TYPE_STEP_BOLD,
                 block->text ? block->text : "");
  Um x = COLUMN_WIDTH - PAD - width, y = at + MM(1);
  written_box_set(layout, sketch, x, y, INITIALS_WIDTH, "initials, technician");
  x += INITIALS_WIDTH + BOX_GAP;
  written_box_set(layout, sketch, x, y, INITIALS_WIDTH, "initials, second");
  x += INITIALS_WIDTH + BOX_GAP;
  Um height = written_box_set(layout, sketch, x, y, DATE_WIDTH, "date, time");
  piece->height = y + height + PAD;
  sketch_box(sketch, 0, 0, COLUMN_WIDTH, piece->height, LINE_HEAVY);
}

void form_initials(Form *form, const Block *block) {
  Layout *layout = form->layout;
  Piece *piece = form_piece(form, MM(4));
  Um taken = INITIALS_WIDTH + DATE_WIDTH + BOX_GAP;
  Um x = COLUMN_WIDTH - taken, label = type_of(TYPE_LABEL)->leading;
  const char *what = block->text && block->text[0]
                         ? arena_printf(layout->arena, "Steps above done: %s", block->text)
                         : "Steps above done";
  Sketch words = {.arena = layout->arena};
  Um wide = x - MM(6);
  Um height = text_set(layout, &words, 0, 0, wide, TYPE_BODY_BOLD, what);
  piece->height = written_box_set(layout, &piece->sketch, x, 0, INITIALS_WIDTH, "initials");
  written_box_set(layout, &piece->sketch, x + INITIALS_WIDTH + BOX_GAP, 0, DATE_WIDTH, "date");
  Um down = height < WRITE_HEIGHT ? label + (WRITE_HEIGHT - height) / 2 : label;
  sketch_add(&piece->sketch, &words, 0, down);
  if (down + height > piece->height) piece->height = down + height;
}

void form_signatures(Form *form, const Block *block) {
  Layout *layout = form->layout;
  for (size_t i = 0; i < block->items.n; i++) {
    Piece *piece = form_piece(form, MM(4));
    const Field fields[] = {{arena_printf(layout->arena, "%s: name", block->items.at[i]), NULL, 5},
                            {"Signature", NULL, 4},
                            {"Date", NULL, 3}};
    piece->height = fields_set(layout, &piece->sketch, 0, 0, COLUMN_WIDTH, fields, 3);
  }
}
