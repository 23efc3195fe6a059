/* Every fastener played through: how far its joint's passes have got. */
#include "plan/fasteners.h"
#include "plan/passes.h"

static const char *const tightness_words[] = {[LOOSE] = "loose",
                                              [STARTED] = "short of the final pass",
                                              [FINAL] = "final",
                                              [DISTURBED] = "disturbed"};

static const char *track_key(const Play *play, const JobJoint *joint) {
  return arena_printf(play->planner->arena, "%s/%d", joint->name, joint->instance->id);
}

Track *track_of(const Play *play, const JobJoint *joint) {
  return map_find(play->by_key, track_key(play, joint));
}

static void add_track(Play *play, JobJoint *joint) {
  Arena *arena = play->planner->arena;
  Track *track = ARENA_NEW(arena, Track);
  track->joint = joint;
  track->last = -1;
  for (size_t i = 0; i < joint->place_names.n; i++) {
    bool ordered = text_has(&joint->order, joint->place_names.at[i]);
    track->wrong = track->wrong || !ordered; /* its sheet's order misses it: reported */
  }
  Passes passes = {0};
  joint_passes(arena, joint, &passes);
  joint_retorque(arena, joint, &track->retorque);
  for (size_t i = 0; i < joint->place_names.n; i++) {
    Trace trace = {.tight_at = -1};
    for (size_t p = 0; p < passes.n; p++) {
      bool alone = passes.at[p].kind == PASS_TURN_OVER || passes.at[p].kind == PASS_CHECK;
      if (!alone && pass_concerns(&passes.at[p], joint->place_names.at[i]))
        vec_push(arena, &trace.asked, passes.at[p]);
    }
    vec_push(arena, &track->traces, trace);
  }
  vec_push(arena, &play->tracks, track);
  map_put(play->by_key, track_key(play, joint), track);
}

/* A joint that the build leaves alone, and a step that does not. */
static bool is_left_alone(Play *play, Track *track, int step) {
  const JobJoint *joint = track->joint;
  if (!joint->undisturbed) return false;
  if (track->wrong) return true;
  track->wrong = true;
  Run *run = play->planner->run;
  Finding *finding =
      finding_add(run, RULE_TIGHTENED_WRONG, play->planner->plan->steps.at[step]->decl->at,
                  "%s works on %s, which the build leaves undisturbed",
                  step_print(play->planner, step), joint->label);
  finding_subject(finding, joint->name);
  finding_note(run, finding, joint->undisturbed->at, "it says so here");
  finding_way_out(run, finding, "take it out of `undisturbed:`, or leave the step out");
  return true;
}

static void disturb(Play *play, int step) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  if (!it->decl->disturbs.s) return;
  Name name = name_split(planner->arena, it->decl->disturbs.s);
  JointList joints = {0};
  pick_joints(planner, &name, it->instance, &joints);
  if (joints.n == 0)
    tell_unknown(planner, it->procedure, &it->decl->disturbs, "joint", &planner->joint_names);
  for (size_t i = 0; i < joints.n; i++) {
    Track *track = track_of(play, joints.at[i]);
    if (is_left_alone(play, track, step)) continue;
    track->last = step;
    for (size_t t = 0; t < track->traces.n; t++) {
      track->traces.at[t].now = DISTURBED;
      track->traces.at[t].tight_at = -1;
    }
  }
}

bool joint_holds(const JobJoint *joint, const Role *role) {
  if (role->part && role->part == joint->hardware_entry) return true;
  for (size_t p = 0; p < joint->hardware->parties.n; p++)
    if (text_is(joint->hardware->parties.at[p].s, role->name)) return true;
  return false;
}

/* Its own passes have it undone here, and go on when the part is on again. */
static bool is_between_rounds(const Trace *trace) {
  if (trace->now != STARTED || trace->done == 0) return false;
  PassKind last = trace->asked.at[trace->done - 1].kind;
  return last == PASS_UNDO || last == PASS_BACK_OFF;
}

/* What comes off was held by joints, and those are undone. */
static void take_apart(Play *play, int step) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t r = 0; r < it->decl->removes.n; r++) {
    Name name = name_split(planner->arena, it->decl->removes.at[r].s);
    const Role *role = job_role(planner->job, name.base);
    InstanceList off = {0};
    if (role) pick_instances(planner, &name, role->per, it->instance, &off);
    for (size_t i = 0; i < play->tracks.n && off.n > 0; i++) {
      Track *track = play->tracks.at[i];
      bool held = false;
      for (size_t o = 0; o < off.n; o++)
        held = held || is_related(off.at[o], track->joint->instance);
      if (!held || track->last < 0 || track->joint->undisturbed || !joint_holds(track->joint, role))
        continue;
      for (size_t t = 0; t < track->traces.n; t++) {
        Trace *trace = &track->traces.at[t];
        if (!is_between_rounds(trace)) fastener_undone(trace);
      }
      track->last = step;
    }
  }
}

