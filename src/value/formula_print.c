/* A formula in one spelling. */
#include "value/graph.h"

/* How tightly each kind binds, as the parser has it. */
enum {
  BIND_OR = 1,
  BIND_AND,
  BIND_NOT,
  BIND_COMPARE,
  BIND_SUM,
  BIND_PRODUCT,
  BIND_MINUS,
  BIND_POWER,
  BIND_PRIMARY
};

static const struct {
  int binds, left, right; /* left, right: what its operands need at least */
  const char *mark;
} kinds[] = {
    [FORMULA_NUMBER] = {BIND_PRIMARY, 0, 0, ""},
    [FORMULA_NAME] = {BIND_PRIMARY, 0, 0, ""},
    [FORMULA_MINUS] = {BIND_MINUS, BIND_MINUS, 0, "-"},
    [FORMULA_NOT] = {BIND_NOT, BIND_NOT, 0, "not "},
    [FORMULA_ADD] = {BIND_SUM, BIND_SUM, BIND_PRODUCT, " + "},
    [FORMULA_SUBTRACT] = {BIND_SUM, BIND_SUM, BIND_PRODUCT, " - "},
    [FORMULA_MULTIPLY] = {BIND_PRODUCT, BIND_PRODUCT, BIND_MINUS, " * "},
    [FORMULA_DIVIDE] = {BIND_PRODUCT, BIND_PRODUCT, BIND_MINUS, " / "},
    [FORMULA_POWER] = {BIND_POWER, BIND_PRIMARY, BIND_MINUS, "^"},
    [FORMULA_LESS] = {BIND_COMPARE, BIND_SUM, BIND_SUM, " < "},
    [FORMULA_LESS_EQUAL] = {BIND_COMPARE, BIND_SUM, BIND_SUM, " <= "},
    [FORMULA_GREATER] = {BIND_COMPARE, BIND_SUM, BIND_SUM, " > "},
    [FORMULA_GREATER_EQUAL] = {BIND_COMPARE, BIND_SUM, BIND_SUM, " >= "},
    [FORMULA_EQUAL] = {BIND_COMPARE, BIND_SUM, BIND_SUM, " == "},
    [FORMULA_NOT_EQUAL] = {BIND_COMPARE, BIND_SUM, BIND_SUM, " != "},
    [FORMULA_AND] = {BIND_AND, BIND_AND, BIND_NOT, " and "},
    [FORMULA_OR] = {BIND_OR, BIND_OR, BIND_AND, " or "},
    [FORMULA_IF] = {BIND_PRIMARY, 0, 0, ""},
    [FORMULA_IS] = {BIND_COMPARE, 0, 0, ""},
    [FORMULA_CALL] = {BIND_PRIMARY, 0, 0, ""},
    [FORMULA_OVER] = {BIND_PRIMARY, 0, 0, ""},
};

/* The depth is bounded by the tokens the parser takes. */
static void print(Text *out, const Formula *formula);

static void print_bound(Text *out, const Formula *formula, bool brackets) {
  if (brackets) text_add(out, "(");
  print(out, formula);
  if (brackets) text_add(out, ")");
}

static void print_words(Text *out, const Words *words, const char *between) {
  for (size_t i = 0; i < words->n; i++) {
    if (i > 0) text_add(out, between);
    text_add(out, words->at[i]);
  }
}

static void print_name(Text *out, const Formula *name) {
  text_add(out, name->name);
  if (name->index.n > 0) {
    text_add(out, "[");
    print_words(out, &name->index, ", ");
    text_add(out, "]");
  }
  if (name->field) text_addf(out, ".%s", name->field);
}

static void print_args(Text *out, const Formula *call, const char *name) {
  text_addf(out, "%s(", name);
  print_words(out, &call->words, ", ");
  for (size_t i = 0; i < call->args; i++) {
    if (i > 0 || call->words.n > 0) text_add(out, ", ");
    print(out, call->arg[i]);
  }
  text_add(out, ")");
}

/* "piston is a or b" reads b as an id; where b is meant as a condition of its
 * own it needs brackets. */
static bool ends_in_is(const Formula *formula) {
  while (formula->kind == FORMULA_OR || formula->kind == FORMULA_AND ||
         formula->kind == FORMULA_NOT) {
    formula = formula->arg[formula->args - 1];
  }
  return formula->kind == FORMULA_IS;
}

static bool begins_with_bare_name(const Formula *formula) {
  while (formula->kind == FORMULA_AND) formula = formula->arg[0];
  return formula->kind == FORMULA_NAME && !formula->field && formula->index.n == 0;
}

/* "is a or -b", "is a or 4": what follows would be read as one more id. */
static bool begins_like_id(const Formula *formula) {
  while (formula->args == 2 && formula->kind != FORMULA_CALL && formula->kind != FORMULA_OVER)
    formula = formula->arg[0];
  return formula->kind == FORMULA_MINUS || formula->kind == FORMULA_NUMBER;
}

/* 1 / (4 in): without brackets it would look like a quarter inch. */
static bool looks_like_fraction(const Formula *divide) {
  const Formula *top = divide->arg[0], *bottom = divide->arg[1];
  return divide->kind == FORMULA_DIVIDE && top->kind == FORMULA_NUMBER &&
         bottom->kind == FORMULA_NUMBER &&
         literals_look_like_fraction(&top->literal, &bottom->literal);
}

/* (2 mm)^2: without brackets it would be 2 of another unit. */
static bool raises_unit(const Formula *formula) {
  const Formula *left = formula->arg[0];
  return formula->kind == FORMULA_POWER && left->kind == FORMULA_NUMBER &&
         *left->literal.unit->print;
}

static void print_two(Text *out, const Formula *formula) {
  const Formula *left = formula->arg[0], *right = formula->arg[1];
  bool loosely = kinds[left->kind].binds < kinds[formula->kind].left;
  print_bound(out, left, loosely || raises_unit(formula));
  text_add(out, kinds[formula->kind].mark);
  bool list = formula->kind == FORMULA_OR && ends_in_is(left) &&
              (begins_with_bare_name(right) || begins_like_id(right));
  bool loose = kinds[right->kind].binds < kinds[formula->kind].right;
  print_bound(out, right, loose || list || looks_like_fraction(formula));
}

static void print(Text *out, const Formula *formula) {
  switch (formula->kind) {
  case FORMULA_NUMBER:
    text_add(out, literal_print(out->arena, &formula->literal));
    break;
  case FORMULA_NAME:
    print_name(out, formula);
    break;
  case FORMULA_IS:
    print_name(out, formula);
    text_add(out, formula->negated ? " is not " : " is ");
    print_words(out, &formula->words, " or ");
    break;
  case FORMULA_IF:
    print_args(out, formula, "if");
    break;
  case FORMULA_CALL:
  case FORMULA_OVER:
    print_args(out, formula, formula->function->name);
    break;
  case FORMULA_MINUS:
  case FORMULA_NOT:
    text_add(out, kinds[formula->kind].mark);
    print_bound(out, formula->arg[0],
                kinds[formula->arg[0]->kind].binds < kinds[formula->kind].left);
    break;
  default:
    print_two(out, formula);
    break;
  }
}

const char *formula_print(Arena *arena, const Formula *formula) {
  Text out = text_new(arena);
  print(&out, formula);
  return text_done(&out);
}
