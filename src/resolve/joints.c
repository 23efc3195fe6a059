/* The joints of the engine and its parts, one for each instance they hold. */
#include "resolve/joints.h"

#include "trade/pattern.h"

/* Every name once: the engine's first, then the parts', then the build's. */
static void names_in(Resolver *r, const JointDecls *joints, Words *out) {
  for (size_t i = 0; i < joints->n; i++)
    if (!text_has(out, joints->at[i]->name)) vec_push(r->arena, out, joints->at[i]->name);
}

/* count of them where they have no names of their own */
#define PLACES_MOST 200

static void name_places(Resolver *r, JobJoint *joint) {
  const JointDecl *hardware = joint->hardware;
  long count = hardware->places.n     ? (long)hardware->places.n
               : hardware->count.said ? hardware->count.n
                                      : 1;
  if (count > PLACES_MOST && joint->leads)
    finding_add(r->run, RULE_TOO_BIG, hardware->places.n ? hardware->at : hardware->count.at,
                "%s: %ld fasteners; at most %d stand on a sheet", joint->label, count, PLACES_MOST);
  for (size_t i = 0; i < hardware->places.n; i++)
    vec_push(r->arena, &joint->place_names, hardware->places.at[i].name);
  if (hardware->places.n) return;
  for (long i = 1; i <= count && i <= PLACES_MOST; i++)
    vec_push(r->arena, &joint->place_names, arena_printf(r->arena, "%ld", i));
}

/* The points of the face; false where some place cannot be told. */
static bool points_of(Resolver *r, const JobJoint *joint, PatternPoint *out) {
  const JointDecl *hardware = joint->hardware;
  for (size_t i = 0; i < hardware->places.n; i++) {
    Literal x, y;
    if (!expr_numbers(r, &hardware->places.at[i].x, joint->instance, DIM_LENGTH,
                      "the place of a fastener", &x) ||
        !expr_numbers(r, &hardware->places.at[i].y, joint->instance, DIM_LENGTH,
                      "the place of a fastener", &y))
      return false;
    out[i] = (PatternPoint){x.nominal, y.nominal};
  }
  return hardware->places.n > 0;
}

static void put_in_order(Resolver *r, JobJoint *joint) {
  size_t n = joint->place_names.n;
  if (joint->bundle && joint->bundle->order.n) {
    for (size_t i = 0; i < joint->bundle->order.n; i++)
      if (joint->bundle->order.at[i].s && !text_has(&joint->order, joint->bundle->order.at[i].s))
        vec_push(r->arena, &joint->order, joint->bundle->order.at[i].s);
    return;
  }
  joint->order_proposed = n > 2;
  PatternPoint points[PATTERN_MOST];
  size_t order[PATTERN_MOST];
  bool by_place = n > 1 && n <= PATTERN_MOST && points_of(r, joint, points);
  if (by_place) pattern_order(points, n, order);
  for (size_t i = 0; i < n; i++)
    vec_push(r->arena, &joint->order, joint->place_names.at[by_place ? order[i] : i]);
}

static const Detail *undisturbed(const Resolver *r, const char *name) {
  const BuildEntry *build = r->job->build;
  for (size_t i = 0; i < build->undisturbed.n; i++)
    if (text_is(build->undisturbed.at[i].label, name)) return &build->undisturbed.at[i];
  return NULL;
}

static void settle_one(Resolver *r, const char *name) {
  JointRecords records = {0};
  const JointRecord *from = NULL, *bundle = NULL;
  Voices losers = {0};
  const char *only_with = NULL;
  joint_records(r, name, &records, &only_with);
  const JointDecl *hardware = joint_hardware(r, name, &records, &from);
  if (!hardware) return;
  bundle = joint_bundle(r, name, &records, hardware, only_with, &losers);
  Instances instances = {0};
  instances_of(r, from->role ? from->role->per : NULL, &instances);
  size_t first = r->job->joints.n;
  for (size_t i = 0; i < instances.n; i++) {
    JobJoint *joint = ARENA_NEW(r->arena, JobJoint);
    joint->name = name;
    joint->label = hardware->label.s ? hardware->label.s : text_title(r->arena, name);
    joint->instance = instances.at[i];
    joint->leads = i == 0;
    joint->hardware = hardware;
    joint->hardware_entry = from->entry;
    joint->losers = losers;
    joint->undisturbed = undisturbed(r, name);
    if (bundle) {
      joint->bundle = bundle->decl;
      joint->winner = (Voice){bundle->entry, bundle->decl->page.s, bundle->rank, bundle->decl->at,
                              bundle_says(r->arena, bundle->decl)};
    }
    name_places(r, joint);
    put_in_order(r, joint);
    joint_figures(r, joint);
    vec_push(r->arena, &r->job->joints, joint);
  }
  if (r->job->joints.n > first)
    joint_lengths(r, r->job->joints.at + first, r->job->joints.n - first);
}

