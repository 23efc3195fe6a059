/* What a packet was made from, as two numbers that change with any byte of it. */
#include "load/load.h"

#include "base/digest.h"

#include <string.h>

/* A build's id is the name of its file, and a build that was printed is kept under
 * another name: its revision must stay what stands on its pages. */
static void add_entry(Digest *digest, const Entry *entry) {
  const char *kind = entry_kind_word(entry->kind);
  digest_add(digest, kind, strlen(kind));
  if (entry->kind != ENTRY_BUILD) digest_add(digest, entry->id, strlen(entry->id));
  digest_add(digest, entry->file->text, entry->file->size);
}

void load_revision(Run *run, const Library *library, const char **all, const char **library_part) {
  Digest *part = digest_new(run->arena);
  for (size_t i = 0; i < library->list.n; i++) { /* in order of kind, then id: the build is last */
    const Entry *entry = library->list.at[i];
    if (entry != library->build) add_entry(part, entry);
  }
  Digest *whole = digest_copy(part);
  if (library->build) add_entry(whole, library->build);
  *all = digest_hex(whole);
  *library_part = digest_hex(part);
}
