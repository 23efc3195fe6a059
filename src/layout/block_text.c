/* Headings, running text, lists and lines to write on. */
#include "layout/block.h"

#include "layout/boxes.h"

#define SPACE_TEXT MM(2.5)
#define MOST_LINES 60

static void form_title(Form *form, const char *text) {
  Piece *piece = form_piece(form, MM(5));
  piece->height = text_set(form->layout, &piece->sketch, 0, 0, COLUMN_WIDTH, TYPE_TITLE, text);
  piece->height += MM(1.5);
  piece->with_next = true;
}

/* A rule above ties the heading to what follows, not to what went before. */
static void form_section(Form *form, const char *text) {
  Piece *piece = form_piece(form, MM(4));
  piece->rule = LINE_STRONG;
  piece->height = text_set(form->layout, &piece->sketch, 0, 0, COLUMN_WIDTH, TYPE_SECTION, text);
  piece->with_next = true;
}

void form_heading(Form *form, const Block *block) {
  const char *text = block->text ? block->text : "";
  if (block->level <= 1)
    form_title(form, text);
  else
    form_section(form, text);
}

void form_text(Form *form, const Block *block) {
  if (!block->text || !block->text[0]) return;
  Piece *piece = form_piece(form, SPACE_TEXT);
  piece->height = text_set(form->layout, &piece->sketch, 0, 0, COLUMN_WIDTH,
                           block->small  ? TYPE_SMALL
                           : block->bold ? TYPE_BODY_BOLD
                                         : TYPE_BODY,
                           block->text);
}

Um bullet_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, TypeName name,
              const char *item) {
  const Type *type = type_of(name);
  Um in = MM(4.5), half = MM(0.7);
  Um middle = y + type->leading / 2 + type_digits(type) / 8;
  sketch_fill(sketch, x + MM(0.6), middle - half, 2 * half, 2 * half, INK_BLACK);
  return text_set(layout, sketch, x + in, y, width - in, name, item);
}

void form_bullets(Form *form, const Block *block) {
  for (size_t i = 0; i < block->items.n; i++) {
    Piece *piece = form_piece(form, i == 0 ? SPACE_TEXT : MM(1.2));
    piece->height =
        bullet_set(form->layout, &piece->sketch, 0, 0, COLUMN_WIDTH, TYPE_BODY, block->items.at[i]);
  }
}

void form_lines(Form *form, const Block *block) {
  int count = block->count < 1 ? 1 : block->count > MOST_LINES ? MOST_LINES : block->count;
  if (block->text && block->text[0]) {
    Piece *label = form_piece(form, SPACE_TEXT);
    label->height =
        text_set(form->layout, &label->sketch, 0, 0, COLUMN_WIDTH, TYPE_BODY_BOLD, block->text);
    label->with_next = true;
  }
  for (int i = 0; i < count; i++) {
    Piece *line = form_piece(form, 0);
    line->height = WRITE_HEIGHT;
    sketch_line(&line->sketch, 0, WRITE_HEIGHT - MM(0.3), COLUMN_WIDTH, WRITE_HEIGHT - MM(0.3),
                LINE_HAIR);
  }
}
