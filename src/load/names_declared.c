/* The names that entries declare, and those the language brings along. */
#include "load/names.h"

#include <string.h>

/* Maps copy their keys: one that is looked up is made in a room of its own. */
typedef struct Key {
  char room[96];
} Key;

/* "kind/of/word", without a word "kind/of". */
static const char *key_of(const Names *names, Key *key, NameKind kind, const char *of,
                          const char *word) {
  size_t of_n = strlen(of), word_n = word ? strlen(word) : 0, n = 0;
  size_t size = of_n + word_n + 4;
  char *text = size <= sizeof key->room ? key->room : arena_alloc(names->arena, size);
  text[n++] = (char)('A' + kind);
  text[n++] = '/';
  memcpy(text + n, of, of_n);
  n += of_n;
  if (word) {
    text[n++] = '/';
    memcpy(text + n, word, word_n);
    n += word_n;
  }
  text[n] = '\0';
  return text;
}

Named *name_find(const Names *names, NameKind kind, const char *of, const char *word) {
  Key key;
  return map_find(names->declared, key_of(names, &key, kind, of, word));
}

static NameList *find_list(const Names *names, NameKind kind, const char *of) {
  Key key;
  return map_find(names->lists, key_of(names, &key, kind, of, NULL));
}

const NameList *names_of(const Names *names, NameKind kind, const char *of) {
  static const NameList none = {0};
  const NameList *list = find_list(names, kind, of);
  return list ? list : &none;
}

void name_put(Names *names, NameKind kind, const char *of, Named *named) {
  Key key;
  if (name_find(names, kind, of, named->word)) return;
  map_put(names->declared, key_of(names, &key, kind, of, named->word), named);
  NameList *list = find_list(names, kind, of);
  if (!list) {
    list = ARENA_NEW(names->arena, NameList);
    map_put(names->lists, key_of(names, &key, kind, of, NULL), list);
  }
  vec_push(names->arena, &list->list, named);
  vec_push(names->arena, &list->words, named->word);
}

/* One name under several kinds. */
static void add_as(Names *names, const NameKind *kinds, size_t n, const char *of, const char **text,
                   Place at) {
  if (!*text) return;
  Named *named = ARENA_NEW(names->arena, Named);
  *named = (Named){.word = *text, .at = at, .text = text};
  for (size_t i = 0; i < n; i++) name_put(names, kinds[i], of, named);
}

static void add(Names *names, NameKind kind, const char *of, const char **text, Place at) {
  add_as(names, &kind, 1, of, text, at);
}

static void add_all(Names *names, NameKind kind, const char *of, const SaidList *list) {
  for (size_t i = 0; i < list->n; i++) add(names, kind, of, &list->at[i].s, list->at[i].at);
}

static void add_joints(Names *names, const JointDecls *joints) {
  static const NameKind kinds[] = {NAME_JOINT, NAME_SETTLED, NAME_REACHED};
  for (size_t i = 0; i < joints->n; i++) {
    JointDecl *joint = joints->at[i];
    add_as(names, kinds, COUNT(kinds), "", &joint->name, joint->at);
    for (size_t j = 0; j < joint->places.n; j++)
      add(names, NAME_SPOT, joint->name, &joint->places.at[j].name, joint->places.at[j].at);
  }
}

static void add_facts(Names *names, const char *role, const ValueDecls *values) {
  for (size_t i = 0; i < values->n; i++)
    add(names, NAME_FACT, role, &values->at[i]->name, values->at[i]->at);
}

static void add_sets_and_roles(Names *names, EngineEntry *engine) {
  static const NameKind set[] = {NAME_SET, NAME_EACH, NAME_PLACE};
  static const NameKind role[] = {NAME_ROLE, NAME_EACH,  NAME_PLACE,  NAME_IS,
                                  NAME_SEAL, NAME_LOOSE, NAME_REACHED};
  for (size_t i = 0; i < engine->sets.n; i++) {
    SetDecl *decl = &engine->sets.at[i];
    add_as(names, set, COUNT(set), "", &decl->name, decl->at);
    add_all(names, NAME_MEMBER, "", &decl->members);
  }
  for (size_t i = 0; i < engine->roles.n; i++) {
    RoleDecl *decl = &engine->roles.at[i];
    add_as(names, role, COUNT(role), "", &decl->name, decl->at);
    add_facts(names, decl->name, &decl->when_none);
  }
}

static void add_openings(Names *names, EngineEntry *engine) {
  for (size_t i = 0; i < engine->openings.n; i++) {
    OpeningDecl *opening = &engine->openings.at[i];
    add(names, NAME_OPENING, "", &opening->name, opening->at);
    add_all(names, NAME_HOLD, "", &opening->holds);
    /* where the engine lists its loose parts an opening names them, else it declares them */
    if (engine->loose.n == 0) add_all(names, NAME_LOOSE, "", &opening->swallows);
  }
  for (size_t i = 0; i < engine->faces.n; i++)
    add(names, NAME_FACE, "", &engine->faces.at[i].name, engine->faces.at[i].at);
  add_all(names, NAME_HOLD, "", &engine->holds);
  add_all(names, NAME_LOOSE, "", &engine->loose);
}

