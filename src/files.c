#include "files.h"

#include "base/text.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static FileState refuse(Run *run, const char *path, const char *why) {
  Place nowhere = {0};
  Finding *finding = finding_add(run, RULE_NO_FILE, nowhere, "%s cannot be read: %s", path, why);
  finding_way_out(run, finding, "check the path and who may read it");
  return FILE_REFUSED;
}

bool file_is_folder(const char *path) {
  struct stat status;
  return stat(path, &status) == 0 && S_ISDIR(status.st_mode);
}

/* A pipe somebody forgot to fill keeps the program waiting for ever; what the shell hands over
 * by number is filled. */
static bool may_hang(const char *path) {
  struct stat status;
  if (text_is(path, "/dev/stdin") || text_starts(path, "/dev/fd/")) return false;
  return stat(path, &status) == 0 && !S_ISREG(status.st_mode);
}

static FileState read_all(Run *run, const char *path, FILE *file, const char **text, size_t *size) {
  Text all = text_new(run->arena);
  char piece[16384];
  size_t n;
  while ((n = fread(piece, 1, sizeof piece, file)) > 0) {
    text_add_n(&all, piece, n);
    if (all.n <= SOURCE_MOST) continue;
    Place nowhere = {0};
    Finding *finding = finding_add(run, RULE_TOO_BIG, nowhere, "%s is larger than %zu MB", path,
                                   SOURCE_MOST / (1024 * 1024));
    finding_way_out(run, finding, "an entry is one build or one part: this is some other file");
    return FILE_REFUSED;
  }
  if (ferror(file)) return refuse(run, path, strerror(errno));
  *text = text_done(&all);
  *size = all.n;
  return FILE_READ;
}

FileState file_read(Run *run, const char *path, const char **text, size_t *size) {
  if (file_is_folder(path)) return refuse(run, path, "it is a folder");
  if (may_hang(path)) return refuse(run, path, "it is no regular file");
  FILE *file = fopen(path, "rb");
  if (!file) {
    if (errno == ENOENT || errno == ENOTDIR) return FILE_ABSENT;
    return refuse(run, path, strerror(errno));
  }
  FileState state = read_all(run, path, file, text, size);
  fclose(file);
  return state;
}

static int by_name(const void *a, const void *b) {
  return strcmp(*(const char *const *)a, *(const char *const *)b);
}

void folder_ids(Run *run, const char *path, Words *out) {
  DIR *folder = opendir(path);
  if (!folder) return;
  size_t first = out->n;
  for (struct dirent *item; (item = readdir(folder));) {
    size_t n = strlen(item->d_name);
    if (n <= 5 || strcmp(item->d_name + n - 5, ".yaml") != 0) continue;
    vec_push(run->arena, out, arena_text(run->arena, item->d_name, n - 5));
  }
  closedir(folder);
  if (out->n > first) qsort(out->at + first, out->n - first, sizeof *out->at, by_name);
}
