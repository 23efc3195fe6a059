/* Bytes of a file: nodes within their bounds, or a finding. */
#include "fuzz/fuzz.h"

#include "read/yaml.h"

#define DEPTH_MOST 64

/* Counts what is marked bad. */
static size_t walk(const Node *node, int depth) {
  PROMISE(depth <= DEPTH_MOST + 1, "%d levels", depth);
  size_t bad = node->bad;
  if (node->kind == NODE_SCALAR) {
    PROMISE(node->text != NULL, "a scalar without text");
    return bad;
  }
  for (size_t i = 0; i < node->items.n; i++) bad += walk(node->items.at[i], depth + 1);
  for (size_t i = 0; i < node->pairs.n; i++) bad += walk(node->pairs.at[i].value, depth + 1);
  return bad;
}

static void read_bytes(Run *run, const char *text, size_t size) {
  Node *root = read_yaml(run, "build.yaml", text, size);
  if (!root) {
    PROMISE(findings_unreadable(run->findings) || findings_refuse(run->findings),
            "nothing, and no finding");
    return;
  }
  size_t bad = walk(root, 1);
  PROMISE(bad == 0 || findings_refuse(run->findings), "%zu nodes are bad without a finding", bad);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  return fuzz_in_arena(read_bytes, data, size);
}
