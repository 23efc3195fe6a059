/* The keys of procedures, packets and builds. */
#include "load/field.h"

/* ---- steps ---- */

static const Field box_fields[] = {
    FIELD(BoxDecl, quantity, "quantity", WORD, "what is measured", .required = true,
          .names = NAME_QUANTITY),
    FIELD(BoxDecl, label, "label", TEXT, "printed in place of the quantity's own"),
    FIELD(BoxDecl, positions, "at", WORDS, "where; one box each"),
    FIELD(BoxDecl, gauge, "gauge", WORD, "of the shop, or a kind of measuring",
          .names = NAME_GAUGE),
    FIELD(BoxDecl, only, "only", WORD, "for the record, not judged", .words = "record"),
    FIELD(BoxDecl, occasion, "occasion", WORD, "as found, mock-up, final; final if left out",
          .names = NAME_OCCASION),
    FIELD(BoxDecl, readings, "readings", NUMBER, "how many are taken"),
    FIELD(BoxDecl, at_least_agree, "agree", LITERAL, "two readings agree within this"),
    FIELD(BoxDecl, letter, "letter", WORD, "what `work` calls the reading",
          .words = "A|B|C|D|E|F|G|H|I|J|K|L|M|N|O|P|Q|R|S|T|U|V|W|X|Y|Z"),
};
PLACED(box_shape, "box", box_fields, BoxDecl, NULL);

static void finish_axis(Loader *loader, const Node *map, void *object) {
  bool by_quantity = node_find(map, "quantity", NULL) != NULL,
       by_role = node_find(map, "role", NULL) != NULL;
  Place at = ((TableAxis *)object)->at;
  if (by_quantity != by_role) return;
  Finding *finding =
      finding_add(loader->run, by_role ? RULE_REPEATED_KEY : RULE_MISSING_KEY, at,
                  by_role ? "one side of a table goes by a quantity or by a role, not by both"
                          : "this side of the table goes by nothing");
  finding_way_out(loader->run, finding, "write {quantity, from, to, step} or {role, parts: [...]}");
}

static const Field axis_fields[] = {
    FIELD(TableAxis, quantity, "quantity", WORD, "the quantity it goes by", .names = NAME_QUANTITY),
    FIELD(TableAxis, from, "from", LITERAL, "first value", .extent = EXTENT_EXACT),
    FIELD(TableAxis, to, "to", LITERAL, "last value", .extent = EXTENT_EXACT),
    FIELD(TableAxis, step, "step", LITERAL, "from one to the next", .extent = EXTENT_EXACT),
    FIELD(TableAxis, bin, "bin", LITERAL, "half width judged at its edges; half a step if left out",
          .extent = EXTENT_EXACT),
    FIELD(TableAxis, role, "role", WORD, "the role whose parts it goes by", .names = NAME_ROLE),
    FIELD(TableAxis, parts, "parts", REFS, "the parts offered; those of the build if left out",
          .kind = ENTRY_PART),
    FIELD(TableAxis, fact, "fact", WORD, "a value of the part, printed beside its name"),
};
PLACED(axis_shape, "side of a table", axis_fields, TableAxis, finish_axis);

static const Field table_fields[] = {
    FIELD(TableDecl, title, "title", TEXT, "printed above it"),
    FIELD(TableDecl, row, "row", ONE, "what goes down", .shape = &axis_shape, .required = true),
    FIELD(TableDecl, column, "column", ONE, "what goes across", .shape = &axis_shape),
    FIELD(TableDecl, answers, "answers", WORDS, "quantities in each cell", .required = true,
          .names = NAME_QUANTITY),
    FIELD(TableDecl, judges, "judges", WORDS,
          "quantities that stop a cell; all that hang on the sides if left out",
          .names = NAME_QUANTITY),
    FIELD(TableDecl, member, "member", WORD, "of which member", .names = NAME_MEMBER),
};
PLACED(table_shape, "table", table_fields, TableDecl, NULL);

static const Field work_fields[] = {
    FIELD(WorkLine, letter, "letter", WORD, "the letter of the result"),
    FIELD(WorkLine, text, "text", TEXT, "how it is worked out, as printed"),
    FIELD(WorkLine, is, "is", FORMULA, "the same as a formula"),
};
PLACED(work_shape, "worked-out value", work_fields, WorkLine, NULL);

