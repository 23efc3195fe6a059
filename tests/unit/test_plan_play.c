/* Steps played through, against simulators that know nothing of the program's: one
 * opening, one leaf, one fastener at a time, over random work on a made-up twin. */
#include "unit/plan_play.h"

/* ---- openings ---- */

/* One opening, and what was counted of it on either side: the same at one line is one. */
typedef struct Sides {
  bool act[1000][4][3], through[1000][3], end[3];
} Sides;

static void count_once(bool *before, int *tally) {
  *tally += !*before;
  *before = true;
}

static int as_index(int state) {
  return state == 'o' ? 0 : state == 'c' ? 1 : 2;
}

/* run: the steps that were told to run the engine with this or another opening open. */
static void play_opening(const Plan *plan, const OpeningDecl *decl, int leaf, Sides *sides,
                         bool *run, Tally *tally) {
  int state = decl->starts.s ? decl->starts.s[0] : 'c'; /* o, c for closed, p for covered */
  if (text_is(decl->starts.s, "covered")) state = 'p';
  bool quiet = false;
  int line = decl->at.line;
  for (size_t i = 0; i < plan->steps.n; i++) {
    const StepDecl *step = plan->steps.at[i]->decl;
    if (leaf && !(leaves(plan->steps.at[i]->instance) & leaf)) continue;
    const SaidList *acts[4] = {&step->opens, &step->uncovers, &step->covers, &step->closes};
    for (int act = 0; act < 4; act++) {
      if (act == 2) {
        if (has(&step->through, decl->name) && state != 'o') {
          count_once(&sides->through[step->at.line][as_index(state)],
                     &tally->at[RULE_MEASURED_CLOSED][step->at.line]);
          quiet = true;
        }
        /* counted in and out where the step works in it */
        bool counted = step->count.s && (step->through.n == 0 || has(&step->through, decl->name));
        if (step->handles.n > 0 && state == 'o' && !counted) {
          tally->at[RULE_OPEN_OVER][step->at.line]++;
          quiet = true;
        }
        if (has(&step->makes, "running") && state != 'c' && !quiet &&
            !has(&step->through, decl->name)) {
          count_once(&run[step->at.line], &tally->at[RULE_RUN_EARLY][step->at.line]);
          quiet = true;
        }
      }
      if (!has(acts[act], decl->name)) continue;
      if (state != "cpoo"[act] && !quiet) {
        count_once(&sides->act[step->at.line][act][as_index(state)],
                   &tally->at[RULE_OPENING_STATE][step->at.line]);
        quiet = true;
      }
      state = "oopc"[act];
      line = step->at.line;
    }
  }
  if (state != 'c' && !quiet)
    count_once(&sides->end[as_index(state)], &tally->at[RULE_LEFT_OPEN][line]);
}

static void openings_agree(void **state) {
  (void)state;
  unsigned seed = 7;
  static const char *const starts[] = {NULL, "open", "covered", "closed"};
  static const Rule rules[] = {RULE_OPENING_STATE, RULE_MEASURED_CLOSED, RULE_OPEN_OVER,
                               RULE_LEFT_OPEN, RULE_RUN_EARLY};
  size_t found = 0;
  for (int round = 0; round < ROUNDS; round++) {
    Bench *bench = bench_new(&seed);
    EngineEntry *engine = &bench->engine.is.engine;
    for (int i = 0; i < 2; i++) {
      OpeningDecl decl = {.name = i ? "chest" : "mouth", .at = line_at(900 + i)};
      if (i == 0) decl.per = said("cylinder");
      decl.starts.s = starts[draw(&seed, 4)];
      vec_push(bench->run.arena, &decl.swallows, said(i ? "all" : "clip"));
      vec_push(bench->run.arena, &engine->openings, decl);
    }
    int steps = 3 + (int)draw(&seed, 8);
    for (int i = 0; i < steps; i++) {
      StepDecl *step = bench_step(bench);
      for (int o = 0; o < 2; o++) {
        const char *name = o ? "chest" : "mouth";
        maybe(bench, &step->opens, name, 5);
        maybe(bench, &step->uncovers, name, 7);
        maybe(bench, &step->through, name, 9);
        maybe(bench, &step->covers, name, 7);
        maybe(bench, &step->closes, name, 5);
      }
      maybe(bench, &step->handles, "clip", 8);
      if (!step->for_each.s) maybe(bench, &step->makes, "running", 8);
      if (draw(&seed, 3) == 0) step->count = said("in and out");
    }
    Plan *plan = plan_job(&bench->run, &bench->job);
    Tally *expected = calloc(1, sizeof *expected);
    assert_non_null(expected);
    Sides *sides = calloc(2, sizeof *sides);
    assert_non_null(sides);
    bool run[1000] = {false};
    play_opening(plan, &engine->openings.at[0], 1, &sides[0], run, expected);
    play_opening(plan, &engine->openings.at[0], 2, &sides[0], run, expected);
    play_opening(plan, &engine->openings.at[1], 0, &sides[1], run, expected);
    free(sides);
    compare(bench, expected, rules, 5, false);
    found += bench->run.findings->list.n;
    free(expected);
    run_free(&(Run){bench->run.arena, NULL});
  }
  assert_true(found > ROUNDS);
}

