/* Formulas: what is read prints to a text that reads as the same tree. */
#include "fuzz/fuzz.h"

#include "value/formula.h"

#include <math.h>

static bool is_same_text(const char *a, const char *b) {
  return (!a && !b) || (a && b && strcmp(a, b) == 0);
}

static bool are_same_words(const Words *a, const Words *b) {
  if (a->n != b->n) return false;
  for (size_t i = 0; i < a->n; i++)
    if (!is_same_text(a->at[i], b->at[i])) return false;
  return true;
}

static bool is_near(double a, double b) {
  return a == b || fabs(a - b) <= 1e-10 * fmax(fabs(a), fabs(b));
}

static bool is_same(const Formula *a, const Formula *b) {
  if (a->kind != b->kind || a->args != b->args || a->negated != b->negated) return false;
  if (a->function != b->function || !is_near(a->literal.nominal, b->literal.nominal)) return false;
  if (!is_same_text(a->name, b->name) || !is_same_text(a->field, b->field)) return false;
  if (!are_same_words(&a->index, &b->index) || !are_same_words(&a->words, &b->words)) return false;
  for (size_t i = 0; i < a->args; i++)
    if (!is_same(a->arg[i], b->arg[i])) return false;
  return true;
}

static void read_and_print(Run *run, const char *text, size_t size) {
  Source *source = source_new(run->arena, "formula", text, size);
  Formula *first = formula_parse(run, place_at(source, 1, 1, 1), text);
  if (!first) {
    PROMISE(run->findings->list.n > 0, "no formula, and no finding: %s", text);
    return;
  }
  for (size_t i = 0; i < run->findings->list.n; i++) /* a misspelt unit is read on as meant */
    PROMISE(run->findings->list.at[i]->rule == RULE_UNKNOWN_UNIT, "a formula with a finding: %s", text);
  const char *printed = formula_print(run->arena, first);
  Formula *again = formula_parse(run, place_at(source, 1, 1, 1), printed);
  PROMISE(again != NULL, "\"%s\" prints as \"%s\"", text, printed);
  PROMISE(is_same(first, again), "\"%s\" prints as \"%s\"", text, printed);
  const char *twice = formula_print(run->arena, again);
  PROMISE(strcmp(twice, printed) == 0, "\"%s\" prints as \"%s\"", printed, twice);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  return fuzz_in_arena(read_and_print, data, size);
}
