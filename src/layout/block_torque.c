/* A joint on a card: how tight, in which state, with what, in which order. */
#include "layout/block.h"

#include "layout/boxes.h"
#include "layout/figure.h"

#include <string.h>

#define INNER        (COLUMN_WIDTH - 2 * PAD)
#define LEAST_WORDS  MM(52) /* what to do, beside the ticks */
#define MOST_WORDS   MM(84)
#define PASS_NUMBER  MM(7)
#define USUAL_PITCH  (TICK_SIDE + MM(3.4))
#define LEAST_PITCH  (TICK_SIDE + MM(2.2))
#define MOST_TICKS   400
#define FIGURE_WIDTH MM(54) /* of a pattern that stands on the card */

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
  const char *value =
      text_clean(layout, big->face, arena_text(layout->arena, torque, (size_t)(space - torque)));
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
  if (card->reuse && card->reuse[0]) text_addf(&thread, "; %s", card->reuse);
  if (card->drive) text_addf(&thread, "; %s", card->drive);
  at += text_set(layout, sketch, PAD, at, width, TYPE_BODY, text_done(&thread));
  return at > torque_bottom ? at : torque_bottom;
}

static const char *figure_said(Layout *layout, int number) {
  const Spot *spot = find_figure(layout, number);
  int page = spot ? spot->page + 1 : 99;
  return arena_printf(layout->arena, layout->second && !spot ? "figure %d" : "figure %d, page %d",
                      number, page);
}

/* "1, 4, 2, 3 (figure 5, page 9)"; here: the figure stands on the card. */
static const char *order_said(Layout *layout, const TorqueCard *card, bool here) {
  const char *figure = NULL;
  if (card->figure)
    figure = here ? arena_printf(layout->arena, "figure %d", card->figure)
                  : figure_said(layout, card->figure);
  if (!card->order || !card->order[0]) return figure;
  return figure ? arena_printf(layout->arena, "%s (%s)", card->order, figure) : card->order;
}

static const char *order_label(const TorqueCard *card) {
  if (!card->order || !card->order[0]) return "Picture";
  return card->order_proposed ? "Order, proposed: the sheet gives none" : "Order";
}

static void push_field(Field *fields, size_t *n, const char *label, const char *value, int width) {
  if (!value || !value[0]) return;
  fields[(*n)++] = (Field){label, value, width};
}

static Um set_fields(Layout *layout, Sketch *sketch, const TorqueCard *card, Um y, Um width,
                     bool here) {
  Field fields[8];
  size_t n = 0;
  bool wide = width > MM(130);
  const char *order = order_said(layout, card, here);
  if (wide && !order) { /* all on one line */
    bool words = card->setting && strchr(card->setting, ','); /* the nearest on its scale */
    push_field(fields, &n, "Lubricant, thread and head", or_none(card->lubricant), words ? 3 : 4);
    push_field(fields, &n, "Threadlocker", or_none(card->threadlock), 3);
    push_field(fields, &n, "Wrench", card->wrench, words ? 2 : 3);
    push_field(fields, &n, "Set the wrench to", card->setting, words ? 4 : 2);
    return fields_set(layout, sketch, PAD, y, width, fields, n);
  }
  push_field(fields, &n, "Lubricant, thread and head", or_none(card->lubricant), wide ? 5 : 7);
  push_field(fields, &n, "Threadlocker", or_none(card->threadlock), wide ? 4 : 5);
  if (wide) push_field(fields, &n, "Wrench", card->wrench, 3);
  push_field(fields, &n, "Set the wrench to", card->setting, wide ? 5 : 7);
  if (!wide) push_field(fields, &n, "Wrench", card->wrench, 5);
  push_field(fields, &n, order_label(card), order, wide ? 7 : 12);
  return fields_set(layout, sketch, PAD, y, width, fields, n);
}

static Um run_in(Layout *layout, Sketch *sketch, Um y, Um width, const char *lead,
                 const char *text) {
  if (!text || !text[0]) return 0;
  Paragraph line = {.type = TYPE_SMALL, .lead = lead, .text = text, .width = width};
  return paragraph_set(layout, sketch, PAD, y, &line);
}

/* The same as lines, where room is short. */
static Um set_lines(Layout *layout, Sketch *sketch, const TorqueCard *card, Um y, Um width,
                    bool here) {
  Arena *arena = layout->arena;
  Um at = y;
  at += run_in(layout, sketch, at, width, "Lubricant:", or_none(card->lubricant));
  at += run_in(layout, sketch, at, width, "Threadlocker:", or_none(card->threadlock));
  if (card->wrench && card->wrench[0])
    at += run_in(layout, sketch, at, width, "Wrench:",
                 arena_printf(arena, "%s, set to %s", card->wrench, or_none(card->setting)));
  at += run_in(layout, sketch, at, width, arena_printf(arena, "%s:", order_label(card)),
               order_said(layout, card, here));
  return at - y;
}

