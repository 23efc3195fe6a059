/* Bench tables: find the row, find the column, read the answer. */
#include "layout/block.h"

#include "layout/boxes.h"

#include <string.h>

#define HEAD_COLUMN   MM(30)
#define MEMBER_COLUMN MM(35) /* in front of the boxes of one member */
#define MOST_PITCH    MM(38)
#define CELL_SIDE     MM(1.2)

typedef struct Matrix {
  Layout *layout;
  const BenchTable *bench;
  size_t rows, columns;
  Um head, pitch; /* width of the row names, of a column */
  Um row_height;
} Matrix;

/* "0.85 / 9.50" as words, one an answer. */
static Words answers_of(Layout *layout, const char *text) {
  Words parts = {0};
  while (text) {
    const char *end = strstr(text, " / ");
    size_t length = end ? (size_t)(end - text) : strlen(text);
    vec_push(layout->arena, &parts, arena_text(layout->arena, text, length));
    text = end ? end + 3 : NULL;
  }
  return parts;
}

static const Cell *cell_at(const Matrix *matrix, size_t row, size_t column) {
  size_t index = row * matrix->columns + column;
  return index < matrix->bench->cells.n ? &matrix->bench->cells.at[index] : NULL;
}

/* Answers share a line where they fit into the column. */
static Words lines_of(const Matrix *matrix, const char *text) {
  Words one = {0};
  if (type_width(TYPE_CELL, text) > matrix->pitch - 2 * CELL_SIDE)
    return answers_of(matrix->layout, text);
  vec_push(matrix->layout->arena, &one, text);
  return one;
}

static size_t lines_in(const Matrix *matrix, const Cell *cell) {
  return cell && cell->kind != CELL_STOP && cell->text ? lines_of(matrix, cell->text).n : 1;
}

static Um widest_cell(const BenchTable *bench) {
  Um widest = MOST_PITCH;
  for (size_t i = 0; i < bench->cells.n; i++) {
    const Cell *cell = &bench->cells.at[i];
    Um width = cell->text ? type_width(TYPE_CELL, cell->text) + 2 * CELL_SIDE + MM(1) : 0;
    if (width > widest) widest = width;
  }
  return widest;
}

/* Columns share the page, but are no wider than their answers on one line need. */
static Matrix matrix_of(Layout *layout, const BenchTable *bench) {
  Matrix matrix = {.layout = layout, .bench = bench};
  matrix.rows = bench->row_names.n;
  matrix.columns = bench->column_names.n;
  matrix.head = HEAD_COLUMN;
  if (matrix.columns) matrix.pitch = (COLUMN_WIDTH - matrix.head) / (Um)matrix.columns;
  Um widest = widest_cell(bench);
  if (matrix.pitch > widest) matrix.pitch = widest;
  size_t lines = 1;
  for (size_t i = 0; i < bench->cells.n; i++) {
    size_t n = lines_in(&matrix, &bench->cells.at[i]);
    if (n > lines) lines = n;
  }
  Um air = lines > 1 ? MM(2) : MM(3.4);
  if (layout->air != AIR_USUAL) air = lines > 1 ? MM(0.8) : MM(2);
  matrix.row_height = (Um)lines * type_of(TYPE_CELL)->leading + air;
  return matrix;
}

static Um set_caption(Layout *layout, Sketch *sketch, const BenchTable *bench) {
  Um at = MM(1);
  Um right = bench->valid_for ? line_set_right(layout, sketch, COLUMN_WIDTH, at + MM(0.3), 0,
                                               TYPE_SMALL_BOLD, bench->valid_for)
                              : 0;
  at += text_set(layout, sketch, 0, at, COLUMN_WIDTH - right - MM(5), TYPE_STEP_BOLD,
                 bench->title ? bench->title : "");
  if (bench->answers.n == 0) return at;
  Text said = text_new(layout->arena);
  text_add(&said, bench->answers.n > 1 ? "Each cell, in this order: " : "Each cell: ");
  for (size_t i = 0; i < bench->answers.n; i++)
    text_addf(&said, "%s%s", i ? "; " : "", bench->answers.at[i]);
  return at + text_set(layout, sketch, 0, at, COLUMN_WIDTH, TYPE_BODY, text_done(&said));
}

