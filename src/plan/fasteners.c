/* Every fastener played through: how far its joint's passes have got. */
#include "plan/passes.h"
#include "plan/work.h"

typedef enum Tightness { LOOSE, STARTED, FINAL, DISTURBED } Tightness;
static const char *const tightness_words[] = {[LOOSE] = "loose",
                                              [STARTED] = "short of its final pass",
                                              [FINAL] = "final",
                                              [DISTURBED] = "disturbed"};

/* One fastener. */
typedef struct Trace {
  Tightness now;
  Passes asked;   /* the joint's passes that concern it */
  size_t done;    /* of them, since it was last loose */
  bool was_final; /* at its final pass, then undone */
  size_t angles;  /* turned on by, since it was last loose */
  size_t again;   /* passes done of tightening again */
  bool retorqued; /* through with them */
} Trace;

typedef struct Track {
  JobJoint *joint;
  VEC(Trace) traces; /* same index as joint->place_names */
  Passes retorque;   /* tightening again, as its sheet asks; none: it does not */
  int last;          /* the last step that worked on it, -1: none */
  bool wrong;        /* reported; what follows from it is not */
  bool worn;         /* reported as used again */
} Track;

typedef struct Play {
  Planner *planner;
  VEC(Track *) tracks; /* same index as job->joints */
  Map *by_key;
} Play;

static const char *track_key(const Play *play, const JobJoint *joint) {
  return arena_printf(play->planner->arena, "%s/%d", joint->name, joint->instance->id);
}

static bool concerns(const Pass *pass, const char *place) {
  if (pass->only.n == 0) return true;
  for (size_t i = 0; i < pass->only.n; i++) {
    if (text_is(pass->only.at[i].s, place)) return true;
  }
  return false;
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
    Trace trace = {0};
    for (size_t p = 0; p < passes.n; p++) {
      bool alone = passes.at[p].kind == PASS_TURN_OVER || passes.at[p].kind == PASS_CHECK;
      if (!alone && concerns(&passes.at[p], joint->place_names.at[i]))
        vec_push(arena, &trace.asked, passes.at[p]);
    }
    vec_push(arena, &track->traces, trace);
  }
  vec_push(arena, &play->tracks, track);
  map_put(play->by_key, track_key(play, joint), track);
}

static void wrong(Play *play, Track *track, int step, const PlanPass *pass, const Trace *trace,
                  const char *place) {
  Run *run = play->planner->run;
  if (track->wrong) return;
  track->wrong = true;
  const JobJoint *joint = track->joint;
  const char *due = trace->done < trace->asked.n
                        ? asked_print(run->arena, joint, &trace->asked.at[trace->done])
                        : "nothing more";
  const PlanStep *it = play->planner->plan->steps.at[step];
  Finding *finding =
      finding_add(run, RULE_TIGHTENED_WRONG, it->decl->at,
                  "%s tightens %s, place %s: %s, where %s is due", step_print(play->planner, step),
                  joint->label, place, done_print(run->arena, joint, pass), due);
  finding_subject(finding, joint->name);
  Text passes = text_new(run->arena);
  for (size_t i = 0; i < trace->asked.n; i++)
    text_addf(&passes, "%s%s", i ? ", " : "", asked_print(run->arena, joint, &trace->asked.at[i]));
  if (joint->bundle)
    finding_note(run, finding, joint->bundle->at, "its sheet asks for: %s", text_done(&passes));
  finding_way_out(run, finding,
                  "follow the sheet's passes, or write the joint alone for all of them");
}

/* A part that must be new each time has been tight and is tightened once more. */
static void used_again(Play *play, Track *track, int step, const Trace *trace) {
  const JobJoint *joint = track->joint;
  if (!trace->was_final || track->worn || !text_is(joint->hardware->reuse.s, "new")) return;
  track->worn = true;
  Run *run = play->planner->run;
  Finding *finding =
      finding_add(run, RULE_REUSED_STRETCH, play->planner->plan->steps.at[step]->decl->at,
                  "%s tightens %s again; they must be new each time and were tight for a trial",
                  step_print(play->planner, step), joint->label);
  finding_subject(finding, joint->name);
  finding_note(run, finding, joint->hardware->reuse.at, "new each time is asked here");
  finding_way_out(run, finding,
                  "make the trial with old ones, named as tools and not as this joint");
}

