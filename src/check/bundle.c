/* What belongs to a torque: lubricant, threadlocker, passes, places, engagement, reuse. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"

#include <math.h>

static void lubricant(Run *run, const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  const Ref *said = &bundle->lubricant;
  bool torque = bundle->torque.kind != EXPR_NONE;
  bool locked = bundle->threadlock.entry != NULL;
  if (!torque || text_is(bundle->method.s, "hand")) return;
  if (!said->id) {
    Finding *finding = finding_add(run, RULE_NO_LUBRICANT, bundle->torque.at,
                                   "%s has a torque and no lubricant", joint->label);
    finding_subject(finding, joint->name);
    finding_way_out(run, finding,
                    "add `lubricant:` as the sheet gives it; `not_stated` where it gives none");
  } else if (text_is(said->id, "none") && !locked) {
    Finding *finding =
        finding_add(run, RULE_NO_LUBRICANT, said->at,
                    "%s has neither lubricant nor threadlocker: nothing gives its K", joint->label);
    finding_subject(finding, joint->name);
    finding_way_out(run, finding,
                    "name the dry finish as the library does, such as `dry_zinc`, or `not_stated`");
  } else if (text_is(said->id, "not_stated")) {
    Finding *finding = finding_add(run, RULE_LUBRICANT_NOT_STATED, said->at,
                                   "%s: %s does not say for which lubricant the torque holds",
                                   joint->label, joint_sheet(run, joint));
    finding_subject(finding, joint->name);
  } else if (said->entry && locked) {
    Finding *finding =
        finding_add(run, RULE_LUBRICANT_CONFLICT, said->at, "%s asks for %s and for %s",
                    joint->label, said->entry->name.s, bundle->threadlock.entry->name.s);
    finding_subject(finding, joint->name);
    finding_note(run, finding, bundle->threadlock.at, "the threadlocker");
    finding_way_out(
        run, finding,
        "a threadlocker wants clean, dry threads: set `lubricant: none`, or `threadlock: none`");
  }
}

/* A part that takes harm from a threadlocker, where that product is used on it. */
static void forbidden_locker(Run *run, const Job *job, const JobJoint *joint) {
  const Entry *locker = joint->bundle->threadlock.entry;
  if (!locker) return;
  for (size_t i = 0; i < job->roles.n; i++) {
    const Role *role = job->roles.at[i];
    bool party = role->part && role->part == joint->hardware_entry;
    for (size_t j = 0; j < joint->hardware->parties.n; j++)
      if (text_is(joint->hardware->parties.at[j].s, role->name)) party = true;
    if (!party || !role->part) continue;
    const RefList *never = &role->part->is.part.threadlock_forbidden;
    for (size_t j = 0; j < never->n; j++) {
      if (!text_is(never->at[j].id, locker->id)) continue;
      Finding *finding = finding_add(run, RULE_LUBRICANT_CONFLICT, joint->bundle->threadlock.at,
                                     "%s asks for %s, which %s must not meet", joint->label,
                                     locker->name.s, role->part->name.s);
      finding_subject(finding, joint->name);
      finding_note(run, finding, never->at[j].at, "forbidden by %s",
                   source_print(run->arena, role->part, NULL));
      finding_way_out(run, finding, "use another threadlocker, or ask the maker of the %s",
                      role->label);
    }
  }
}

static void reuse(Run *run, const JobJoint *joint) {
  const Said *said = &joint->hardware->reuse;
  if (!joint_is_stretched(joint) || text_is(said->s, "new") || text_is(said->s, "limit")) return;
  Finding *finding = finding_add(run, RULE_REUSED_STRETCH, said->s ? said->at : joint->hardware->at,
                                 "%s is tightened by %s and may be used again", joint->label,
                                 joint->bundle->method.s);
  finding_subject(finding, joint->name);
  finding_way_out(run, finding,
                  "set `reuse: new`, or `reuse: limit` with the length at which it is scrapped");
}

