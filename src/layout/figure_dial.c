/* Figures on a circle: ring gaps, which way round, valve timing. */
#include "layout/figure.h"

#include "trade/circle.h"

#include <math.h>

#define MOST_LABELS 40
#define LABEL_GAP   MM(1.5)

typedef struct DialLabel {
  double degrees; /* clockwise from twelve o'clock */
  const char *name, *note;
} DialLabel;

/* A circle in the middle, its labels at both sides. */
typedef struct Dial {
  Um x, y, radius; /* middle */
  Um column;       /* width of the labels of one side */
  Um height;
  DialLabel *labels;
  size_t count;
} Dial;

static DialLabel *labels_of(Layout *layout, const Figure *figure) {
  DialLabel *labels = ARENA_NEW_N(layout->arena, DialLabel, figure->points.n + 1);
  for (size_t i = 0; i < figure->points.n; i++) {
    const FigurePoint *point = &figure->points.at[i];
    double degrees = isfinite(point->x) ? fmod(point->x, 360) : 0;
    labels[i] = (DialLabel){degrees < 0 ? degrees + 360 : degrees, point->label, point->note};
  }
  return labels;
}

static Um label_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, Align align,
                    const DialLabel *label) {
  Paragraph name = {
      .type = TYPE_TABLE, .text = label->name ? label->name : "", .width = width, .align = align};
  Um at = y + paragraph_set(layout, sketch, x, y, &name);
  Paragraph note = {.type = TYPE_BODY_BOLD, .text = label->note, .width = width, .align = align};
  return at - y + paragraph_set(layout, sketch, x, at, &note);
}

static Um label_height(Layout *layout, Um width, const DialLabel *label) {
  Sketch trial = {.arena = layout->arena};
  return label_set(layout, &trial, 0, 0, width, ALIGN_LEFT, label);
}

static bool is_right(const DialLabel *label) {
  return label->degrees < 180;
}

/* What the labels of the fuller side take. */
static Um labels_height(Layout *layout, const Dial *dial) {
  Um sides[2] = {0};
  for (size_t i = 0; i < dial->count; i++)
    sides[is_right(&dial->labels[i])] +=
        label_height(layout, dial->column, &dial->labels[i]) + LABEL_GAP;
  return sides[0] > sides[1] ? sides[0] : sides[1];
}

/* Nearer to the top first; the same height: as given. */
static int above(const DialLabel *a, const DialLabel *b) {
  double left = cos(a->degrees * TRADE_PI / 180);
  double right = cos(b->degrees * TRADE_PI / 180);
  return left > right ? -1 : left < right ? 1 : a < b ? -1 : 1;
}

static size_t side_of(const Dial *dial, bool right, const DialLabel **side) {
  const DialLabel *labels = dial->labels;
  size_t n = 0;
  for (size_t i = 0; i < dial->count; i++) {
    if (is_right(&labels[i]) != right) continue;
    size_t at = n++;
    for (; at > 0 && above(&labels[i], side[at - 1]) < 0; at--) side[at] = side[at - 1];
    side[at] = &labels[i];
  }
  return n;
}

/* Each label beside its place, pushed down past the one above; then, where the
 * last hangs over, all pushed up. */
static void spread(const Um *heights, Um *tops, size_t n, Um top, Um bottom) {
  for (size_t i = 0; i < n; i++) {
    Um least = i == 0 ? top : tops[i - 1] + heights[i - 1] + LABEL_GAP;
    if (tops[i] < least) tops[i] = least;
  }
  for (size_t i = n; i-- > 0;) {
    Um most = (i + 1 == n ? bottom : tops[i + 1] - LABEL_GAP) - heights[i];
    if (tops[i] > most) tops[i] = most;
  }
}

static void set_side(Layout *layout, Sketch *sketch, const Dial *dial, const DialLabel **side,
                     size_t n, bool right) {
  Um heights[MOST_LABELS], tops[MOST_LABELS];
  Um x = dial->x, y = dial->y, radius = dial->radius;
  Um half = radius + MM(4), all = 0;
  for (size_t i = 0; i < n; i++) {
    heights[i] = label_height(layout, dial->column, side[i]);
    all += heights[i] + LABEL_GAP;
    tops[i] = figure_polar(x, y, radius, side[i]->degrees).y - heights[i] / 2;
  }
  if (all > 2 * half) half = all / 2;
  spread(heights, tops, n, y - half, y + half);
  Um edge = right ? x + radius + MM(12) : x - radius - MM(12);
  for (size_t i = 0; i < n; i++) {
    Point from = figure_polar(x, y, radius + MM(2.6), side[i]->degrees);
    Um line = tops[i] + type_of(TYPE_TABLE)->leading / 2;
    sketch_line(sketch, from.x, from.y, edge, line, LINE_HAIR);
    Um left = right ? edge + MM(1.5) : edge - MM(1.5) - dial->column;
    label_set(layout, sketch, left, tops[i], dial->column, right ? ALIGN_LEFT : ALIGN_RIGHT,
              side[i]);
  }
}

/* At the sides of the circle, with a thin line to what they name, none over another. */
static void set_labels(Layout *layout, Sketch *sketch, const Dial *dial) {
  const DialLabel *side[MOST_LABELS];
  for (int right = 0; right < 2; right++) {
    size_t n = side_of(dial, right, side);
    set_side(layout, sketch, dial, side, n, right);
  }
}

