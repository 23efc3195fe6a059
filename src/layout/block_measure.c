/* A measured row in two tiers: what and with which gauge; then limits and the boxes for the
 * reading, for one more try, the verdict and the initials. */
#include "layout/measure_row.h"

#define LIMIT_WIDTH MM(19)
#define VERDICT_GAP MM(3)
#define RIGHT_PART  (2 * (TICK_SIDE + VERDICT_GAP) + INITIALS + MM(2))

typedef struct Tier {
  Layout *layout;
  Sketch *sketch;
  const MeasureRow *row;
  Um y;       /* top of the labels */
  Um boxes;   /* top of the boxes */
  bool spare; /* the boxes of the second try */
} Tier;

static bool begins_negative(const char *number) {
  return number && (number[0] == '-' || text_starts(number, "\xE2\x88\x92"));
}

static const char *or_empty(const char *text) {
  return text ? text : "";
}

bool row_has_limits(const MeasureRow *row) {
  return row->min || row->target || row->max;
}

const char *row_kind(Layout *layout, const MeasureRow *row) {
  const char *kind = row->kind && row->kind[0] ? row->kind : "record only";
  const char *sentence = arena_printf(layout->arena, "%s.", kind);
  if (kind[0] < 'a' || kind[0] > 'z') return sentence;
  return arena_printf(layout->arena, "%c%s", kind[0] - 'a' + 'A', sentence + 1);
}

NumericBox row_box(const MeasureRow *row, int reading) {
  return (NumericBox){.whole = row->whole_digits,
                      .places = row->places,
                      .sign = begins_negative(row->min) || begins_negative(row->target) ||
                              begins_negative(row->max),
                      .value = row->values[reading]};
}

static const char *letter_lead(Layout *layout, const MeasureRow *row) {
  return row->letter ? arena_printf(layout->arena, "%s =", row->letter) : NULL;
}

Um row_what_width(Layout *layout, const MeasureRow *row) {
  const char *lead = letter_lead(layout, row);
  return type_width(TYPE_STEP, or_empty(row->what)) +
         (lead ? type_width(TYPE_STEP_BOLD, lead) + type_width(TYPE_STEP, " ") : 0);
}

Um row_what_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const MeasureRow *row) {
  Paragraph what = {.type = TYPE_STEP,
                    .lead = letter_lead(layout, row),
                    .text = or_empty(row->what),
                    .width = width};
  return paragraph_set(layout, sketch, x, y, &what);
}

int row_readings(const MeasureRow *row) {
  return row->readings < 1 ? 1 : row->readings > 3 ? 3 : row->readings;
}

bool row_goes_on(const Form *form, size_t at) {
  if (at == 0 || form->group->blocks.at[at - 1]->kind != BLOCK_MEASURE) return false;
  const MeasureRow *a = &form->group->blocks.at[at - 1]->measure;
  const MeasureRow *b = &form->group->blocks.at[at]->measure;
  return b->gauge_short && text_is(a->gauge, b->gauge) && text_is(a->kind, b->kind) &&
         text_is(a->source, b->source) && text_is(a->agree, b->agree);
}

/* What is out is worked on and measured again: room for that, once what was read is not typed. */
static bool has_spare(const MeasureRow *row) {
  return (row->min || row->max) && !row->values[0];
}

/* Without a verdict the boxes reach up to the initials. */
Um row_boxes_end(const MeasureRow *row) {
  return COLUMN_WIDTH - (row->min || row->max ? RIGHT_PART : INITIALS + MM(3));
}

static const char *join(Layout *layout, const char *a, const char *mark, const char *b) {
  if (!a || !a[0]) return or_empty(b);
  return b && b[0] ? arena_printf(layout->arena, "%s%s%s", a, mark, b) : a;
}

/* "depth gauge G3, reads 0.01 mm; limits: barrel sheet 4" */
static const char *how_measured(Layout *layout, const MeasureRow *row, const char *gauge) {
  const char *agree = row->agree ? arena_printf(layout->arena,
                                                "readings within %s of each other, else take them "
                                                "again",
                                                row->agree)
                                 : NULL;
  return join(layout, gauge, "; ", agree);
}

static const char *limits_by(Layout *layout, const MeasureRow *row) {
  if (!row->source || !row->source[0]) return NULL;
  return arena_printf(layout->arena, "limits: %s", row->source);
}

/* What is measured, and at the right or below how and by whose limits; what is the same as in the
 * row before is not said again. */
