/* A joint that is tight and goes through all its passes once more. */
#include "plan/fasteners.h"
#include "plan/passes.h"

/* What the first time has used up. */
typedef enum Used { USED_NOTHING, USED_FASTENER, USED_LOCKER } Used;

static Used used_up(const JobJoint *joint) {
  const JointDecl *bundle = joint->bundle;
  const char *method = bundle->method.s;
  bool stretched =
      text_is(method, "stretch") || text_is(method, "yield") || text_is(method, "angle");
  if (stretched || text_is(joint->hardware->reuse.s, "new")) return USED_FASTENER;
  const Entry *locker = bundle->threadlock.entry;
  return locker && locker->kind == ENTRY_THREADLOCKER ? USED_LOCKER : USED_NOTHING;
}

static Finding *tell(Play *play, const Track *track, int step, int since) {
  Planner *planner = play->planner;
  Run *run = planner->run;
  const JobJoint *joint = track->joint;
  Place at = planner->plan->steps.at[step]->decl->at;
  bool own = planner->plan->steps.at[since]->instance == joint->instance; /* said by the step */
  const char *what = arena_printf(
      run->arena, "%s tightens %s again, from the first pass to the last; tight already since %s%s",
      step_print(planner, step), joint->label, step_print(planner, since),
      own ? "" : instance_tail(run->arena, joint->instance));
  const char *undo = "leave it out; where it comes apart between, write `undo: all` before";
  const JointDecl *bundle = joint->bundle;
  Finding *finding;
  switch (used_up(joint)) {
  case USED_FASTENER:
    finding =
        finding_add(run, RULE_REUSED_STRETCH, at, "new ones are asked for each time: %s", what);
    finding_note(run, finding, joint->hardware->at, "the joint stands here");
    finding_way_out(run, finding, "%s, and fit new ones", undo);
    break;
  case USED_LOCKER:
    finding = finding_add(run, RULE_TIGHTENED_WRONG, at, "turned again, %s lets go: %s",
                          bundle->threadlock.entry->name.s, what);
    finding_note(run, finding, bundle->threadlock.at, "the threadlocker is asked for here");
    finding_way_out(run, finding, "%s, clean the threads and put it on anew", undo);
    break;
  default:
    finding = finding_add(run, RULE_TIGHTENED_AGAIN, at, "%s", what);
    finding_way_out(run, finding, "%s%s", undo,
                    track->retorque.n ? "; for the tightening again of its sheet `retorque: all`"
                                      : "");
  }
  finding_subject(finding, joint->name);
  return finding;
}

void fastener_round(Play *play, Track *track, int step, const PlanPass *pass, Trace *trace) {
  const JobJoint *joint = track->joint;
  if (trace->tight_at < 0 || !joint->bundle || trace->asked.n == 0) return;
  if (!pass_is_same(joint, &trace->asked.at[trace->round], pass)) trace->round = 0;
  trace->round += pass_is_same(joint, &trace->asked.at[trace->round], pass);
  if (trace->round < trace->asked.n) return;
  trace->round = 0;
  int since = trace->tight_at;
  trace->tight_at = step;
  /* one pass, gone round twice in a step, is one work */
  if (trace->asked.n == 1 && since == step) return;
  if (track->wrong || track->worn || track->again) return;
  track->again = true;
  Planner *planner = play->planner;
  const char *mark = arena_printf(planner->arena, "again/%s/%s/%s", step_mark(planner, step),
                                  step_mark(planner, since), joint->name);
  if (!told_likewise(planner, mark, joint->instance))
    told_by(planner, mark, tell(play, track, step, since));
}

static void loosened(Track *track) {
  for (size_t i = 0; i < track->traces.n; i++) {
    track->traces.at[i].tight_at = -1;
    track->traces.at[i].round = 0;
  }
}

/* The copies of an opening that a step names. */
static const OpeningDecl *meant(const Planner *planner, const PlanStep *step, const Said *said,
                                InstanceList *out) {
  Name name = name_split(planner->arena, said->s);
  const EngineEntry *engine = planner->job->engine;
  for (size_t i = 0; i < engine->openings.n; i++) {
    const OpeningDecl *decl = &engine->openings.at[i];
    if (!text_is(decl->name, name.base)) continue;
    pick_instances(planner, &name, job_set(planner->job, decl->per.s), step->instance, out);
    return decl;
  }
  return NULL;
}

static bool closes_that(const Planner *planner, const PlanStep *step, const OpeningDecl *decl,
                        const Instance *at) {
  for (size_t i = 0; i < step->decl->closes.n; i++) {
    InstanceList closed = {0};
    if (meant(planner, step, &step->decl->closes.at[i], &closed) != decl) continue;
    for (size_t c = 0; c < closed.n; c++)
      if (closed.at[c] == at) return true;
  }
  return false;
}

static void loosen_of_step(Play *play, const PlanStep *step, const Instance *at) {
  for (size_t j = 0; j < step->joints.n; j++)
    if (is_related(step->joints.at[j]->instance, at)) loosened(track_of(play, step->joints.at[j]));
}

/* The joints of a part that the step puts on, whichever step tightens them. */
static void loosen_of_parts(Play *play, const PlanStep *step, const Instance *at) {
  Planner *planner = play->planner;
  for (size_t f = 0; f < step->decl->fits.n; f++) {
    Name name = name_split(planner->arena, step->decl->fits.at[f].s);
    const Role *role = job_role(planner->job, name.base);
    for (size_t i = 0; role && i < play->tracks.n; i++) {
      Track *track = play->tracks.at[i];
      if (is_related(track->joint->instance, at) && joint_holds(track->joint, role))
        loosened(track);
    }
  }
}

/* What closed it is loose: what the step that did tightened, and the one right behind it where
 * that step only laid it on. */
static void loosen_what_closed(Play *play, int step, const OpeningDecl *decl, const Instance *at) {
  const Plan *plan = play->planner->plan;
  for (int s = 0; s < step; s++) {
    const PlanStep *before = plan->steps.at[s];
    if (!closes_that(play->planner, before, decl, at)) continue;
    loosen_of_step(play, before, at);
    loosen_of_parts(play, before, at);
    const PlanStep *next = plan->steps.at[s + 1];
    if (!before->joints.n && next->plan_block == before->plan_block) loosen_of_step(play, next, at);
  }
}

void fasteners_opened(Play *play, int step) {
  const PlanStep *it = play->planner->plan->steps.at[step];
  for (size_t o = 0; o < it->decl->opens.n; o++) {
    InstanceList opened = {0};
    const OpeningDecl *decl = meant(play->planner, it, &it->decl->opens.at[o], &opened);
    for (size_t i = 0; decl && i < opened.n; i++)
      loosen_what_closed(play, step, decl, opened.at[i]);
  }
}
