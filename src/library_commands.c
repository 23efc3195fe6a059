/* The commands that look at the library without a build: list and start. */
#include "commands.h"

#include "compile.h"
#include "draw/output.h"
#include "diag/render.h"
#include "files.h"
#include "library_describe.h"
#include "library_ids.h"

#include "base/map.h"
#include "base/near.h"
#include "base/text.h"

#include <stdio.h>
#include <string.h>
#include <ctype.h>

static bool has_word(const char *text, const char *word) {
  size_t n = strlen(word);
  for (; text && *text; text++) {
    size_t i = 0;
    while (i < n && text[i] && tolower((unsigned char)text[i]) == tolower((unsigned char)word[i]))
      i++;
    if (i == n) return true;
  }
  return false;
}

Words library_ids(Run *run, const Words *libraries, EntryKind kind) {
  Words ids = {0};
  Map *seen = map_new(run->arena);
  for (size_t i = 0; i < libraries->n; i++) {
    Words here = {0};
    folder_ids(run, arena_printf(run->arena, "%s/%s", libraries->at[i], entry_kind_folder(kind)),
               &here);
    for (size_t j = 0; j < here.n; j++) {
      if (map_find(seen, here.at[j])) continue;
      map_put(seen, here.at[j], seen);
      vec_push(run->arena, &ids, here.at[j]);
    }
  }
  return ids;
}

#define TOLD_MOST 1000 /* findings: enough to see that a folder is no library */

/* Read in memory of its own: a library may hold any number. What is wrong with it is told. Answers
 * whether it was listed. */
static bool list_entry(Run *run, const LoadSource *source, EntryKind kind, const char *id,
                       const char *word) {
  Run own = {.arena = arena_new()};
  own.findings = findings_new(own.arena);
  const Entry *entry = load_entry(&own, source, kind, id);
  if (own.findings->list.n > 0 && run->findings->list.n < TOLD_MOST)
    load_entry(run, source, kind, id);
  bool listed = entry && (!word || has_word(entry->id, word) || has_word(entry->name.s, word));
  if (listed)
    printf("%-12s %-28s %s\n", entry_kind_word(kind), entry->id,
           entry->name.s ? entry->name.s : "");
  if (listed && word && text_is(word, entry->id)) {
    Text more = text_new(own.arena);
    library_describe(&more, entry);
    fputs(text_done(&more), stdout);
  }
  arena_free(own.arena);
  return listed;
}

/* How many were listed. */
static size_t list_kind(Run *run, const Command *command, EntryKind kind, const char *word) {
  Request request = {.libraries = command->libraries};
  LoadSource source = disk_source(&request);
  Words ids = library_ids(run, &command->libraries, kind);
  size_t listed = 0;
  for (size_t i = 0; i < ids.n; i++) listed += list_entry(run, &source, kind, ids.at[i], word);
  return listed;
}

static bool kind_by_word(const char *word, EntryKind *kind) {
  for (int i = 0; i < ENTRY_KIND_COUNT; i++) {
    const char *folder = strrchr(entry_kind_folder((EntryKind)i), '/') + 1; /* "parts" */
    if (!text_is(word, entry_kind_word((EntryKind)i)) && !text_is(word, folder)) continue;
    *kind = (EntryKind)i;
    return true;
  }
  return false;
}

static int show_and_free(Run *run, int status) {
  Text out = text_new(run->arena);
  findings_sort(run->findings);
  render_findings(&out, run->findings, 0);
  fputs(text_done(&out), stderr);
  if (status == EXIT_DONE && findings_refuse(run->findings)) status = EXIT_REFUSED;
  arena_free(run->arena);
  return status;
}

/* Ids, and the words they are made of: "gasket" of head_gasket_060. */
static void add_id_words(Run *run, const Command *command, EntryKind kind, Words *words) {
  Words ids = library_ids(run, &command->libraries, kind);
  for (size_t i = 0; i < ids.n; i++) {
    vec_push(run->arena, words, ids.at[i]);
    for (const char *at = ids.at[i]; *at; at += strspn(at, "_-.")) {
      size_t length = strcspn(at, "_-.");
      vec_push(run->arena, words, arena_text(run->arena, at, length));
      at += length;
    }
  }
}

