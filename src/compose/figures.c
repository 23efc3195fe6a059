/* Figures from data: what layout draws, with the numbers they carry. */
#include "compose/composer.h"

#include "base/decimal.h"
#include "model/job_words.h"

#include <math.h>
#include <string.h>

static Block *figure_add(Composer *c, FigureKind kind, const char *caption) {
  Block *block = block_add(c, BLOCK_FIGURE);
  block->figure.kind = kind;
  block->figure.number = ++c->figures;
  block->figure.caption = caption;
  return block;
}

static void point_add(Composer *c, Block *block, const char *label, const char *note, double x,
                      double y) {
  FigurePoint point = {label, note, x, y};
  vec_push(c->arena, &block->figure.points, point);
}

static void side_add(Composer *c, Block *block, const char *label, double degrees) {
  FigurePoint side = {label, NULL, degrees, 0};
  vec_push(c->arena, &block->figure.sides, side);
}

/* When a place is tightened, counted from 1; several places share the number when the order names
 * none. */
static const char *turn_of(Composer *c, const JobJoint *joint, const char *place) {
  for (size_t i = 0; i < joint->order.n; i++)
    if (text_is(joint->order.at[i], place)) return arena_printf(c->arena, "%zu", i + 1);
  return NULL;
}

int add_pattern(Composer *c, const JobJoint *joint) {
  size_t index = 0;
  while (index < c->job->joints.n && c->job->joints.at[index] != joint) index++;
  if (joint->hardware->places.n < 2) return 0;
  if (c->joint_figure[index]) return c->joint_figure[index];
  const char *seen = joint->hardware->seen.s;
  Block *block =
      figure_add(c, FIGURE_PATTERN,
                 arena_printf(c->arena, "%s%s%s: tighten in the order of the numbers%s",
                              joint->label, seen ? ", seen " : "", seen ? seen : "",
                              joint->order_proposed ? " (proposed; the sheet gives none)" : ""));
  for (size_t i = 0; i < joint->hardware->places.n; i++) {
    const PlacePoint *place = &joint->hardware->places.at[i];
    /* a number of the sheet's beside the number of the order would be one too many */
    const char *name = strspn(place->name, "0123456789") == strlen(place->name) ? "" : place->name;
    point_add(c, block, name, turn_of(c, joint, place->name), place->x.literal.nominal * 1000,
              place->y.literal.nominal * 1000);
  }
  c->joint_figure[index] = block->figure.number;
  return block->figure.number;
}

/* Of a step for the whole engine: the first member's, for all. */
static const Quantity *near(Composer *c, const PlanStep *step, const char *name) {
  const Quantity *quantity = job_quantity_from(c->job, name, step->instance);
  for (size_t i = 0; i < c->job->quantities.n && !quantity; i++)
    if (text_is(c->job->quantities.at[i]->name, name)) quantity = c->job->quantities.at[i];
  return quantity;
}

static void value_point(Composer *c, Block *block, const PlanStep *step, const char *name) {
  const Quantity *quantity = near(c, step, name);
  if (!quantity) return;
  const char *allowed = allowed_print(c->arena, quantity);
  if (allowed)
    point_add(c, block, quantity->label, allowed, 0, 0);
  else
    point_add(c, block, arena_printf(c->arena, "%s, expected", quantity->label),
              predicted_print(c->arena, quantity), 0, 0);
}

static void deck_section(Composer *c, const PlanStep *step) {
  Block *block =
      figure_add(c, FIGURE_DECK_SECTION, "Deck height and squish, cut through the cylinder");
  value_point(c, block, step, "deck_height");
  value_point(c, block, step, "squish");
  value_point(c, block, step, "gasket_thickness");
}

static void bore_points(Composer *c, const PlanStep *step) {
  (void)step;
  figure_add(c, FIGURE_BORE_POINTS, "Where to measure the bore: three heights, two directions");
}

/* What two cylinders have in common is drawn once. */
static bool is_shown(const FigurePoints *points, const char *label, double at) {
  for (size_t i = 0; i < points->n; i++) {
    const FigurePoint *point = &points->at[i];
    if (text_is(point->label, label) && fabs(point->x - at) < 1e-6) return true;
  }
  return false;
}

/* Angles among the facts of parts whose names begin with the word. */
static void facts_as_points(Composer *c, const PlanStep *step, Block *block, const char *begins,
                            bool sides) {
  const FigurePoints *points = sides ? &block->figure.sides : &block->figure.points;
  for (size_t i = 0; i < c->job->facts.n; i++) {
    const FactValue *fact = &c->job->facts.at[i];
    if (!text_starts(fact->name, begins)) continue;
    if (fact->instance && fact->instance->id && !instance_within(fact->instance, step->instance) &&
        !instance_within(step->instance, fact->instance))
      continue;
    Evaluation now = graph_evaluate(c->job->graph, fact->node, NULL);
    if (now.state != VALUE_KNOWN) continue;
    double degrees = unit_from_si(unit_find("deg"), now.si);
    const char *rest = fact->name + strlen(begins);
    bool member = fact->instance && fact->role && fact->instance->set != fact->role->per;
    const char *name = *rest == '_' ? rest + 1 : rest;
    const char *label = sides    ? text_exchange(c->arena, name, '_', ' ')
                        : member ? text_title(c->arena, fact->instance->member)
                                 : text_title(c->arena, name);
    if (is_shown(points, label, degrees)) continue;
    if (sides)
      side_add(c, block, label, degrees);
    else
      point_add(c, block, label,
                arena_printf(c->arena, "%s deg", decimal_print(c->arena, degrees, 0)), degrees, 0);
  }
}

