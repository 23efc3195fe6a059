/* What the simulators share: small random plans, and findings counted by rule and line. They are
 * written without a look at src/plan, so that both have to be wrong alike to agree. */
#ifndef SHEAF_TESTS_UNIT_PLAN_PLAY_H
#define SHEAF_TESTS_UNIT_PLAN_PLAY_H

#include "unit/test.h"

#include "base/text.h"
#include "plan/plan_job.h"

#include <stdlib.h>

#define ROUNDS 500

static inline unsigned draw(unsigned *seed, unsigned below) {
  *seed = *seed * 1664525u + 1013904223u;
  return (*seed >> 16) % below;
}

static inline Place line_at(int line) {
  static const Source source = {.path = "work.yaml", .text = ""};
  return (Place){&source, line, 1, 1};
}

static inline Said said(const char *text) {
  return (Said){text, line_at(1)};
}

/* A twin without a number in it: two cylinders, and the work of one block. */
typedef struct Bench {
  Run run;
  unsigned *seed;
  Job job;
  Library library;
  Entry build, engine, procedure, chosen, own;
  BuildEntry *build_is;
  BlockDecl block;
  Set cylinder;
  Instance whole, left, right;
} Bench;

static inline bool always(const Job *job, Run *run, const Formula *when, const Instance *at) {
  (void)job, (void)run, (void)when, (void)at;
  return true;
}

static inline Bench *bench_new(unsigned *seed) {
  Run run = run_new();
  Bench *bench = ARENA_NEW(run.arena, Bench);
  bench->run = run;
  bench->seed = seed;
  bench->cylinder = (Set){.name = "cylinder", .label = "cylinder"};
  bench->whole = (Instance){.id = 0, .path = "", .member = "", .label = ""};
  bench->left = (Instance){1, &bench->cylinder, &bench->whole, "left", "left", "left cylinder"};
  bench->right = (Instance){2, &bench->cylinder, &bench->whole, "right", "right", "right cylinder"};
  Job *job = &bench->job;
  vec_push(run.arena, &job->sets, &bench->cylinder);
  vec_push(run.arena, &job->instances, &bench->whole);
  vec_push(run.arena, &job->instances, &bench->left);
  vec_push(run.arena, &job->instances, &bench->right);
  bench->build.id = "build";
  bench->engine.id = "twin";
  bench->procedure = (Entry){.kind = ENTRY_PROCEDURE, .id = "work"};
  bench->block = (BlockDecl){.id = said("block"), .at = line_at(1)};
  vec_push(run.arena, &bench->procedure.is.procedure.blocks, &bench->block);
  Ref procedure = {"work", line_at(1), &bench->procedure};
  vec_push(run.arena, &bench->build.is.build.procedures, procedure);
  job->library = &bench->library;
  job->build = &bench->build.is.build;
  job->build_entry = &bench->build;
  job->engine = &bench->engine.is.engine;
  job->engine_entry = &bench->engine;
  job->graph = graph_new(run.arena);
  job->when = always;
  return bench;
}

/* A step of its own line, for the whole engine or for each cylinder. */
static inline StepDecl *bench_step(Bench *bench) {
  Arena *arena = bench->run.arena;
  StepDecl *step = ARENA_NEW(arena, StepDecl);
  int line = 100 + (int)bench->block.steps.n;
  step->id = said(arena_printf(arena, "s%d", line));
  step->at = line_at(line);
  step->text = said("Do it.");
  if (draw(bench->seed, 2)) step->for_each = said("cylinder");
  vec_push(arena, &bench->block.steps, step);
  return step;
}

static inline void maybe(Bench *bench, SaidList *list, const char *word, unsigned one_in) {
  if (draw(bench->seed, one_in) == 0) vec_push(bench->run.arena, list, said(word));
}

/* ---- findings as counts by rule and line ---- */

typedef struct Tally {
  int at[RULE_COUNT][1000];
} Tally;

static inline void tally_found(const Run *run, Tally *tally) {
  for (size_t i = 0; i < run->findings->list.n; i++) {
    const Finding *finding = run->findings->list.at[i];
    tally->at[finding->rule][finding->at.line]++;
  }
}

/* presence: one finding or several are the same. */
static inline void compare(const Bench *bench, const Tally *expected, const Rule *rules, size_t n,
                           bool presence) {
  Tally *found = calloc(1, sizeof *found);
  assert_non_null(found);
  tally_found(&bench->run, found);
  for (size_t r = 0; r < n; r++) {
    for (int line = 0; line < 1000; line++) {
      int a = found->at[rules[r]][line], b = expected->at[rules[r]][line];
      if (presence) a = a > 0, b = b > 0;
      if (a != b)
        print_error("%s at line %d: found %d, expected %d\n", rule_info(rules[r])->slug, line, a,
                    b);
      assert_int_equal(a, b);
    }
  }
  free(found);
}

static inline bool has(const SaidList *list, const char *word) {
  for (size_t i = 0; i < list->n; i++)
    if (text_is(list->at[i].s, word)) return true;
  return false;
}

/* Leaves of the twin: 1 left, 2 right; the whole is both. */
static inline int leaves(const Instance *instance) {
  return instance->id == 0 ? 3 : instance->id;
}

#endif
