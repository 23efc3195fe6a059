#include "model/entry.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

static const struct {
  const char *word, *folder;
} kinds[ENTRY_KIND_COUNT] = {
#define ENTRY(id, word, folder) {#word, folder},
    ENTRY_KINDS(ENTRY)
#undef ENTRY
};

bool said_names(const SaidList *list, const char *name) {
  for (size_t i = 0; i < list->n; i++) {
    const char *said = list->at[i].s;
    size_t n = 0;
    while (name[n] && said[n] == name[n] && said[n] != '[') n++;
    if (!name[n] && (!said[n] || said[n] == '[')) return true;
  }
  return false;
}

const char *entry_kind_word(EntryKind kind) {
  return kinds[kind].word;
}

const char *entry_kind_folder(EntryKind kind) {
  return kinds[kind].folder;
}

#define KEY_MOST 200 /* characters of kind and id; load takes no longer id */

Entry *library_find(const Library *library, EntryKind kind, const char *id) {
  char key[KEY_MOST];
  if (!id) return NULL;
  int length = snprintf(key, sizeof key, "%s/%s", kinds[kind].word, id);
  if (length < 0 || (size_t)length >= sizeof key) return NULL;
  return map_find(library->by_key, key);
}

const char *source_print(Arena *arena, const Entry *entry, const char *page) {
  const SheetSource *source = &entry->source;
  if (entry->kind == ENTRY_BUILD) return "this build";
  if (source->practice || (entry->kind == ENTRY_PRACTICE && !source->sheet.s && !source->maker.s)) {
    return "common practice, no source";
  }
  Text out = text_new(arena);
  bool named = source->sheet.s && source->maker.s && text_starts(source->sheet.s, source->maker.s);
  if (source->maker.s && !named) text_add(&out, source->maker.s);
  if (source->sheet.s) text_addf(&out, "%s%s", out.n > 0 ? " " : "", source->sheet.s);
  if (out.n == 0) text_add(&out, "no source");
  if (source->edition.s) text_addf(&out, ", edition %s", source->edition.s);
  const char *shown = page ? page : source->page.s;
  bool number = shown && shown[0] >= '0' && shown[0] <= '9';
  if (shown) text_addf(&out, ", %s%s", number ? "page " : "", shown);
  return text_done(&out);
}

bool gauge_is_go(const Gauge *gauge) {
  return gauge && text_is(gauge->reading.s, "go");
}

bool part_fills(const Entry *part, const char *role) {
  for (size_t i = 0; i < part->is.part.role.n; i++)
    if (text_is(part->is.part.role.at[i].s, role)) return true;
  return false;
}
