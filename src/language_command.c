/* What may be written and what may be found, from the tables that do the work. */
#include "commands.h"

#include "compile.h"
#include "diag/finding.h"
#include "library_ids.h"
#include "value/graph.h"

#include "base/near.h"
#include "base/text.h"

#include <stdio.h>

static void schema(Run *run, const Command *command, Text *out) {
  Words ids[ENTRY_KIND_COUNT];
  for (int i = 0; i < ENTRY_KIND_COUNT; i++)
    ids[i] = library_ids(run, &command->libraries, (EntryKind)i);
  load_schema_json(out, ids);
}

static void keys(Run *run, const Command *command, Text *out) {
  (void)run, (void)command;
  load_reference_markdown(out);
}

static const char *consequence(const RuleInfo *rule) {
  if (rule->severity == SEVERITY_UNREADABLE) return "cannot be read, exit 2";
  if (rule->severity == SEVERITY_CONCERN) return "concern";
  return rule->can_concede ? "refused; a concession may accept it" : "refused";
}

static void findings(Run *run, const Command *command, Text *out) {
  (void)run, (void)command;
  text_add(out, "# Findings\n\n| finding | what follows | why it matters |\n|---|---|---|\n");
  for (int i = 0; i < RULE_COUNT; i++) {
    const RuleInfo *rule = rule_info((Rule)i);
    text_addf(out, "| `%s` | %s | %s |\n", rule->slug, consequence(rule), rule->why);
  }
}

static void functions(Run *run, const Command *command, Text *out) {
  (void)run, (void)command;
  text_add(out,
           "# Functions of formulas\n\n| function | takes and gives | what |\n|---|---|---|\n");
  const Function *function;
  for (size_t i = 0; (function = function_at(i)); i++)
    text_addf(out, "| `%s` | %s | %s |\n", function->name, function->signature, function->what);
}

typedef struct Topic {
  const char *word;
  void (*write)(Run *run, const Command *command, Text *out);
} Topic;

static const Topic topics[] = {
    {"schema", schema}, {"keys", keys}, {"functions", functions}, {"findings", findings}};

int command_language(const Command *command) {
  const char *word = command->words.at[0];
  for (size_t i = 0; i < sizeof topics / sizeof *topics; i++) {
    if (!text_is(word, topics[i].word)) continue;
    Arena *arena = arena_new();
    Run run = {arena, findings_new(arena)};
    Text out = text_new(arena);
    topics[i].write(&run, command, &out);
    fputs(text_done(&out), stdout);
    arena_free(arena);
    return EXIT_DONE;
  }
  Arena *arena = arena_new();
  Words words = {0};
  for (size_t i = 0; i < sizeof topics / sizeof *topics; i++)
    vec_push(arena, &words, topics[i].word);
  const char *near = near_word(word, &words);
  fprintf(stderr, "sheaf: language knows schema, keys, functions and findings, not %s", word);
  if (near) fprintf(stderr, "; did you mean %s?", near);
  fputs("\n", stderr);
  arena_free(arena);
  return EXIT_UNREADABLE;
}