static void torque_there(Run *run, const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  const char *method = bundle->method.s;
  if (bundle->torque.kind != EXPR_NONE || text_is(method, "hand")) return;
  if (text_is(method, "stretch") && bundle->stretch.kind != EXPR_NONE) return;
  Finding *finding =
      finding_add(run, RULE_STATED_TORQUE, bundle->at, "%s: no torque is given", joint->label);
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "add `torque:` from the sheet, or `method: hand`");
}

/* Once for each sheet: the joints of several cylinders share their declaration. */
static bool first_of_name(const Job *job, size_t index) {
  for (size_t i = 0; i < index; i++)
    if (text_is(job->joints.at[i]->name, job->joints.at[index]->name)) return false;
  return true;
}

void check_bundle(Run *run, const Job *job) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (!joint->bundle || !first_of_name(job, i)) continue;
    torque_there(run, joint);
    lubricant(run, joint);
    forbidden_locker(run, job, joint);
    reuse(run, joint);
  }
}

static const char *torque_print(Run *run, const JointFigures *figures, double torque) {
  return quantity_print(run->arena, torque, figures->torque_unit, figures->torque_places);
}

static void passes_rise(Run *run, const JobJoint *joint) {
  const Passes *passes = &joint->bundle->passes;
  const JointFigures *figures = &joint->figures;
  double last = 0;
  bool at_final = false;
  const Pass *ends = NULL;
  for (size_t i = 0; i < passes->n; i++) {
    const Pass *pass = &passes->at[i];
    double to = last;
    switch (pass->kind) {
    case PASS_TO:
      to = pass->amount.literal.nominal;
      break;
    case PASS_FINAL:
      to = figures->torque;
      break;
    case PASS_BACK_OFF:
    case PASS_UNDO:
      last = to = 0;
      at_final = false;
      ends = pass;
      continue;
    case PASS_ANGLE:
      at_final = joint_is_stretched(joint);
      ends = pass;
      continue;
    case PASS_HAND:
    case PASS_SEAT:
    case PASS_TURN_OVER:
    case PASS_OWN:
    case PASS_CHECK:
      continue;
    }
    ends = pass;
    if (pass->kind == PASS_TO && pass->amount.kind != EXPR_LITERAL) return;
    if (to <= last) {
      Finding *finding = finding_add(
          run, RULE_PASSES_WRONG, pass->at, "%s: the pass to %s follows one to %s", joint->label,
          torque_print(run, figures, to), torque_print(run, figures, last));
      finding_subject(finding, joint->name);
      finding_way_out(run, finding, "passes rise, unless one backs off in between");
      return;
    }
    at_final = fabs(to - figures->torque) < 1e-9;
    last = to;
  }
  if (!ends || at_final) return;
  Finding *finding = finding_add(
      run, RULE_PASSES_WRONG, ends->at, "%s: the passes end at %s, the final torque is %s",
      joint->label, torque_print(run, figures, last), torque_print(run, figures, figures->torque));
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "end the passes with `{to: final}`");
}

void check_passes(Run *run, const Job *job) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (joint->bundle && joint->figures.torque > 0 && joint->bundle->passes.n &&
        first_of_name(job, i))
      passes_rise(run, joint);
  }
}

