/* Which record of how a joint is tightened holds. */
#include "resolve/joints.h"

#include <math.h>

const char *bundle_says(Arena *arena, const JointDecl *bundle) {
  const char *torque = bundle->method.s ? bundle->method.s : "no torque";
  if (bundle->torque.kind == EXPR_LITERAL) torque = literal_print(arena, &bundle->torque.literal);
  if (bundle->torque.kind == EXPR_FORMULA) torque = formula_print(arena, bundle->torque.formula);
  const Ref *on = bundle->threadlock.entry ? &bundle->threadlock : &bundle->lubricant;
  const char *condition = on->entry && on->entry->name.s ? on->entry->name.s : on->id;
  if (!condition) return torque;
  if (text_is(condition, "not_stated")) condition = "lubricant not stated";
  if (text_is(condition, "none")) condition = "dry";
  return arena_printf(arena, "%s, %s", torque, condition);
}

/* "46 N.m" and "34 lbf.ft" are one torque in two prints. */
static bool bundles_agree(const JointDecl *a, const JointDecl *b) {
  if (!text_is(a->lubricant.id, b->lubricant.id)) return false;
  if ((a->under_head.id || b->under_head.id) && !text_is(a->under_head.id, b->under_head.id))
    return false;
  const char *lock_a = a->threadlock.id ? a->threadlock.id : "none";
  const char *lock_b = b->threadlock.id ? b->threadlock.id : "none";
  if (!text_is(lock_a, lock_b)) return false;
  if (a->torque.kind != b->torque.kind) return false;
  if (a->torque.kind != EXPR_LITERAL) return a->torque.kind == EXPR_NONE;
  const Literal *x = &a->torque.literal, *y = &b->torque.literal;
  if (!x->unit || !y->unit || !dim_same(x->unit->dim, y->unit->dim)) return false;
  return fabs(x->nominal - y->nominal) <=
         fmax(literal_half_digit(x), literal_half_digit(y)) * (1 + 1e-9);
}

static void disagree(Resolver *r, const char *name, const JointRecord *a, const JointRecord *b) {
  Finding *finding = finding_add(
      r->run, RULE_SHEETS_DISAGREE, b->decl->at, "%s: %s gives %s, %s gives %s", name,
      resolve_whose(r->arena, a->entry, a->decl->page.s), bundle_says(r->arena, a->decl),
      resolve_whose(r->arena, b->entry, b->decl->page.s), bundle_says(r->arena, b->decl));
  finding_subject(finding, name);
  finding_note(r->run, finding, a->decl->at, "the other sheet");
  finding_way_out(r->run, finding,
                  "settle it in the build: `settle: {%s: {sheet: %s, why: ...}}` or with %s", name,
                  a->entry->id, b->entry->id);
}

static const JointRecord *settled(Resolver *r, const char *name, const JointRecords *records) {
  const Settle *settle = settle_find(r, name);
  if (!settle || !settle->sheet.s) return NULL;
  Words names = {0};
  for (size_t i = 0; i < records->n; i++) {
    if (records->at[i].decl->bundle && text_is(records->at[i].entry->id, settle->sheet.s))
      return &records->at[i];
    vec_push(r->arena, &names, records->at[i].entry->id);
  }
  for (size_t i = 0; i < records->n; i++) /* it settled what is there */
    if (text_is(records->at[i].entry->id, settle->sheet.s)) return NULL;
  Finding *finding =
      finding_add(r->run, RULE_UNKNOWN_NAME, settle->sheet.at,
                  "%s is settled by %s, which says nothing about it", name, settle->sheet.s);
  const char *near = resolve_suggest(r->run, finding, settle->sheet.s, &names);
  for (size_t i = 0; near && i < records->n; i++) /* read on as what was meant */
    if (records->at[i].decl->bundle && text_is(records->at[i].entry->id, near))
      return &records->at[i];
  return NULL;
}

/* 46 N.m and 46 lbf.ft: hardly ever on purpose. */
static bool is_same_number(const JointDecl *a, const JointDecl *b) {
  const Literal *x = &a->torque.literal, *y = &b->torque.literal;
  if (a->torque.kind != EXPR_LITERAL || b->torque.kind != EXPR_LITERAL) return false;
  if (!x->unit || !y->unit || x->unit == y->unit) return false;
  return fabs(unit_from_si(x->unit, x->nominal) - unit_from_si(y->unit, y->nominal)) < 1e-9;
}

