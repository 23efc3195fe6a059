/* Fasteners that are measured: how long each is free and tight, and by how much it stretched. */
#include "compose/completed.h"
#include "compose/joint_texts.h"

#include "base/decimal.h"
#include "model/job_words.h"

/* The boxes of one fastener, by what is measured of it. */
typedef struct Line {
  const char *place;
  const PlanBox *boxes[3];
} Line;
typedef VEC(Line) Lines;

static Line *line_of(Composer *c, Lines *lines, const char *place) {
  for (size_t i = 0; i < lines->n; i++)
    if (text_is(lines->at[i].place, place)) return &lines->at[i];
  Line line = {.place = place};
  vec_push(c->arena, lines, line);
  return &lines->at[lines->n - 1];
}

static bool collect(Composer *c, const PlanStep *step, const JobJoint *joint, Lines *lines) {
  bool stretch = false;
  for (size_t i = 0; i < step->boxes.n; i++) {
    const PlanBox *box = step->boxes.at[i];
    if (box->joint != joint) continue;
    line_of(c, lines, box->quantity->instance->member)->boxes[box->quantity->length] = box;
    stretch = stretch || box->quantity->length == LENGTH_STRETCH;
  }
  return stretch;
}

/* The stretch that both lengths give, where nobody worked it out on paper. */
static bool is_found(const Composer *c, const PlanBox *box) {
  const Quantity *quantity = box->quantity;
  return c->job->readings && quantity->length == LENGTH_STRETCH && !box->has_value &&
         quantity->predicted.state == VALUE_KNOWN;
}

static void box_cell(Composer *c, Block *table, const PlanBox *box) {
  const char *value = NULL;
  if (box && box->has_value) value = number_print(c->arena, box->value, box->unit, box->places);
  if (box && is_found(c, box))
    value = number_print(c->arena, box->quantity->predicted.nominal, box->unit, box->places);
  add_cell(c, table, CELL_BLANK, value);
  Row *row = &table->rows.at[table->rows.n - 1];
  if (!box) return;
  row->at[row->n - 1].box = box->readings > 1
                                ? arena_printf(c->arena, "%d, %d times", box->number, box->readings)
                                : arena_printf(c->arena, "%d", box->number);
}

static void verdict_cell(Composer *c, Block *table, const PlanBox *box) {
  Verdict verdict = box ? box->verdict : VERDICT_NONE;
  if (box && is_found(c, box))
    verdict = box->quantity->outcome == OUTCOME_DISJOINT ? VERDICT_OUT : VERDICT_IN;
  if (verdict != VERDICT_NONE) {
    add_cell(c, table, CELL_TEXT, verdict == VERDICT_IN ? "in" : "OUT");
    return;
  }
  add_cell(c, table, CELL_TICK, NULL);
  Row *row = &table->rows.at[table->rows.n - 1];
  vec_push(c->arena, &row->at[row->n - 1].ticks, "in");
  vec_push(c->arena, &row->at[row->n - 1].ticks, "out");
}

/* "Length of each, Small micrometer G5": the gauge of the first box that has any. */
static const char *title(Composer *c, const Lines *lines) {
  const PlanBox *box = lines->at[0].boxes[LENGTH_FREE];
  if (!box || !box->gauge) return "Length of each, mm";
  return arena_printf(c->arena, "Length of each, mm, %s %s",
                      said_or(&box->gauge->label, box->gauge->name),
                      said_or(&box->gauge->id, box->gauge->name));
}

static Block *table_of(Composer *c, const Lines *lines, const JobJoint *joint, bool stretch) {
  const Expr *scrap = &joint->hardware->scrap_length;
  Block *table = block_add(c, BLOCK_TABLE);
  table->text = title(c, lines);
  add_column(c, table, "No.", 10, true);
  add_column(c, table,
             scrap->kind == EXPR_LITERAL ? arena_printf(c->arena, "Free, at most %s",
                                                        literal_print(c->arena, &scrap->literal))
                                         : "Free",
             36, false);
  if (stretch) {
    add_column(c, table, "Tight", 36, false);
    add_column(c, table,
               arena_printf(c->arena, "Tight less free, %s",
                            literal_print(c->arena, &joint->bundle->stretch.literal)),
               44, false);
  }
  add_column(c, table, "In or out", 20, false);
  return table;
}

static const char *load_range(Composer *c, double least, double most) {
  const char *from = decimal_print(c->arena, least / 1000, 1);
  const char *to = decimal_print(c->arena, most / 1000, 1);
  return text_is(from, to) ? arena_printf(c->arena, "%s kN", to)
                           : arena_printf(c->arena, "%s to %s kN", from, to);
}

static const char *share_range(Composer *c, const JobJoint *joint, double least, double most) {
  double proof = joint->figures.proof_load;
  const char *from = decimal_print(c->arena, 100 * least / proof, 0);
  const char *to = decimal_print(c->arena, 100 * most / proof, 0);
  return text_is(from, to) ? arena_printf(c->arena, "%s %%", to)
                           : arena_printf(c->arena, "%s to %s %%", from, to);
}

/* What the measured stretch says of the clamp load; nothing until it is measured. */
static void add_found_load(Composer *c, const JobJoint *joint) {
  double least = 0, most = 0;
  size_t n = 0;
  for (size_t i = 0; i < joint->lengths.n; i++) {
    const Quantity *quantity = joint->lengths.at[i];
    if (quantity->length != LENGTH_STRETCH || quantity->predicted.state != VALUE_KNOWN) continue;
    double load = quantity->predicted.nominal * joint->figures.stiffness;
    least = n == 0 || load < least ? load : least;
    most = n == 0 || load > most ? load : most;
    n++;
  }
  if (n == 0 || !(joint->figures.stiffness > 0)) return;
  add_text(c, arena_printf(c->arena, "By the stretch of %zu of %zu: preload %s, %s of proof.", n,
                           joint->fasteners.n, load_range(c, least, most),
                           share_range(c, joint, least, most)));
}

void add_lengths(Composer *c, const PlanStep *step, const JobJoint *joint) {
  Lines lines = {0};
  bool stretch = collect(c, step, joint, &lines);
  if (!lines.n) return;
  Block *table = table_of(c, &lines, joint, stretch);
  for (size_t i = 0; i < lines.n; i++) {
    const Line *line = &lines.at[i];
    add_row(c, table);
    add_cell(c, table, CELL_NUMBER, joint_turn(c, joint, line->place));
    box_cell(c, table, line->boxes[LENGTH_FREE]);
    if (stretch) {
      box_cell(c, table, line->boxes[LENGTH_TIGHT]);
      box_cell(c, table, line->boxes[LENGTH_STRETCH]);
    }
    verdict_cell(c, table, line->boxes[stretch ? LENGTH_STRETCH : LENGTH_FREE]);
  }
  add_found_load(c, joint);
}
