#include "plan/sealing.h"

typedef struct Sealing {
  Planner *planner;
  int step;
  const FaceDecl *face;
  const Instance *at;
  const Role *gasket;   /* of the build, among what seals the face; NULL: none */
  const Entry *sealant; /* that the step uses; NULL: none */
} Sealing;

static const char *face_print(const Sealing *it) {
  return arena_printf(it->planner->arena, "%s%s",
                      it->face->label.s ? it->face->label.s : it->face->name,
                      instance_tail(it->planner->arena, it->at));
}

static const char *name_of(const Entry *entry) {
  return entry->name.s ? entry->name.s : entry->id;
}

static bool asks_for(const FaceDecl *face, const char *word) {
  for (size_t i = 0; i < face->sealed_by.n; i++)
    if (text_is(face->sealed_by.at[i].s, word)) return true;
  return false;
}

/* What skins over in its time, or is named by the face, is put on to seal. */
static const Entry *sealant_of(const Sealing *it, const PlanStep *step) {
  for (size_t i = 0; i < step->decl->uses.n; i++) {
    const Entry *used = step->decl->uses.at[i].entry;
    if (!used || used->kind != ENTRY_CONSUMABLE) continue;
    if (used->is.consumable.open_time.kind != EXPR_NONE || asks_for(it->face, used->id))
      return used;
  }
  return NULL;
}

/* A step before that put it on and seals nothing of its own. */
static bool put_on_before(const Sealing *it) {
  for (int i = 0; i < it->step; i++) {
    const PlanStep *before = it->planner->plan->steps.at[i];
    if (before->decl->seals.n == 0 && is_related(before->instance, it->at) &&
        sealant_of(it, before))
      return true;
  }
  return false;
}

/* What lay on the gasket came off: it is not sealed by what was squeezed there. */
static bool parts_the_face(const Sealing *it, const PlanStep *step) {
  for (size_t i = 0; i < it->face->between.n; i++)
    if (roles_name(it->planner, step, &step->decl->removes, it->face->between.at[i].s, it->at))
      return true;
  return false;
}

static bool names_gasket(const Sealing *it, const PlanStep *step, const SaidList *list) {
  return roles_name(it->planner, step, list, it->gasket->name, it->at);
}

/* The gasket as the step leaves it. later: the first step after it that fits it; parted: the
 * last one before that parted the face over it; each -1: none. */
static bool is_on(const Sealing *it, int *later, int *parted) {
  bool on = false, is_new = text_is(it->gasket->part->is.part.fit.s, "new");
  *later = *parted = -1;
  for (int i = 0; i < (int)it->planner->plan->steps.n; i++) {
    const PlanStep *step = it->planner->plan->steps.at[i];
    bool fits = names_gasket(it, step, &step->decl->fits) ||
                names_gasket(it, step, &step->decl->old) ||
                names_gasket(it, step, &step->decl->trial);
    if (i > it->step) {
      if (fits && *later < 0) *later = i;
      continue;
    }
    if (on && is_new && parts_the_face(it, step)) {
      on = false;
      *parted = i;
    }
    if (names_gasket(it, step, &step->decl->removes)) on = false;
    if (fits) on = true;
  }
  return on;
}

static Finding *say(const Sealing *it, Rule rule, const char *what) {
  Finding *finding =
      finding_add(it->planner->run, rule, it->planner->plan->steps.at[it->step]->decl->at,
                  "%s seals %s %s", step_print(it->planner, it->step), face_print(it), what);
  finding_subject(finding, it->face->name);
  finding_note(it->planner->run, finding, it->face->at, "the joint face stands here");
  return finding;
}

static const char *all_that_seals(const Sealing *it) {
  Text text = text_new(it->planner->arena);
  for (size_t i = 0; i < it->face->sealed_by.n; i++)
    text_addf(&text, "%s%s", i ? ", " : "", it->face->sealed_by.at[i].s);
  return text_done(&text);
}

static void not_what_seals(const Sealing *it) {
  Run *run = it->planner->run;
  Finding *finding = say(it, RULE_FACE_WRONG,
                         arena_printf(run->arena, "with %s; it is sealed by %s",
                                      name_of(it->sealant), all_that_seals(it)));
  finding_way_out(run, finding, "take it out of `uses`, or name %s in `sealed_by` of the face",
                  it->sealant->id);
}

static void with_both(const Sealing *it) {
  Run *run = it->planner->run;
  Finding *finding = say(it, RULE_FACE_TWICE,
                         arena_printf(run->arena, "with %s, and the build has %s for it",
                                      name_of(it->sealant), name_of(it->gasket->part)));
  if (it->gasket->at.source) finding_note(run, finding, it->gasket->at, "chosen here");
  finding_way_out(run, finding,
                  "give the step 'when: \"%s is none\"'; a dab that the sheet asks for beside its "
                  "gasket is a step of its own",
                  it->gasket->name);
}

static void by_gasket(const Sealing *it) {
  int later = -1, parted = -1;
  if (is_on(it, &later, &parted)) return;
  Run *run = it->planner->run;
  if (parted >= 0 && later < 0) {
    Finding *finding =
        say(it, RULE_FACE_UNSEALED,
            arena_printf(run->arena, "again with %s that lay there before", it->gasket->label));
    finding_note(run, finding, it->planner->plan->steps.at[parted]->decl->at,
                 "%s has parted the face", step_print(it->planner, parted));
    finding_way_out(run, finding,
                    "take it off there with 'removes: [%s]', then fit another with 'another: [%s]'",
                    it->gasket->name, it->gasket->name);
  }
  if (later < 0) return; /* never fitted is told of the part */
  Finding *finding =
      say(it, RULE_FACE_UNSEALED, arena_printf(run->arena, "before %s is on", it->gasket->label));
  finding_note(run, finding, it->planner->plan->steps.at[later]->decl->at, "%s fits it",
               step_print(it->planner, later));
  finding_way_out(run, finding, "write 'seals: [%s]' in that step", it->face->name);
}

static void with_nothing(const Sealing *it) {
  Run *run = it->planner->run;
  const char *asked = all_that_seals(it);
  Finding *finding = say(it, RULE_FACE_UNSEALED,
                         arena_printf(run->arena, "with nothing; it is sealed by %s", asked));
  finding_way_out(run, finding, "name the sealant under `uses`, or the part under `fits`");
}

bool sealed_with(Planner *planner, int step, const FaceDecl *face, const Instance *at) {
  Sealing it = {.planner = planner, .step = step, .face = face, .at = at};
  size_t before = planner->run->findings->list.n;
  if (face->sealed_by.n == 0) return false;
  it.sealant = sealant_of(&it, planner->plan->steps.at[step]);
  for (size_t i = 0; i < face->sealed_by.n; i++) {
    const Role *role = job_role(planner->job, face->sealed_by.at[i].s);
    if (role && role->part && !role->none) it.gasket = role;
  }
  if (it.sealant && !asks_for(face, "sealant") && !asks_for(face, it.sealant->id))
    not_what_seals(&it);
  else if (it.sealant && it.gasket)
    with_both(&it);
  else if (it.gasket)
    by_gasket(&it);
  else if (!it.sealant && !asks_for(face, "dry") && !asks_for(face, "o_ring") &&
           !put_on_before(&it))
    with_nothing(&it);
  return planner->run->findings->list.n > before;
}
