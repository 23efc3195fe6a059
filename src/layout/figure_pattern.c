/* Fasteners as they lie, with the order of tightening in the rings. */
#include "layout/figure.h"

#include <math.h>

#define MOST_WIDTH       MM(150)
#define MOST_HEIGHT      MM(66)
#define RING             MM(5.5)
#define LEAST_RING       MM(2.2)
#define LEAST_RING_SMALL MM(4.2)
#define MOST_POINTS      200
#define OUTER            MM(10) /* rings and names beyond the outermost centres */
#define OUTER_UNNAMED    MM(7)
#define APART            2.6 /* rings from centre to centre, in their radius */

typedef struct Rect {
  Um x, y, x2, y2;
} Rect;

typedef struct Lay {
  Layout *layout;
  const Figure *figure;
  size_t count;
  Um width;
  Point centres[MOST_POINTS];
  Um ring, outer;              /* of a ring; beyond the outermost centres */
  Rect taken[2 * MOST_POINTS]; /* by rings and names */
  size_t taken_count;
  Words unplaced;
} Lay;

static double in_range(double value) {
  return isfinite(value) ? fmin(fmax(value, -1e5), 1e5) : 0;
}

/* Where the points stand along one axis, each place once, from the least. */
typedef struct Axis {
  double real[MOST_POINTS], drawn[MOST_POINTS];
  size_t count;
} Axis;

static double coordinate(const Lay *lay, size_t index, bool up) {
  const FigurePoint *point = &lay->figure->points.at[index];
  return up ? -in_range(point->y) : in_range(point->x);
}

/* Places nearer than that share one: rows and columns as drawn by hand. */
static Axis axis_of(const Lay *lay, bool up, double same) {
  Axis axis = {.count = 0};
  for (size_t i = 0; i < lay->count; i++) {
    double value = coordinate(lay, i, up);
    size_t at = axis.count;
    while (at > 0 && axis.real[at - 1] > value) {
      axis.real[at] = axis.real[at - 1];
      at--;
    }
    axis.real[at] = value;
    axis.count++;
  }
  size_t kept = 0;
  for (size_t i = 0; i < axis.count; i++)
    if (kept == 0 || axis.real[i] - axis.real[kept - 1] > same) axis.real[kept++] = axis.real[i];
  axis.count = kept;
  return axis;
}

static double axis_span(const Axis *axis) {
  return axis->count ? axis->real[axis->count - 1] - axis->real[0] : 0;
}

static double drawn_at(const Axis *axis, double value) {
  size_t at = 0;
  while (at + 1 < axis->count && axis->real[at + 1] <= value) at++;
  return axis->drawn[at];
}

/* To scale, but no two places nearer than least; the wide gaps give way. Answers what it takes. */
static double spread(Axis *axis, double scale, double least, double most) {
  double from = 0, to = scale;
  for (int round = 0; round < 40; round++) { /* the largest scale that fits */
    double middle = round == 0 ? scale : (from + to) / 2, at = 0;
    axis->drawn[0] = 0;
    for (size_t i = 1; i < axis->count; i++) {
      at += fmax(least, middle * (axis->real[i] - axis->real[i - 1]));
      axis->drawn[i] = at;
    }
    if (at <= most && round == 0) break;
    if (at <= most)
      from = middle;
    else
      to = middle;
  }
  return axis->count ? axis->drawn[axis->count - 1] : 0;
}

static double least_distance(const Lay *lay) {
  double least = 0;
  for (size_t i = 0; i < lay->count; i++)
    for (size_t j = 0; j < i; j++) {
      double d = hypot(coordinate(lay, i, false) - coordinate(lay, j, false),
                       coordinate(lay, i, true) - coordinate(lay, j, true));
      if (d > 0 && (least <= 0 || d < least)) least = d;
    }
  return least;
}

static bool has_names(const Lay *lay) {
  for (size_t i = 0; i < lay->count; i++) {
    const char *name = lay->figure->points.at[i].label;
    if (name && name[0]) return true;
  }
  return false;
}

/* To scale where the rings then stand clear of each other; else rows and columns are drawn apart.
 * Answers the height the centres take. */
static Um place_centres(Lay *lay) {
  double least = least_distance(lay);
  lay->outer = has_names(lay) ? OUTER : OUTER_UNNAMED;
  Axis across = axis_of(lay, false, least * 0.3), down = axis_of(lay, true, least * 0.3);
  double wide = (lay->width < MOST_WIDTH ? lay->width : MOST_WIDTH) - 2 * lay->outer;
  double high = MOST_HEIGHT - 2 * lay->outer;
  double scale = fmin(wide / fmax(axis_span(&across), 1e-6), high / fmax(axis_span(&down), 1e-6));
  /* No larger than needed to keep the rings apart, or than life. */
  scale = fmin(scale, least > 0 ? fmax(APART * RING / least, 0.34 * UM_PER_MM) : UM_PER_MM);
  lay->ring = RING;
  double apart = 0; /* least distance of rows and columns */
  if (least > 0 && least * scale < APART * RING) {
    double room = 0.9 * fmin(across.count > 1 ? wide / (double)(across.count - 1) : INFINITY,
                             down.count > 1 ? high / (double)(down.count - 1) : INFINITY);
    double to_scale = least * scale / APART;
    bool better = fmin(room / APART, RING) > to_scale;
    lay->ring = (Um)fmin(RING, fmax(to_scale, fmin(room / APART, RING)));
    if (better) apart = APART * lay->ring * 0.999;
  }
  if (lay->ring < LEAST_RING) lay->ring = LEAST_RING;
  double taken = spread(&across, scale, apart, wide), tall = spread(&down, scale, apart, high);
  for (size_t i = 0; i < lay->count; i++) {
    lay->centres[i].x =
        (Um)lround(lay->width / 2.0 - taken / 2 + drawn_at(&across, coordinate(lay, i, false)));
    lay->centres[i].y = (Um)lround(lay->outer + drawn_at(&down, coordinate(lay, i, true)));
  }
  return (Um)lround(tall);
}