static Um set_what(Layout *layout, Sketch *sketch, const MeasureRow *row, bool goes_on) {
  Um top = MM(1.2), width = COLUMN_WIDTH - STEP_TEXT_X;
  const Type *step = type_of(TYPE_STEP);
  line_set(layout, sketch, 0, top, 0, TYPE_STEP_BOLD,
           arena_printf(layout->arena, "Box %d", row->box));
  Um at = top + row_what_set(layout, sketch, STEP_TEXT_X, top, width, row);
  const char *kind = row_has_limits(row) ? NULL : row_kind(layout, row);
  const char *gauge = how_measured(layout, row, goes_on ? row->gauge_short : or_empty(row->gauge));
  const char *source = goes_on ? NULL : limits_by(layout, row);
  Um room = width - row_what_width(layout, row) - MM(6);
  if (at > top + step->leading) room = 0;
  Um right = top + type_baseline(step) - type_baseline(type_of(TYPE_SMALL));
  const char *all = join(layout, gauge, "; ", source);
  Um kind_width = kind ? type_width(TYPE_SMALL_BOLD, kind) + MM(2) : 0;
  if (kind_width + type_width(TYPE_SMALL, all) <= room) {
    Um end = COLUMN_WIDTH - line_set_right(layout, sketch, COLUMN_WIDTH, right, 0, TYPE_SMALL, all);
    if (kind) line_set_right(layout, sketch, end - MM(2), right, 0, TYPE_SMALL_BOLD, kind);
    return at;
  }
  if (kind && kind_width <= room) {
    line_set_right(layout, sketch, COLUMN_WIDTH, right, 0, TYPE_SMALL_BOLD, kind);
    kind = NULL;
  } else if (!kind && source && type_width(TYPE_SMALL, gauge) <= room) {
    line_set_right(layout, sketch, COLUMN_WIDTH, right, 0, TYPE_SMALL, gauge);
    all = source;
  }
  Paragraph how = {.type = TYPE_SMALL, .lead = kind, .text = all, .width = width};
  return at + paragraph_set(layout, sketch, STEP_TEXT_X, at, &how);
}

static Um middle_of_box(const Tier *tier, TypeName type) {
  return tier->boxes + (WRITE_HEIGHT - type_of(type)->leading) / 2;
}

static Um limit_width(const char *number) {
  Um width = type_width(TYPE_VALUE, or_empty(number)) + MM(3.5);
  return width > LIMIT_WIDTH ? width : LIMIT_WIDTH;
}

/* Where the limits end. all: a limit that is not given has its column too. */
static Um limits_end(const MeasureRow *row, bool all) {
  const char *const numbers[] = {row->min, row->target, row->max};
  Um at = 0;
  for (int i = 0; i < 3; i++)
    if (all || numbers[i]) at += limit_width(numbers[i]);
  return at + MM(1);
}

static void set_limits(const Tier *tier, bool all) {
  const MeasureRow *row = tier->row;
  const char *const labels[] = {"min", "target", "max"};
  const char *const numbers[] = {row->min, row->target, row->max};
  Um at = 0;
  for (int i = 0; i < 3; i++) {
    if (!all && !numbers[i]) continue;
    Um width = limit_width(numbers[i]);
    line_set(tier->layout, tier->sketch, at, tier->y, width, TYPE_LABEL, labels[i]);
    line_set(tier->layout, tier->sketch, at, middle_of_box(tier, TYPE_VALUE), 0, TYPE_VALUE,
             numbers[i] && numbers[i][0] ? numbers[i] : "\xE2\x80\x93");
    at += width;
  }
}

/* Of that many boxes side by side, with the unit after the last. */
Um row_boxes_width(const MeasureRow *row, int count) {
  Um width = type_width(TYPE_BODY, or_empty(row->unit)) + MM(2) - BOX_GAP;
  for (int i = 0; i < count; i++) {
    NumericBox box = row_box(row, i % row_readings(row));
    width += numeric_box_width(&box) + BOX_GAP;
  }
  return width;
}

static void next_tier(Tier *tier, Um space) {
  tier->y = tier->boxes + WRITE_HEIGHT + space;
  tier->boxes = tier->y + type_of(TYPE_LABEL)->leading;
}

static const char *box_label(const Tier *tier, int reading, bool spare) {
  const char *word = spare ? "again" : "reading";
  if (row_readings(tier->row) == 1) return word;
  return arena_printf(tier->layout->arena, "%s %d", word, reading + 1);
}

