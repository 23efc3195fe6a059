#include "files.h"

#include "base/text.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>

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

/* What the shell hands over by number. */
static bool is_handed_over(const char *path) {
  return text_is(path, "/dev/stdin") || text_starts(path, "/dev/fd/");
}

/* Does not wait: a pipe somebody forgot to fill would keep the program for ever. */
static int open_input(const char *path) {
  int flags = O_RDONLY | O_NOCTTY | O_CLOEXEC | (is_handed_over(path) ? 0 : O_NONBLOCK), file;
  while ((file = open(path, flags)) < 0 && errno == EINTR) continue;
  return file;
}

/* NULL: it is something to read. */
static const char *kind_refused(const char *path, const struct stat *status) {
  if (S_ISDIR(status->st_mode)) return "it is a folder";
  return S_ISREG(status->st_mode) || is_handed_over(path) ? NULL : "it is no regular file";
}

static FileState refuse_size(Run *run, const char *path) {
  Place nowhere = {0};
  Finding *finding = finding_add(run, RULE_TOO_BIG, nowhere, "%s is larger than %zu MB", path,
                                 SOURCE_MOST / (1024 * 1024));
  finding_way_out(run, finding, "an entry is one build or one part: this is some other file");
  return FILE_REFUSED;
}

/* expected: its size, or 0 where only the end tells. */
static FileState read_all(Run *run, const char *path, int file, size_t expected, const char **text,
                          size_t *size) {
  Text all = text_new(run->arena);
  char piece[16384];
  while (expected == 0 || all.n != expected) {
    ssize_t n = read(file, piece, sizeof piece);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return refuse(run, path, strerror(errno));
    if (n == 0) break;
    text_add_n(&all, piece, (size_t)n);
    if (all.n > SOURCE_MOST) return refuse_size(run, path);
  }
  *text = text_done(&all);
  *size = all.n;
  return FILE_READ;
}

FileState file_read(Run *run, const char *path, const char **text, size_t *size) {
  struct stat status;
  int file = open_input(path);
  if (file < 0) {
    int error = errno;
    if (error == ENOENT || error == ENOTDIR) return FILE_ABSENT;
    const char *kind = stat(path, &status) == 0 ? kind_refused(path, &status) : NULL;
    return refuse(run, path, kind ? kind : strerror(error));
  }
  FileState state = FILE_REFUSED;
  if (fstat(file, &status) != 0) {
    refuse(run, path, strerror(errno));
  } else if (kind_refused(path, &status)) {
    refuse(run, path, kind_refused(path, &status));
  } else {
    size_t expected = S_ISREG(status.st_mode) ? (size_t)status.st_size : 0;
    state = read_all(run, path, file, expected, text, size);
  }
  close(file);
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

static bool ends_alike(const char *name, size_t *n, const char *ending) {
  size_t length = strlen(ending);
  if (*n <= length || strncasecmp(name + *n - length, ending, length) != 0) return false;
  *n -= length;
  return true;
}

/* "kestrow_ring.yml", "Kestrow_Ring.YAML", "kestrow_ring.yaml.txt", "kestrow_ring" */
static bool is_like(const char *name, const char *id) {
  size_t n = strlen(name);
  (void)ends_alike(name, &n, ".txt");
  if (!ends_alike(name, &n, ".yaml")) (void)ends_alike(name, &n, ".yml");
  return n == strlen(id) && strncasecmp(name, id, n) == 0;
}

const char *folder_beside(Run *run, const char *path, const char *id) {
  DIR *folder = opendir(path);
  if (!folder) return NULL;
  const char *wanted = arena_printf(run->arena, "%s.yaml", id), *found = NULL;
  for (struct dirent *item; (item = readdir(folder));) {
    if (!is_like(item->d_name, id)) continue;
    bool first = !found || strcmp(item->d_name, found) < 0;
    if (first) found = arena_text(run->arena, item->d_name, strlen(item->d_name));
  }
  closedir(folder);
  if (!found) return NULL;
  if (text_is(found, wanted))
    return arena_printf(run->arena, "%s/%s is a link to a file that is not there: mend the link",
                        path, found);
  return arena_printf(run->arena, "%s/%s is there: name it %s", path, found, wanted);
}
