/* The keys of engines, parts, relations, practice, fasteners, materials,
 * consumables, cautions and the shop. */
#include "load/field.h"

static const Field need_fields[] = {
    FIELD(Need, that, "that", CONDITION, "what must hold", .required = true),
    FIELD(Need, why, "why", TEXT, "the reason"),
};
static const Shape need_shape = {
    "need", need_fields, COUNT(need_fields), sizeof(Need), NOWHERE, offsetof(Need, at), NULL};

/* ---- engine ---- */

static const Field set_fields[] = {
    FIELD(SetDecl, within, "within", WORD, "the set each member of which has these",
          .names = NAME_SET),
    FIELD(SetDecl, members, "members", WORDS, "their names", .required = true),
    FIELD(SetDecl, label, "label", TEXT, "what people call one of them"),
};
NAMED(set_shape, "set", set_fields, SetDecl);

static const Field role_fields[] = {
    FIELD(RoleDecl, label, "label", TEXT, "what people call it"),
    FIELD(RoleDecl, per, "per", WORD, "one for each member of this set", .names = NAME_SET),
    FIELD(RoleDecl, part, "part", REF, "the engine's own, unless the build chooses another",
          .kind = ENTRY_PART, .words = "none"),
    FIELD(RoleDecl, optional, "optional", FLAG, "the build may say none", .words = "optional"),
    FIELD(RoleDecl, in_front_of, "in_front_of", WORDS,
          "roles and joints that are out of reach while it is on", .names = NAME_REACHED),
    FIELD(RoleDecl, when_none, "when_none", VALUES, "facts while there is none"),
};
NAMED(role_shape, "role", role_fields, RoleDecl);

static const Field opening_fields[] = {
    FIELD(OpeningDecl, label, "label", TEXT, "what people call it"),
    FIELD(OpeningDecl, per, "per", WORD, "one for each member of this set", .names = NAME_SET),
    FIELD(OpeningDecl, starts, "starts", WORD, "as the first step finds it; closed if left out",
          .words = "open|closed|covered"),
    FIELD(OpeningDecl, swallows, "swallows", WORDS, "loose parts that fall in, or all",
          .names = NAME_LOOSE),
    FIELD(OpeningDecl, holds, "holds", WORDS, "kinds of hold that work which opens it must have"),
    FIELD(OpeningDecl, to_turn, "to_turn", FLAG,
          "uncovered: the crank is not turned while a cover or cloth is in it",
          .words = "uncovered"),
};
NAMED(opening_shape, "opening", opening_fields, OpeningDecl);

static const Field face_fields[] = {
    FIELD(FaceDecl, label, "label", TEXT, "what people call it"),
    FIELD(FaceDecl, per, "per", WORD, "one for each member of this set", .names = NAME_SET),
    FIELD(FaceDecl, between, "between", WORDS,
          "roles that meet there; taking one off breaks the seal", .names = NAME_ROLE),
    FIELD(FaceDecl, sealed_by, "sealed_by", WORDS, "gasket roles, sealant, o_ring, dry",
          .names = NAME_SEAL),
};
NAMED(face_shape, "joint face", face_fields, FaceDecl);

static const Field demand_fields[] = {
    FIELD(DemandDecl, when, "when", CONDITION, "for these combinations; all if left out"),
    FIELD(DemandDecl, measure, "measure", WORDS, "quantities that must be measured",
          .required = true, .names = NAME_QUANTITY),
    FIELD(DemandDecl, why, "why", TEXT, "the reason"),
};
PLACED(demand_shape, "demand", demand_fields, DemandDecl, NULL);

