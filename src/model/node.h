/* A YAML file as nodes, each with its place. What read hands to load. */
#ifndef SHEAF_MODEL_NODE_H
#define SHEAF_MODEL_NODE_H
/* Records are laid out as tables, a meaning beside each member. */
/* clang-format off */

#include "base/vec.h"
#include "diag/source.h"

#include <stdbool.h>

typedef enum NodeKind { NODE_SCALAR, NODE_LIST, NODE_MAP } NodeKind;

typedef struct Node Node;
typedef struct Pair {
  const char *key;
  Place key_at;
  Node *value;
} Pair;

struct Node {
  NodeKind kind;
  Place at;           /* a scalar's first character (inside the quotes); a map's first key, a list's
                       * first item or, in one of brackets, its [ */
  const char *text;   /* SCALAR */
  bool quoted;        /* SCALAR in quotes or a block scalar */
  bool one_line;      /* SCALAR whose columns count on from at */
  bool told;          /* text that was meant, of a trap already reported: no number is looked for */
  bool bad;           /* already reported: load passes over it in silence */
  VEC(Node *) items;  /* LIST */
  VEC(Pair) pairs;    /* MAP, in the order written, keys unique */
};

/* The value under key, or NULL. */
static inline Node *node_find(const Node *map, const char *key, Place *key_at) {
  for (size_t i = 0; i < map->pairs.n; i++) {
    const Pair *pair = &map->pairs.at[i];
    const char *a = pair->key, *b = key;
    while (*a && *a == *b) a++, b++;
    if (*a == *b) {
      if (key_at) *key_at = pair->key_at;
      return pair->value;
    }
  }
  return 0;
}

#endif
