#include "value/range_memo.h"

#include <string.h>

#define MOST_KEPT  256
#define MOST_NODES 500 /* of a plan; longer ones are never alike */

/* One that was found; by_leaf names the inputs by their index. */
typedef struct Kept {
  RangeKey key;
  Range range;
} Kept;

struct RangeMemo {
  VEC(uint64_t) words; /* of the key that is being made */
  VEC(Kept) kept;
};

static uint64_t bits_of(double number) {
  uint64_t bits;
  memcpy(&bits, &number, sizeof bits);
  return bits;
}

static void add_word(const Graph *graph, uint64_t word) {
  vec_push(graph->arena, &graph->memo->words, word);
}

static void add_numbers(const Graph *graph, const double *numbers, size_t n) {
  for (size_t i = 0; i < n; i++) add_word(graph, bits_of(numbers[i]));
}

/* Arguments by their place in the order, so that names and ids do not count. */
static void add_node(const Graph *graph, const Scratch *scratch, NodeId id) {
  const GraphNode *node = &graph->nodes.at[id];
  bool pinned = scratch->pinned[id];
  uint32_t args = pinned ? 0 : node->args;
  add_word(graph, (uint64_t)node->op | (uint64_t)node->origin << 8 | (uint64_t)pinned << 16 |
                      (uint64_t)node->has_reading << 17 | (uint64_t)node->defined << 18 |
                      (uint64_t)node->dim.truth << 19 | (uint64_t)args << 32);
  if (pinned) add_word(graph, bits_of(scratch->pin[id]));
  if (node->op == OP_CALL) add_word(graph, (uint64_t)node->function->id);
  if (node->op == OP_LEAF || node->op == OP_CONSTANT || node->op == OP_VALUE)
    add_numbers(graph, (double[]){node->si, node->low, node->high, node->below, node->above}, 5);
  for (uint32_t i = 0; i < args; i++) add_word(graph, scratch->depends[node->arg[i]]);
}

RangeKey range_key(const Graph *graph, Scratch *scratch) {
  RangeKey key = {0};
  if (scratch->order_n > MOST_NODES) return key;
  graph->memo->words.n = 0;
  for (size_t i = 0; i < scratch->order_n; i++) scratch->depends[scratch->order[i]] = i;
  for (size_t i = 0; i < scratch->order_n; i++) add_node(graph, scratch, scratch->order[i]);
  key.words = graph->memo->words.at;
  key.n = graph->memo->words.n;
  for (size_t i = 0; i < key.n; i++) key.hash = (key.hash ^ key.words[i]) * 0x9E3779B97F4A7C15u;
  return key;
}

bool range_recall(const Graph *graph, Arena *arena, const RangeKey *key, const Sweep *sweep,
                  Range *range) {
  const struct RangeMemo *memo = graph->memo;
  for (size_t i = 0; i < memo->kept.n && key->words; i++) {
    const Kept *kept = &memo->kept.at[i];
    if (kept->key.hash != key->hash || kept->key.n != key->n) continue;
    if (memcmp(kept->key.words, key->words, key->n * sizeof *key->words) != 0) continue;
    *range = kept->range;
    range->by_leaf.at = NULL;
    range->by_leaf.n = range->by_leaf.room = 0;
    for (size_t k = 0; k < kept->range.by_leaf.n; k++) {
      Contribution one = kept->range.by_leaf.at[k];
      one.leaf = sweep->inputs.at[one.leaf].id;
      vec_push(arena, &range->by_leaf, one);
    }
    return true;
  }
  return false;
}

static NodeId index_of(const Sweep *sweep, NodeId leaf) {
  NodeId index = 0;
  while (sweep->inputs.at[index].id != leaf) index++;
  return index;
}

void range_keep(const Graph *graph, const RangeKey *key, const Sweep *sweep, const Range *range) {
  struct RangeMemo *memo = graph->memo;
  if (!key->words || memo->kept.n == MOST_KEPT) return;
  Kept kept = {*key, *range};
  kept.key.words = arena_copy(graph->arena, key->words, key->n * sizeof *key->words);
  size_t n = range->by_leaf.n;
  kept.range.by_leaf.at = arena_copy(graph->arena, range->by_leaf.at, n * sizeof(Contribution));
  for (size_t i = 0; i < n; i++)
    kept.range.by_leaf.at[i].leaf = index_of(sweep, range->by_leaf.at[i].leaf);
  vec_push(graph->arena, &memo->kept, kept);
}

struct RangeMemo *range_memo_new(Arena *arena) {
  return ARENA_NEW(arena, struct RangeMemo);
}