static const Field engine_fields[] = {
    FIELD(EngineEntry, sets, "sets", NAMED, "what there is more than one of", .shape = &set_shape),
    FIELD(EngineEntry, roles, "roles", NAMED, "places that parts fill", .shape = &role_shape),
    FIELD(EngineEntry, openings, "openings", NAMED, "holes that things fall into",
          .shape = &opening_shape),
    FIELD(EngineEntry, faces, "faces", NAMED, "joint faces that must be sealed",
          .shape = &face_shape),
    FIELD(EngineEntry, loose, "loose", WORDS, "loose parts that steps may have in the hand"),
    FIELD(EngineEntry, choices, "choices", WORD_SETS, "what the build settles in a word"),
    FIELD(EngineEntry, demands, "demands", LIST, "measurements a combination must have",
          .shape = &demand_shape),
    FIELD(EngineEntry, relations, "relations", REFS, "formulas that hold for it",
          .kind = ENTRY_RELATION),
    FIELD(EngineEntry, practice, "practice", REFS, "limits by common practice",
          .kind = ENTRY_PRACTICE),
    FIELD(EngineEntry, holds, "holds", WORDS, "kinds of hold this work must have"),
    FIELD(EngineEntry, values, "values", VALUES, "facts, engine.NAME in formulas"),
    FIELD(EngineEntry, limits, "limits", LIMITS, "what is allowed", .names = NAME_QUANTITY),
    FIELD(EngineEntry, joints, "joints", NAMED, "its bolted joints", .shape = &joint_shape,
          .by_pointer = true),
    FIELD(EngineEntry, asks, "asks", DETAILS, "what the customer is to use: fuel, oil"),
    FIELD(EngineEntry, needs, "needs", LIST, "conditions of use", .shape = &need_shape),
};
SHAPE(engine_shape, "engine", engine_fields, EngineEntry, NULL);

/* ---- part ---- */

static void finish_forbid(Loader *loader, const Node *map, void *object) {
  if (node_find(map, "part", NULL) || node_find(map, "role", NULL) || node_find(map, "when", NULL))
    return;
  Finding *finding =
      finding_add(loader->run, RULE_MISSING_KEY, ((Forbid *)object)->at, "this forbids nothing");
  finding_way_out(loader->run, finding, "name a part, a role, or a condition (when)");
}

static const Field forbid_fields[] = {
    FIELD(Forbid, part, "part", WORD, "id of a part it does not go with"),
    FIELD(Forbid, role, "role", WORD, "a role that must stay empty", .names = NAME_ROLE),
    FIELD(Forbid, when, "when", CONDITION, "only under this condition"),
    FIELD(Forbid, why, "why", TEXT, "the reason"),
};
static const Shape forbid_shape = {"forbid",       forbid_fields, COUNT(forbid_fields),
                                   sizeof(Forbid), NOWHERE,       offsetof(Forbid, at),
                                   finish_forbid};

static const Field part_fields[] = {
    FIELD(PartEntry, role, "role", WORDS, "what it may fill", .required = true, .names = NAME_ROLE),
    FIELD(PartEntry, number, "number", WORD, "order number"),
    FIELD(PartEntry, material, "material", REF, "what it is made of", .kind = ENTRY_MATERIAL),
    FIELD(PartEntry, values, "values", VALUES, "facts, ROLE.NAME in formulas"),
    FIELD(PartEntry, limits, "limits", LIMITS, "what its maker allows", .names = NAME_QUANTITY),
    FIELD(PartEntry, mates, "mates", MATES,
          "what must be equal, or inside a band, in all parts that name it"),
    FIELD(PartEntry, joints, "joints", NAMED, "its bolted joints", .shape = &joint_shape,
          .by_pointer = true),
    FIELD(PartEntry, speaks_for, "speaks_for", WORDS,
          "joints this sheet outranks the components' sheets on", .names = NAME_JOINT),
    FIELD(PartEntry, asks, "asks", DETAILS, "what the customer is to use: fuel, oil"),
    FIELD(PartEntry, needs, "needs", LIST, "conditions of use", .shape = &need_shape),
    FIELD(PartEntry, forbids, "forbids", LIST, "what it does not go with", .shape = &forbid_shape),
    {.key = "notes", .type = FIELD_NOTES, .doc = "texts that join a step, by the step's id"},
    FIELD(PartEntry, fit, "fit", WORD,
          "must be new each time, is new where a build chooses it, or goes back to its own place",
          .words = "new|new with the job|own place"),
    FIELD(PartEntry, threadlock_forbidden, "no_threadlocker", REFS,
          "threadlockers it must not meet", .kind = ENTRY_THREADLOCKER),
};
SHAPE(part_shape, "part", part_fields, PartEntry, NULL);

