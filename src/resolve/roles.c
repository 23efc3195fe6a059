/* Which part fills which place of the engine, and the choices of the build. */
#include "resolve/context.h"

#include "base/near.h"

#define MOST_OFFERED  4
#define MOST_SEARCHED 1000

static const PartChoice *chosen(const Resolver *r, const char *role) {
  for (size_t i = 0; i < r->job->build->parts.n; i++)
    if (text_is(r->job->build->parts.at[i].role, role)) return &r->job->build->parts.at[i];
  return NULL;
}

static void wrong_role(Resolver *r, const Role *role, const Entry *part, const Place *at) {
  Words made_for = {0};
  for (size_t i = 0; i < part->is.part.role.n; i++)
    if (part->is.part.role.at[i].s) vec_push(r->arena, &made_for, part->is.part.role.at[i].s);
  Finding *finding =
      finding_add(r->run, RULE_WRONG_ROLE, *at, "%s is chosen as the %s; its sheet says %s",
                  part->name.s ? part->name.s : part->id, role->name,
                  made_for.n ? resolve_listing(r->arena, &made_for) : "no role");
  finding_subject(finding, role->name);
  if (part->is.part.role.n)
    finding_note(r->run, finding, part->is.part.role.at[0].at, "the role its sheet gives");
  finding_way_out(r->run, finding, "choose a part made for %s", role->name);
}

/* The build gives the part under a name that is near and no place of the engine, or its
 * parts could not be read at all: that is reported. */
static bool is_misspelt(const Resolver *r, const char *role) {
  const BuildEntry *build = r->job->build;
  Words roles = {0};
  for (size_t i = 0; i < r->job->engine->roles.n; i++)
    vec_push(r->arena, &roles, r->job->engine->roles.at[i].name);
  for (size_t i = 0; i < build->parts.n; i++) {
    const char *said = build->parts.at[i].role;
    if (!text_has(&roles, said) && text_is(near_word(said, &roles), role)) return true;
  }
  for (size_t i = 0; i < r->run->findings->list.n && !build->parts.n; i++) {
    const Finding *finding = r->run->findings->list.at[i];
    if (finding->at.source == r->job->build_entry->file && finding->rule == RULE_WRONG_TYPE)
      return true;
  }
  return false;
}

/* The library's parts that may fill it, read once for all roles; a library of more than
 * MOST_SEARCHED is not. */
static const char *fillers(Resolver *r, const Role *role) {
  const Library *library = r->job->library;
  const Words *ids = library->ids ? library->ids(library->asked, ENTRY_PART) : NULL;
  if (!ids || ids->n > MOST_SEARCHED) return NULL;
  for (size_t i = 0; i < ids->n && r->all_parts.n < ids->n; i++)
    vec_push(r->arena, &r->all_parts, library->look(library->asked, ENTRY_PART, ids->at[i]));
  Text names = text_new(r->arena);
  size_t count = 0;
  for (size_t i = 0; i < r->all_parts.n; i++) {
    const Entry *part = r->all_parts.at[i];
    if (!part || !part_fills(part, role->name)) continue;
    if (count < MOST_OFFERED) text_addf(&names, "%s%s", count ? ", " : "", part->id);
    count++;
  }
  if (count == 0) return NULL;
  if (count > MOST_OFFERED) text_addf(&names, " and %zu more", count - MOST_OFFERED);
  return text_done(&names);
}

static void unfilled(Resolver *r, const Role *role, const char *what) {
  Finding *finding = finding_add(r->run, RULE_ROLE_UNFILLED, role->at, "%s %s", role->label, what);
  finding_subject(finding, role->name);
  finding_note(r->run, finding, role->decl->at, "the engine's place for it");
  const char *parts = fillers(r, role);
  finding_way_out(r->run, finding, "name a part under `parts: {%s: ...}`%s%s%s", role->name,
                  role->decl->optional ? ", or `none`" : "", parts ? "; the library has " : "",
                  parts ? parts : "");
}

static void fill(Resolver *r, Role *role, const Ref *ref) {
  if (text_is(ref->id, "none")) {
    role->none = role->decl->optional;
    if (!role->none) unfilled(r, role, "is chosen to be none, and the engine needs one");
    return;
  }
  if (!ref->entry) return; /* reported by load */
  if (ref->entry->kind != ENTRY_PART) return;
  if (!part_fills(ref->entry, role->name)) {
    wrong_role(r, role, ref->entry, &role->at);
    return;
  }
  role->part = ref->entry;
}

static const Set *role_set(Resolver *r, const Said *per) {
  if (!per->s) return NULL;
  const Set *set = job_set(r->job, per->s);
  if (set) return set;
  Finding *finding =
      finding_add(r->run, RULE_UNKNOWN_NAME, per->at, "the engine has no set %s", per->s);
  Words names = job_set_names(r->arena, r->job);
  resolve_suggest(r->run, finding, per->s, &names);
  return NULL;
}

/* The parts that stand behind the one that is meant. */
static void check_offered(Resolver *r, const Role *role, const PartChoice *choice) {
  for (size_t i = 1; i < choice->offered.n; i++) {
    const Ref *other = &choice->offered.at[i];
    if (!other->entry || other->entry->kind != ENTRY_PART) continue; /* reported */
    if (!part_fills(other->entry, role->name)) wrong_role(r, role, other->entry, &other->at);
  }
}

