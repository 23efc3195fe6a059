/* Torque cards at their step, and the sheet of all joints at a glance. */
#include "compose/composer.h"

#include "base/decimal.h"
#include "model/job_words.h"

#include <math.h>
#include <string.h>

static const char *percent(Composer *c, double share) {
  return decimal_print(c->arena, share * 100, 0);
}

static const char *other_unit(Composer *c, double si, const Unit *unit) {
  const Unit *other = unit_other(unit, si);
  return other ? quantity_print(c->arena, si, other, other == unit_find("lbf.in") ? 0 : 1) : "";
}

static const char *torque_said(Composer *c, const JointFigures *figures) {
  if (!(figures->torque > 0)) return "by hand";
  return quantity_print(c->arena, figures->torque, figures->torque_unit, figures->torque_places);
}

static const char *amount_said(Composer *c, const PlanPass *pass) {
  const char *own = quantity_print(c->arena, pass->amount, pass->unit, pass->places);
  const char *other = pass->kind == PASS_TO || pass->kind == PASS_FINAL
                          ? other_unit(c, pass->amount, pass->unit)
                          : "";
  return other[0] ? arena_printf(c->arena, "%s (%s)", own, other) : own;
}

/* "1 turn", "2 turns", "90 deg" */
static const char *turns_said(Composer *c, const PlanPass *pass) {
  const char *said = amount_said(c, pass);
  bool one = text_is(said, "1 turn"), turns = text_is(pass->unit->print, "turn");
  return turns && !one ? arena_printf(c->arena, "%ss", said) : said;
}

static const char *wrench_said(const Wrench *wrench) {
  return wrench ? said_or(&wrench->id, wrench->name) : NULL;
}

/* One operation in words a hand can follow. */
static const char *pass_said(Composer *c, const PlanPass *pass, const JobJoint *card) {
  const Wrench *wrench = pass->wrench;
  const char *with = wrench && wrench != card->figures.wrench
                         ? arena_printf(c->arena, ", wrench %s", wrench_said(wrench))
                         : "";
  switch (pass->kind) {
  case PASS_TO:
    return arena_printf(c->arena, "to %s%s", amount_said(c, pass), with);
  case PASS_FINAL:
    return arena_printf(c->arena, "final, to %s%s", amount_said(c, pass), with);
  case PASS_HAND:
    return "hand tight";
  case PASS_SEAT:
    return "until seated";
  case PASS_ANGLE:
    return arena_printf(c->arena, "turn on by %s", turns_said(c, pass));
  case PASS_BACK_OFF:
    return arena_printf(c->arena, "back off by %s", turns_said(c, pass));
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

static const char *listed(Composer *c, const Words *words) {
  Text text = text_new(c->arena);
  for (size_t i = 0; i < words->n; i++) text_addf(&text, "%s%s", i ? ", " : "", words->at[i]);
  return text_done(&text);
}

/* A fastener is called by its turn in the order, as the figure numbers it: one numbering
 * on the whole card, whatever the sheet calls the places. */
static const char *turn_said(Composer *c, const JobJoint *joint, const char *place) {
  for (size_t i = 0; i < joint->order.n; i++)
    if (text_is(joint->order.at[i], place)) return arena_printf(c->arena, "%zu", i + 1);
  return place;
}

static Words turns_of(Composer *c, const PlanPass *pass) {
  Words turns = {0};
  for (size_t i = 0; i < pass->fasteners.n; i++)
    vec_push(c->arena, &turns, turn_said(c, pass->joint, pass->fasteners.at[i]));
  return turns;
}

static const char *count_said(Composer *c, const JobJoint *joint) {
  const WholeNumber *count = &joint->hardware->count;
  return arena_printf(c->arena, "%ld", count->said ? count->n : 1L);
}

static const char *lubricant_said(const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  if (!bundle || !bundle->lubricant.id) return "not stated";
  if (bundle->lubricant.entry) return bundle->lubricant.entry->name.s;
  return text_is(bundle->lubricant.id, "none") ? "none: clean and dry" : "not stated";
}

static const char *threadlock_said(const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  return bundle && bundle->threadlock.entry ? bundle->threadlock.entry->name.s : "none";
}

static const char *reuse_said(const JobJoint *joint) {
  const char *reuse = joint->hardware->reuse.s;
  if (text_is(reuse, "new")) return "new each time";
  if (text_is(reuse, "limit")) return "within its length limit";
  return "may be used again";
}

static const char *share_said(Composer *c, const JointFigures *figures) {
  if (!figures->preload_known || !(figures->torque > 0)) return NULL;
  return arena_printf(c->arena, "preload %s kN, %s %% of proof (%s to %s)",
                      decimal_print(c->arena, figures->preload_middle_k / 1000, 1),
                      percent(c, figures->share_middle_k), percent(c, figures->share_high_k),
                      percent(c, figures->share_low_k));
}

/* As the sheet's torque without an adapter; with one, to three figures: 15.65 N.m
 * must not become 16. */
static const char *setting_said(Composer *c, const JointFigures *figures) {
  if (!figures->wrench) return "";
  double setting = unit_from_si(figures->torque_unit, figures->setting);
  bool same = fabs(figures->setting - figures->torque) < 1e-9;
  int places = same ? figures->torque_places : setting < 10 ? 2 : setting < 100 ? 1 : 0;
  return quantity_print(c->arena, figures->setting, figures->torque_unit, places);
}

static void wrench_fields(Composer *c, TorqueCard *card, const JointFigures *figures) {
  const Wrench *wrench = figures->wrench;
  if (!wrench) return;
  card->wrench = arena_printf(c->arena, "%s, %s", wrench_said(wrench),
                              wrench->range.kind == EXPR_LITERAL
                                  ? literal_print(c->arena, &wrench->range.literal)
                                  : "range not given");
  card->setting = setting_said(c, figures);
}

static const char *joint_said(Composer *c, const JobJoint *joint) {
  return joint->instance->id
             ? arena_printf(c->arena, "%s, %s", joint->label, joint->instance->label)
             : joint->label;
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
  return listed(c, &joint->order);
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
                             torque_said(c, &joint->figures));
  card->torque = quantity_print(c->arena, pass->amount, pass->unit, pass->places);
  card->other = other_unit(c, pass->amount, pass->unit);
  if (!pass->wrench) return;
  JointFigures figures = joint->figures;
  figures.wrench = pass->wrench;
  figures.setting = pass->setting > 0 ? pass->setting : pass->amount;
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
  card->joint = joint_said(c, joint);
  card->torque = torque_said(c, figures);
  card->other = figures->torque > 0 ? other_unit(c, figures->torque, figures->torque_unit) : "";
  card->thread =
      figures->thread_known ? figures->thread.name : said_or(&joint->hardware->thread, "");
  card->strength = joint->hardware->strength.entry ? joint->hardware->strength.entry->name.s : "";
  card->count = count_said(c, joint);
  card->lubricant = lubricant_said(joint);
  card->threadlock = threadlock_said(joint);
  card->reuse = reuse_said(joint);
  card->source =
      joint->winner.entry ? source_print(c->arena, joint->winner.entry, joint->winner.page) : "";
  card->share = share_said(c, figures);
  card->order = joint->order.n > 1 ? order_said(c, joint) : NULL;
  card->order_proposed = joint->order_proposed;
  card->figure = figure;
  wrench_fields(c, card, figures);
  const PlanPass *so_far = only_so_far(step, joint);
  if (so_far) take_so_far(c, card, joint, so_far);
  passes(c, card, step, joint);
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
    add_cell(c, table, CELL_TEXT, pass->joint ? joint_said(c, pass->joint) : "");
    add_cell(c, table, CELL_TEXT,
             pass_said(c, pass, pass->joint ? pass->joint : step->joints.at[0]));
    table->rows.at[i].at[2].bold = true;
    add_cell(c, table, CELL_TICK, NULL);
    if (pass->joint) table->rows.at[i].at[3].ticks = turns_of(c, pass);
  }
}

