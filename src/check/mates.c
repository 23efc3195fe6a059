/* Parts that meet must agree on what they meet by. */
#include "check/rules.h"

#include "base/text.h"

#include <math.h>

typedef struct Side {
  const Role *role;
  const Mate *mate;
} Side;
typedef VEC(Side) Sides;

static const char *mate_print(Run *run, const Mate *mate) {
  if (mate->is_word) return mate->word.s;
  return literal_print(run->arena, &mate->value.literal);
}

/* Do two declarations allow a common size? Exact sizes are equal when they
 * agree to a tenth of a micrometre: "20 mm" and "0.7874 in" are one pin. */
static bool mates_agree(const Mate *a, const Mate *b) {
  if (a->is_word != b->is_word) return false;
  if (a->is_word) return text_is(a->word.s, b->word.s);
  if (a->value.kind != EXPR_LITERAL || b->value.kind != EXPR_LITERAL) return true;
  const Literal *x = &a->value.literal, *y = &b->value.literal;
  if (x->shape == LITERAL_NONE || y->shape == LITERAL_NONE) return true;
  if (!dim_same(x->unit->dim, y->unit->dim)) return false;
  const double slack = 1e-7;
  bool x_exact = x->shape == LITERAL_EXACT, y_exact = y->shape == LITERAL_EXACT;
  if (x_exact && y_exact) return fabs(x->nominal - y->nominal) <= slack;
  double x_low = x_exact ? x->nominal : x->low, x_high = x_exact ? x->nominal : x->high;
  double y_low = y_exact ? y->nominal : y->low, y_high = y_exact ? y->nominal : y->high;
  return x_low <= y_high + slack && y_low <= x_high + slack;
}

static void compare(Run *run, Side a, Side b) {
  if (mates_agree(a.mate, b.mate)) return;
  Finding *finding = finding_add(run, RULE_MATES_DIFFER, b.mate->at, "%s: %s says %s, %s says %s",
                                 b.mate->name, b.role->part->name.s, mate_print(run, b.mate),
                                 a.role->part->name.s, mate_print(run, a.mate));
  finding_subject(finding, b.mate->name);
  finding_note(run, finding, a.mate->at, "the %s, from %s", a.role->label,
               source_print(run->arena, a.role->part, NULL));
  finding_way_out(run, finding, "choose a %s and a %s that are made for each other", a.role->label,
                  b.role->label);
}

void check_mates(Run *run, const Job *job) {
  Sides sides = {0};
  for (size_t i = 0; i < job->roles.n; i++) {
    const Role *role = job->roles.at[i];
    if (!role->part) continue;
    const Mates *mates = &role->part->is.part.mates;
    for (size_t j = 0; j < mates->n; j++) {
      Side side = {role, &mates->at[j]};
      for (size_t k = 0; k < sides.n; k++)
        if (text_is(sides.at[k].mate->name, side.mate->name)) compare(run, sides.at[k], side);
      vec_push(run->arena, &sides, side);
    }
  }
}