static void tighten(Play *play, int step) {
  const PlanStep *it = play->planner->plan->steps.at[step];
  for (size_t p = 0; p < it->passes.n; p++) {
    const PlanPass *pass = &it->passes.at[p];
    if (!pass->joint) continue;
    Track *track = track_of(play, pass->joint);
    if (is_left_alone(play, track, step)) continue;
    track->last = step;
    for (size_t f = 0; f < pass->fasteners.n; f++) {
      for (size_t i = 0; i < track->traces.n; i++) {
        if (text_is(track->joint->place_names.at[i], pass->fasteners.at[f]))
          fastener_pass(play, track, step, pass, i);
      }
    }
  }
}

/* "places 3 and 4 are loose"; NULL when all are final. */
static const char *short_places(Arena *arena, const Track *track, bool begun_only) {
  Text text = text_new(arena);
  size_t count = 0;
  Tightness worst = FINAL;
  for (size_t i = 0; i < track->traces.n; i++) {
    Tightness now = track->traces.at[i].now;
    if (now == FINAL || (begun_only && now == LOOSE)) continue;
    text_addf(&text, "%s%s", count++ ? ", " : "", track->joint->place_names.at[i]);
    worst = now;
  }
  if (count == 0) return NULL;
  if (count == track->traces.n)
    return arena_printf(arena, "%s %s", count == 1 ? "is" : "all are", tightness_words[worst]);
  return arena_printf(arena, "place%s %s %s %s", count == 1 ? "" : "s", text_done(&text),
                      count == 1 ? "is" : "are", tightness_words[worst]);
}

static void not_tightened(Play *play, Track *track, Place at, const char *members, const char *when,
                          const char *places) {
  Run *run = play->planner->run;
  Finding *finding = finding_add(run, RULE_NOT_TIGHTENED, at, "%s%s: %s%s", track->joint->label,
                                 members, places, when);
  finding_subject(finding, track->joint->name);
  if (track->last >= 0)
    finding_note(run, finding, play->planner->plan->steps.at[track->last]->decl->at,
                 "%s works on it last", step_print(play->planner, track->last));
  finding_way_out(run, finding, "add 'tighten: [{joint: %s}]' to a step before",
                  track->joint->name);
  if (track->last < 0) offer_procedure(play->planner, finding, OFFER_TIGHTENS, track->joint->name);
  track->wrong = true;
}

/* ", left" with ", right": ", left and right". */
static const char *tail_and(Arena *arena, const char *tails, const Instance *other) {
  const char *tail = instance_tail(arena, other);
  return text_starts(tail, ", ") ? arena_printf(arena, "%s and %s", tails, tail + 2) : tails;
}

/* Nothing may be closed in while a joint is half done. */
static void at_close(Play *play, int step) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  bool runs = step_runs(it);
  if (it->decl->closes.n == 0 && !runs) return;
  for (size_t i = 0; i < play->tracks.n; i++) {
    Track *track = play->tracks.at[i];
    if (track->wrong || track->last < 0 || !is_related(track->joint->instance, it->instance))
      continue;
    const char *places = short_places(planner->arena, track, !runs);
    if (!places) continue;
    Short found = {track, step, track->last, places, false};
    vec_push(planner->arena, &play->shorts, found);
    track->wrong = true;
  }
}

/* The same joint of another member, as short at the same step or at its own of that name. */
static bool is_the_same(const Play *play, const Short *a, const Short *b) {
  const Plan *plan = play->planner->plan;
  return !b->told && text_is(a->track->joint->name, b->track->joint->name) &&
         text_is(a->places, b->places) &&
         plan->steps.at[a->step]->decl == plan->steps.at[b->step]->decl;
}

static void tell_closed(Play *play) {
  Planner *planner = play->planner;
  for (size_t i = 0; i < play->shorts.n; i++) {
    Short *first = &play->shorts.at[i];
    if (first->told) continue;
    const PlanStep *it = planner->plan->steps.at[first->step];
    bool runs = step_runs(it);
    const char *tails = instance_tail(planner->arena, first->track->joint->instance);
    const char *steps = step_print(planner, first->step);
    for (size_t j = i + 1; j < play->shorts.n; j++) {
      Short *other = &play->shorts.at[j];
      if (!is_the_same(play, first, other)) continue;
      other->told = true;
      tails = tail_and(planner->arena, tails, other->track->joint->instance);
      if (other->step != first->step)
        steps = arena_printf(planner->arena, "%s and %s", steps, step_print(planner, other->step));
    }
    const char *when =
        arena_printf(planner->arena, " when %s %s %s", steps, runs ? "runs" : "closes",
                     runs ? "the engine" : it->decl->closes.at[0].s);
    first->track->last = first->last; /* as it was then */
    not_tightened(play, first->track, it->decl->at, tails, when, first->places);
  }
}

