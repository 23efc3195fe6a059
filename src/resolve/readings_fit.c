/* Decisions of the bench: the part fitted takes the place of the one the build named. */
#include "resolve/readings.h"

#include "base/near.h"
#include "base/text.h"

/* The part as a bench table of the packet offers it; all ids offered go to known. */
static const Entry *offered(Run *run, const Plan *plan, const char *role, const char *id,
                            Words *known) {
  const Entry *found = NULL;
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanTable *table = plan->steps.at[i]->table;
    for (int side = 0; table && side < 2; side++) {
      const TableAxis *axis = side ? &table->decl->column : &table->decl->row;
      const RefList *parts = side ? &table->column_parts : &table->row_parts;
      for (size_t j = 0; text_is(axis->role.s, role) && j < parts->n; j++) {
        const Ref *part = &parts->at[j];
        if (part->id && !text_has(known, part->id)) vec_push(run->arena, known, part->id);
        if (text_is(part->id, id)) found = part->entry;
      }
    }
  }
  return found;
}

static const char *listed(Arena *arena, const Words *words) {
  Text list = text_new(arena);
  for (size_t i = 0; i < words->n; i++) text_addf(&list, "%s%s", i ? ", " : "", words->at[i]);
  return text_done(&list);
}

/* A number, where the part that was fitted goes by its id. */
static void size_for_part(Run *run, const Plan *plan, const FittedLine *line, const Role *role) {
  Words known = {0};
  offered(run, plan, role->name, "", &known);
  Finding *finding =
      finding_add(run, RULE_NOT_OFFERED, line->what.at,
                  "%s is no part; %s goes by the part that was fitted", line->what.s, role->label);
  if (known.n) finding_way_out(run, finding, "it is one of %s", listed(run->arena, &known));
}

static bool is_quantity(const Job *job, const FittedLine *line) {
  for (size_t i = 0; i < job->quantities.n; i++)
    if (text_is(job->quantities.at[i]->name, line->name)) return true;
  return false;
}

static void unknown(Run *run, const Job *job, const FittedLine *line) {
  Words known = {0};
  for (size_t i = 0; i < job->roles.n; i++) vec_push(run->arena, &known, job->roles.at[i]->name);
  for (size_t i = 0; i < job->quantities.n; i++)
    if (!text_has(&known, job->quantities.at[i]->name))
      vec_push(run->arena, &known, job->quantities.at[i]->name);
  Finding *finding = finding_add(run, RULE_UNKNOWN_NAME, line->at,
                                 "the build has no role and no quantity %s", line->name);
  const char *near = near_word(line->name, &known);
  if (near) finding_way_out(run, finding, "did you mean \"%s\"?", near);
}

static void choose(Run *run, BuildEntry *build, const FittedLine *line, Entry *part) {
  PartChoice choice = {line->name, line->what.at, {part->id, line->what.at, part}, {0}};
  for (size_t i = 0; i < build->parts.n; i++) {
    if (!text_is(build->parts.at[i].role, line->name)) continue;
    choice.offered = build->parts.at[i].offered;
    build->parts.at[i] = choice;
    return;
  }
  vec_push(run->arena, &build->parts, choice);
}

static void fit_part(Run *run, Library *library, const Printed *printed, const FittedLine *line,
                     const Role *role) {
  Words known = {0};
  const Entry *named = role->part;
  if (line->path.n) {
    Finding *finding =
        finding_add(run, RULE_NOT_OFFERED, line->at,
                    "%s is one part number for all its places; here it is given for %s",
                    role->label, line->path.at[0].s);
    finding_way_out(run, finding, "write %s: and the part's id", role->name);
    return;
  }
  if (named && text_is(named->id, line->what.s)) return;
  bool may = offered(run, printed->plan, role->name, line->what.s, &known) != NULL;
  Entry *part = may ? library_find(library, ENTRY_PART, line->what.s) : NULL;
  if (part) {
    choose(run, &library->build->is.build, line, part);
    return;
  }
  Finding *finding =
      finding_add(run, RULE_NOT_OFFERED, line->what.at,
                  "no bench table of the packet offers %s as %s", line->what.s, role->label);
  const char *near = near_word(line->what.s, &known);
  if (near)
    finding_way_out(run, finding, "did you mean \"%s\"?", near);
  else if (known.n)
    finding_way_out(run, finding, "it offers %s", listed(run->arena, &known));
  else
    finding_way_out(run, finding,
                    "change the build, print it again with --since, and go on from there");
}

void readings_fit(Run *run, Library *library, const Printed *printed, const Readings *readings) {
  for (size_t i = 0; i < readings->fitted.n; i++) {
    const FittedLine *line = &readings->fitted.at[i];
    const Role *role = job_role(printed->job, line->name);
    if (role && line->size.kind == EXPR_NONE)
      fit_part(run, library, printed, line, role);
    else if (role && !is_quantity(printed->job, line))
      size_for_part(run, printed->plan, line, role);
    else if (!is_quantity(printed->job, line))
      unknown(run, printed->job, line);
  }
}

void readings_same_work(Run *run, const Readings *readings, const Reissue *decided) {
  if (!readings->fitted.n) return;
  for (size_t i = 0; i < decided->list.n; i++) {
    const Change *change = &decided->list.at[i];
    if (change->kind != CHANGE_STEP_ADDED && change->kind != CHANGE_STEP_REMOVED &&
        change->kind != CHANGE_STEP_MOVED && change->kind != CHANGE_JOINT)
      continue;
    Finding *finding =
        finding_add(run, RULE_WORK_CHANGED, readings->fitted.at[0].at,
                    "with what was fitted %s is %s", change->what,
                    change->kind == CHANGE_JOINT          ? "tightened otherwise"
                    : change->kind == CHANGE_STEP_ADDED   ? "a step that was not printed"
                    : change->kind == CHANGE_STEP_REMOVED ? "no step any more"
                                                          : "done in another order");
    finding_way_out(run, finding,
                    "change the part in the build and print it again with --since the old one");
    return;
  }
}