/* ---- states ---- */

static const char *const words[] = {"clean face", "tdc", "pumped", "locked", "dry face"};

static bool is_made(const Plan *plan, const char *word) {
  for (size_t i = 0; i < plan->steps.n; i++)
    if (has(&plan->steps.at[i]->decl->makes, word)) return true;
  return false;
}

static void play_states(const Plan *plan, Tally *tally) {
  int made[5] = {0};
  int last[5][3] = {{0}};        /* the step that made it last, from 1, for left and right */
  bool told[5][100] = {{false}}; /* lacking since that one */
  for (size_t i = 0; i < plan->steps.n; i++) {
    const StepDecl *step = plan->steps.at[i]->decl;
    int here = leaves(plan->steps.at[i]->instance);
    for (int w = 0; w < 5; w++) {
      int left = here & 1 ? last[w][1] : 0, right = here & 2 ? last[w][2] : 0;
      bool *before = &told[w][left > right ? left : right];
      if (!has(&step->needs, words[w]) || (made[w] & here) == here || *before) continue;
      tally->at[RULE_STATE_MISSING][step->at.line]++;
      *before = true;
    }
    for (int w = 0; w < 5; w++) {
      if (has(&step->ends, words[w]) && !is_made(plan, words[w]) && w != 1 && w != 2 && w != 3)
        tally->at[RULE_STATE_MISSING][1]++; /* where it is said */
      if (has(&step->ends, words[w])) made[w] &= ~here;
    }
    /* a dead centre at which it does not stand is turned to */
    bool to = has(&step->makes, "tdc") && (made[1] & here) != here;
    if (step->turns.kind != EXPR_NONE || to) {
      if (made[2] || made[3]) tally->at[RULE_STATE_MISSING][step->at.line]++;
      made[1] = made[2] = made[3] = 0;
    }
    if (has(&step->makes, "oiled face")) made[0] &= ~here, made[4] &= ~here;
    for (int w = 0; w < 5; w++) {
      if (!has(&step->makes, words[w])) continue;
      made[w] = w == 1 ? here : made[w] | here;
      for (int leaf = 1; leaf < 3; leaf++)
        if (here & leaf) last[w][leaf] = (int)i + 1;
    }
  }
  tally->at[RULE_LEFT_IN][0] = (made[2] != 0) + (made[3] != 0);
}

static void states_agree(void **state) {
  (void)state;
  unsigned seed = 11;
  static const Rule rules[] = {RULE_STATE_MISSING};
  size_t found = 0;
  for (int round = 0; round < ROUNDS; round++) {
    Bench *bench = bench_new(&seed);
    int steps = 3 + (int)draw(&seed, 10);
    for (int i = 0; i < steps; i++) {
      StepDecl *step = bench_step(bench);
      maybe(bench, &step->makes, "oiled face", 8);
      for (int w = 0; w < 5; w++) {
        maybe(bench, &step->needs, words[w], 6);
        maybe(bench, &step->makes, words[w], 4);
        maybe(bench, &step->ends, words[w], 6);
      }
      if (draw(&seed, 4) == 0) step->turns.kind = EXPR_LITERAL;
    }
    Plan *plan = plan_job(&bench->run, &bench->job);
    Tally *expected = calloc(1, sizeof *expected);
    assert_non_null(expected);
    play_states(plan, expected);
    compare(bench, expected, rules, 1, true);
    assert_int_equal(run_count(&bench->run, RULE_LEFT_IN), expected->at[RULE_LEFT_IN][0]);
    found += bench->run.findings->list.n;
    free(expected);
    run_free(&(Run){bench->run.arena, NULL});
  }
  assert_true(found > ROUNDS);
}

/* ---- parts ---- */

