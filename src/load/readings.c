/* A file of readings: read, told from other files, filled. */
#include "load/readings.h"

#include "load/field.h"

#include "base/digest.h"

static bool is_readings(Run *run, const Node *root) {
  const Node *kind = root->kind == NODE_MAP ? node_find(root, "kind", NULL) : NULL;
  if (kind && kind->bad) return false;
  if (kind && kind->kind == NODE_SCALAR && text_is(kind->text, READINGS_KIND)) return true;
  Finding *finding =
      finding_add(run, RULE_WRONG_KIND, kind ? kind->at : root->at, "this is no file of readings");
  finding_way_out(run, finding,
                  "it begins with kind: readings; `sheaf readings BUILD FILE` writes one");
  return false;
}

/* Keys still to be filled in are as good as left out. */
static Node filled_in(Arena *arena, const Node *root) {
  Node out = {.kind = NODE_MAP, .at = root->at};
  for (size_t i = 0; i < root->pairs.n; i++)
    if (!reading_left_out(root->pairs.at[i].value)) vec_push(arena, &out.pairs, root->pairs.at[i]);
  return out;
}

/* Something stands there that could not be taken: that is reported. */
static bool is_bad(const Node *root, const char *key) {
  const Node *node = node_find(root, key, NULL);
  return node && !reading_left_out(node);
}

/* Whoever reads it later asks when and by whom. */
static void need_who(Run *run, const Readings *readings, const Node *root) {
  if (!readings->lines.n && !readings->fitted.n && !readings->checks.n) return;
  const char *missing = !readings->date.s ? "date" : !readings->technician.s ? "technician" : NULL;
  if (!missing || is_bad(root, missing)) return;
  Finding *finding = finding_add(run, RULE_MISSING_KEY, readings->at, "the readings do not say %s",
                                 readings->date.s ? "who took them" : "when they were taken");
  finding_way_out(run, finding,
                  readings->date.s ? "add technician: and a name" : "add date: YYYY-MM-DD");
}

Readings *load_readings(Run *run, const LoadSource *source, const char *path) {
  size_t size = 0, before = run->findings->list.n;
  const char *text = source->text(source->context, run, path, &size);
  if (!text) {
    if (run->findings->list.n == before) report_no_file(run, source, path);
    return NULL;
  }
  const Node *root = source->nodes(run, path, text, size);
  if (!root || !is_readings(run, root)) return NULL;
  Loader loader = {.run = run, .source = source};
  Readings *readings = ARENA_NEW(run->arena, Readings);
  Node filled = filled_in(run->arena, root);
  fill(&loader, &readings_shape, &filled, root->at, readings);
  need_who(run, readings, root);
  Digest *digest = digest_new(run->arena);
  digest_add(digest, text, size);
  readings->digest = digest_hex(digest);
  return readings;
}