static void ring_clock(Composer *c, const PlanStep *step) {
  Block *block = figure_add(c, FIGURE_RING_CLOCK,
                            "Ring gaps seen from above, degrees clockwise from the front");
  facts_as_points(c, step, block, "gap_at", false);
  facts_as_points(c, step, block, "side_at", true);
}

static void piston_way(Composer *c, const PlanStep *step) {
  Block *block = figure_add(c, FIGURE_PISTON_WAY, "Which way round, seen from above");
  facts_as_points(c, step, block, "mark_at", false);
  facts_as_points(c, step, block, "side_at", true);
}

static void event_point(Composer *c, Block *block, const PlanStep *step, const char *name,
                        double turn) {
  const Quantity *quantity = near(c, step, name);
  if (!quantity || quantity->predicted.state != VALUE_KNOWN) return;
  double degrees = unit_from_si(unit_find("deg"), quantity->predicted.nominal);
  point_add(c, block, quantity->label, predicted_print(c->arena, quantity), degrees + turn, 0);
}

static void valve_circle(Composer *c, const PlanStep *step) {
  Block *block = figure_add(c, FIGURE_VALVE_CIRCLE, "Valve timing, crank degrees");
  event_point(c, block, step, "intake_opens", 0);
  event_point(c, block, step, "intake_closes", 180);
  event_point(c, block, step, "exhaust_opens", 180);
  event_point(c, block, step, "exhaust_closes", 0);
}

static void spring_height(Composer *c, const PlanStep *step) {
  Block *block = figure_add(c, FIGURE_SPRING, "Spring heights: fitted, open and solid");
  value_point(c, block, step, "spring_fitted_height");
  value_point(c, block, step, "coil_bind_margin");
}

static void sprocket_line(Composer *c, const PlanStep *step) {
  Block *block =
      figure_add(c, FIGURE_SPROCKET_LINE, "Sprocket line: straightedge across both faces");
  value_point(c, block, step, "sprocket_offset");
}

typedef struct FigureMaker {
  const char *word;
  void (*make)(Composer *c, const PlanStep *step);
} FigureMaker;

static const FigureMaker makers[] = {
    {"deck_section", deck_section},   {"bore_points", bore_points},
    {"ring_clock", ring_clock},       {"piston_way", piston_way},
    {"valve_circle", valve_circle},   {"spring_height", spring_height},
    {"sprocket_line", sprocket_line},
};

void add_figures(Composer *c, const PlanStep *step) {
  for (size_t i = 0; i < step->decl->figures.n; i++)
    for (size_t j = 0; j < sizeof makers / sizeof *makers; j++)
      if (text_is(step->decl->figures.at[i].s, makers[j].word)) makers[j].make(c, step);
}

/* The figure a step shows: its own, else the pattern on its card. */
static int own_figure(const Composer *c, size_t first) {
  int card = 0;
  for (size_t i = first; i < c->group->blocks.n; i++) {
    const Block *block = c->group->blocks.at[i];
    if (block->kind == BLOCK_FIGURE) return block->figure.number;
    if (block->kind == BLOCK_TORQUE && !card) card = block->torque.figure;
  }
  return card;
}

typedef struct Told {
  Composer *c;
  const PlanStep *step;
  int own;
} Told;

/* Of the step itself "figure 3"; of one before it with the page; of one that comes later by the
 * step. */
static const char *figure_said(void *context, int number) {
  const Told *told = context;
  Composer *c = told->c;
  if (number == told->step->number)
    return told->own ? arena_printf(c->arena, "figure %d", told->own) : "the figure";
  int figure = c->step_figure && number > 0 && (size_t)number <= c->plan->steps.n
                   ? c->step_figure[number]
                   : 0;
  return figure ? arena_printf(c->arena, PACKET_FIGURE_REF "%d}", figure)
                : arena_printf(c->arena, "the figure at " PACKET_STEP_REF "%d}", number);
}

void figures_said(Composer *c, const PlanStep *step, size_t first) {
  int own = own_figure(c, first);
  Told told = {c, step, own};
  if (c->step_figure && step->number > 0 && (size_t)step->number <= c->plan->steps.n)
    c->step_figure[step->number] = own;
  for (size_t i = first; i < c->group->blocks.n; i++) {
    Block *block = c->group->blocks.at[i];
    if (block->kind != BLOCK_STEP && block->kind != BLOCK_HOLD) continue;
    block->text = figures_named(c->arena, block->text, figure_said, &told);
    block->bookmark = figures_named(c->arena, block->bookmark, figure_said, &told);
    for (size_t j = 0; j < block->notes.n; j++)
      block->notes.at[j] = figures_named(c->arena, block->notes.at[j], figure_said, &told);
  }
}
