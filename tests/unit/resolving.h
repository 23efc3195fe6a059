/* A small library in memory, loaded and resolved: what the tests of resolve share. */
#ifndef SHEAF_TESTS_UNIT_RESOLVING_H
#define SHEAF_TESTS_UNIT_RESOLVING_H

#include "unit/test.h"

#include "base/text.h"
#include "diag/render.h"
#include "load/load.h"
#include "read/yaml.h"
#include "resolve/resolve.h"

#include <stdio.h>

/* A file of the library; the last of one path wins. */
typedef struct Shelf {
  const char *path, *text;
} Shelf;

typedef struct Shelves {
  const Shelf *base, *more;
  size_t base_n, more_n;
} Shelves;

static const char *shelf_text(void *context, Run *run, const char *path, size_t *size) {
  const Shelves *shelves = context;
  const char *text = NULL;
  (void)run;
  for (size_t i = 0; i < shelves->base_n; i++)
    if (text_is(shelves->base[i].path, path)) text = shelves->base[i].text;
  for (size_t i = 0; i < shelves->more_n; i++)
    if (text_is(shelves->more[i].path, path)) text = shelves->more[i].text;
  if (text) *size = strlen(text);
  return text;
}

static void shelf_ids(void *context, Run *run, const char *folder, Words *out) {
  (void)context, (void)run, (void)folder, (void)out;
}

static inline Job *shelves_resolve(Run *run, Shelves shelves) {
  LoadSource source = {
      .context = &shelves, .text = shelf_text, .nodes = read_yaml, .ids = shelf_ids};
  vec_push(run->arena, &source.libraries, "lib");
  Library *library = load_build(run, &source, "build.yaml");
  Job *job = library ? resolve_job(run, library) : NULL;
  findings_sort(run->findings);
  return job;
}

static inline void findings_show(const Run *run) {
  Text text = text_new(run->arena);
  render_findings(&text, run->findings, 0);
  print_error("%s", text_done(&text));
}

/* Fails, and shows what was found, unless that many findings of the rule are there. */
#define assert_found(run, rule, count)                                                             \
  do {                                                                                             \
    if (run_count((run), (rule)) != (count)) findings_show(run);                                   \
    assert_int_equal(run_count((run), (rule)), (count));                                           \
  } while (0)

/* Refusals only; concerns do not count. */
#define assert_no_refusal(run)                                                                     \
  do {                                                                                             \
    if (findings_refuse((run)->findings)) findings_show(run);                                      \
    assert_false(findings_refuse((run)->findings));                                                \
  } while (0)

static inline const Finding *finding_of(const Run *run, Rule rule) {
  for (size_t i = 0; i < run->findings->list.n; i++)
    if (run->findings->list.at[i]->rule == rule) return run->findings->list.at[i];
  fail_msg("no finding of that rule");
  return NULL;
}

#define assert_says(text, part)                                                                    \
  do {                                                                                             \
    if (!(text) || !strstr((text), (part)))                                                        \
      print_error("\"%s\" does not say \"%s\"\n", (text) ? (text) : "(nothing)", (part));          \
    assert_true((text) && strstr((text), (part)));                                                 \
  } while (0)

#endif