/* A torque for a joint that nothing describes would be lost without a word. */
static void check_names(Resolver *r, const JointDecls *joints, const Words *known,
                        const Entry *entry) {
  for (size_t i = 0; i < joints->n; i++) {
    const JointDecl *decl = joints->at[i];
    if (job_joint(r->job, decl->name, r->job->instances.at[0])) continue;
    bool found = false;
    for (size_t j = 0; j < r->job->joints.n && !found; j++)
      found = text_is(r->job->joints.at[j]->name, decl->name);
    if (found || decl->hardware || when_truth(r, decl->when, r->job->instances.at[0]) != TRUTH_YES)
      continue;
    Finding *finding =
        finding_add(r->run, RULE_UNKNOWN_NAME, decl->at,
                    "%s says how %s is tightened; no sheet of this build describes that joint",
                    resolve_whose(r->arena, entry, NULL), decl->name);
    finding_subject(finding, decl->name);
    Words others = {0};
    for (size_t j = 0; j < known->n; j++)
      if (!text_is(known->at[j], decl->name)) vec_push(r->arena, &others, known->at[j]);
    resolve_suggest(r->run, finding, decl->name, &others);
  }
}

static void check_kit(Resolver *r, const Entry *part, const Words *known) {
  for (size_t i = 0; i < part->is.part.speaks_for.n; i++) {
    const Said *said = &part->is.part.speaks_for.at[i];
    if (!said->s || text_has(known, said->s) || quantity_is_declared(r, said->s)) continue;
    Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, said->at,
                                   "%s speaks for %s; the engine has no such joint or quantity",
                                   resolve_whose(r->arena, part, NULL), said->s);
    resolve_suggest(r->run, finding, said->s, known);
  }
}

static void check_settled(Resolver *r, const Words *known) {
  for (size_t i = 0; i < r->job->build->settle.n; i++) {
    const Settle *settle = &r->job->build->settle.at[i];
    if (text_has(known, settle->name) || quantity_is_declared(r, settle->name)) continue;
    Words names = *known;
    Finding *finding =
        finding_add(r->run, RULE_UNKNOWN_NAME, settle->at,
                    "the build settles %s; there is no such joint or quantity", settle->name);
    for (size_t j = 0; j < r->job->quantities.n; j++)
      if (!text_has(&names, r->job->quantities.at[j]->name))
        vec_push(r->arena, &names, r->job->quantities.at[j]->name);
    resolve_suggest(r->run, finding, settle->name, &names);
  }
}

static void check_undisturbed(Resolver *r, const Words *known) {
  for (size_t i = 0; i < r->job->build->undisturbed.n; i++) {
    const Detail *line = &r->job->build->undisturbed.at[i];
    if (text_has(known, line->label)) continue;
    Finding *finding =
        finding_add(r->run, RULE_UNKNOWN_NAME, line->at,
                    "the build leaves %s undisturbed; there is no such joint", line->label);
    resolve_suggest(r->run, finding, line->label, known);
  }
}

void resolve_joints(Resolver *r) {
  Words names = {0};
  names_in(r, &r->job->engine->joints, &names);
  for (size_t i = 0; i < r->job->roles.n; i++)
    if (r->job->roles.at[i]->part) names_in(r, &r->job->roles.at[i]->part->is.part.joints, &names);
  names_in(r, &r->job->build->joints, &names);
  for (size_t i = 0; i < names.n; i++) settle_one(r, names.at[i]);
  check_names(r, &r->job->build->joints, &names, r->job->build_entry);
  check_names(r, &r->job->engine->joints, &names, r->job->engine_entry);
  for (size_t i = 0; i < r->job->roles.n; i++) {
    const Entry *part = r->job->roles.at[i]->part;
    if (!part) continue;
    check_names(r, &part->is.part.joints, &names, part);
    check_kit(r, part, &names);
  }
  check_settled(r, &names);
  check_undisturbed(r, &names);
}