/* A fastener that is tight is checked or tightened again from some pass on. */
static bool again(const JobJoint *joint, Trace *trace, const PlanPass *pass) {
  for (size_t i = trace->asked.n; i-- > 0;) {
    if (!pass_is_same(joint, &trace->asked.at[i], pass)) continue;
    trace->done = i + 1;
    return true;
  }
  return false;
}

/* What was turned on by an angle stays stretched: a second angle comes on top of the first. */
static void turned_on(Play *play, Track *track, int step) {
  const JobJoint *joint = track->joint;
  if (track->worn) return;
  track->worn = true;
  Run *run = play->planner->run;
  Finding *finding =
      finding_add(run, RULE_REUSED_STRETCH, play->planner->plan->steps.at[step]->decl->at,
                  "%s turns %s on by their angle once more, and they have had it",
                  step_print(play->planner, step), joint->label);
  finding_subject(finding, joint->name);
  if (joint->bundle) finding_note(run, finding, joint->bundle->at, "the angle is asked for here");
  finding_way_out(run, finding,
                  "leave it out; where they come off, write `undo: all` before, and fit new ones");
}

static void not_yet_tight(Play *play, Track *track, int step, const char *place) {
  if (track->wrong) return;
  track->wrong = true;
  Run *run = play->planner->run;
  Finding *finding =
      finding_add(run, RULE_TIGHTENED_WRONG, play->planner->plan->steps.at[step]->decl->at,
                  "%s tightens %s again, and place %s is not tight yet",
                  step_print(play->planner, step), track->joint->label, place);
  finding_subject(finding, track->joint->name);
  finding_way_out(run, finding, "put it after the step with the joint's own passes");
}

/* One pass of tightening again; they come from the sheet, in its order. */
static void do_again(Play *play, Track *track, int step, size_t place) {
  Trace *trace = &track->traces.at[place];
  const char *name = track->joint->place_names.at[place];
  bool tight = trace->now == FINAL || trace->now == DISTURBED;
  if (!tight && !trace->again) not_yet_tight(play, track, step, name);
  size_t asked = 0;
  for (size_t i = 0; i < track->retorque.n; i++) asked += concerns(&track->retorque.at[i], name);
  trace->retorqued = ++trace->again >= asked;
  if (trace->retorqued) trace->again = 0;
  trace->now = trace->retorqued ? FINAL : STARTED;
}

static size_t angles_asked(const Trace *trace) {
  size_t n = 0;
  for (size_t i = 0; i < trace->asked.n; i++) n += trace->asked.at[i].kind == PASS_ANGLE;
  return n;
}

static bool is_turned(const JobJoint *joint) {
  const char *method = joint->bundle ? joint->bundle->method.s : NULL;
  return text_is(method, "angle") || text_is(method, "yield");
}

static bool is_first_by_hand(const Trace *trace, const PlanPass *pass) {
  return pass->kind == PASS_HAND && trace->done == 0 &&
         !(trace->asked.n > 0 && trace->asked.at[0].kind == PASS_HAND);
}

static void do_pass(Play *play, Track *track, int step, const PlanPass *pass, size_t place) {
  Trace *trace = &track->traces.at[place];
  const JobJoint *joint = track->joint;
  if (pass->retorque) {
    do_again(play, track, step, place);
    return;
  }
  bool due =
      trace->done < trace->asked.n && pass_is_same(joint, &trace->asked.at[trace->done], pass);
  if (pass->kind == PASS_UNDO && !due) {
    trace->was_final = trace->was_final || trace->now == FINAL;
    trace->now = LOOSE;
    trace->done = trace->again = trace->angles = 0;
    trace->retorqued = false;
    return;
  }
  if (trace->now == LOOSE) used_again(play, track, step, trace);
  if (!joint->bundle) {
    trace->now = FINAL; /* nobody says how, and that was reported */
    return;
  }
  if (is_first_by_hand(trace, pass)) {
    trace->now = STARTED;
    return;
  }
  bool tight = trace->now == FINAL || trace->now == DISTURBED;
  if (pass->kind == PASS_ANGLE && is_turned(joint) && ++trace->angles > angles_asked(trace))
    turned_on(play, track, step);
  if (tight ? !again(joint, trace, pass) : !due) {
    wrong(play, track, step, pass, trace, joint->place_names.at[place]);
    trace->done = trace->asked.n;
  } else if (!tight) {
    trace->done++;
  }
  trace->now = trace->done == trace->asked.n ? FINAL : STARTED;
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
    Track *track = map_find(play->by_key, track_key(play, joints.at[i]));
    if (is_left_alone(play, track, step)) continue;
    track->last = step;
    for (size_t t = 0; t < track->traces.n; t++) track->traces.at[t].now = DISTURBED;
  }
}

