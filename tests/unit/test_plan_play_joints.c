/* Random tightening in orders that make sense or not, against a simulator of its own. */
#include "unit/plan_play.h"

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
  expr.literal = (Literal){.shape = LITERAL_EXACT,
                           .nominal = newton_metres,
                           .low = newton_metres,
                           .high = newton_metres,
                           .unit = unit_find("N.m"),
                           .text = "torque"};
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

int main(void) {
  const struct CMUnitTest tests[] = {cmocka_unit_test(fasteners_agree)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
