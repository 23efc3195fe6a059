#include "layout/block.h"

static FormBlock *const kinds[] = {
    [BLOCK_HEADING] = form_heading,     [BLOCK_TEXT] = form_text,
    [BLOCK_BULLETS] = form_bullets,     [BLOCK_FIELDS] = form_fields,
    [BLOCK_TABLE] = form_table,         [BLOCK_MESSAGE] = form_message,
    [BLOCK_STEP] = form_step,           [BLOCK_MEASURE] = form_measure,
    [BLOCK_TORQUE] = form_torque,       [BLOCK_BENCH] = form_bench,
    [BLOCK_WORK] = form_work,           [BLOCK_HOLD] = form_hold,
    [BLOCK_INITIALS] = form_initials,   [BLOCK_FIGURE] = form_figure,
    [BLOCK_SCALE_BAR] = form_scale_bar, [BLOCK_LEGEND] = form_legend,
    [BLOCK_LINES] = form_lines,
};

Um space_with(Air air, Um wide) {
  static const Um tenths[] = {[AIR_USUAL] = 10, [AIR_SNUG] = 7, [AIR_LEAST] = 6};
  return wide * tenths[air] / 10;
}

Piece *form_piece(Form *form, Um space) {
  Piece *piece = ARENA_NEW(form->layout->arena, Piece);
  piece->sketch.arena = form->layout->arena;
  piece->wide = space;
  piece->space = space_with(form->layout->air, space);
  piece->block = form->block;
  size_t n = form->pieces.n;
  piece->first = n == 0 || form->pieces.at[n - 1]->block != form->block;
  vec_push(form->layout->arena, &form->pieces, piece);
  return piece;
}

void form_block(Form *form, size_t at) {
  const Block *block = form->group->blocks.at[at];
  form->at = at;
  form->block = block;
  if ((size_t)block->kind < sizeof kinds / sizeof *kinds) kinds[block->kind](form, block);
}
