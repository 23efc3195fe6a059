/* Torque cards at their step, and the sequence of several joints. */
#include "compose/joint_texts.h"

#include "model/job_words.h"

#include <math.h>
#include <string.h>

static const char *amount_said(Composer *c, const PlanPass *pass) {
  const char *own = quantity_print(c->arena, pass->amount, pass->unit, pass->places);
  const char *other = pass->kind == PASS_TO || pass->kind == PASS_FINAL
                          ? joint_other_unit(c, pass->amount, pass->unit)
                          : "";
  return other[0] ? arena_printf(c->arena, "%s (%s)", own, other) : own;
}

/* "1 turn", "2 turns", "90 deg" */
static const char *turns_said(Composer *c, const PlanPass *pass) {
  const char *said = amount_said(c, pass);
  bool more = unit_from_si(pass->unit, pass->amount) > 1 + 1e-9;
  return more && text_is(pass->unit->print, "turn") ? arena_printf(c->arena, "%ss", said) : said;
}

static const char *until_stretched(Composer *c, const JobJoint *joint) {
  if (!joint_is_by_stretch(joint)) return "tighten";
  return arena_printf(c->arena, "until it is %s longer",
                      literal_print(c->arena, &joint->bundle->stretch.literal));
}

/* Another wrench than the card's, and what it is set to where an adapter changes that. */
static const char *with_said(Composer *c, const PlanPass *pass, const JobJoint *card) {
  const Wrench *wrench = pass->wrench;
  if (!wrench) return "";
  bool other = wrench != card->figures.wrench;
  bool adapted = fabs(pass->setting - pass->amount) > 1e-9;
  if (!other && !adapted) return "";
  JointFigures figures = {.wrench = wrench,
                          .setting = pass->setting,
                          .unrounded = pass->unrounded,
                          .torque = pass->amount,
                          .torque_unit = pass->unit,
                          .torque_places = pass->places};
  const char *set = adapted ? arena_printf(c->arena, " set to %s", joint_setting(c, &figures)) : "";
  return arena_printf(c->arena, ", wrench %s%s", wrench_name(wrench), set);
}

/* One operation in words a hand can follow. */
static const char *pass_said(Composer *c, const PlanPass *pass, const JobJoint *card) {
  const char *with = with_said(c, pass, card);
  switch (pass->kind) {
  case PASS_TO:
    return arena_printf(c->arena, "to %s%s", amount_said(c, pass), with);
  case PASS_FINAL:
    if (!(pass->amount > 0)) return until_stretched(c, pass->joint);
    return arena_printf(c->arena, "final, to %s%s", amount_said(c, pass), with);
  case PASS_HAND:
    return "hand tight";
  case PASS_SEAT:
    return "until seated";
  case PASS_ANGLE:
    return arena_printf(c->arena, "turn on by %s", turns_said(c, pass));
  case PASS_BACK_OFF:
    return arena_printf(c->arena, "back off by %s%s", turns_said(c, pass),
                        pass->fasteners.n > 2 ? ", from the last to the first" : "");
  case PASS_UNDO:
    return "undo, take off";
  case PASS_TURN_OVER:
    return arena_printf(c->arena, "turn the engine over by %s", turns_said(c, pass));
  case PASS_CHECK:
    return pass->text ? pass->text : "check";
  case PASS_OWN:
  case PASS_RETORQUE:
    break; /* plan puts the joint's own passes in its place */
  }
  return "";
}

static Words turns_of(Composer *c, const PlanPass *pass) {
  Words turns = {0};
  for (size_t i = 0; i < pass->fasteners.n; i++)
    vec_push(c->arena, &turns, joint_turn(c, pass->joint, pass->fasteners.at[i]));
  return turns;
}

/* What goes between wrench and fastener. An adapter changes the setting, so the card says
 * how it stands: out of line the setting would be wrong. */
static const char *drive_said(Composer *c, const JobJoint *joint) {
  const char *drive = joint->hardware->drive.s;
  const JointDecl *bundle = joint->bundle;
  if (!bundle || bundle->adapter.kind != EXPR_LITERAL) return drive;
  const Expr *angle = &bundle->adapter_angle;
  bool turned = angle->kind == EXPR_LITERAL && angle->literal.nominal > 0;
  return arena_printf(c->arena, "%s, %s%s, adds %s", drive ? drive : "adapter",
                      turned ? "at " : "in line with the wrench",
                      turned ? literal_print(c->arena, &angle->literal) : "",
                      literal_print(c->arena, &bundle->adapter.literal));
}

static void wrench_fields(Composer *c, TorqueCard *card, const JointFigures *figures) {
  const Wrench *wrench = figures->wrench;
  if (!wrench) return;
  card->wrench = arena_printf(c->arena, "%s, %s", wrench_name(wrench),
                              wrench->range.kind == EXPR_LITERAL
                                  ? literal_print(c->arena, &wrench->range.literal)
                                  : "range not given");
  card->setting =
      arena_printf(c->arena, "%s%s", joint_setting(c, figures), joint_rounded(c->arena, figures));
}

/* The operations of this step on its one joint and between (turning the engine, a check); of
 * several joints the sequence of the step tells them. */