/* ---- relation and practice ---- */

static const Field quantity_fields[] = {
    FIELD(QuantityDecl, label, "label", TEXT, "what people call it", .required = true),
    FIELD(QuantityDecl, per, "per", WORD, "one for each member of this set, or part of this role",
          .names = NAME_EACH),
    {.key = "unit",
     .type = FIELD_UNIT,
     .required = true,
     .doc = "the unit it is printed in; \"\" for a plain number"},
    FIELD(QuantityDecl, places, "places", NUMBER, "digits after the point in print; 2 if left out"),
    FIELD(QuantityDecl, formula, "formula", CHOICES,
          "how it follows from others; left out: stated or measured"),
    FIELD(QuantityDecl, parties, "parties", WORDS, "roles whose makers may speak for it",
          .names = NAME_ROLE),
    FIELD(QuantityDecl, afterwards, "afterwards", WORD,
          "the quantity that says the same when the work is done", .names = NAME_QUANTITY),
    FIELD(QuantityDecl, headline, "headline", WORD, "stands in the job sheet's first table",
          .words = "headline"),
    FIELD(QuantityDecl, report, "report", WORD, "never judged", .words = "only"),
    FIELD(QuantityDecl, note, "note", TEXT, "told by `sheaf show`"),
};
NAMED(quantity_shape, "quantity", quantity_fields, QuantityDecl);

static const Field relation_fields[] = {
    FIELD(RelationEntry, quantities, "quantities", NAMED, "what is computed or measured",
          .shape = &quantity_shape, .by_pointer = true, .required = true),
    FIELD(RelationEntry, needs, "needs", LIST, "conditions every combination must meet",
          .shape = &need_shape),
};
SHAPE(relation_shape, "relation", relation_fields, RelationEntry, NULL);

static const Field practice_fields[] = {FIELD(PracticeEntry, limits, "limits", LIMITS,
                                              "what is usual where no sheet says anything",
                                              .required = true)};
SHAPE(practice_shape, "practice", practice_fields, PracticeEntry, NULL);

/* ---- fasteners, materials, consumables, cautions ---- */

static const Field band_fields[] = {
    FIELD(StrengthBand, over, "over", LITERAL, "for diameters above this",
          .measure = MEASURE_LENGTH, .extent = EXTENT_EXACT),
    FIELD(StrengthBand, up_to, "up_to", LITERAL, "for diameters up to this",
          .measure = MEASURE_LENGTH, .extent = EXTENT_EXACT),
    FIELD(StrengthBand, proof, "proof", LITERAL, "proof stress", .measure = MEASURE_STRESS,
          .extent = EXTENT_EXACT, .required = true),
    FIELD(StrengthBand, yield, "yield", LITERAL, "yield stress", .measure = MEASURE_STRESS,
          .extent = EXTENT_EXACT, .required = true),
    FIELD(StrengthBand, tensile, "tensile", LITERAL, "tensile strength", .measure = MEASURE_STRESS,
          .extent = EXTENT_EXACT, .required = true),
};
PLACED(band_shape, "band of diameters", band_fields, StrengthBand, NULL);

static const Field strength_fields[] = {
    FIELD(StrengthEntry, bands, "bands", LIST, "stresses by diameter", .shape = &band_shape,
          .required = true),
    FIELD(StrengthEntry, stands_in, "stands_in", TEXT,
          "what is used for a proof stress that the standard does not give"),
};
SHAPE(strength_shape, "strength class", strength_fields, StrengthEntry, NULL);

