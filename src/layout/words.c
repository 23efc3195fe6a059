#include "layout/words.h"

#include "value/unit.h"

#include <string.h>

/* What leads to a step or a figure: its word, and what it reserves, the longest that a packet may
 * need. */
typedef struct Lead {
  const char *word, *longest;
} Lead;

static const Lead leads[] = {{"step", "step 999,"}, {"figure", "figure 99,"}};

#define ROOM_PAGE "page 99"

/* In a narrower cell a number may stand apart from its unit. */
#define LEAST_HOLDING MM(50)

/* Some text and what it takes. */
typedef struct Fitting {
  size_t bytes;
  int count;
  Um width;
} Fitting;

static bool parts_words(char c) {
  return is_space(c) || c == '\r';
}

static Atom *add_measured(Layout *layout, Atoms *atoms, Face face, const char *text,
                          const Fitting *fits) {
  Atom atom = {.text = text,
               .length = fits->bytes,
               .face = face,
               .count = fits->count,
               .width = fits->width,
               .room = fits->width};
  vec_push(layout->arena, atoms, atom);
  return &atoms->at[atoms->n - 1];
}

static Atom *add_atom(Layout *layout, Atoms *atoms, const Type *type, Face face, const char *text) {
  Fitting whole = {strlen(text), (int)utf8_count(text), face_width(face, type->size, text)};
  return add_measured(layout, atoms, face, text, &whole);
}

/* One piece of a reference, with the room of its longest form. */
static Atom *add_reserved(Layout *layout, Atoms *atoms, const Type *type, Face face,
                          const char *text, const char *longest, Reference to) {
  Atom *atom = add_atom(layout, atoms, type, face, text);
  Um room = face_width(face, type->size, longest);
  if (room > atom->room) atom->room = room;
  int count = (int)strlen(longest);
  if (count > atom->count) atom->count = count;
  atom->to = to.number;
  atom->figure = to.figure;
  return atom;
}

/* "step 12," and "page 4"; in a narrow cell each of the four words by itself.
 * A step that is nowhere has no page. */
static void add_reference(Layout *layout, Atoms *atoms, const Type *type, Face face, Reference to,
                          Um width, bool space) {
  Arena *arena = layout->arena;
  const Lead *lead = &leads[to.figure];
  const Spot *spot = to.figure ? find_figure(layout, to.number) : find_step(layout, to.number);
  const char *number = arena_printf(arena, spot || !layout->second ? "%d," : "%d", to.number);
  const char *page =
      spot ? arena_printf(arena, "%d", spot->page + 1) : (layout->second ? "" : "99");
  const char *page_word = layout->second && !spot ? "" : "page";
  if (!spot) to.number = 0;
  if (face_width(face, type->size, lead->longest) > width) {
    add_reserved(layout, atoms, type, face, lead->word, lead->word, to)->space = space;
    add_reserved(layout, atoms, type, face, number, "999,", to)->space = true;
    add_reserved(layout, atoms, type, face, page_word, "page", to)->space = true;
    add_reserved(layout, atoms, type, face, page, "99", to)->space = true;
    return;
  }
  const char *first = arena_printf(arena, "%s %s", lead->word, number);
  const char *last = *page ? arena_printf(arena, "page %s", page) : "";
  add_reserved(layout, atoms, type, face, first, lead->longest, to)->space = space;
  add_reserved(layout, atoms, type, face, last, ROOM_PAGE, to)->space = true;
}

/* As much of a text as fits; at least one character. */
static Fitting fitting(const Type *type, Face face, const char *text, size_t most_bytes, Um width) {
  int64_t most = (int64_t)width * 1000 / type->size, wide = 0;
  Fitting fits = {0};
  while (fits.bytes < most_bytes && fits.count < MOST_CHARACTERS) {
    size_t length;
    int advance = face_advance(face, utf8_next(text + fits.bytes, &length));
    int64_t wider = wide + (advance > 0 ? advance : 0);
    if (wider > most && fits.bytes > 0) break;
    wide = wider;
    fits.bytes += length;
    fits.count++;
  }
  fits.width = face_width_of(type->size, wide);
  return fits;
}

static void add_plain(Layout *layout, Atoms *atoms, const Type *type, Face face, const char *text,
                      size_t length, Um width, bool space) {
  bool cut = false;
  while (length > 0) {
    Fitting fits = fitting(type, face, text, length, width);
    Atom *atom = add_measured(layout, atoms, face, text, &fits);
    atom->space = space;
    atom->cut = cut;
    space = false;
    cut = true;
    text += fits.bytes;
    length -= fits.bytes;
  }
}

static bool leads_number(const char *word, size_t length) {
  static const char *const words[] = {"figure", "Figure", "step", "steps", "box", "page"};
  for (size_t i = 0; i < sizeof words / sizeof *words; i++)
    if (strlen(words[i]) == length && strncmp(words[i], word, length) == 0) return true;
  return false;
}

bool words_held(const char *word, size_t length, Um width) {
  const char *next = word + length + 1;
  if (width < LEAST_HOLDING || length == 0 || word[length] != ' ' || *next == '\0' ||
      parts_words(*next))
    return false;
  if (is_digit(*next)) return leads_number(word, length);
  size_t unit = 0;
  return is_digit(word[length - 1]) && unit_read(next, &unit) && !is_letter(next[unit]) &&
         !is_digit(next[unit]);
}

/* The text up to the next blank that may end a line, taken apart at its references. */
static size_t add_word(Layout *layout, Atoms *atoms, const Type *type, Face face, const char *text,
                       Um width, bool space) {
  size_t at = 0, from = 0, word = 0;
  while (text[at] != '\0') {
    if (parts_words(text[at])) {
      if (!words_held(text + word, at - word, width)) break;
      word = ++at;
      continue;
    }
    Reference to = {0};
    size_t length = text[at] == '{' ? reference_at(text + at, &to) : 0;
    if (length == 0) {
      at++;
      continue;
    }
    add_plain(layout, atoms, type, face, text + from, at - from, width, space);
    add_reference(layout, atoms, type, face, to, width, space && at == from);
    space = false;
    at += length;
    from = at;
  }
  add_plain(layout, atoms, type, face, text + from, at - from, width, space);
  return at;
}

void words_add(Layout *layout, Atoms *atoms, const Type *type, Face face, const char *text,
               Um width) {
  text = text_clean(layout, face, text);
  bool fresh = false;
  while (*text != '\0') {
    if (parts_words(*text)) {
      fresh = fresh || *text == '\n';
      text++;
      continue;
    }
    size_t first = atoms->n;
    text += add_word(layout, atoms, type, face, text, width, true);
    if (atoms->n > first) atoms->at[first].fresh = fresh && first > 0;
    fresh = false;
  }
}
