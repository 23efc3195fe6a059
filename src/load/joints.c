/* Joints and how they are tightened. */
#include "load/field.h"

#include "trade/head.h"
#include "base/near.h"

#include <string.h>

/* ---- passes ---- */

#define OPERATION(key_, kind_, measure_, words_, doc_)                                             \
  {                                                                                                \
    .key = key_, .type = FIELD_OPERATION, .offset = offsetof(Pass, amount), .doc = doc_,           \
    .words = words_, .measure = measure_, .pass_kind = kind_                                       \
  }
#define OPERATIONS                                                                                 \
  OPERATION("to", PASS_TO, MEASURE_TORQUE, "hand|seat|final", "a torque, or hand, seat or final"), \
      OPERATION("angle", PASS_ANGLE, MEASURE_ANGLE, NULL, "turned on by this angle"),              \
      OPERATION("back_off", PASS_BACK_OFF, MEASURE_ANGLE, NULL, "turned back by this angle"),      \
      OPERATION("undo", PASS_UNDO, MEASURE_ANGLE, "all", "undone"),                                \
      OPERATION("retorque", PASS_RETORQUE, MEASURE_ANGLE, "all",                                   \
                "tightened again as its sheet asks"),                                              \
      OPERATION("turn_over", PASS_TURN_OVER, MEASURE_ANGLE, NULL, "the engine is turned over"),    \
      OPERATION("check", PASS_CHECK, MEASURE_ANY, NULL, "what to look at before going on"),        \
      FIELD(Pass, only, "only", WORDS, "places; all of the joint if left out")

static const Field pass_fields[] = {OPERATIONS};
static const Field tighten_fields[] = {
    OPERATIONS, FIELD(Pass, joint, "joint", WORD, "of which joint; alone: all its own passes",
                      .names = NAME_JOINT)};

static const Field *operation_in(const Node *map, size_t *pairs) {
  const Field *found = NULL;
  *pairs = 0;
  for (size_t i = 0; i < map->pairs.n; i++) {
    const Field *field = shape_find(&pass_shape, map->pairs.at[i].key);
    if (!field || field->type != FIELD_OPERATION) continue;
    found = field;
    ++*pairs;
  }
  return found;
}

static void check_operations(Loader *loader, const Node *map, Place at, bool in_step) {
  size_t n;
  const Field *operation = operation_in(map, &n);
  if (n > 1) {
    Finding *finding =
        finding_add(loader->run, RULE_REPEATED_KEY, at, "one pass does %zu things at once", n);
    finding_way_out(loader->run, finding, "write each as a pass of its own, in order");
  }
  bool told = map->bad; /* a key that nobody knows may be what it does */
  if (n == 0 && !told && !(in_step && node_find(map, "joint", NULL))) {
    Finding *finding = finding_add(loader->run, RULE_MISSING_KEY, at, "this pass does nothing");
    finding_way_out(loader->run, finding,
                    "it has one of to, angle, back_off, undo, turn_over, check%s",
                    in_step ? ", or a joint alone for all its own passes" : "");
  }
  bool of_joint =
      operation && operation->pass_kind != PASS_TURN_OVER && operation->pass_kind != PASS_CHECK;
  if (in_step && of_joint && !node_find(map, "joint", NULL)) {
    Finding *finding = finding_add(loader->run, RULE_MISSING_KEY, at, "this pass names no joint");
    finding_way_out(loader->run, finding, "add joint: with the joint's name");
  }
}

static void finish_pass(Loader *loader, const Node *map, void *object) {
  check_operations(loader, map, ((Pass *)object)->at, false);
}

static void finish_tighten(Loader *loader, const Node *map, void *object) {
  check_operations(loader, map, ((Pass *)object)->at, true);
}

const Shape pass_shape = {"pass",  pass_fields,        COUNT(pass_fields), sizeof(Pass),
                          NOWHERE, offsetof(Pass, at), finish_pass};
const Shape tighten_shape = {"pass",  tighten_fields,     COUNT(tighten_fields), sizeof(Pass),
                             NOWHERE, offsetof(Pass, at), finish_tighten};

