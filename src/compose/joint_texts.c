/* How a joint is told on paper: its torque, what is on its thread, what is left of proof. */
#include "compose/joint_texts.h"

#include "base/decimal.h"
#include "model/job_words.h"

#include <math.h>

static const char *percent(Composer *c, double share) {
  return decimal_print(c->arena, share * 100, 0);
}

const char *joint_other_unit(Composer *c, double si, const Unit *unit) {
  const Unit *other = unit_other(unit, si);
  return other ? quantity_print(c->arena, si, other, other == unit_find("lbf.in") ? 0 : 1) : "";
}

/* What it is turned on by after the torque, rad; 0: nothing. */
static double angle_of(const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  double angle = 0;
  if (bundle->angle.kind == EXPR_LITERAL) return bundle->angle.literal.nominal;
  for (size_t i = 0; i < bundle->passes.n; i++) {
    const Pass *pass = &bundle->passes.at[i];
    if (pass->kind == PASS_BACK_OFF || pass->kind == PASS_UNDO) angle = 0;
    if (pass->kind == PASS_ANGLE && pass->amount.kind == EXPR_LITERAL &&
        (!pass->only.n || text_is(pass->only.at[0].s, joint->order.at[0])))
      angle += pass->amount.literal.nominal;
  }
  return angle;
}

/* The sheet's own tolerance of the torque is told with it. */
static const char *number_said(Composer *c, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  const Expr *torque = &joint->bundle->torque;
  if (torque->kind == EXPR_LITERAL && figures->torque_low < figures->torque_high)
    return literal_print(c->arena, &torque->literal);
  return quantity_print(c->arena, figures->torque, figures->torque_unit, figures->torque_places);
}

bool joint_is_by_stretch(const JobJoint *joint) {
  return joint->bundle && text_is(joint->bundle->method.s, "stretch") &&
         joint->bundle->stretch.kind == EXPR_LITERAL;
}

const char *joint_torque_said(Composer *c, const JobJoint *joint) {
  bool torque = joint->figures.torque > 0;
  if (!joint->bundle) return "by hand";
  if (joint_is_by_stretch(joint)) {
    const char *stretch = literal_print(c->arena, &joint->bundle->stretch.literal);
    return torque ? arena_printf(c->arena, "%s, stretch %s", number_said(c, joint), stretch)
                  : arena_printf(c->arena, "stretch %s", stretch);
  }
  if (!torque) return "by hand";
  double angle = angle_of(joint);
  if (!(angle > 0)) return number_said(c, joint);
  return arena_printf(c->arena, "%s + %s", number_said(c, joint),
                      quantity_print(c->arena, angle, unit_find("deg"), 0));
}

const char *joint_count(Composer *c, const JobJoint *joint) {
  const WholeNumber *count = &joint->hardware->count;
  return arena_printf(c->arena, "%ld", count->said ? count->n : 1L);
}

static const char *on_thread(const JointDecl *bundle) {
  if (!bundle || !bundle->lubricant.id) return "not stated";
  if (bundle->lubricant.entry) return bundle->lubricant.entry->name.s;
  return text_is(bundle->lubricant.id, "none") ? "none: clean and dry" : "not stated";
}

const char *joint_lubricant(Composer *c, const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  if (!bundle || !bundle->under_head.entry) return on_thread(bundle);
  return arena_printf(c->arena, "%s; under the head %s", on_thread(bundle),
                      bundle->under_head.entry->name.s);
}

const char *joint_threadlock(const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  return bundle && bundle->threadlock.entry ? bundle->threadlock.entry->name.s : "none";
}

bool is_new_part(const Job *job, const Entry *part) {
  if (text_is(part->is.part.fit.s, "new")) return true;
  if (!text_is(part->is.part.fit.s, "new with the job")) return false;
  for (size_t i = 0; i < job->build->parts.n; i++) {
    const PartChoice *choice = &job->build->parts.at[i];
    for (size_t o = 0; o < choice->offered.n; o++)
      if (choice->offered.at[o].entry == part) return true;
    const Role *role = job_role(job, choice->role);
    if (role && role->part == part) return true;
  }
  return false;
}

const char *joint_reuse(Composer *c, const JobJoint *joint) {
  const char *reuse = joint->hardware->reuse.s;
  if (text_is(reuse, "new")) return "new each time";
  if (text_is(reuse, "limit")) return "within its length limit";
  const Entry *owner = joint->hardware_entry;
  if (owner && owner->kind == ENTRY_PART && is_new_part(c->job, owner))
    return "new with this job, may be tightened again";
  return "may be used again";
}

const char *joint_note(const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  return bundle && bundle->note.s ? bundle->note.s : joint->hardware->note.s;
}

const char *joint_share_said(Composer *c, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  if (!figures->preload_known) return NULL;
  Text text = text_new(c->arena);
  text_addf(&text, "preload %s kN, %s %% of proof (%s to %s)",
            decimal_print(c->arena, figures->preload_middle_k / 1000, 1),
            percent(c, figures->share_middle_k), percent(c, figures->share_high_k),
            percent(c, figures->share_low_k));
  const Entry *strength = joint->hardware->strength.entry;
  if (strength && strength->is.strength.stands_in.s)
    text_addf(&text, ", %s", strength->is.strength.stands_in.s);
  if (figures->hot_share_low_k > 0)
    text_addf(&text, "; up to %s %% when hot", percent(c, figures->hot_share_low_k));
  if (figures->prevailing_high > 0)
    text_addf(&text, "; %s of the torque only turns the nut",
              literal_print(c->arena, &joint->hardware->prevailing.literal));
  return text_done(&text);
}

/* As the sheet's torque without an adapter; with one, to three figures: 15.65 N.m
 * must not become 16. */
const char *joint_setting(Composer *c, const JointFigures *figures) {
  if (!figures->wrench) return "";
  bool as_said = fabs(figures->setting - figures->torque) < 1e-9;
  if (wrench_resolution(figures->wrench) > 0 && !as_said) {
    const Literal *scale = &figures->wrench->resolution.literal;
    return quantity_print(c->arena, figures->setting, scale->unit, scale->places);
  }
  double setting = unit_from_si(figures->torque_unit, figures->setting);
  int places = as_said ? figures->torque_places : setting < 10 ? 2 : setting < 100 ? 1 : 0;
  return quantity_print(c->arena, figures->setting, figures->torque_unit, places);
}

const char *joint_rounded(Arena *arena, const JointFigures *figures) {
  if (!figures->wrench || fabs(figures->setting - figures->unrounded) < 1e-9) return "";
  const Literal *scale = &figures->wrench->resolution.literal;
  bool as_said =
      figures->torque_unit == scale->unit && fabs(figures->unrounded - figures->torque) < 1e-9;
  return arena_printf(arena, ", the nearest on its scale to %s",
                      quantity_print(arena, figures->unrounded,
                                     as_said ? figures->torque_unit : scale->unit,
                                     as_said ? figures->torque_places : scale->places + 2));
}

const char *joint_name(Arena *arena, const JobJoint *joint) {
  return joint->instance->id ? arena_printf(arena, "%s, %s", joint->label, joint->instance->label)
                             : joint->label;
}

/* A fastener is called by its turn in the order, as the figure numbers it: one numbering
 * on the whole card, whatever the sheet calls the places. */
const char *joint_turn(Composer *c, const JobJoint *joint, const char *place) {
  for (size_t i = 0; i < joint->order.n; i++)
    if (text_is(joint->order.at[i], place)) return arena_printf(c->arena, "%zu", i + 1);
  return place;
}
