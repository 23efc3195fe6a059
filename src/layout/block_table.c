/* Ruled tables: cells of text and numbers, cells to write in and to tick. */
#include "layout/block.h"

#include "layout/boxes.h"
#include "layout/table_widths.h"

#define CELL_PAD  MM(1.8)
#define CELL_RISE MM(1.1) /* above and below text */

typedef struct Grid {
  Layout *layout;
  const Block *block;
  Um *left;    /* of each column, and the end of the last */
  bool *walls; /* columns to write in have lines at their sides */
  size_t count;
} Grid;

static Grid grid_of(Layout *layout, const Block *block) {
  Grid grid = {.layout = layout, .block = block, .count = block->columns.n};
  grid.left = ARENA_NEW_N(layout->arena, Um, grid.count + 1);
  grid.walls = ARENA_NEW_N(layout->arena, bool, grid.count + 1);
  table_divide(layout, block, CELL_PAD, grid.left);
  for (size_t i = 0; i < block->rows.n; i++)
    for (size_t j = 0; j < block->rows.at[i].n && j < grid.count; j++)
      if (block->rows.at[i].at[j].kind == CELL_BLANK) grid.walls[j] = grid.walls[j + 1] = true;
  return grid;
}

static Um inner_left(const Grid *grid, size_t column) {
  return grid->left[column] + (column == 0 && !grid->walls[0] ? 0 : CELL_PAD);
}

static Um inner_width(const Grid *grid, size_t column) {
  Um right = grid->left[column + 1];
  if (column + 1 < grid->count || grid->walls[grid->count]) right -= CELL_PAD;
  Um width = right - inner_left(grid, column);
  return width > MM(3) ? width : MM(3);
}

static void set_walls(const Grid *grid, Sketch *sketch, Um height) {
  Um half = LINE_HAIR / 2;
  for (size_t i = 0; i <= grid->count; i++) {
    if (!grid->walls[i]) continue;
    Um x = i == 0 ? half : i == grid->count ? COLUMN_WIDTH - half : grid->left[i];
    sketch_line(sketch, x, 0, x, height, LINE_HAIR);
  }
}

static void form_title_line(Form *form, const char *text) {
  Piece *piece = form_piece(form, MM(4));
  piece->height =
      text_set(form->layout, &piece->sketch, 0, 0, COLUMN_WIDTH, TYPE_BODY_BOLD, text) + MM(0.5);
  piece->with_next = true;
}

static Piece *form_head(Form *form, const Grid *grid) {
  Piece *piece = form_piece(form, MM(3));
  Um tallest = 0;
  Sketch *cells = ARENA_NEW_N(form->layout->arena, Sketch, grid->count + 1);
  Um *heights = ARENA_NEW_N(form->layout->arena, Um, grid->count + 1);
  for (size_t i = 0; i < grid->count; i++) {
    const Column *column = &grid->block->columns.at[i];
    Paragraph title = {.type = TYPE_LABEL_BOLD,
                       .text = column->title,
                       .width = inner_width(grid, i),
                       .align = column->number ? ALIGN_RIGHT : ALIGN_LEFT};
    cells[i].arena = form->layout->arena;
    heights[i] = paragraph_set(form->layout, &cells[i], inner_left(grid, i), 0, &title);
    if (heights[i] > tallest) tallest = heights[i];
  }
  for (size_t i = 0; i < grid->count; i++)
    sketch_add(&piece->sketch, &cells[i], 0, tallest - heights[i]);
  piece->height = tallest + MM(1);
  sketch_line(&piece->sketch, 0, piece->height, COLUMN_WIDTH, piece->height, LINE_RULE);
  piece->with_next = true;
  return piece;
}

static Um rise(const Grid *grid) {
  return grid->layout->air == AIR_LEAST ? CELL_RISE / 2 : CELL_RISE;
}

/* large: a number that is worked to. */
static TypeName type_of_cell(const Cell *cell) {
  return cell->large ? TYPE_VALUE : cell->bold ? TYPE_TABLE_BOLD : TYPE_TABLE;
}

static Um text_cell(const Grid *grid, Sketch *sketch, size_t column, const Cell *cell) {
  bool right = grid->block->columns.at[column].number;
  Paragraph text = {.type = type_of_cell(cell),
                    .text = table_cell_bound(grid->layout, cell->text, right || cell->large),
                    .width = inner_width(grid, column),
                    .align = right ? ALIGN_RIGHT : ALIGN_LEFT};
  return paragraph_set(grid->layout, sketch, inner_left(grid, column), 0, &text);
}

