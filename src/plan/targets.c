/* Steps and blocks that others name: where their members stand in the graph. */
#include "plan/work.h"

#include "base/near.h"

static int add_node(Planner *planner, SortNode kind) {
  vec_push(planner->arena, &planner->graph.nodes, kind);
  return (int)planner->graph.nodes.n - 1;
}

static const char *target_key(Planner *planner, int module, bool is_block, const char *id) {
  return arena_printf(planner->arena, "%d/%s/%s", module, is_block ? "block" : "step", id);
}

/* A target for each declared id, whether or not its condition holds. */
static void declare(Planner *planner, int module, bool is_block, const Said *id) {
  if (!id->s) return;
  const char *key = target_key(planner, module, is_block, id->s);
  if (map_find(planner->targets, key)) {
    Finding *finding =
        finding_add(planner->run, RULE_REPEATED_KEY, id->at, "the procedure has two %s '%s'",
                    is_block ? "blocks" : "steps", id->s);
    finding_way_out(planner->run, finding, "call one of them otherwise");
    return;
  }
  Target *target = ARENA_NEW(planner->arena, Target);
  target->number = planner->target_count++;
  target->id = id->s;
  target->module = module;
  target->is_block = is_block;
  map_put(planner->targets, key, target);
  /* Keys of single targets hold a stroke, ids cannot. */
  TargetList *list = map_find(planner->targets, id->s);
  if (!list) {
    list = ARENA_NEW(planner->arena, TargetList);
    map_put(planner->targets, id->s, list);
    vec_push(planner->arena, &planner->target_ids, id->s);
  }
  vec_push(planner->arena, list, target);
}

static void add_spot(Planner *planner, Target *target, const Instance *at, int start, int end) {
  Spot *spot = ARENA_NEW(planner->arena, Spot);
  *spot = (Spot){at, start, end};
  target->set = at->set;
  vec_push(planner->arena, &target->spots, spot);
  map_put(planner->spots, arena_printf(planner->arena, "%d/%d", target->number, at->id), spot);
}

static Target *declared(Planner *planner, int module, bool is_block, const Said *id) {
  return id->s ? map_find(planner->targets, target_key(planner, module, is_block, id->s)) : NULL;
}

static void add_spots(Planner *planner) {
  for (size_t i = 0; i < planner->drafts.n; i++) {
    const Draft *draft = &planner->drafts.at[i];
    Target *step = declared(planner, draft->module, false, &draft->decl->id);
    if (step) add_spot(planner, step, draft->instance, (int)i, (int)i);
  }
  for (size_t i = 0; i < planner->runs.n; i++) {
    BlockRun *run = planner->runs.at[i];
    Target *block = declared(planner, run->module, true, &run->decl->id);
    if (block) add_spot(planner, block, run->instance, run->start, run->end);
  }
}

void targets_build(Planner *planner) {
  const RefList *modules = &planner->job->build->procedures;
  for (size_t m = 0; m < modules->n; m++) {
    if (!modules->at[m].entry || modules->at[m].entry->kind != ENTRY_PROCEDURE) continue;
    const ProcedureEntry *procedure = &modules->at[m].entry->is.procedure;
    for (size_t b = 0; b < procedure->blocks.n; b++) {
      const BlockDecl *block = procedure->blocks.at[b];
      declare(planner, (int)m, true, &block->id);
      for (size_t s = 0; s < block->steps.n; s++)
        declare(planner, (int)m, false, &block->steps.at[s]->id);
    }
  }
  for (size_t i = 0; i < planner->drafts.n; i++)
    add_node(planner, planner->drafts.at[i].dropped ? SORT_DROPPED : SORT_STEP);
  for (size_t i = 0; i < planner->runs.n; i++) {
    planner->runs.at[i]->start = add_node(planner, SORT_JOIN);
    planner->runs.at[i]->end = add_node(planner, SORT_JOIN);
  }
  add_spots(planner);
}

static void no_such_step(Planner *planner, const Said *said, const char *base) {
  Finding *finding = finding_add(planner->run, RULE_UNKNOWN_STEP, said->at,
                                 "no step or block '%s' in the procedures of this build", base);
  const char *near = near_word(base, &planner->target_ids);
  if (near) {
    finding_way_out(planner->run, finding, "did you mean '%s'?", near);
  } else {
    finding_way_out(planner->run, finding,
                    "name the procedure that has it in the build, or take it out here");
    offer_procedure(planner, finding, OFFER_STEP, base);
  }
}

