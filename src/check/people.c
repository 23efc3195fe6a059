/* Who works on the job and who looks at it: a hold wants two people's initials. */
#include "check/rules.h"

#include "base/near.h"
#include "base/text.h"

static const char *const labels[] = {"technician",     "second person", "approver",
                                     "service writer", "second_person", "service_writer"};
#define SHOWN 4 /* of them, in a way out: the others are the same two with an underscore */

static const Detail *person(const Job *job, const char *label, const char *or_label) {
  for (size_t i = 0; i < job->build->people.n; i++) {
    const Detail *line = &job->build->people.at[i];
    if (text_is(line->label, label) || text_is(line->label, or_label)) return line;
  }
  return NULL;
}

/* false after a finding: no more is said about who is missing */
static bool labels_are_known(Run *run, const Job *job) {
  Words known = {0};
  bool good = true;
  for (size_t i = 0; i < sizeof labels / sizeof labels[0]; i++)
    vec_push(run->arena, &known, labels[i]);
  for (size_t i = 0; i < job->build->people.n; i++) {
    const Detail *line = &job->build->people.at[i];
    if (text_has(&known, line->label)) continue;
    good = false;
    Finding *finding = finding_add(run, RULE_UNKNOWN_KEY, line->at,
                                   "\"%s\" is no part that somebody has in a job", line->label);
    const char *near = near_word(line->label, &known);
    if (near)
      finding_way_out(run, finding, "did you mean \"%s\"?", near);
    else
      finding_way_out(run, finding, "there is %s, %s, %s and %s", labels[0], labels[1], labels[2],
                      labels[SHOWN - 1]);
  }
  return good;
}

static const PlanStep *first_hold(const Plan *plan) {
  for (size_t i = 0; i < plan->steps.n; i++)
    if (plan->steps.at[i]->decl->kind == STEP_HOLD) return plan->steps.at[i];
  return NULL;
}

/* Somebody may be named in what could not be read. */
static bool may_be_named(const Run *run, const Job *job) {
  for (size_t i = 0; i < run->findings->list.n; i++) {
    const Finding *finding = run->findings->list.at[i];
    bool lost = finding->rule == RULE_NOT_TAKEN || finding->rule == RULE_EMPTY_VALUE ||
                finding->rule == RULE_QUOTE_IT || finding->rule == RULE_WRONG_TYPE ||
                finding->rule == RULE_REPEATED_KEY;
    if (lost && finding->at.source == job->build_entry->file) return true;
  }
  return false;
}

static void missing(Run *run, const Job *job, const PlanStep *hold, const char *who,
                    const char *way_out) {
  if (may_be_named(run, job)) return;
  Place at = job->build->people.n ? job->build->people.at[0].at : job->build_entry->at;
  Finding *finding = finding_add(run, RULE_MISSING_KEY, at,
                                 "step %d is a hold, and the build names no %s", hold->number, who);
  finding_note(run, finding, hold->decl->at, "the hold stands here");
  finding_way_out(run, finding, "%s", way_out);
}

void check_people(Run *run, const Job *job, const Plan *plan) {
  const PlanStep *hold = first_hold(plan);
  if (!labels_are_known(run, job) || !hold) return;
  const Detail *technician = person(job, "technician", NULL);
  const Detail *second = person(job, "second person", "second_person");
  if (!second) second = person(job, "approver", NULL);
  bool alone = job->shop && job->shop->one_person.s;
  if (!technician)
    missing(run, job, hold, alone || second ? "technician" : "technician and no second person",
            "add people: {technician: ..., second person: ...}");
  if (alone) return;
  if (technician && !second)
    missing(run, job, hold, "second person",
            "add people: {second person: ...}, or an approver who is there to sign");
  if (!technician || !second || !text_is(technician->value.s, second->value.s)) return;
  Finding *finding = finding_add(run, RULE_NO_HOLD, second->at,
                                 "%s is the technician and the %s: step %d is a hold and wants two "
                                 "people",
                                 second->value.s, second->label, hold->number);
  finding_subject(finding, "people");
  finding_note(run, finding, hold->decl->at, "the hold stands here");
  finding_way_out(run, finding,
                  "name another person; a shop of one says one_person in its own entry");
}
