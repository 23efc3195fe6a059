/* Several files in one text: "%% PATH" on a line of its own begins each. */
#ifndef SHEAF_TESTS_FUZZ_PACK_H
#define SHEAF_TESTS_FUZZ_PACK_H

#include "base/text.h"
#include "base/vec.h"
#include "load/load.h"

typedef struct PackFile {
  const char *path, *text;
  size_t size;
} PackFile;

typedef struct Pack {
  VEC(PackFile) files;
} Pack;

/* The name of the library's folder and of the build's file within a pack. */
#define PACK_LIBRARY  "library"
#define PACK_BUILD    "build.yaml"
#define PACK_READINGS "readings.yaml"
#define PACK_SINCE    "since.yaml"

Pack pack_read(Arena *arena, const char *text, size_t size);
bool pack_has(const Pack *pack, const char *path);
/* The pack as the place where a build and its library come from. */
LoadSource pack_source(Run *run, Pack *pack);

#endif
