#include "model/job.h"

#include "base/text.h"

static const char *const rank_words[] = {
    [RANK_PRACTICE] = "common practice", [RANK_ENGINE] = "the engine's sheet",
    [RANK_PARTY] = "the part's maker",   [RANK_KIT] = "the kit's sheet",
    [RANK_BUILD] = "the build",
};

const char *rank_word(Rank rank) {
  return rank_words[rank];
}

Words job_set_names(Arena *arena, const Job *job) {
  Words names = {0};
  for (size_t i = 0; i < job->sets.n; i++) vec_push(arena, &names, job->sets.at[i]->name);
  return names;
}

Words job_role_names(Arena *arena, const Job *job) {
  Words names = {0};
  for (size_t i = 0; i < job->roles.n; i++) vec_push(arena, &names, job->roles.at[i]->name);
  return names;
}

Words job_quantity_names(Arena *arena, const Job *job) {
  Words names = {0};
  const char *last = NULL; /* members of one stand together */
  for (size_t i = 0; i < job->quantities.n; i++) {
    const char *name = job->quantities.at[i]->name;
    if (!text_is(name, last) && !text_has(&names, name)) vec_push(arena, &names, name);
    last = name;
  }
  return names;
}

const Set *job_set(const Job *job, const char *name) {
  for (size_t i = 0; i < job->sets.n; i++)
    if (text_is(job->sets.at[i]->name, name)) return job->sets.at[i];
  return NULL;
}

Role *job_role(const Job *job, const char *name) {
  for (size_t i = 0; i < job->roles.n; i++)
    if (text_is(job->roles.at[i]->name, name)) return job->roles.at[i];
  return NULL;
}

bool job_set_of(const Job *job, const char *name, const Set **set) {
  *set = job_set(job, name);
  if (*set) return true;
  const Role *role = job_role(job, name);
  if (role) *set = role->per;
  return role != NULL;
}

const Instance *instance_child(const Job *job, const Instance *parent, const Set *set,
                               const char *member) {
  for (size_t i = 0; i < job->instances.n; i++) {
    const Instance *one = job->instances.at[i];
    if (one->parent == parent && (!set || one->set == set) && text_is(one->member, member))
      return one;
  }
  return NULL;
}

const Instance *instance_in(const Instance *from, const Set *set) {
  for (const Instance *at = from; at; at = at->parent)
    if (at->set == set) return at;
  return NULL;
}

bool instance_within(const Instance *inner, const Instance *outer) {
  for (const Instance *at = inner; at; at = at->parent)
    if (at == outer) return true;
  return false;
}

Quantity *job_quantity(const Job *job, const char *name, const Instance *at, const char *occasion) {
  if (!occasion) occasion = "final";
  for (size_t i = 0; i < job->quantities.n; i++) {
    Quantity *quantity = job->quantities.at[i];
    if (quantity->instance == at && text_is(quantity->name, name) &&
        text_is(quantity->occasion, occasion))
      return quantity;
  }
  return NULL;
}

bool joint_leads(const Job *job, size_t index) {
  return job->joints.at[index]->leads;
}

double wrench_resolution(const Wrench *wrench) {
  const Expr *it = &wrench->resolution;
  return it->kind == EXPR_LITERAL && it->literal.shape != LITERAL_NONE ? it->literal.nominal : 0;
}

const char *wrench_name(const Wrench *wrench) {
  return wrench->id.s ? wrench->id.s : wrench->name;
}

Quantity *job_quantity_from(const Job *job, const char *name, const Instance *at) {
  for (; at; at = at->parent) {
    Quantity *quantity = job_quantity(job, name, at, NULL);
    if (quantity) return quantity;
  }
  return NULL;
}

JobJoint *job_joint(const Job *job, const char *name, const Instance *at) {
  for (; at; at = at->parent)
    for (size_t i = 0; i < job->joints.n; i++)
      if (job->joints.at[i]->instance == at && text_is(job->joints.at[i]->name, name))
        return job->joints.at[i];
  return NULL;
}

/* A fact may be given for members by name alone ("intake" of any cylinder): each
 * must lie on the way to the place asked about. */
static bool speaks_at(const FactValue *fact, const Instance *at) {
  if (!instance_within(at, fact->instance)) return false;
  if (!fact->choice) return true;
  for (size_t i = 0; i < fact->choice->member.n; i++) {
    const Instance *on = at;
    while (on && !text_is(on->member, fact->choice->member.at[i])) on = on->parent;
    if (!on) return false;
  }
  return true;
}

const FactValue *job_fact(const Job *job, const char *role, const char *fact, const Instance *at) {
  const FactValue *best = NULL;
  size_t most = 0;
  for (size_t i = 0; i < job->facts.n; i++) {
    const FactValue *value = &job->facts.at[i];
    if (!text_is(value->role->name, role) || !text_is(value->name, fact) || !speaks_at(value, at))
      continue;
    size_t members = value->choice ? value->choice->member.n : 0;
    if (best && members <= most) continue;
    best = value;
    most = members;
  }
  return best;
}
