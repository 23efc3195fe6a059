/* A line of arithmetic over letters is held against the formula it stands for: with some numbers
 * behind the letters both have to come to the same. */
#include "plan/work.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#define TRIALS 3 /* sets of numbers behind the letters */

/* What stands behind a letter on the sheet. */
typedef struct Lettered {
  const char *letter;
  NodeId node; /* 0: no one number */
  const Unit *unit;
  double si[TRIALS];
} Lettered;
typedef VEC(Lettered) Letters;

static const Quantity *named_by(const Planner *planner, const PlanStep *step, const Expr *is) {
  const Formula *formula = is->kind == EXPR_FORMULA ? is->formula : NULL;
  if (!formula || formula->kind != FORMULA_NAME || formula->field || formula->index.n) return NULL;
  return job_quantity(planner->job, formula->name, step->instance, NULL);
}

/* Numbers near what is expected, no two letters in step with each other. */
static void add_letter(Planner *planner, Letters *letters, const char *letter,
                       const Quantity *quantity, const Unit *unit) {
  Lettered it = {.letter = letter, .unit = unit};
  if (quantity && quantity->value && unit) {
    const Range *range = &quantity->predicted;
    bool known = range->state == VALUE_KNOWN && isfinite(range->nominal);
    double base = known ? range->nominal : unit_to_si(unit, 10 + (double)letters->n);
    it.node = quantity->value;
    for (int t = 0; t < TRIALS; t++)
      it.si[t] = base + fabs(unit->factor) * 0.01 * (double)((t + 1) * (7 * (int)letters->n + 3));
  }
  for (size_t i = 0; i < letters->n; i++)
    if (text_is(letters->at[i].letter, letter)) {
      letters->at[i] = it; /* the latest is meant */
      return;
    }
  vec_push(planner->arena, letters, it);
}

static void letters_of_step(Planner *planner, const PlanStep *step, Letters *letters) {
  for (size_t b = 0; b < step->decl->boxes.n; b++) {
    const BoxDecl *decl = &step->decl->boxes.at[b];
    const PlanBox *only = NULL;
    size_t boxes = 0;
    for (size_t i = 0; i < step->boxes.n; i++) {
      if (step->boxes.at[i]->decl != decl) continue;
      only = step->boxes.at[i];
      boxes++;
    }
    if (!decl->letter.s) continue;
    bool one = boxes == 1 && !only->position;
    add_letter(planner, letters, decl->letter.s, one ? only->quantity : NULL,
               one ? only->unit : NULL);
  }
}

/* The boxes and lines of the steps of this procedure and member up to the line. */
static void letters_before(Planner *planner, size_t last, size_t line, Letters *letters) {
  const PlanStep *step = planner->plan->steps.at[last];
  for (size_t i = 0; i <= last; i++) {
    const PlanStep *other = planner->plan->steps.at[i];
    if (other->procedure != step->procedure || !is_related(other->instance, step->instance))
      continue;
    letters_of_step(planner, other, letters);
    size_t lines = i == last ? line : other->work_letters.n;
    for (size_t w = 0; w < lines; w++) {
      const Quantity *quantity = named_by(planner, other, &other->decl->work.at[w].is);
      add_letter(planner, letters, other->work_letters.at[w], quantity,
                 quantity ? quantity->decl->unit : NULL);
    }
  }
}

/* "90 + (B - A) / 2": nothing but letters, numbers and signs. */
static bool is_arithmetic(const char *text) {
  bool any = false;
  for (size_t i = 0; text[i]; i++) {
    char c = text[i], next = text[i + 1];
    bool letter = c >= 'A' && c <= 'Z';
    if (letter && (isalnum((unsigned char)next) || next == '.' || next == '_')) return false;
    if (!letter && !isdigit((unsigned char)c) && !strchr(" .+-*/()", c)) return false;
    if (isdigit((unsigned char)c) && next >= 'A' && next <= 'Z') return false;
    any = any || letter;
  }
  return any;
}

static const Lettered *find_letter(const Letters *letters, const char *letter) {
  for (size_t i = 0; i < letters->n; i++)
    if (text_is(letters->at[i].letter, letter)) return &letters->at[i];
  return NULL;
}

/* NAN where the line cannot be worked out. The parser bounds how deep a formula goes. */
static double work_out(const Formula *formula, const Letters *letters, int trial) {
  double a = formula->args > 0 ? work_out(formula->arg[0], letters, trial) : 0;
  double b = formula->args > 1 ? work_out(formula->arg[1], letters, trial) : 0;
  switch (formula->kind) {
  case FORMULA_NUMBER:
    return formula->literal.nominal;
  case FORMULA_NAME: {
    const Lettered *it = find_letter(letters, formula->name);
    return it && it->node ? unit_from_si(it->unit, it->si[trial]) : NAN;
  }
  case FORMULA_MINUS:
    return -a;
  case FORMULA_ADD:
    return a + b;
  case FORMULA_SUBTRACT:
    return a - b;
  case FORMULA_MULTIPLY:
    return a * b;
  case FORMULA_DIVIDE:
    return a / b;
  default:
    return NAN;
  }
}