static const char *with_unit(Layout *layout, const char *label, const char *unit) {
  if (!label) label = "";
  return unit && unit[0] ? arena_printf(layout->arena, "%s, %s", label, unit) : label;
}

static void form_column_names(Form *form, const Matrix *matrix) {
  Layout *layout = form->layout;
  Piece *piece = form_piece(form, MM(3.5));
  Sketch *sketch = &piece->sketch;
  Um at = set_caption(layout, sketch, matrix->bench) + MM(1);
  Um width = matrix->pitch * (Um)matrix->columns;
  const char *down = with_unit(layout, matrix->bench->row_label, matrix->bench->row_unit);
  Paragraph across = {.type = TYPE_SMALL_BOLD,
                      .text = matrix->bench->column_label,
                      .width = width,
                      .align = ALIGN_CENTRE};
  Um above = paragraph_set(layout, sketch, matrix->head, at, &across);
  Um tallest = text_set(layout, sketch, 0, at, matrix->head - CELL_SIDE, TYPE_SMALL_BOLD, down);
  tallest = tallest > above ? tallest - above : 0;
  at += above;
  Sketch names = {.arena = layout->arena};
  for (size_t i = 0; i < matrix->columns; i++) {
    Paragraph name = {.type = TYPE_TABLE_BOLD,
                      .text = matrix->bench->column_names.at[i],
                      .width = matrix->pitch - 2 * CELL_SIDE,
                      .align = ALIGN_CENTRE};
    Um more =
        paragraph_set(layout, &names, matrix->head + (Um)i * matrix->pitch + CELL_SIDE, 0, &name);
    if (more > tallest) tallest = more;
  }
  sketch_add(sketch, &names, 0, at);
  piece->height = at + tallest + MM(1);
  sketch_line(sketch, 0, piece->height, matrix->head + width, piece->height, LINE_RULE);
  piece->with_next = true;
}

/* In the lighter weight: the squares that go are the ones to find. */
static void set_stop(const Matrix *matrix, Sketch *sketch, Um x) {
  line_set_centre(matrix->layout, sketch, x + matrix->pitch / 2,
                  (matrix->row_height - type_of(TYPE_STEP)->leading) / 2, 0, TYPE_STEP, "STOP");
}

static void set_answers(const Matrix *matrix, Sketch *sketch, Um x, const char *text) {
  Words parts = lines_of(matrix, text);
  Um leading = type_of(TYPE_CELL)->leading;
  Um y = (matrix->row_height - (Um)parts.n * leading) / 2;
  for (size_t i = 0; i < parts.n; i++, y += leading) {
    Um most = matrix->pitch - CELL_SIDE;
    if (type_width(TYPE_CELL, parts.at[i]) > most)
      report_too_long(matrix->layout, "a cell of a bench table", parts.at[i]);
    line_set_centre(matrix->layout, sketch, x + matrix->pitch / 2, y, most, TYPE_CELL, parts.at[i]);
  }
}

static void form_matrix_row(Form *form, const Matrix *matrix, size_t row, Piece *head) {
  Piece *piece = form_piece(form, 0);
  Sketch *sketch = &piece->sketch;
  Um height = text_set(matrix->layout, &(Sketch){.arena = matrix->layout->arena}, 0, 0,
                       matrix->head - CELL_SIDE, TYPE_STEP_BOLD, matrix->bench->row_names.at[row]);
  Um own = matrix->row_height;
  if (height + MM(2) > own) own = height + MM(2);
  text_set(matrix->layout, sketch, 0, (own - height) / 2, matrix->head - CELL_SIDE, TYPE_STEP_BOLD,
           matrix->bench->row_names.at[row]);
  Sketch cells = {.arena = matrix->layout->arena};
  for (size_t i = 0; i < matrix->columns; i++) {
    const Cell *cell = cell_at(matrix, row, i);
    Um x = matrix->head + (Um)i * matrix->pitch;
    sketch_line(sketch, x, 0, x, own, LINE_HAIR);
    if (!cell) continue;
    if (cell->kind == CELL_STOP)
      set_stop(matrix, &cells, x);
    else
      set_answers(matrix, &cells, x, cell->text ? cell->text : "");
  }
  sketch_add(sketch, &cells, 0, (own - matrix->row_height) / 2);
  Um end = matrix->head + (Um)matrix->columns * matrix->pitch;
  sketch_line(sketch, end, 0, end, own, LINE_HAIR);
  sketch_line(sketch, 0, own, end, own, LINE_HAIR);
  piece->height = own;
  piece->head = head;
}