static const Field before_fields[] = {
    FIELD(StepBefore, step, "step", WORD, "the step that comes later", .required = true,
          .names = NAME_STEP),
    FIELD(StepBefore, why, "why", TEXT, "the reason"),
};
PLACED(before_shape, "before", before_fields, StepBefore, NULL);

#define STEP(key_, kind_, doc_)                                                                    \
  {                                                                                                \
    .key = key_, .type = FIELD_STEP, .offset = offsetof(StepDecl, text), .doc = doc_,              \
    .step_kind = kind_                                                                             \
  }

static const Field step_fields[] = {
    FIELD(StepDecl, id, "id", WORD, "its name in the order", .required = true),
    STEP("do", STEP_DO, "work, as an order"),
    STEP("check", STEP_CHECK, "something to look at"),
    STEP("verify", STEP_VERIFY, "something a second look must confirm"),
    STEP("record", STEP_RECORD, "something to measure and write down"),
    STEP("decide", STEP_DECIDE, "a choice from what was measured"),
    STEP("wait", STEP_WAIT, "a time, or until what"),
    STEP("hold", STEP_HOLD, "two initials before work goes on"),
    FIELD(StepDecl, for_each, "for_each", WORD,
          "once for each member of this set, or part of this role", .names = NAME_EACH),
    FIELD(StepDecl, after, "after", WORDS, "steps or blocks that come first", .names = NAME_STEP),
    FIELD(StepDecl, before, "before", LIST, "steps that come later, and why",
          .shape = &before_shape),
    FIELD(StepDecl, place, "place", WORD, "not tied to its neighbours", .words = "floats"),
    FIELD(StepDecl, when, "when", CONDITION, "only for these combinations"),
    FIELD(StepDecl, through, "through", WORDS, "openings it needs open", .names = NAME_OPENING),
    FIELD(StepDecl, opens, "opens", WORDS, "openings it opens", .names = NAME_OPENING),
    FIELD(StepDecl, closes, "closes", WORDS, "openings it closes", .names = NAME_OPENING),
    FIELD(StepDecl, covers, "covers", WORDS, "openings it covers", .names = NAME_OPENING),
    FIELD(StepDecl, uncovers, "uncovers", WORDS, "openings it uncovers", .names = NAME_OPENING),
    FIELD(StepDecl, handles, "handles", WORDS, "loose parts in the hand", .names = NAME_LOOSE),
    FIELD(StepDecl, over, "over", WORDS, "openings they are handled over", .names = NAME_OPENING),
    FIELD(StepDecl, count, "count", WORD, "counted in and out", .words = "in and out"),
    FIELD(StepDecl, fits, "fits", WORDS, "roles whose parts are fitted for good",
          .names = NAME_ROLE),
    FIELD(StepDecl, trial, "trial", WORDS, "roles whose parts are fitted for a trial",
          .names = NAME_ROLE),
    FIELD(StepDecl, removes, "removes", WORDS, "roles whose parts are taken off",
          .names = NAME_ROLE),
    FIELD(StepDecl, old, "old", WORDS, "roles of which an old part is put on for a trial",
          .names = NAME_ROLE),
    FIELD(StepDecl, another, "another", WORDS,
          "roles of which a further new part is taken, the first being used up",
          .names = NAME_ROLE),
    FIELD(StepDecl, chooses, "chooses", WORDS,
          "roles of which one of the parts offered is taken from here on", .names = NAME_ROLE),
    FIELD(StepDecl, works_on, "works_on", WORDS, "roles whose parts must be on by now",
          .names = NAME_ROLE),
    FIELD(StepDecl, seals, "seals", WORDS, "joint faces it seals", .names = NAME_FACE),
    FIELD(StepDecl, boxes, "boxes", LIST, "values measured", .shape = &box_shape),
    {.key = "tighten",
     .type = FIELD_TIGHTEN,
     .offset = offsetof(StepDecl, tighten),
     .doc = "joints, in one sequence",
     .shape = &tighten_shape},
    FIELD(StepDecl, coats, "coats", WORDS, "joints whose threads get what it uses",
          .names = NAME_JOINT),
    FIELD(StepDecl, disturbs, "disturbs", WORD, "a joint this work loosens", .names = NAME_JOINT),
    FIELD(StepDecl, table, "table", ONE, "a bench table", .shape = &table_shape,
          .by_pointer = true),
    FIELD(StepDecl, work, "work", LIST, "worked-out values", .shape = &work_shape),
    FIELD(StepDecl, needs, "needs", WORDS, "states it needs: \"clean base_joint\", pumped",
          .names = NAME_STATE),
    FIELD(StepDecl, makes, "makes", WORDS, "states it brings about"),
    FIELD(StepDecl, ends, "ends", WORDS, "states it ends", .names = NAME_STATE),
    FIELD(StepDecl, turns, "turns", LITERAL, "the engine is turned over by this",
          .measure = MEASURE_ANGLE),
    FIELD(StepDecl, since, "since", WORD, "the step a time counts from", .names = NAME_STEP),
    FIELD(StepDecl, within, "within", LITERAL, "at most this long after it",
          .measure = MEASURE_TIME),
    FIELD(StepDecl, not_before, "not_before", LITERAL, "at least this long after it",
          .measure = MEASURE_TIME),
    FIELD(StepDecl, fail_after, "fail_after", LITERAL,
          "so long after it the work before is void; of a wait, after it has begun",
          .measure = MEASURE_TIME),
    FIELD(StepDecl, otherwise, "otherwise", TEXT, "what is done when the time has passed"),
    FIELD(StepDecl, cautions, "cautions", REFS, "what to mind", .kind = ENTRY_CAUTION),
    FIELD(StepDecl, uses, "uses", REFS, "consumables", .kind = ENTRY_CONSUMABLE),
    FIELD(StepDecl, tools, "tools", TEXTS, "tools beside the usual ones"),
    FIELD(StepDecl, figures, "figures", WORDS, "figures at the step",
          .words = "deck_section|bore_points|ring_clock|piston_way|valve_circle|spring_height|"
                   "sprocket_line|pattern"),
    FIELD(StepDecl, hold_kind, "hold_kind", WORD, "which of the engine's holds this is",
          .names = NAME_HOLD),
    FIELD(StepDecl, note, "note", TEXT, "printed below it"),
};

