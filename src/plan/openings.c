/* Openings played through from the first step to the last. */
#include "plan/openings.h"

/* What a step does to an opening, in the order in which it does so; work through the
 * opening comes between the second and the third. */
typedef enum Act { ACT_OPEN, ACT_UNCOVER, ACT_COVER, ACT_CLOSE, ACT_COUNT } Act;
typedef struct ActInfo {
  const char *does;           /* "closes" */
  OpeningState from, becomes; /* the one way that is right */
} ActInfo;
static const ActInfo acts[ACT_COUNT] = {
    [ACT_OPEN] = {"opens", OPENING_CLOSED, OPENING_OPEN},
    [ACT_UNCOVER] = {"uncovers", OPENING_COVERED, OPENING_OPEN},
    [ACT_COVER] = {"covers", OPENING_OPEN, OPENING_COVERED},
    [ACT_CLOSE] = {"closes", OPENING_OPEN, OPENING_CLOSED},
};
typedef struct Slot {
  int index;
} Slot;

static const char *opening_key(const OpeningPlay *play, const char *name, const Instance *at) {
  return arena_printf(play->planner->arena, "%s/%d", name, at->id);
}

static OpeningState starts_as(const OpeningDecl *decl) {
  if (text_is(decl->starts.s, "open")) return OPENING_OPEN;
  return text_is(decl->starts.s, "covered") ? OPENING_COVERED : OPENING_CLOSED;
}

static void add_openings(OpeningPlay *play) {
  Planner *planner = play->planner;
  const EngineEntry *engine = planner->job->engine;
  for (size_t i = 0; i < engine->openings.n; i++) {
    const OpeningDecl *decl = &engine->openings.at[i];
    vec_push(planner->arena, &play->names, decl->name);
    const InstanceList *members = members_of(planner, job_set(planner->job, decl->per.s));
    for (size_t m = 0; m < members->n; m++) {
      Opening opening = {.decl = decl, .instance = members->at[m], .starts = starts_as(decl)};
      opening.label =
          arena_printf(planner->arena, "%s%s", decl->label.s ? decl->label.s : decl->name,
                       instance_tail(planner->arena, opening.instance));
      Slot *slot = ARENA_NEW(planner->arena, Slot);
      slot->index = (int)planner->plan->openings.n;
      map_put(play->by_key, opening_key(play, decl->name, opening.instance), slot);
      vec_push(planner->arena, &planner->plan->openings, opening);
      OpeningTrack track = {.now = opening.starts, .since = -1};
      vec_push(planner->arena, &play->tracks, track);
    }
  }
}

static void pick_openings(OpeningPlay *play, const PlanStep *step, const Said *said, Ints *out) {
  Planner *planner = play->planner;
  Name name = name_split(planner->arena, said->s);
  const EngineEntry *engine = planner->job->engine;
  size_t before = out->n;
  for (size_t i = 0; i < engine->openings.n; i++) {
    const OpeningDecl *decl = &engine->openings.at[i];
    if (!text_is(decl->name, name.base)) continue;
    InstanceList picked = {0};
    pick_instances(planner, &name, job_set(planner->job, decl->per.s), step->instance, &picked);
    for (size_t p = 0; p < picked.n; p++) {
      Slot *slot = map_find(play->by_key, opening_key(play, decl->name, picked.at[p]));
      if (slot) vec_push(planner->arena, out, slot->index);
    }
  }
  if (out->n == before) tell_unknown(planner, step->procedure, said, "opening", &play->names);
}

Opening *opening_at(const OpeningPlay *play, int index) {
  return &play->planner->plan->openings.at[index];
}

const char *opening_state_word(OpeningState state) {
  static const char *const words[] = {
      [OPENING_OPEN] = "open", [OPENING_COVERED] = "covered", [OPENING_CLOSED] = "closed"};
  return words[state];
}

const char *opening_since_print(const OpeningPlay *play, int index) {
  const OpeningTrack *track = &play->tracks.at[index];
  const char *state = opening_state_word(track->now);
  if (track->since < 0) return arena_printf(play->planner->arena, "%s from the start", state);
  return arena_printf(play->planner->arena, "%s since %s", state,
                      step_print(play->planner, track->since));
}

Place opening_since_place(const OpeningPlay *play, int index) {
  int since = play->tracks.at[index].since;
  return since < 0 ? opening_at(play, index)->decl->at
                   : play->planner->plan->steps.at[since]->decl->at;
}

static void note_since(OpeningPlay *play, Finding *finding, int index) {
  finding_note(play->planner->run, finding, opening_since_place(play, index), "%s is made %s here",
               opening_at(play, index)->label, opening_state_word(play->tracks.at[index].now));
}