void field_operation(Loader *loader, const Field *field, const Pair *pair, void *object) {
  Pass *pass = object;
  pass->kind = field->pass_kind;
  if (field->pass_kind == PASS_CHECK) {
    pass->text = said_text(loader, pair->value, field->key);
    return;
  }
  pass->amount = (Expr){.kind = EXPR_BAD, .at = pair->value->at};
  if (!need_word(loader, pair->value, field->key)) return;
  const char *word = pair->value->text;
  Words words = words_of(loader, field->words);
  bool letters = (word[0] >= 'a' && word[0] <= 'z') || (word[0] >= 'A' && word[0] <= 'Z');
  if (letters && words.n > 0 && !text_has(&words, word)) {
    Finding *finding = finding_add(loader->run, RULE_BAD_WORD, pair->value->at,
                                   "\"%s\" has no meaning as \"%s\"", word, field->key);
    say_near(loader, finding, word, &words);
    word = near_word(word, &words);
    if (!word) return;
  }
  if (text_has(&words, word)) {
    pass->amount = (Expr){.kind = EXPR_NONE, .at = pair->value->at};
    if (text_is(word, "hand")) pass->kind = PASS_HAND;
    if (text_is(word, "seat")) pass->kind = PASS_SEAT;
    if (text_is(word, "final")) pass->kind = PASS_FINAL;
    return;
  }
  field_literal(loader, field, pair, object);
}

static void read_passes(Loader *loader, const Shape *shape, const Node *node, const char *key,
                        Passes *passes) {
  if (!need_list(loader, node, key)) return;
  for (size_t i = 0; i < node->items.n; i++) {
    const Node *item = need_item(loader, shape, node->items.at[i], key);
    if (!item) continue;
    Pass pass = {.kind = PASS_OWN};
    fill(loader, shape, item, item->at, &pass);
    vec_push(loader->run->arena, passes, pass);
  }
}

void field_passes(Loader *loader, const Field *field, const Pair *pair, void *object) {
  JointDecl *joint = object;
  read_passes(loader, &pass_shape, pair->value, field->key, &joint->passes);
}

void field_retorque(Loader *loader, const Field *field, const Pair *pair, void *object) {
  JointDecl *joint = object;
  read_passes(loader, &pass_shape, pair->value, field->key, &joint->retorque);
}

void field_tighten(Loader *loader, const Field *field, const Pair *pair, void *object) {
  StepDecl *step = object;
  read_passes(loader, &tighten_shape, pair->value, field->key, &step->tighten);
}

/* ---- places ---- */

/* A coordinate; a bare 0 is 0 mm. */
static Expr coordinate(Loader *loader, const Node *node, const char *key) {
  Expr expr = expr_of(loader, node, key, false);
  if (expr.kind != EXPR_LITERAL) return expr;
  Literal *literal = &expr.literal;
  bool zero = literal->unit == unit_of_number() && literal->shape == LITERAL_EXACT &&
              !(literal->nominal < 0) && !(literal->nominal > 0);
  if (zero) literal->unit = unit_find("mm");
  if (!literal_need(loader->run, expr.at, literal, DIM_LENGTH, NULL)) expr.kind = EXPR_BAD;
  return expr;
}

static bool has_bad(const Node *list) {
  for (size_t i = 0; i < list->items.n; i++) {
    if (list->items.at[i]->bad) return true;
  }
  return false;
}

void field_places(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  JointDecl *joint = object;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *named = &pair->value->pairs.at[i];
    if (!need_list(loader, named->value, named->key)) continue;
    if (has_bad(named->value)) continue;
    if (named->value->items.n != 2) {
      Finding *finding =
          finding_add(loader->run, RULE_WRONG_TYPE, named->value->at,
                      "a place has two coordinates, this one %zu", named->value->items.n);
      finding_way_out(loader->run, finding, "write [across mm, up mm]");
      continue;
    }
    PlacePoint place = {named->key, named->key_at,
                        coordinate(loader, named->value->items.at[0], named->key),
                        coordinate(loader, named->value->items.at[1], named->key)};
    vec_push(loader->run->arena, &joint->places, place);
  }
}

/* ---- joints ---- */

