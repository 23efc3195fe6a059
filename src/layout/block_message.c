/* Safety messages: level by word, border and triangle. Meanings of the words and the reversed
 * heading: ANSI Z535.4 and Z535.6. */
#include "layout/block.h"

#include "layout/symbol.h"

typedef struct Level {
  Um border;
  bool reversed, triangle;
} Level;

static const Level levels[] = {
    [SAFETY_DANGER] = {LINE_GRAVE, true, true},
    [SAFETY_WARNING] = {LINE_HEAVY, false, true},
    [SAFETY_CAUTION] = {LINE_STRONG, false, true},
    [SAFETY_NOTICE] = {LINE_HAIR, false, false},
};

#define SIDE_COLUMN (SYMBOL_SIDE + MM(4))

/* The word, and beside it before which steps the message stands, where that is said. */
static Um set_word(Layout *layout, Sketch *sketch, const Level *level, const char *word, Um x,
                   const char *where) {
  const Type *type = type_of(TYPE_SIGNAL), *small = type_of(TYPE_BODY);
  Um top = level->reversed ? MM(1.2) : level->border + MM(1.2);
  if (level->reversed) {
    sketch_fill(sketch, 0, 0, COLUMN_WIDTH, type->leading + MM(2.4), INK_BLACK);
    sketch_text(sketch, x, top + type_baseline(type), type, word, INK_WHITE);
  } else {
    line_set(layout, sketch, x, top, 0, TYPE_SIGNAL, word);
  }
  Um after = x + type_width(TYPE_SIGNAL, word) + MM(5);
  if (where)
    sketch_text(sketch, after, top + type_baseline(type), small,
                text_clean(layout, FACE_TEXT, where), level->reversed ? INK_WHITE : INK_BLACK);
  return top + type->leading + (level->reversed ? MM(3) : 0);
}

/* Beside the word where it fits; else it stands below everything. */
static bool is_beside(const char *word, const char *where, Um x) {
  Um room = COLUMN_WIDTH - 2 * x - type_width(TYPE_SIGNAL, word) - MM(5);
  return where && utf8_count(where) <= MOST_CHARACTERS && type_width(TYPE_BODY, where) <= room;
}

#define BULLET MM(4.5) /* what bullet_set takes for its mark */
#define GUTTER MM(5)

/* Where the second of two stands on the line of the first: half way, else as near as both fit;
 * 0: they do not. */
static Um second_at(const char *first, const char *second, Um width) {
  Um half = (width + MM(3)) / 2;
  Um after = BULLET + type_width(TYPE_BODY, first) + GUTTER;
  Um most = width - BULLET - type_width(TYPE_BODY, second);
  if (after > most) return 0;
  return half < after ? after : half > most ? most : half;
}

/* Two short ones stand side by side. */
static Um set_avoid(Layout *layout, Sketch *sketch, const Words *items, Um x, Um y, Um width) {
  Um at = y;
  for (size_t i = 0; i < items->n;) {
    Um beside = i + 1 < items->n ? second_at(items->at[i], items->at[i + 1], width) : 0;
    if (beside)
      bullet_set(layout, sketch, x + beside, at, width - beside, TYPE_BODY, items->at[i + 1]);
    Um own = beside ? beside - GUTTER + MM(1) : width;
    at += bullet_set(layout, sketch, x, at, own, TYPE_BODY, items->at[i]) + MM(0.6);
    i += beside ? 2 : 1;
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
  const char *word = safety_word_print(block->word);
  bool beside = is_beside(word, block->text, text_x);
  Um top = set_word(layout, sketch, level, word, text_x, beside ? block->text : NULL);
  Um bottom = top + set_words(layout, sketch, block, text_x, top, text_width);
  if (block->text && !beside)
    bottom += text_set(layout, sketch, text_x, bottom, text_width, TYPE_BODY, block->text);
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
