/* What a joint's torque does to its fastener: clamp load, shares, stripping, wrench. */
#include "resolve/context.h"

#include "trade/circle.h"
#include "trade/engagement.h"
#include "trade/fit.h"
#include "trade/joint.h"
#include "trade/strength.h"
#include "trade/wrench.h"

#include "base/near.h"

#include <math.h>

/* K where the sheet does not say for which lubricant its torque holds: from
 * anti-seize to plain black (Shigley, Mechanical Engineering Design, 9th ed., table
 * 8-15, runs 0.12 to 0.30). */
#define K_NOT_STATED_LOW  0.10
#define K_NOT_STATED_HIGH 0.30

/* Young's modulus of steel, where no material is named (common practice, no source). */
#define STEEL_MODULUS 205e9

/* What the stud squeezes is taken as a sleeve of three times its diameter less a hole a
 * tenth over it (common practice, no source). */
#define SLEEVE_OUTSIDE 3.0
#define SLEEVE_HOLE    1.1

static double number(Resolver *r, const Expr *expr, const JobJoint *joint, Dim dim,
                     const char *what, double otherwise) {
  Literal literal;
  if (!expr_numbers(r, expr, joint->instance, dim, what, &literal)) return otherwise;
  return literal.nominal;
}

static void thread_of(Resolver *r, JobJoint *joint) {
  const Said *said = &joint->hardware->thread;
  JointFigures *figures = &joint->figures;
  if (!said->s) return;
  figures->thread_known = thread_parse(said->s, &figures->thread);
  if (figures->thread_known) {
    double waist = number(r, &joint->hardware->shank, joint, DIM_LENGTH, "the shank", 0);
    double bore = number(r, &joint->hardware->hollow, joint, DIM_LENGTH, "the bore", 0);
    figures->stress_area = strength_weakest_area(thread_stress_area(&figures->thread), waist, bore);
    return;
  }
  Words names = {0};
  thread_names(r->arena, &names);
  Finding *finding =
      finding_add(r->run, RULE_UNKNOWN_THREAD, said->at,
                  "%s: `%s` is not a thread of a standard series", joint->label, said->s);
  finding_subject(finding, joint->name);
  const char *near = near_word(said->s, &names);
  if (near)
    finding_way_out(r->run, finding, "did you mean %s?", near);
  else
    finding_way_out(r->run, finding, "write it like M10x1.25, M8, 1/4-28 UNF or #10-24 UNC");
}

static bool band_holds(Resolver *r, const JobJoint *joint, const StrengthBand *band) {
  double d = joint->figures.thread.major, slack = 1e-7;
  double over = number(r, &band->over, joint, DIM_LENGTH, "the size from which it holds", -1);
  double up_to =
      number(r, &band->up_to, joint, DIM_LENGTH, "the size up to which it holds", INFINITY);
  return d > over + slack && d <= up_to + slack;
}

static void strength_of(Resolver *r, JobJoint *joint) {
  const Entry *entry = joint->hardware->strength.entry;
  JointFigures *figures = &joint->figures;
  if (!entry || entry->kind != ENTRY_STRENGTH || !figures->thread_known) return;
  for (size_t i = 0; i < entry->is.strength.bands.n; i++) {
    const StrengthBand *band = &entry->is.strength.bands.at[i];
    if (!band_holds(r, joint, band)) continue;
    figures->proof = number(r, &band->proof, joint, DIM_STRESS, "the proof stress", 0);
    figures->yield = number(r, &band->yield, joint, DIM_STRESS, "the yield stress", 0);
    figures->tensile = number(r, &band->tensile, joint, DIM_STRESS, "the tensile strength", 0);
    figures->proof_load = strength_proof_load(figures->stress_area, figures->proof);
    figures->strength_known = figures->proof_load > 0;
    return;
  }
  Finding *finding =
      finding_add(r->run, RULE_NO_VALUE, joint->hardware->strength.at,
                  "%s: %s gives no strength at a diameter of %s", joint->label,
                  entry->name.s ? entry->name.s : entry->id,
                  quantity_print(r->arena, figures->thread.major, unit_find("mm"), -1));
  finding_subject(finding, joint->name);
  finding_way_out(r->run, finding, "check thread and class against the sheet");
}

