/* From formulas to nodes, with the dimension of every step checked. The
 * recursion is as deep as the formula, which the parser bounds. */
#include "value/dimension.h"
#include "value/graph_node.h"

#include "base/text.h"

#include <math.h>

#define MOST_EXPONENT 12 /* of a dimension; nothing real comes near */

typedef struct Compiler {
  Graph *graph;
  Run *run;
  const Binder *binder;
} Compiler;

static NodeId compile(Compiler *compiler, const Formula *formula);

static Dim dim_of(const Compiler *compiler, NodeId node) {
  return graph_dim(compiler->graph, node);
}

static const char *named(const Compiler *compiler, Dim dim) {
  return dim_name(compiler->run->arena, dim);
}

static Finding *wrong(const Compiler *compiler, Place at, const char *what) {
  return finding_add(compiler->run, RULE_WRONG_DIMENSION, at, "%s", what);
}

static NodeId operation(Compiler *compiler, GraphOp op, Dim dim, const Formula *formula,
                        const NodeId *args, size_t n) {
  return graph_add_operation(compiler->graph, op, dim, formula->at, args, n, formula->function);
}

/* A size is wanted, not true or false. */
static bool need_size(const Compiler *compiler, const Formula *arg, Dim dim) {
  if (!dim.truth) return true;
  (void)wrong(compiler, arg->at, "this is true or false, a size is wanted");
  return false;
}

static bool need_truth(const Compiler *compiler, const Formula *arg, Dim dim) {
  if (dim.truth) return true;
  const char *what =
      arena_printf(compiler->run->arena, "this is %s, a condition is wanted", named(compiler, dim));
  finding_way_out(compiler->run, wrong(compiler, arg->at, what), "compare it with something");
  return false;
}

/* Positions and temperatures count from somewhere: only a difference of two of
 * them can be scaled. */
static bool need_no_origin(const Compiler *compiler, const Formula *arg, Dim dim) {
  if (dim.origin == ORIGIN_NONE) return true;
  const char *what = arena_printf(
      compiler->run->arena, "%s counts from a point and cannot be scaled", named(compiler, dim));
  Finding *finding = wrong(compiler, arg->at, what);
  if (dim.origin == ORIGIN_TEMPERATURE) {
    finding_way_out(compiler->run, finding, "subtract another temperature first: hot - 20 degC");
  } else {
    finding_way_out(compiler->run, finding, "subtract another position first: at - 0 deg %s",
                    dim.origin == ORIGIN_TDC ? "ATDC" : "ABDC");
  }
  return false;
}

static NodeId mismatch(const Compiler *compiler, const Formula *formula, const char *verb, Dim a,
                       Dim b) {
  const char *what = arena_printf(compiler->run->arena, "%s and %s cannot be %s",
                                  named(compiler, a), named(compiler, b), verb);
  (void)wrong(compiler, formula->at, what);
  return 0;
}

static NodeId compile_sum(Compiler *compiler, const Formula *formula, NodeId a, NodeId b) {
  Dim left = dim_of(compiler, a), right = dim_of(compiler, b), result = left;
  bool adds = formula->kind == FORMULA_ADD;
  if (!need_size(compiler, formula->arg[0], left) || !need_size(compiler, formula->arg[1], right)) {
    return 0;
  }
  bool good = dimension_alike(left, right);
  if (left.origin == ORIGIN_NONE) {
    good = good && (adds || right.origin == ORIGIN_NONE);
    result = right;
  } else if (right.origin != ORIGIN_NONE) {
    good = good && !adds && left.origin == right.origin;
    result = dimension_without_origin(left);
  }
  if (!good) return mismatch(compiler, formula, adds ? "added" : "subtracted", left, right);
  return operation(compiler, adds ? OP_ADD : OP_SUBTRACT, result, formula, (NodeId[]){a, b}, 2);
}

static bool exponents_fit(const int *e) {
  for (int i = 0; i < 5; i++) {
    if (e[i] > MOST_EXPONENT || e[i] < -MOST_EXPONENT) return false;
  }
  return true;
}

static Dim dim_of_exponents(const int *e) {
  return (Dim){.length = (int8_t)e[0],
               .mass = (int8_t)e[1],
               .time = (int8_t)e[2],
               .temperature = (int8_t)e[3],
               .angle = (int8_t)e[4]};
}

