/* What a joint's torque does to its fastener: clamp load, shares, stripping, wrench. */
#include "resolve/joint_parts.h"

#include "trade/joint.h"
#include "trade/strength.h"
#include "trade/wrench.h"

#include <math.h>

double joint_number(Resolver *r, const Expr *expr, const JobJoint *joint, Dim dim, const char *what,
                    double otherwise) {
  Literal literal;
  if (!expr_numbers(r, expr, joint->instance, dim, what, &literal)) return otherwise;
  return literal.nominal;
}

static bool band_holds(Resolver *r, const JobJoint *joint, const StrengthBand *band) {
  double d = joint->figures.thread.major, slack = 1e-7;
  double over = joint_number(r, &band->over, joint, DIM_LENGTH, "the size from which it holds", -1);
  double up_to =
      joint_number(r, &band->up_to, joint, DIM_LENGTH, "the size up to which it holds", INFINITY);
  return d > over + slack && d <= up_to + slack;
}

static void strength_of(Resolver *r, JobJoint *joint) {
  const Entry *entry = joint->hardware->strength.entry;
  JointFigures *figures = &joint->figures;
  if (!entry || entry->kind != ENTRY_STRENGTH || !figures->thread_known) return;
  for (size_t i = 0; i < entry->is.strength.bands.n; i++) {
    const StrengthBand *band = &entry->is.strength.bands.at[i];
    if (!band_holds(r, joint, band)) continue;
    figures->proof = joint_number(r, &band->proof, joint, DIM_STRESS, "the proof stress", 0);
    figures->yield = joint_number(r, &band->yield, joint, DIM_STRESS, "the yield stress", 0);
    figures->tensile =
        joint_number(r, &band->tensile, joint, DIM_STRESS, "the tensile strength", 0);
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

/* Printed with that many places it is still the same number. */
static bool decimal_fits(double number, int places) {
  double scale = pow(10, places);
  return fabs(number * scale - round(number * scale)) < 1e-6;
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
  figures->torque_low = isfinite(torque.low) ? torque.low : torque.nominal;
  figures->torque_high = isfinite(torque.high) ? torque.high : torque.nominal;
  if (!torque.unit) return;
  figures->torque_unit = torque.unit;
  figures->torque_places = torque.places;
  if (torque.low < torque.high &&
      !decimal_fits(figures->torque / torque.unit->factor, torque.places))
    figures->torque_places = torque.places + 1; /* 17.5 in the middle of 16 to 19 */
}

void joint_shares(JointFigures *figures) {
  figures->share_high_k = strength_share(figures->preload_high_k, figures->proof_load);
  figures->share_middle_k = strength_share(figures->preload_middle_k, figures->proof_load);
  figures->share_low_k = strength_share(figures->preload_low_k, figures->proof_load);
}

/* Torque that a locking nut takes for itself and that clamps nothing. */
static void prevailing_of(Resolver *r, JobJoint *joint) {
  Literal prevailing;
  if (!expr_numbers(r, &joint->hardware->prevailing, joint->instance, DIM_TORQUE,
                    "the prevailing torque", &prevailing))
    return;
  joint->figures.prevailing_low = isfinite(prevailing.low) ? prevailing.low : 0;
  joint->figures.prevailing_high = isfinite(prevailing.high) ? prevailing.high : prevailing.nominal;
}

static void preload_of(Resolver *r, JobJoint *joint) {
  JointFigures *figures = &joint->figures;
  const char *method = joint->bundle ? joint->bundle->method.s : NULL;
  if (!joint->bundle || !figures->thread_known) return;
  if (!joint_k_find(r, joint) || figures->torque <= 0) return;
  prevailing_of(r, joint);
  double d = figures->thread.major;
  double middle = (figures->prevailing_low + figures->prevailing_high) / 2;
  double preload = joint_preload(joint_net_torque(figures->torque, middle), figures->k_middle, d);
  /* an angle or a stretch on top of the torque: the torque alone says little */
  if (method && !text_is(method, "torque")) {
    if (figures->strength_known)
      figures->snug_share_middle_k = strength_share(preload, figures->proof_load);
    return;
  }
  figures->preload_middle_k = preload;
  figures->preload_high_k = joint_preload(
      joint_net_torque(figures->torque_low, figures->prevailing_high), figures->k_high, d);
  figures->preload_low_k = joint_preload(
      joint_net_torque(figures->torque_high, figures->prevailing_low), figures->k_low, d);
  if (!figures->strength_known) return;
  figures->preload_known = true;
  joint_shares(figures);
  if (figures->yield > 0)
    figures->yield_share_low_k =
        joint_yield_share(&figures->thread, figures->stress_area, figures->preload_low_k,
                          figures->friction_low, figures->prevailing_low, figures->yield);
}

/* A wrench at the very end of its scale has nothing left for a hand that goes a
 * little further, so one that holds the setting below this share of its scale comes
 * first. Common practice, no source. */
#define FULL_SCALE_SHARE 0.9

static bool is_comfortable(double setting, double full_scale) {
  return wrench_is_promised(setting, full_scale) && setting <= FULL_SCALE_SHARE * full_scale;
}

/* The wrench takes the place of the one before: its scale has the setting, the setting lies well
 * in its range, its range is smaller. */
typedef struct Choice {
  bool near, well;
  double full_scale;
} Choice;

static bool is_better(const Choice *new, const Choice *old) {
  if (new->near != old->near) return new->near;
  if (new->well != old->well) return new->well;
  return new->full_scale < old->full_scale;
}

/* The smallest range in which the setting lies well, else the smallest that
 * holds it; adapter reckoned in. */
static void wrench_of(Resolver *r, JobJoint *joint) {
  const ShopEntry *shop = r->job->shop;
  JointFigures *figures = &joint->figures;
  Choice best = {false, false, INFINITY};
  if (!shop || !joint->bundle || figures->torque <= 0) return;
  double adapter = joint_number(r, &joint->bundle->adapter, joint, DIM_LENGTH, "the adapter", 0);
  double angle = joint_number(r, &joint->bundle->adapter_angle, joint, DIM_ANGLE, "its angle", 0);
  for (size_t i = 0; i < shop->wrenches.n; i++) {
    const Wrench *wrench = &shop->wrenches.at[i];
    Literal range;
    if (!expr_numbers(r, &wrench->range, joint->instance, DIM_TORQUE, "the range of a wrench",
                      &range))
      continue;
    double setting = figures->torque;
    if (adapter > 0) {
      double length =
          joint_number(r, &wrench->length, joint, DIM_LENGTH, "the length of a wrench", 0);
      if (length <= 0) continue;
      setting = wrench_setting(figures->torque, length, adapter, angle);
    }
    if (!isfinite(setting) || !wrench_is_in_range(setting, range.low, range.high)) continue;
    double gain = figures->torque / setting;
    double set = wrench_division(setting, wrench_resolution(wrench), gain, figures->torque_low,
                                 figures->torque_high);
    Choice choice = {.near = wrench_is_near(set * gain, figures->torque, figures->torque_low,
                                            figures->torque_high),
                     .well = is_comfortable(setting, range.high),
                     .full_scale = range.high};
    if (!is_better(&choice, &best)) continue;
    best = choice;
    figures->wrench = wrench;
    figures->setting = set;
    figures->unrounded = setting;
  }
}

void joint_figures(Resolver *r, JobJoint *joint) {
  joint_threads(r, joint);
  joint_head_find(r, joint);
  strength_of(r, joint);
  torque_of(r, joint);
  preload_of(r, joint);
  joint_stretch_find(r, joint);
  joint_reach_find(r, joint);
  joint_strip_find(r, joint);
  joint_hot_find(r, joint);
  wrench_of(r, joint);
}