static const Field into_fields[] = {
    FIELD(JointDecl, into_material, "material", REF, "of what the thread is cut in",
          .kind = ENTRY_MATERIAL),
    FIELD(JointDecl, hole_thread, "thread", WORD, "the thread cut in it, where its sheet names it"),
    FIELD(JointDecl, stud_thread, "stud_end", WORD,
          "of a stud: the thread on the end that goes into it"),
    FIELD(JointDecl, engagement, "engagement", LITERAL, "length of thread that holds",
          .measure = MEASURE_LENGTH),
    FIELD(JointDecl, hole_depth, "hole_depth", LITERAL, "depth of a blind hole",
          .measure = MEASURE_LENGTH),
};
static const Shape into_shape = {
    "thread's hole", into_fields, COUNT(into_fields), sizeof(JointDecl), NOWHERE, NOWHERE, NULL};

static const Field clamped_fields[] = {
    FIELD(JointDecl, clamped_length, "length", EXPR, "length clamped under the head",
          .measure = MEASURE_LENGTH),
    FIELD(JointDecl, clamped_material, "material", REF, "of what is clamped",
          .kind = ENTRY_MATERIAL),
    FIELD(JointDecl, clamped_across, "across", LITERAL,
          "diameter of what is squeezed round one fastener; a wide body if left out",
          .measure = MEASURE_LENGTH),
    FIELD(JointDecl, clamped_rise, "hot_rise", LITERAL,
          "how much hotter it runs than it is assembled", .measure = MEASURE_RISE),
    FIELD(JointDecl, stud_material, "stud", REF, "material of the stud or bolt",
          .kind = ENTRY_MATERIAL),
};
static const Shape clamped_shape = {"clamped stack",
                                    clamped_fields,
                                    COUNT(clamped_fields),
                                    sizeof(JointDecl),
                                    NOWHERE,
                                    NOWHERE,
                                    NULL};

static const Field retorque_fields[] = {
    FIELD(JointDecl, retorque_after, "after", TEXT, "when, as the sheet says", .required = true),
    {.key = "passes",
     .type = FIELD_RETORQUE,
     .doc = "how; to the final torque if left out",
     .shape = &pass_shape},
};
static const Shape retorque_shape = {"tightening again",
                                     retorque_fields,
                                     COUNT(retorque_fields),
                                     sizeof(JointDecl),
                                     NOWHERE,
                                     NOWHERE,
                                     NULL};

static const Field head_fields[] = {
    FIELD(JointDecl, head, "shape", WORD, "the face under it by the standard of that head",
          .words = HEAD_WORDS),
    FIELD(JointDecl, across_flats, "across_flats", LITERAL, "width of a hexagon",
          .measure = MEASURE_LENGTH),
    FIELD(JointDecl, face, "face", LITERAL, "outside diameter of the face that turns",
          .measure = MEASURE_LENGTH),
    FIELD(JointDecl, hole, "hole", LITERAL, "hole under it; the usual clearance if left out",
          .measure = MEASURE_LENGTH),
};
static const Shape head_shape_fields = {
    "head", head_fields, COUNT(head_fields), sizeof(JointDecl), NOWHERE, NOWHERE, NULL};