static NodeId compile_product(Compiler *compiler, const Formula *formula, NodeId a, NodeId b) {
  Dim x = dim_of(compiler, a), y = dim_of(compiler, b);
  if (!need_size(compiler, formula->arg[0], x) || !need_size(compiler, formula->arg[1], y) ||
      !need_no_origin(compiler, formula->arg[0], x) ||
      !need_no_origin(compiler, formula->arg[1], y)) {
    return 0;
  }
  bool divides = formula->kind == FORMULA_DIVIDE;
  int sign = divides ? -1 : 1;
  const int e[] = {x.length + sign * y.length, x.mass + sign * y.mass, x.time + sign * y.time,
                   x.temperature + sign * y.temperature, x.angle + sign * y.angle};
  if (!exponents_fit(e)) return mismatch(compiler, formula, "multiplied any further", x, y);
  return operation(compiler, divides ? OP_DIVIDE : OP_MULTIPLY, dim_of_exponents(e), formula,
                   (NodeId[]){a, b}, 2);
}

static NodeId compile_power(Compiler *compiler, const Formula *formula, NodeId a, NodeId b) {
  Dim base = dim_of(compiler, a), exponent = dim_of(compiler, b), result = DIM_NUMBER;
  if (!need_size(compiler, formula->arg[0], base) ||
      !need_no_origin(compiler, formula->arg[0], base)) {
    return 0;
  }
  if (!dim_same(exponent, DIM_NUMBER)) {
    const char *what =
        arena_printf(compiler->run->arena, "the exponent is %s, a plain number is wanted",
                     named(compiler, exponent));
    (void)wrong(compiler, formula->arg[1]->at, what);
    return 0;
  }
  if (!dim_same(base, DIM_NUMBER)) {
    double power = 0;
    bool constant = graph_is_constant(compiler->graph, b, &power);
    int twice = constant && fabs(power) <= MOST_EXPONENT ? (int)lround(power * 2) : 0;
    const int e[] = {base.length * twice, base.mass * twice, base.time * twice,
                     base.temperature * twice, base.angle * twice};
    int halves[5];
    bool whole = constant && fabs(power) <= MOST_EXPONENT && fabs(power * 2 - twice) < 1e-9;
    for (int i = 0; i < 5; i++) {
      whole = whole && e[i] % 2 == 0;
      halves[i] = e[i] / 2;
    }
    if (!whole || !exponents_fit(halves)) {
      const char *what = arena_printf(compiler->run->arena, "%s cannot be raised to this power",
                                      named(compiler, base));
      finding_way_out(compiler->run, wrong(compiler, formula->at, what),
                      "with a unit the exponent is a fixed whole or half number");
      return 0;
    }
    result = dim_of_exponents(halves);
  }
  return operation(compiler, OP_POWER, result, formula, (NodeId[]){a, b}, 2);
}

static NodeId compile_comparison(Compiler *compiler, const Formula *formula, NodeId a, NodeId b) {
  Dim x = dim_of(compiler, a), y = dim_of(compiler, b);
  bool equality = formula->kind == FORMULA_EQUAL || formula->kind == FORMULA_NOT_EQUAL;
  if (!equality &&
      (!need_size(compiler, formula->arg[0], x) || !need_size(compiler, formula->arg[1], y))) {
    return 0;
  }
  if (!dim_same(x, y)) return mismatch(compiler, formula, "compared", x, y);
  GraphOp op = (GraphOp)(OP_LESS + (formula->kind - FORMULA_LESS));
  return operation(compiler, op, DIM_TRUTH, formula, (NodeId[]){a, b}, 2);
}

static NodeId compile_logic(Compiler *compiler, const Formula *formula, const NodeId *args) {
  for (size_t i = 0; i < formula->args; i++) {
    if (!need_truth(compiler, formula->arg[i], dim_of(compiler, args[i]))) return 0;
  }
  GraphOp op = formula->kind == FORMULA_NOT   ? OP_NOT
               : formula->kind == FORMULA_AND ? OP_AND
                                              : OP_OR;
  return operation(compiler, op, DIM_TRUTH, formula, args, formula->args);
}

static NodeId compile_minus(Compiler *compiler, const Formula *formula, NodeId a) {
  Dim dim = dim_of(compiler, a);
  if (!need_size(compiler, formula->arg[0], dim) ||
      !need_no_origin(compiler, formula->arg[0], dim)) {
    return 0;
  }
  return operation(compiler, OP_MINUS, dim, formula, &a, 1);
}