/* The keys do, check, ... wait: 24 h beside another of them is a time only. */
void field_step_text(Loader *loader, const Field *field, const Pair *pair, void *object) {
  StepDecl *step = object;
  Said said = said_text(loader, pair->value, field->key);
  if (!said.s) return;
  bool wait = field->step_kind == STEP_WAIT;
  if (wait && is_digit(said.s[0])) {
    const Field time = {.key = "wait", .offset = offsetof(StepDecl, wait), .measure = MEASURE_TIME};
    field_literal(loader, &time, pair, step);
    if (step->text.s) return;
  }
  bool time_before = step->text.s && step->kind == STEP_WAIT && step->wait.kind != EXPR_NONE;
  if (step->text.s && !time_before) {
    Finding *finding = finding_add(loader->run, RULE_REPEATED_KEY, pair->key_at,
                                   "one step does two things: \"%s\" is the second", field->key);
    finding_note(loader->run, finding, step->text.at, "the first stands here");
    finding_way_out(loader->run, finding, "make two steps of it");
    return;
  }
  step->kind = field->step_kind;
  step->text = said;
}

static void finish_step(Loader *loader, const Node *map, void *object) {
  StepDecl *step = object;
  if (step->text.s) return;
  for (size_t i = 0; i < map->pairs.n; i++) {
    const Field *field = NULL;
    for (size_t k = 0; k < COUNT(step_fields); k++) {
      if (text_is(step_fields[k].key, map->pairs.at[i].key)) field = &step_fields[k];
    }
    if (field && field->type == FIELD_STEP) return; /* there, and reported */
  }
  Finding *finding = finding_add(loader->run, RULE_MISSING_KEY, step->at, "this step says nothing");
  finding_way_out(loader->run, finding,
                  "it has one of do, check, verify, record, decide, wait, hold with its text");
}

PLACED(step_shape, "step", step_fields, StepDecl, finish_step);

/* ---- procedure and packet ---- */

static const Field block_fields[] = {
    FIELD(BlockDecl, id, "id", WORD, "its name in the order", .required = true),
    FIELD(BlockDecl, title, "title", TEXT, "printed above its steps"),
    FIELD(BlockDecl, for_each, "for_each", WORD, "once for each member of this set",
          .names = NAME_SET),
    FIELD(BlockDecl, by, "by", WORD, "one member after another, or step by step",
          .words = "member|step"),
    FIELD(BlockDecl, when, "when", CONDITION, "only for these combinations"),
    FIELD(BlockDecl, after, "after", WORDS, "steps or blocks that come first", .names = NAME_STEP),
    FIELD(BlockDecl, cautions, "cautions", REFS, "what to mind", .kind = ENTRY_CAUTION),
    FIELD(BlockDecl, steps, "steps", LIST, "in the order they are written", .shape = &step_shape,
          .by_pointer = true, .required = true),
};
PLACED(block_shape, "block", block_fields, BlockDecl, NULL);

