/* A joint on a card: how tight, in which state, with what, in which order. */
#include "layout/block.h"

#include "layout/boxes.h"

#include <string.h>

#define INNER       (COLUMN_WIDTH - 2 * PAD)
#define PASS_WORDS  MM(65) /* what to do, beside the ticks */
#define PASS_NUMBER MM(8)
#define MOST_TICKS  400

/* The sides of the card beside one piece of it. */
static void set_sides(Piece *piece) {
  Um half = LINE_RULE / 2;
  sketch_line(&piece->sketch, half, 0, half, piece->height, LINE_RULE);
  sketch_line(&piece->sketch, COLUMN_WIDTH - half, 0, COLUMN_WIDTH - half, piece->height,
              LINE_RULE);
}

static const char *or_none(const char *text) {
  return text && text[0] ? text : "\xE2\x80\x93";
}

/* "46 N.m": the number in figures, the unit after it in bold, ending at right. */
static Um set_torque(Layout *layout, Sketch *sketch, Um right, Um y, const char *torque) {
  const char *space = strchr(torque, ' ');
  const Type *big = type_of(TYPE_TORQUE), *small = type_of(TYPE_UNIT);
  bool number = torque[0] >= '0' && torque[0] <= '9';
  if (!space || !number) return line_set_right(layout, sketch, right, y, INNER, TYPE_UNIT, torque);
  Um base = y + type_baseline(big);
  const char *unit = text_clean(layout, small->face, space + 1);
  const char *value = text_clean(layout, big->face,
                                 arena_text(layout->arena, torque, (size_t)(space - torque)));
  Um unit_width = type_width(TYPE_UNIT, unit), width = type_width(TYPE_TORQUE, value);
  sketch_text(sketch, right - unit_width, base, small, unit, INK_BLACK);
  sketch_text(sketch, right - unit_width - MM(2) - width, base, big, value, INK_BLACK);
  return unit_width + MM(2) + width;
}

static Um set_head(Layout *layout, Sketch *sketch, const TorqueCard *card, Um y) {
  Um right = COLUMN_WIDTH - PAD;
  Um taken = set_torque(layout, sketch, right, y, card->torque ? card->torque : "");
  Um torque_bottom = y + type_of(TYPE_TORQUE)->leading;
  if (card->other && card->other[0]) {
    const char *other = arena_printf(layout->arena, "(%s)", card->other);
    Um wide = line_set_right(layout, sketch, right, torque_bottom, INNER, TYPE_OTHER, other);
    if (wide > taken) taken = wide;
    torque_bottom += type_of(TYPE_OTHER)->leading;
  }
  Um width = INNER - taken - MM(6), at = y + MM(0.8);
  if (width < INNER / 3) width = INNER / 3;
  at += text_set(layout, sketch, PAD, at, width, TYPE_SECTION, card->joint ? card->joint : "");
  Text thread = text_new(layout->arena);
  text_addf(&thread, "%s off, thread %s", or_none(card->count), or_none(card->thread));
  if (card->strength && card->strength[0]) {
    bool said = text_starts(card->strength, "Class ") || text_starts(card->strength, "class ");
    text_addf(&thread, ", class %s", card->strength + (said ? strlen("class ") : 0));
  }
  at += text_set(layout, sketch, PAD, at, width, TYPE_BODY, text_done(&thread));
  return at > torque_bottom ? at : torque_bottom;
}

static const char *figure_said(Layout *layout, int number) {
  const Spot *spot = find_spot(&layout->known_figures, number);
  int page = spot ? spot->page + 1 : 99;
  return arena_printf(layout->arena, layout->second && !spot ? "figure %d" : "figure %d, page %d",
                      number, page);
}

/* "1, 4, 2, 3 (figure 5, page 9)" */
static const char *order_said(Layout *layout, const TorqueCard *card) {
  const char *figure = card->figure ? figure_said(layout, card->figure) : NULL;
  if (!card->order || !card->order[0]) return figure;
  return figure ? arena_printf(layout->arena, "%s (%s)", card->order, figure) : card->order;
}

static void push_field(Field *fields, size_t *n, const char *label, const char *value, int width) {
  if (!value || !value[0]) return;
  fields[(*n)++] = (Field){label, value, width};
}

