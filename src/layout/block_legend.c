/* What the marks mean, and a bar to measure the print by. */
#include "layout/block.h"

#include "layout/boxes.h"
#include "layout/symbol.h"

#define SAMPLE_WIDTH MM(33)
#define MEANING_X    (SAMPLE_WIDTH + MM(3))
#define COLUMN_GAP   MM(5)

typedef void Sample(Layout *layout, Sketch *sketch); /* within 33 mm by a line of handwriting */

static void sample_tick(Layout *layout, Sketch *sketch) {
  (void)layout;
  tick_set(sketch, 0, (WRITE_HEIGHT - TICK_SIDE) / 2, false);
}

static void sample_box(Layout *layout, Sketch *sketch) {
  NumericBox box = {.whole = 2, .places = 2};
  numeric_box_set(layout, sketch, 0, 0, &box);
}

static void sample_stop(Layout *layout, Sketch *sketch) {
  Um width = MM(22);
  sketch_box(sketch, 0, MM(0.5), width, WRITE_HEIGHT - MM(1), LINE_HAIR);
  line_set_centre(layout, sketch, width / 2, (WRITE_HEIGHT - type_of(TYPE_STEP)->leading) / 2, 0,
                  TYPE_STEP, "STOP");
}

static void sample_hold(Layout *layout, Sketch *sketch) {
  sketch_fill(sketch, 0, 0, SAMPLE_WIDTH, MM(1.8), INK_BLACK);
  sketch_fill(sketch, 0, WRITE_HEIGHT - MM(1.8), SAMPLE_WIDTH, MM(1.8), INK_BLACK);
  line_set(layout, sketch, 0, (WRITE_HEIGHT - type_of(TYPE_BODY_BOLD)->leading) / 2, 0,
           TYPE_BODY_BOLD, "HOLD");
}

static void sample_danger(Layout *layout, Sketch *sketch) {
  (void)layout;
  const Type *type = type_of(TYPE_BODY_BOLD);
  sketch_fill(sketch, 0, MM(1), SAMPLE_WIDTH, MM(7.5), INK_BLACK);
  sketch_text(sketch, MM(9.5), MM(1) + (MM(7.5) + type_digits(type)) / 2, type,
              safety_word_print(SAFETY_DANGER), INK_WHITE);
}

static void sample_word(Layout *layout, Sketch *sketch, SafetyWord word, Um border, bool triangle) {
  sketch_box(sketch, 0, MM(0.5), SAMPLE_WIDTH, WRITE_HEIGHT - MM(1), border);
  if (triangle) symbol_alert(sketch, MM(2), MM(1.7), MM(6));
  line_set(layout, sketch, MM(9.5), (WRITE_HEIGHT - type_of(TYPE_BODY_BOLD)->leading) / 2, 0,
           TYPE_BODY_BOLD, safety_word_print(word));
}

static void sample_warning(Layout *layout, Sketch *sketch) {
  sample_word(layout, sketch, SAFETY_WARNING, LINE_HEAVY, true);
}

static void sample_caution(Layout *layout, Sketch *sketch) {
  sample_word(layout, sketch, SAFETY_CAUTION, LINE_STRONG, true);
}

static void sample_notice(Layout *layout, Sketch *sketch) {
  sample_word(layout, sketch, SAFETY_NOTICE, LINE_HAIR, false);
}

static void sample_fastener(Layout *layout, Sketch *sketch) {
  Um radius = MM(4.4);
  sketch_circle(sketch, radius + MM(0.2), WRITE_HEIGHT / 2, radius, LINE_RULE, false);
  line_set_centre(layout, sketch, radius + MM(0.2),
                  (WRITE_HEIGHT - type_of(TYPE_STEP_NUMBER)->leading) / 2, 0, TYPE_STEP_NUMBER,
                  "3");
  line_set(layout, sketch, MM(11), (WRITE_HEIGHT - type_of(TYPE_SMALL)->leading) / 2, 0, TYPE_SMALL,
           "front left");
}

static void sample_change(Layout *layout, Sketch *sketch) {
  (void)layout;
  sketch_line(sketch, MM(1), MM(0.5), MM(1), WRITE_HEIGHT - MM(0.5), POINTS(2.5));
}

static const struct {
  Sample *draw;
  const char *meaning;
} entries[] = {
    {sample_tick, "Tick when the step is done, not before."},
    {sample_box, "Write what you read off the gauge. The dot is the decimal mark; each place gets "
                 "a digit, a zero too. The box \"again\" is for what was out and worked on."},
    {sample_stop, "It does not fit. Where nothing in its row does, stop and enter it in the nonconformance list."},
    {sample_hold, "Nobody works past the bars without two initials."},
    {sample_fastener, "Which fastener (small, beside the ring) and when it is tightened (large, in "
                      "the ring)."},
    {sample_danger, "It will kill or maim."},
    {sample_warning, "It could kill or maim."},
    {sample_caution, "It could injure, not gravely."},
    {sample_notice, "It could damage the engine or the machine; nobody is hurt."},
    {sample_change, "Changed since the earlier issue."},
};

/* One mark and its meaning in half the line; answers its height. */
static Um set_entry(Layout *layout, Sketch *sketch, Um x, size_t index) {
  Um width = (COLUMN_WIDTH - COLUMN_GAP) / 2 - MEANING_X;
  Sketch words = {.arena = layout->arena}, mark = {.arena = layout->arena};
  Um height = text_set(layout, &words, MEANING_X, 0, width, TYPE_SMALL, entries[index].meaning);
  Um all = height > WRITE_HEIGHT ? height : WRITE_HEIGHT;
  entries[index].draw(layout, &mark);
  sketch_add(sketch, &mark, x, (all - WRITE_HEIGHT) / 2);
  sketch_add(sketch, &words, x, (all - height) / 2);
  return all;
}

/* Down the left half, then down the right. */
void form_legend(Form *form, const Block *block) {
  (void)block;
  size_t count = sizeof entries / sizeof *entries, lines = (count + 1) / 2;
  for (size_t i = 0; i < lines; i++) {
    Piece *piece = form_piece(form, i == 0 ? MM(3) : MM(1.8));
    piece->height = set_entry(form->layout, &piece->sketch, 0, i);
    if (i + lines >= count) continue;
    Um other = set_entry(form->layout, &piece->sketch, (COLUMN_WIDTH + COLUMN_GAP) / 2, i + lines);
    if (other > piece->height) piece->height = other;
  }
}

/* Exactly 100 mm between the middles of the outer strokes, a stroke every 10. */
Um scale_bar_set(Layout *layout, Sketch *sketch) {
  Um x = MM(0.5), y = MM(5);
  sketch_line(sketch, x, y, x + MM(100), y, LINE_RULE);
  for (int i = 0; i <= 10; i++) {
    Um tall = i % 5 == 0 ? MM(4.5) : MM(2.5);
    sketch_line(sketch, x + MM(10) * i, y - tall, x + MM(10) * i, y, LINE_HAIR);
  }
  text_set(layout, sketch, MM(106), 0, COLUMN_WIDTH - MM(106), TYPE_SMALL,
           "This bar is 100 mm. If it is not, print again without scaling.");
  return MM(9);
}

/* Nothing here: whoever checks the print looks at the foot of the first page. */
void form_scale_bar(Form *form, const Block *block) {
  (void)form;
  (void)block;
}
