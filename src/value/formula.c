#include "value/formula_lex.h"

#include "base/near.h"
#include "value/function.h"

#include <string.h>

#define MOST_DEEP (3 * 64) /* a pair of brackets goes down three levels of the grammar */
#define MOST_ARGS (sizeof((Formula *)0)->arg / sizeof((Formula *)0)->arg[0])

typedef struct Parser {
  Lexer lexer;
  int depth;
} Parser;

static Formula *parse_or(Parser *parser);

static Arena *arena_of(const Parser *parser) {
  return parser->lexer.run->arena;
}

static Formula *node_new(Parser *parser, FormulaKind kind, Place at) {
  Formula *formula = ARENA_NEW(arena_of(parser), Formula);
  formula->kind = kind;
  formula->at = at;
  return formula;
}

static Formula *node_two(Parser *parser, FormulaKind kind, Place at, Formula *a, Formula *b) {
  if (!a || !b) return NULL;
  Formula *formula = node_new(parser, kind, at);
  formula->arg[0] = a;
  formula->arg[1] = b;
  formula->args = 2;
  return formula;
}

static Formula *node_one(Parser *parser, FormulaKind kind, Place at, Formula *a) {
  if (!a) return NULL;
  Formula *formula = node_new(parser, kind, at);
  formula->arg[0] = a;
  formula->args = 1;
  return formula;
}

static Formula *fail(Parser *parser, const char *what, const char *way_out) {
  (void)lexer_fail(&parser->lexer, what, way_out);
  return NULL;
}

/* Every descent goes through here, so hostile nesting ends in a finding. */
static bool descend(Parser *parser) {
  if (parser->depth < MOST_DEEP) {
    parser->depth++;
    return true;
  }
  return lexer_fail(&parser->lexer, "the formula is nested too deeply",
                    "split it: give its parts names of their own");
}

static bool expect(Parser *parser, const char *mark, const char *what) {
  if (lexer_takes(&parser->lexer, mark)) return true;
  return lexer_fail(&parser->lexer, what, NULL);
}

static bool parse_args(Parser *parser, Formula *call) {
  if (lexer_takes(&parser->lexer, ")")) return true;
  for (;;) {
    if (call->args == MOST_ARGS) {
      return lexer_fail(&parser->lexer, "no function takes so many arguments", NULL);
    }
    Formula *arg = parse_or(parser);
    if (!arg) return false;
    call->arg[call->args++] = arg;
    if (lexer_takes(&parser->lexer, ")")) return true;
    if (!expect(parser, ",", "a comma or a closing bracket is missing here")) return false;
  }
}

static Function const *need_function(Parser *parser, const Token *name) {
  const Function *function = function_find(name->text);
  if (function) return function;
  Words names = {0};
  for (size_t i = 0; function_at(i); i++) {
    vec_push(arena_of(parser), &names, function_at(i)->name);
  }
  vec_push(arena_of(parser), &names, "if");
  Run *run = parser->lexer.run;
  Finding *finding = finding_add(run, RULE_UNKNOWN_NAME, lexer_place(&parser->lexer, name),
                                 "there is no function '%s'", name->text);
  const char *near = near_word(name->text, &names);
  if (near) finding_way_out(run, finding, "did you mean %s?", near);
  parser->lexer.failed = true;
  return NULL;
}

/* The arguments do not fit the function in number: said at the call. */
static Formula *wrong_count(Parser *parser, const Formula *call, const char *name,
                            const char *signature) {
  Run *run = parser->lexer.run;
  Finding *finding = finding_add(run, RULE_BAD_FORMULA, call->at, "%s does not take %zu argument%s",
                                 name, call->args, call->args == 1 ? "" : "s");
  finding_way_out(run, finding, "%s: %s", name, signature);
  parser->lexer.failed = true;
  return NULL;
}

static Formula *parse_if(Parser *parser, Place at) {
  Formula *choice = node_new(parser, FORMULA_IF, at);
  if (!parse_args(parser, choice)) return NULL;
  if (choice->args == 3) return choice;
  return wrong_count(parser, choice, "if", "condition, value if true, value if not");
}

