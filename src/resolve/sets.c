/* The sets of an engine as a tree, and their members as instances. */
#include "resolve/context.h"

static const SetDecl *set_decl(const Resolver *r, const char *name) {
  for (size_t i = 0; i < r->job->engine->sets.n; i++)
    if (text_is(r->job->engine->sets.at[i].name, name)) return &r->job->engine->sets.at[i];
  return NULL;
}

static void declare(Resolver *r, const SetDecl *decl) {
  Set *set = ARENA_NEW(r->arena, Set);
  set->name = decl->name;
  set->label = decl->label.s ? decl->label.s : text_exchange(r->arena, decl->name, '_', ' ');
  for (size_t i = 0; i < decl->members.n; i++) {
    const Said *member = &decl->members.at[i];
    if (!member->s) continue;
    if (text_has(&set->members, member->s)) {
      Finding *finding = finding_add(r->run, RULE_REPEATED_KEY, member->at,
                                     "the set %s names its member %s twice", decl->name, member->s);
      finding_way_out(r->run, finding, "name each member once");
      continue;
    }
    vec_push(r->arena, &set->members, member->s);
  }
  vec_push(r->arena, &r->job->sets, set);
}

/* Sets that stand within each other would have no first. */
static bool is_rooted(const Resolver *r, const SetDecl *decl) {
  for (size_t up = 0; decl && decl->within.s; up++) {
    if (up > r->job->engine->sets.n) return false;
    decl = set_decl(r, decl->within.s);
  }
  return true;
}

static void link_within(Resolver *r, size_t index) {
  const SetDecl *decl = &r->job->engine->sets.at[index];
  Set *set = r->job->sets.at[index];
  if (!decl->within.s) return;
  if (!is_rooted(r, decl)) {
    Finding *finding = finding_add(r->run, RULE_BAD_WORD, decl->within.at,
                                   "the set %s comes to stand within itself", decl->name);
    finding_way_out(r->run, finding, "leave `within` out of the outermost set");
    return;
  }
  set->within = job_set(r->job, decl->within.s);
  if (set->within) return;
  Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, decl->within.at,
                                 "the engine has no set %s", decl->within.s);
  Words names = {0};
  for (size_t i = 0; i < r->job->sets.n; i++)
    if (i != index) vec_push(r->arena, &names, r->job->sets.at[i]->name);
  resolve_suggest(r->run, finding, decl->within.s, &names);
}

static Instance *instance_new(Resolver *r, const Set *set, const Instance *parent,
                              const char *member) {
  Instance *instance = ARENA_NEW(r->arena, Instance);
  instance->id = (int)r->job->instances.n;
  instance->set = set;
  instance->parent = parent;
  instance->member = member;
  if (!parent) {
    instance->path = "";
    instance->label = "";
  } else if (!parent->set) {
    instance->path = member;
    instance->label = arena_printf(r->arena, "%s %s", member, set->label);
  } else {
    instance->path = arena_printf(r->arena, "%s.%s", parent->path, member);
    instance->label = arena_printf(r->arena, "%s, %s %s", parent->label, member, set->label);
  }
  vec_push(r->arena, &r->job->instances, instance);
  return instance;
}

/* depth is bounded by the number of sets: each set stands within one above it. */
static void members_below(Resolver *r, const Instance *parent, size_t depth) {
  if (depth > r->job->sets.n) return;
  for (size_t i = 0; i < r->job->sets.n; i++) {
    const Set *set = r->job->sets.at[i];
    if (set->within != parent->set) continue;
    for (size_t j = 0; j < set->members.n; j++) {
      if (r->job->instances.n >= RESOLVE_MEMBERS_MOST) return;
      members_below(r, instance_new(r, set, parent, set->members.at[j]), depth + 1);
    }
  }
}

void resolve_sets(Resolver *r) {
  for (size_t i = 0; i < r->job->engine->sets.n; i++) declare(r, &r->job->engine->sets.at[i]);
  for (size_t i = 0; i < r->job->sets.n; i++) link_within(r, i);
  members_below(r, instance_new(r, NULL, NULL, NULL), 0);
  if (r->job->instances.n >= RESOLVE_MEMBERS_MOST)
    finding_add(r->run, RULE_TOO_BIG, r->job->engine->sets.at[0].at,
                "the sets of the engine come to more than %d members", RESOLVE_MEMBERS_MOST);
}

void instances_of(Resolver *r, const Set *set, Instances *out) {
  for (size_t i = 0; i < r->job->instances.n; i++)
    if (r->job->instances.at[i]->set == set) vec_push(r->arena, out, r->job->instances.at[i]);
}

const char *instance_words(Arena *arena, const Instance *instance) {
  return text_exchange(arena, instance->path, '.', ' ');
}