static const Field lubricant_fields[] = {
    FIELD(LubricantEntry, k, "k", LITERAL, "nut factor, a range", .measure = MEASURE_NUMBER,
          .extent = EXTENT_BAND),
    FIELD(LubricantEntry, thread_friction, "thread_friction", LITERAL,
          "friction in the thread, a range", .measure = MEASURE_NUMBER),
    FIELD(LubricantEntry, head_friction, "head_friction", LITERAL,
          "friction under the head, a range", .measure = MEASURE_NUMBER),
    FIELD(LubricantEntry, product, "product", REF, "what puts it on; without one nothing is put on",
          .kind = ENTRY_CONSUMABLE),
};

/* K, or the two frictions it follows from. */
static void finish_lubricant(Loader *loader, const Node *map, void *object) {
  const LubricantEntry *lubricant = object;
  bool friction =
      lubricant->thread_friction.kind != EXPR_NONE && lubricant->head_friction.kind != EXPR_NONE;
  if (lubricant->k.kind != EXPR_NONE || friction) return;
  Finding *finding = finding_add(loader->run, RULE_MISSING_KEY, map->at,
                                 "this lubricant has neither k nor both frictions");
  finding_way_out(loader->run, finding,
                  "add k: as a range, or thread_friction: and head_friction:");
}
SHAPE(lubricant_shape, "lubricant", lubricant_fields, LubricantEntry, finish_lubricant);

static const Field threadlocker_fields[] = {
    FIELD(ThreadlockerEntry, k, "k", LITERAL, "nut factor, a range", .measure = MEASURE_NUMBER,
          .extent = EXTENT_BAND, .required = true),
    FIELD(ThreadlockerEntry, strength, "strength", WORD, "low, medium or high",
          .words = "low|medium|high"),
    FIELD(ThreadlockerEntry, cure, "cure", LITERAL, "time to full strength",
          .measure = MEASURE_TIME),
    FIELD(ThreadlockerEntry, service_temperature, "service_temperature", LITERAL,
          "temperature it holds at", .measure = MEASURE_TEMPERATURE),
    FIELD(ThreadlockerEntry, cautions, "cautions", REFS, "what to mind", .kind = ENTRY_CAUTION),
    FIELD(ThreadlockerEntry, not_on, "not_on", WORDS, "materials it must not meet",
          .names = NAME_MATERIAL),
    FIELD(ThreadlockerEntry, product, "product", REF, "what puts it on", .kind = ENTRY_CONSUMABLE),
};
SHAPE(threadlocker_shape, "threadlocker", threadlocker_fields, ThreadlockerEntry, NULL);

static const Field material_fields[] = {
    FIELD(MaterialEntry, expansion, "expansion", LITERAL, "linear expansion by warmth",
          .measure = MEASURE_EXPANSION),
    FIELD(MaterialEntry, modulus, "modulus", LITERAL, "modulus of elasticity",
          .measure = MEASURE_STRESS),
    FIELD(MaterialEntry, shear, "shear", LITERAL, "shear strength", .measure = MEASURE_STRESS),
    FIELD(MaterialEntry, tensile, "tensile", LITERAL, "tensile strength",
          .measure = MEASURE_STRESS),
    FIELD(MaterialEntry, yield, "yield", LITERAL, "yield stress", .measure = MEASURE_STRESS),
};
SHAPE(material_shape, "material", material_fields, MaterialEntry, NULL);

static const Field consumable_fields[] = {
    FIELD(ConsumableEntry, use, "use", TEXT, "what it is for"),
    FIELD(ConsumableEntry, greasy, "greasy", WORD,
          "oil or grease: what gets it is no longer clean and dry", .words = "greasy"),
    FIELD(ConsumableEntry, open_time, "open_time", LITERAL, "time before it skins over",
          .measure = MEASURE_TIME),
    FIELD(ConsumableEntry, cure, "cure", LITERAL, "time to full strength", .measure = MEASURE_TIME),
    FIELD(ConsumableEntry, cautions, "cautions", REFS, "what to mind", .kind = ENTRY_CAUTION),
    FIELD(ConsumableEntry, lubricant, "lubricant", REF, "which lubricant it is on a thread",
          .kind = ENTRY_LUBRICANT),
    FIELD(ConsumableEntry, threadlocker, "threadlocker", REF,
          "which threadlocker it is on a thread", .kind = ENTRY_THREADLOCKER),
};
SHAPE(consumable_shape, "consumable", consumable_fields, ConsumableEntry, NULL);

