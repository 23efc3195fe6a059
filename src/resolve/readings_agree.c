/* Several readings of one box: do they agree, and which counts. */
#include "resolve/readings_box.h"

#include "base/text.h"
#include "model/job_words.h"

#include <math.h>
#include <stdlib.h>

/* Our own measure: readings of one box may differ by so many of the gauge's steps. */
#define SCATTER_STEPS 3.0

static bool scatter(const PlanBox *box, double low, double high) {
  double least, most, apart = high - low;
  if (!(apart > SCATTER_STEPS * box->resolution * (1 + 1e-6))) return false;
  return !readings_expected(box->quantity, &least, &most) || apart > (most - least) * (1 + 1e-6);
}

void readings_agree(Run *run, const PlanBox *box, const ReadingLine *line, const Reading *reading) {
  const Expr *agree = &box->decl->at_least_agree;
  if (reading->all.n < 2) return;
  double low = INFINITY, high = -INFINITY;
  for (size_t i = 0; i < reading->all.n; i++) {
    low = fmin(low, reading->all.at[i]);
    high = fmax(high, reading->all.at[i]);
  }
  const char *at_most = NULL;
  if (agree->kind == EXPR_LITERAL) {
    if (high - low > agree->literal.nominal * (1 + 1e-6))
      at_most =
          arena_printf(run->arena, "at most %s may be", literal_print(run->arena, &agree->literal));
  } else if (scatter(box, low, high)) {
    at_most = "that is more than all that is expected there";
  }
  if (!at_most) return;
  Finding *finding = finding_add(
      run, RULE_READINGS_APART, line->at, "box %d, %s: the readings are %s apart; %s", box->number,
      box->label, quantity_print(run->arena, high - low, box->unit, box->places), at_most);
  finding_subject(finding, box->quantity->name);
  finding_way_out(run, finding, "take them again");
}

static int by_size(const void *a, const void *b) {
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

double median(Arena *arena, const double *values, size_t n) {
  double *sorted = arena_copy(arena, values, n * sizeof *values);
  qsort(sorted, n, sizeof *sorted, by_size);
  return n % 2 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
}
