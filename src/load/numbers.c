/* Readers of quantities: literals, formulas, conditions, units. */
#include "load/field.h"

#include "base/near.h"

#include <string.h>

static const Dim measures[] = {
    [MEASURE_ANY] = {0},
    [MEASURE_NUMBER] = {0},
    [MEASURE_LENGTH] = {.length = 1},
    [MEASURE_TORQUE] = {.length = 2, .mass = 1, .time = -2},
    [MEASURE_ANGLE] = {.angle = 1},
    [MEASURE_STRESS] = {.length = -1, .mass = 1, .time = -2},
    [MEASURE_TIME] = {.time = 1},
    [MEASURE_TEMPERATURE] = {.temperature = 1, .origin = ORIGIN_TEMPERATURE},
    [MEASURE_RISE] = {.temperature = 1},
    [MEASURE_EXPANSION] = {.temperature = -1},
};

/* Findings made while parsing a text whose columns do not count on, because
 * it runs over lines or holds escapes, point at its start. */
static void settle_places(Loader *loader, const Node *node, size_t from) {
  if (node->one_line) return;
  for (size_t i = from; i < loader->run->findings->list.n; i++) {
    loader->run->findings->list.at[i]->at = node->at;
  }
}

/* A formula or condition; NULL after a finding. */
static Formula *formula_of(Loader *loader, const Node *node, const char *key) {
  if (!need_scalar(loader, node, key)) return NULL;
  size_t from = loader->run->findings->list.n;
  const char *text = node->one_line ? node->text : text_folded(loader->run->arena, node->text);
  Formula *formula = formula_parse(loader->run, node->at, text);
  settle_places(loader, node, from);
  return formula;
}

/* A literal that cannot be read may be a formula without its sign. */
static void hint_formula(Loader *loader, const char *text, size_t from) {
  if (loader->run->findings->list.n != from + 1) return;
  Finding *finding = loader->run->findings->list.at[from];
  bool letter = (text[0] >= 'a' && text[0] <= 'z') || (text[0] >= 'A' && text[0] <= 'Z');
  if (finding->way_out || !(strpbrk(text, "*(") || (letter && strpbrk(text, "._")))) return;
  finding_way_out(loader->run, finding, "a formula begins with =: \"= %s\"", text);
}

Expr expr_of(Loader *loader, const Node *node, const char *key, bool may_formula) {
  Expr expr = {.kind = EXPR_BAD, .at = node->at};
  if (!need_scalar(loader, node, key) || node->told) return expr;
  if (node->text[0] == '=') {
    if (may_formula) {
      expr.formula = formula_of(loader, node, key);
      if (expr.formula) expr.kind = EXPR_FORMULA;
      return expr;
    }
    Finding *finding = finding_add(loader->run, RULE_WRONG_TYPE, node->at,
                                   "\"%s\" holds a number, not a formula", key);
    finding_way_out(loader->run, finding, "write the number with its unit");
    return expr;
  }
  if (!need_word(loader, node, key)) return expr;
  size_t from = loader->run->findings->list.n;
  expr.literal = literal_parse(loader->run, node->at, node->text);
  settle_places(loader, node, from);
  if (expr.literal.shape != LITERAL_NONE)
    expr.kind = EXPR_LITERAL;
  else if (may_formula)
    hint_formula(loader, node->text, from);
  return expr;
}

/* Is the literal of the shape and the dimension the field asks for? */
static bool fits(Loader *loader, const Field *field, const Expr *expr) {
  if (expr->kind != EXPR_LITERAL) return expr->kind == EXPR_FORMULA;
  const Literal *literal = &expr->literal;
  if (field->measure != MEASURE_ANY &&
      !literal_need(loader->run, expr->at, literal, measures[field->measure], field->key)) {
    return false;
  }
  if (field->extent == EXTENT_EXACT && literal->shape != LITERAL_EXACT) {
    Finding *finding = finding_add(loader->run, RULE_BAD_NUMBER, expr->at,
                                   "\"%s\" is one number, not a range", field->key);
    finding_way_out(loader->run, finding, "write it without a tolerance");
    return false;
  }
  if (field->extent == EXTENT_BAND && literal->shape != LITERAL_BAND) {
    Finding *finding = finding_add(loader->run, RULE_BAD_NUMBER, expr->at,
                                   "\"%s\" is a range from a lower to an upper end", field->key);
    finding_way_out(loader->run, finding, "write it as LOW to HIGH with the unit");
    return false;
  }
  return true;
}

static void read_expr(Loader *loader, const Field *field, const Pair *pair, void *object,
                      bool may_formula) {
  Expr expr = expr_of(loader, pair->value, field->key, may_formula);
  if (!fits(loader, field, &expr)) expr.kind = EXPR_BAD;
  memcpy((char *)object + field->offset, &expr, sizeof expr);
}

void field_literal(Loader *loader, const Field *field, const Pair *pair, void *object) {
  read_expr(loader, field, pair, object, false);
}

void field_expr(Loader *loader, const Field *field, const Pair *pair, void *object) {
  read_expr(loader, field, pair, object, true);
}

void field_formula(Loader *loader, const Field *field, const Pair *pair, void *object) {
  Expr expr = {.kind = EXPR_BAD, .at = pair->value->at};
  expr.formula = formula_of(loader, pair->value, field->key);
  if (expr.formula) expr.kind = EXPR_FORMULA;
  memcpy((char *)object + field->offset, &expr, sizeof expr);
}

void field_condition(Loader *loader, const Field *field, const Pair *pair, void *object) {
  Formula *formula = formula_of(loader, pair->value, field->key);
  memcpy((char *)object + field->offset, &formula, sizeof formula);
}

/* unit: "" and unit: "1" are plain numbers. */
void field_unit(Loader *loader, const Field *field, const Pair *pair, void *object) {
  QuantityDecl *quantity = object;
  const Node *node = pair->value;
  if (node->kind == NODE_SCALAR && node->quoted &&
      (node->text[0] == '\0' || text_is(node->text, "1"))) {
    quantity->unit = unit_of_number();
    quantity->unit_said = (Said){"", node->at};
    return;
  }
  quantity->unit_said = said_word(loader, node, field->key);
  if (!quantity->unit_said.s) return;
  quantity->unit = unit_find(quantity->unit_said.s);
  if (quantity->unit) return;
  Finding *finding = finding_add(loader->run, RULE_UNKNOWN_UNIT, node->at,
                                 "\"%s\" is no unit known here", quantity->unit_said.s);
  const char *near = unit_near(loader->run->arena, quantity->unit_said.s);
  quantity->unit = near && near_slip(quantity->unit_said.s, near) ? unit_find(near) : NULL;
  if (near)
    finding_way_out(loader->run, finding, "did you mean \"%s\"?", near);
  else
    finding_way_out(loader->run, finding, "for a plain number write unit: \"\"");
}
