/* A measured row in two tiers: what and with which gauge; then limits and the
 * boxes for the reading, the verdict and the initials. */
#include "layout/block.h"

#include "layout/boxes.h"

#define PAIR_GAP    MM(7)
#define PAIR_WIDTH  ((COLUMN_WIDTH - PAIR_GAP) / 2)
#define PAIR_BOX_X  MM(20) /* from the left of its half to the text of a box */
#define LIMIT_WIDTH MM(19)
#define UNIT_WIDTH  MM(12)
#define INITIALS    MM(14)
#define VERDICT_GAP MM(3)
#define RIGHT_PART  (2 * (TICK_SIDE + VERDICT_GAP) + INITIALS + MM(2))

typedef struct Tier {
  Layout *layout;
  Sketch *sketch;
  const MeasureRow *row;
  Um y;     /* top of the labels */
  Um boxes; /* top of the boxes */
} Tier;

static bool begins_negative(const char *number) {
  return number && (number[0] == '-' || text_starts(number, "\xE2\x88\x92"));
}

static const char *or_empty(const char *text) {
  return text ? text : "";
}

static bool has_limits(const MeasureRow *row) {
  return row->min || row->target || row->max;
}

/* Without limits the row says what kind it is: "Record only.", "Judged by Squish." */
static const char *kind_of(Layout *layout, const MeasureRow *row) {
  const char *kind = row->kind && row->kind[0] ? row->kind : "record only";
  const char *sentence = arena_printf(layout->arena, "%s.", kind);
  if (kind[0] < 'a' || kind[0] > 'z') return sentence;
  return arena_printf(layout->arena, "%c%s", kind[0] - 'a' + 'A', sentence + 1);
}

static NumericBox box_of(const MeasureRow *row, int reading) {
  return (NumericBox){.whole = row->whole_digits,
                      .places = row->places,
                      .sign = begins_negative(row->min) || begins_negative(row->target) ||
                              begins_negative(row->max),
                      .value = row->values[reading]};
}

/* Without a verdict the boxes reach up to the initials. */
static Um boxes_end(const MeasureRow *row) {
  return COLUMN_WIDTH - (row->min || row->max ? RIGHT_PART : INITIALS + MM(3));
}

static int readings_of(const MeasureRow *row) {
  return row->readings < 1 ? 1 : row->readings > 3 ? 3 : row->readings;
}

/* "Deck height, left    Record only." and under it "depth gauge G3, reads 0.01 mm; limits: barrel
 * sheet 4"; on one line where there is room. */
static Um set_what(Layout *layout, Sketch *sketch, const MeasureRow *row) {
  Um top = MM(1.2), width = COLUMN_WIDTH - STEP_TEXT_X;
  const Type *step = type_of(TYPE_STEP);
  line_set(layout, sketch, 0, top, 0, TYPE_STEP_BOLD,
           arena_printf(layout->arena, "Box %d", row->box));
  Um at = top + text_set(layout, sketch, STEP_TEXT_X, top, width, TYPE_STEP, or_empty(row->what));
  Text with = text_new(layout->arena);
  text_add(&with, or_empty(row->gauge));
  if (row->source && row->source[0])
    text_addf(&with, "%slimits: %s", with.n ? "; " : "", row->source);
  const char *kind = has_limits(row) ? NULL : kind_of(layout, row);
  Paragraph how = {.type = TYPE_SMALL, .lead = kind, .text = text_done(&with), .width = width};
  Um room = width - type_width(TYPE_STEP, or_empty(row->what)) - MM(8);
  if (at > top + step->leading) room = 0;
  Um right = top + type_baseline(step) - type_baseline(type_of(TYPE_SMALL));
  if (!kind && type_width(TYPE_SMALL, how.text) <= room) {
    line_set_right(layout, sketch, COLUMN_WIDTH, right, 0, TYPE_SMALL, how.text);
    return at;
  }
  if (!kind && row->gauge && row->source && type_width(TYPE_SMALL, row->gauge) <= room) {
    line_set_right(layout, sketch, COLUMN_WIDTH, right, 0, TYPE_SMALL, row->gauge);
    how.text = arena_printf(layout->arena, "limits: %s", row->source);
  }
  if (kind && type_width(TYPE_SMALL_BOLD, kind) <= room) {
    line_set_right(layout, sketch, COLUMN_WIDTH, right, 0, TYPE_SMALL_BOLD, kind);
    how.lead = NULL;
  }
  return at + paragraph_set(layout, sketch, STEP_TEXT_X, at, &how);
}

