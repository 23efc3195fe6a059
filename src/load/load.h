/* A build and the entries of the library it reaches, typed. */
#ifndef SHEAF_LOAD_LOAD_H
#define SHEAF_LOAD_LOAD_H

#include "base/text.h"
#include "diag/finding.h"
#include "model/entry.h"
#include "model/node.h"

/* Where texts come from. */
typedef struct LoadSource {
  void *context;
  /* The whole file, or NULL when it is not there. Reports other troubles itself and answers NULL.
   */
  const char *(*text)(void *context, Run *run, const char *path, size_t *size);
  Node *(*nodes)(Run *run, const char *path, const char *text, size_t size);
  /* Ids a folder offers, for "did you mean". */
  void (*ids)(void *context, Run *run, const char *folder, Words *out);
  /* Why the file FOLDER/ID.yaml is not found though something like it is there, with what to do;
   * NULL: nothing like it. May be NULL. */
  const char *(*beside)(void *context, Run *run, const char *folder, const char *id);
  Words libraries; /* folders, first wins */
} LoadSource;

/* Reads the build and every entry that is referenced from it, directly or not, each once.
 * NULL after a finding when the build itself cannot be read or is no build. */
Library *load_build(Run *run, const LoadSource *source, const char *build_path);

/* One entry, nothing it refers to (its Refs keep id and place, entry NULL). NULL after a
 * finding. */
Entry *load_entry(Run *run, const LoadSource *source, EntryKind kind, const char *id);

/* SHA-256 over kind, id and bytes of every entry used, the build included (all) or not
 * (library_part); paths are no part of it, nor is the name of the build's file. 64
 * hexadecimal digits. */
void load_revision(Run *run, const Library *library, const char **all, const char **library_part);

/* What may be written, from the same tables that read it: a JSON schema (draft-07) for editors,
 * with the library's ids as the words a reference may hold, and the reference page. */
void load_schema_json(Text *out, const Words ids[ENTRY_KIND_COUNT]);
void load_reference_markdown(Text *out);

#endif
