/* A library in memory for the tests of loading. */
#ifndef SHEAF_TESTS_UNIT_SHELF_H
#define SHEAF_TESTS_UNIT_SHELF_H

#include "unit/test.h"

#include "base/text.h"
#include "load/load.h"
#include "read/yaml.h"

/* A library in memory: path, text, ...; ends with NULL. */
typedef struct Shelf {
  const char *const *files;
} Shelf;

static inline const char *shelf_text(void *context, Run *run, const char *path, size_t *size) {
  (void)run;
  const Shelf *shelf = context;
  for (const char *const *file = shelf->files; file[0]; file += 2) {
    if (!text_is(file[0], path)) continue;
    *size = strlen(file[1]);
    return file[1];
  }
  return NULL;
}

static inline void shelf_ids(void *context, Run *run, const char *folder, Words *out) {
  const Shelf *shelf = context;
  size_t length = strlen(folder);
  for (const char *const *file = shelf->files; file[0]; file += 2) {
    if (!text_starts(file[0], folder) || file[0][length] != '/') continue;
    const char *name = file[0] + length + 1;
    vec_push(run->arena, out, arena_text(run->arena, name, strlen(name) - strlen(".yaml")));
  }
}

static inline LoadSource source_of(Run *run, Shelf *shelf) {
  LoadSource source = {.context = shelf, .text = shelf_text, .nodes = read_yaml, .ids = shelf_ids};
  vec_push(run->arena, &source.libraries, "own");
  vec_push(run->arena, &source.libraries, "lib");
  return source;
}

static inline Library *load(Run *run, const char *const *files) {
  Shelf shelf = {files};
  LoadSource source = source_of(run, &shelf);
  return load_build(run, &source, "job.yaml");
}

#define ENGINE "lib/specs/engines/e.yaml", "kind: engine\nname: Engine\n"
#define SHOP   "lib/specs/shop/s.yaml", "kind: shop\nname: Shop\n"
#define HEAD   "kind: build\nname: Job\njob: J-1\ndate: 2026-11-20\nengine: e\nshop: s\n"
#define PART   "kind: part\nname: Part\nrole: piston\nsource: {maker: M, sheet: S 1}\n"

/* The part "p" of a build that chooses it. */
static inline PartEntry *load_part(Run *run, const char *text) {
  const char *const files[] = {
      "job.yaml", HEAD "parts: {piston: p}\n", ENGINE, SHOP, "lib/specs/parts/p.yaml", text, NULL};
  Library *library = load(run, files);
  assert_non_null(library);
  Entry *entry = library_find(library, ENTRY_PART, "p");
  return entry ? &entry->is.part : NULL;
}

static inline void print_findings(const Run *run) {
  for (size_t i = 0; i < run->findings->list.n; i++) {
    const Finding *finding = run->findings->list.at[i];
    print_error("%s:%d:%d: %s [%s] %s\n", finding->at.source ? finding->at.source->path : "",
                finding->at.line, finding->at.column, finding->text, rule_info(finding->rule)->slug,
                finding->way_out ? finding->way_out : "");
  }
}

static inline void expect_none(const Run *run) {
  print_findings(run);
  assert_int_equal(run->findings->list.n, 0);
}

#endif
