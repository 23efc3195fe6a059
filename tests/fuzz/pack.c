#include "fuzz/pack.h"

#include "read/yaml.h"

#include <string.h>

#define MARK "%% "

static const char *next_mark(const char *from, const char *end) {
  for (const char *at = from; at < end; at++) {
    if ((size_t)(end - at) < sizeof MARK - 1) return end;
    if (memcmp(at, MARK, sizeof MARK - 1) == 0) return at;
    at = memchr(at, '\n', (size_t)(end - at));
    if (!at) return end;
  }
  return end;
}

Pack pack_read(Arena *arena, const char *text, size_t size) {
  Pack pack = {0};
  const char *end = text + size;
  const char *at = next_mark(text, end);
  while (at < end) {
    const char *path = at + sizeof MARK - 1;
    const char *line_end = memchr(path, '\n', (size_t)(end - path));
    if (!line_end) break;
    const char *begin = line_end + 1;
    at = next_mark(begin, end);
    PackFile file = {.path = arena_text(arena, path, (size_t)(line_end - path)),
                     .text = arena_text(arena, begin, (size_t)(at - begin)),
                     .size = (size_t)(at - begin)};
    vec_push(arena, &pack.files, file);
  }
  return pack;
}

bool pack_has(const Pack *pack, const char *path) {
  for (size_t i = 0; i < pack->files.n; i++)
    if (strcmp(pack->files.at[i].path, path) == 0) return true;
  return false;
}

/* The path without the library's folder. */
static const char *inside(const char *path) {
  size_t n = strlen(PACK_LIBRARY "/");
  return strncmp(path, PACK_LIBRARY "/", n) == 0 ? path + n : path;
}

static const char *pack_text(void *context, Run *run, const char *path, size_t *size) {
  (void)run;
  const Pack *pack = context;
  for (size_t i = 0; i < pack->files.n; i++) {
    if (strcmp(pack->files.at[i].path, inside(path)) != 0) continue;
    *size = pack->files.at[i].size;
    return pack->files.at[i].text;
  }
  return NULL;
}

static void pack_ids(void *context, Run *run, const char *folder, Words *out) {
  const Pack *pack = context;
  const char *within = inside(folder);
  size_t n = strlen(within), ending = strlen(".yaml");
  for (size_t i = 0; i < pack->files.n; i++) {
    const char *path = pack->files.at[i].path;
    size_t length = strlen(path);
    if (length < n + 1 + ending || strncmp(path, within, n) != 0 || path[n] != '/') continue;
    vec_push(run->arena, out, arena_text(run->arena, path + n + 1, length - n - 1 - ending));
  }
}

LoadSource pack_source(Run *run, Pack *pack) {
  LoadSource source = {.context = pack, .text = pack_text, .nodes = read_yaml, .ids = pack_ids};
  vec_push(run->arena, &source.libraries, PACK_LIBRARY);
  return source;
}
