/* Parts fitted, tried and taken off again. */
#include "plan/seats.h"

bool role_is_chosen(const Role *role) {
  return role->part && role->part != role->decl->part.entry;
}

bool role_is_worked(const Planner *planner, const char *role) {
  return plan_works_on(planner->plan, role);
}

void worked_build(Planner *planner) {
  planner->plan->worked = map_new(planner->arena);
  for (size_t i = 0; i < planner->plan->steps.n; i++) {
    const StepDecl *decl = planner->plan->steps.at[i]->decl;
    const SaidList *lists[] = {&decl->fits, &decl->trial, &decl->old, &decl->removes};
    for (size_t l = 0; l < sizeof lists / sizeof *lists; l++) {
      for (size_t r = 0; r < lists[l]->n; r++)
        map_put(planner->plan->worked, name_split(planner->arena, lists[l]->at[r].s).base, planner);
    }
  }
}

static void add_tracks(Seats *play) {
  Planner *planner = play->planner;
  for (size_t i = 0; i < planner->job->roles.n; i++) {
    RoleSeats track = {.role = planner->job->roles.at[i]};
    const InstanceList *members = members_of(planner, track.role->per);
    for (size_t m = 0; m < members->n; m++) {
      Seat seat = {members->at[m], FIT_AS_FOUND, -1, -1};
      vec_push(planner->arena, &track.seats, seat);
    }
    vec_push(planner->arena, &play->tracks, track);
    vec_push(planner->arena, &play->names, track.role->name);
  }
  for (size_t i = 0; i < play->tracks.n; i++)
    map_put(play->by_name, play->tracks.at[i].role->name, &play->tracks.at[i]);
}

/* The same of another member. */
static const char *seat_mark(const Planner *planner, const char *what, int step,
                             const RoleSeats *track, const Seat *seat) {
  return arena_printf(planner->arena, "%s/%s/%s/%s", what, step_mark(planner, step),
                      track->role->name, step_mark(planner, seat->since));
}

/* What is wrong with putting a part on, or taking it off, as it stands. */
typedef struct SeatSlip {
  const char *mark, *does;
  const char *before, *behind; /* around the step that it stands so since */
  const char *note, *way_out;
} SeatSlip;

static void tell_seat(Seats *play, int step, const RoleSeats *track, const Seat *seat,
                      const SeatSlip *slip) {
  Planner *planner = play->planner;
  const char *mark = seat_mark(planner, slip->mark, step, track, seat);
  if (told_likewise(planner, mark, seat->instance)) return;
  Finding *finding =
      finding_add(planner->run, RULE_FITTED_TWICE, planner->plan->steps.at[step]->decl->at,
                  "%s %s %s%s, which %s%s%s", step_print(planner, step), slip->does,
                  track->role->label, instance_tail(planner->arena, seat->instance), slip->before,
                  step_print(planner, seat->since), slip->behind);
  told_by(planner, mark, finding);
  finding_subject(finding, track->role->name);
  finding_note(planner->run, finding, planner->plan->steps.at[seat->since]->decl->at, "%s",
               slip->note);
  finding_way_out(planner->run, finding, "%s", slip->way_out);
}

static void twice(Seats *play, int step, const RoleSeats *track, const Seat *seat) {
  const SeatSlip slip = {"twice",
                         "fits",
                         "",
                         " has fitted already",
                         "fitted here",
                         "call the first one 'trial', or take the part off between with 'removes'"};
  tell_seat(play, step, track, seat, &slip);
}

/* Still on from a trial: it cannot be put on. */
static void still_on(Seats *play, int step, const RoleSeats *track, const Seat *seat) {
  const SeatSlip slip = {"still on",
                         "fits",
                         "is still on from the trial of ",
                         "",
                         "tried here",
                         arena_printf(play->planner->arena,
                                      "take it off between, with 'removes: [%s]'",
                                      track->role->name)};
  tell_seat(play, step, track, seat, &slip);
}

/* Not there to be taken off. */
static void off_already(Seats *play, int step, const RoleSeats *track, const Seat *seat) {
  const SeatSlip slip = {"off",
                         "takes off",
                         "",
                         " has taken off already",
                         "taken off here",
                         "leave it out of one 'removes', or fit it between"};
  tell_seat(play, step, track, seat, &slip);
}

