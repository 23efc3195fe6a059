/* The order in which a library becomes a job. */
#include "resolve/resolve.h"

#include "resolve/context.h"

/* False without one: load reported it. */
static bool engine_of(Job *job) {
  Entry *engine = job->build->engine.entry;
  if (!engine || engine->kind != ENTRY_ENGINE) return false;
  job->engine = &engine->is.engine;
  job->engine_entry = engine;
  return true;
}

Job *resolve_job(Run *run, const Library *library) {
  if (!library || !library->build) return NULL;
  Job *job = ARENA_NEW(run->arena, Job);
  job->library = library;
  job->build_entry = library->build;
  job->build = &library->build->is.build;
  if (!engine_of(job)) return NULL;
  Entry *shop = job->build->shop.entry;
  if (shop && shop->kind == ENTRY_SHOP) {
    job->shop = &shop->is.shop;
    job->shop_entry = shop;
  }
  job->graph = graph_new(run->arena);
  Resolver *r = ARENA_NEW(run->arena, Resolver);
  r->run = run;
  r->arena = run->arena;
  r->job = job;
  r->graph = job->graph;
  r->slot_by_key = map_new(run->arena);
  r->work_by_key = map_new(run->arena);
  job->when_context = r;
  job->when = job_when;
  job->candidate = job_candidate;
  job->bind = job_bind;
  job->need = job_need;
  resolve_sets(r);
  resolve_roles(r);
  resolve_choices(r);
  resolve_build_form(r);
  resolve_quantities(r);
  resolve_limits(r);
  resolve_needs(r);
  resolve_joints(r);
  resolve_facts(r);
  resolve_slips(r);
  resolve_lacks(r);
  resolve_recompute(run, job);
  resolve_targets(r);
  return job;
}
