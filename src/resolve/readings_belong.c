/* Whose readings they are: of this job, and of a packet that is known here. */
#include "resolve/readings_box.h"

#include <string.h>

#define REVISION_LEAST 8 /* digits, as printed */

static bool is_revision(const char *said, const char *revision) {
  size_t n = strlen(said);
  return n >= REVISION_LEAST && n <= strlen(revision) && strncmp(said, revision, n) == 0;
}

static bool by_number(const Readings *readings) {
  for (size_t i = 0; i < readings->lines.n; i++)
    if (readings->lines.at[i].box) return true;
  return false;
}

bool readings_are_earlier(const Printed *printed, const Readings *readings) {
  return printed->reissue && readings->revision.s &&
         is_revision(readings->revision.s, printed->reissue->was->revision) &&
         !is_revision(readings->revision.s, printed->job->revision);
}

static bool says_revision(Run *run, const Printed *printed, const Readings *readings) {
  if (readings->revision.s) return true;
  bool numbers = by_number(readings);
  if (!numbers && !printed->reissue) return true;
  Finding *finding = finding_add(run, RULE_MISSING_KEY, readings->at,
                                 "the readings do not say of which packet they are%s",
                                 numbers ? ", and boxes go by the numbers of one packet" : "");
  finding_way_out(run, finding, "add revision: the first 8 digits stand at the foot of every page");
  return false;
}

/* Our own measure: a job is done within so many years. */
#define YEARS_MOST 2

static bool is_late(Arena *arena, const char *date, const char *job) {
  int year = 0;
  for (int i = 0; i < 4; i++) year = year * 10 + (job[i] - '0');
  return date_before(arena_printf(arena, "%04d%s", year + YEARS_MOST, job + 4), date);
}

static void tell_late(Run *run, const Readings *readings, const Said *date) {
  Finding *finding =
      finding_add(run, RULE_READINGS_LATE, readings->date.at,
                  "the readings are of %s, the job is of %s: more than %d years before",
                  readings->date.s, date->s, YEARS_MOST);
  finding_note(run, finding, date->at, "the job's date stands here");
  finding_way_out(run, finding, "look at both dates again");
}

/* YYYY-MM-DD both: they sort as text. */
static void look_at_date(Run *run, const Job *job, const Readings *readings) {
  const Said *date = &job->build->date;
  if (!readings->date.s || !date->s) return;
  if (strlen(date->s) == 10 && is_late(run->arena, readings->date.s, date->s))
    tell_late(run, readings, date);
  if (strcmp(readings->date.s, date->s) >= 0) return;
  Finding *finding =
      finding_add(run, RULE_READINGS_EARLY, readings->date.at,
                  "the readings are of %s, the job is of %s", readings->date.s, date->s);
  finding_note(run, finding, date->at, "the job's date stands here");
  finding_way_out(run, finding, "look at the sheet again, or give the day they were taken");
}

static bool says_something(Run *run, const Readings *readings) {
  if (readings->lines.n || readings->fitted.n || readings->checks.n || readings->open_steps.n ||
      readings->notes.n)
    return true;
  Finding *finding = finding_add(run, RULE_NOTHING_READ, readings->at,
                                 "no reading and no decision is given: there is nothing to "
                                 "complete");
  finding_way_out(run, finding,
                  "enter what was read; without --readings the packet is printed "
                  "blank");
  return false;
}

bool readings_belong(Run *run, const Printed *printed, const Readings *readings) {
  const char *job = printed->job->build->job.s;
  if (readings->job.s && !text_is(readings->job.s, job)) {
    Finding *finding = finding_add(run, RULE_WRONG_JOB, readings->job.at,
                                   "the readings are of job %s, the build is job %s",
                                   readings->job.s, job ? job : "without a number");
    finding_way_out(run, finding, "name the build of that job, or its own readings");
    return false;
  }
  if (!says_something(run, readings) || !says_revision(run, printed, readings)) return false;
  look_at_date(run, printed->job, readings);
  if (!readings->revision.s || is_revision(readings->revision.s, printed->job->revision) ||
      readings_are_earlier(printed, readings))
    return true;
  Finding *finding =
      finding_add(run, RULE_WRONG_REVISION, readings->revision.at,
                  "the readings were taken with the packet of revision %s; this build and its "
                  "library now are revision %.8s",
                  readings->revision.s, printed->job->revision);
  finding_way_out(run, finding,
                  "keep the build that was printed and name it with --since, or enter the readings "
                  "by name and leave the revision out");
  return false;
}