static void torque_of(Resolver *r, JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  JointFigures *figures = &joint->figures;
  Literal torque;
  figures->torque_unit = unit_find("N.m");
  figures->torque_places = 1;
  if (!bundle || text_is(bundle->method.s, "hand") ||
      !expr_numbers(r, &bundle->torque, joint->instance, DIM_TORQUE, "the torque", &torque))
    return;
  figures->torque = torque.nominal;
  if (!torque.unit) return;
  figures->torque_unit = torque.unit;
  figures->torque_places = torque.places;
}

static bool k_from(Resolver *r, JobJoint *joint, const Expr *k, const char *condition) {
  JointFigures *figures = &joint->figures;
  Literal band;
  if (!expr_numbers(r, k, joint->instance, DIM_NUMBER, "K", &band)) return false;
  figures->k_low = band.low;
  figures->k_middle = band.nominal;
  figures->k_high = band.high;
  figures->condition = condition;
  return isfinite(band.low) && isfinite(band.high) && band.low > 0;
}

/* A lubricant that gives its friction and no K: the long form for this thread. */
static bool k_from_friction(Resolver *r, JobJoint *joint, const Entry *lubricant) {
  JointFigures *figures = &joint->figures;
  Literal thread, head;
  const LubricantEntry *is = &lubricant->is.lubricant;
  if (!expr_numbers(r, &is->thread_friction, joint->instance, DIM_NUMBER, "thread friction",
                    &thread) ||
      !expr_numbers(r, &is->head_friction, joint->instance, DIM_NUMBER, "head friction", &head))
    return false;
  figures->k_low = joint_k_of(&figures->thread, thread.low, head.low);
  figures->k_middle = joint_k_of(&figures->thread, thread.nominal, head.nominal);
  figures->k_high = joint_k_of(&figures->thread, thread.high, head.high);
  figures->condition = lubricant->name.s;
  return isfinite(figures->k_low) && isfinite(figures->k_high) && figures->k_low > 0;
}

/* Which K the torque is for; a threadlocker brings its own. */
static bool k_of(Resolver *r, JobJoint *joint) {
  JointFigures *figures = &joint->figures;
  const Entry *locker = joint->bundle->threadlock.entry;
  const Entry *lubricant = joint->bundle->lubricant.entry;
  if (locker && locker->kind == ENTRY_THREADLOCKER)
    return k_from(r, joint, &locker->is.threadlocker.k, locker->name.s);
  if (lubricant && lubricant->kind == ENTRY_LUBRICANT) {
    if (lubricant->is.lubricant.k.kind == EXPR_NONE) return k_from_friction(r, joint, lubricant);
    return k_from(r, joint, &lubricant->is.lubricant.k, lubricant->name.s);
  }
  if (!text_is(joint->bundle->lubricant.id, "not_stated")) return false;
  figures->k_low = K_NOT_STATED_LOW;
  figures->k_middle = (K_NOT_STATED_LOW + K_NOT_STATED_HIGH) / 2;
  figures->k_high = K_NOT_STATED_HIGH;
  figures->condition = "lubricant not stated";
  return true;
}

static void shares(JointFigures *figures) {
  figures->share_high_k = strength_share(figures->preload_high_k, figures->proof_load);
  figures->share_middle_k = strength_share(figures->preload_middle_k, figures->proof_load);
  figures->share_low_k = strength_share(figures->preload_low_k, figures->proof_load);
}

