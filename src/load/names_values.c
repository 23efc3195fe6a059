/* Names that two sides agree on, where neither declares them for the other: values that
 * formulas ask of sheets, mates that two sheets share, states that steps make and need. */
#include "load/names.h"

#include "base/near.h"

#include <string.h>

/* ---- values: a sheet gives what no formula asks for, and lacks what one asks for ---- */

/* Asked for by the program itself. */
static const char *const own_asks[] = {"hot_rise"};

/* Where a value is asked for first. */
typedef struct Asked {
  Words words;
  VEC(const Use *) first;
} Asked;

/* The place meant before the dot, where that is misspelt too. */
static const char *place_meant(const Names *names, const char *place) {
  if (name_find(names, NAME_PLACE, "", place)) return place;
  const char *near = name_near(place, &names_of(names, NAME_PLACE, "")->words);
  return near ? near : place;
}

static Asked asked_of(const Names *names, const char *role) {
  Asked asked = {0};
  for (size_t i = 0; i < names->uses.n; i++) {
    const Use *use = &names->uses.at[i];
    if (use->kind != NAME_FACT || text_has(&asked.words, use->word)) continue;
    if (!text_is(use->of, role)) continue;
    vec_push(names->arena, &asked.words, use->word);
    vec_push(names->arena, &asked.first, use);
  }
  return asked;
}

static bool gives(const ValueDecls *values, const char *word) {
  for (size_t i = 0; i < values->n; i++)
    if (text_is(values->at[i]->name, word)) return true;
  return false;
}

/* How many sheets of that role give it. */
static size_t givers(const Names *names, const char *role, const char *word) {
  const Library *library = names->loader->library;
  size_t n = 0;
  for (size_t i = 0; i < library->list.n; i++) {
    const Entry *entry = library->list.at[i];
    if (entry->kind != ENTRY_PART) continue;
    for (size_t j = 0; j < entry->is.part.role.n; j++)
      if (text_is(entry->is.part.role.at[j].s, role)) n += gives(&entry->is.part.values, word);
  }
  return n;
}

/* Is the word a value of parts in other places too? */
static bool is_known_elsewhere(const Names *names, const char *role, const char *word) {
  const Library *library = names->loader->library;
  for (size_t i = 0; i < library->list.n; i++) {
    const Entry *entry = library->list.at[i];
    if (entry->kind != ENTRY_PART || !gives(&entry->is.part.values, word)) continue;
    for (size_t j = 0; j < entry->is.part.role.n; j++)
      if (!text_is(entry->is.part.role.at[j].s, role)) return true;
  }
  for (size_t i = 0; i < names->uses.n; i++) {
    const Use *use = &names->uses.at[i];
    if (use->kind == NAME_FACT && text_is(use->word, word) && !text_is(use->of, role)) return true;
  }
  return false;
}

/* Which of the libraries the file lies in; the first are somebody's own. */
static size_t library_of(const Names *names, Place at) {
  const Words *libraries = &names->loader->source->libraries;
  for (size_t i = 0; at.source && i < libraries->n; i++) {
    size_t n = strlen(libraries->at[i]);
    if (text_starts(at.source->path, libraries->at[i]) && at.source->path[n] == '/') return i;
  }
  return libraries->n;
}

static Place asked_at(const Asked *asked, const char *word) {
  for (size_t i = 0; i < asked->words.n; i++)
    if (text_is(asked->words.at[i], word)) return asked->first.at[i]->at;
  return (Place){0};
}

/* One sheet alone is rather wrong than the formula; of several the formula. So it is where the
 * sheet's word is one that others have too, and where the formula is of a library before. */
static bool is_formula_wrong(const Names *names, const char *role, const ValueDecl *given,
                             const Asked *asked, const char *near) {
  if (givers(names, role, given->name) > 1 && givers(names, role, near) == 0) return true;
  bool known = is_known_elsewhere(names, role, given->name);
  if (known != is_known_elsewhere(names, role, near)) return known;
  return library_of(names, asked_at(asked, near)) < library_of(names, given->at);
}