static void take(Lay *lay, Rect rect) {
  if (lay->taken_count < sizeof lay->taken / sizeof *lay->taken)
    lay->taken[lay->taken_count++] = rect;
}

static bool is_free(const Lay *lay, Rect rect) {
  if (rect.x < 0 || rect.x2 > lay->width || rect.y < 0) return false;
  for (size_t i = 0; i < lay->taken_count; i++) {
    const Rect *other = &lay->taken[i];
    if (rect.x < other->x2 && other->x < rect.x2 && rect.y < other->y2 && other->y < rect.y2)
      return false;
  }
  return true;
}

static TypeName number_type(const Lay *lay) {
  return lay->ring >= MM(4)   ? TYPE_STEP_NUMBER
         : lay->ring >= MM(3) ? TYPE_BODY_BOLD
                              : TYPE_LABEL_BOLD;
}

static void set_ring(Lay *lay, Sketch *sketch, size_t index) {
  Point centre = lay->centres[index];
  const char *turn = lay->figure->points.at[index].note;
  Um ring = lay->ring;
  sketch_circle(sketch, centre.x, centre.y, ring - LINE_RULE / 2, LINE_RULE, false);
  Rect rect = {centre.x - ring, centre.y - ring, centre.x + ring, centre.y + ring};
  take(lay, rect);
  TypeName type = number_type(lay);
  if (turn && type_width(type, turn) < 2 * ring)
    line_set_centre(lay->layout, sketch, centre.x, centre.y - type_of(type)->leading / 2, 0, type,
                    turn);
}

/* Above, below or beside its ring, wherever nothing is; the side away from the
 * middle first. */
static bool set_name(Lay *lay, Sketch *sketch, size_t index, Um middle) {
  Point centre = lay->centres[index];
  const char *name = lay->figure->points.at[index].label;
  if (!name || !name[0]) return true;
  Um width = type_width(TYPE_LABEL, name), height = type_of(TYPE_LABEL)->leading;
  Um off = lay->ring + MM(0.4);
  Rect up = {centre.x - width / 2, centre.y - off - height, centre.x + width / 2, centre.y - off};
  Rect down = {up.x, centre.y + off, up.x2, centre.y + off + height};
  Rect right = {centre.x + off + MM(0.8), centre.y - height / 2, 0, centre.y + height / 2};
  right.x2 = right.x + width;
  Rect left = {centre.x - off - MM(0.8) - width, right.y, centre.x - off - MM(0.8), right.y2};
  bool upper = centre.y <= middle;
  const Rect order[] = {upper ? up : down, upper ? down : up, right, left};
  for (size_t i = 0; i < 4; i++) {
    if (!is_free(lay, order[i])) continue;
    take(lay, order[i]);
    line_set(lay->layout, sketch, order[i].x, order[i].y, 0, TYPE_LABEL, name);
    return true;
  }
  return false;
}

/* Names that found no room stand below, by the number in the ring. */
static Um set_unplaced(Lay *lay, Sketch *sketch, Um y, Um width) {
  if (lay->unplaced.n == 0) return 0;
  Text text = text_new(lay->layout->arena);
  for (size_t i = 0; i < lay->unplaced.n; i++)
    text_addf(&text, "%s%s", i ? "; " : "", lay->unplaced.at[i]);
  return text_set(lay->layout, sketch, STEP_TEXT_X, y, width - STEP_TEXT_X, TYPE_SMALL,
                  text_done(&text));
}

bool figure_pattern_fits(const Figure *figure, Um width) {
  Lay lay = {.figure = figure, .width = width, .count = figure->points.n};
  if (lay.count == 0 || lay.count > MOST_POINTS) return false;
  place_centres(&lay);
  return lay.ring >= LEAST_RING_SMALL;
}

Um figure_pattern(Layout *layout, Sketch *sketch, const Figure *figure, Um width) {
  Lay *lay = ARENA_NEW(layout->arena, Lay);
  lay->layout = layout;
  lay->figure = figure;
  lay->width = width;
  lay->count = figure->points.n < MOST_POINTS ? figure->points.n : MOST_POINTS;
  if (lay->count == 0) return 0;
  Um height = place_centres(lay);
  height += 2 * lay->outer;
  for (size_t i = 0; i < lay->count; i++) set_ring(lay, sketch, i);
  for (size_t i = 0; i < lay->count; i++) {
    const FigurePoint *point = &figure->points.at[i];
    if (set_name(lay, sketch, i, height / 2)) continue;
    vec_push(layout->arena, &lay->unplaced,
             arena_printf(layout->arena, "%s: %s", point->note ? point->note : "no order",
                          point->label));
  }
  return height + set_unplaced(lay, sketch, height, width);
}