static const Field needs_fields[] = {
    FIELD(ProcedureEntry, needs_sets, "sets", WORDS, "sets the engine must have",
          .names = NAME_SET),
    FIELD(ProcedureEntry, needs_openings, "openings", WORDS, "openings it must have",
          .names = NAME_OPENING),
    FIELD(ProcedureEntry, needs_roles, "roles", WORDS, "roles it must have", .names = NAME_ROLE),
    FIELD(ProcedureEntry, needs_quantities, "quantities", WORDS, "quantities it must have",
          .names = NAME_QUANTITY),
};
static const Shape needs_shape = {"procedure's needs",
                                  needs_fields,
                                  COUNT(needs_fields),
                                  sizeof(ProcedureEntry),
                                  NOWHERE,
                                  NOWHERE,
                                  NULL};

static const Field procedure_fields[] = {
    FIELD(ProcedureEntry, sheet, "sheet", WORD,
          "which part of the packet it prints in; bench if left out", .words = "bench|start"),
    {.key = "needs", .type = FIELD_ONE, .doc = "what the engine must have", .shape = &needs_shape},
    FIELD(ProcedureEntry, blocks, "blocks", LIST, "in the order they are written",
          .shape = &block_shape, .by_pointer = true, .required = true),
};
SHAPE(procedure_shape, "procedure", procedure_fields, ProcedureEntry, NULL);

static const Field packet_fields[] = {
    FIELD(PacketEntry, sheets, "sheets", WORDS, "in order",
          .words = "job|safety|setup|bench|torque|values|nonconformance|start|customer"),
    FIELD(PacketEntry, paper, "paper", WORD, "its size", .words = "a4|letter"),
    FIELD(PacketEntry, detail, "detail", WORD, "how much is said", .words = "full|short"),
    FIELD(PacketEntry, sides, "sides", WORD, "of the paper that are printed", .words = "one|both"),
};
SHAPE(packet_shape, "packet", packet_fields, PacketEntry, NULL);

/* ---- build ---- */

static const Field settle_fields[] = {
    FIELD(Settle, sheet, "sheet", WORD, "id of the entry whose sheet holds", .required = true),
    FIELD(Settle, why, "why", TEXT, "the reason", .required = true),
};
static const Shape settle_shape = {"choice between sheets",
                                   settle_fields,
                                   COUNT(settle_fields),
                                   sizeof(Settle),
                                   offsetof(Settle, name),
                                   offsetof(Settle, at),
                                   NULL};

static const Field concession_fields[] = {
    FIELD(Concession, rule, "rule", WORD, "the rule's word, as the finding shows it in [ ]",
          .required = true),
    FIELD(Concession, subject, "of", WORD, "quantity, joint or step", .required = true),
    FIELD(Concession, reason, "reason", TEXT, "why it is accepted", .required = true),
    FIELD(Concession, approver, "approver", TEXT, "who answers for it", .required = true),
    FIELD(Concession, customer, "customer", TEXT, "how the customer agreed"),
};
PLACED(concession_shape, "concession", concession_fields, Concession, NULL);

static const Field target_fields[] = {
    FIELD(TargetDecl, quantity, "quantity", WORD, "what is to be reached", .required = true,
          .names = NAME_QUANTITY),
    FIELD(TargetDecl, want, "want", LITERAL, "the value wanted", .extent = EXTENT_EXACT,
          .required = true),
    FIELD(TargetDecl, by, "by", WORD, "the one input that may change", .names = NAME_STATED),
    FIELD(TargetDecl, from, "from", LITERAL, "its least value", .extent = EXTENT_EXACT),
    FIELD(TargetDecl, to, "to", LITERAL, "its greatest value", .extent = EXTENT_EXACT),
    FIELD(TargetDecl, step, "step", LITERAL, "it comes in steps of this", .extent = EXTENT_EXACT),
    FIELD(TargetDecl, role, "role", WORD, "or: the role whose part may change", .names = NAME_ROLE),
    FIELD(TargetDecl, parts, "parts", REFS, "the parts offered", .kind = ENTRY_PART),
};
PLACED(target_shape, "target", target_fields, TargetDecl, NULL);

