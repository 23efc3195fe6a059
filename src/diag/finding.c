#include "diag/finding.h"

#include "base/text.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

static const RuleInfo rules[RULE_COUNT] = {
#define RULE(id, slug, severity, concede, why) {slug, SEVERITY_##severity, concede, why},
#include "diag/rules.def"
#undef RULE
};

const RuleInfo *rule_info(Rule rule) {
  return &rules[rule];
}

bool rule_by_slug(const char *slug, Rule *rule) {
  for (int i = 0; i < RULE_COUNT; i++) {
    if (!text_is(rules[i].slug, slug)) continue;
    *rule = (Rule)i;
    return true;
  }
  return false;
}

Findings *findings_new(Arena *arena) {
  Findings *findings = ARENA_NEW(arena, Findings);
  findings->arena = arena;
  return findings;
}

Finding *finding_add(Run *run, Rule rule, Place at, const char *format, ...) {
  Finding *finding = ARENA_NEW(run->arena, Finding);
  finding->rule = rule;
  finding->severity = rules[rule].severity;
  finding->at = at;
  va_list values;
  va_start(values, format);
  finding->text = arena_vprintf(run->arena, format, values);
  va_end(values);
  vec_push(run->findings->arena, &run->findings->list, finding);
  return finding;
}

void finding_note(Run *run, Finding *finding, Place at, const char *format, ...) {
  va_list values;
  va_start(values, format);
  Note note = {at, arena_vprintf(run->arena, format, values)};
  va_end(values);
  vec_push(run->arena, &finding->notes, note);
}

void finding_way_out(Run *run, Finding *finding, const char *format, ...) {
  va_list values;
  va_start(values, format);
  finding->way_out = arena_vprintf(run->arena, format, values);
  va_end(values);
}

void finding_subject(Finding *finding, const char *subject) {
  finding->subject = subject;
}

static int compare(const Finding *a, const Finding *b) {
  int by_place = place_compare(a->at, b->at);
  if (by_place != 0) return by_place;
  if (a->rule != b->rule) return a->rule < b->rule ? -1 : 1;
  return strcmp(a->text, b->text);
}

/* Of equal findings the one found first is kept, so its turn decides last. */
typedef struct Turn {
  Finding *finding;
  size_t number;
} Turn;

static int compare_turns(const void *left, const void *right) {
  const Turn *a = left, *b = right;
  int by_finding = compare(a->finding, b->finding);
  if (by_finding != 0) return by_finding;
  return (a->number > b->number) - (a->number < b->number);
}

void findings_sort(Findings *findings) {
  size_t n = findings->list.n;
  if (n == 0) return;
  Turn *turns = ARENA_NEW_N(findings->arena, Turn, n);
  for (size_t i = 0; i < n; i++) turns[i] = (Turn){findings->list.at[i], i};
  qsort(turns, n, sizeof *turns, compare_turns);
  size_t kept = 0;
  for (size_t i = 0; i < n; i++) {
    Finding *finding = turns[i].finding;
    if (kept > 0 && compare(findings->list.at[kept - 1], finding) == 0) continue;
    findings->list.at[kept++] = finding;
  }
  findings->list.n = kept;
}

static bool any_from(const Findings *findings, Severity least) {
  for (size_t i = 0; i < findings->list.n; i++) {
    if (findings->list.at[i]->severity >= least) return true;
  }
  return false;
}

bool findings_refuse(const Findings *findings) {
  return any_from(findings, SEVERITY_REFUSAL);
}

bool findings_unreadable(const Findings *findings) {
  return any_from(findings, SEVERITY_UNREADABLE);
}