static void overruled(Resolver *r, const char *name, const JointRecord *winner,
                      const JointRecord *loser) {
  if (bundles_agree(winner->decl, loser->decl)) return;
  Finding *finding = finding_add(r->run, RULE_SHEET_OVERRULED, loser->decl->at,
                                 "%s: %s gives %s; %s gives %s and holds", name,
                                 resolve_whose(r->arena, loser->entry, loser->decl->page.s),
                                 bundle_says(r->arena, loser->decl),
                                 resolve_whose(r->arena, winner->entry, winner->decl->page.s),
                                 bundle_says(r->arena, winner->decl));
  finding_subject(finding, name);
  finding_note(r->run, finding, winner->decl->at, "what holds, from %s", rank_word(winner->rank));
  /* a bundle wins whole: what its sheet does not say is gone, not taken over */
  if (loser->decl->passes.n && !winner->decl->passes.n)
    finding_note(r->run, finding, winner->decl->at,
                 "the passes of the other sheet go with it: here it is tightened in one");
  if (is_same_number(winner->decl, loser->decl))
    finding_way_out(r->run, finding,
                    "both say the same number in different units: check which unit is meant");
}

/* The build chose between them and said why: whoever reads the other sheet should know. */
static void settled_against(Resolver *r, const char *name, const JointRecord *winner,
                            const JointRecord *loser) {
  if (bundles_agree(winner->decl, loser->decl)) return;
  const Settle *settle = settle_find(r, name);
  Finding *finding = finding_add(r->run, RULE_SHEET_OVERRULED, settle->at,
                                 "%s: %s gives %s; the build holds to %s, %s%s%s", name,
                                 resolve_whose(r->arena, loser->entry, loser->decl->page.s),
                                 bundle_says(r->arena, loser->decl),
                                 resolve_whose(r->arena, winner->entry, winner->decl->page.s),
                                 bundle_says(r->arena, winner->decl), settle->why.s ? ": " : "",
                                 settle->why.s ? settle->why.s : "");
  finding_subject(finding, name);
  finding_note(r->run, finding, loser->decl->at, "what is not used");
}

static void nobody_says(Resolver *r, const char *name, const JointRecords *records,
                        const JointDecl *hardware, const char *only_with) {
  Finding *finding = finding_add(
      r->run, RULE_STATED_TORQUE, hardware->at, "%s: no sheet says how it is tightened%s%s", name,
      only_with ? "; one says it only with " : "", only_with ? only_with : "");
  finding_subject(finding, name);
  for (size_t i = 0; i < records->n; i++)
    if (records->at[i].decl != hardware && records->at[i].decl->hardware)
      finding_note(r->run, finding, records->at[i].decl->at, "described here");
  finding_way_out(r->run, finding,
                  "add torque and lubricant from a sheet, or `method: hand` where that is meant");
}

const JointRecord *joint_bundle(Resolver *r, const char *name, const JointRecords *records,
                                const JointDecl *hardware, const char *only_with, Voices *losers) {
  const JointRecord *winner = settled(r, name, records);
  bool chosen = winner != NULL;
  for (size_t i = 0; i < records->n && !winner; i++)
    if (records->at[i].decl->bundle) winner = &records->at[i];
  if (!winner) {
    nobody_says(r, name, records, hardware, only_with);
    return NULL;
  }
  for (size_t i = 0; i < records->n; i++) {
    const JointRecord *other = &records->at[i];
    if (other == winner || !other->decl->bundle) continue;
    Voice voice = {other->entry, other->decl->page.s, other->rank, other->decl->at,
                   bundle_says(r->arena, other->decl)};
    vec_push(r->arena, losers, voice);
    if (chosen)
      settled_against(r, name, winner, other);
    else if (other->rank < winner->rank)
      overruled(r, name, winner, other);
    else if (!bundles_agree(winner->decl, other->decl))
      disagree(r, name, winner, other);
  }
  return winner;
}
