/* Small phrases that the findings of resolve share. */
#include "resolve/context.h"

#include "base/near.h"

const char *resolve_suggest(Run *run, Finding *finding, const char *word, const Words *candidates) {
  const char *near = near_word(word, candidates);
  if (near) {
    finding_way_out(run, finding, "did you mean %s?", near);
  } else if (candidates->n && candidates->n <= 12) {
    finding_way_out(run, finding, "known here: %s", resolve_listing(run->arena, candidates));
  }
  return near && near_slip(word, near) ? near : NULL;
}

const char *resolve_whose(Arena *arena, const Entry *entry, const char *page) {
  if (entry->kind == ENTRY_BUILD) return "the build";
  const char *name = entry->name.s ? entry->name.s : entry->id;
  return arena_printf(arena, "%s (%s)", name, source_print(arena, entry, page));
}

const char *resolve_listing(Arena *arena, const Words *words) {
  Text text = text_new(arena);
  for (size_t i = 0; i < words->n; i++) {
    if (i) text_add(&text, i + 1 == words->n ? " and " : ", ");
    text_add(&text, words->at[i]);
  }
  return text_done(&text);
}
