/* The modules' blocks and steps, written out for every member. */
#include "plan/work.h"

typedef struct Expander {
  Planner *planner;
  int module;
  const Entry *procedure;
  bool full; /* the bound was reached and said */
} Expander;

/* false: no such set or role, reported. set NULL: nothing is said, the whole engine. */
static bool need_set(Expander *expander, const Said *said, const Set **set) {
  *set = NULL;
  if (!said->s) return true;
  if (job_set_of(expander->planner->job, said->s, set)) return true;
  Words names = job_set_names(expander->planner->arena, expander->planner->job);
  tell_unknown(expander->planner, expander->procedure, said, "set", &names);
  return false;
}

static bool holds(const Expander *expander, const Formula *when, const Instance *at) {
  if (!when) return true;
  return expander->planner->job->when(expander->planner->job, expander->planner->run, when, at);
}

static void add_draft(Expander *expander, BlockRun *run, const StepDecl *decl,
                      const Instance *instance) {
  Planner *planner = expander->planner;
  if (expander->full) return;
  if (planner->drafts.n == MOST_STEPS) {
    expander->full = true;
    finding_add(planner->run, RULE_TOO_BIG, decl->at, "the work has more than %d steps",
                MOST_STEPS);
    return;
  }
  bool dropped = run->dropped || !holds(expander, decl->when, instance);
  Draft draft = {
      expander->module, expander->procedure, run->decl, run, decl, instance, dropped, NULL};
  vec_push(planner->arena, &planner->drafts, draft);
}

/* A step for its member of the block, or for all members below it. */
static void add_step(Expander *expander, BlockRun *run, const StepDecl *decl) {
  const Set *set = NULL;
  if (!need_set(expander, &decl->for_each, &set)) return;
  if (!set || set == run->instance->set) {
    add_draft(expander, run, decl, run->instance);
    return;
  }
  Name plain = {.base = set->name};
  InstanceList below = {0};
  pick_instances(expander->planner, &plain, set, run->instance, &below);
  if (below.n == 0 || below.at[0]->id < run->instance->id) {
    Finding *finding =
        finding_add(expander->planner->run, RULE_BAD_WORD, decl->for_each.at,
                    "'%s' is not within '%s', which the block goes through", set->name,
                    run->instance->set ? run->instance->set->name : "the engine");
    finding_way_out(expander->planner->run, finding,
                    "put the step into a block of its own, or name a set within '%s'",
                    run->instance->set ? run->instance->set->name : "the engine");
    return;
  }
  for (size_t i = 0; i < below.n; i++) add_draft(expander, run, decl, below.at[i]);
}

static void add_block(Expander *expander, const BlockDecl *decl) {
  Planner *planner = expander->planner;
  const Set *set = NULL;
  if (!need_set(expander, &decl->for_each, &set)) return;
  const InstanceList *members = members_of(planner, set);
  size_t first = planner->runs.n;
  for (size_t i = 0; i < members->n; i++) {
    BlockRun *run = ARENA_NEW(planner->arena, BlockRun);
    run->module = expander->module;
    run->procedure = expander->procedure;
    run->decl = decl;
    run->instance = members->at[i];
    run->dropped = !holds(expander, decl->when, run->instance);
    vec_push(planner->arena, &planner->runs, run);
  }
  BlockRun **runs = planner->runs.at;
  size_t end = planner->runs.n;
  if (text_is(decl->by.s, "step")) {
    for (size_t s = 0; s < decl->steps.n; s++) {
      for (size_t i = first; i < end; i++) add_step(expander, runs[i], decl->steps.at[s]);
    }
  } else {
    for (size_t i = first; i < end; i++) {
      for (size_t s = 0; s < decl->steps.n; s++) add_step(expander, runs[i], decl->steps.at[s]);
    }
  }
}

static void need_all(Expander *expander, const SaidList *needs, const char *kind,
                     const Words *names) {
  for (size_t i = 0; i < needs->n; i++) {
    if (!text_has(names, needs->at[i].s))
      tell_unknown(expander->planner, expander->procedure, &needs->at[i], kind, names);
  }
}

/* What the module as a whole asks of the engine; its steps then do not say it again. */
static void check_needs(Expander *expander) {
  Planner *planner = expander->planner;
  const ProcedureEntry *procedure = &expander->procedure->is.procedure;
  Words openings = {0};
  Words sets = job_set_names(planner->arena, planner->job);
  Words roles = job_role_names(planner->arena, planner->job);
  for (size_t i = 0; i < planner->job->engine->openings.n; i++) {
    vec_push(planner->arena, &openings, planner->job->engine->openings.at[i].name);
  }
  need_all(expander, &procedure->needs_sets, "set", &sets);
  need_all(expander, &procedure->needs_openings, "opening", &openings);
  need_all(expander, &procedure->needs_roles, "role", &roles);
  need_all(expander, &procedure->needs_quantities, "quantity", &planner->quantity_names);
}

void expand_modules(Planner *planner) {
  const RefList *modules = &planner->job->build->procedures;
  Expander expander = {.planner = planner};
  for (size_t m = 0; m < modules->n; m++) {
    if (!modules->at[m].entry || modules->at[m].entry->kind != ENTRY_PROCEDURE) continue;
    expander.module = (int)m;
    expander.procedure = modules->at[m].entry;
    check_needs(&expander);
    const ProcedureEntry *procedure = &expander.procedure->is.procedure;
    for (size_t b = 0; b < procedure->blocks.n; b++) add_block(&expander, procedure->blocks.at[b]);
  }
}
