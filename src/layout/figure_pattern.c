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

typedef struct Plan {
  Layout *layout;
  const Figure *figure;
  size_t count;
  Um width;
  Point centres[MOST_POINTS];
  Um ring, outer;              /* of a ring; beyond the outermost centres */
  Rect taken[2 * MOST_POINTS]; /* by rings and names */
  size_t taken_count;
  Words unplaced;
} Plan;

static double in_range(double value) {
  return isfinite(value) ? fmin(fmax(value, -1e5), 1e5) : 0;
}

/* Where the points stand along one axis, each place once, from the least. */
typedef struct Axis {
  double real[MOST_POINTS], drawn[MOST_POINTS];
  size_t count;
} Axis;

static double coordinate(const Plan *plan, size_t index, bool up) {
  const FigurePoint *point = &plan->figure->points.at[index];
  return up ? -in_range(point->y) : in_range(point->x);
}

/* Places nearer than that share one: rows and columns as drawn by hand. */
static Axis axis_of(const Plan *plan, bool up, double same) {
  Axis axis = {.count = 0};
  for (size_t i = 0; i < plan->count; i++) {
    double value = coordinate(plan, i, up);
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

static double least_distance(const Plan *plan) {
  double least = 0;
  for (size_t i = 0; i < plan->count; i++)
    for (size_t j = 0; j < i; j++) {
      double d = hypot(coordinate(plan, i, false) - coordinate(plan, j, false),
                       coordinate(plan, i, true) - coordinate(plan, j, true));
      if (d > 0 && (least <= 0 || d < least)) least = d;
    }
  return least;
}

static bool has_names(const Plan *plan) {
  for (size_t i = 0; i < plan->count; i++) {
    const char *name = plan->figure->points.at[i].label;
    if (name && name[0]) return true;
  }
  return false;
}

/* To scale where the rings then stand clear of each other; else rows and columns are drawn apart.
 * Answers the height the centres take. */
static Um place_centres(Plan *plan) {
  double least = least_distance(plan);
  plan->outer = has_names(plan) ? OUTER : OUTER_UNNAMED;
  Axis across = axis_of(plan, false, least * 0.3), down = axis_of(plan, true, least * 0.3);
  double wide = (plan->width < MOST_WIDTH ? plan->width : MOST_WIDTH) - 2 * plan->outer;
  double high = MOST_HEIGHT - 2 * plan->outer;
  double scale = fmin(wide / fmax(axis_span(&across), 1e-6), high / fmax(axis_span(&down), 1e-6));
  /* No larger than needed to keep the rings apart, or than life. */
  scale = fmin(scale, least > 0 ? fmax(APART * RING / least, 0.34 * UM_PER_MM) : UM_PER_MM);
  plan->ring = RING;
  double apart = 0; /* least distance of rows and columns */
  if (least > 0 && least * scale < APART * RING) {
    double room = 0.9 * fmin(across.count > 1 ? wide / (double)(across.count - 1) : INFINITY,
                             down.count > 1 ? high / (double)(down.count - 1) : INFINITY);
    double to_scale = least * scale / APART;
    bool better = fmin(room / APART, RING) > to_scale;
    plan->ring = (Um)fmin(RING, fmax(to_scale, fmin(room / APART, RING)));
    if (better) apart = APART * plan->ring * 0.999;
  }
  if (plan->ring < LEAST_RING) plan->ring = LEAST_RING;
  double taken = spread(&across, scale, apart, wide), tall = spread(&down, scale, apart, high);
  for (size_t i = 0; i < plan->count; i++) {
    plan->centres[i].x =
        (Um)lround(plan->width / 2.0 - taken / 2 + drawn_at(&across, coordinate(plan, i, false)));
    plan->centres[i].y = (Um)lround(plan->outer + drawn_at(&down, coordinate(plan, i, true)));
  }
  return (Um)lround(tall);
}

static void take(Plan *plan, Rect rect) {
  if (plan->taken_count < sizeof plan->taken / sizeof *plan->taken)
    plan->taken[plan->taken_count++] = rect;
}

static bool is_free(const Plan *plan, Rect rect) {
  if (rect.x < 0 || rect.x2 > plan->width || rect.y < 0) return false;
  for (size_t i = 0; i < plan->taken_count; i++) {
    const Rect *other = &plan->taken[i];
    if (rect.x < other->x2 && other->x < rect.x2 && rect.y < other->y2 && other->y < rect.y2)
      return false;
  }
  return true;
}

static TypeName number_type(const Plan *plan) {
  return plan->ring >= MM(4)   ? TYPE_STEP_NUMBER
         : plan->ring >= MM(3) ? TYPE_BODY_BOLD
                               : TYPE_LABEL_BOLD;
}

static void set_ring(Plan *plan, Sketch *sketch, size_t index) {
  Point centre = plan->centres[index];
  const char *turn = plan->figure->points.at[index].note;
  Um ring = plan->ring;
  sketch_circle(sketch, centre.x, centre.y, ring - LINE_RULE / 2, LINE_RULE, false);
  Rect rect = {centre.x - ring, centre.y - ring, centre.x + ring, centre.y + ring};
  take(plan, rect);
  TypeName type = number_type(plan);
  if (turn && type_width(type, turn) < 2 * ring)
    line_set_centre(plan->layout, sketch, centre.x, centre.y - type_of(type)->leading / 2, 0, type,
                    turn);
}

/* Above, below or beside its ring, wherever nothing is; the side away from the
 * middle first. */
static bool set_name(Plan *plan, Sketch *sketch, size_t index, Um middle) {
  Point centre = plan->centres[index];
  const char *name = plan->figure->points.at[index].label;
  if (!name || !name[0]) return true;
  Um width = type_width(TYPE_LABEL, name), height = type_of(TYPE_LABEL)->leading;
  Um off = plan->ring + MM(0.4);
  Rect up = {centre.x - width / 2, centre.y - off - height, centre.x + width / 2, centre.y - off};
  Rect down = {up.x, centre.y + off, up.x2, centre.y + off + height};
  Rect right = {centre.x + off + MM(0.8), centre.y - height / 2, 0, centre.y + height / 2};
  right.x2 = right.x + width;
  Rect left = {centre.x - off - MM(0.8) - width, right.y, centre.x - off - MM(0.8), right.y2};
  bool upper = centre.y <= middle;
  const Rect order[] = {upper ? up : down, upper ? down : up, right, left};
  for (size_t i = 0; i < 4; i++) {
    if (!is_free(plan, order[i])) continue;
    take(plan, order[i]);
    line_set(plan->layout, sketch, order[i].x, order[i].y, 0, TYPE_LABEL, name);
    return true;
  }
  return false;
}

/* Names that found no room stand below, by the number in the ring. */
static Um set_unplaced(Plan *plan, Sketch *sketch, Um y, Um width) {
  if (plan->unplaced.n == 0) return 0;
  Text text = text_new(plan->layout->arena);
  for (size_t i = 0; i < plan->unplaced.n; i++)
    text_addf(&text, "%s%s", i ? "; " : "", plan->unplaced.at[i]);
  return text_set(plan->layout, sketch, STEP_TEXT_X, y, width - STEP_TEXT_X, TYPE_SMALL,
                  text_done(&text));
}

bool figure_pattern_fits(const Figure *figure, Um width) {
  Plan plan = {.figure = figure, .width = width, .count = figure->points.n};
  if (plan.count == 0 || plan.count > MOST_POINTS) return false;
  place_centres(&plan);
  return plan.ring >= LEAST_RING_SMALL;
}

Um figure_pattern(Layout *layout, Sketch *sketch, const Figure *figure, Um width) {
  Plan *plan = ARENA_NEW(layout->arena, Plan);
  plan->layout = layout;
  plan->figure = figure;
  plan->width = width;
  plan->count = figure->points.n < MOST_POINTS ? figure->points.n : MOST_POINTS;
  if (plan->count == 0) return 0;
  Um height = place_centres(plan);
  height += 2 * plan->outer;
  for (size_t i = 0; i < plan->count; i++) set_ring(plan, sketch, i);
  for (size_t i = 0; i < plan->count; i++) {
    const FigurePoint *point = &figure->points.at[i];
    if (set_name(plan, sketch, i, height / 2)) continue;
    vec_push(layout->arena, &plan->unplaced,
             arena_printf(layout->arena, "%s: %s", point->note ? point->note : "no order",
                          point->label));
  }
  return height + set_unplaced(plan, sketch, height, width);
}
