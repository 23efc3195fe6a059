/* Formulas: text that begins with "=", and conditions of `when`. */
#ifndef SHEAF_VALUE_FORMULA_H
#define SHEAF_VALUE_FORMULA_H

#include "base/text.h"
#include "diag/finding.h"
#include "value/literal.h"

typedef struct Function Function; /* functions.def; see graph.h */

typedef enum FormulaKind {
  FORMULA_NUMBER, /* 0.0045, 80 mm: literal (exact only) */
  FORMULA_NAME,   /* bore, barrel.bore, valve[intake].lift, cylinder[left].deck_height */
  FORMULA_MINUS,
  FORMULA_NOT,
  FORMULA_ADD,
  FORMULA_SUBTRACT,
  FORMULA_MULTIPLY,
  FORMULA_DIVIDE,
  FORMULA_POWER,
  FORMULA_LESS,
  FORMULA_LESS_EQUAL,
  FORMULA_GREATER,
  FORMULA_GREATER_EQUAL,
  FORMULA_EQUAL,
  FORMULA_NOT_EQUAL,
  FORMULA_AND,
  FORMULA_OR,
  FORMULA_IF,   /* if(condition, then, else): arg[0..2] */
  FORMULA_IS,   /* base_gasket is none; piston is forged_84 or cast_84: name and words */
  FORMULA_CALL, /* function(arg...) */
  FORMULA_OVER, /* largest|smallest|sum|mean|spread(set, name): function, words[0] = set, arg[0] */
} FormulaKind;

typedef struct Formula Formula;
struct Formula {
  FormulaKind kind;
  Place at;
  Literal literal;
  const char *name;  /* NAME, IS: what stands before the dot, or the bare name */
  const char *field; /* NAME: what stands after the dot, or NULL */
  Words index;       /* NAME: members in [ ], in order of the sets' tree */
  Places index_at;
  Words words; /* IS: the ids or words compared with; OVER: the set */
  Places words_at;
  bool negated; /* IS: "is not" */
  const Function *function;
  Formula *arg[8];
  size_t args;
};

/* Reads the text of a formula ("= a + b", the "=" optional). Reports
 * bad-formula, unknown-name (function), unknown-unit at the token and answers
 * NULL then; a unit that is a slip of the pen is read on as what was meant. Bounds: 64 deep, 2,000
 * tokens. Precedence, loosest first: or; and; not; comparison, is; + -; * /; unary -; ^ (right). */
Formula *formula_parse(Run *run, Place at, const char *text);
/* In one spelling, with brackets only where needed; reads back to the same tree. */
const char *formula_print(Arena *arena, const Formula *formula);

#endif