static Formula *parse_plain(Parser *parser, Formula *call) {
  call->kind = FORMULA_CALL;
  if (!parse_args(parser, call)) return NULL;
  int args = (int)call->args;
  if (args >= call->function->least && args <= call->function->most) return call;
  return wrong_count(parser, call, call->function->name, call->function->signature);
}

/* function(set, formula for a member); spread(quantity) is over its positions */
static Formula *parse_over(Parser *parser, Formula *call) {
  call->kind = FORMULA_OVER;
  if (parser->lexer.token.kind != TOKEN_WORD) {
    return fail(
        parser, "the name of a set is missing here",
        arena_printf(arena_of(parser), "for example %s(valve, lash)", call->function->name));
  }
  Lexer before = parser->lexer;
  const Function *of_positions = function_of_positions(call->function);
  vec_push(arena_of(parser), &call->words, parser->lexer.token.text);
  vec_push(arena_of(parser), &call->words_at, lexer_place(&parser->lexer, &parser->lexer.token));
  lexer_next(&parser->lexer);
  if (of_positions && !lexer_is(&parser->lexer, ",")) {
    parser->lexer = before;
    call->words.n = call->words_at.n = 0; /* what was taken for a set is the quantity */
    call->function = of_positions;
    return parse_plain(parser, call);
  }
  if (!lexer_is(&parser->lexer, ",")) {
    return fail(parser, "a set and what is taken of each member belong here",
                arena_printf(arena_of(parser),
                             "for example %s(valve, lash); max and min take values",
                             call->function->name));
  }
  lexer_next(&parser->lexer);
  if (!parse_args(parser, call)) return NULL;
  if (call->args == 1) return call;
  return wrong_count(parser, call, call->function->name, call->function->signature);
}

static Formula *parse_call(Parser *parser, const Token *name) {
  Place at = lexer_place(&parser->lexer, name);
  lexer_next(&parser->lexer); /* ( */
  if (text_is(name->text, "if")) return parse_if(parser, at);
  Formula *call = node_new(parser, FORMULA_CALL, at);
  call->function = need_function(parser, name);
  if (!call->function) return NULL;
  if (function_is_over(call->function)) return parse_over(parser, call);
  return parse_plain(parser, call);
}

static bool need_id(Parser *parser, Words *out, Places *at, const char *what) {
  Lexer *lexer = &parser->lexer;
  if (lexer->token.kind != TOKEN_WORD || lexer_is_keyword(lexer)) {
    return lexer_fail(lexer, what, NULL);
  }
  vec_push(arena_of(parser), out, lexer->token.text);
  vec_push(arena_of(parser), at, lexer_place(lexer, &lexer->token));
  lexer_next(lexer);
  return true;
}

/* [left] or [left, intake] */
static bool parse_index(Parser *parser, Formula *name) {
  if (!lexer_is(&parser->lexer, "[")) return true;
  if (name->index.n > 0) {
    return lexer_fail(&parser->lexer, "the members were named already",
                      "write them in one pair of brackets: [left, intake]");
  }
  do {
    lexer_next_id(&parser->lexer);
    if (!need_id(parser, &name->index, &name->index_at, "the name of a member is missing here"))
      return false;
  } while (lexer_is(&parser->lexer, ","));
  return expect(parser, "]", "the bracket ] is missing here");
}

static Formula *parse_name(Parser *parser) {
  Token token = parser->lexer.token;
  Formula *name = node_new(parser, FORMULA_NAME, lexer_place(&parser->lexer, &token));
  name->name = token.text;
  lexer_next(&parser->lexer);
  if (lexer_is(&parser->lexer, "(")) return parse_call(parser, &token);
  if (!parse_index(parser, name)) return NULL;
  if (lexer_takes(&parser->lexer, ".")) {
    if (parser->lexer.token.kind != TOKEN_WORD) {
      return fail(parser, "a name is missing behind the dot", NULL);
    }
    name->field = parser->lexer.token.text;
    token.to = parser->lexer.token.to;
    lexer_next(&parser->lexer);
    if (!parse_index(parser, name)) return NULL;
  }
  name->at = lexer_place(&parser->lexer, &token);
  return name;
}