static Um middle_of_box(const Tier *tier, TypeName type) {
  return tier->boxes + (WRITE_HEIGHT - type_of(type)->leading) / 2;
}

/* Answers where the limits end. */
static Um set_limits(const Tier *tier) {
  const MeasureRow *row = tier->row;
  const char *const labels[] = {"min", "target", "max"};
  const char *const numbers[] = {row->min, row->target, row->max};
  Um at = 0;
  for (int i = 0; i < 3; i++) {
    Um width = type_width(TYPE_VALUE, or_empty(numbers[i])) + MM(3.5);
    if (width < LIMIT_WIDTH) width = LIMIT_WIDTH;
    line_set(tier->layout, tier->sketch, at, tier->y, width, TYPE_LABEL, labels[i]);
    line_set(tier->layout, tier->sketch, at, middle_of_box(tier, TYPE_VALUE), 0, TYPE_VALUE,
             numbers[i] && numbers[i][0] ? numbers[i] : "\xE2\x80\x93");
    at += width;
  }
  Um unit = line_set(tier->layout, tier->sketch, at, middle_of_box(tier, TYPE_BODY), 0, TYPE_BODY,
                     or_empty(row->unit)) +
            MM(3);
  return at + (unit > UNIT_WIDTH ? unit : UNIT_WIDTH);
}

/* Boxes from x on, further lines where they do not fit; answers the height of the lowest edge. */
static Um set_boxes(Tier *tier, Um x) {
  const MeasureRow *row = tier->row;
  Um left = x, unit = type_width(TYPE_BODY, or_empty(row->unit)) + MM(2);
  int count = readings_of(row);
  Um all = -BOX_GAP, end = boxes_end(row);
  for (int i = 0; i < count; i++) {
    NumericBox box = box_of(row, i);
    all += numeric_box_width(&box) + BOX_GAP;
  }
  Um label = type_of(TYPE_LABEL)->leading;
  if (x + all + unit > end) { /* a line of their own */
    tier->y = tier->boxes + WRITE_HEIGHT + MM(1.5);
    tier->boxes = tier->y + label;
    left = x = 0;
  }
  for (int i = 0; i < count; i++) {
    NumericBox box = box_of(row, i);
    Um width = numeric_box_width(&box);
    if (x > left && x + width + unit > end) {
      x = left;
      tier->y = tier->boxes + WRITE_HEIGHT + MM(3);
      tier->boxes = tier->y + label;
    }
    line_set(tier->layout, tier->sketch, x, tier->y, width, TYPE_LABEL,
             count > 1 ? arena_printf(tier->layout->arena, "reading %d", i + 1) : "reading");
    numeric_box_set(tier->layout, tier->sketch, x, tier->boxes, &box);
    x += width + BOX_GAP;
  }
  x -= BOX_GAP - MM(2);
  line_set(tier->layout, tier->sketch, x, middle_of_box(tier, TYPE_BODY), end - x, TYPE_BODY,
           or_empty(row->unit));
  return tier->boxes + WRITE_HEIGHT;
}