static void tighten(Play *play, int step) {
  const PlanStep *it = play->planner->plan->steps.at[step];
  for (size_t p = 0; p < it->passes.n; p++) {
    const PlanPass *pass = &it->passes.at[p];
    if (!pass->joint) continue;
    Track *track = map_find(play->by_key, track_key(play, pass->joint));
    if (is_left_alone(play, track, step)) continue;
    track->last = step;
    for (size_t f = 0; f < pass->fasteners.n; f++) {
      for (size_t i = 0; i < track->traces.n; i++) {
        if (text_is(track->joint->place_names.at[i], pass->fasteners.at[f]))
          do_pass(play, track, step, pass, i);
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
    return arena_printf(arena, "%s %s", count == 1 ? "is" : "are all", tightness_words[worst]);
  return arena_printf(arena, "place%s %s %s %s", count == 1 ? "" : "s", text_done(&text),
                      count == 1 ? "is" : "are", tightness_words[worst]);
}

static void not_tightened(Play *play, Track *track, Place at, const char *when,
                          const char *places) {
  Run *run = play->planner->run;
  Finding *finding = finding_add(run, RULE_NOT_TIGHTENED, at, "%s%s: %s%s", track->joint->label,
                                 instance_tail(run->arena, track->joint->instance), places, when);
  finding_subject(finding, track->joint->name);
  if (track->last >= 0)
    finding_note(run, finding, play->planner->plan->steps.at[track->last]->decl->at,
                 "%s works on it last", step_print(play->planner, track->last));
  finding_way_out(run, finding, "add 'tighten: [{joint: %s}]' to a step before",
                  track->joint->name);
  track->wrong = true;
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
    const char *when =
        arena_printf(planner->arena, " when %s %s %s", step_print(planner, step),
                     runs ? "runs" : "closes", runs ? "the engine" : it->decl->closes.at[0].s);
    not_tightened(play, track, it->decl->at, when, places);
  }
}

/* Joints the work has to do with: begun, of a part chosen or fitted, or holding one. */
static bool is_wanted(const Play *play, const Track *track) {
  if (track->last >= 0) return true;
  const Planner *planner = play->planner;
  const JobJoint *joint = track->joint;
  for (size_t i = 0; i < planner->job->roles.n; i++) {
    const Role *role = planner->job->roles.at[i];
    bool holds = role->part && role->part == joint->hardware_entry;
    for (size_t p = 0; p < joint->hardware->parties.n; p++)
      holds = holds || text_is(joint->hardware->parties.at[p].s, role->name);
    if (holds && role->part && (role_is_chosen(role) || role_is_worked(planner, role->name)))
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
  if (!due || !track->retorque.n || track->wrong) return;
  Finding *finding = finding_add(
      run, RULE_RETORQUE_LATER, joint->bundle->retorque_after.at,
      "%s%s: its sheet has it tightened again %s; no step of this packet does", joint->label,
      instance_tail(run->arena, joint->instance), joint->bundle->retorque_after.s);
  finding_subject(finding, joint->name);
  finding_way_out(run, finding,
                  "add a step with `tighten: [{joint: %s, retorque: all}]`, or agree a date with "
                  "the customer",
                  joint->name);
}

static void at_end(Play *play) {
  Planner *planner = play->planner;
  for (size_t i = 0; i < play->tracks.n; i++) {
    Track *track = play->tracks.at[i];
    check_left_alone(play, track);
    if (track->last >= 0) check_retorque(play, track);
    if (track->joint->undisturbed) continue;
    if (track->wrong || !track->joint->bundle || !is_wanted(play, track)) continue;
    const char *places = short_places(planner->arena, track, false);
    if (!places) continue;
    if (track->last < 0) places = "no step tightens it";
    Place at = track->last < 0 ? track->joint->hardware->at
                               : planner->plan->steps.at[track->last]->decl->at;
    not_tightened(play, track, at, track->last < 0 ? "" : " at the end of the work", places);
  }
}

void fasteners_play(Planner *planner) {
  Play play = {.planner = planner, .by_key = map_new(planner->arena)};
  for (size_t i = 0; i < planner->job->joints.n; i++) add_track(&play, planner->job->joints.at[i]);
  for (int i = 0; i < (int)planner->plan->steps.n; i++) {
    disturb(&play, i);
    tighten(&play, i);
    at_close(&play, i);
  }
  if (planner->plan->steps.n > 0) at_end(&play);
}
