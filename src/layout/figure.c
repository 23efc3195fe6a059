#include "layout/figure.h"

#include "layout/block.h"
#include "trade/circle.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

static DrawFigure *const kinds[] = {
    [FIGURE_PATTERN] = figure_pattern,
    [FIGURE_RING_CLOCK] = figure_ring_clock,
    [FIGURE_BORE_POINTS] = figure_bore_points,
    [FIGURE_DECK_SECTION] = figure_deck_section,
    [FIGURE_VALVE_CIRCLE] = figure_valve_circle,
    [FIGURE_PISTON_WAY] = figure_piston_way,
    [FIGURE_SPRING] = figure_spring,
    [FIGURE_SPROCKET_LINE] = figure_sprocket_line,
};

void form_figure(Form *form, const Block *block) {
  Layout *layout = form->layout;
  const Figure *figure = &block->figure;
  bool on_card = torque_takes_figure(form, form->at + 1);
  Piece *piece = form_piece(form, on_card ? 0 : MM(4));
  piece->with_next = true;
  if (on_card) return; /* drawn there; its place is noted all the same */
  Um at = 0;
  if ((size_t)figure->kind < sizeof kinds / sizeof *kinds)
    at = kinds[figure->kind](layout, &piece->sketch, figure, COLUMN_WIDTH) + MM(2);
  piece->height = at + figure_caption(layout, &piece->sketch, STEP_TEXT_X, at,
                                      COLUMN_WIDTH - STEP_TEXT_X, figure);
}

Um figure_caption(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const Figure *figure) {
  Paragraph caption = {.type = TYPE_TABLE,
                       .lead = arena_printf(layout->arena, "Figure %d.", figure->number),
                       .text = figure->caption,
                       .width = width};
  return paragraph_set(layout, sketch, x, y, &caption);
}

Point figure_polar(Um x, Um y, double radius, double degrees) {
  double angle = degrees * TRADE_PI / 180;
  return (Point){x + (Um)lround(radius * sin(angle)), y - (Um)lround(radius * cos(angle))};
}

static bool holds_word(const char *text, const char *word) {
  size_t length = strlen(word);
  for (; text && *text != '\0'; text++) {
    size_t i = 0;
    while (i < length && tolower((unsigned char)text[i]) == word[i]) i++;
    if (i == length) return true;
  }
  return false;
}

const FigurePoint *figure_point(const Figure *figure, const char *word) {
  for (size_t i = 0; i < figure->points.n; i++)
    if (holds_word(figure->points.at[i].label, word)) return &figure->points.at[i];
  return NULL;
}

Um figure_note(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const FigurePoint *point,
               const char *otherwise) {
  Um at = y;
  const char *name = point && point->label ? point->label : otherwise;
  at += text_set(layout, sketch, x, at, width, TYPE_TABLE, name);
  if (point && point->note && point->note[0])
    at += text_set(layout, sketch, x, at, width, TYPE_BODY_BOLD, point->note);
  return at - y;
}

void figure_hatch(Sketch *sketch, Um x, Um y, Um width, Um height) {
  const Um step = MM(2.6);
  for (Um from = -height; from < width; from += step) {
    Um left = from < 0 ? 0 : from, right = from + height > width ? width : from + height;
    if (right <= left) continue;
    sketch_line(sketch, x + left, y + height - (left - from), x + right,
                y + height - (right - from), LINE_HAIR);
  }
}