static const Field caution_fields[] = {
    FIELD(CautionEntry, word, "word", WORD, "how bad it is",
          .words = "danger|warning|caution|notice", .required = true),
    FIELD(CautionEntry, hazard, "hazard", TEXT, "what can hurt", .required = true),
    FIELD(CautionEntry, consequence, "consequence", TEXT, "what happens then", .required = true),
    FIELD(CautionEntry, avoid, "avoid", TEXTS, "what to do and not to do, each a sentence",
          .required = true),
    FIELD(CautionEntry, needs, "needs", WORDS, "states that the work under it asks for",
          .names = NAME_STATE),
    FIELD(CautionEntry, symbol, "symbol", WORD, "the sign beside it",
          .words = "crush|fumes|fire|eye|spring|fingers|battery|hot|chemical|pressure"),
};
SHAPE(caution_shape, "caution", caution_fields, CautionEntry, NULL);

/* ---- shop ---- */

static const Field gauge_fields[] = {
    FIELD(Gauge, label, "label", TEXT, "what people call it"),
    FIELD(Gauge, id, "id", WORD, "the number on it"),
    FIELD(Gauge, measures, "measures", WORD, "what it measures", .required = true,
          .words =
              "outside|bore|depth|gap|angle|volume|pressure|mass|force|temperature|runout|other"),
    FIELD(Gauge, range, "range", LITERAL, "from its least to its greatest reading",
          .extent = EXTENT_BAND),
    FIELD(Gauge, resolution, "resolution", LITERAL, "its finest step", .extent = EXTENT_EXACT),
    FIELD(Gauge, uncertainty, "uncertainty", LITERAL, "as its certificate states",
          .extent = EXTENT_EXACT),
    FIELD(Gauge, due, "due", DATE, "next calibration"),
    FIELD(Gauge, reading, "reading", WORD, "go: it passes or does not", .words = "go"),
};
NAMED(gauge_shape, "gauge", gauge_fields, Gauge);

static const Field wrench_fields[] = {
    FIELD(Wrench, label, "label", TEXT, "what people call it"),
    FIELD(Wrench, id, "id", WORD, "the number on it"),
    FIELD(Wrench, range, "range", LITERAL, "as its certificate states", .measure = MEASURE_TORQUE,
          .extent = EXTENT_BAND, .required = true),
    FIELD(Wrench, resolution, "resolution", LITERAL,
          "the step of its scale: what it is set to is rounded to that", .measure = MEASURE_TORQUE,
          .extent = EXTENT_EXACT),
    FIELD(Wrench, length, "length", LITERAL, "from the square to the middle of the grip",
          .measure = MEASURE_LENGTH, .extent = EXTENT_EXACT),
    FIELD(Wrench, due, "due", DATE, "next calibration"),
};
NAMED(wrench_shape, "wrench", wrench_fields, Wrench);

static const Field shop_fields[] = {
    FIELD(ShopEntry, address, "address", TEXT, "printed on the customer sheet", .joined = true),
    FIELD(ShopEntry, gauges, "gauges", NAMED, "what it measures with", .shape = &gauge_shape),
    FIELD(ShopEntry, wrenches, "wrenches", NAMED, "torque wrenches", .shape = &wrench_shape),
    FIELD(ShopEntry, people, "people", WORDS, "who works there"),
    FIELD(ShopEntry, one_person, "one_person", WORD, "both initials of a hold may be one person's",
          .words = "one_person"),
};
SHAPE(shop_shape, "shop", shop_fields, ShopEntry, NULL);
