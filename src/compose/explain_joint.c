/* How a joint's figures came about: each with what it was reckoned from. */
#include "compose/explain.h"
#include "compose/joint_texts.h"

#include "base/decimal.h"
#include "model/job_words.h"
#include "trade/thread_limits.h"

#include <math.h>

static const char *percent(Arena *arena, double share) {
  return decimal_print(arena, share * 100, 0);
}

static const char *kilonewton(Arena *arena, double newton) {
  return arena_printf(arena, "%s kN", decimal_print(arena, newton / 1000, 1));
}

static const char *millimetre(Arena *arena, double length) {
  return arena_printf(arena, "%s mm", decimal_print(arena, length * 1000, 1));
}

static void show_what(Text *out, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  const char *tail =
      joint->instance->id ? arena_printf(out->arena, ", %s", joint->instance->path) : "";
  text_addf(out, "%s%s (%s)\n  %zu of %s", joint->name, tail, joint->label, joint->place_names.n,
            joint->hardware->thread.s ? joint->hardware->thread.s : "a thread not said");
  if (joint->hardware->strength.id) text_addf(out, " class %s", joint->hardware->strength.id);
  if (joint->hardware_entry)
    text_addf(out, " (%s)",
              source_print(out->arena, joint->hardware_entry, joint->hardware->page.s));
  text_add(out, "\n");
  if (figures->strength_known)
    text_addf(out, "  weakest section %s mm2, of the %s; proof load %s\n",
              decimal_print(out->arena, figures->stress_area * 1e6, 1),
              figures->waisted ? "shank" : "thread", kilonewton(out->arena, figures->proof_load));
}

/* Which K, from what, under which head. */
static void show_k(Text *out, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  Arena *arena = out->arena;
  if (!(figures->k_middle > 0)) return;
  text_addf(out, "  K %s to %s: %s%s\n", decimal_print(arena, figures->k_low, 3),
            decimal_print(arena, figures->k_high, 3),
            figures->condition ? figures->condition : "not said",
            figures->by_friction ? ", from the friction in the thread and under the head" : "");
  if (figures->head_face > 0)
    text_addf(out, "    face under the head %s outside, hole %s, by %s\n",
              millimetre(arena, figures->head_face), millimetre(arena, figures->head_hole),
              figures->collar_from);
  else
    text_addf(out, "    face under the head %s: a mean diameter of %s, 1.25 times the thread\n",
              figures->collar_from, millimetre(arena, figures->collar));
}

static void show_preload(Text *out, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  Arena *arena = out->arena;
  if (!figures->preload_known) return;
  text_addf(out, "  preload %s, %s %% of proof, %s to %s over the range of %s\n",
            kilonewton(arena, figures->preload_middle_k), percent(arena, figures->share_middle_k),
            percent(arena, figures->share_high_k), percent(arena, figures->share_low_k),
            figures->torque > 0 ? "K" : "stretch");
  if (figures->yield_share_low_k > 0)
    text_addf(out, "    at the lowest K, tension and torsion together reach %s %% of yield\n",
              percent(arena, figures->yield_share_low_k));
  if (figures->prevailing_high > 0)
    text_addf(out, "    %s of the torque only turns the nut\n",
              literal_print(arena, &joint->hardware->prevailing.literal));
}

static void show_strip(Text *out, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  Arena *arena = out->arena;
  if (!figures->strip_known) return;
  const Entry *into = joint->hardware->into_material.entry;
  text_addf(out,
            "  %s of %s in %s strip%s at %s at the worst of the tolerances %s, at %s in their "
            "middle\n",
            millimetre(arena, figures->engagement), figures->end_thread.name,
            into ? into->name.s : "its part", figures->strips_itself ? ", the fastener first," : "",
            kilonewton(arena, figures->strip_load), thread_limits_name(&figures->end_thread),
            kilonewton(arena, figures->strip_usual));
}

static void show_hot(Text *out, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  Arena *arena = out->arena;
  if (!(figures->hot_share_low_k > 0)) return;
  text_addf(out, "  %s hotter it gains %s: up to %s %% of proof at the lowest K\n",
            quantity_print(arena, figures->hot_rise, unit_find("K"), 0),
            kilonewton(arena, figures->hot_gain), percent(arena, figures->hot_share_low_k));
  text_addf(out, "    what it squeezes: %s mm2, the cone of VDI 2230%s\n",
            decimal_print(arena, figures->squeezed_area * 1e6, 0),
            joint->hardware->clamped_across.kind == EXPR_LITERAL
                ? " as wide as its sheet says"
                : " in a body wide enough for it; `across` narrows it");
}

static void show_wrench(Text *out, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  if (!figures->wrench || !figures->torque_unit) return;
  const Wrench *wrench = figures->wrench;
  bool adapted = fabs(figures->unrounded - figures->torque) > 1e-9;
  bool scaled = wrench_resolution(wrench) > 0;
  const Literal *scale = &wrench->resolution.literal;
  text_addf(out, "  wrench %s, set to %s%s%s\n", wrench->id.s ? wrench->id.s : wrench->name,
            quantity_print(out->arena, figures->setting,
                           scaled ? scale->unit : figures->torque_unit,
                           scaled ? scale->places : figures->torque_places + adapted),
            adapted ? " with the adapter" : "", joint_rounded(out->arena, figures));
}

void show_joint(Text *out, const JobJoint *joint) {
  show_what(out, joint);
  show_k(out, joint);
  show_preload(out, joint);
  show_wrench(out, joint);
  show_strip(out, joint);
  show_hot(out, joint);
  show_voice(out, "holds", &joint->winner);
  for (size_t i = 0; i < joint->losers.n; i++) show_voice(out, "overruled", &joint->losers.at[i]);
  text_add(out, "\n");
}