static bool is_repeated(const Job *job, size_t index) {
  for (size_t i = 0; i < index; i++)
    if (text_is(job->joints.at[i]->name, job->joints.at[index]->name)) return true;
  return false;
}

/* One row a joint: a cylinder's copies share their sheet. */
static void glance_row(Composer *c, Block *table, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  add_row(c, table);
  add_cell(c, table, CELL_TEXT, joint->label);
  add_cell(c, table, CELL_NUMBER, count_said(c, joint));
  add_cell(c, table, CELL_TEXT,
           arena_printf(c->arena, "%s %s", figures->thread.name,
                        joint->hardware->strength.id ? joint->hardware->strength.id : ""));
  add_cell(c, table, CELL_NUMBER, torque_said(c, figures));
  table->rows.at[table->rows.n - 1].at[3].bold = true;
  add_cell(c, table, CELL_NUMBER,
           figures->torque > 0 ? other_unit(c, figures->torque, figures->torque_unit) : "");
  bool locked = joint->bundle && joint->bundle->threadlock.entry;
  add_cell(c, table, CELL_TEXT, locked ? threadlock_said(joint) : lubricant_said(joint));
  add_cell(c, table, CELL_TEXT,
           figures->wrench ? arena_printf(c->arena, "%s at %s", wrench_said(figures->wrench),
                                          setting_said(c, figures))
                           : "");
  add_cell(c, table, CELL_TICK, NULL);
}

void sheet_torque(Composer *c) {
  sheet_begin(c, "torque", "Torque sheet");
  Block *table = NULL;
  for (size_t i = 0; i < c->job->joints.n; i++) {
    if (is_repeated(c->job, i) || !joint_in_work(c, c->job->joints.at[i])) continue;
    if (!table || table->rows.n >= 22) {
      group_begin(c);
      if (!table) {
        add_heading(c, 1, "All joints at a glance");
        add_text(c, "A torque holds only with the thread condition beside it. The passes and the "
                    "order stand on the card at the step.");
      }
      table = block_add(c, BLOCK_TABLE);
      add_column(c, table, "Joint", 38, false);
      add_column(c, table, "Qty", 9, true);
      add_column(c, table, "Thread, class", 28, false);
      add_column(c, table, "Torque", 22, true);
      add_column(c, table, "Other unit", 22, true);
      add_column(c, table, "Thread condition", 34, false);
      add_column(c, table, "Wrench set", 24, false);
      add_column(c, table, "Final", 12, false);
    }
    glance_row(c, table, c->job->joints.at[i]);
  }
  if (!table) {
    group_begin(c);
    add_text(c, "This build has no joints.");
  }
}