static void there_is_none(Seats *play, int step, const Said *said, const Role *role) {
  Planner *planner = play->planner;
  if (!tell_once(planner, arena_printf(planner->arena, "none/%s/%s",
                                       planner->plan->steps.at[step]->id, role->name)))
    return;
  Finding *finding =
      finding_add(planner->run, RULE_ROLE_UNFILLED, said->at, "%s fits %s, and the build has none",
                  step_print(planner, step), role->label);
  finding_subject(finding, role->name);
  finding_note(planner->run, finding, role->at, "chosen to be none here");
  finding_way_out(planner->run, finding, "give the step 'when: \"%s is not none\"'", role->name);
}

/* What must be new each time was on before. */
static void used_up(Seats *play, int step, const RoleSeats *track, Seat *seat) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  const Role *role = track->role;
  if (!role->part || !text_is(role->part->is.part.fit.s, "new")) return;
  int used = seat->used;
  seat->used = step;
  if (said_names(&it->decl->another, role->name)) return;
  if (used < 0 ||
      !tell_once(planner, arena_printf(planner->arena, "used/%s/%s", it->id, role->name)))
    return;
  Finding *finding = finding_add(
      planner->run, RULE_USED_UP, it->decl->at,
      "%s fits %s%s, which must be new each time and was on in %s", step_print(planner, step),
      role->label, instance_tail(planner->arena, seat->instance), step_print(planner, used));
  finding_subject(finding, role->name);
  finding_note(planner->run, finding, planner->plan->steps.at[used]->decl->at,
               "on for the first time");
  finding_note(planner->run, finding, role->part->is.part.fit.at, "new each time is asked here");
  finding_way_out(planner->run, finding,
                  "make a trial with an old one, with 'old: [%s]'; or take a further new one here, "
                  "with 'another: [%s]'",
                  role->name, role->name);
}

/* real: the part of the build itself, not an old one in its place. */
static void set_seats(Seats *play, int step, const SaidList *roles, Fit becomes, bool real) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t r = 0; r < roles->n; r++) {
    Name name = name_split(planner->arena, roles->at[r].s);
    RoleSeats *track = map_find(play->by_name, name.base);
    if (!track) {
      tell_unknown(planner, it->procedure, &roles->at[r], "role", &play->names);
      continue;
    }
    if (track->role->none && becomes != FIT_OFF)
      there_is_none(play, step, &roles->at[r], track->role);
    InstanceList picked = {0};
    pick_instances(planner, &name, track->role->per, it->instance, &picked);
    size_t next = 0;
    for (size_t i = 0; i < picked.n; i++) {
      while (next < track->seats.n && track->seats.at[next].instance != picked.at[i]) next++;
      if (next == track->seats.n) break;
      Seat *seat = &track->seats.at[next];
      if (becomes == FIT_DONE && seat->now == FIT_DONE) twice(play, step, track, seat);
      if (becomes == FIT_OFF && seat->now == FIT_OFF && seat->since >= 0 && seat->since != step)
        off_already(play, step, track, seat);
      if (becomes == FIT_DONE && seat->now == FIT_TRIAL) still_on(play, step, track, seat);
      if (becomes == FIT_TRIAL && seat->now == FIT_DONE) continue;
      bool was_on = seat->now == FIT_DONE || seat->now == FIT_TRIAL;
      if (becomes != FIT_OFF && !was_on && real) used_up(play, step, track, seat);
      *seat = (Seat){seat->instance, becomes, step, seat->used};
    }
  }
}

/* The first step from there on that fits the role at that instance; -1: none. */
static int fits_later(const Planner *planner, const Role *role, const Instance *at, int step) {
  for (int i = step; i < (int)planner->plan->steps.n; i++) {
    const PlanStep *it = planner->plan->steps.at[i];
    for (size_t r = 0; r < it->decl->fits.n; r++) {
      if (text_is(name_split(planner->arena, it->decl->fits.at[r].s).base, role->name) &&
          is_related(it->instance, at))
        return i;
    }
  }
  return -1;
}

