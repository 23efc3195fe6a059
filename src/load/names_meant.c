/* What was meant by a misspelt name: told once however often it stands there, and read on as
 * what was meant, so that one slip is one finding. */
#include "load/names.h"

#include "base/near.h"

#include <string.h>

#define TOLD_MOST 100 /* a nearest word costs; hundreds of unknown names are no slips */

static const char *const kind_words[NAME_KIND_COUNT] = {
#define NAME(id, what) what,
    NAME_KINDS(NAME)
#undef NAME
};

/* Uses of one misspelt word. */
typedef struct Slip {
  NameKind kind;
  const char *of, *word;
  VEC(size_t) uses;
  Named *meant; /* or NULL */
} Slip;
typedef VEC(Slip *) Slips;

const char *name_near(const char *word, const Words *words) {
  const char *near = near_word(word, words);
  return near && near_slip(word, near) ? near : NULL;
}

Finding *name_told(Names *names, NameKind kind, Place at, const char *word, const char *meant) {
  if (names->told++ >= TOLD_MOST) return NULL;
  Run *run = names->loader->run;
  Rule rule = kind == NAME_STEP     ? RULE_UNKNOWN_STEP
              : kind == NAME_CHOSEN ? RULE_BAD_WORD
                                    : RULE_UNKNOWN_NAME;
  Finding *finding = finding_add(run, rule, at, "%s is no %s", word, kind_words[kind]);
  if (meant) finding_way_out(run, finding, "did you mean %s?", meant);
  return finding;
}

/* What stands there is taken for what was meant. */
static void take_as(Names *names, const Use *use, const char *meant) {
  if (strncmp(*use->text + use->from, use->word, use->n) != 0) return; /* changed already */
  *use->text = arena_printf(names->arena, "%.*s%s%s", (int)use->from, *use->text, meant,
                            *use->text + use->from + use->n);
}

/* A word compared with a part is looked for among the parts, by resolve. */
static bool is_elsewhere(const Names *names, const Use *use) {
  if (use->kind == NAME_FACT) return true;
  return use->kind == NAME_CHOSEN && !name_find(names, NAME_CHOICE, "", use->of);
}

static void gather(Names *names, Slips *slips) {
  Map *by = map_new(names->arena);
  for (size_t i = 0; i < names->uses.n; i++) {
    Use *use = &names->uses.at[i];
    if (is_elsewhere(names, use)) continue;
    Named *named = name_find(names, use->kind, use->of, use->word);
    if (named) {
      named->uses++;
      continue;
    }
    const char *key = arena_printf(names->arena, "%d/%s/%s", (int)use->kind, use->of, use->word);
    Slip *slip = map_find(by, key);
    if (!slip) {
      slip = ARENA_NEW(names->arena, Slip);
      *slip = (Slip){.kind = use->kind, .of = use->of, .word = use->word};
      map_put(by, key, slip);
      vec_push(names->arena, slips, slip);
    }
    vec_push(names->arena, &slip->uses, i);
  }
}

static void look_for_meant(Names *names, Slip *slip) {
  const char *near = name_near(slip->word, &names_of(names, slip->kind, slip->of)->words);
  slip->meant = near ? name_find(names, slip->kind, slip->of, near) : NULL;
  if (slip->meant) slip->meant->misses += slip->uses.n;
}

/* A loose part that nobody knows: whether it falls in anywhere could not be told. */
static void tell_loose(Names *names, const Slip *slip, Place at) {
  if (names_of(names, NAME_LOOSE, "")->words.n <= 1) return; /* "all" */
  Finding *finding = name_told(names, slip->kind, at, slip->word, NULL);
  if (finding)
    finding_way_out(names->loader->run, finding,
                    "name it under loose: of the engine, or under swallows: of an opening");
}

/* Nobody uses the name as it is declared: there it is misspelt. */
static void tell_declared(Names *names, const Slip *slip, Place first) {
  Named *named = slip->meant;
  Finding *finding = name_told(names, slip->kind, named->at, named->word, slip->word);
  if (!finding) return;
  finding->text = arena_printf(names->arena, "%s is declared here; all that name it write %s",
                               named->word, slip->word);
  finding_note(names->loader->run, finding, first, "such as here");
  *named->text = slip->word;
}

static void tell_used(Names *names, const Slip *slip, Place first) {
  Run *run = names->loader->run;
  const Named *named = slip->meant;
  Finding *finding = name_told(names, slip->kind, first, slip->word, named->word);
  if (!finding) return;
  if (*slip->of) finding->text = arena_printf(names->arena, "%s %s", finding->text, slip->of);
  if (named->at.source && named->uses == 0)
    finding_note(run, finding, named->at, "%s is declared here", named->word);
  if (slip->uses.n > 1)
    finding_note(run, finding, names->uses.at[slip->uses.at[1]].at,
                 slip->uses.n == 2 ? "and here" : "and here, and elsewhere");
}

static void tell(Names *names, const Slip *slip) {
  Named *named = slip->meant;
  Place first = names->uses.at[slip->uses.at[0]].at;
  if (!named) {
    if (slip->kind == NAME_LOOSE) tell_loose(names, slip, first);
    return;
  }
  bool declared_wrong = named->at.source && named->uses == 0 && named->misses > 1;
  if (!text_is(named->taken_for, slip->word)) {
    if (declared_wrong)
      tell_declared(names, slip, first);
    else
      tell_used(names, slip, first);
    named->taken_for = slip->word;
  }
  for (size_t i = 0; i < slip->uses.n; i++)
    take_as(names, &names->uses.at[slip->uses.at[i]], *named->text);
}

/* A hold that no step is, near to one that is asked for elsewhere and that a step is. */
static void tell_holds(Names *names) {
  const NameList *holds = names_of(names, NAME_HOLD, "");
  Words used = {0};
  for (size_t i = 0; i < holds->list.n; i++)
    if (holds->list.at[i]->uses > 0) vec_push(names->arena, &used, holds->list.at[i]->word);
  for (size_t i = 0; i < holds->list.n; i++) {
    const Named *named = holds->list.at[i];
    const char *near = named->uses > 0 || named->misses > 0 ? NULL : name_near(named->word, &used);
    if (!near) continue;
    Finding *finding = name_told(names, NAME_HOLD, named->at, named->word, near);
    if (finding) finding->text = arena_printf(names->arena, "no step is the hold %s", named->word);
    *named->text = near;
  }
}

void names_as_meant(Loader *loader) {
  const Entry *build = loader->library->build;
  if (!build->is.build.engine.entry) return; /* nothing declares names */
  Arena *arena = loader->run->arena;
  Names names = {
      .loader = loader, .arena = arena, .declared = map_new(arena), .lists = map_new(arena)};
  const Library *library = loader->library;
  names_declare_language(&names);
  for (size_t i = 0; i < library->list.n; i++) names_declare(&names, library->list.at[i]);
  for (size_t i = 0; i < library->list.n; i++) names_meet(&names, library->list.at[i]);
  names_of_states(&names);
  Slips slips = {0};
  gather(&names, &slips);
  for (size_t i = 0; i < slips.n; i++) look_for_meant(&names, slips.at[i]);
  for (size_t i = 0; i < slips.n; i++) tell(&names, slips.at[i]);
  tell_holds(&names);
  names_of_values(&names);
  names_of_mates(&names);
}
