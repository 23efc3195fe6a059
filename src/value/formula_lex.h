/* The marks, words and numbers of a formula, one at a time. */
#ifndef SHEAF_VALUE_FORMULA_LEX_H
#define SHEAF_VALUE_FORMULA_LEX_H

#include "value/formula.h"

typedef enum TokenKind {
  TOKEN_END,
  TOKEN_NUMBER, /* with its unit */
  TOKEN_WORD,
  TOKEN_MARK, /* + - * / ^ < <= > >= == != ( ) [ ] , . */
} TokenKind;

typedef struct Token {
  TokenKind kind;
  size_t from, to; /* bytes of the text */
  const char *text;
  Literal literal; /* NUMBER */
} Token;

typedef struct Lexer {
  Run *run;
  Place place; /* of the text's first character */
  const char *text;
  size_t at;
  size_t tokens;
  bool failed; /* reported; from then on only TOKEN_END */
  Token token; /* the one that stands at the front */
} Lexer;

#define FORMULA_MOST_TOKENS 2000

void lexer_start(Lexer *lexer, Run *run, Place place, const char *text);
void lexer_next(Lexer *lexer);
bool lexer_is(const Lexer *lexer, const char *mark_or_word);
bool lexer_takes(Lexer *lexer, const char *mark_or_word);
Place lexer_place(const Lexer *lexer, const Token *token);
/* Reports bad-formula at the token in front, once; always false. */
bool lexer_fail(Lexer *lexer, const char *what, const char *way_out);

/* Goes on to an id of an entry or a word, which may hold "-" and begin with a
 * digit: it becomes a WORD. Anything else is lexed as usual. */
void lexer_next_id(Lexer *lexer);
bool lexer_is_keyword(const Lexer *lexer); /* and, or, not, is */
/* Does another id of the same list stand behind the "or" in front? It does when
 * it is a whole operand: followed by the end, ")", ",", "or" or "and". */
bool lexer_list_goes_on(const Lexer *lexer);

#endif
