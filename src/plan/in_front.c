/* A part that stands in front of another goes on after it. */
#include "plan/seats.h"

static bool is_on(const Seat *seat) {
  return seat->since >= 0 && (seat->now == FIT_DONE || seat->now == FIT_TRIAL);
}

void reach_names(Seats *seats) {
  Planner *planner = seats->planner;
  Words known = {0};
  for (size_t i = 0; i < seats->names.n; i++) vec_push(planner->arena, &known, seats->names.at[i]);
  for (size_t i = 0; i < planner->joint_names.n; i++)
    vec_push(planner->arena, &known, planner->joint_names.at[i]);
  for (size_t t = 0; t < seats->tracks.n; t++) {
    const SaidList *behind = &seats->tracks.at[t].role->decl->in_front_of;
    for (size_t b = 0; b < behind->n; b++)
      if (!text_has(&known, behind->at[b].s))
        tell_unknown(planner, NULL, &behind->at[b], "role or joint", &known);
  }
}

static void out_of_reach(Seats *seats, int step, const char *does, const char *what,
                         const RoleSeats *front, const Seat *seat) {
  Planner *planner = seats->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  const char *key = arena_printf(planner->arena, "reach/%s/%s/%s", it->id, front->role->name, what);
  if (!tell_once(planner, key)) return;
  const char *on = step_print(planner, seat->since);
  Finding *finding =
      finding_add(planner->run, RULE_OUT_OF_REACH, it->decl->at,
                  "%s %s %s behind %s%s, on since %s", step_print(planner, step), does, what,
                  front->role->label, instance_tail(planner->arena, seat->instance), on);
  finding_subject(finding, front->role->name);
  finding_note(planner->run, finding, planner->plan->steps.at[seat->since]->decl->at,
               "it goes on here");
  finding_note(planner->run, finding, front->role->decl->at, "what it stands in front of");
  finding_way_out(planner->run, finding,
                  "the latest place for it is right before %s; or take %s off first", on,
                  front->role->label);
}

/* A step's part of that role, for a member that has to do with the one in front. */
static bool meets(Seats *seats, const PlanStep *step, const SaidList *roles, const char *behind,
                  const Instance *at) {
  const RoleSeats *track = roles->n > 0 ? map_find(seats->by_name, behind) : NULL;
  for (size_t r = 0; track && r < roles->n; r++) {
    Name name = name_split(seats->planner->arena, roles->at[r].s);
    if (!text_is(name.base, behind)) continue;
    InstanceList picked = {0};
    pick_instances(seats->planner, &name, track->role->per, step->instance, &picked);
    for (size_t i = 0; i < picked.n; i++)
      if (is_related(picked.at[i], at)) return true;
  }
  return false;
}

static void behind_one(Seats *seats, int step, const RoleSeats *front, const Seat *seat,
                       const char *behind) {
  const PlanStep *it = seats->planner->plan->steps.at[step];
  const struct {
    const SaidList *roles;
    const char *does;
  } lists[] = {{&it->decl->removes, "takes off"},
               {&it->decl->old, "fits"},
               {&it->decl->trial, "fits"},
               {&it->decl->fits, "fits"}};
  for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
    if (!meets(seats, it, lists[i].roles, behind, seat->instance)) continue;
    const RoleSeats *track = map_find(seats->by_name, behind);
    out_of_reach(seats, step, lists[i].does, track->role->label, front, seat);
  }
  for (size_t p = 0; p < it->passes.n; p++) {
    const JobJoint *joint = it->passes.at[p].joint;
    if (joint && text_is(joint->name, behind) && is_related(joint->instance, seat->instance))
      out_of_reach(seats, step, "works on", joint->label, front, seat);
  }
}

void reach_check(Seats *seats, int step) {
  for (size_t t = 0; t < seats->tracks.n; t++) {
    const RoleSeats *front = &seats->tracks.at[t];
    const SaidList *behind = &front->role->decl->in_front_of;
    for (size_t s = 0; behind->n > 0 && s < front->seats.n; s++) {
      if (!is_on(&front->seats.at[s])) continue;
      for (size_t b = 0; b < behind->n; b++)
        behind_one(seats, step, front, &front->seats.at[s], behind->at[b].s);
    }
  }
}