static void not_yet_on(Seats *play, int step, const JobJoint *joint, const RoleSeats *track,
                       const Seat *seat, int later) {
  Planner *planner = play->planner;
  if (!tell_once(planner, arena_printf(planner->arena, "early/%s", joint->name))) return;
  Finding *finding =
      finding_add(planner->run, RULE_TIGHTENED_WRONG, planner->plan->steps.at[step]->decl->at,
                  "%s tightens %s before %s%s is on", step_print(planner, step), joint->label,
                  track->role->label, instance_tail(planner->arena, seat->instance));
  finding_subject(finding, joint->name);
  finding_note(planner->run, finding, planner->plan->steps.at[later]->decl->at, "%s fits it",
               step_print(planner, later));
  finding_way_out(planner->run, finding, "tighten it after that step");
}

/* What a joint holds is there when it is tightened. A part never taken off may be
 * on as found, unless the procedure itself puts it on afterwards. */
static void held_parts(Seats *play, int step, const JobJoint *joint) {
  Planner *planner = play->planner;
  for (size_t p = 0; p < joint->hardware->parties.n; p++) {
    const RoleSeats *track = map_find(play->by_name, joint->hardware->parties.at[p].s);
    for (size_t s = 0; track && s < track->seats.n; s++) {
      const Seat *seat = &track->seats.at[s];
      if (seat->now == FIT_DONE || seat->now == FIT_TRIAL) continue;
      if (!is_related(seat->instance, joint->instance)) continue;
      int later = fits_later(planner, track->role, seat->instance, step);
      bool here = later >= 0 && planner->plan->steps.at[later]->procedure ==
                                    planner->plan->steps.at[step]->procedure;
      if (later >= 0 && (here || seat->now == FIT_OFF))
        not_yet_on(play, step, joint, track, seat, later);
    }
  }
}

static void tightens(Seats *play, int step) {
  const PlanStep *it = play->planner->plan->steps.at[step];
  const JobJoint *last = NULL;
  for (size_t i = 0; i < it->passes.n; i++) {
    const PlanPass *pass = &it->passes.at[i];
    bool on = pass->kind == PASS_TO || pass->kind == PASS_FINAL || pass->kind == PASS_ANGLE;
    if (!pass->joint || !on || pass->joint == last) continue;
    last = pass->joint;
    held_parts(play, step, last);
  }
}

/* What a step works on is on. As found it may be, unless the procedure itself puts it on
 * afterwards. */
static bool is_on(const Seats *play, int step, const RoleSeats *track, const Seat *seat) {
  const Planner *planner = play->planner;
  if (seat->now == FIT_DONE || seat->now == FIT_TRIAL) return true;
  if (seat->now == FIT_OFF) return false;
  int later = fits_later(planner, track->role, seat->instance, step);
  return later < 0 ||
         planner->plan->steps.at[later]->procedure != planner->plan->steps.at[step]->procedure;
}

static void not_on(Seats *play, int step, const RoleSeats *track, const Seat *seat) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  if (!tell_once(planner, arena_printf(planner->arena, "on/%s/%s", it->id, track->role->name)))
    return;
  Finding *finding = finding_add(planner->run, RULE_NOT_ON, it->decl->at,
                                 "%s works on %s%s, which is not on", step_print(planner, step),
                                 track->role->label, instance_tail(planner->arena, seat->instance));
  finding_subject(finding, track->role->name);
  if (seat->now == FIT_OFF && seat->since >= 0)
    finding_note(planner->run, finding, planner->plan->steps.at[seat->since]->decl->at,
                 "%s takes it off", step_print(planner, seat->since));
  int later = fits_later(planner, track->role, seat->instance, step);
  if (later >= 0)
    finding_way_out(planner->run, finding, "move it behind %s, which fits it",
                    step_print(planner, later));
  else
    finding_way_out(planner->run, finding, "fit it before, with 'fits: [%s]'", track->role->name);
}

