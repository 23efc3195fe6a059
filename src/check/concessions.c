/* What the build accepts although it does not fit, with who answers for it. */
#include "check/rules.h"

#include "base/near.h"
#include "base/text.h"

static const char *person(const Job *job, const char *who) {
  for (size_t i = 0; i < job->build->people.n; i++)
    if (text_is(job->build->people.at[i].label, who)) return job->build->people.at[i].value.s;
  return NULL;
}

/* Somebody has to answer for it, and not the one whose work it is. */
static bool is_answered_for(Run *run, const Job *job, const Concession *concession) {
  if (!concession->reason.s || !concession->approver.s) return false; /* load says so */
  if (!concession->customer.s) {
    Finding *finding = finding_add(run, RULE_BAD_CONCESSION, concession->at,
                                   "the concession does not say what the customer agreed to");
    finding_way_out(run, finding, "add `customer:` with what was agreed, and when");
    return false;
  }
  if (text_is(concession->approver.s, person(job, "technician"))) {
    Finding *finding =
        finding_add(run, RULE_BAD_CONCESSION, concession->approver.at,
                    "%s does the work and cannot approve the concession", concession->approver.s);
    finding_way_out(run, finding, "name somebody other than the technician");
    return false;
  }
  return true;
}

/* false after a finding; a slip of the pen is reported and read on as what was meant. */
static bool need_rule(Run *run, const Concession *concession, Rule *rule, bool *misspelt) {
  *misspelt = false;
  if (!rule_by_slug(concession->rule.s, rule)) {
    Words slugs = {0};
    for (int i = 0; i < RULE_COUNT; i++)
      if (rule_info((Rule)i)->can_concede) vec_push(run->arena, &slugs, rule_info((Rule)i)->slug);
    Finding *finding = finding_add(run, RULE_BAD_CONCESSION, concession->rule.at,
                                   "no finding is called %s", concession->rule.s);
    const char *near = near_word(concession->rule.s, &slugs);
    if (near)
      finding_way_out(run, finding, "did you mean %s?", near);
    else
      finding_way_out(run, finding, "what may be conceded: %s",
                      text_join(run->arena, &slugs, ", "));
    *misspelt = near_slip(concession->rule.s, near) && rule_by_slug(near, rule);
    return *misspelt;
  }
  if (rule_info(*rule)->can_concede) return true;
  Finding *finding = finding_add(run, RULE_BAD_CONCESSION, concession->rule.at,
                                 "%s cannot be accepted by concession", concession->rule.s);
  finding_way_out(run, finding, "mend what is found");
  return false;
}

static bool concede(Run *run, Rule rule, const char *subject) {
  bool used = false;
  for (size_t i = 0; i < run->findings->list.n; i++) {
    Finding *finding = run->findings->list.at[i];
    if (finding->rule != rule || !text_is(finding->subject, subject)) continue;
    finding->severity = SEVERITY_CONCERN;
    finding->conceded = true;
    used = true;
  }
  return used;
}

static void accept(Run *run, const Job *job, const Concession *concession) {
  Rule rule;
  bool misspelt;
  if (!need_rule(run, concession, &rule, &misspelt) || !is_answered_for(run, job, concession))
    return;
  bool used = concede(run, rule, concession->subject.s);
  if (used || misspelt || job->readings)
    return; /* the blank packet was judged; readings settle much of it */
  Words subjects = {0};
  for (size_t i = 0; i < run->findings->list.n; i++) {
    const Finding *other = run->findings->list.at[i];
    if (other->rule == rule && other->subject) vec_push(run->arena, &subjects, other->subject);
  }
  const char *near = concession->subject.s ? near_word(concession->subject.s, &subjects) : NULL;
  if (near && near_slip(concession->subject.s, near)) {
    Finding *finding =
        finding_add(run, RULE_BAD_CONCESSION, concession->subject.at,
                    "nothing is found under %s for %s", concession->rule.s, concession->subject.s);
    finding_way_out(run, finding, "did you mean %s?", near);
    (void)concede(run, rule, near); /* one slip, one finding */
    return;
  }
  Finding *finding = finding_add(
      run, RULE_UNUSED_CONCESSION, concession->subject.s ? concession->subject.at : concession->at,
      "nothing is found under %s for %s", concession->rule.s, concession->subject.s);
  finding_way_out(run, finding, "take the concession out, or mend its spelling");
}

void check_concessions(Run *run, const Job *job) {
  for (size_t i = 0; i < job->build->concessions.n; i++)
    accept(run, job, &job->build->concessions.at[i]);
}