static Formula *parse_primary(Parser *parser) {
  Lexer *lexer = &parser->lexer;
  if (lexer->failed) return NULL;
  if (lexer->token.kind == TOKEN_NUMBER) {
    Formula *number = node_new(parser, FORMULA_NUMBER, lexer_place(lexer, &lexer->token));
    number->literal = lexer->token.literal;
    lexer_next(lexer);
    return number;
  }
  if (lexer->token.kind == TOKEN_WORD && !lexer_is_keyword(lexer)) return parse_name(parser);
  if (lexer_takes(lexer, "(")) {
    Formula *inner = parse_or(parser);
    if (!inner || !expect(parser, ")", "a closing bracket is missing here")) return NULL;
    return inner;
  }
  if (lexer->token.kind == TOKEN_END) return fail(parser, "something is missing at the end", NULL);
  return fail(parser,
              arena_printf(arena_of(parser), "a number or a name should stand here, not '%s'",
                           lexer->token.text),
              NULL);
}

/* Unary minus binds looser than ^: -a^2 is -(a^2); its right side takes a sign. */
static Formula *parse_unary(Parser *parser) {
  if (!descend(parser)) return NULL;
  Formula *result = NULL;
  Place at = lexer_place(&parser->lexer, &parser->lexer.token);
  if (lexer_takes(&parser->lexer, "-")) {
    result = node_one(parser, FORMULA_MINUS, at, parse_unary(parser));
  } else {
    result = parse_primary(parser);
    at = lexer_place(&parser->lexer, &parser->lexer.token);
    if (result && lexer_takes(&parser->lexer, "^")) {
      result = node_two(parser, FORMULA_POWER, at, result, parse_unary(parser));
    }
  }
  parser->depth--;
  return result;
}

/* 1/4 in would be 1 divided by 4 in here; on a sheet it is a quarter inch. */
static bool is_fraction_of_length(const Lexer *lexer, const Token *left, const Formula *top) {
  return left->kind == TOKEN_NUMBER && top && top->kind == FORMULA_NUMBER &&
         lexer->token.kind == TOKEN_NUMBER &&
         literals_look_like_fraction(&top->literal, &lexer->token.literal);
}

static Formula *parse_product(Parser *parser) {
  Lexer *lexer = &parser->lexer;
  Token left = lexer->token;
  Formula *result = parse_unary(parser);
  while (result && (lexer_is(lexer, "*") || lexer_is(lexer, "/"))) {
    FormulaKind kind = lexer_is(lexer, "/") ? FORMULA_DIVIDE : FORMULA_MULTIPLY;
    Place at = lexer_place(lexer, &lexer->token);
    lexer_next(lexer);
    if (kind == FORMULA_DIVIDE && is_fraction_of_length(lexer, &left, result)) {
      return fail(parser, "a fraction of a length can be read two ways in a formula",
                  "write the length with a decimal point, or 1 / (4 in)");
    }
    result = node_two(parser, kind, at, result, parse_unary(parser));
  }
  return result;
}

static Formula *parse_sum(Parser *parser) {
  Lexer *lexer = &parser->lexer;
  Formula *result = parse_product(parser);
  while (result && (lexer_is(lexer, "+") || lexer_is(lexer, "-"))) {
    FormulaKind kind = lexer_is(lexer, "+") ? FORMULA_ADD : FORMULA_SUBTRACT;
    Place at = lexer_place(lexer, &lexer->token);
    lexer_next(lexer);
    result = node_two(parser, kind, at, result, parse_product(parser));
  }
  return result;
}

