/* Every sheet that speaks of a joint, and with which standing. */
#include "resolve/joints.h"

static bool said_in(const SaidList *list, const char *word) {
  for (size_t i = 0; i < list->n; i++)
    if (text_is(list->at[i].s, word)) return true;
  return false;
}

static const JointDecl *joint_of(const JointDecls *joints, const char *name) {
  for (size_t i = 0; i < joints->n; i++)
    if (text_is(joints->at[i]->name, name)) return joints->at[i];
  return NULL;
}

/* Roles that any sheet says the joint holds together. */
static bool is_party(const Resolver *r, const char *name, const char *role) {
  const Job *job = r->job;
  const JointDecl *decl = joint_of(&job->engine->joints, name);
  if (decl && said_in(&decl->parties, role)) return true;
  if ((decl = joint_of(&job->build->joints, name)) && said_in(&decl->parties, role)) return true;
  for (size_t i = 0; i < job->roles.n; i++) {
    const Entry *part = job->roles.at[i]->part;
    decl = part ? joint_of(&part->is.part.joints, name) : NULL;
    if (decl && said_in(&decl->parties, role)) return true;
  }
  return false;
}

/* A maker who describes the fasteners brings them, and so owns the joint. */
static Rank rank_of(const Resolver *r, const JointDecl *decl, const Role *role) {
  if (said_in(&role->part->is.part.speaks_for, decl->name)) return RANK_KIT;
  return decl->hardware || is_party(r, decl->name, role->name) ? RANK_PARTY : RANK_ENGINE;
}

static void add(Resolver *r, const JointDecl *decl, const Entry *entry, const Role *role, Rank rank,
                JointRecords *out, const char **only_with) {
  if (!decl) return;
  Truth truth = when_truth(r, decl->when, r->job->instances.at[0]);
  if (truth != TRUTH_YES) {
    if (truth == TRUTH_NO) {
      const char *when = formula_print(r->arena, decl->when);
      *only_with = *only_with ? arena_printf(r->arena, "%s, or %s", *only_with, when) : when;
    }
    return;
  }
  for (size_t i = 0; i < out->n; i++)
    if (out->at[i].decl == decl) return; /* one part in two places */
  JointRecord record = {entry, role, decl, rank};
  size_t at = out->n;
  vec_push(r->arena, out, record);
  for (; at > 0 && out->at[at - 1].rank < rank; at--) out->at[at] = out->at[at - 1];
  out->at[at] = record;
}

void joint_records(Resolver *r, const char *name, JointRecords *out, const char **only_with) {
  const Job *job = r->job;
  *only_with = NULL;
  add(r, joint_of(&job->build->joints, name), job->build_entry, NULL, RANK_BUILD, out, only_with);
  add(r, joint_of(&job->engine->joints, name), job->engine_entry, NULL, RANK_ENGINE, out,
      only_with);
  for (size_t i = 0; i < job->roles.n; i++) {
    const Role *role = job->roles.at[i];
    const JointDecl *decl = role->part ? joint_of(&role->part->is.part.joints, name) : NULL;
    if (decl) add(r, decl, role->part, role, rank_of(r, decl, role), out, only_with);
  }
}
