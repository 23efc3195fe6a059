/* What follows from the stack that a fastener holds together: how far it reaches, whether its
 * thread strips, its load by stretch, and what it gains when hot. */
#include "resolve/joint_parts.h"

#include "trade/circle.h"
#include "trade/engagement.h"
#include "trade/fit.h"
#include "trade/head.h"
#include "trade/joint.h"
#include "trade/strength.h"

#include <math.h>

/* Young's modulus of steel, where no material is named (common practice, no source). */
#define STEEL_MODULUS 205e9

static double modulus_of(Resolver *r, const JobJoint *joint, const Entry *material) {
  if (!material || material->kind != ENTRY_MATERIAL) return STEEL_MODULUS;
  return joint_number(r, &material->is.material.modulus, joint, DIM_STRESS, "the modulus",
                      STEEL_MODULUS);
}

/* By the plain shank where its sheet gives one, else by the thread: most of a long stud is shank.
 */
static double stud_stiffness(Resolver *r, const JobJoint *joint, double length) {
  double shank = joint_number(r, &joint->hardware->shank, joint, DIM_LENGTH, "the shank", 0);
  double bore = joint_number(r, &joint->hardware->hollow, joint, DIM_LENGTH, "the bore", 0);
  double area = shank > 0 ? circle_area(shank) - circle_area(bore) : joint->figures.stress_area;
  return joint_stiffness(modulus_of(r, joint, joint->hardware->stud_material.entry), area, length);
}

static double clamped_length(Resolver *r, const JobJoint *joint) {
  return joint_number(r, &joint->hardware->clamped_length, joint, DIM_LENGTH, "the clamped length",
                      0);
}

/* Elongation, measured: the clamp load follows from the stud alone. */
void joint_stretch_find(Resolver *r, JobJoint *joint) {
  JointFigures *figures = &joint->figures;
  Literal stretch;
  if (!joint->bundle || !text_is(joint->bundle->method.s, "stretch") || !figures->strength_known ||
      !expr_numbers(r, &joint->bundle->stretch, joint->instance, DIM_LENGTH, "the stretch",
                    &stretch))
    return;
  double length = clamped_length(r, joint);
  if (length <= 0 || !isfinite(stretch.low) || !isfinite(stretch.high)) return;
  double stiffness = stud_stiffness(r, joint, length);
  figures->stiffness = stiffness;
  figures->preload_high_k = joint_preload_of_stretch(stretch.low, stiffness);
  figures->preload_middle_k = joint_preload_of_stretch(stretch.nominal, stiffness);
  figures->preload_low_k = joint_preload_of_stretch(stretch.high, stiffness);
  figures->preload_known = true;
  joint_shares(figures);
}

/* How far the screw comes out of what it clamps: its length less the stack as built. */
void joint_reach_find(Resolver *r, JobJoint *joint) {
  JointFigures *figures = &joint->figures;
  Literal screw, stack;
  if (!expr_numbers(r, &joint->hardware->length, joint->instance, DIM_LENGTH,
                    "the length of the screw", &screw) ||
      !expr_numbers(r, &joint->hardware->clamped_length, joint->instance, DIM_LENGTH,
                    "the clamped length", &stack))
    return;
  figures->length = screw.nominal;
  figures->stack_low = stack.low;
  figures->stack_high = stack.high;
  figures->reach_low = screw.low - stack.high;
  figures->reach_high = screw.high - stack.low;
  figures->reach_known = isfinite(figures->reach_low) && isfinite(figures->reach_high);
}

/* What holds is no longer than the sheet's engagement, nor than what the screw reaches. */
void joint_strip_find(Resolver *r, JobJoint *joint) {
  const Entry *into = joint->hardware->into_material.entry;
  JointFigures *figures = &joint->figures;
  if (!into || into->kind != ENTRY_MATERIAL || !figures->end_known) return;
  const MaterialEntry *material = &into->is.material;
  double length =
      joint_number(r, &joint->hardware->engagement, joint, DIM_LENGTH, "the engagement", INFINITY);
  if (figures->reach_known) length = fmin(length, figures->reach_low);
  double shear = joint_number(r, &material->shear, joint, DIM_STRESS, "the shear strength", 0);
  if (shear <= 0)
    shear = engagement_shear_strength(
        joint_number(r, &material->tensile, joint, DIM_STRESS, "the tensile strength", 0));
  if (!isfinite(length) || shear <= 0) return;
  figures->strip_known = true;
  figures->engagement = fmax(length, 0);
  Strip strip = engagement_strip(&figures->end_thread, figures->engagement, shear,
                                 engagement_shear_strength(figures->tensile));
  figures->strip_load = strip.load;
  figures->strip_usual = strip.usual;
  figures->strips_itself = strip.own_thread;
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

/* How much hotter the joint runs than it is assembled: its own, else the value hot_rise of what
 * it holds together, the largest of them, else the engine's. */
static double hot_rise(Resolver *r, const JobJoint *joint) {
  const Dim kelvin = {.temperature = 1};
  double most = joint_number(r, &joint->hardware->clamped_rise, joint, kelvin, "the rise", 0);
  if (most > 0) return most;
  for (size_t i = 0; i < joint->hardware->parties.n; i++) {
    const Role *role = job_role(r->job, joint->hardware->parties.at[i].s);
    if (role) most = fmax(most, rise_of(r, role, joint->hardware->at));
  }
  return most > 0 ? most : rise_of(r, r->engine_role, joint->hardware->at);
}

/* What one fastener squeezes, by the substitute cylinder of VDI 2230. Its face is that of the head,
 * or of a hexagon where no head is said, in one and a half times the diameter. */
static double squeezed_area(Resolver *r, const JobJoint *joint, double length) {
  const JointFigures *figures = &joint->figures;
  double across =
      joint_number(r, &joint->hardware->clamped_across, joint, DIM_LENGTH, "its width", 0);
  bool known = figures->head_face > 0;
  double face = known ? figures->head_face : 1.5 * figures->thread.major;
  double hole = known ? figures->head_hole : head_hole(&figures->thread);
  return joint_cylinder_area(face, hole, length, across);
}

void joint_hot_find(Resolver *r, JobJoint *joint) {
  const Entry *clamped = joint->hardware->clamped_material.entry;
  const Entry *stud = joint->hardware->stud_material.entry;
  JointFigures *figures = &joint->figures;
  if (joint->bundle && joint->bundle->threadlock.entry) figures->hot_rise = hot_rise(r, joint);
  if (!clamped || !stud || clamped->kind != ENTRY_MATERIAL || stud->kind != ENTRY_MATERIAL ||
      !figures->preload_known)
    return;
  const Dim per_kelvin = {.temperature = -1};
  double length = clamped_length(r, joint);
  double grows =
      joint_number(r, &clamped->is.material.expansion, joint, per_kelvin, "expansion", 0);
  double holds = joint_number(r, &stud->is.material.expansion, joint, per_kelvin, "expansion", 0);
  double rise = length > 0 && grows > 0 && holds > 0 ? hot_rise(r, joint) : 0;
  if (rise <= 0) return;
  figures->squeezed_area = squeezed_area(r, joint, length);
  figures->hot_rise = rise;
  figures->hot_gain =
      fit_stud_gain(fit_stud_mismatch(length, grows, holds, rise), stud_stiffness(r, joint, length),
                    joint_stiffness(modulus_of(r, joint, clamped), figures->squeezed_area, length));
  figures->hot_share_low_k =
      strength_share(figures->preload_low_k + figures->hot_gain, figures->proof_load);
}