static const Field build_fields[] = {
    FIELD(BuildEntry, job, "job", JOB, "job number; names the packet's file", .required = true),
    FIELD(BuildEntry, date, "date", DATE, "of the job", .required = true),
    FIELD(BuildEntry, copy, "copy", WORD, "number of this copy"),
    FIELD(BuildEntry, work, "work", TEXT, "what is wanted, in one sentence"),
    FIELD(BuildEntry, machine, "machine", DETAILS, "printed as given"),
    FIELD(BuildEntry, customer, "customer", DETAILS, "printed as given"),
    FIELD(BuildEntry, people, "people", DETAILS, "who works on it and who answers for it"),
    FIELD(BuildEntry, engine, "engine", REF, "the engine", .kind = ENTRY_ENGINE, .required = true),
    FIELD(BuildEntry, shop, "shop", REF, "the shop", .kind = ENTRY_SHOP, .required = true),
    FIELD(BuildEntry, packet, "packet", REF, "which sheets, on which paper", .kind = ENTRY_PACKET),
    FIELD(BuildEntry, parts, "parts", PARTS_CHOSEN,
          "the part in each role, or none; of a list the first, the others lie ready",
          .kind = ENTRY_PART, .words = "none"),
    FIELD(BuildEntry, choices, "choices", WORDS_CHOSEN, "the engine's choices"),
    FIELD(BuildEntry, facts, "facts", VALUES, "known values: of the engine, or ROLE.NAME of a part",
          .names = NAME_STATED),
    FIELD(BuildEntry, limits, "limits", LIMITS, "narrower limits than the sheets'",
          .names = NAME_QUANTITY),
    FIELD(BuildEntry, joints, "joints", NAMED, "how a joint is tightened in this job",
          .shape = &joint_shape, .by_pointer = true, .names = NAME_JOINT),
    FIELD(BuildEntry, undisturbed, "undisturbed", DETAILS,
          "joints left alone, each with the reason", .names = NAME_JOINT),
    FIELD(BuildEntry, procedures, "procedures", REFS, "the work", .kind = ENTRY_PROCEDURE),
    FIELD(BuildEntry, settle, "settle", NAMED, "whose sheet holds where two disagree",
          .shape = &settle_shape, .names = NAME_SETTLED),
    FIELD(BuildEntry, concessions, "concessions", LIST, "what is accepted, by whom and why",
          .shape = &concession_shape),
    FIELD(BuildEntry, targets, "targets", LIST, "what to reach, and by what",
          .shape = &target_shape),
    FIELD(BuildEntry, notes, "notes", TEXTS, "for the customer, printed on that sheet"),
    FIELD(BuildEntry, recheck, "recheck", WORD, "when the machine comes back first: after 500 km"),
    FIELD(BuildEntry, supplied_by_customer, "customer_parts", WORDS,
          "roles whose parts the customer brought", .names = NAME_ROLE),
};

/* Neither named nor there with a slip that was told. */
static bool names_no_procedure(const Node *map) {
  const Node *named = node_find(map, "procedures", NULL);
  return !named || (!named->bad && named->kind == NODE_LIST && named->items.n == 0);
}

/* The work of a procedure named twice is laid out once, so that this is all there is to say. */
static void finish_build(Loader *loader, const Node *map, void *object) {
  BuildEntry *build = object;
  build->idle = names_no_procedure(map);
  size_t kept = 0;
  for (size_t i = 0; i < build->procedures.n; i++) {
    const Ref *ref = &build->procedures.at[i], *first = NULL;
    for (size_t j = 0; j < kept && !first; j++)
      if (text_is(build->procedures.at[j].id, ref->id)) first = &build->procedures.at[j];
    if (!first) {
      build->procedures.at[kept++] = *ref;
      continue;
    }
    Finding *finding = finding_add(loader->run, RULE_REPEATED_KEY, ref->at,
                                   "the procedure %s is named twice", ref->id);
    finding_note(loader->run, finding, first->at, "first named here");
    finding_way_out(loader->run, finding, "name it once; it is done once");
  }
  build->procedures.n = kept;
}
SHAPE(build_shape, "build", build_fields, BuildEntry, finish_build);