static Um set_fields(Layout *layout, Sketch *sketch, const TorqueCard *card, Um y) {
  Field fields[8];
  size_t n = 0;
  push_field(fields, &n, "Lubricant, on thread and under the head", or_none(card->lubricant), 5);
  push_field(fields, &n, "Threadlocker", or_none(card->threadlock), 4);
  push_field(fields, &n, "Fasteners", or_none(card->reuse), 3);
  push_field(fields, &n, "Wrench", card->wrench, 5);
  push_field(fields, &n, "Set the wrench to", card->setting, 7);
  push_field(fields, &n, card->order_proposed ? "Order, proposed: the sheet gives none" : "Order",
             order_said(layout, card), 12);
  Um at = y + fields_set(layout, sketch, PAD, y, INNER, fields, n) + MM(1);
  Text small = text_new(layout->arena);
  text_add(&small, card->share ? card->share : "");
  if (card->source && card->source[0])
    text_addf(&small, "%storque: %s", small.n ? "; " : "", card->source);
  return at - y + text_set(layout, sketch, PAD, at, INNER, TYPE_SMALL, text_done(&small));
}

static void form_card(Form *form, const TorqueCard *card) {
  Piece *piece = form_piece(form, MM(3.5));
  Um at = set_head(form->layout, &piece->sketch, card, MM(2));
  at += MM(1.2);
  sketch_line(&piece->sketch, PAD, at, COLUMN_WIDTH - PAD, at, LINE_HAIR);
  at += MM(1.2);
  at += set_fields(form->layout, &piece->sketch, card, at);
  piece->height = at + MM(1.6);
  sketch_line(&piece->sketch, 0, LINE_RULE / 2, COLUMN_WIDTH, LINE_RULE / 2, LINE_RULE);
  set_sides(piece);
  piece->with_next = true;
}

/* A square a fastener, its name above it; answers the height. */
static Um set_ticks(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const Words *names) {
  Um label = type_of(TYPE_LABEL)->leading, pitch = TICK_SIDE + MM(3.4);
  size_t count = names->n < MOST_TICKS ? names->n : MOST_TICKS;
  for (size_t i = 0; i < count; i++) {
    Um wide = type_width(TYPE_LABEL_BOLD, names->at[i]) + MM(3);
    if (wide > pitch) pitch = wide > width ? width : wide;
  }
  Um at = x, line = y;
  for (size_t i = 0; i < count; i++) {
    if (at > x && at + pitch > x + width + MM(3)) {
      at = x;
      line += label + TICK_SIDE + MM(1.6);
    }
    line_set(layout, sketch, at, line, pitch, TYPE_LABEL_BOLD, names->at[i]);
    tick_set(sketch, at, line + label, false);
    at += pitch;
  }
  return count ? line + label + TICK_SIDE - y : 0;
}

static void form_pass(Form *form, const TorquePass *pass, size_t number) {
  Layout *layout = form->layout;
  Piece *piece = form_piece(form, 0);
  Sketch *sketch = &piece->sketch;
  sketch_line(sketch, PAD, 0, COLUMN_WIDTH - PAD, 0, LINE_HAIR);
  Um label = type_of(TYPE_LABEL)->leading;
  bool ticks = pass->ticks.n > 0;
  Um words_x = PAD + PASS_NUMBER, words_width = PASS_WORDS, down = MM(0.8);
  Um ticks_x = words_x + words_width + MM(4);
  Words one = {0};
  vec_push(layout->arena, &one, "done");
  Um height = set_ticks(layout, sketch, ticks_x, down, COLUMN_WIDTH - PAD - ticks_x,
                        ticks ? &pass->ticks : &one);
  Um text_y = down + label + (TICK_SIDE - type_of(TYPE_STEP)->leading) / 2;
  line_set(layout, sketch, PAD, text_y, PASS_NUMBER, TYPE_STEP_BOLD,
           arena_printf(layout->arena, "%zu", number));
  Um text_end = text_y + text_set(layout, sketch, words_x, text_y, words_width, TYPE_STEP_BOLD,
                                  pass->what ? pass->what : "");
  Um bottom = down + height > text_end ? down + height : text_end;
  piece->height = bottom + MM(1.4);
  set_sides(piece);
}

void form_torque(Form *form, const Block *block) {
  const TorqueCard *card = &block->torque;
  form_card(form, card);
  for (size_t i = 0; i < card->passes.n; i++) form_pass(form, &card->passes.at[i], i + 1);
  Piece *last = form->pieces.at[form->pieces.n - 1];
  Um y = last->height - LINE_RULE / 2;
  sketch_line(&last->sketch, 0, y, COLUMN_WIDTH, y, LINE_RULE);
  if (card->passes.n == 0) last->with_next = false;
}