static NodeId compile_if(Compiler *compiler, const Formula *formula, const NodeId *args) {
  if (!need_truth(compiler, formula->arg[0], dim_of(compiler, args[0]))) return 0;
  Dim then = dim_of(compiler, args[1]), otherwise = dim_of(compiler, args[2]);
  if (!dim_same(then, otherwise)) {
    return mismatch(compiler, formula, "the two outcomes of one condition", then, otherwise);
  }
  return operation(compiler, OP_IF, then, formula, args, 3);
}

/* args: of the call, or the members of the set. */
static NodeId compile_call(Compiler *compiler, const Formula *formula, const NodeId *args,
                           size_t n) {
  Arena *arena = compiler->run->arena;
  Dim *dims = ARENA_NEW_N(arena, Dim, n + 1);
  for (size_t i = 0; i < n; i++) dims[i] = dim_of(compiler, args[i]);
  Dim result = DIM_NUMBER;
  size_t bad = 0;
  if (function_is_of_positions(formula->function) &&
      compiler->graph->nodes.at[args[0]].op != OP_VALUE) {
    Finding *finding = finding_add(compiler->run, RULE_BAD_FORMULA, formula->arg[0]->at,
                                   "%s is taken over the positions a quantity is read at; this is "
                                   "no quantity",
                                   formula->function->name);
    finding_way_out(compiler->run, finding, "for example %s(deck_height)", formula->function->name);
    return 0;
  }
  const char *wanted = NULL;
  if (function_types(arena, formula->function, dims, n, &result, &bad, &wanted)) {
    return operation(compiler, OP_CALL, result, formula, args, n);
  }
  bool over = formula->kind == FORMULA_OVER;
  const Formula *arg = over ? formula->arg[0] : formula->arg[bad];
  const char *what = arena_printf(arena, "%s: this is %s, %s is wanted", formula->function->name,
                                  named(compiler, dims[bad]), wanted);
  finding_way_out(compiler->run, wrong(compiler, arg->at, what), "%s: %s", formula->function->name,
                  formula->function->signature);
  return 0;
}

static NodeId compile_over(Compiler *compiler, const Formula *formula) {
  NodeIds members = {0};
  if (!compiler->binder->over(compiler->binder->context, formula, &members)) return 0;
  if (members.n == 0) {
    finding_add(compiler->run, RULE_BAD_FORMULA, formula->at, "%s has no members to take the %s of",
                formula->words.at[0], formula->function->name);
    return 0;
  }
  for (size_t i = 0; i < members.n; i++) {
    if (members.at[i] == 0) return 0;
  }
  return compile_call(compiler, formula, members.at, members.n);
}

static NodeId compile_operation(Compiler *compiler, const Formula *formula, const NodeId *args) {
  switch (formula->kind) {
  case FORMULA_ADD:
  case FORMULA_SUBTRACT:
    return compile_sum(compiler, formula, args[0], args[1]);
  case FORMULA_MULTIPLY:
  case FORMULA_DIVIDE:
    return compile_product(compiler, formula, args[0], args[1]);
  case FORMULA_POWER:
    return compile_power(compiler, formula, args[0], args[1]);
  case FORMULA_MINUS:
    return compile_minus(compiler, formula, args[0]);
  case FORMULA_NOT:
  case FORMULA_AND:
  case FORMULA_OR:
    return compile_logic(compiler, formula, args);
  case FORMULA_IF:
    return compile_if(compiler, formula, args);
  case FORMULA_CALL:
    return compile_call(compiler, formula, args, formula->args);
  default:
    return compile_comparison(compiler, formula, args[0], args[1]);
  }
}

/* All arguments are compiled even after one has failed: each mistake is named. */
static NodeId compile(Compiler *compiler, const Formula *formula) {
  const Binder *binder = compiler->binder;
  switch (formula->kind) {
  case FORMULA_NUMBER:
    return graph_constant(compiler->graph, formula->literal.unit->dim, formula->literal.nominal);
  case FORMULA_NAME:
    return binder->name(binder->context, formula);
  case FORMULA_IS:
    return binder->is(binder->context, formula);
  case FORMULA_OVER:
    return compile_over(compiler, formula);
  default:
    break;
  }
  NodeId args[sizeof formula->arg / sizeof formula->arg[0]] = {0};
  bool good = true;
  for (size_t i = 0; i < formula->args; i++) {
    args[i] = compile(compiler, formula->arg[i]);
    good = good && args[i] != 0;
  }
  return good ? compile_operation(compiler, formula, args) : 0;
}

NodeId graph_compile(Graph *graph, Run *run, const Formula *formula, const Binder *binder) {
  Compiler compiler = {graph, run, binder};
  return formula ? compile(&compiler, formula) : 0;
}