static bool comparison_in_front(const Lexer *lexer, FormulaKind *kind) {
  static const struct {
    const char *mark;
    FormulaKind kind;
  } comparisons[] = {
      {"<", FORMULA_LESS},           {"<=", FORMULA_LESS_EQUAL}, {">", FORMULA_GREATER},
      {">=", FORMULA_GREATER_EQUAL}, {"==", FORMULA_EQUAL},      {"!=", FORMULA_NOT_EQUAL},
  };
  for (size_t i = 0; i < sizeof comparisons / sizeof comparisons[0]; i++) {
    if (!lexer_is(lexer, comparisons[i].mark)) continue;
    *kind = comparisons[i].kind;
    return true;
  }
  return false;
}

/* name is [not] id or id ..., "is" in front. */
static Formula *parse_is(Parser *parser, const Formula *left) {
  Lexer *lexer = &parser->lexer;
  if (left->kind != FORMULA_NAME) {
    return fail(parser, "'is' stands behind a name only", "numbers are compared with ==");
  }
  Formula *is = node_new(parser, FORMULA_IS, left->at);
  is->name = left->name;
  is->field = left->field;
  is->index = left->index;
  is->index_at = left->index_at;
  lexer_next_id(lexer);
  is->negated = lexer_is(lexer, "not");
  if (is->negated) lexer_next_id(lexer);
  for (;;) {
    if (!need_id(parser, &is->words, &is->words_at, "a name or a word is missing behind 'is'"))
      return NULL;
    if (!lexer_is(lexer, "or") || !lexer_list_goes_on(lexer)) return is;
    lexer_next_id(lexer);
  }
}

static Formula *parse_comparison(Parser *parser) {
  Lexer *lexer = &parser->lexer;
  Formula *left = parse_sum(parser);
  if (!left) return NULL;
  FormulaKind kind = FORMULA_LESS, again = FORMULA_LESS;
  if (lexer_is(lexer, "is")) {
    left = parse_is(parser, left);
  } else if (comparison_in_front(lexer, &kind)) {
    Place at = lexer_place(lexer, &lexer->token);
    lexer_next(lexer);
    left = node_two(parser, kind, at, left, parse_sum(parser));
  } else {
    return left;
  }
  if (left && (lexer_is(lexer, "is") || comparison_in_front(lexer, &again))) {
    return fail(parser, "comparisons do not stand in a row",
                "join two comparisons with and: a < b and b < c");
  }
  return left;
}

static Formula *parse_not(Parser *parser) {
  if (!descend(parser)) return NULL;
  Place at = lexer_place(&parser->lexer, &parser->lexer.token);
  Formula *result = lexer_takes(&parser->lexer, "not")
                        ? node_one(parser, FORMULA_NOT, at, parse_not(parser))
                        : parse_comparison(parser);
  parser->depth--;
  return result;
}

static Formula *parse_and(Parser *parser) {
  Lexer *lexer = &parser->lexer;
  Formula *result = parse_not(parser);
  while (result && lexer_is(lexer, "and")) {
    Place at = lexer_place(lexer, &lexer->token);
    lexer_next(lexer);
    result = node_two(parser, FORMULA_AND, at, result, parse_not(parser));
  }
  return result;
}

static Formula *parse_or(Parser *parser) {
  if (!descend(parser)) return NULL;
  Lexer *lexer = &parser->lexer;
  Formula *result = parse_and(parser);
  while (result && lexer_is(lexer, "or")) {
    Place at = lexer_place(lexer, &lexer->token);
    lexer_next(lexer);
    result = node_two(parser, FORMULA_OR, at, result, parse_and(parser));
  }
  parser->depth--;
  return result;
}

Formula *formula_parse(Run *run, Place at, const char *text) {
  Parser parser = {.depth = 0};
  lexer_start(&parser.lexer, run, at, text);
  Formula *formula = parse_or(&parser);
  if (!formula || parser.lexer.failed) return NULL;
  if (parser.lexer.token.kind == TOKEN_END) return formula;
  if (lexer_is(&parser.lexer, ",")) {
    return fail(&parser, "a comma stands only between the arguments of a function",
                "write decimals with a point");
  }
  return fail(
      &parser,
      arena_printf(run->arena, "an operator is missing before '%s'", parser.lexer.token.text),
      NULL);
}
