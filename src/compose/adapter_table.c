/* What a wrench is set to with an adapter of another length, or another wrench on it. */
#include "compose/joint_texts.h"

#include "model/job_words.h"
#include "trade/wrench.h"

#include <math.h>
#include <string.h>

#define STEP_LENGTH 0.005 /* m, between rows */
#define STEPS_ASIDE 3     /* rows above and below the card's adapter */

/* Wrench and adapter as an end of the row has them; the whole row has to be in the range. */
static bool holds(const Wrench *wrench, double torque, double adapter, double angle) {
  const Literal *range = &wrench->range.literal;
  for (int side = -1; side <= 1; side++) {
    double setting = wrench_setting(torque, wrench->length.literal.nominal,
                                    adapter + side * STEP_LENGTH / 2, angle);
    if (!isfinite(setting) || !wrench_is_in_range(setting, range->low, range->high)) return false;
  }
  return true;
}

static bool is_known(const Wrench *wrench) {
  return wrench->length.kind == EXPR_LITERAL && wrench->range.kind == EXPR_LITERAL;
}

static void add_square(Composer *c, BenchTable *bench, const JobJoint *joint, const Wrench *wrench,
                       double adapter) {
  const Expr *bend = &joint->bundle->adapter_angle;
  double angle = bend->kind == EXPR_LITERAL ? bend->literal.nominal : 0;
  Cell cell = {.kind = CELL_STOP, .text = "STOP"};
  JointFigures figures = joint->figures;
  figures.wrench = wrench;
  double length = wrench->length.literal.nominal;
  figures.unrounded = wrench_setting(figures.torque, length, adapter, angle);
  double gain = figures.torque / figures.unrounded;
  figures.setting = wrench_division(figures.unrounded, wrench_resolution(wrench), gain,
                                    figures.torque_low, figures.torque_high);
  if (holds(wrench, figures.torque, adapter, angle) &&
      wrench_is_near(figures.setting * gain, figures.torque, figures.torque_low,
                     figures.torque_high)) {
    const char *said = joint_setting(c, &figures);
    const char *unit = strchr(said, ' ');
    bool same = unit && text_is(unit + 1, figures.torque_unit->print);
    cell.kind = CELL_NUMBER;
    cell.text = same ? arena_text(c->arena, said, (size_t)(unit - said)) : said;
  }
  vec_push(c->arena, &bench->cells, cell);
}

static void add_rows(Composer *c, BenchTable *bench, const JobJoint *joint) {
  double middle = joint->bundle->adapter.literal.nominal;
  const Unit *unit = unit_find("mm");
  for (int i = -STEPS_ASIDE; i <= STEPS_ASIDE; i++) {
    double adapter = middle + i * STEP_LENGTH;
    if (adapter < STEP_LENGTH) continue;
    vec_push(c->arena, &bench->row_names, number_print(c->arena, adapter, unit, 0));
    for (size_t w = 0; w < c->job->shop->wrenches.n; w++)
      if (is_known(&c->job->shop->wrenches.at[w]))
        add_square(c, bench, joint, &c->job->shop->wrenches.at[w], adapter);
  }
}

static void add_table(Composer *c, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  group_begin(c);
  BenchTable *bench = &block_add(c, BLOCK_BENCH)->bench;
  bench->title = arena_printf(
      c->arena, "%s: wrench for %s by length of the adapter", joint->label,
      quantity_print(c->arena, figures->torque, figures->torque_unit, figures->torque_places));
  bench->row_label = "Adapter, middle of its square to middle of the fastener";
  bench->row_unit = "mm";
  bench->column_label = "Wrench, from its square to the middle of its grip";
  bench->rounding = "Between two rows take the nearer.";
  bench->valid_for = arena_printf(c->arena, "valid only for revision %.8s", c->job->revision);
  for (size_t w = 0; w < c->job->shop->wrenches.n; w++) {
    const Wrench *wrench = &c->job->shop->wrenches.at[w];
    if (!is_known(wrench)) continue;
    vec_push(c->arena, &bench->column_names,
             arena_printf(c->arena, "%s, %s", wrench_name(wrench),
                          literal_print(c->arena, &wrench->length.literal)));
  }
  vec_push(c->arena, &bench->answers,
           arena_printf(c->arena, "Wrench set to %s", figures->torque_unit->print));
  add_rows(c, bench, joint);
}

bool joint_has_adapter(const JobJoint *joint) {
  return joint->bundle && joint->bundle->adapter.kind == EXPR_LITERAL &&
         joint->figures.torque > 0 && joint->figures.wrench;
}

void add_adapter_tables(Composer *c) {
  for (size_t i = 0; i < c->job->joints.n; i++) {
    const JobJoint *joint = c->job->joints.at[i];
    if (joint_leads(c->job, i) && plan_tightens(c->plan, joint) && joint_has_adapter(joint))
      add_table(c, joint);
  }
}
