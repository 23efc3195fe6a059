/* What does not fit: findings, collected, never printed on the spot. */
#ifndef SHEAF_DIAG_FINDING_H
#define SHEAF_DIAG_FINDING_H

#include "base/vec.h"
#include "diag/source.h"

#include <stdbool.h>

typedef enum Severity {
  SEVERITY_CONCERN,    /* printed, the packet is made */
  SEVERITY_REFUSAL,    /* no packet; exit 1 */
  SEVERITY_UNREADABLE, /* no packet; exit 2 */
} Severity;

/* One per line of rules.def: RULE_UNKNOWN_KEY and so on. */
typedef enum Rule {
#define RULE(id, slug, severity, concede, why) RULE_##id,
#include "diag/rules.def"
#undef RULE
  RULE_COUNT
} Rule;

typedef struct RuleInfo {
  const char *slug; /* "unknown-key" */
  Severity severity;
  bool can_concede; /* a build may accept it by concession */
  const char *why;  /* one sentence: why it matters */
} RuleInfo;

const RuleInfo *rule_info(Rule rule);
bool rule_by_slug(const char *slug, Rule *rule);

typedef struct Note {
  Place at;
  const char *text;
} Note;

typedef struct Finding {
  Rule rule;
  Severity severity; /* the rule's, or CONCERN once conceded */
  Place at;
  const char *text;    /* what, with numbers and sources; a clause without a full stop */
  const char *way_out; /* what to do about it, or NULL */
  const char *subject; /* what a concession names: quantity, joint, step; or NULL */
  bool conceded;
  VEC(Note) notes; /* second places: "first given here" */
} Finding;

typedef struct Findings {
  Arena *arena;
  VEC(Finding *) list; /* as found; findings_sort puts them by place */
} Findings;

/* What every stage gets: where memory comes from and where findings go. */
typedef struct Run {
  Arena *arena;
  Findings *findings;
} Run;

Findings *findings_new(Arena *arena);

/* Adds a finding and answers it, so that notes and a way out can be hung on. */
SHEAF_PRINTF(4, 5)
Finding *finding_add(Run *run, Rule rule, Place at, const char *format, ...);
SHEAF_PRINTF(4, 5)
void finding_note(Run *run, Finding *finding, Place at, const char *format, ...);
SHEAF_PRINTF(3, 4)
void finding_way_out(Run *run, Finding *finding, const char *format, ...);
void finding_subject(Finding *finding, const char *subject);

/* By file, line, column, then rule, then text; equal ones are dropped. */
void findings_sort(Findings *findings);
bool findings_refuse(const Findings *findings); /* any REFUSAL or worse */
bool findings_unreadable(const Findings *findings);

#endif