static void hang(OpeningPlay *play, Finding *finding, int opening, int step, OpeningState state,
                 bool wants, const char *also) {
  Pending pending = {finding, opening, step, state, wants, also};
  vec_push(play->planner->arena, &play->pending, pending);
  finding_subject(finding, play->planner->plan->steps.at[step]->id);
  play->tracks.at[opening].doubt = true;
}

/* What to write so that the step finds the opening as it needs it. */
static const char *mend(const OpeningPlay *play, Act act, int index) {
  OpeningState now = play->tracks.at[index].now;
  const char *name = opening_at(play, index)->decl->name;
  const char *add = NULL;
  if (act == ACT_OPEN && now == OPENING_COVERED) return "write 'uncovers' in place of 'opens'";
  if (act == ACT_UNCOVER && now == OPENING_CLOSED) return "write 'opens' in place of 'uncovers'";
  if (act == ACT_CLOSE && now == OPENING_COVERED) add = "uncovers";
  if (act != ACT_OPEN && now == OPENING_CLOSED) add = "opens";
  if (act == ACT_UNCOVER) add = "covers";
  if (!add) return "take it out here";
  return arena_printf(play->planner->arena, "add '%s: [%s]' to a step before it", add, name);
}

static const char *what_stays(Act act, OpeningState now) {
  if (now == OPENING_COVERED && act != ACT_UNCOVER) return "; the cover or plug stays in";
  return act == ACT_UNCOVER ? "; there is no cover to take off" : "";
}

static void not_as_found(OpeningPlay *play, int step, Act act, int index) {
  Planner *planner = play->planner;
  OpeningTrack *track = &play->tracks.at[index];
  const Opening *opening = opening_at(play, index);
  const char *mark = arena_printf(planner->arena, "act/%s/%d/%s/%d", step_mark(planner, step),
                                  (int)act, opening->decl->name, (int)track->now);
  track->doubt = true;
  if (told_likewise(planner, mark, opening->instance)) return;
  Finding *finding =
      finding_add(planner->run, RULE_OPENING_STATE, planner->plan->steps.at[step]->decl->at,
                  "%s %s %s, which is %s%s", step_print(planner, step), acts[act].does,
                  opening->label, opening_since_print(play, index), what_stays(act, track->now));
  note_since(play, finding, index);
  hang(play, finding, index, step, acts[act].from, true, mend(play, act, index));
  told_by(planner, mark, finding);
}

static void do_act(OpeningPlay *play, int step, Act act, int index) {
  Planner *planner = play->planner;
  OpeningTrack *track = &play->tracks.at[index];
  if (track->now != acts[act].from && !track->doubt) not_as_found(play, step, act, index);
  track->now = acts[act].becomes;
  track->since = step;
  OpeningEvent event = {index, step, acts[act].becomes};
  vec_push(planner->arena, &planner->plan->opening_trace, event);
}

static void do_acts(OpeningPlay *play, int step, Act act, const SaidList *names) {
  for (size_t i = 0; i < names->n; i++) {
    Ints picked = {0};
    pick_openings(play, play->planner->plan->steps.at[step], &names->at[i], &picked);
    for (size_t p = 0; p < picked.n; p++) do_act(play, step, act, picked.at[p]);
  }
}

static const char *kind_word(StepKind kind) {
  return kind == STEP_RECORD                         ? "measures"
         : kind == STEP_CHECK || kind == STEP_VERIFY ? "looks"
                                                     : "works";
}

static void work_through(OpeningPlay *play, int step) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t i = 0; i < it->decl->through.n; i++) {
    Ints picked = {0};
    pick_openings(play, it, &it->decl->through.at[i], &picked);
    for (size_t p = 0; p < picked.n; p++) {
      int index = picked.at[p];
      if (play->tracks.at[index].now == OPENING_OPEN) continue;
      const Opening *opening = opening_at(play, index);
      const char *mark = arena_printf(planner->arena, "through/%s/%s/%d", step_mark(planner, step),
                                      opening->decl->name, (int)play->tracks.at[index].now);
      play->tracks.at[index].doubt = true;
      if (told_likewise(planner, mark, opening->instance)) continue;
      Finding *finding =
          finding_add(planner->run, RULE_MEASURED_CLOSED, it->decl->at,
                      "%s %s through %s, which is %s", step_print(planner, step),
                      kind_word(it->decl->kind), opening->label, opening_since_print(play, index));
      told_by(planner, mark, finding);
      note_since(play, finding, index);
      hang(play, finding, index, step, OPENING_OPEN, true, NULL);
    }
  }
}

/* Openings a loose part may fall into: those named, else all near: of the same
 * member, those it belongs to and the ones that belong to it. */