/* Those up to `parties` say what is there; then come those that win or lose as one. */
static const Field joint_fields[] = {
    FIELD(JointDecl, label, "label", TEXT, "what people call it"),
    FIELD(JointDecl, thread, "thread", WORD, "M10x1.25, M6, 1/4-20 UNC"),
    FIELD(JointDecl, strength, "class", REF, "strength class", .kind = ENTRY_STRENGTH),
    FIELD(JointDecl, count, "count", NUMBER, "how many, for each instance of the part's role"),
    FIELD(JointDecl, reuse, "reuse", WORD, "whether fasteners may be used again",
          .words = "new|any|limit"),
    FIELD(JointDecl, duty, "duty", WORD, "what it does; clamp if left out",
          .words = "clamp|seal|lock|locate"),
    FIELD(JointDecl, drive, "drive", TEXT, "the socket or key it takes"),
    FIELD(JointDecl, seen, "seen", TEXT, "from where the places are seen, what lies at the bottom"),
    {.key = "into", .type = FIELD_ONE, .doc = "the hole it is screwed into", .shape = &into_shape},
    {.key = "head",
     .type = FIELD_ONE,
     .doc = "what rubs under head or nut: for K with friction",
     .shape = &head_shape_fields},
    FIELD(JointDecl, shank, "shank", LITERAL, "least diameter of a waisted shank",
          .measure = MEASURE_LENGTH),
    FIELD(JointDecl, hollow, "hollow", LITERAL, "bore of a hollow bolt", .measure = MEASURE_LENGTH),
    FIELD(JointDecl, length, "length", LITERAL, "length of the screw under its head",
          .measure = MEASURE_LENGTH),
    FIELD(JointDecl, scrap_length, "scrap_length", LITERAL,
          "free length above which the fastener is scrapped", .measure = MEASURE_LENGTH,
          .extent = EXTENT_EXACT),
    FIELD(JointDecl, prevailing, "prevailing", LITERAL,
          "torque that only turns a locking nut or insert", .measure = MEASURE_TORQUE),
    {.key = "clamped",
     .type = FIELD_ONE,
     .doc = "what stands under the head: for bottoming, stretch, hot preload",
     .shape = &clamped_shape},
    {.key = "places",
     .type = FIELD_PLACES,
     .doc = "where each fastener stands, seen from its head"},
    FIELD(JointDecl, parties, "parties", WORDS,
          "roles held together: their makers may speak for the joint", .names = NAME_ROLE),
    FIELD(JointDecl, lubricant, "lubricant", REF, "the condition the torque is for",
          .kind = ENTRY_LUBRICANT, .words = "none|not_stated"),
    FIELD(JointDecl, under_head, "under_head", REF,
          "lubricant under the head or nut, where it is another", .kind = ENTRY_LUBRICANT),
    FIELD(JointDecl, threadlock, "threadlock", REF, "threadlocker on the thread",
          .kind = ENTRY_THREADLOCKER, .words = "none"),
    FIELD(JointDecl, torque, "torque", LITERAL, "final torque", .measure = MEASURE_TORQUE),
    FIELD(JointDecl, method, "method", WORD, "how the end is found; torque if left out",
          .words = "torque|angle|yield|stretch|hand"),
    {.key = "passes",
     .type = FIELD_PASSES,
     .doc = "the way to the final torque",
     .shape = &pass_shape},
    {.key = "retorque",
     .type = FIELD_ONE,
     .doc = "that it is tightened again, and when",
     .shape = &retorque_shape},
    FIELD(JointDecl, order, "order", WORDS,
          "places in order; proposed from the places if left out"),
    FIELD(JointDecl, adapter, "adapter", LITERAL, "length an adapter adds to the wrench",
          .measure = MEASURE_LENGTH),
    FIELD(JointDecl, adapter_angle, "adapter_angle", LITERAL, "angle between adapter and wrench",
          .measure = MEASURE_ANGLE),
    FIELD(JointDecl, angle, "angle", LITERAL, "final angle after the torque",
          .measure = MEASURE_ANGLE),
    FIELD(JointDecl, stretch, "stretch", LITERAL, "by how much the bolt gets longer",
          .measure = MEASURE_LENGTH),
    FIELD(JointDecl, when, "when", CONDITION, "holds only under this condition"),
    FIELD(JointDecl, page, "page", WORD, "page of the sheet"),
    FIELD(JointDecl, why, "why", TEXT, "the reason"),
    FIELD(JointDecl, note, "note", TEXT, "printed on its card"),
};

/* An angle alone changes no setting. */
static void check_adapter(Loader *loader, const JointDecl *joint) {
  if (joint->adapter_angle.kind == EXPR_NONE || joint->adapter.kind != EXPR_NONE) return;
  Finding *finding = finding_add(loader->run, RULE_MISSING_KEY, joint->adapter_angle.at,
                                 "an adapter's angle without the adapter's length");
  finding_way_out(loader->run, finding, "add `adapter:` with the length it adds to the wrench");
}

static void finish_joint(Loader *loader, const Node *map, void *object) {
  JointDecl *joint = object;
  check_adapter(loader, joint);
  for (size_t i = 0; i < map->pairs.n; i++) {
    const Field *field = shape_find(&joint_shape, map->pairs.at[i].key);
    if (!field || text_is(field->key, "when")) continue;
    if (field <= shape_find(&joint_shape, "parties"))
      joint->hardware = true;
    else if (field < shape_find(&joint_shape, "when"))
      joint->bundle = true;
  }
}

const Shape joint_shape = {"joint",
                           joint_fields,
                           COUNT(joint_fields),
                           sizeof(JointDecl),
                           offsetof(JointDecl, name),
                           offsetof(JointDecl, at),
                           finish_joint};
