/* Wrong types and wrong words, and what was probably meant. */
#include "load/field.h"

#include "base/near.h"

#include <string.h>

#define FEW 12 /* words that are listed in full */

const char *with_article(Loader *loader, const char *noun) {
  bool vowel = strchr("aeiou", noun[0]) != NULL;
  return arena_printf(loader->run->arena, "%s %s", vowel ? "an" : "a", noun);
}

Words words_of(Loader *loader, const char *words) {
  Words out = {0};
  while (words && *words) {
    size_t length = strcspn(words, "|");
    vec_push(loader->run->arena, &out, arena_text(loader->run->arena, words, length));
    words += length + (words[length] == '|');
  }
  return out;
}

void say_near(Loader *loader, Finding *finding, const char *word, const Words *words) {
  const char *near = near_word(word, words);
  if (near) {
    finding_way_out(loader->run, finding, "did you mean \"%s\"?", near);
    return;
  }
  if (words->n == 0) return;
  Text list = text_new(loader->run->arena);
  size_t shown = words->n < FEW ? words->n : FEW;
  for (size_t i = 0; i < shown; i++) text_addf(&list, "%s%s", i > 0 ? ", " : "", words->at[i]);
  if (shown < words->n) text_addf(&list, " and %zu more", words->n - shown);
  finding_way_out(loader->run, finding, "there is %s", text_done(&list));
}

static const char *const kind_words[] = {
    [NODE_SCALAR] = "a single value", [NODE_LIST] = "a list", [NODE_MAP] = "key: value lines"};

/* "bore:84 mm": a word, a colon and no blank. */
static const char *tight_colon(const char *text) {
  if (!is_word_character(text[0]) || is_digit(text[0])) return NULL;
  while (is_word_character(*text)) text++;
  return text[0] == ':' && text[1] && text[1] != ' ' ? text : NULL;
}

/* A text was wanted and "Fit it: gap down" was written: answers the text. */
static const char *split_text(Arena *arena, const Node *map) {
  if (map->pairs.n != 1) return NULL;
  const Pair *pair = &map->pairs.at[0];
  const Node *value = pair->value;
  if (value->kind != NODE_SCALAR || value->bad || value->quoted) return NULL;
  if (pair->key_at.line != value->at.line) return NULL;
  return arena_printf(arena, "%s: %s", pair->key, value->text);
}

static void report_type(Loader *loader, const Node *node, const char *key, NodeKind wanted) {
  Run *run = loader->run;
  const char *whole =
      wanted == NODE_SCALAR && node->kind == NODE_MAP ? split_text(run->arena, node) : NULL;
  if (whole) {
    const Pair *pair = &node->pairs.at[0];
    Place at = pair->key_at;
    at.width = pair->value->at.column + pair->value->at.width - at.column;
    Finding *finding = finding_add(run, RULE_QUOTE_IT, at,
                                   "a colon with a blank behind it makes this a key with a value; "
                                   "\"%s\" holds text",
                                   key);
    const char *quote = strchr(whole, '"') ? "'" : "\"";
    finding_way_out(run, finding, "quote it: %s%s%s", quote, whole, quote);
    return;
  }
  Finding *finding = finding_add(run, RULE_WRONG_TYPE, node->at, "\"%s\" holds %s, not %s", key,
                                 kind_words[wanted], kind_words[node->kind]);
  const char *colon = node->kind == NODE_SCALAR ? tight_colon(node->text) : NULL;
  if (colon && wanted == NODE_MAP) {
    finding_way_out(run, finding, "put a blank after the colon: %.*s: %s",
                    (int)(colon - node->text), node->text, colon + 1);
  } else if (wanted == NODE_LIST) {
    finding_way_out(run, finding, "write [a, b], or one item a line behind \"- \"");
  } else if (wanted == NODE_MAP) {
    finding_way_out(run, finding, "write key: value lines, indented below \"%s\"", key);
  } else if (node->kind == NODE_LIST && node->items.n > 0 &&
             node->items.at[0]->kind == NODE_SCALAR && !node->items.at[0]->bad) {
    finding_way_out(run, finding, "write one, without [ ]: %s: %s", key, node->items.at[0]->text);
  }
}

bool need_scalar(Loader *loader, const Node *node, const char *key) {
  if (node->bad) return false;
  if (node->kind != NODE_SCALAR) {
    report_type(loader, node, key, NODE_SCALAR);
    return false;
  }
  if (node->text[0] != '\0') return true;
  finding_add(loader->run, RULE_EMPTY_VALUE, node->at, "the text of \"%s\" is empty", key);
  return false;
}

bool need_word(Loader *loader, const Node *node, const char *key) {
  if (!need_scalar(loader, node, key)) return false;
  if (node->one_line || node->quoted) return true;
  Finding *finding = finding_add(loader->run, RULE_WRONG_TYPE, node->at,
                                 "the value of \"%s\" runs on over the next line", key);
  const char *colon = tight_colon(node->text);
  if (colon) {
    finding_way_out(loader->run, finding,
                    "put a blank after the colon: %.*s:", (int)(colon - node->text), node->text);
  } else {
    finding_way_out(
        loader->run, finding,
        "keep it on one line; if the next line is a key, look at its colon and indentation");
  }
  return false;
}

bool need_list(Loader *loader, const Node *node, const char *key) {
  if (node->bad) return false;
  if (node->kind == NODE_LIST) return true;
  report_type(loader, node, key, NODE_LIST);
  return false;
}

bool need_map(Loader *loader, const Node *node, const char *key) {
  if (node->bad) return false;
  if (node->kind == NODE_MAP) return true;
  report_type(loader, node, key, NODE_MAP);
  return false;
}

const Node *need_item(Loader *loader, const Shape *shape, const Node *node, const char *key) {
  if (node->bad) return NULL;
  if (node->kind == NODE_MAP) return node;
  Arena *arena = loader->run->arena;
  const char *first = shape->fields[0].key;
  if (node->kind != NODE_SCALAR || node->quoted || tight_colon(node->text)) {
    report_type(loader, node, key, NODE_MAP);
    return NULL;
  }
  Finding *finding = finding_add(loader->run, RULE_WRONG_TYPE, node->at,
                                 "%s under \"%s\" says by a key what it is",
                                 with_article(loader, shape->what), key);
  finding_way_out(loader->run, finding, "write {%s: %s}", first, node->text);
  Node *map = ARENA_NEW(arena, Node), *value = arena_copy(arena, node, sizeof *node);
  *map = (Node){.kind = NODE_MAP, .at = node->at};
  vec_push(arena, &map->pairs, ((Pair){first, node->at, value}));
  return map;
}
