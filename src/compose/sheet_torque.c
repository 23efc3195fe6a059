/* All joints at a glance, those tightened again, those left alone. */
#include "compose/joint_texts.h"

#include "model/job_words.h"

/* "2 x 4": where each cylinder has the joint, how often and how many of each. */
static const char *count_of(Composer *c, const JobJoint *joint) {
  size_t copies = 0;
  for (size_t i = 0; i < c->job->joints.n; i++)
    copies += text_is(c->job->joints.at[i]->name, joint->name);
  const char *each = joint_count(c, joint);
  return copies > 1 ? arena_printf(c->arena, "%zu x %s", copies, each) : each;
}

/* A box for each time one of the joint's copies is brought to its torque, called by the step where
 * its card stands; by step and member where one step does several. */
static Words finals_of(Composer *c, const JobJoint *joint) {
  Words names = {0};
  for (size_t i = 0; i < c->plan->steps.n; i++) {
    const PlanStep *step = c->plan->steps.at[i];
    size_t here = 0, before = names.n;
    for (size_t j = 0; j < step->joints.n; j++) {
      const JobJoint *there = step->joints.at[j];
      if (!text_is(there->name, joint->name) || !is_tightened(step, there)) continue;
      here++;
      vec_push(c->arena, &names,
               arena_printf(c->arena, "%d %s", step->number,
                            there->instance->id ? there->instance->member : ""));
    }
    if (here == 1) names.at[before] = arena_printf(c->arena, "%d", step->number);
  }
  return names;
}

/* One row a joint: a cylinder's copies share their sheet. */
static void glance_row(Composer *c, Block *table, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  add_row(c, table);
  add_cell(c, table, CELL_TEXT, joint->label);
  add_cell(c, table, CELL_TEXT,
           arena_printf(c->arena, "%s\n%s %s", count_of(c, joint), figures->thread.name,
                        joint->hardware->strength.id ? joint->hardware->strength.id : ""));
  add_cell(c, table, CELL_NUMBER, joint_torque_said(c, joint));
  table->rows.at[table->rows.n - 1].at[2].large = true;
  add_cell(c, table, CELL_NUMBER,
           figures->torque > 0 ? joint_other_unit(c, figures->torque, figures->torque_unit) : "");
  table->rows.at[table->rows.n - 1].at[3].bold = true;
  bool locked = joint->bundle && joint->bundle->threadlock.entry;
  add_cell(c, table, CELL_TEXT, locked ? joint_threadlock(joint) : joint_lubricant(c, joint));
  add_cell(c, table, CELL_TEXT,
           figures->wrench ? arena_printf(c->arena, "%s at %s", wrench_name(figures->wrench),
                                          joint_setting(c, figures))
                           : "");
  add_cell(c, table, CELL_TICK, NULL);
  Row *row = &table->rows.at[table->rows.n - 1];
  row->at[row->n - 1].ticks = finals_of(c, joint);
}

/* Joints that are tightened once more later. */
static void add_again(Composer *c) {
  Block *table = NULL;
  for (size_t i = 0; i < c->job->joints.n; i++) {
    const JobJoint *joint = c->job->joints.at[i];
    if (!joint_leads(c->job, i) || !plan_tightens(c->plan, joint)) continue;
    if (!joint->bundle || !joint->bundle->retorque_after.s) continue;
    if (!table) {
      group_begin(c);
      table = block_add(c, BLOCK_TABLE);
      table->text = "Tightened again";
      add_column(c, table, "Joint", 50, false);
      add_column(c, table, "When", 80, false);
      add_column(c, table, "To", 30, true);
      add_column(c, table, "Done", 14, false);
    }
    add_row(c, table);
    add_cell(c, table, CELL_TEXT, joint->label);
    add_cell(c, table, CELL_TEXT, joint_again_print(c->arena, joint));
    add_cell(c, table, CELL_NUMBER, joint_torque_said(c, joint));
    add_cell(c, table, CELL_TICK, NULL);
  }
}

/* Joints that stay as they are: the mark across fastener and part is looked at. */
static void add_left_alone(Composer *c) {
  Block *table = NULL;
  for (size_t i = 0; i < c->job->joints.n; i++) {
    const JobJoint *joint = c->job->joints.at[i];
    if (!joint_leads(c->job, i) || !joint->undisturbed) continue;
    if (!table) {
      group_begin(c);
      table = block_add(c, BLOCK_TABLE);
      table->text = "Left undisturbed";
      add_column(c, table, "Joint", 40, false);
      add_column(c, table, "Qty", 9, true);
      add_column(c, table, "Why", 90, false);
      add_column(c, table, "Witness mark in line", 24, false);
    }
    add_row(c, table);
    add_cell(c, table, CELL_TEXT, joint->label);
    add_cell(c, table, CELL_NUMBER, count_of(c, joint));
    add_cell(c, table, CELL_TEXT, said_or(&joint->undisturbed->value, ""));
    add_cell(c, table, CELL_TICK, NULL);
  }
}

static void add_untouched(Composer *c) {
  Words labels = {0};
  for (size_t i = 0; i < c->job->joints.n; i++) {
    const JobJoint *joint = c->job->joints.at[i];
    if (!joint_leads(c->job, i) || joint->undisturbed || plan_tightens(c->plan, joint)) continue;
    vec_push(c->arena, &labels, joint->label);
  }
  if (!labels.n) return;
  group_begin(c);
  add_text(c, arena_printf(c->arena, "Not touched by this work: %s.",
                           text_join(c->arena, &labels, ", ")));
}

void sheet_torque(Composer *c) {
  sheet_begin(c, "torque", "Torque sheet");
  Block *table = NULL;
  for (size_t i = 0; i < c->job->joints.n; i++) {
    if (!joint_leads(c->job, i) || !plan_tightens(c->plan, c->job->joints.at[i])) continue;
    if (!table || table->rows.n >= 22) {
      group_begin(c);
      if (!table) {
        add_heading(c, 1, "All joints at a glance");
        add_text(c, "A torque holds only with the thread condition beside it. The passes and the "
                    "order stand on the card at the step.");
      }
      table = block_add(c, BLOCK_TABLE);
      add_column(c, table, "Joint", 34, false);
      add_column(c, table, "Qty, thread, class", 27, false);
      add_column(c, table, "Torque", 28, true);
      add_column(c, table, "Other unit", 22, true);
      add_column(c, table, "Thread condition", 28, false);
      add_column(c, table, "Wrench set", 27, false);
      add_column(c, table, "Final, at step", 27, false);
    }
    glance_row(c, table, c->job->joints.at[i]);
  }
  if (!table) {
    group_begin(c);
    add_text(c, "This build has no joints.");
  }
  add_adapter_tables(c);
  add_again(c);
  add_left_alone(c);
  add_untouched(c);
}