static void order_complete(Run *run, const JobJoint *joint) {
  const SaidList *order = &joint->bundle->order;
  for (size_t i = 0; i < order->n; i++) {
    if (!text_has(&joint->place_names, order->at[i].s)) {
      Finding *finding = finding_add(run, RULE_ORDER_WRONG, order->at[i].at, "%s has no place %s",
                                     joint->label, order->at[i].s);
      finding_subject(finding, joint->name);
      finding_way_out(run, finding, "the places go from %s to %s", joint->place_names.at[0],
                      joint->place_names.at[joint->place_names.n - 1]);
    }
    for (size_t j = 0; j < i; j++) {
      if (!text_is(order->at[i].s, order->at[j].s)) continue;
      Finding *finding =
          finding_add(run, RULE_ORDER_WRONG, order->at[i].at, "%s: the order names place %s twice",
                      joint->label, order->at[i].s);
      finding_subject(finding, joint->name);
      finding_note(run, finding, order->at[j].at, "first here");
      finding_way_out(run, finding, "name each place once");
      break;
    }
  }
  for (size_t i = 0; i < joint->place_names.n; i++) {
    bool named = false;
    for (size_t j = 0; j < order->n; j++)
      named = named || text_is(order->at[j].s, joint->place_names.at[i]);
    if (named) continue;
    Finding *finding =
        finding_add(run, RULE_ORDER_WRONG, order->at[0].at, "%s: the order misses place %s",
                    joint->label, joint->place_names.at[i]);
    finding_subject(finding, joint->name);
    finding_way_out(run, finding, "name all %zu places once", joint->place_names.n);
  }
}

/* Sheets that disagree are a finding already; what one of them leaves out is not. */
static bool is_disagreed(const Run *run, const JobJoint *joint) {
  for (size_t i = 0; i < run->findings->list.n; i++) {
    const Finding *finding = run->findings->list.at[i];
    if (finding->rule == RULE_SHEETS_DISAGREE && text_is(finding->subject, joint->name))
      return true;
  }
  return false;
}

void check_places(Run *run, const Job *job) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    const WholeNumber *count = &joint->hardware->count;
    if (!first_of_name(job, i)) continue;
    if (joint->hardware->places.n && count->said && (size_t)count->n != joint->hardware->places.n) {
      Finding *finding =
          finding_add(run, RULE_ORDER_WRONG, count->at, "%s: count says %ld, %zu places are given",
                      joint->label, count->n, joint->hardware->places.n);
      finding_subject(finding, joint->name);
      finding_way_out(run, finding, "count them on the sheet");
    }
    if (joint->bundle && joint->bundle->order.n && joint->place_names.n) order_complete(run, joint);
    if (joint->order_proposed && joint->place_names.n > 2 && !is_disagreed(run, joint)) {
      Finding *finding = finding_add(
          run, RULE_ORDER_PROPOSED, joint->bundle ? joint->bundle->at : joint->hardware->at,
          "%s: the sheet gives no order; one from the centre outwards is proposed", joint->label);
      finding_subject(finding, joint->name);
    }
  }
}

void check_engagement(Run *run, const Job *job) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    const JointFigures *figures = &joint->figures;
    const Expr *length = &joint->hardware->engagement, *hole = &joint->hardware->hole_depth;
    if (!first_of_name(job, i)) continue;
    if (figures->strip_load > 0 && figures->proof_load > 0 &&
        figures->strip_load < figures->proof_load) {
      Finding *finding = finding_add(
          run, RULE_ENGAGEMENT_SHORT, length->at,
          "%s: the thread in %s strips at %s, before the fastener's proof load %s",
          joint_said(run, joint),
          joint->hardware->into_material.entry ? joint->hardware->into_material.entry->name.s
                                               : "its part",
          kilonewton(run, figures->strip_load), kilonewton(run, figures->proof_load));
      finding_subject(finding, joint->name);
      finding_way_out(run, finding,
                      "a longer engagement, a thread insert, or a lower class with its own torque");
    }
    if (hole->kind == EXPR_LITERAL && length->kind == EXPR_LITERAL &&
        hole->literal.low < length->literal.high) {
      Finding *finding = finding_add(run, RULE_BOTTOMS_OUT, hole->at,
                                     "%s: the fastener reaches %s into a thread %s deep",
                                     joint->label, literal_print(run->arena, &length->literal),
                                     literal_print(run->arena, &hole->literal));
      finding_subject(finding, joint->name);
      finding_way_out(run, finding, "a shorter fastener, or a washer under the head");
    }
  }
}