static void preload_of(Resolver *r, JobJoint *joint) {
  JointFigures *figures = &joint->figures;
  const char *method = joint->bundle ? joint->bundle->method.s : NULL;
  if (!joint->bundle || !figures->thread_known) return;
  bool k_known = k_of(r, joint);
  /* an angle or a stretch on top of the torque: the torque alone says little */
  if (method && !text_is(method, "torque")) return;
  if (!k_known || figures->torque <= 0) return;
  double d = figures->thread.major;
  figures->preload_high_k = joint_preload(figures->torque, figures->k_high, d);
  figures->preload_middle_k = joint_preload(figures->torque, figures->k_middle, d);
  figures->preload_low_k = joint_preload(figures->torque, figures->k_low, d);
  if (!figures->strength_known) return;
  figures->preload_known = true;
  shares(figures);
  if (figures->yield > 0)
    figures->yield_share_low_k =
        joint_share_of_yield(&figures->thread, figures->stress_area, figures->preload_low_k,
                             figures->k_low, figures->yield);
}

static double modulus_of(Resolver *r, const JobJoint *joint, const Entry *material) {
  if (!material || material->kind != ENTRY_MATERIAL) return STEEL_MODULUS;
  return number(r, &material->is.material.modulus, joint, DIM_STRESS, "the modulus", STEEL_MODULUS);
}

static double stud_stiffness(Resolver *r, const JobJoint *joint, double length) {
  return joint_stiffness(modulus_of(r, joint, joint->hardware->stud_material.entry),
                         joint->figures.stress_area, length);
}

/* Elongation, measured: the clamp load follows from the stud alone. */
static void stretch_of(Resolver *r, JobJoint *joint) {
  JointFigures *figures = &joint->figures;
  Literal stretch;
  if (!joint->bundle || !text_is(joint->bundle->method.s, "stretch") || !figures->strength_known ||
      !expr_numbers(r, &joint->bundle->stretch, joint->instance, DIM_LENGTH, "the stretch",
                    &stretch))
    return;
  double length =
      number(r, &joint->hardware->clamped_length, joint, DIM_LENGTH, "the clamped length", 0);
  if (length <= 0 || !isfinite(stretch.low) || !isfinite(stretch.high)) return;
  double stiffness = stud_stiffness(r, joint, length);
  figures->preload_high_k = joint_preload_of_stretch(stretch.low, stiffness);
  figures->preload_middle_k = joint_preload_of_stretch(stretch.nominal, stiffness);
  figures->preload_low_k = joint_preload_of_stretch(stretch.high, stiffness);
  figures->preload_known = true;
  shares(figures);
}

static void strip_of(Resolver *r, JobJoint *joint) {
  const Entry *into = joint->hardware->into_material.entry;
  JointFigures *figures = &joint->figures;
  if (!into || into->kind != ENTRY_MATERIAL || !figures->thread_known) return;
  double length = number(r, &joint->hardware->engagement, joint, DIM_LENGTH, "the engagement", 0);
  double shear = number(r, &into->is.material.shear, joint, DIM_STRESS, "the shear strength", 0);
  if (shear <= 0)
    shear = engagement_shear_strength(
        number(r, &into->is.material.tensile, joint, DIM_STRESS, "the tensile strength", 0));
  if (length > 0 && shear > 0)
    figures->strip_load = engagement_strip_load(&figures->thread, length, shear);
}

static double rise_of(Resolver *r, const Role *role, Place place) {
  Instances instances = {0};
  instances_of(r, role->per, &instances);
  if (!instances.n || !fact_is_given(r, role, "hot_rise")) return 0;
  NodeId node = need_fact(r, role, "hot_rise", &(Words){0}, instances.at[0], place, NULL);
  Evaluation now = graph_evaluate(r->graph, node, NULL);
  bool rise = dim_same(graph_dim(r->graph, node), (Dim){.temperature = 1});
  return node && rise && now.state == VALUE_KNOWN ? now.si : 0;
}

/* How much hotter the joint runs than it is assembled: the value hot_rise of what it
 * holds together, the largest of them, else the engine's. */