/* Joints the work has to do with: begun, of a part chosen or fitted, or holding one. */
static bool is_wanted(const Play *play, const Track *track) {
  if (track->last >= 0) return true;
  const Planner *planner = play->planner;
  const JobJoint *joint = track->joint;
  for (size_t i = 0; i < planner->job->roles.n; i++) {
    const Role *role = planner->job->roles.at[i];
    if (joint_holds(joint, role) && role->part &&
        (role_is_chosen(role) || role_is_worked(planner, role->name)))
      return true;
  }
  return false;
}

/* All that an undisturbed joint holds together is fitted by this work: it cannot be. */
static void check_left_alone(Play *play, Track *track) {
  const JobJoint *joint = track->joint;
  const SaidList *parties = &joint->hardware->parties;
  if (!joint->undisturbed || track->wrong || parties->n < 2) return;
  for (size_t i = 0; i < parties->n; i++)
    if (!role_is_worked(play->planner, parties->at[i].s)) return;
  Run *run = play->planner->run;
  Finding *finding = finding_add(
      run, RULE_NOT_TIGHTENED, joint->undisturbed->at,
      "the build leaves %s undisturbed, and this work fits all that they hold", joint->label);
  finding_subject(finding, joint->name);
  finding_way_out(run, finding, "take it out of `undisturbed:` and tighten it in a step");
}

/* Its sheet wants it tightened again, and nobody has. */
static void check_retorque(Play *play, const Track *track) {
  Run *run = play->planner->run;
  const JobJoint *joint = track->joint;
  bool due = false;
  for (size_t i = 0; i < track->traces.n; i++)
    due = due || (track->traces.at[i].now == FINAL && !track->traces.at[i].retorqued);
  if (!due || !track->retorque.n || track->wrong || track->again) return;
  Finding *finding = finding_add(
      run, RULE_RETORQUE_LATER, joint->bundle->retorque_after.at,
      "%s%s: its sheet has it tightened again %s; no step of this packet does", joint->label,
      instance_tail(run->arena, joint->instance), joint_again_print(run->arena, joint));
  finding_subject(finding, joint->name);
  finding_way_out(run, finding,
                  "add a step with `tighten: [{joint: %s, retorque: all}]`, or agree a date with "
                  "the customer",
                  joint->name);
}

/* How the joint falls short at the end of the work; NULL: it does not, or not here. */
static const char *short_at_end(Play *play, const Track *track) {
  if (track->joint->undisturbed || track->wrong || !track->joint->bundle) return NULL;
  if (!is_wanted(play, track)) return NULL;
  const char *places = short_places(play->planner->arena, track, false);
  return places && track->last < 0 ? "no step tightens it" : places;
}

/* The same joint of other members that the same work leaves as short: ", left and right". */
static const char *with_the_others(Play *play, size_t first, const char *places) {
  Arena *arena = play->planner->arena;
  const Plan *plan = play->planner->plan;
  const Track *track = play->tracks.at[first];
  const char *tails = instance_tail(arena, track->joint->instance);
  for (size_t i = first + 1; i < play->tracks.n; i++) {
    Track *other = play->tracks.at[i];
    if (!text_is(other->joint->name, track->joint->name)) continue;
    bool same_work = track->last < 0 || other->last < 0
                         ? track->last == other->last
                         : plan->steps.at[track->last]->decl == plan->steps.at[other->last]->decl;
    if (!same_work || !text_is(short_at_end(play, other), places)) continue;
    tails = tail_and(arena, tails, other->joint->instance);
    other->wrong = true;
  }
  return tails;
}

static void at_end(Play *play) {
  Planner *planner = play->planner;
  for (size_t i = 0; i < play->tracks.n; i++) {
    Track *track = play->tracks.at[i];
    check_left_alone(play, track);
    if (track->last >= 0) check_retorque(play, track);
  }
  for (size_t i = 0; i < play->tracks.n; i++) {
    Track *track = play->tracks.at[i];
    const char *places = short_at_end(play, track);
    if (!places) continue;
    Place at = track->last < 0 ? track->joint->hardware->at
                               : planner->plan->steps.at[track->last]->decl->at;
    const char *tails = with_the_others(play, i, places);
    not_tightened(play, track, at, tails, track->last < 0 ? "" : " at the end of the work", places);
  }
}

void fasteners_play(Planner *planner) {
  Play play = {.planner = planner, .by_key = map_new(planner->arena)};
  for (size_t i = 0; i < planner->job->joints.n; i++) add_track(&play, planner->job->joints.at[i]);
  for (int i = 0; i < (int)planner->plan->steps.n; i++) {
    take_apart(&play, i);
    disturb(&play, i);
    fasteners_opened(&play, i);
    tighten(&play, i);
    at_close(&play, i);
  }
  tell_closed(&play);
  if (planner->plan->steps.n > 0) at_end(&play);
}
