/* From a build to every entry it reaches: each is looked for, read once, and
 * filled from its kind's table. */
#include "load/names.h"

#include "base/near.h"

#include <stdlib.h>
#include <string.h>

#define ID_MOST     120 /* characters */
#define ABSENT_MOST 100 /* unknown ids that get a nearest word */
#define FEW_IDS     8   /* as many can be told in a line */

static const char *key_of(Loader *loader, EntryKind kind, const char *id) {
  return arena_printf(loader->run->arena, "%s/%s", entry_kind_word(kind), id);
}

/* ---- ids ---- */

static bool is_id(const char *id) {
  size_t length = strlen(id);
  if (length == 0 || length > ID_MOST || id[0] == '.' || strstr(id, "..")) return false;
  return strspn(id, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-.") == length;
}

static int compare_words(const void *a, const void *b) {
  return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static const char *folder_in(Loader *loader, const char *library, EntryKind kind) {
  return arena_printf(loader->run->arena, "%s/%s", library, entry_kind_folder(kind));
}

const Words *loader_ids(Loader *loader, EntryKind kind) {
  if (loader->offered[kind]) return loader->offered[kind];
  Words ids = {0};
  for (size_t i = 0; loader->source->ids && i < loader->source->libraries.n; i++) {
    const char *folder = folder_in(loader, loader->source->libraries.at[i], kind);
    loader->source->ids(loader->source->context, loader->run, folder, &ids);
  }
  if (ids.n > 1) qsort(ids.at, ids.n, sizeof *ids.at, compare_words);
  size_t kept = 0;
  for (size_t i = 0; i < ids.n; i++) {
    if (kept == 0 || strcmp(ids.at[kept - 1], ids.at[i]) != 0) ids.at[kept++] = ids.at[i];
  }
  ids.n = kept;
  loader->offered[kind] = arena_copy(loader->run->arena, &ids, sizeof ids);
  return loader->offered[kind];
}

/* A file of that name that is kept or called otherwise. */
static const char *kept_otherwise(Loader *loader, EntryKind kind, const char *id) {
  const LoadSource *source = loader->source;
  Arena *arena = loader->run->arena;
  const char *last = strrchr(entry_kind_folder(kind), '/');
  for (size_t i = 0; source->beside && i < source->libraries.n; i++) {
    const char *library = source->libraries.at[i], *right = folder_in(loader, library, kind);
    const char *said = source->beside(source->context, loader->run, right, id);
    if (said) return said;
    const char *short_way = arena_printf(arena, "%s%s", library, last);
    Words ids = {0};
    source->ids(source->context, loader->run, short_way, &ids);
    if (text_has(&ids, id))
      return arena_printf(arena, "%s/%s.yaml is there: move it to %s", short_way, id, right);
  }
  return NULL;
}

/* Answers the id, or one of the plain words, that was probably meant, or NULL. */
static const char *report_absent(Loader *loader, EntryKind kind, const Words *plain, const char *id,
                                 Place at) {
  Text where = text_new(loader->run->arena);
  for (size_t i = 0; i < loader->source->libraries.n; i++) {
    text_addf(&where, "%s%s", i > 0 ? " or " : "",
              folder_in(loader, loader->source->libraries.at[i], kind));
  }
  Finding *finding = finding_add(
      loader->run, RULE_NO_ENTRY, at, "there is no %s \"%s\" in %s", entry_kind_word(kind), id,
      where.n > 0 ? text_done(&where) : "the library: no folder is given");
  const char *beside = kept_otherwise(loader, kind, id);
  if (beside) {
    finding_way_out(loader->run, finding, "%s", beside);
    return NULL;
  }
  /* A nearest word costs; a file with hundreds of unknown ids is no slip. */
  if (loader->absent++ >= ABSENT_MOST) return NULL;
  Words ids = {0};
  for (size_t i = 0; i < plain->n; i++) vec_push(loader->run->arena, &ids, plain->at[i]);
  const Words *entries = loader_ids(loader, kind);
  for (size_t i = 0; i < entries->n; i++) vec_push(loader->run->arena, &ids, entries->at[i]);
  const char *near = near_word(id, &ids);
  if (ids.n <= FEW_IDS || near) {
    say_near(loader, finding, id, &ids);
    return near_slip(id, near) ? near : NULL;
  }
  const char *word = entry_kind_word(kind);
  finding_way_out(
      loader->run, finding,
      "name the folder that holds it with --library; `sheaf list %s` shows every %s there is", word,
      word);
  return NULL;
}

/* ---- reading one file ---- */

static Entry *entry_begun(Loader *loader, EntryKind kind, const char *id, const Node *root) {
  Entry *entry = ARENA_NEW(loader->run->arena, Entry);
  entry->kind = kind;
  entry->id = id;
  entry->at = root->at;
  entry->file = root->at.source;
  Pending pending = {entry, root};
  vec_push(loader->run->arena, &loader->pending, pending);
  return entry;
}

/* Reported: the file is read as what it was meant to be. */
static bool is_kind_misspelt(Loader *loader, const Node *said, EntryKind wanted) {
  Words kinds = {0};
  for (int kind = 0; kind < ENTRY_KIND_COUNT; kind++)
    vec_push(loader->run->arena, &kinds, entry_kind_word((EntryKind)kind));
  if (text_has(&kinds, said->text)) return false; /* another kind, well spelt */
  const char *near = near_word(said->text, &kinds);
  if (!text_is(near, entry_kind_word(wanted))) return false;
  Finding *finding =
      finding_add(loader->run, RULE_WRONG_KIND, said->at, "there is no kind %s", said->text);
  finding_way_out(loader->run, finding, "did you mean %s?", near);
  return true;
}

/* The file's outline as an entry of that kind, not yet filled; NULL after a finding. */
static Entry *take_file(Loader *loader, EntryKind kind, const char *id, const char *path,
                        const char *text, size_t size) {
  Run *run = loader->run;
  const Node *root = loader->source->nodes(run, path, text, size);
  if (!root) return NULL;
  if (root->kind != NODE_MAP) {
    Finding *finding =
        finding_add(run, RULE_WRONG_TYPE, root->at, "an entry is written as key: value lines");
    finding_way_out(run, finding, "begin with kind: %s", entry_kind_word(kind));
    return NULL;
  }
  Place at;
  const Node *said = node_find(root, "kind", &at);
  if (said && said->bad) return NULL;
  if (!said) {
    Finding *finding =
        finding_add(run, RULE_MISSING_KEY, root->at, "this file does not say its kind");
    finding_way_out(run, finding, "add kind: %s", entry_kind_word(kind));
    return NULL;
  }
  if (said->kind != NODE_SCALAR || !text_is(said->text, entry_kind_word(kind))) {
    if (said->kind == NODE_SCALAR && is_kind_misspelt(loader, said, kind))
      return entry_begun(loader, kind, id, root);
    Finding *finding = finding_add(
        run, RULE_WRONG_KIND, said->at, "this is %s%s, %s is wanted here",
        said->kind == NODE_SCALAR ? "of kind " : "no kind",
        said->kind == NODE_SCALAR ? said->text : "", with_article(loader, entry_kind_word(kind)));
    finding_way_out(run, finding, "entries in %s have kind: %s", entry_kind_folder(kind),
                    entry_kind_word(kind));
    return NULL;
  }
  return entry_begun(loader, kind, id, root);
}

static Entry *look_for(Loader *loader, EntryKind kind, const char *id, bool *absent) {
  for (size_t i = 0; i < loader->source->libraries.n; i++) {
    const char *folder = folder_in(loader, loader->source->libraries.at[i], kind);
    const char *path = arena_printf(loader->run->arena, "%s/%s.yaml", folder, id);
    size_t size = 0, before = loader->run->findings->list.n;
    const char *text = loader->source->text(loader->source->context, loader->run, path, &size);
    if (text) return take_file(loader, kind, id, path, text, size);
    if (loader->run->findings->list.n > before) return NULL;
  }
  *absent = true;
  return NULL;
}

Entry *loader_need_or(Loader *loader, EntryKind kind, const Words *plain, const char **id,
                      Place at) {
  if (!is_id(*id)) {
    bool of_file = !at.source; /* a folder was looked through */
    Finding *finding = finding_add(loader->run, RULE_BAD_WORD, at, "\"%s%s%s%s\" cannot be an id",
                                   of_file ? entry_kind_folder(kind) : "", of_file ? "/" : "", *id,
                                   of_file ? ".yaml" : "");
    finding_way_out(
        loader->run, finding,
        "an id is the file's name without .yaml: letters, digits, _, - and points inside");
    return NULL;
  }
  if (!loader->follow) return NULL;
  const char *key = key_of(loader, kind, *id);
  Entry *known = map_find(loader->library->by_key, key);
  if (known) {
    *id = known->id;
    return known;
  }
  /* A file that was tried in vain is not tried again; an absent one is reported
   * at each place that asks for it. */
  if (map_find(loader->in_vain, key)) return NULL;
  bool absent = false;
  Entry *entry = look_for(loader, kind, *id, &absent);
  if (absent) {
    const char *near = report_absent(loader, kind, plain, *id, at);
    if (!near) return NULL;
    *id = near; /* read on as what was meant */
    if (text_has(plain, near)) return NULL;
    entry = loader_need(loader, kind, near, at);
    if (entry) map_put(loader->library->by_key, key, entry);
    return entry;
  }
  if (!entry) {
    map_put(loader->in_vain, key, loader);
    return NULL;
  }
  map_put(loader->library->by_key, key, entry);
  vec_push(loader->run->arena, &loader->library->list, entry);
  return entry;
}

Entry *loader_need(Loader *loader, EntryKind kind, const char *id, Place at) {
  static const Words no_words = {0};
  return loader_need_or(loader, kind, &no_words, &id, at);
}

/* ---- filling ---- */

static bool has_numbers(const Entry *entry) {
  switch (entry->kind) {
  case ENTRY_ENGINE:
    return entry->is.engine.values.n + entry->is.engine.limits.n + entry->is.engine.joints.n > 0;
  case ENTRY_PART:
    return entry->is.part.values.n + entry->is.part.limits.n + entry->is.part.joints.n +
               entry->is.part.mates.n >
           0;
  case ENTRY_RELATION:
    return entry->is.relation.quantities.n > 0;
  default:
    return false;
  }
}

static void check_source(Loader *loader, const Entry *entry) {
  if (entry->source.at.line > 0 || !has_numbers(entry)) return;
  Finding *finding = finding_add(loader->run, RULE_NO_SOURCE, entry->at,
                                 "this %s gives numbers and says of none where it comes from",
                                 entry_kind_word(entry->kind));
  finding_way_out(loader->run, finding,
                  "add source: {maker: ..., sheet: ...}, or source: common practice");
}

static void fill_entry(Loader *loader, const Pending *pending) {
  Entry *entry = pending->entry;
  loader->entry = entry;
  check_glyphs(loader, pending->root);
  const Layer layers[] = {{&entry_shape, entry}, {shape_of_kind(entry->kind), &entry->is}};
  fill_layers(loader, layers, COUNT(layers), pending->root, entry->at);
  entry->maker = entry->source.maker;
  if (entry->kind == ENTRY_BUILD) entry->is.build.title = entry->name;
  check_source(loader, entry);
}

static void fill_pending(Loader *loader) {
  for (size_t i = 0; i < loader->pending.n; i++) {
    Pending pending = loader->pending.at[i]; /* the list grows meanwhile */
    fill_entry(loader, &pending);
  }
}

static int compare_entries(const void *left, const void *right) {
  const Entry *a = *(Entry *const *)left, *b = *(Entry *const *)right;
  if (a->kind != b->kind) return a->kind < b->kind ? -1 : 1;
  return strcmp(a->id, b->id);
}

/* The file's name without folder and .yaml. */
static const char *id_of_path(Arena *arena, const char *path) {
  const char *slash = strrchr(path, '/');
  const char *name = slash ? slash + 1 : path;
  size_t length = strlen(name);
  if (length > 5 && text_is(name + length - 5, ".yaml")) length -= 5;
  return arena_text(arena, name, length);
}

static Library *library_new(Arena *arena) {
  Library *library = ARENA_NEW(arena, Library);
  library->by_key = map_new(arena);
  return library;
}

void report_no_file(Run *run, const LoadSource *source, const char *path) {
  Source *nowhere = source_new(run->arena, path, "", 0);
  Finding *finding =
      finding_add(run, RULE_NO_FILE, place_at(nowhere, 0, 0, 1), "there is no such file");
  const char *slash = strrchr(path, '/');
  const char *folder = slash ? arena_text(run->arena, path, (size_t)(slash - path)) : ".";
  Words ids = {0};
  if (source->ids) source->ids(source->context, run, folder, &ids);
  if (ids.n > 1) qsort(ids.at, ids.n, sizeof *ids.at, compare_words);
  const char *near = near_word(id_of_path(run->arena, path), &ids);
  if (near)
    finding_way_out(run, finding, "did you mean %s%s%s.yaml?", slash ? folder : "",
                    slash ? "/" : "", near);
}

static const Words *all_ids(void *loader, EntryKind kind) {
  return loader_ids(loader, kind);
}

static const Entry *look_into(void *asked, EntryKind kind, const char *id) {
  const Loader *loader = asked;
  Run silent = {loader->run->arena, findings_new(loader->run->arena)};
  return load_entry(&silent, loader->source, kind, id);
}

/* For questions that come after loading. */
static Loader *kept(const Loader *loader) {
  Arena *arena = loader->run->arena;
  Loader *copy = arena_copy(arena, loader, sizeof *loader);
  copy->source = arena_copy(arena, loader->source, sizeof *loader->source);
  return copy;
}

Library *load_build(Run *run, const LoadSource *source, const char *build_path) {
  Loader loader = {.run = run,
                   .source = source,
                   .library = library_new(run->arena),
                   .in_vain = map_new(run->arena),
                   .follow = true};
  size_t size = 0, before = run->findings->list.n;
  const char *text = source->text(source->context, run, build_path, &size);
  if (!text) {
    if (run->findings->list.n == before) report_no_file(run, source, build_path);
    return NULL;
  }
  Library *library = loader.library;
  const char *id = id_of_path(run->arena, build_path);
  library->build = take_file(&loader, ENTRY_BUILD, id, build_path, text, size);
  if (!library->build) return NULL;
  map_put(library->by_key, key_of(&loader, ENTRY_BUILD, id), library->build);
  vec_push(run->arena, &library->list, library->build);
  fill_pending(&loader);
  names_as_meant(&loader);
  library->ids = all_ids;
  library->look = look_into;
  library->asked = kept(&loader);
  qsort(library->list.at, library->list.n, sizeof *library->list.at, compare_entries);
  return library;
}

Entry *load_entry(Run *run, const LoadSource *source, EntryKind kind, const char *id) {
  Loader loader = {.run = run,
                   .source = source,
                   .library = library_new(run->arena),
                   .in_vain = map_new(run->arena),
                   .follow = true};
  Entry *entry = loader_need(&loader, kind, id, place_at(NULL, 0, 0, 1));
  loader.follow = false;
  fill_pending(&loader);
  return entry;
}