static void add_engine(Names *names, EngineEntry *engine) {
  static const NameKind choice[] = {NAME_CHOICE, NAME_IS};
  add_sets_and_roles(names, engine);
  add_openings(names, engine);
  for (size_t i = 0; i < engine->choices.n; i++) {
    ChoiceDecl *decl = &engine->choices.at[i];
    add_as(names, choice, COUNT(choice), "", &decl->name, decl->at);
    add_all(names, NAME_CHOSEN, decl->name, &decl->words);
  }
  for (size_t i = 0; i < engine->values.n; i++)
    add(names, NAME_STATED, "", &engine->values.at[i]->name, engine->values.at[i]->at);
  add_joints(names, &engine->joints);
  add_facts(names, "engine", &engine->values);
}

static void add_part(Names *names, PartEntry *part) {
  add_joints(names, &part->joints);
  for (size_t i = 0; i < part->role.n; i++)
    if (part->role.at[i].s) add_facts(names, part->role.at[i].s, &part->values);
}

static void add_relation(Names *names, const RelationEntry *relation) {
  static const NameKind kinds[] = {NAME_QUANTITY, NAME_STATED, NAME_SETTLED};
  for (size_t i = 0; i < relation->quantities.n; i++)
    add_as(names, kinds, COUNT(kinds), "", &relation->quantities.at[i]->name,
           relation->quantities.at[i]->at);
}

/* "tdc[left] compression" is made for one member, and is called "tdc compression". */
static void add_state(Names *names, Said *made) {
  const char *open = made->s ? strchr(made->s, '[') : NULL,
             *close = open ? strchr(open, ']') : NULL;
  const char **text = &made->s;
  if (close) {
    text = arena_copy(names->arena, &made->s, sizeof made->s);
    *text = arena_printf(names->arena, "%.*s%s", (int)(open - made->s), made->s, close + 1);
  }
  add(names, NAME_STATE, "", text, made->at);
}

static void add_procedure(Names *names, const ProcedureEntry *procedure) {
  for (size_t i = 0; i < procedure->blocks.n; i++) {
    BlockDecl *block = procedure->blocks.at[i];
    add(names, NAME_STEP, "", &block->id.s, block->id.at);
    for (size_t j = 0; j < block->steps.n; j++) {
      StepDecl *step = block->steps.at[j];
      add(names, NAME_STEP, "", &step->id.s, step->id.at);
      for (size_t k = 0; k < step->makes.n; k++) add_state(names, &step->makes.at[k]);
    }
  }
}

static void add_materials(Names *names) {
  const Words *ids = loader_ids(names->loader, ENTRY_MATERIAL);
  for (size_t i = 0; i < ids->n; i++)
    add(names, NAME_MATERIAL, "", (const char **)(void *)&ids->at[i], (Place){0});
}

void names_declare(Names *names, Entry *entry) {
  switch (entry->kind) {
  case ENTRY_ENGINE:
    add_engine(names, &entry->is.engine);
    break;
  case ENTRY_PART:
    add_part(names, &entry->is.part);
    break;
  case ENTRY_RELATION:
    add_relation(names, &entry->is.relation);
    break;
  case ENTRY_PROCEDURE:
    add_procedure(names, &entry->is.procedure);
    break;
  case ENTRY_SHOP:
    for (size_t i = 0; i < entry->is.shop.gauges.n; i++)
      add(names, NAME_GAUGE, "", &entry->is.shop.gauges.at[i].name, entry->is.shop.gauges.at[i].at);
    break;
  case ENTRY_CONSUMABLE:
    add(names, NAME_SEAL, "", &entry->id, entry->at);
    break;
  case ENTRY_THREADLOCKER: /* speaks of materials, whether or not the build has them */
    if (entry->is.threadlocker.not_on.n > 0) add_materials(names);
    break;
  default:
    break;
  }
}

static void add_words(Names *names, NameKind kind, const char *words) {
  Words list = words_of(names->loader, words);
  for (size_t i = 0; i < list.n; i++) add(names, kind, "", &list.at[i], (Place){0});
}

void names_declare_language(Names *names) {
  add_words(names, NAME_OCCASION, "final|as found|mock-up|mock_up|before heat|after heat");
  add_words(names, NAME_STATE, "pumped|locked|slack|drained|running");
  add_words(names, NAME_PLACE, "engine");
  add_words(names, NAME_SEAL, "sealant|o_ring|dry");
  add_words(names, NAME_LOOSE, "all");
  add_words(names, NAME_GAUGE,
            "outside|bore|depth|gap|angle|volume|pressure|mass|force|temperature|runout|other");
}
