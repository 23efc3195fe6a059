/* What belongs to a torque: lubricant, threadlocker, places, reuse. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"

/* Either the torque or the hand is a slip. */
static void by_hand(Run *run, const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  const char *said = bundle->torque.kind == EXPR_LITERAL
                         ? literal_print(run->arena, &bundle->torque.literal)
                         : "one";
  Finding *finding =
      finding_add(run, RULE_PASSES_WRONG, bundle->torque.at,
                  "%s is tightened by hand and has a torque, %s", joint->label, said);
  finding_subject(finding, joint->name);
  finding_note(run, finding, bundle->method.at, "by hand is said here");
  finding_way_out(run, finding, "take out `method: hand`, or the torque");
}

static void lubricant(Run *run, const JobJoint *joint, bool in_work) {
  const JointDecl *bundle = joint->bundle;
  const Ref *said = &bundle->lubricant;
  bool torque = bundle->torque.kind != EXPR_NONE;
  bool locked = bundle->threadlock.entry != NULL;
  if (torque && text_is(bundle->method.s, "hand")) by_hand(run, joint);
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
    if (!in_work) return;
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

static void reuse(Run *run, const JobJoint *joint) {
  const Said *said = &joint->hardware->reuse;
  if (text_is(said->s, "limit") && joint->hardware->scrap_length.kind == EXPR_NONE) {
    Finding *finding =
        finding_add(run, RULE_REUSED_STRETCH, said->at,
                    "%s may be used again up to a length that is not given", joint->label);
    finding_subject(finding, joint->name);
    finding_way_out(run, finding, "add `scrap_length:` from the sheet, or set `reuse: new`");
    return;
  }
  if (!joint_is_stretched(joint) || text_is(said->s, "new") || text_is(said->s, "limit")) return;
  Finding *finding = finding_add(run, RULE_REUSED_STRETCH, said->s ? said->at : joint->hardware->at,
                                 "%s is tightened by %s and may be used again", joint->label,
                                 joint->bundle->method.s);
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "set `reuse: new`, or `reuse: limit` with `scrap_length:`");
}

static bool has_angle(const JointDecl *bundle) {
  for (size_t i = 0; i < bundle->passes.n; i++)
    if (bundle->passes.at[i].kind == PASS_ANGLE) return true;
  return bundle->angle.kind != EXPR_NONE;
}

/* Tightened by angle or to yield: the turn is what counts. */
static void angle_there(Run *run, const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  const char *method = bundle->method.s;
  if (!text_is(method, "angle") && !text_is(method, "yield")) return;
  if (has_angle(bundle)) return;
  Finding *finding =
      finding_add(run, RULE_STATED_TORQUE, bundle->method.at,
                  "%s is tightened by %s and no angle is given", joint->label, method);
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "add `angle:` from the sheet");
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

void check_bundle(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (!joint->bundle || !joint_leads(job, i)) continue;
    torque_there(run, joint);
    angle_there(run, joint);
    lubricant(run, joint, plan_tightens(plan, joint));
    reuse(run, joint);
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

void check_places(Run *run, const Job *job, const Plan *plan) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    const WholeNumber *count = &joint->hardware->count;
    if (!joint_leads(job, i)) continue;
    if (joint->hardware->places.n && count->said && (size_t)count->n != joint->hardware->places.n) {
      Finding *finding =
          finding_add(run, RULE_ORDER_WRONG, count->at, "%s: count says %ld, %zu places are given",
                      joint->label, count->n, joint->hardware->places.n);
      finding_subject(finding, joint->name);
      finding_way_out(run, finding, "count them on the sheet");
    }
    if (joint->bundle && joint->bundle->order.n && joint->place_names.n) order_complete(run, joint);
    if (joint->order_proposed && joint->place_names.n > 2 && !is_disagreed(run, joint) &&
        plan_tightens(plan, joint)) {
      Finding *finding = finding_add(
          run, RULE_ORDER_PROPOSED, joint->bundle ? joint->bundle->at : joint->hardware->at,
          joint->hardware->places.n
              ? "%s: the sheet gives no order; one from the centre outwards is proposed"
              : "%s: the sheet gives neither order nor places; the order is that of their numbers",
          joint->label);
      finding_subject(finding, joint->name);
    }
  }
}
