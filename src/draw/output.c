#define _XOPEN_SOURCE 700 /* realpath */

#include "draw/output.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define MOST_NAMES 1000

static const char *cannot(Arena *arena, const char *path, const char *what, int error) {
  return arena_printf(arena, "%s cannot be %s: %s", path, what, strerror(error));
}

/* 0, or errno. */
static int write_all(int file, const char *bytes, size_t size) {
  while (size > 0) {
    ssize_t wrote = write(file, bytes, size);
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote < 0) return errno;
    if (wrote == 0) return EIO;
    bytes += wrote;
    size -= (size_t)wrote;
  }
  return 0;
}

/* What cannot be synchronised (a pipe, a terminal) says EINVAL: no error. */
static int sync_file(int file) {
  return fsync(file) == 0 || errno == EINVAL || errno == ENOTSUP ? 0 : errno;
}

static const char *folder_of(Arena *arena, const char *path) {
  const char *slash = strrchr(path, '/');
  if (slash == NULL) return ".";
  return slash == path ? "/" : arena_text(arena, path, (size_t)(slash - path));
}

/* A rename lasts once the folder is on the disk. */
static int sync_folder(const char *folder) {
  int file = open(folder, O_RDONLY);
  if (file < 0) return errno == EACCES ? 0 : errno; /* may write here but not read */
  int error = sync_file(file);
  close(file);
  return error;
}

/* Opened without waiting: a pipe that nobody reads would keep the program for ever (ENXIO). */
static int write_straight(const char *path, const void *bytes, size_t size) {
  int file = open(path, O_WRONLY | O_NOCTTY | O_NONBLOCK);
  if (file < 0) return errno;
  int flags = fcntl(file, F_GETFL), error = 0;
  if (flags < 0 || fcntl(file, F_SETFL, flags & ~O_NONBLOCK) < 0) error = errno;
  if (error == 0) error = write_all(file, bytes, size);
  if (close(file) != 0 && error == 0) error = errno;
  return error;
}

/* Fills the new file and puts it in place; on an error it is removed. */
static int fill_and_rename(int file, const char *part, const char *path, const void *bytes,
                           size_t size) {
  int error = write_all(file, bytes, size);
  if (error == 0) error = sync_file(file);
  if (close(file) != 0 && error == 0) error = errno;
  if (error == 0 && rename(part, path) != 0) error = errno;
  if (error != 0) unlink(part);
  return error;
}

static int write_beside(Arena *arena, const char *path, const void *bytes, size_t size) {
  const char *folder = folder_of(arena, path);
  for (int i = 0; i < MOST_NAMES; i++) {
    const char *part = arena_printf(arena, "%s/.sheaf-%ld-%d.part", folder, (long)getpid(), i);
    int file = open(part, O_WRONLY | O_CREAT | O_EXCL, 0666);
    if (file < 0 && errno == EEXIST) continue;
    if (file < 0) return errno;
    int error = fill_and_rename(file, part, path, bytes, size);
    return error != 0 ? error : sync_folder(folder);
  }
  return EEXIST;
}

/* The file that a link stands for, so that the link stays; path when it is none. */
static int follow(Arena *arena, const char *path, const char **file) {
  struct stat status;
  *file = path;
  if (lstat(path, &status) != 0 || !S_ISLNK(status.st_mode)) return 0;
  char *real = realpath(path, NULL);
  if (real == NULL) return errno;
  *file = arena_text(arena, real, strlen(real));
  free(real);
  return 0;
}

const char *output_write(Arena *arena, const char *path, const void *bytes, size_t size) {
  if (strcmp(path, "-") == 0) {
    int error = write_all(STDOUT_FILENO, bytes, size);
    if (error == 0) error = sync_file(STDOUT_FILENO);
    return error == 0 ? NULL : cannot(arena, "standard output", "written", error);
  }
  struct stat status;
  int error;
  if (stat(path, &status) == 0 && !S_ISREG(status.st_mode)) {
    error = S_ISDIR(status.st_mode) ? EISDIR : write_straight(path, bytes, size);
    if (error == ENXIO && S_ISFIFO(status.st_mode))
      return arena_printf(arena, "nobody reads from the pipe %s", path);
  } else {
    const char *file;
    error = follow(arena, path, &file);
    if (error == 0) error = write_beside(arena, file, bytes, size);
  }
  return error == 0 ? NULL : cannot(arena, path, "written", error);
}

/* Takes the name with an empty file that the rename then replaces: two runs at
 * once cannot both have it. */
static int rename_to_free_name(const char *path, const char *name) {
  int file = open(name, O_WRONLY | O_CREAT | O_EXCL, 0666);
  if (file < 0) return errno;
  close(file);
  if (rename(path, name) == 0) return 0;
  int error = errno;
  unlink(name);
  return error;
}

const char *output_set_aside(Arena *arena, const char *path, const char **became) {
  struct stat status;
  *became = NULL;
  if (strcmp(path, "-") == 0) return NULL;
  if (lstat(path, &status) != 0)
    return errno == ENOENT || errno == ENOTDIR ? NULL : cannot(arena, path, "set aside", errno);
  if (!S_ISREG(status.st_mode) && !S_ISLNK(status.st_mode)) return NULL;
  const char *folder = folder_of(arena, path);
  const char *slash = strrchr(path, '/'), *dot = strrchr(path, '.');
  if (dot == NULL || (slash != NULL && dot < slash)) dot = path + strlen(path);
  const char *stem = arena_text(arena, path, (size_t)(dot - path));
  int error = EEXIST;
  for (int i = 1; i <= MOST_NAMES && error == EEXIST; i++) {
    const char *name = i == 1 ? arena_printf(arena, "%s.superseded%s", stem, dot)
                              : arena_printf(arena, "%s.superseded-%d%s", stem, i, dot);
    error = rename_to_free_name(path, name);
    if (error == 0) *became = name;
  }
  if (error == 0) error = sync_folder(folder);
  return error == 0 ? NULL : cannot(arena, path, "set aside", error);
}
