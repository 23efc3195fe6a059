#include "model/plan.h"

#include "base/text.h"
#include "model/packet.h"

#include <stdlib.h>
#include <string.h>

bool plan_works_on(const Plan *plan, const char *role) {
  return plan->worked && map_find(plan->worked, role) != NULL;
}

bool plan_tightens(const Plan *plan, const JobJoint *joint) {
  if (joint->undisturbed) return false;
  if (plan->steps.n == 0) return true;
  for (size_t i = 0; i < plan->steps.n; i++)
    for (size_t j = 0; j < plan->steps.at[i]->joints.n; j++)
      if (text_is(plan->steps.at[i]->joints.at[j]->name, joint->name)) return true;
  return false;
}

bool plan_uses_wrench(const Plan *plan, const Job *job, const Wrench *wrench) {
  for (size_t i = 0; i < plan->steps.n; i++)
    for (size_t j = 0; j < plan->steps.at[i]->passes.n; j++)
      if (plan->steps.at[i]->passes.at[j].wrench == wrench) return true;
  for (size_t i = 0; i < job->joints.n && !plan->steps.n; i++)
    if (job->joints.at[i]->figures.wrench == wrench && plan_tightens(plan, job->joints.at[i]))
      return true;
  return false;
}

const char *figures_named(Arena *arena, const char *text, FigureWords *words, void *context) {
  const char *at = text ? strstr(text, PLAN_FIGURE_OF) : NULL;
  if (!at) return text;
  Text out = text_new(arena);
  for (; at; at = strstr(text, PLAN_FIGURE_OF)) {
    text_add_n(&out, text, (size_t)(at - text));
    char *end = NULL;
    long number = strtol(at + strlen(PLAN_FIGURE_OF), &end, 10);
    text_add(&out, words(context, (int)number));
    text = *end == '}' ? end + 1 : end;
  }
  text_add(&out, text);
  return text_done(&out);
}

typedef struct Telling {
  Arena *arena;
  const PlanStep *step;
} Telling;

static const char *figure_unnumbered(void *context, int step) {
  const Telling *telling = context;
  if (step == telling->step->number) return "the figure";
  return arena_printf(telling->arena, "the figure at step %d", step);
}

const char *step_says(Arena *arena, const PlanStep *step) {
  Telling telling = {arena, step};
  return references_said(arena, figures_named(arena, step->text, figure_unnumbered, &telling));
}

bool step_leads(const Plan *plan, size_t index) {
  for (size_t i = 0; i < index; i++)
    if (plan->steps.at[i]->decl == plan->steps.at[index]->decl) return false;
  return true;
}

const PlanCell *table_cells(const PlanTable *table, size_t row, size_t column) {
  return &table->cells.at[(row * table->column_names.n + column) * table->answers.n];
}

bool table_stops(const PlanTable *table, size_t row, size_t column) {
  return table_cells(table, row, column)->stop;
}