/* Targets of that id: those of the module itself, else of all; steps before blocks.
 * "top_end.fit_head" names the procedure as well. */
static void find_targets(Planner *planner, const char *base, int module, TargetList *out) {
  const RefList *modules = &planner->job->build->procedures;
  const char *id = base;
  const char *owner = NULL;
  for (const char *dot = base; *dot; dot++) {
    if (*dot != '.') continue;
    owner = arena_text(planner->arena, base, (size_t)(dot - base));
    id = dot + 1;
    break;
  }
  const TargetList *all = map_find(planner->targets, id);
  bool own = false, steps = false;
  for (int pass = 0; all && pass < 3; pass++) {
    for (size_t i = 0; i < all->n; i++) {
      Target *target = all->at[i];
      if (owner && !text_is(modules->at[target->module].entry->id, owner)) continue;
      if (pass == 0) own = own || target->module == module;
      if (pass == 0 || (own && target->module != module)) continue;
      if (pass == 1) steps = steps || !target->is_block;
      if (pass == 2 && !(steps && target->is_block)) vec_push(planner->arena, out, target);
    }
  }
}

typedef VEC(Spot *) SpotList;

static void pick_spots(Planner *planner, const Target *target, const Name *name, const Instance *at,
                       SpotList *out) {
  InstanceList picked = {0};
  pick_instances(planner, name, target->set, at, &picked);
  for (size_t i = 0; i < picked.n; i++) {
    Spot *spot = map_find(planner->spots,
                          arena_printf(planner->arena, "%d/%d", target->number, picked.at[i]->id));
    if (spot) vec_push(planner->arena, out, spot);
  }
}

static void not_related(Planner *planner, const Said *said, const Target *target,
                        const Instance *at) {
  Finding *finding =
      finding_add(planner->run, RULE_UNKNOWN_STEP, said->at,
                  "'%s' is done for %s%s, and which is meant for %s%s is not said", target->id,
                  target->set ? "each " : "the whole engine", target->set ? target->set->name : "",
                  at->set ? "each " : "the whole engine", at->set ? at->set->name : "");
  finding_way_out(planner->run, finding,
                  target->set ? "write '%s[all]', or a member in brackets" : "write '%s'",
                  target->id);
}

int target_node(Planner *planner, const Said *said, int module, const Instance *at, bool end) {
  Name name = name_split(planner->arena, said->s);
  const char *key =
      arena_printf(planner->arena, "%s/%d/%d/%d", said->s, module, name.all ? -1 : at->id, end);
  Join *join = map_find(planner->joins, key);
  if (join) return join->node;
  join = ARENA_NEW(planner->arena, Join);
  join->node = -1;
  map_put(planner->joins, key, join);
  TargetList targets = {0};
  find_targets(planner, name.base, module, &targets);
  if (targets.n == 0) {
    if (tell_once(planner, arena_printf(planner->arena, "step/%d/%s", module, said->s)))
      no_such_step(planner, said, name.base);
    return -1;
  }
  SpotList spots = {0};
  for (size_t i = 0; i < targets.n; i++) {
    size_t before = spots.n;
    pick_spots(planner, targets.at[i], &name, at, &spots);
    if (spots.n == before && targets.at[i]->spots.n > 0 &&
        tell_once(planner, arena_printf(planner->arena, "related/%d/%s", module, said->s)))
      not_related(planner, said, targets.at[i], at);
  }
  if (spots.n == 1) join->node = end ? spots.at[0]->end : spots.at[0]->start;
  if (spots.n < 2) return join->node;
  join->node = add_node(planner, SORT_JOIN);
  for (size_t i = 0; i < spots.n; i++) {
    if (end) {
      edge_add(planner, spots.at[i]->end, join->node, REASON_AFTER, NULL, said->at);
    } else {
      edge_add(planner, join->node, spots.at[i]->start, REASON_BEFORE, NULL, said->at);
    }
  }
  return join->node;
}
