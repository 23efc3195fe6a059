/* Safety messages: level by word, border and triangle. Meanings of the words and the reversed
 * heading: ANSI Z535.4 and Z535.6. */
#include "layout/block.h"

#include "layout/symbol.h"

typedef struct Level {
  Um border;
  bool reversed, triangle;
} Level;

static const Level levels[] = {
    [SAFETY_DANGER] = {LINE_HEAVY, true, true},
    [SAFETY_WARNING] = {LINE_HEAVY, false, true},
    [SAFETY_CAUTION] = {LINE_STRONG, false, true},
    [SAFETY_NOTICE] = {LINE_HAIR, false, false},
};

#define SIDE_COLUMN (SYMBOL_SIDE + MM(4))

static Um set_word(Layout *layout, Sketch *sketch, const Level *level, const char *word, Um x) {
  const Type *type = type_of(TYPE_SIGNAL);
  if (!level->reversed) {
    line_set(layout, sketch, x, level->border + MM(1.2), 0, TYPE_SIGNAL, word);
    return level->border + MM(1.2) + type->leading;
  }
  Um height = type->leading + MM(2.4);
  sketch_fill(sketch, 0, 0, COLUMN_WIDTH, height, INK_BLACK);
  sketch_text(sketch, x, MM(1.2) + type_baseline(type), type, word, INK_WHITE);
  return height + MM(1.8);
}

/* Two short ones stand side by side. */
static Um set_avoid(Layout *layout, Sketch *sketch, const Words *items, Um x, Um y, Um width) {
  Um half = (width - MM(3)) / 2, at = y, room = half - MM(4.5);
  for (size_t i = 0; i < items->n;) {
    bool pair = i + 1 < items->n && type_width(TYPE_BODY, items->at[i]) <= room &&
                type_width(TYPE_BODY, items->at[i + 1]) <= room;
    if (pair) bullet_set(layout, sketch, x + half + MM(3), at, half, TYPE_BODY, items->at[i + 1]);
    at += bullet_set(layout, sketch, x, at, pair ? half : width, TYPE_BODY, items->at[i]) + MM(0.6);
    i += pair ? 2 : 1;
  }
  return at - y;
}

static Um set_words(Layout *layout, Sketch *sketch, const Block *block, Um x, Um y, Um width) {
  Paragraph what = {
      .type = TYPE_STEP, .lead = block->hazard, .text = block->consequence, .width = width};
  Um at = y + paragraph_set(layout, sketch, x, y, &what) + MM(1);
  return at - y + set_avoid(layout, sketch, &block->avoid, x, at, width);
}

void form_message(Form *form, const Block *block) {
  Layout *layout = form->layout;
  const Level *level = &levels[block->word];
  Piece *piece = form_piece(form, MM(3.5));
  piece->with_next = true;
  Sketch *sketch = &piece->sketch;
  Um text_x = level->border + PAD + SIDE_COLUMN;
  Um text_width = COLUMN_WIDTH - 2 * text_x;
  if (!block->symbol) text_width = COLUMN_WIDTH - text_x - level->border - PAD;
  Um top = set_word(layout, sketch, level, safety_word_print(block->word), text_x);
  Um bottom = top + set_words(layout, sketch, block, text_x, top, text_width);
  Um sign_top = level->reversed ? top + MM(0.6) : level->border + MM(2.2),
     left = level->border + PAD;
  bool signs = level->triangle;
  if (level->triangle) symbol_alert(sketch, left, sign_top, SYMBOL_SIDE);
  if (block->symbol)
    signs |=
        symbol_set(sketch, COLUMN_WIDTH - left - SYMBOL_SIDE, sign_top, SYMBOL_SIDE, block->symbol);
  if (signs && sign_top + SYMBOL_SIDE + MM(1) > bottom) bottom = sign_top + SYMBOL_SIDE + MM(1);
  piece->height = bottom + MM(1) + level->border;
  sketch_box(sketch, 0, 0, COLUMN_WIDTH, piece->height, level->border);
}
