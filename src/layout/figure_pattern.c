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

typedef struct Rect {
  Um x, y, x2, y2;
} Rect;

typedef struct Plan {
  Layout *layout;
  const Figure *figure;
  size_t count;
  Um width;
  Point centres[MOST_POINTS];
  Um ring;
  Rect taken[2 * MOST_POINTS]; /* by rings and names */
  size_t taken_count;
  Words unplaced;
} Plan;

static double least_distance(const Figure *figure, size_t count) {
  double least = 0;
  for (size_t i = 0; i < count; i++)
    for (size_t j = 0; j < i; j++) {
      double d = hypot(figure->points.at[i].x - figure->points.at[j].x,
                       figure->points.at[i].y - figure->points.at[j].y);
      if (d > 0 && (least <= 0 || d < least)) least = d;
    }
  return least;
}

static double in_range(double value) {
  return isfinite(value) ? fmin(fmax(value, -1e5), 1e5) : 0;
}

/* To scale, y upwards; answers the height the centres take. */
static Um place_centres(Plan *plan) {
  const Figure *figure = plan->figure;
  double left = 0, right = 0, low = 0, high = 0;
  for (size_t i = 0; i < plan->count; i++) {
    double x = in_range(figure->points.at[i].x), y = in_range(figure->points.at[i].y);
    if (i == 0 || x < left) left = x;
    if (i == 0 || x > right) right = x;
    if (i == 0 || y < low) low = y;
    if (i == 0 || y > high) high = y;
  }
  double most = plan->width < MOST_WIDTH ? plan->width : MOST_WIDTH;
  double across = fmax(right - left, 1e-6), up = fmax(high - low, 1e-6);
  double scale = fmin((most - 2 * OUTER) / across, (MOST_HEIGHT - 2 * OUTER) / up);
  double least = least_distance(figure, plan->count);
  /* No larger than needed to keep the rings apart, or than life. */
  double wanted = least > 0 ? fmax(2.6 * RING / least, 0.34 * UM_PER_MM) : UM_PER_MM;
  scale = fmin(scale, wanted);
  plan->ring = least > 0 ? (Um)fmin(RING, 0.44 * least * scale) : RING;
  if (plan->ring < LEAST_RING) plan->ring = LEAST_RING;
  double x0 = plan->width / 2.0 - scale * across / 2;
  for (size_t i = 0; i < plan->count; i++) {
    plan->centres[i].x = (Um)lround(x0 + scale * (in_range(figure->points.at[i].x) - left));
    plan->centres[i].y = (Um)lround(OUTER + scale * (high - in_range(figure->points.at[i].y)));
  }
  return (Um)lround(scale * up);
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
  Um height = place_centres(plan) + 2 * OUTER;
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