static double hot_rise(Resolver *r, const JobJoint *joint) {
  double most = 0;
  for (size_t i = 0; i < joint->hardware->parties.n; i++) {
    const Role *role = job_role(r->job, joint->hardware->parties.at[i].s);
    if (role) most = fmax(most, rise_of(r, role, joint->hardware->at));
  }
  return most > 0 ? most : rise_of(r, r->engine_role, joint->hardware->at);
}

static void hot_of(Resolver *r, JobJoint *joint) {
  const Entry *clamped = joint->hardware->clamped_material.entry;
  const Entry *stud = joint->hardware->stud_material.entry;
  JointFigures *figures = &joint->figures;
  if (!clamped || !stud || clamped->kind != ENTRY_MATERIAL || stud->kind != ENTRY_MATERIAL ||
      !figures->preload_known)
    return;
  const Dim per_kelvin = {.temperature = -1};
  double length =
      number(r, &joint->hardware->clamped_length, joint, DIM_LENGTH, "the clamped length", 0);
  double grows = number(r, &clamped->is.material.expansion, joint, per_kelvin, "expansion", 0);
  double holds = number(r, &stud->is.material.expansion, joint, per_kelvin, "expansion", 0);
  double rise = length > 0 && grows > 0 && holds > 0 ? hot_rise(r, joint) : 0;
  if (rise <= 0) return;
  double d = figures->thread.major;
  double sleeve = circle_area(SLEEVE_OUTSIDE * d) - circle_area(SLEEVE_HOLE * d);
  double gain =
      fit_stud_gain(fit_stud_mismatch(length, grows, holds, rise), stud_stiffness(r, joint, length),
                    joint_stiffness(modulus_of(r, joint, clamped), sleeve, length));
  figures->hot_share_low_k = strength_share(figures->preload_low_k + gain, figures->proof_load);
}

/* A wrench at the very end of its scale has nothing left for a hand that goes a
 * little further, so one that holds the setting below this share of its scale comes
 * first. Common practice, no source. */
#define FULL_SCALE_SHARE 0.9

static bool is_comfortable(double setting, double full_scale) {
  return wrench_is_promised(setting, full_scale) && setting <= FULL_SCALE_SHARE * full_scale;
}

/* The smallest range in which the setting lies well, else the smallest that
 * holds it; adapter reckoned in. */
static void wrench_of(Resolver *r, JobJoint *joint) {
  const ShopEntry *shop = r->job->shop;
  JointFigures *figures = &joint->figures;
  double smallest = INFINITY;
  bool comfortable = false;
  if (!shop || !joint->bundle || figures->torque <= 0) return;
  double adapter = number(r, &joint->bundle->adapter, joint, DIM_LENGTH, "the adapter", 0);
  double angle = number(r, &joint->bundle->adapter_angle, joint, DIM_ANGLE, "its angle", 0);
  for (size_t i = 0; i < shop->wrenches.n; i++) {
    const Wrench *wrench = &shop->wrenches.at[i];
    Literal range;
    if (!expr_numbers(r, &wrench->range, joint->instance, DIM_TORQUE, "the range of a wrench",
                      &range))
      continue;
    double setting = figures->torque;
    if (adapter > 0) {
      double length = number(r, &wrench->length, joint, DIM_LENGTH, "the length of a wrench", 0);
      if (length <= 0) continue;
      setting = wrench_setting(figures->torque, length, adapter, angle);
    }
    if (!isfinite(setting) || !wrench_is_in_range(setting, range.low, range.high)) continue;
    bool well = is_comfortable(setting, range.high);
    if (well < comfortable || (well == comfortable && range.high >= smallest)) continue;
    comfortable = well;
    smallest = range.high;
    figures->wrench = wrench;
    figures->setting = setting;
  }
}

void joint_figures(Resolver *r, JobJoint *joint) {
  thread_of(r, joint);
  strength_of(r, joint);
  torque_of(r, joint);
  preload_of(r, joint);
  stretch_of(r, joint);
  strip_of(r, joint);
  hot_of(r, joint);
  wrench_of(r, joint);
}