/* Each letter of the line stands for one number, and no two for the same. */
static bool pin_letters(Planner *planner, const Formula *line, const Letters *letters, int trial,
                        Overrides *pins) {
  for (size_t i = 0; i < line->args; i++)
    if (!pin_letters(planner, line->arg[i], letters, trial, pins)) return false;
  if (line->kind != FORMULA_NAME) return true;
  const Lettered *it = find_letter(letters, line->name);
  if (!it || !it->node) return false;
  Override pin = {it->node, it->si[trial]};
  vec_push(planner->arena, pins, pin);
  for (size_t i = 0; i < letters->n; i++)
    if (&letters->at[i] != it && letters->at[i].node == it->node) return false;
  return true;
}

/* The line as it is written, and what it is said to be. */
typedef struct Sum {
  const char *text;
  const Formula *arithmetic;
  NodeId node;
  const Unit *unit;
} Sum;

static void tell(Planner *planner, const PlanStep *step, const WorkLine *line, const Sum *sum,
                 const Letters *letters, double number, double value) {
  Run *run = planner->run;
  Text with = text_new(run->arena);
  for (size_t i = 0; i < letters->n; i++) {
    const Lettered *it = &letters->at[i];
    if (!it->node || !strstr(sum->text, it->letter)) continue;
    text_addf(&with, "%s%s %s", with.n ? ", " : "", it->letter,
              quantity_print(run->arena, it->si[0], it->unit, -1));
  }
  Finding *finding = finding_add(run, RULE_WORK_OTHERWISE, line->text.at,
                                 "with %s \"%s\" comes to %s, and %s to %s", text_done(&with),
                                 sum->text, number_print(run->arena, number, unit_of_number(), -1),
                                 formula_print(run->arena, line->is.formula),
                                 quantity_print(run->arena, value, sum->unit, -1));
  finding_subject(finding, step->id);
  finding_note(run, finding, line->is.at, "what the line is the same as");
  finding_way_out(run, finding, "mend the line, the letters it goes by, or its `is`");
}

/* Where the result is one of the engine's quantities it has that one's unit, else a letter's. */
static bool find_node(Planner *planner, const PlanStep *step, const Expr *is,
                      const Letters *letters, Sum *sum) {
  const Quantity *quantity = named_by(planner, step, is);
  if (quantity) {
    sum->node = quantity->value;
    sum->unit = quantity->decl->unit;
    return sum->node && sum->unit;
  }
  Run aside = {planner->arena, findings_new(planner->arena)};
  sum->node = planner->job->bind(planner->job, &aside, is->formula, step->instance);
  for (size_t i = 0; sum->node && i < letters->n && !sum->unit; i++) {
    const Lettered *it = &letters->at[i];
    if (it->node && dim_same(it->unit->dim, graph_dim(planner->job->graph, sum->node)))
      sum->unit = it->unit;
  }
  return sum->unit != NULL;
}

static void judge(Planner *planner, size_t at, size_t index) {
  const PlanStep *step = planner->plan->steps.at[at];
  const WorkLine *line = &step->decl->work.at[index];
  Sum sum = {.text = step->work_lines.at[index]};
  if (line->is.kind != EXPR_FORMULA || !is_arithmetic(sum.text)) return;
  Run aside = {planner->arena, findings_new(planner->arena)};
  sum.arithmetic = formula_parse(&aside, line->text.at, sum.text);
  Letters letters = {0};
  letters_before(planner, at, index, &letters);
  if (!sum.arithmetic || !find_node(planner, step, &line->is, &letters, &sum)) return;
  double numbers[TRIALS], values[TRIALS];
  for (int t = 0; t < TRIALS; t++) {
    Overrides pins = {0};
    if (!pin_letters(planner, sum.arithmetic, &letters, t, &pins)) return;
    Evaluation now = graph_evaluate(planner->job->graph, sum.node, &pins);
    numbers[t] = work_out(sum.arithmetic, &letters, t);
    if (now.state != VALUE_KNOWN || !isfinite(numbers[t])) return;
    values[t] = now.si;
    double is = unit_from_si(sum.unit, now.si);
    if (fabs(is - numbers[t]) <= 1e-6 * (1 + fabs(is) + fabs(numbers[t]))) return;
  }
  tell(planner, step, line, &sum, &letters, numbers[0], values[0]);
}

/* Once a result is read, it hangs on its letters no more: the blank packet was looked through. */
void work_sums_check(Planner *planner) {
  if (planner->job->readings) return;
  for (size_t i = 0; i < planner->plan->steps.n; i++) {
    const PlanStep *step = planner->plan->steps.at[i];
    if (!step_leads(planner->plan, i)) continue;
    for (size_t w = 0; w < step->work_lines.n; w++) judge(planner, i, w);
  }
}