static void works_on(Seats *play, int step) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t r = 0; r < it->decl->works_on.n; r++) {
    Name name = name_split(planner->arena, it->decl->works_on.at[r].s);
    const RoleSeats *track = map_find(play->by_name, name.base);
    if (!track) {
      tell_unknown(planner, it->procedure, &it->decl->works_on.at[r], "role", &play->names);
      continue;
    }
    InstanceList picked = {0};
    pick_instances(planner, &name, track->role->per, it->instance, &picked);
    for (size_t s = 0; s < track->seats.n && !track->role->none; s++)
      for (size_t i = 0; i < picked.n; i++)
        if (track->seats.at[s].instance == picked.at[i] &&
            !is_on(play, step, track, &track->seats.at[s]))
          not_on(play, step, track, &track->seats.at[s]);
  }
}

static void not_fitted(Seats *play, const RoleSeats *track, const Words *missing, int last) {
  Planner *planner = play->planner;
  const Role *role = track->role;
  Place at = role->at.source ? role->at : role->decl->at;
  if (last >= 0) at = planner->plan->steps.at[last]->decl->at;
  const char *part = role->part->name.s ? role->part->name.s : role->part->id;
  Text members = text_new(planner->arena);
  for (size_t i = 0; i < missing->n; i++) {
    const char *member = missing->at[i];
    text_addf(&members, "%s%s", i ? " and " : " for ", text_starts(member, ", ") ? member + 2 : "");
  }
  bool all = missing->n == track->seats.n;
  const char *what =
      last < 0 ? "no step fits it"
               : arena_printf(planner->arena, "%s has it last, and no later step fits it for good",
                              step_print(planner, last));
  Finding *finding = finding_add(planner->run, RULE_NOT_FITTED, at, "%s (%s): %s%s", role->label,
                                 part, what, all ? "" : text_done(&members));
  finding_subject(finding, role->name);
  finding_way_out(planner->run, finding,
                  "write 'fits: [%s]' in the step that does so, or name the procedure that has it",
                  role->name);
  offer_procedure(planner, finding, OFFER_FITS, role->name);
}

/* A part the build chose goes in. One of the engine's own may be in it already,
 * unless it was taken off or tried, a fellow of it is fitted, or the part all others
 * stand in is: the engine's first role. */
static void at_end(Seats *play) {
  Planner *planner = play->planner;
  bool bare = play->tracks.n > 0 && role_is_worked(planner, play->tracks.at[0].role->name);
  for (size_t i = 0; i < play->tracks.n; i++) {
    RoleSeats *track = &play->tracks.at[i];
    if (!track->role->part) continue;
    bool wanted = bare || role_is_chosen(track->role) || role_is_worked(planner, track->role->name);
    Words missing = {0};
    int last = -1;
    for (size_t s = 0; wanted && s < track->seats.n; s++) {
      const Seat *seat = &track->seats.at[s];
      if (seat->now == FIT_DONE) continue;
      vec_push(planner->arena, &missing, instance_tail(planner->arena, seat->instance));
      if (seat->since > last) last = seat->since;
    }
    if (missing.n > 0) not_fitted(play, track, &missing, last);
  }
}

static void names_known(const Seats *play, const PlanStep *step, const SaidList *roles) {
  for (size_t i = 0; i < roles->n; i++) {
    const Said *said = &roles->at[i];
    if (!map_find(play->by_name, name_split(play->planner->arena, said->s).base))
      tell_unknown(play->planner, step->procedure, said, "role", &play->names);
  }
}

void fitted_play(Planner *planner) {
  Seats play = {.planner = planner, .by_name = map_new(planner->arena)};
  add_tracks(&play);
  reach_names(&play);
  for (int i = 0; i < (int)planner->plan->steps.n; i++) {
    const StepDecl *decl = planner->plan->steps.at[i]->decl;
    names_known(&play, planner->plan->steps.at[i], &decl->another);
    names_known(&play, planner->plan->steps.at[i], &decl->chooses);
    set_seats(&play, i, &decl->removes, FIT_OFF, true);
    reach_check(&play, i);
    set_seats(&play, i, &decl->old, FIT_TRIAL, false);
    set_seats(&play, i, &decl->trial, FIT_TRIAL, true);
    set_seats(&play, i, &decl->fits, FIT_DONE, true);
    tightens(&play, i);
    works_on(&play, i);
  }
  if (planner->plan->steps.n > 0) at_end(&play);
}