/* Boxes with names over them, further lines where the column is narrow. */
static Um ticks_cell(const Grid *grid, Sketch *sketch, size_t column, const Words *names) {
  Um label = type_of(TYPE_LABEL_BOLD)->leading, pitch = TICK_SIDE + MM(3);
  Um left = inner_left(grid, column), end = left + inner_width(grid, column);
  for (size_t i = 0; i < names->n; i++) {
    Um wide = type_width(TYPE_LABEL_BOLD, names->at[i]) + MM(2);
    if (wide > pitch) pitch = wide;
  }
  Um x = left, y = 0;
  for (size_t i = 0; i < names->n; i++, x += pitch) {
    if (x > left && x + TICK_SIDE > end) {
      x = left;
      y += label + TICK_SIDE + MM(1);
    }
    line_set(grid->layout, sketch, x, y, pitch, TYPE_LABEL_BOLD, names->at[i]);
    tick_set(sketch, x, y + label, false);
  }
  return y + label + TICK_SIDE + MM(1.8);
}

/* The number of its box in the corner of a cell to write in, and what stands there once it is
 * read. */
static void numbered_set(const Grid *grid, Sketch *sketch, size_t column, const Cell *cell) {
  Um left = inner_left(grid, column);
  if (!cell->box) return;
  line_set(grid->layout, sketch, left - MM(1), -rise(grid), 0, TYPE_LABEL_BOLD, cell->box);
  if (!cell->text || !cell->text[0]) return;
  Um wide = type_width(TYPE_VALUE, cell->text);
  Um down = (WRITE_HEIGHT - type_of(TYPE_VALUE)->leading) / 2 - rise(grid);
  line_set(grid->layout, sketch, left + inner_width(grid, column) - wide, down, 0, TYPE_VALUE,
           cell->text);
}

/* Draws the cell from height 0 on; answers what it takes, the air around it included. */
static Um cell_set(const Grid *grid, Sketch *sketch, size_t column, const Cell *cell) {
  switch (cell->kind) {
  case CELL_BLANK:
    numbered_set(grid, sketch, column, cell);
    return WRITE_HEIGHT;
  case CELL_TICK:
    if (cell->ticks.n > 0) return ticks_cell(grid, sketch, column, &cell->ticks);
    tick_set(sketch, inner_left(grid, column), 0, false);
    return TICK_SIDE + (grid->layout->air == AIR_LEAST ? MM(0.8) : MM(1.8));
  case CELL_STOP: {
    line_set(grid->layout, sketch, inner_left(grid, column), 0, 0, TYPE_LABEL_BOLD, "STOP");
    return type_of(TYPE_LABEL_BOLD)->leading + 2 * rise(grid);
  }
  case CELL_TEXT:
  case CELL_NUMBER:
    break;
  }
  return cell->text ? text_cell(grid, sketch, column, cell) + 2 * rise(grid) : 0;
}

static void form_row(Form *form, const Grid *grid, const Row *row, Piece *head) {
  Piece *piece = form_piece(form, 0);
  piece->height = type_of(TYPE_TABLE)->leading + 2 * rise(grid);
  size_t count = row->n < grid->count ? row->n : grid->count;
  Sketch *cells = ARENA_NEW_N(form->layout->arena, Sketch, count + 1);
  Um *heights = ARENA_NEW_N(form->layout->arena, Um, count + 1);
  for (size_t i = 0; i < count; i++) {
    cells[i].arena = form->layout->arena;
    heights[i] = cell_set(grid, &cells[i], i, &row->at[i]);
    if (heights[i] > piece->height) piece->height = heights[i];
  }
  /* All stand in the middle of the row; a cell to write in has its number in its corner. */
  for (size_t i = 0; i < count; i++) {
    bool tick = row->at[i].kind == CELL_TICK;
    Um air = tick ? (grid->layout->air == AIR_LEAST ? MM(0.4) : MM(0.9)) : rise(grid);
    bool corner = row->at[i].kind == CELL_BLANK;
    Um down = corner ? air : (piece->height - heights[i]) / 2 + air;
    sketch_add(&piece->sketch, &cells[i], 0, down);
  }
  set_walls(grid, &piece->sketch, piece->height);
  sketch_line(&piece->sketch, 0, piece->height, COLUMN_WIDTH, piece->height, LINE_HAIR);
  piece->head = head;
}

void form_table(Form *form, const Block *block) {
  if (block->columns.n == 0) return;
  if (block->text && block->text[0]) form_title_line(form, block->text);
  Grid grid = grid_of(form->layout, block);
  Piece *head = form_head(form, &grid);
  for (size_t i = 0; i < block->rows.n; i++) {
    form_row(form, &grid, &block->rows.at[i], head);
    /* Neither two rows alone at the foot of a page nor one at its top. */
    bool together = i < 2 || i + 2 == block->rows.n;
    form->pieces.at[form->pieces.n - 1]->with_next = together && i + 1 < block->rows.n;
  }
}
