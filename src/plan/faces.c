/* Joint faces: each sealed once. */
#include "plan/sealing.h"

typedef struct Side {
  const Instance *instance;
  int sealed; /* the step, -1: not */
} Side;
typedef struct Track {
  const FaceDecl *decl;
  VEC(Side) sides;
  bool parted; /* sealed, and opened again */
  int touched; /* the last step that has to do with the face, -1: none */
} Track;

typedef struct Play {
  Planner *planner;
  VEC(Track) tracks;
  Words names;
} Play;

static void add_tracks(Play *play) {
  Planner *planner = play->planner;
  const EngineEntry *engine = planner->job->engine;
  for (size_t i = 0; i < engine->faces.n; i++) {
    Track track = {.decl = &engine->faces.at[i], .touched = -1};
    const InstanceList *members = members_of(planner, job_set(planner->job, track.decl->per.s));
    for (size_t m = 0; m < members->n; m++) {
      Side side = {members->at[m], -1};
      vec_push(planner->arena, &track.sides, side);
    }
    vec_push(planner->arena, &play->tracks, track);
    vec_push(planner->arena, &play->names, track.decl->name);
  }
}

static const char *label(const Track *track) {
  return track->decl->label.s ? track->decl->label.s : track->decl->name;
}

static bool is_sealed_by(const Track *track, const char *role) {
  for (size_t i = 0; i < track->decl->sealed_by.n; i++) {
    if (text_is(track->decl->sealed_by.at[i].s, role)) return true;
  }
  return false;
}

/* What seals it is not chosen or not known, which was reported: so is the work that hangs on
 * it. */
static bool is_in_doubt(const Planner *planner, const Track *track) {
  for (size_t i = 0; i < track->decl->sealed_by.n; i++) {
    const char *by = track->decl->sealed_by.at[i].s;
    bool word = text_is(by, "sealant") || text_is(by, "o_ring") || text_is(by, "dry");
    if (!word && !job_role(planner->job, by) &&
        !library_find(planner->job->library, ENTRY_CONSUMABLE, by))
      return true;
  }
  for (size_t i = 0; i < planner->job->roles.n; i++) {
    const Role *role = planner->job->roles.at[i];
    if (is_sealed_by(track, role->name) && !role->part && !role->none) return true;
  }
  return false;
}

static void sealed_twice(Planner *planner, int step, const Track *track, const Side *side) {
  const Plan *plan = planner->plan;
  const char *mark = arena_printf(planner->arena, "sealed/%s/%s/%s", step_mark(planner, step),
                                  track->decl->name, step_mark(planner, side->sealed));
  if (told_likewise(planner, mark, side->instance)) return;
  Finding *finding = finding_add(
      planner->run, RULE_FACE_TWICE, plan->steps.at[step]->decl->at,
      "%s seals %s%s, which %s has sealed already", step_print(planner, step), label(track),
      instance_tail(planner->arena, side->instance), step_print(planner, side->sealed));
  told_by(planner, mark, finding);
  finding_subject(finding, track->decl->name);
  finding_note(planner->run, finding, plan->steps.at[side->sealed]->decl->at, "sealed here");
  finding_way_out(planner->run, finding, "take it out of one of the two steps");
}

static void seal(Play *play, int step, Track *track, const Name *name) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  InstanceList picked = {0};
  pick_instances(planner, name, job_set(planner->job, track->decl->per.s), it->instance, &picked);
  track->touched = step;
  size_t next = 0;
  bool told = false;
  for (size_t i = 0; i < picked.n; i++) {
    while (next < track->sides.n && track->sides.at[next].instance != picked.at[i]) next++;
    if (next == track->sides.n) break;
    Side *side = &track->sides.at[next];
    if (!told && !is_in_doubt(planner, track))
      told = sealed_with(planner, step, track->decl, side->instance);
    if (side->sealed >= 0 && !is_in_doubt(planner, track)) sealed_twice(planner, step, track, side);
    side->sealed = step;
  }
}

static void seals_of(Play *play, int step) {
  Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t s = 0; s < it->decl->seals.n; s++) {
    Name name = name_split(planner->arena, it->decl->seals.at[s].s);
    bool found = false;
    for (size_t i = 0; i < play->tracks.n; i++) {
      if (!text_is(play->tracks.at[i].decl->name, name.base)) continue;
      seal(play, step, &play->tracks.at[i], &name);
      found = true;
    }
    if (!found)
      tell_unknown(planner, it->procedure, &it->decl->seals.at[s], "joint face", &play->names);
  }
}

