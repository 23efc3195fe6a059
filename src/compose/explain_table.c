/* The computed table of `sheaf check`: a line each value, a line each joint. */
#include "compose/explain.h"
#include "compose/completed.h"
#include "compose/compose.h"

#include "base/decimal.h"
#include "model/job_words.h"

#define COLUMNS 6

typedef struct Line {
  const char *cells[COLUMNS];
} Line;
typedef VEC(Line) Lines;

/* A column is as wide as its longest cell, within these; the last has no end. */
static const size_t narrowest[COLUMNS] = {34, 14, 22, 22, 14, 0};
static const size_t widest[COLUMNS] = {60, 28, 40, 40, 40, 0};

/* By characters, not bytes. */
static void pad(Text *out, size_t n) {
  while (n-- > 0) text_add(out, " ");
}

/* What is longer than its column has a line of its own up to there; the rest goes on below, each
 * cell under its heading. */
static void add_line(Text *out, const Line *line, const size_t *widths) {
  size_t start = 0;
  for (size_t i = 0; i < COLUMNS; i++) {
    size_t n = utf8_count(line->cells[i]);
    text_add(out, line->cells[i]);
    start += widths[i] + 2;
    if (i + 1 == COLUMNS) break;
    if (n <= widths[i]) {
      pad(out, widths[i] + 2 - n);
    } else {
      text_add(out, "\n");
      pad(out, start);
    }
  }
  text_add(out, "\n");
}

static void add_lines(Text *out, const Lines *lines) {
  size_t widths[COLUMNS];
  for (size_t c = 0; c < COLUMNS; c++) {
    widths[c] = narrowest[c];
    for (size_t i = 0; i < lines->n; i++) {
      size_t n = utf8_count(lines->at[i].cells[c]);
      if (n > widths[c] && n <= widest[c]) widths[c] = n;
    }
  }
  for (size_t i = 0; i < lines->n; i++) add_line(out, &lines->at[i], widths);
}

static const char *or_nothing(const char *text) {
  return text ? text : "";
}

static Line value_line(Arena *arena, const Job *job, size_t index) {
  const Quantity *quantity = job->quantities.at[index];
  const char *allowed = allowed_print(arena, quantity);
  return (Line){{quantity_members_print(arena, job, index, false), predicted_print(arena, quantity),
                 or_nothing(range_print(arena, quantity)), or_nothing(allowed),
                 outcome_word(job, quantity),
                 allowed ? allowed_sheet_print(arena, quantity) : lacks_print(arena, quantity)}};
}

static const char *share_print(Arena *arena, const JointFigures *figures) {
  if (!figures->preload_known || !(figures->torque > 0)) return "";
  return arena_printf(arena, "%s %% (%s to %s)",
                      decimal_print(arena, figures->share_middle_k * 100, 0),
                      decimal_print(arena, figures->share_high_k * 100, 0),
                      decimal_print(arena, figures->share_low_k * 100, 0));
}

static Line joint_line(Arena *arena, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  const Voice *winner = &joint->winner;
  return (Line){{
      joint->instance->id ? arena_printf(arena, "%s, %s", joint->name, joint->instance->path)
                          : joint->name,
      or_nothing(figures->thread.name),
      figures->torque > 0
          ? both_units_print(arena, figures->torque, figures->torque_unit, figures->torque_places)
          : "by hand",
      share_print(arena, figures),
      figures->wrench ? wrench_name(figures->wrench) : "",
      winner->entry ? source_print(arena, winner->entry, winner->page) : "",
  }};
}

void compose_table(Text *out, const Job *job) {
  Arena *arena = out->arena;
  const char *stands = job->readings ? "as it stands" : "predicted";
  Line values_head = {{"value", stands, "worst found", "allowed", "outcome", "whose sheet"}};
  Line joints_head = {{"joint", "thread", "torque", "share of proof", "wrench", "whose sheet"}};
  Lines values = {0}, joints = {0};
  vec_push(arena, &values, values_head);
  for (size_t i = 0; i < job->quantities.n; i++)
    if (quantity_leads(arena, job, i)) {
      Line line = value_line(arena, job, i);
      vec_push(arena, &values, line);
    }
  add_lines(out, &values);
  for (size_t i = 0; i < job->targets.n; i++) {
    const JobTarget *target = &job->targets.at[i];
    text_addf(out, "\ntarget: %s, by %s: %s\n", target->quantity->key, target->input, target->says);
  }
  if (!job->joints.n) return;
  text_add(out, "\n");
  vec_push(arena, &joints, joints_head);
  for (size_t i = 0; i < job->joints.n; i++) {
    Line line = joint_line(arena, job->joints.at[i]);
    vec_push(arena, &joints, line);
  }
  add_lines(out, &joints);
}
