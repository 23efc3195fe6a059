/* One pass of the work on one fastener, beside the pass that its sheet has next. */
#include "plan/fasteners.h"
#include "plan/passes.h"

bool pass_concerns(const Pass *pass, const char *place) {
  if (pass->only.n == 0) return true;
  for (size_t i = 0; i < pass->only.n; i++) {
    if (text_is(pass->only.at[i].s, place)) return true;
  }
  return false;
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
  for (size_t i = 0; i < track->retorque.n; i++)
    asked += pass_concerns(&track->retorque.at[i], name);
  trace->retorqued = ++trace->again >= asked;
  if (trace->retorqued) trace->again = 0;
  trace->round = 0;
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

void fastener_undone(Trace *trace) {
  trace->was_final = trace->was_final || trace->now == FINAL;
  trace->now = LOOSE;
  trace->done = trace->again = trace->angles = trace->round = 0;
  trace->tight_at = -1;
  trace->retorqued = false;
}

void fastener_pass(Play *play, Track *track, int step, const PlanPass *pass, size_t place) {
  Trace *trace = &track->traces.at[place];
  const JobJoint *joint = track->joint;
  if (pass->retorque) {
    do_again(play, track, step, place);
    return;
  }
  bool due =
      trace->done < trace->asked.n && pass_is_same(joint, &trace->asked.at[trace->done], pass);
  if (pass->kind == PASS_UNDO && !due) {
    fastener_undone(trace);
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
  fastener_round(play, track, step, pass, trace);
  trace->now = trace->done == trace->asked.n ? FINAL : STARTED;
  if (trace->now == FINAL && trace->tight_at < 0) trace->tight_at = step;
}
