#include "plan/clock.h"

const char *time_print(Arena *arena, double seconds) {
  const Unit *unit = unit_find(seconds >= 7200 ? "h" : "min");
  return quantity_print(arena, seconds, unit ? unit : unit_of_number(), -1);
}

static void add_time(Planner *planner, PlanStep *step, const char *label) {
  if (!text_has(&step->times, label)) vec_push(planner->arena, &step->times, label);
}

/* "20 min after step 12, page 4": the page is filled in when it is known. */
static const char *after_print(Planner *planner, double seconds, int since) {
  return arena_printf(planner->arena, "%s after {step:%d}", time_print(planner->arena, seconds),
                      planner->plan->steps.at[since]->number);
}

static void what_then(Planner *planner, PlanStep *step, double seconds, int since) {
  const char *text = fill_text(planner, step->procedure, &step->decl->otherwise, step->instance);
  if (!text) return;
  const char *when = since < 0 ? arena_printf(planner->arena, "Not done %s after it was begun",
                                              time_print(planner->arena, seconds))
                               : arena_printf(planner->arena, "Later than %s",
                                              after_print(planner, seconds, since));
  vec_push(planner->arena, &step->notes, arena_printf(planner->arena, "%s: %s", when, text));
}

/* Sealant whose time nobody counts by a step of its own: when it was put on. */
static void open_times(Planner *planner, PlanStep *step) {
  for (size_t i = 0; i < step->decl->uses.n; i++) {
    const Entry *used = step->decl->uses.at[i].entry;
    double open = 0;
    if (!used || used->kind != ENTRY_CONSUMABLE || step->decl->seals.n == 0 ||
        !expr_si(&used->is.consumable.open_time, &open))
      continue;
    add_time(
        planner, step,
        arena_printf(planner->arena, "Time put on; open for %s", time_print(planner->arena, open)));
  }
}

void clock_read(Planner *planner, int step, int since) {
  PlanStep *it = planner->plan->steps.at[step];
  double within = 0, least = 0, fails = 0;
  bool has_within = expr_si(&it->decl->within, &within);
  bool has_least = expr_si(&it->decl->not_before, &least);
  bool has_fails = expr_si(&it->decl->fail_after, &fails);
  open_times(planner, it);
  if (has_fails && since < 0 && it->decl->kind == STEP_WAIT) {
    add_time(planner, it, "Time begun");
    what_then(planner, it, fails, -1);
  }
  if (since < 0 || !(has_within || has_least || has_fails)) return;
  PlanStep *from = planner->plan->steps.at[since];
  if (from->times.n == 0)
    add_time(planner, from,
             arena_printf(planner->arena, "Time %s, for {step:%d}",
                          from->passes.n ? "when tight" : "done", it->number));
  if (has_least)
    add_time(planner, it,
             arena_printf(planner->arena, "Time; at the earliest %s",
                          after_print(planner, least, since)));
  if (has_within || has_fails)
    add_time(planner, it,
             arena_printf(planner->arena, "Time; at the latest %s",
                          after_print(planner, has_within ? within : fails, since)));
  if (has_fails || has_within) what_then(planner, it, has_fails ? fails : within, since);
}