static Um set_sources(Layout *layout, Sketch *sketch, const TorqueCard *card, Um y, Um width) {
  Text small = text_new(layout->arena);
  text_add(&small, card->share ? card->share : "");
  if (card->source && card->source[0])
    text_addf(&small, "%storque: %s", small.n ? "; " : "", card->source);
  return text_set(layout, sketch, PAD, y, width, TYPE_SMALL, text_done(&small));
}

/* One card being set: how wide its left part is, and where ticks begin in it. */
typedef struct Card {
  Form *form;
  const TorqueCard *card;
  const Figure *figure; /* at the right, or NULL */
  Um beside;            /* width of what stands beside the figure */
  Um width;             /* of the passes: beside the figure too, or below it */
  Um pitch, ticks_x;
  Piece *first;
  Um figure_bottom; /* from the top of the card */
} Card;

static Um pitch_of(const TorqueCard *card) {
  Um pitch = USUAL_PITCH;
  for (size_t i = 0; i < card->passes.n; i++)
    for (size_t j = 0; j < card->passes.at[i].ticks.n; j++) {
      Um wide = type_width(TYPE_LABEL_BOLD, card->passes.at[i].ticks.at[j]) + MM(3);
      if (wide > pitch) pitch = wide;
    }
  return pitch;
}

static size_t most_ticks(const TorqueCard *card) {
  size_t most = 1;
  for (size_t i = 0; i < card->passes.n; i++)
    if (card->passes.at[i].ticks.n > most) most = card->passes.at[i].ticks.n;
  return most < MOST_TICKS ? most : MOST_TICKS;
}

static Um longest_words(const TorqueCard *card) {
  Um longest = 0;
  for (size_t i = 0; i < card->passes.n; i++) {
    const char *what = card->passes.at[i].what;
    Um wide = what ? type_width(TYPE_STEP_BOLD, what) + MM(0.5) : 0;
    if (wide > longest) longest = wide;
  }
  return longest;
}

/* The ticks take what they need, the words the rest, within reason; ticks stand closer where the
 * words would not go on one line. */
static void divide(Card *set) {
  set->pitch = pitch_of(set->card);
  Um most = set->width - PASS_NUMBER - LEAST_WORDS - MM(3);
  if (set->pitch > most) set->pitch = most;
  Um count = (Um)most_ticks(set->card);
  Um close = (set->width - PASS_NUMBER - MM(3) - longest_words(set->card)) / count;
  if (close < set->pitch && close >= LEAST_PITCH && set->pitch == USUAL_PITCH) set->pitch = close;
  int64_t needed = (int64_t)count * set->pitch;
  Um words = needed < most ? set->width - PASS_NUMBER - MM(3) - (Um)needed : LEAST_WORDS;
  Um enough = longest_words(set->card) > MOST_WORDS ? longest_words(set->card) : MOST_WORDS;
  if (words > enough) words = enough;
  set->ticks_x = PAD + PASS_NUMBER + words + MM(3);
}

static const Figure *figure_before(const Form *form, size_t at) {
  if (at == 0 || at >= form->group->blocks.n) return NULL;
  const Block *figure = form->group->blocks.at[at - 1], *block = form->group->blocks.at[at];
  if (figure->kind != BLOCK_FIGURE || figure->figure.kind != FIGURE_PATTERN) return NULL;
  if (block->kind != BLOCK_TORQUE || block->torque.figure != figure->figure.number) return NULL;
  return &figure->figure;
}

bool torque_takes_figure(const Form *form, size_t at) {
  const Figure *figure = figure_before(form, at);
  return figure && figure_pattern_fits(figure, FIGURE_WIDTH);
}

/* Room for ticks and words beside the figure as well; words that take more than one line there
 * stand below it. */
static bool passes_beside(const TorqueCard *card) {
  Um left = INNER - FIGURE_WIDTH - PAD - PASS_NUMBER - MM(3);
  int64_t count = (int64_t)most_ticks(card);
  if (count * pitch_of(card) > left - LEAST_WORDS + MM(3)) return false;
  return longest_words(card) <= left - count * LEAST_PITCH;
}

static void set_figure(Card *set, Um y) {
  Layout *layout = set->form->layout;
  Um x = COLUMN_WIDTH - PAD - FIGURE_WIDTH;
  Sketch figure = {.arena = layout->arena};
  Um at = figure_pattern(layout, &figure, set->figure, FIGURE_WIDTH) + MM(1);
  at += figure_caption(layout, &figure, MM(2), at, FIGURE_WIDTH - MM(2), set->figure);
  sketch_add(&set->first->sketch, &figure, x, y);
  set->figure_bottom = y + at + MM(2);
}