/* Boxes from x on, further lines where they do not fit; with: those of the second try follow on
 * the same line. Answers where the next box would stand. */
static void set_boxes(Tier *tier, Um x, bool with) {
  const MeasureRow *row = tier->row;
  Um left = x, unit = type_width(TYPE_BODY, or_empty(row->unit)) + MM(2), end = row_boxes_end(row);
  int count = row_readings(row), all = with ? 2 * count : count;
  for (int i = 0; i < all; i++) {
    NumericBox box = row_box(row, i % count);
    Um width = numeric_box_width(&box);
    if (x > left && x + width + unit > end) {
      x = left;
      next_tier(tier, MM(3));
    }
    line_set(tier->layout, tier->sketch, x, tier->y, width + BOX_GAP, TYPE_LABEL,
             box_label(tier, i % count, tier->spare || i >= count));
    numeric_box_set(tier->layout, tier->sketch, x, tier->boxes, &box);
    x += width + BOX_GAP;
  }
  x -= BOX_GAP - MM(2);
  line_set(tier->layout, tier->sketch, x, middle_of_box(tier, TYPE_BODY), end - x, TYPE_BODY,
           or_empty(row->unit));
}

static void set_verdict(const Tier *tier) {
  const MeasureRow *row = tier->row;
  Um x = row_boxes_end(row) + MM(2), down = tier->boxes + (WRITE_HEIGHT - TICK_SIDE) / 2;
  bool judged = row->min || row->max;
  const char *const words[] = {"in", "out"};
  const bool ticked[] = {text_is(row->verdict, "in"), text_is(row->verdict, "OUT")};
  for (int i = 0; i < 2 && judged; i++) {
    line_set_centre(tier->layout, tier->sketch, x + TICK_SIDE / 2, tier->y, 0, TYPE_LABEL,
                    words[i]);
    tick_set(tier->sketch, x, down, ticked[i]);
    x += TICK_SIDE + VERDICT_GAP;
  }
  x = COLUMN_WIDTH - INITIALS;
  line_set(tier->layout, tier->sketch, x, tier->y, INITIALS, TYPE_LABEL, "initials");
  sketch_box(tier->sketch, x, tier->boxes, INITIALS, WRITE_HEIGHT, LINE_BOX);
}

/* Limits and boxes: all on one line where there is room, else the second try on a line of its own,
 * else the limits too. */
static void set_tiers(Tier *tier) {
  const MeasureRow *row = tier->row;
  bool limits = row_has_limits(row), spare = has_spare(row);
  int count = row_readings(row);
  Um end = row_boxes_end(row), whole = limits_end(row, true), few = limits_end(row, false);
  Um one = row_boxes_width(row, count), both = row_boxes_width(row, 2 * count);
  bool with = spare && (whole + both <= end || few + both <= end);
  Um needed = with ? both : one, x = limits ? whole : STEP_TEXT_X;
  bool all = !limits || whole + needed <= end;
  if (!all && few + needed <= end) x = few;
  if (limits) set_limits(tier, all || x != few);
  if (x + needed > end && limits) { /* a line of their own */
    next_tier(tier, MM(1.5));
    x = 0;
  }
  set_boxes(tier, x, with);
  set_verdict(tier);
  if (!spare || with) return;
  next_tier(tier, MM(1));
  tier->spare = true;
  set_boxes(tier, x, false);
  set_verdict(tier);
}

void form_measure(Form *form, const Block *block) {
  if (pair_set(form, block)) return;
  if (in_grid_before(form, form->at)) {
    form_grid_row(form, block);
    return;
  }
  const MeasureRow *row = &block->measure;
  Piece *piece = form_piece(form, MM(2.2));
  sketch_line(&piece->sketch, 0, LINE_HAIR / 2, COLUMN_WIDTH, LINE_HAIR / 2, LINE_HAIR);
  Tier tier = {.layout = form->layout, .sketch = &piece->sketch, .row = row};
  bool goes_on = row_goes_on(form, form->at) && !block->changed;
  tier.y = set_what(form->layout, &piece->sketch, row, goes_on) + MM(0.6);
  tier.boxes = tier.y + type_of(TYPE_LABEL)->leading;
  if (in_grid(form, form->at)) {
    set_boxes(&tier, grid_boxes_x(row), false);
    set_verdict(&tier);
  } else {
    set_tiers(&tier);
  }
  piece->height = tier.boxes + WRITE_HEIGHT + MM(0.3);
}