/* "Squish, 0.85 to 1.15 mm": the name of it. */
static const char *answer_label(Layout *layout, const char *answer) {
  const char *comma = strstr(answer, ", ");
  size_t length = comma ? (size_t)(comma - answer) : strlen(answer);
  return arena_printf(layout->arena, "answer: %s", arena_text(layout->arena, answer, length));
}

/* Where the squares of a table that was printed before stand. */
static void form_squares_at(Form *form, const BenchTable *bench) {
  Piece *piece = form_piece(form, MM(1.5));
  Paragraph where = {.type = TYPE_BODY,
                     .lead = arena_printf(form->layout->arena, "%s:", bench->title),
                     .text = arena_printf(form->layout->arena,
                                          "use the table of " PACKET_STEP_REF "%d}.",
                                          bench->squares_at),
                     .width = COLUMN_WIDTH - STEP_TEXT_X};
  piece->height = paragraph_set(form->layout, &piece->sketch, STEP_TEXT_X, 0, &where);
  piece->with_next = true;
}

/* Whose boxes they are, in front of them at their middle. */
static void set_member(Layout *layout, Piece *piece, const char *member) {
  Sketch name = {.arena = layout->arena};
  Um height = text_set(layout, &name, 0, 0, MEMBER_COLUMN, TYPE_STEP_BOLD, member);
  Um over = height > WRITE_HEIGHT - MM(2) ? height + MM(1) : (WRITE_HEIGHT + height) / 2;
  Um top = piece->height > over ? piece->height - over : 0;
  sketch_add(&piece->sketch, &name, 0, top);
  if (top + height + MM(1) > piece->height) piece->height = top + height + MM(1);
}

static void form_found(Form *form, const BenchTable *bench) {
  Piece *piece = form_piece(form, MM(2.5));
  bool list = bench_is_list(bench);
  size_t count = (list ? 1 : 2) + bench->answers.n;
  Um left = bench->member ? MEMBER_COLUMN + BOX_GAP : 0;
  Um width = (COLUMN_WIDTH - left - (Um)(count - 1) * BOX_GAP) / (Um)count;
  if (width > MM(40)) width = MM(40);
  Words labels = {0};
  vec_push(form->layout->arena, &labels, "row found");
  if (!list) vec_push(form->layout->arena, &labels, "column found");
  for (size_t i = 0; i < bench->answers.n; i++)
    vec_push(form->layout->arena, &labels, answer_label(form->layout, bench->answers.at[i]));
  piece->height =
      written_boxes_set(form->layout, &piece->sketch, left, 0, width, &labels, &bench->found);
  if (bench->member) set_member(form->layout, piece, bench->member);
}

/* What no square says. */
static void form_ends(Form *form, const BenchTable *bench) {
  Piece *piece = form_piece(form, MM(1.5));
  const char *rounding = bench->rounding ? bench->rounding : "";
  const char *said =
      arena_printf(form->layout->arena,
                   "%s%sBeyond the first or last %s, or %s: stop, and enter it "
                   "in the nonconformance list.",
                   rounding, rounding[0] ? " " : "", bench->column_ends ? "row or column" : "row",
                   bench->chooses ? "with STOP in all columns" : "at STOP");
  piece->height = text_set(form->layout, &piece->sketch, 0, 0, COLUMN_WIDTH, TYPE_SMALL, said);
  piece->with_next = true;
}

void form_bench(Form *form, const Block *block) {
  if (block->bench.squares_at) {
    if (!block->bench.squares_said) form_squares_at(form, &block->bench);
    form_found(form, &block->bench);
    return;
  }
  Matrix matrix = matrix_of(form->layout, &block->bench);
  form_column_names(form, &matrix);
  Piece *head = form->pieces.at[form->pieces.n - 1];
  for (size_t i = 0; i < matrix.rows; i++) form_matrix_row(form, &matrix, i, head);
  form_ends(form, &block->bench);
  form_found(form, &block->bench);
}