static void zone_of(OpeningPlay *play, const PlanStep *step, Ints *out) {
  for (size_t i = 0; i < step->decl->over.n; i++)
    pick_openings(play, step, &step->decl->over.at[i], out);
  if (step->decl->over.n > 0) return;
  for (size_t i = 0; i < play->planner->plan->openings.n; i++) {
    if (is_related(opening_at(play, (int)i)->instance, step->instance))
      vec_push(play->planner->arena, out, (int)i);
  }
}

/* Where parts are counted in and out the work itself goes on in that opening. */
static bool is_counted(OpeningPlay *play, const PlanStep *step, int index) {
  if (!step->decl->count.s) return false;
  if (step->decl->over.n == 0 && step->decl->through.n == 0) return true;
  const SaidList *lists[2] = {&step->decl->over, &step->decl->through};
  for (int l = 0; l < 2; l++) {
    for (size_t i = 0; i < lists[l]->n; i++) {
      Ints picked = {0};
      pick_openings(play, step, &lists[l]->at[i], &picked);
      for (size_t p = 0; p < picked.n; p++) {
        if (picked.at[p] == index) return true;
      }
    }
  }
  return false;
}

static void handle(OpeningPlay *play, int step) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  const StepDecl *decl = it->decl;
  if (!decl->handles.n && !decl->fits.n && !decl->trial.n && !decl->old.n && !decl->removes.n)
    return;
  Ints zone = {0};
  zone_of(play, it, &zone);
  for (size_t z = 0; z < zone.n; z++) {
    int index = zone.at[z];
    if (play->tracks.at[index].now != OPENING_OPEN || is_counted(play, it, index)) continue;
    const char *part = opening_swallows(planner->arena, opening_at(play, index)->decl, decl);
    if (!part) continue;
    Finding *finding =
        finding_add(planner->run, RULE_OPEN_OVER, it->decl->at,
                    "%s handles a loose %s over %s, which is %s", step_print(planner, step), part,
                    opening_at(play, index)->label, opening_since_print(play, index));
    note_since(play, finding, index);
    hang(play, finding, index, step, OPENING_OPEN, false,
         "cover it first, or, where the part works in there, write 'count: in and out'");
  }
}

/* The engine is run with a hole in it, other than one that is looked through meanwhile. */
static void run_open(OpeningPlay *play, int step) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  Ints through = {0};
  for (size_t i = 0; i < it->decl->through.n; i++)
    pick_openings(play, it, &it->decl->through.at[i], &through);
  Finding *finding = NULL; /* one for all that the step finds open */
  const char *names = "";
  for (size_t i = 0; i < play->tracks.n; i++) {
    const OpeningTrack *track = &play->tracks.at[i];
    bool meant = false;
    for (size_t t = 0; t < through.n; t++) meant = meant || through.at[t] == (int)i;
    if (meant || track->now == OPENING_CLOSED || track->doubt) continue;
    const Opening *opening = opening_at(play, (int)i);
    play->tracks.at[i].doubt = true;
    const char *mark =
        arena_printf(planner->arena, "run/%s/%s", step_mark(planner, step), opening->decl->name);
    if (told_likewise(planner, mark, opening->instance)) continue;
    const char *open =
        arena_printf(planner->arena, "%s %s", opening->label, opening_since_print(play, (int)i));
    if (finding)
      finding->text = arena_printf(planner->arena, "%s, and with %s", finding->text, open);
    else
      finding = finding_add(planner->run, RULE_RUN_EARLY, it->decl->at,
                            "%s runs the engine with %s", step_print(planner, step), open);
    names = arena_printf(planner->arena, "%s%s%s", names, *names ? ", " : "", opening->decl->name);
    told_by(planner, mark, finding);
    note_since(play, finding, (int)i);
    finding_subject(finding, it->id);
    finding_way_out(planner->run, finding,
                    "close it before; where it is looked through meanwhile, write 'through: [%s]'",
                    names);
  }
}

void openings_play(Planner *planner) {
  OpeningPlay play = {.planner = planner, .by_key = map_new(planner->arena)};
  add_openings(&play);
  for (int i = 0; i < (int)planner->plan->steps.n; i++) {
    const StepDecl *decl = planner->plan->steps.at[i]->decl;
    do_acts(&play, i, ACT_OPEN, &decl->opens);
    do_acts(&play, i, ACT_UNCOVER, &decl->uncovers);
    work_through(&play, i);
    handle(&play, i);
    if (step_runs(planner->plan->steps.at[i])) run_open(&play, i);
    do_acts(&play, i, ACT_COVER, &decl->covers);
    do_acts(&play, i, ACT_CLOSE, &decl->closes);
  }
  openings_end(&play);
}