static void declare(Resolver *r, const RoleDecl *decl) {
  Role *role = ARENA_NEW(r->arena, Role);
  role->name = decl->name;
  role->label = decl->label.s ? decl->label.s : text_title(r->arena, decl->name);
  role->decl = decl;
  role->per = role_set(r, &decl->per);
  vec_push(r->arena, &r->job->roles, role);
  const PartChoice *choice = chosen(r, decl->name);
  if (choice) {
    role->at = choice->part.id ? choice->part.at : choice->at;
    fill(r, role, &choice->part);
    check_offered(r, role, choice);
  } else if (decl->part.id) {
    role->at = decl->part.at;
    fill(r, role, &decl->part);
  } else {
    const Place *parts = &r->job->build->parts_at;
    role->at = parts->line > 0 ? *parts : r->job->build_entry->at;
    if (is_misspelt(r, decl->name)) return;
    unfilled(r, role, "is not chosen, and the engine brings none of its own");
  }
}

void resolve_roles(Resolver *r) {
  static const RoleDecl engine_decl = {.name = "engine"};
  Role *engine = ARENA_NEW(r->arena, Role);
  engine->name = "engine";
  engine->label = "Engine";
  engine->decl = &engine_decl;
  engine->part = r->job->build->engine.entry;
  engine->at = r->job->build->engine.at;
  r->engine_role = engine;
  for (size_t i = 0; i < r->job->engine->roles.n; i++) declare(r, &r->job->engine->roles.at[i]);
  for (size_t i = 0; i < r->job->build->parts.n; i++) {
    const PartChoice *choice = &r->job->build->parts.at[i];
    if (job_role(r->job, choice->role)) continue;
    Finding *finding = finding_add(
        r->run, RULE_UNKNOWN_NAME, choice->at, "%s has no place for a %s",
        r->job->engine_entry->name.s ? r->job->engine_entry->name.s : "the engine", choice->role);
    Words names = job_role_names(r->arena, r->job);
    resolve_suggest(r->run, finding, choice->role, &names);
  }
}

const ChoiceDecl *choice_find(const Resolver *r, const char *name) {
  for (size_t i = 0; i < r->job->engine->choices.n; i++)
    if (text_is(r->job->engine->choices.at[i].name, name)) return &r->job->engine->choices.at[i];
  return NULL;
}

static const ChoiceMade *choice_made(const Resolver *r, const char *name) {
  for (size_t i = 0; i < r->job->build->choices.n; i++)
    if (text_is(r->job->build->choices.at[i].name, name)) return &r->job->build->choices.at[i];
  return NULL;
}

static void choice_words(Resolver *r, const ChoiceDecl *decl, Words *out) {
  for (size_t i = 0; i < decl->words.n; i++)
    if (decl->words.at[i].s) vec_push(r->arena, out, decl->words.at[i].s);
}

const char *choice_word(const Resolver *r, const char *name) {
  const ChoiceDecl *decl = choice_find(r, name);
  const ChoiceMade *made = choice_made(r, name);
  if (!decl || !made || !made->word.s) return NULL;
  for (size_t i = 0; i < decl->words.n; i++)
    if (text_is(decl->words.at[i].s, made->word.s)) return made->word.s;
  return NULL;
}

/* Made under a name that is near and no choice of the engine: that is reported. */
static bool is_chosen_misspelt(const Resolver *r, const char *choice, const Words *names) {
  const BuildEntry *build = r->job->build;
  for (size_t i = 0; i < build->choices.n; i++) {
    const char *said = build->choices.at[i].name;
    if (!text_has(names, said) && text_is(near_word(said, names), choice)) return true;
  }
  return false;
}

void resolve_choices(Resolver *r) {
  const BuildEntry *build = r->job->build;
  Words names = {0};
  for (size_t i = 0; i < r->job->engine->choices.n; i++)
    vec_push(r->arena, &names, r->job->engine->choices.at[i].name);
  for (size_t i = 0; i < build->choices.n; i++) {
    const ChoiceMade *made = &build->choices.at[i];
    const ChoiceDecl *decl = choice_find(r, made->name);
    if (!decl) {
      Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, made->at,
                                     "the engine offers no choice of %s", made->name);
      resolve_suggest(r->run, finding, made->name, &names);
    } else if (made->word.s && !choice_word(r, made->name)) {
      Words words = {0};
      choice_words(r, decl, &words);
      Finding *finding = finding_add(r->run, RULE_BAD_WORD, made->word.at, "%s is %s, none of %s",
                                     made->name, made->word.s, resolve_listing(r->arena, &words));
      resolve_suggest(r->run, finding, made->word.s, &words);
    }
  }
  for (size_t i = 0; i < r->job->engine->choices.n; i++) {
    const ChoiceDecl *decl = &r->job->engine->choices.at[i];
    if (choice_made(r, decl->name) || is_chosen_misspelt(r, decl->name, &names)) continue;
    Words words = {0};
    choice_words(r, decl, &words);
    Finding *finding = finding_add(r->run, RULE_MISSING_KEY, r->job->build_entry->at,
                                   "the build does not choose %s", decl->name);
    finding_note(r->run, finding, decl->at, "the engine asks for it here");
    finding_way_out(r->run, finding, "add `choices: {%s: ...}` with one of %s", decl->name,
                    resolve_listing(r->arena, &words));
  }
}