static void form_head(Card *set) {
  Layout *layout = set->form->layout;
  const TorqueCard *card = set->card;
  Piece *piece = set->first = form_piece(set->form, MM(3.5));
  Sketch *sketch = &piece->sketch;
  Um air = layout->air == AIR_LEAST ? MM(0.8) : MM(1.2);
  Um at = set_head(layout, sketch, card, MM(1.6)) + air;
  sketch_line(sketch, PAD, at, COLUMN_WIDTH - PAD, at, LINE_HAIR);
  if (set->figure) set_figure(set, at + MM(1));
  at += air;
  at += layout->air == AIR_LEAST
            ? set_lines(layout, sketch, card, at, set->beside, set->figure != NULL)
            : set_fields(layout, sketch, card, at, set->beside, set->figure != NULL) + MM(1);
  at += set_sources(layout, sketch, card, at, set->beside);
  if (set->figure && set->width > set->beside && set->figure_bottom > at) at = set->figure_bottom;
  piece->height = at + air;
  sketch_line(sketch, 0, LINE_RULE / 2, COLUMN_WIDTH, LINE_RULE / 2, LINE_RULE);
  piece->with_next = card->passes.n > 0;
}

/* A square a fastener; names above it unless they stand there already. Answers the height. */
static Um set_ticks(const Card *set, Sketch *sketch, Um y, const Words *names, bool named) {
  Layout *layout = set->form->layout;
  Um label = named ? type_of(TYPE_LABEL)->leading : 0;
  Um end = PAD + set->width + MM(3), at = set->ticks_x, line = y;
  size_t count = names->n < MOST_TICKS ? names->n : MOST_TICKS;
  for (size_t i = 0; i < count; i++) {
    if (at > set->ticks_x && at + set->pitch > end) {
      at = set->ticks_x;
      line += label + TICK_SIDE + MM(1.6);
    }
    if (named) line_set(layout, sketch, at, line, set->pitch, TYPE_LABEL_BOLD, names->at[i]);
    tick_set(sketch, at, line + label, false);
    at += set->pitch;
  }
  return count ? line + label + TICK_SIDE - y : 0;
}

static bool same_names(const Words *a, const Words *b) {
  if (a->n != b->n) return false;
  for (size_t i = 0; i < a->n; i++)
    if (!text_is(a->at[i], b->at[i])) return false;
  return true;
}

/* The names stand over the first line of a run with the same ones, where they take one line. */
static bool is_named(const Card *set, size_t index) {
  const Words *names = &set->card->passes.at[index].ticks;
  if (index == 0 || names->n == 0) return names->n > 0;
  if ((int64_t)names->n * set->pitch > PAD + set->width + MM(3) - set->ticks_x) return true;
  return !same_names(names, &set->card->passes.at[index - 1].ticks);
}

static void form_pass(Card *set, size_t index) {
  Layout *layout = set->form->layout;
  const TorquePass *pass = &set->card->passes.at[index];
  Piece *piece = form_piece(set->form, 0);
  Sketch *sketch = &piece->sketch;
  bool named = is_named(set, index);
  Words one = {0};
  vec_push(layout->arena, &one, "done");
  Um down = named ? MM(0.6) : MM(1), label = named ? type_of(TYPE_LABEL)->leading : 0;
  sketch_line(sketch, PAD, 0, PAD + set->width, 0, LINE_HAIR);
  Um height = set_ticks(set, sketch, down, pass->ticks.n ? &pass->ticks : &one, named);
  Um text_y = down + label + (TICK_SIDE - type_of(TYPE_STEP)->leading) / 2;
  line_set(layout, sketch, PAD, text_y, PASS_NUMBER, TYPE_STEP_BOLD,
           arena_printf(layout->arena, "%zu", index + 1));
  Um words = set->ticks_x - MM(3) - PAD - PASS_NUMBER;
  Um end = text_y + text_set(layout, sketch, PAD + PASS_NUMBER, text_y, words, TYPE_STEP_BOLD,
                             pass->what ? pass->what : "");
  piece->height = (down + height > end ? down + height : end) + MM(1);
  piece->with_next = set->figure && index + 1 < set->card->passes.n;
}

void form_torque(Form *form, const Block *block) {
  Card set = {.form = form, .card = &block->torque, .beside = INNER, .width = INNER};
  if (torque_takes_figure(form, form->at)) {
    set.figure = figure_before(form, form->at);
    set.beside = INNER - FIGURE_WIDTH - PAD;
    if (passes_beside(set.card)) set.width = set.beside;
  }
  divide(&set);
  size_t from = form->pieces.n;
  form_head(&set);
  for (size_t i = 0; i < set.card->passes.n; i++) form_pass(&set, i);
  Um height = 0;
  for (size_t i = from; i < form->pieces.n; i++) height += form->pieces.at[i]->height;
  Piece *last = form->pieces.at[form->pieces.n - 1];
  if (set.figure_bottom > height) last->height += set.figure_bottom - height;
  for (size_t i = from; i < form->pieces.n; i++) set_sides(form->pieces.at[i]);
  Um y = last->height - LINE_RULE / 2;
  sketch_line(&last->sketch, 0, y, COLUMN_WIDTH, y, LINE_RULE);
}