static void values_of_sheet(Names *names, const char *role, const Asked *asked,
                            const ValueDecls *values) {
  Words lacking = {0};
  for (size_t i = 0; i < asked->words.n; i++)
    if (!gives(values, asked->words.at[i])) vec_push(names->arena, &lacking, asked->words.at[i]);
  for (size_t i = 0; i < COUNT(own_asks); i++)
    if (!gives(values, own_asks[i])) vec_push(names->arena, &lacking, own_asks[i]);
  for (size_t i = 0; i < values->n; i++) {
    ValueDecl *decl = values->at[i];
    if (text_has(&asked->words, decl->name)) continue;
    const char *near = name_near(decl->name, &lacking);
    if (!near || is_formula_wrong(names, role, decl, asked, near)) continue;
    Finding *finding = name_told(names, NAME_FACT, decl->at, decl->name, near);
    if (!finding) return;
    finding->text = arena_printf(names->arena, "no formula asks for %s.%s", role, decl->name);
    for (size_t j = 0; j < asked->words.n; j++)
      if (text_is(asked->words.at[j], near))
        finding_note(names->loader->run, finding, asked->first.at[j]->at, "%s.%s is asked for",
                     role, near);
    decl->name = near;
  }
}

/* What no sheet of that role gives, with what most give by a near name. */
static void values_of_formulas(Names *names, const char *role, const Asked *asked) {
  const Library *library = names->loader->library;
  Words given = {0};
  for (size_t i = 0; i < library->list.n; i++) {
    const Entry *entry = library->list.at[i];
    const PartEntry *part = &entry->is.part;
    for (size_t j = 0; entry->kind == ENTRY_PART && j < part->role.n; j++)
      for (size_t k = 0; text_is(part->role.at[j].s, role) && k < part->values.n; k++)
        vec_push(names->arena, &given, part->values.at[k]->name);
  }
  const NameList *others = names_of(names, NAME_FACT, role);
  for (size_t i = 0; given.n > 0 && i < asked->words.n; i++) {
    const char *word = asked->words.at[i];
    if (text_has(&given, word) || text_has(&others->words, word)) continue;
    const char *near = name_near(word, &given);
    if (!near) continue;
    Finding *finding = name_told(names, NAME_FACT, asked->first.at[i]->at, word, near);
    if (!finding) return;
    finding->text = arena_printf(names->arena, "no sheet gives %s.%s", role, word);
    for (size_t j = 0; j < names->uses.n; j++) {
      Use *use = &names->uses.at[j];
      if (use->kind == NAME_FACT && text_is(use->word, word) && text_is(use->of, role))
        *use->text = near;
    }
  }
}

static void values_of_role(Names *names, const char *role) {
  const Library *library = names->loader->library;
  Asked asked = asked_of(names, role);
  for (size_t i = 0; i < library->list.n; i++) {
    const Entry *entry = library->list.at[i];
    if (entry->kind == ENTRY_ENGINE && text_is(role, "engine"))
      values_of_sheet(names, role, &asked, &entry->is.engine.values);
    for (size_t j = 0; entry->kind == ENTRY_ENGINE && j < entry->is.engine.roles.n; j++)
      if (text_is(entry->is.engine.roles.at[j].name, role))
        values_of_sheet(names, role, &asked, &entry->is.engine.roles.at[j].when_none);
    for (size_t j = 0; entry->kind == ENTRY_PART && j < entry->is.part.role.n; j++)
      if (text_is(entry->is.part.role.at[j].s, role))
        values_of_sheet(names, role, &asked, &entry->is.part.values);
  }
  values_of_formulas(names, role, &asked);
}

void names_of_values(Names *names) {
  for (size_t i = 0; i < names->uses.n; i++) {
    Use *use = &names->uses.at[i];
    if (use->kind == NAME_FACT) use->of = place_meant(names, use->of);
  }
  const NameList *roles = names_of(names, NAME_ROLE, "");
  for (size_t i = 0; i < roles->list.n; i++) values_of_role(names, roles->list.at[i]->word);
  values_of_role(names, "engine");
}

/* ---- mates ---- */

/* A name that one sheet alone has meets nothing; near to another such name, or to one that
 * others share, it is a slip. */