/* With room for the labels at its sides. */
static Dial dial_of(Layout *layout, const Figure *figure, Um width, Um radius) {
  Dial dial = {.x = width / 2, .radius = radius, .count = figure->points.n};
  if (dial.count > MOST_LABELS) dial.count = MOST_LABELS;
  dial.labels = labels_of(layout, figure);
  dial.column = width / 2 - radius - MM(14);
  dial.height = 2 * radius + MM(10);
  Um needed = labels_height(layout, &dial);
  if (needed > dial.height) dial.height = needed;
  dial.y = dial.height / 2;
  return dial;
}

static void set_tick(Sketch *sketch, const Dial *dial, double degrees, Um in, Um out, Um line) {
  Point a = figure_polar(dial->x, dial->y, dial->radius - in, degrees);
  Point b = figure_polar(dial->x, dial->y, dial->radius + out, degrees);
  sketch_line(sketch, a.x, a.y, b.x, b.y, line);
}

/* Inside the circle: where the front is, and on which side things lie that steps speak of. */
static void set_sides(Layout *layout, Sketch *sketch, const Dial *dial, const Figure *figure) {
  sketch_arrow(sketch, dial->x, dial->y + MM(3), dial->x, dial->y - MM(6), LINE_RULE);
  line_set_centre(layout, sketch, dial->x, dial->y + MM(3.4), 0, TYPE_LABEL_BOLD, "front");
  Um half = type_of(TYPE_LABEL_BOLD)->leading / 2;
  for (size_t i = 0; i < figure->sides.n; i++) {
    const FigurePoint *side = &figure->sides.at[i];
    Um wide = type_width(TYPE_LABEL_BOLD, side->label) / 2;
    Um in = MM(8.5) + (Um)(fabs(sin(side->x * TRADE_PI / 180)) * (double)wide);
    Point at = figure_polar(dial->x, dial->y, dial->radius - in, side->x);
    line_set_centre(layout, sketch, at.x, at.y - half, 0, TYPE_LABEL_BOLD, side->label);
  }
}

Um figure_ring_clock(Layout *layout, Sketch *sketch, const Figure *figure, Um width) {
  Dial dial = dial_of(layout, figure, width, MM(26));
  sketch_circle(sketch, dial.x, dial.y, dial.radius, LINE_STRONG, false);
  for (size_t i = 0; i < dial.count; i++)
    set_tick(sketch, &dial, dial.labels[i].degrees, MM(5), MM(2), LINE_HEAVY);
  set_sides(layout, sketch, &dial, figure);
  set_labels(layout, sketch, &dial);
  return dial.height;
}

Um figure_piston_way(Layout *layout, Sketch *sketch, const Figure *figure, Um width) {
  Dial dial = dial_of(layout, figure, width, MM(24));
  sketch_circle(sketch, dial.x, dial.y, dial.radius, LINE_STRONG, false);
  for (size_t i = 0; i < dial.count; i++)
    set_tick(sketch, &dial, dial.labels[i].degrees, MM(6), MM(2), LINE_HEAVY);
  set_sides(layout, sketch, &dial, figure);
  set_labels(layout, sketch, &dial);
  return dial.height;
}

static void open_arc(Sketch *sketch, const Dial *dial, Um radius, size_t from, bool dashed) {
  double start = dial->labels[from].degrees, end = dial->labels[from + 1].degrees;
  if (end <= start) end += 360;
  sketch_arc(sketch, dial->x, dial->y, radius, start, end, POINTS(2.5));
  sketch->marks.at[sketch->marks.n - 1].dashed = dashed;
}

/* Points come in pairs, opens and closes; the first pair's arc is drawn through, the second's is
 * dashed. */
Um figure_valve_circle(Layout *layout, Sketch *sketch, const Figure *figure, Um width) {
  Dial dial = dial_of(layout, figure, width, MM(28));
  Um inner[] = {dial.radius - MM(4), dial.radius - MM(9)};
  sketch_circle(sketch, dial.x, dial.y, dial.radius, LINE_BOX, false);
  for (int degrees = 0; degrees < 360; degrees += 10)
    set_tick(sketch, &dial, degrees, degrees % 90 ? MM(1) : MM(2), 0, LINE_HAIR);
  for (size_t i = 0; i < dial.count; i++)
    set_tick(sketch, &dial, dial.labels[i].degrees, i < 2 ? MM(4) : MM(9), MM(2), LINE_STRONG);
  for (size_t pair = 0; pair < 2 && 2 * pair + 1 < dial.count; pair++)
    open_arc(sketch, &dial, inner[pair], 2 * pair, pair == 1);
  Um small = type_of(TYPE_LABEL_BOLD)->leading;
  line_set_centre(layout, sketch, dial.x, dial.y - dial.radius - MM(0.8) - small, 0,
                  TYPE_LABEL_BOLD, "top dead centre");
  line_set_centre(layout, sketch, dial.x, dial.y + dial.radius + MM(0.8), 0, TYPE_LABEL_BOLD,
                  "bottom dead centre");
  line_set_centre(layout, sketch, dial.x, dial.y - small / 2, 0, TYPE_LABEL_BOLD, "crank turns");
  sketch_arrow(sketch, dial.x - MM(5), dial.y - MM(4), dial.x + MM(5), dial.y - MM(4), LINE_RULE);
  set_labels(layout, sketch, &dial);
  return dial.height;
}