static void passes(Composer *c, TorqueCard *card, const PlanStep *step, const JobJoint *joint) {
  if (step->joints.n > 1) return;
  for (size_t i = 0; i < step->passes.n; i++) {
    const PlanPass *pass = &step->passes.at[i];
    if (pass->joint != joint && pass->joint) continue;
    TorquePass line = {.what = pass_said(c, pass, joint)};
    if (pass->joint) line.ticks = turns_of(c, pass);
    vec_push(c->arena, &card->passes, line);
  }
}

/* How the numbers run; where the sheet calls the places by words, those. */
static const char *order_said(Composer *c, const JobJoint *joint) {
  if (strspn(joint->order.at[0], "0123456789") == strlen(joint->order.at[0]))
    return arena_printf(c->arena, "1 to %zu", joint->order.n);
  return text_join(c->arena, &joint->order, ", ");
}

/* The torque that a step leaves the joint at, where that is short of the final one; NULL: it is
 * the final one, or none. */
static const PlanPass *only_so_far(const PlanStep *step, const JobJoint *joint) {
  const PlanPass *last = NULL;
  for (size_t i = 0; i < step->passes.n; i++) {
    const PlanPass *pass = &step->passes.at[i];
    if (pass->joint == joint && pass->kind != PASS_CHECK) last = pass;
  }
  return last && last->kind == PASS_TO && last->amount < joint->figures.torque * 0.999 ? last
                                                                                       : NULL;
}

/* On the card of such a step the final torque would be taken for what to do. */
static void take_so_far(Composer *c, TorqueCard *card, const JobJoint *joint,
                        const PlanPass *pass) {
  card->share = arena_printf(c->arena, "only so far here: the final torque is %s",
                             joint_torque_said(c, joint));
  card->torque = quantity_print(c->arena, pass->amount, pass->unit, pass->places);
  card->other = joint_other_unit(c, pass->amount, pass->unit);
  if (!pass->wrench) return;
  JointFigures figures = joint->figures;
  figures.wrench = pass->wrench;
  figures.setting = pass->setting > 0 ? pass->setting : pass->amount;
  figures.unrounded = pass->setting > 0 ? pass->unrounded : pass->amount;
  figures.torque = pass->amount;
  figures.torque_unit = pass->unit;
  figures.torque_places = pass->places;
  wrench_fields(c, card, &figures);
}

void add_torque_card(Composer *c, const PlanStep *step, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  int figure = add_pattern(c, joint);
  Block *block = block_add(c, BLOCK_TORQUE);
  TorqueCard *card = &block->torque;
  card->joint = joint_name(c->arena, joint);
  card->torque = joint_torque_said(c, joint);
  card->other =
      figures->torque > 0 ? joint_other_unit(c, figures->torque, figures->torque_unit) : "";
  card->thread =
      figures->thread_known ? figures->thread.name : said_or(&joint->hardware->thread, "");
  card->strength = joint->hardware->strength.entry ? joint->hardware->strength.entry->name.s : "";
  card->count = joint_count(c, joint);
  card->lubricant = joint_lubricant(c, joint);
  card->threadlock = joint_threadlock(joint);
  card->drive = drive_said(c, joint);
  card->reuse = joint_reuse(c, joint);
  card->source =
      joint->winner.entry ? source_print(c->arena, joint->winner.entry, joint->winner.page) : "";
  card->share = joint_share_said(c, joint);
  card->order = joint->order.n > 1 ? order_said(c, joint) : NULL;
  card->order_proposed = joint->order_proposed;
  card->figure = figure;
  wrench_fields(c, card, figures);
  const char *note = joint_note(joint);
  if (note) card->share = card->share ? arena_printf(c->arena, "%s; %s", note, card->share) : note;
  const PlanPass *so_far = only_so_far(step, joint);
  if (so_far) take_so_far(c, card, joint, so_far);
  passes(c, card, step, joint);
  add_lengths(c, step, joint);
}

/* A joint that the step only slackens or undoes has no torque to be seen. */
bool is_tightened(const PlanStep *step, const JobJoint *joint) {
  for (size_t i = 0; i < step->passes.n; i++) {
    PassKind kind = step->passes.at[i].kind;
    if (step->passes.at[i].joint != joint) continue;
    if (kind != PASS_UNDO && kind != PASS_BACK_OFF && kind != PASS_CHECK) return true;
  }
  return false;
}

/* Several joints in one sequence: the cards say in which state and with what, this table when and
 * how tight. */
void add_sequence(Composer *c, const PlanStep *step) {
  if (step->joints.n < 2) return;
  Block *table = block_add(c, BLOCK_TABLE);
  table->text = "In this order";
  add_column(c, table, "No.", 10, true);
  add_column(c, table, "Joint", 50, false);
  add_column(c, table, "What", 56, false);
  add_column(c, table, "Done, fastener by fastener", 56, false);
  for (size_t i = 0; i < step->passes.n; i++) {
    const PlanPass *pass = &step->passes.at[i];
    add_row(c, table);
    add_cell(c, table, CELL_NUMBER, arena_printf(c->arena, "%zu", i + 1));
    add_cell(c, table, CELL_TEXT, pass->joint ? joint_name(c->arena, pass->joint) : "");
    add_cell(c, table, CELL_TEXT,
             pass_said(c, pass, pass->joint ? pass->joint : step->joints.at[0]));
    table->rows.at[i].at[2].bold = true;
    add_cell(c, table, CELL_TICK, NULL);
    if (pass->joint) table->rows.at[i].at[3].ticks = turns_of(c, pass);
  }
}