void names_of_mates(Names *names) {
  const Library *library = names->loader->library;
  NameList met = {0};
  Map *by = map_new(names->arena);
  for (size_t i = 0; i < library->list.n; i++) {
    Entry *entry = library->list.at[i];
    for (size_t j = 0; entry->kind == ENTRY_PART && j < entry->is.part.mates.n; j++) {
      Mate *mate = &entry->is.part.mates.at[j];
      Named *named = map_find(by, mate->name);
      if (!named) {
        named = ARENA_NEW(names->arena, Named);
        *named = (Named){.word = mate->name, .at = mate->at, .text = &mate->name};
        map_put(by, mate->name, named);
        vec_push(names->arena, &met.list, named);
      }
      named->uses++;
    }
  }
  for (size_t i = 0; i < met.list.n; i++) {
    Named *alone = met.list.at[i];
    if (alone->uses > 1) continue;
    Words others = {0};
    for (size_t j = 0; j < met.list.n; j++)
      if (j != i) vec_push(names->arena, &others, met.list.at[j]->word);
    const char *near = name_near(alone->word, &others);
    if (!near) continue;
    Named *other = map_find(by, near);
    Finding *finding = name_told(names, NAME_NONE, alone->at, alone->word, near);
    if (!finding) return;
    finding->text =
        arena_printf(names->arena, "no other part of this build meets by %s", alone->word);
    finding_note(names->loader->run, finding, other->at, "%s is named here", near);
    *alone->text = near;
    alone->uses = other->uses = 2; /* one slip of the pair is told */
  }
}

/* ---- states ---- */

/* "clean base_joint": a word of the language and a face of the engine. */
static bool is_well_known(const Names *names, const char *state) {
  static const char *const plain[] = {"tdc", "pumped", "locked", "slack", "drained", "running"};
  static const char *const of_face[] = {"clean ", "dry ", "oiled "};
  for (size_t i = 0; i < COUNT(plain); i++)
    if (text_is(state, plain[i])) return true;
  for (size_t i = 0; i < COUNT(of_face); i++)
    if (text_starts(state, of_face[i]))
      return name_find(names, NAME_FACE, "", state + strlen(of_face[i])) != NULL;
  return false;
}

/* A state that nobody needs or ends, near to a well-known one: the step that makes it is
 * misspelt. */
/* "crank loked": one word of it is near to one that the order itself asks for. A thing in an
 * opening, "locker pin in cam_chest", has a name of its own. */
static const char *phrase_meant(const Names *names, const char *phrase, const Words *own) {
  if (strstr(phrase, " in ")) return NULL;
  for (const char *at = phrase; *at; at += strspn(at, " ")) {
    size_t n = strcspn(at, " ");
    const char *word = arena_text(names->arena, at, n), *near = name_near(word, own);
    if (text_has(own, word)) return NULL;
    if (near && !strstr(word, near)) /* "unlocked" is no slip of "locked" */
      return arena_printf(names->arena, "%.*s%s%s", (int)(at - phrase), phrase, near, at + n);
    at += n;
  }
  return NULL;
}

void names_of_states(Names *names) {
  const NameList *made = names_of(names, NAME_STATE, "");
  Words used = {0}, wanted = {0}, own = {0}; /* own: the order itself asks for them */
  for (size_t i = 0; i < names->uses.n; i++) {
    const Use *use = &names->uses.at[i];
    if (use->kind != NAME_STATE) continue;
    vec_push(names->arena, &used, use->word);
    if (is_well_known(names, use->word) || text_starts(use->word, "tdc ")) /* with its stroke */
      vec_push(names->arena, &wanted, use->word);
  }
  for (size_t i = 0; i < made->list.n; i++)
    if (!made->list.at[i]->at.source) vec_push(names->arena, &own, made->list.at[i]->word);
  size_t n = made->list.n; /* grows below */
  for (size_t i = 0; i < n; i++) {
    Named *named = made->list.at[i];
    if (!named->at.source || text_has(&used, named->word) || is_well_known(names, named->word))
      continue;
    const char *near = name_near(named->word, &wanted);
    if (!near) near = phrase_meant(names, named->word, &own);
    if (!near) continue;
    Finding *finding = name_told(names, NAME_NONE, named->at, named->word, near);
    if (!finding) return;
    finding->text = arena_printf(names->arena, "no step needs or ends '%s'", named->word);
    *named->text = near;
    Named *meant = arena_copy(names->arena, named, sizeof *named);
    meant->word = near;
    name_put(names, NAME_STATE, "", meant);
  }
}