static void set_verdict(const Tier *tier) {
  const MeasureRow *row = tier->row;
  Um x = boxes_end(row) + MM(2), down = tier->boxes + (WRITE_HEIGHT - TICK_SIDE) / 2;
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

/* One reading without limits of its own takes half a line. */
static bool is_short(const Block *block) {
  const MeasureRow *row = &block->measure;
  if (block->kind != BLOCK_MEASURE || has_limits(row) || readings_of(row) > 1) return false;
  NumericBox box = box_of(row, 0);
  Um needed = PAIR_BOX_X + numeric_box_width(&box) + MM(2) +
              type_width(TYPE_BODY, or_empty(row->unit)) + BOX_GAP + INITIALS;
  return needed <= PAIR_WIDTH &&
         type_width(TYPE_STEP, or_empty(row->what)) <= 2 * (PAIR_WIDTH - PAIR_BOX_X);
}

/* The same size read with the same gauge at another place. */
static bool is_alike(const Block *a, const Block *b) {
  if (!is_short(a) || !is_short(b) || a->changed != b->changed) return false;
  return text_is(a->measure.gauge, b->measure.gauge) && text_is(a->measure.unit, b->measure.unit) &&
         text_is(a->measure.kind, b->measure.kind) && a->measure.places == b->measure.places;
}

/* How many boxes like this one stand right before it. */
static size_t alike_before(const Form *form, size_t at) {
  size_t count = 0;
  for (; at > 0 && is_alike(form->group->blocks.at[at - 1], form->group->blocks.at[at]); at--)
    count++;
  return count;
}

/* The words take at least that height, so that two boxes side by side stand on one level. Answers
 * the height; words: what they took. */
static Um set_half(Layout *layout, Sketch *sketch, const MeasureRow *row, Um least, Um *words) {
  Um top = MM(1.2), width = PAIR_WIDTH - PAIR_BOX_X;
  line_set(layout, sketch, 0, top, 0, TYPE_STEP_BOLD,
           arena_printf(layout->arena, "Box %d", row->box));
  Um at = top + text_set(layout, sketch, PAIR_BOX_X, top, width, TYPE_STEP, or_empty(row->what));
  Paragraph how = {.type = TYPE_SMALL,
                   .lead = kind_of(layout, row),
                   .text = or_empty(row->gauge),
                   .width = width};
  at += paragraph_set(layout, sketch, PAIR_BOX_X, at, &how);
  *words = at;
  Um label = (at > least ? at : least) + MM(0.6), box_y = label + type_of(TYPE_LABEL)->leading;
  NumericBox box = box_of(row, 0);
  Um end = PAIR_BOX_X + numeric_box_width(&box);
  line_set(layout, sketch, PAIR_BOX_X, label, 0, TYPE_LABEL, "reading");
  numeric_box_set(layout, sketch, PAIR_BOX_X, box_y, &box);
  line_set(layout, sketch, end + MM(2), box_y + (WRITE_HEIGHT - type_of(TYPE_BODY)->leading) / 2, 0,
           TYPE_BODY, or_empty(row->unit));
  Um x = PAIR_WIDTH - INITIALS;
  line_set(layout, sketch, x, label, INITIALS, TYPE_LABEL, "initials");
  sketch_box(sketch, x, box_y, INITIALS, WRITE_HEIGHT, LINE_BOX);
  sketch_line(sketch, 0, LINE_HAIR / 2, PAIR_WIDTH, LINE_HAIR / 2, LINE_HAIR);
  return box_y + WRITE_HEIGHT;
}

/* Two alike on one line, in the order of their numbers. */
static void form_pair(Form *form, const Block *left, const Block *right) {
  Piece *piece = form_piece(form, MM(2.2));
  Arena *arena = form->layout->arena;
  Sketch half = {.arena = arena}, trial = {.arena = arena};
  Um one = 0, other = 0;
  set_half(form->layout, &trial, &left->measure, 0, &one);
  set_half(form->layout, &trial, &right->measure, 0, &other);
  Um least = one > other ? one : other;
  piece->height = set_half(form->layout, &piece->sketch, &left->measure, least, &one) + MM(0.3);
  set_half(form->layout, &half, &right->measure, least, &other);
  sketch_add(&piece->sketch, &half, PAIR_WIDTH + PAIR_GAP, 0);
}

void form_measure(Form *form, const Block *block) {
  if (alike_before(form, form->at) % 2 == 1) return; /* stands beside the one before it */
  const Block *next =
      form->at + 1 < form->group->blocks.n ? form->group->blocks.at[form->at + 1] : NULL;
  if (next && is_alike(block, next)) {
    form_pair(form, block, next);
    return;
  }
  const MeasureRow *row = &block->measure;
  Piece *piece = form_piece(form, MM(2.2));
  sketch_line(&piece->sketch, 0, LINE_HAIR / 2, COLUMN_WIDTH, LINE_HAIR / 2, LINE_HAIR);
  Tier tier = {.layout = form->layout, .sketch = &piece->sketch, .row = row};
  tier.y = set_what(form->layout, &piece->sketch, row) + MM(0.6);
  tier.boxes = tier.y + type_of(TYPE_LABEL)->leading;
  Um x = has_limits(row) ? set_limits(&tier) : STEP_TEXT_X;
  piece->height = set_boxes(&tier, x) + MM(0.3);
  set_verdict(&tier);
}