static void play_parts(const Plan *plan, Tally *tally) {
  static const char *const roles[] = {"case", "piston", "head"};
  int seats[3][3] = {{0}}; /* by role and leaf; 0 as found, 1 fitted, 2 on trial, 3 off */
  int since[3][3] = {{0}}; /* the written step that made it so */
  /* the same of several members is one: by role, its step, what it was, and since which step */
  bool told[3][16][4][16] = {{{{false}}}};
  bool worked[3] = {false}, used[3] = {false}, spoiled = false;
  for (size_t i = 0; i < plan->steps.n; i++) {
    const StepDecl *step = plan->steps.at[i]->decl;
    int here = step->at.line - 100;
    bool head_was_on = seats[2][0] == 1 || seats[2][0] == 2;
    spoiled = false;
    for (int r = 0; r < 3; r++) {
      for (int leaf = r == 1 ? 1 : 0; leaf < (r == 1 ? 3 : 1); leaf++) {
        if (leaf && !(leaves(plan->steps.at[i]->instance) & leaf)) continue;
        int *seat = &seats[r][leaf];
        if (has(&step->removes, roles[r])) {
          if (*seat == 3)
            count_once(&told[r][here][3][since[r][leaf]],
                       &tally->at[RULE_FITTED_TWICE][step->at.line]);
          *seat = 3;
          since[r][leaf] = here;
        }
        const SaidList *on[3] = {&step->old, &step->trial, &step->fits};
        for (int way = 0; way < 3; way++) {
          if (!has(on[way], roles[r]) || (way < 2 && *seat == 1)) continue;
          bool was_on = *seat == 1 || *seat == 2;
          if (way == 2 && was_on)
            count_once(&told[r][here][*seat][since[r][leaf]],
                       &tally->at[RULE_FITTED_TWICE][step->at.line]);
          *seat = way == 2 ? 1 : 2;
          since[r][leaf] = here;
          if (r != 1 || way == 0 || was_on) continue;
          if (used[leaf] && !has(&step->another, roles[r])) spoiled = true;
          used[leaf] = true;
        }
      }
      worked[r] = worked[r] || has(&step->fits, roles[r]) || has(&step->trial, roles[r]) ||
                  has(&step->removes, roles[r]) || has(&step->old, roles[r]);
    }
    /* the head stands in front of the pistons; it comes off first and goes on last */
    bool blocked = head_was_on && !has(&step->removes, "head") &&
                   (has(&step->fits, "piston") || has(&step->trial, "piston") ||
                    has(&step->old, "piston") || has(&step->removes, "piston"));
    if (blocked) tally->at[RULE_OUT_OF_REACH][step->at.line]++;
    if (spoiled) tally->at[RULE_USED_UP][step->at.line]++;
  }
  for (int r = 0; r < 3; r++) {
    bool done = r == 1 ? seats[r][1] == 1 && seats[r][2] == 1 : seats[r][0] == 1;
    /* the piston is chosen; with the case in hand nothing is in place yet */
    if (!done && (r == 1 || worked[r] || worked[0])) tally->at[RULE_NOT_FITTED][0]++;
  }
}

static void parts_agree(void **state) {
  (void)state;
  unsigned seed = 3;
  static const char *const names[] = {"case", "piston", "head"};
  static const Rule rules[] = {RULE_FITTED_TWICE, RULE_USED_UP, RULE_OUT_OF_REACH};
  size_t found = 0;
  for (int round = 0; round < ROUNDS; round++) {
    Bench *bench = bench_new(&seed);
    bench->own = (Entry){.kind = ENTRY_PART, .id = "own"};
    bench->chosen = (Entry){.kind = ENTRY_PART, .id = "chosen"};
    bench->chosen.is.part.fit = said("new");
    for (int r = 0; r < 3; r++) {
      RoleDecl *decl = ARENA_NEW(bench->run.arena, RoleDecl);
      decl->name = names[r];
      decl->at = line_at(700 + r);
      decl->part.entry = &bench->own;
      if (r == 2) vec_push(bench->run.arena, &decl->in_front_of, said("piston"));
      Role *role = ARENA_NEW(bench->run.arena, Role);
      *role = (Role){.name = names[r], .label = names[r], .decl = decl, .part = &bench->own};
      if (r == 1) role->per = &bench->cylinder, role->part = &bench->chosen;
      vec_push(bench->run.arena, &bench->job.roles, role);
    }
    int steps = 1 + (int)draw(&seed, 7);
    for (int i = 0; i < steps; i++) {
      StepDecl *step = bench_step(bench);
      for (int r = 0; r < 3; r++) {
        maybe(bench, &step->fits, names[r], 4);
        maybe(bench, &step->trial, names[r], 7);
        maybe(bench, &step->removes, names[r], 6);
        maybe(bench, &step->old, names[r], 9);
        maybe(bench, &step->another, names[r], 9);
      }
    }
    Plan *plan = plan_job(&bench->run, &bench->job);
    Tally *expected = calloc(1, sizeof *expected);
    assert_non_null(expected);
    play_parts(plan, expected);
    compare(bench, expected, rules, 1, false);
    compare(bench, expected, rules + 1, 2, true);
    assert_int_equal(run_count(&bench->run, RULE_NOT_FITTED), expected->at[RULE_NOT_FITTED][0]);
    found += bench->run.findings->list.n;
    free(expected);
    run_free(&(Run){bench->run.arena, NULL});
  }
  assert_true(found > ROUNDS);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(openings_agree),
      cmocka_unit_test(states_agree),
      cmocka_unit_test(parts_agree),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