/* kind: that alone was looked through; NULL: all. */
static void say_not_listed(Run *run, const Command *command, const char *word, const char *kind) {
  Words words = {0};
  for (int i = 0; i < ENTRY_KIND_COUNT; i++)
    if (!kind) vec_push(run->arena, &words, entry_kind_word((EntryKind)i));
  for (int i = 0; i < ENTRY_KIND_COUNT; i++)
    if (!kind || text_is(kind, entry_kind_word((EntryKind)i)))
      add_id_words(run, command, (EntryKind)i, &words);
  const char *near = near_word(word, &words);
  fprintf(stderr, "sheaf: no %s is called %s%s%s%s\n",
          kind ? kind : "kind of entry and no entry of the library", word,
          near ? "; did you mean " : "", near ? near : "",
          near   ? "?"
          : kind ? arena_printf(run->arena, "; `sheaf list %s` shows them", kind)
                 : "; `sheaf list` shows everything");
}

int command_list(const Command *command) {
  Arena *arena = arena_new();
  Run run = {arena, findings_new(arena)};
  const char *first = command->words.n ? command->words.at[0] : NULL;
  EntryKind kind;
  bool one = first && kind_by_word(first, &kind);
  const char *word = one ? (command->words.n > 1 ? command->words.at[1] : NULL) : first;
  size_t listed = 0;
  for (int i = 0; i < ENTRY_KIND_COUNT; i++)
    if (!one || (EntryKind)i == kind) listed += list_kind(&run, command, (EntryKind)i, word);
  if (word && listed == 0) say_not_listed(&run, command, word, one ? entry_kind_word(kind) : NULL);
  return show_and_free(&run, word && listed == 0 ? EXIT_UNREADABLE : EXIT_DONE);
}

/* The first line may name the schema for editors by a way that holds in the library only. */
static const char *without_modeline(const char *text, size_t *size) {
  if (!text_starts(text, "# yaml-language-server:")) return text;
  size_t line = strcspn(text, "\n");
  line += text[line] == '\n';
  *size -= line;
  return text + line;
}

int command_start(const Command *command) {
  Arena *arena = arena_new();
  Run run = {arena, findings_new(arena)};
  const char *starter = command->words.at[0], *path = command->words.at[1];
  const char *text = NULL;
  size_t size = 0;
  for (size_t i = 0; i < command->libraries.n && !text; i++) {
    const char *from = arena_printf(arena, "%s/%s/%s.yaml", command->libraries.at[i],
                                    entry_kind_folder(ENTRY_BUILD), starter);
    if (strchr(starter, '/') || file_read(&run, from, &text, &size) != FILE_READ) text = NULL;
  }
  int status = EXIT_DONE;
  const char *old;
  size_t old_size;
  if (!text) {
    Words ids = library_ids(&run, &command->libraries, ENTRY_BUILD);
    const char *near = near_word(starter, &ids);
    fprintf(stderr, "sheaf: no starter is called %s%s%s%s\n", starter,
            near ? "; did you mean " : "", near ? near : "",
            near ? "?" : "; `sheaf list build` shows them");
    status = EXIT_UNREADABLE;
  } else if (file_read(&run, path, &old, &old_size) != FILE_ABSENT) {
    fprintf(stderr, "sheaf: %s is there already and stays as it is\n", path);
    status = EXIT_UNWRITTEN;
  } else {
    text = without_modeline(text, &size);
    const char *trouble = output_write(arena, path, text, size);
    if (trouble)
      fprintf(stderr, "sheaf: %s\n", trouble);
    else
      printf("%s: change the job, the machine and the parts, then: sheaf check %s\n", path, path);
    status = trouble ? EXIT_UNWRITTEN : EXIT_DONE;
  }
  return show_and_free(&run, status);
}