/* One of the parts that the face lies between. */
static bool meets_there(const Track *track, const char *role) {
  for (size_t i = 0; i < track->decl->between.n; i++)
    if (text_is(track->decl->between.at[i].s, role)) return true;
  return false;
}

/* Taking a seal off, or a part that it lies on, opens its face again. */
static void unseal(Play *play, int step) {
  const Planner *planner = play->planner;
  const PlanStep *it = planner->plan->steps.at[step];
  for (size_t r = 0; r < it->decl->removes.n; r++) {
    const char *role = name_split(planner->arena, it->decl->removes.at[r].s).base;
    for (size_t i = 0; i < play->tracks.n; i++) {
      Track *track = &play->tracks.at[i];
      if (!is_sealed_by(track, role) && !meets_there(track, role)) continue;
      track->touched = step;
      for (size_t s = 0; s < track->sides.n; s++) {
        Side *side = &track->sides.at[s];
        if (!roles_name(planner, it, &it->decl->removes, role, side->instance)) continue;
        track->parted = track->parted || side->sealed >= 0;
        side->sealed = -1;
      }
    }
  }
}

/* "clean base_joint" has to do with the face base_joint. */
static bool speaks_of(const SaidList *states, const char *face) {
  for (size_t i = 0; i < states->n; i++) {
    const char *word = states->at[i].s;
    for (const char *c = word; *c; c++) {
      if (*c == ' ' && text_is(c + 1, face)) return true;
    }
  }
  return false;
}

static void touch(Play *play, int step) {
  const StepDecl *decl = play->planner->plan->steps.at[step]->decl;
  for (size_t i = 0; i < play->tracks.n; i++) {
    Track *track = &play->tracks.at[i];
    bool touched =
        speaks_of(&decl->needs, track->decl->name) || speaks_of(&decl->makes, track->decl->name);
    for (size_t r = 0; r < decl->fits.n && !touched; r++)
      touched = is_sealed_by(track, name_split(play->planner->arena, decl->fits.at[r].s).base);
    if (touched) track->touched = step;
  }
}

/* The build has a say in what seals it: its part, or that there is none. */
static bool is_chosen(const Planner *planner, const Track *track) {
  for (size_t i = 0; i < planner->job->roles.n; i++) {
    const Role *role = planner->job->roles.at[i];
    if (is_sealed_by(track, role->name) && (role->none || role_is_chosen(role))) return true;
  }
  return false;
}

static void at_end(Play *play) {
  Planner *planner = play->planner;
  for (size_t i = 0; i < play->tracks.n; i++) {
    const Track *track = &play->tracks.at[i];
    if (track->touched < 0 && !is_chosen(planner, track)) continue;
    Text open = text_new(planner->arena);
    size_t count = 0;
    for (size_t s = 0; s < track->sides.n; s++) {
      if (track->sides.at[s].sealed >= 0) continue;
      text_addf(&open, "%s%s", count++ ? ";" : "",
                instance_tail(planner->arena, track->sides.at[s].instance));
    }
    if (count == 0) continue;
    Place at =
        track->touched < 0 ? track->decl->at : planner->plan->steps.at[track->touched]->decl->at;
    Finding *finding =
        finding_add(planner->run, RULE_FACE_UNSEALED, at, "%s%s: no step seals it%s", label(track),
                    count == track->sides.n ? "" : text_done(&open), track->parted ? " again" : "");
    finding_subject(finding, track->decl->name);
    finding_note(planner->run, finding, track->decl->at, "the joint face stands here");
    finding_way_out(planner->run, finding, "write 'seals: [%s]' in the step that does so",
                    track->decl->name);
    offer_procedure(planner, finding, OFFER_SEALS, track->decl->name);
  }
}

void faces_play(Planner *planner) {
  Play play = {.planner = planner};
  add_tracks(&play);
  for (int i = 0; i < (int)planner->plan->steps.n; i++) {
    unseal(&play, i);
    touch(&play, i);
    seals_of(&play, i);
  }
  if (planner->plan->steps.n > 0) at_end(&play);
}
