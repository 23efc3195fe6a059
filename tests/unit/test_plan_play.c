/* Steps played through, against simulators that know nothing of the program's: one
 * opening, one leaf, one fastener at a time, over random work on a made-up twin. */
#include "unit/test.h"

#include "base/text.h"
#include "plan/plan_job.h"

#include <stdlib.h>

#define ROUNDS 500

static unsigned draw(unsigned *seed, unsigned below) {
  *seed = *seed * 1664525u + 1013904223u;
  return (*seed >> 16) % below;
}

static Place line_at(int line) {
  static const Source source = {.path = "work.yaml", .text = ""};
  return (Place){&source, line, 1, 1};
}

static Said said(const char *text) {
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

static bool always(const Job *job, Run *run, const Formula *when, const Instance *at) {
  (void)job, (void)run, (void)when, (void)at;
  return true;
}

static Bench *bench_new(unsigned *seed) {
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
static StepDecl *bench_step(Bench *bench) {
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

static void maybe(Bench *bench, SaidList *list, const char *word, unsigned one_in) {
  if (draw(bench->seed, one_in) == 0) vec_push(bench->run.arena, list, said(word));
}

/* ---- findings as counts by rule and line ---- */

typedef struct Tally {
  int at[RULE_COUNT][1000];
} Tally;

static void tally_found(const Run *run, Tally *tally) {
  for (size_t i = 0; i < run->findings->list.n; i++) {
    const Finding *finding = run->findings->list.at[i];
    tally->at[finding->rule][finding->at.line]++;
  }
}

/* presence: one finding or several are the same. */
static void compare(const Bench *bench, const Tally *expected, const Rule *rules, size_t n,
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

static bool has(const SaidList *list, const char *word) {
  for (size_t i = 0; i < list->n; i++)
    if (text_is(list->at[i].s, word)) return true;
  return false;
}

/* Leaves of the twin: 1 left, 2 right; the whole is both. */
static int leaves(const Instance *instance) {
  return instance->id == 0 ? 3 : instance->id;
}

/* ---- openings ---- */

/* One opening, and what was counted of it on either side: the same at one line is one. */
typedef struct Sides {
  bool act[1000][4][3], through[1000][3], run[1000], end[3];
} Sides;

static void count_once(bool *before, int *tally) {
  *tally += !*before;
  *before = true;
}

static int as_index(int state) {
  return state == 'o' ? 0 : state == 'c' ? 1 : 2;
}

static void play_opening(const Plan *plan, const OpeningDecl *decl, int leaf, Sides *sides,
                         Tally *tally) {
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
          count_once(&sides->run[step->at.line], &tally->at[RULE_RUN_EARLY][step->at.line]);
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
    play_opening(plan, &engine->openings.at[0], 1, &sides[0], expected);
    play_opening(plan, &engine->openings.at[0], 2, &sides[0], expected);
    play_opening(plan, &engine->openings.at[1], 0, &sides[1], expected);
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

/* ---- fasteners ---- */

/* What happened to one fastener, as letters: a to 9 N.m, F final, h by hand, u undone, a dot for
 * what did not concern it; S starts a step, R is a step that opens, C one that closes. The
 * sheet asks for "aF". */
static const char *happened(Arena *arena, const Plan *plan, const char *place) {
  Text text = text_new(arena);
  for (size_t i = 0; i < plan->steps.n; i++) {
    text_add(&text, "S");
    const SaidList *closes = &plan->steps.at[i]->decl->closes;
    const Passes *tighten = &plan->steps.at[i]->decl->tighten;
    if (plan->steps.at[i]->decl->opens.n > 0) text_add(&text, "R");
    for (size_t p = 0; p < tighten->n; p++) {
      const Pass *pass = &tighten->at[p];
      static const char *const letters[] = {
          [PASS_TO] = "a",   [PASS_HAND] = "h", [PASS_FINAL] = "F",
          [PASS_UNDO] = "u", [PASS_OWN] = "aF", [PASS_CHECK] = ""};
      bool final = pass->kind == PASS_TO && pass->amount.literal.nominal > 9;
      if (pass->only.n > 0 && !has(&pass->only, place))
        text_add(&text, pass->kind == PASS_OWN ? ".." : ".");
      else /* the final torque in numbers is the same pass */
        text_add(&text, final ? "F" : letters[pass->kind]);
    }
    if (closes->n > 0) text_add(&text, "C");
  }
  return text_done(&text);
}

typedef enum Event { NOTHING, WRONG, AGAIN } Event;
/* One fastener on its way. */
typedef struct Fate {
  char now[4];        /* "", "a", "aF" of what is asked; "h" before it */
  bool been, been_so; /* tight since it was last loose; the joint may be loose by an opening */
} Fate;

static Event go_on(Fate *fate, char letter) {
  size_t n = strlen(fate->now);
  bool by_hand = text_is(fate->now, "h"), from_start = text_is(fate->now, "a");
  Event event = NOTHING;
  if (letter == 'u') {
    *fate = (Fate){{0}, false, false};
  } else if (letter == 'h' && (n == 0 || by_hand)) {
    strcpy(fate->now, "h");
  } else if (letter == 'a' && (n == 0 || by_hand || n == 2)) {
    strcpy(fate->now, "a");
    fate->been_so = fate->been;
  } else if (letter == 'F' && (from_start || n == 2)) {
    if (from_start && fate->been && fate->been_so) event = AGAIN;
    strcpy(fate->now, "aF");
    fate->been = true;
  } else {
    event = WRONG;
    strcpy(fate->now, "aF");
    fate->been = true;
  }
  return event;
}

/* The first thing that goes wrong with the joint, and where; later ones follow from it. What is
 * tightened once more from the start is said once, and goes on. */
static void play_joint(Arena *arena, const Plan *plan, Tally *tally) {
  static const char *const turns[] = {"1", "3", "2"}; /* in the order of the sheet */
  const char *letters[3];
  Fate fates[3] = {{{0}, false, false}};
  bool used = false, again = false, closed_before = false;
  int step = -1, last = 0;
  for (int p = 0; p < 3; p++) letters[p] = happened(arena, plan, turns[p]);
  for (size_t i = 0; letters[0][i]; i++) {
    char all = letters[0][i];
    if (all == 'S') step++;
    const StepDecl *decl = plan->steps.at[step]->decl;
    if (all == 'S' && decl->tighten.n > 0) last = decl->at.line, used = true;
    if (all == 'R') { /* loose, if one that tightened it closed that before */
      closed_before = false;
      for (int s = 0; s < step; s++)
        closed_before = closed_before || (plan->steps.at[s]->decl->closes.n > 0 &&
                                          plan->steps.at[s]->decl->tighten.n > 0);
      for (int p = 0; closed_before && p < 3; p++) fates[p].been = fates[p].been_so = false;
    }
    for (int p = 0; p < 3; p++) {
      if (all == 'C' && *fates[p].now && !text_is(fates[p].now, "aF")) {
        tally->at[RULE_NOT_TIGHTENED][decl->at.line]++;
        return;
      }
      if (strchr("SRC.", letters[p][i])) continue;
      Event event = go_on(&fates[p], letters[p][i]);
      if (event == AGAIN && !again) tally->at[RULE_TIGHTENED_AGAIN][decl->at.line]++;
      again = again || event == AGAIN;
      if (event != WRONG) continue;
      tally->at[RULE_TIGHTENED_WRONG][decl->at.line]++;
      return;
    }
  }
  bool tight =
      text_is(fates[0].now, "aF") && text_is(fates[1].now, "aF") && text_is(fates[2].now, "aF");
  if (used && !tight) tally->at[RULE_NOT_TIGHTENED][last]++;
}

static Expr torque(double newton_metres) {
  Expr expr = {.kind = EXPR_LITERAL};
  expr.literal =
      (Literal){LITERAL_EXACT, newton_metres, newton_metres, newton_metres, unit_find("N.m"), 0,
                "torque",      false};
  return expr;
}

static JobJoint *add_joint(Bench *bench) {
  Arena *arena = bench->run.arena;
  JointDecl *decl = ARENA_NEW(arena, JointDecl);
  decl->name = "nuts";
  decl->at = line_at(800);
  Pass to = {.kind = PASS_TO, .amount = torque(9)}, final = {.kind = PASS_FINAL};
  vec_push(arena, &decl->passes, to);
  vec_push(arena, &decl->passes, final);
  JobJoint *joint = ARENA_NEW(arena, JobJoint);
  *joint = (JobJoint){.name = "nuts", .label = "Nuts", .instance = &bench->whole};
  joint->hardware = joint->bundle = decl;
  joint->hardware_entry = &bench->engine;
  joint->figures.torque = 18;
  joint->figures.torque_unit = unit_find("N.m");
  static const char *const order[] = {"1", "3", "2"};
  for (int i = 0; i < 3; i++) vec_push(arena, &joint->order, order[i]);
  vec_push(arena, &joint->place_names, "1");
  vec_push(arena, &joint->place_names, "2");
  vec_push(arena, &joint->place_names, "3");
  vec_push(arena, &bench->job.joints, joint);
  return joint;
}

static void random_tightening(Bench *bench, StepDecl *step) {
  static const PassKind kinds[] = {PASS_OWN,   PASS_TO,   PASS_FINAL, PASS_TO,
                                   PASS_FINAL, PASS_HAND, PASS_UNDO};
  static const char *const places[] = {"1", "2", "3"};
  for (unsigned i = draw(bench->seed, 4); i > 0; i--) {
    Pass pass = {.kind = kinds[draw(bench->seed, 7)], .joint = said("nuts")};
    if (pass.kind == PASS_TO) pass.amount = torque(9);
    if (pass.kind == PASS_FINAL && draw(bench->seed, 3) == 0)
      pass = (Pass){.kind = PASS_TO, .joint = pass.joint, .amount = torque(18)};
    unsigned only = draw(bench->seed, 5);
    for (unsigned p = 0; only == 0 && p < 3; p++) maybe(bench, &pass.only, places[p], 2);
    vec_push(bench->run.arena, &step->tighten, pass);
  }
}

static void fasteners_agree(void **state) {
  (void)state;
  unsigned seed = 5;
  static const Rule rules[] = {RULE_TIGHTENED_WRONG, RULE_NOT_TIGHTENED, RULE_TIGHTENED_AGAIN};
  size_t found = 0, fine = 0, again = 0;
  for (int round = 0; round < 4 * ROUNDS; round++) {
    Bench *bench = bench_new(&seed);
    OpeningDecl chest = {.name = "chest", .at = line_at(900)};
    vec_push(bench->run.arena, &bench->engine.is.engine.openings, chest);
    add_joint(bench);
    int steps = 1 + (int)draw(&seed, 4);
    for (int i = 0; i < steps; i++) {
      StepDecl *step = bench_step(bench);
      step->for_each.s = NULL;
      random_tightening(bench, step);
      maybe(bench, &step->closes, "chest", 4);
      maybe(bench, &step->opens, "chest", 6);
    }
    Plan *plan = plan_job(&bench->run, &bench->job);
    Tally *expected = calloc(1, sizeof *expected);
    assert_non_null(expected);
    play_joint(bench->run.arena, plan, expected);
    compare(bench, expected, rules, 3, false);
    size_t here =
        run_count(&bench->run, RULE_TIGHTENED_WRONG) + run_count(&bench->run, RULE_NOT_TIGHTENED);
    found += here;
    fine += here == 0;
    again += run_count(&bench->run, RULE_TIGHTENED_AGAIN);
    free(expected);
    run_free(&(Run){bench->run.arena, NULL});
  }
  assert_true(found > ROUNDS);
  assert_true(fine > ROUNDS / 2);
  assert_true(again > ROUNDS / 10);
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
      cmocka_unit_test(fasteners_agree),
      cmocka_unit_test(parts_agree),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
