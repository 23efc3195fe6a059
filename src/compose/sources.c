/* Sheets by letter: a table that names whole sheets in every row is all line breaks. */
#include "compose/composer.h"

#include <string.h>

#define LETTERS 26

/* "Orrest 870 kit sheet 11, edition E, page 5" into the sheet and ", page 5". */
static const char *without_page(Composer *c, const Entry *entry, const char *page,
                                const char *whole) {
  const char *shown = page ? page : entry->source.page.s;
  if (!shown) return whole;
  const char *tails[] = {arena_printf(c->arena, ", page %s", shown),
                         arena_printf(c->arena, ", %s", shown)};
  for (size_t i = 0; i < sizeof tails / sizeof *tails; i++) {
    size_t n = strlen(whole), tail = strlen(tails[i]);
    if (n > tail && text_is(whole + n - tail, tails[i]))
      return arena_text(c->arena, whole, n - tail);
  }
  return whole;
}

const char *sheet_print(Composer *c, const Entry *entry) {
  return without_page(c, entry, NULL, source_print(c->arena, entry, NULL));
}

/* "a" to "z", then "a2" and on. */
static const char *letter(Composer *c, size_t index) {
  size_t round = index / LETTERS;
  char of = (char)('a' + index % LETTERS);
  return round ? arena_printf(c->arena, "%c%zu", of, round + 1) : arena_printf(c->arena, "%c", of);
}

const char *source_by_letter(Composer *c, Words *sheets, const Entry *entry, const char *page) {
  if (entry->kind == ENTRY_BUILD) return "this build";
  const char *whole = source_print(c->arena, entry, page);
  const char *sheet = without_page(c, entry, page, whole);
  size_t index = 0;
  while (index < sheets->n && !text_is(sheets->at[index], sheet)) index++;
  if (index == sheets->n) vec_push(c->arena, sheets, sheet);
  return arena_printf(c->arena, "%s%s", letter(c, index), whole + strlen(sheet));
}

void add_sources(Composer *c, const Words *sheets) {
  if (!sheets->n) return;
  Text text = text_new(c->arena);
  for (size_t i = 0; i < sheets->n; i++)
    text_addf(&text, "%s%s: %s", i ? "; " : "Sheets: ", letter(c, i), sheets->at[i]);
  text_add(&text, ".");
  Block *block = block_add(c, BLOCK_TEXT);
  block->text = text_done(&text);
  block->small = true;
}
