/* Literals and formulas of a sheet as nodes and as numbers. */
#include "resolve/context.h"

static NodeId leaf_of(Resolver *r, const Expr *expr, const char *name, const Dim *dim,
                      const char *what) {
  const Literal *literal = &expr->literal;
  if (literal->shape == LITERAL_NONE || !literal->unit) return 0;
  if (dim && !literal_need(r->run, expr->at, literal, *dim, what)) return 0;
  if (literal->shape == LITERAL_AT_LEAST || literal->shape == LITERAL_AT_MOST) {
    Finding *finding = finding_add(r->run, RULE_BAD_NUMBER, expr->at,
                                   "%s is `%s`: a limit, not a value", what, literal->text);
    finding_way_out(r->run, finding, "give the value itself; limits stand under `limits`");
    return 0;
  }
  return graph_leaf(r->graph, name, expr->at, dim ? *dim : literal->unit->dim, literal->nominal,
                    literal->low, literal->high);
}

NodeId bind_expr(Resolver *r, const Expr *expr, const Instance *at, const char *name,
                 const Dim *dim, const char *what) {
  if (expr->kind == EXPR_LITERAL) return leaf_of(r, expr, name, dim, what);
  if (expr->kind != EXPR_FORMULA || !expr->formula) return 0;
  NodeId node = bind_formula(r, expr->formula, at);
  if (!node || !dim || dim_same(graph_dim(r->graph, node), *dim)) return node;
  if (hangs_on_forgotten(r, node)) return 0;
  Finding *finding =
      finding_add(r->run, RULE_WRONG_DIMENSION, expr->formula->at, "%s is %s; the formula gives %s",
                  what, dim_name(r->arena, *dim), dim_name(r->arena, graph_dim(r->graph, node)));
  if (expr->formula->kind == FORMULA_NAME && expr->formula->field &&
      graph_place(r->graph, node).source) {
    forgotten_unit(r, finding, node,
                   arena_printf(r->arena, "%s is wanted", dim_name(r->arena, *dim)));
    return 0;
  }
  finding_way_out(r->run, finding, "check the units and the operators of `%s`",
                  formula_print(r->arena, expr->formula));
  return 0;
}

bool expr_numbers(Resolver *r, const Expr *expr, const Instance *at, Dim dim, const char *what,
                  Literal *out) {
  *out = (Literal){0};
  if (expr->kind == EXPR_LITERAL) {
    if (expr->literal.shape == LITERAL_NONE || !expr->literal.unit ||
        !literal_need(r->run, expr->at, &expr->literal, dim, what))
      return false;
    *out = expr->literal;
    return true;
  }
  if (expr->kind != EXPR_FORMULA || !expr->formula) return false;
  NodeId node = bind_expr(r, expr, at, what, &dim, what);
  if (!node) return false;
  Range range = graph_range(r->graph, r->arena, node, NULL);
  if (range.state != VALUE_KNOWN) return false;
  out->shape = range.low < range.high ? LITERAL_BAND : LITERAL_EXACT;
  out->nominal = range.nominal;
  out->low = range.low;
  out->high = range.high;
  out->places = -1;
  return true;
}
