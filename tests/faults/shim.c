/* Preloaded before the program: the nth call of one function of the C library
 * fails. FAULT_CALL names it, FAULT_NTH counts from 1, FAULT_ERROR is the errno;
 * FAULT_COUNT is a file that takes how many calls there were. */
#define _GNU_SOURCE

#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t n, size_t size);
void *__libc_realloc(void *old, size_t size);

static long calls;

/* Is it this call's turn? Memory may not be asked for in here. */
static bool fails(const char *name) {
  const char *wanted = getenv("FAULT_CALL");
  if (!wanted || strcmp(wanted, name) != 0) return false;
  const char *nth = getenv("FAULT_NTH"), *error = getenv("FAULT_ERROR");
  if (++calls != (nth ? atol(nth) : 0)) return false;
  errno = error ? atoi(error) : EIO;
  return true;
}

__attribute__((destructor)) static void tell(void) {
  const char *path = getenv("FAULT_COUNT");
  if (!path) return;
  char text[32];
  int n = snprintf(text, sizeof text, "%ld\n", calls);
  unsetenv("FAULT_CALL");
  int file = creat(path, 0666);
  if (file < 0 || n < 0 || write(file, text, (size_t)n) < 0) _exit(96);
  close(file);
}

/* The real function, looked up at each call: these are few. */
#define REAL(type, name) type real = (type)dlsym(RTLD_NEXT, name)

void *malloc(size_t size) {
  return fails("malloc") ? NULL : __libc_malloc(size);
}

void *calloc(size_t n, size_t size) {
  return fails("calloc") ? NULL : __libc_calloc(n, size);
}

void *realloc(void *old, size_t size) {
  return fails("realloc") ? NULL : __libc_realloc(old, size);
}

typedef int Open(const char *path, int flags, ...);
int open(const char *path, int flags, ...) {
  REAL(Open *, "open");
  va_list more;
  va_start(more, flags);
  int mode = flags & O_CREAT ? va_arg(more, int) : 0;
  va_end(more);
  return fails("open") ? -1 : real(path, flags, mode);
}

typedef FILE *Fopen(const char *path, const char *mode);
FILE *fopen(const char *path, const char *mode) {
  REAL(Fopen *, "fopen");
  return fails("fopen") ? NULL : real(path, mode);
}

/* A fault while reading shows as a folder does: nothing read, and the mark set. */
typedef size_t Fread(void *to, size_t size, size_t n, FILE *file);
static _Thread_local FILE *spoiled;
size_t fread(void *to, size_t size, size_t n, FILE *file) {
  REAL(Fread *, "fread");
  if (!fails("fread")) return real(to, size, n, file);
  spoiled = file;
  return 0;
}

typedef int Ferror(FILE *file);
int ferror(FILE *file) {
  REAL(Ferror *, "ferror");
  if (file != spoiled) return real(file);
  spoiled = NULL;
  return 1;
}

typedef int Fclose(FILE *file);
int fclose(FILE *file) {
  REAL(Fclose *, "fclose");
  int result = real(file);
  return fails("fclose") ? EOF : result;
}

typedef ssize_t Read(int file, void *to, size_t size);
ssize_t read(int file, void *to, size_t size) {
  REAL(Read *, "read");
  if (fails("read")) return -1;
  /* So are short reads. */
  if (fails("short read") && size > 1000) return real(file, to, 1000);
  return real(file, to, size);
}

typedef int Fstat(int file, struct stat *status);
int fstat(int file, struct stat *status) {
  REAL(Fstat *, "fstat");
  return fails("fstat") ? -1 : real(file, status);
}

typedef ssize_t Write(int file, const void *bytes, size_t size);
ssize_t write(int file, const void *bytes, size_t size) {
  REAL(Write *, "write");
  if (fails("write")) return -1;
  /* Short writes are allowed: half of what was asked. */
  if (fails("short write") && size > 1) return real(file, bytes, size / 2);
  return real(file, bytes, size);
}

typedef int OnFile(int file);
int fsync(int file) {
  REAL(OnFile *, "fsync");
  return fails("fsync") ? -1 : real(file);
}

/* As the kernel does it: closed, and an error all the same. */
int close(int file) {
  REAL(OnFile *, "close");
  bool failed = fails("close");
  int error = errno, result = real(file);
  if (failed) errno = error;
  return failed ? -1 : result;
}

typedef int Rename(const char *from, const char *to);
int rename(const char *from, const char *to) {
  REAL(Rename *, "rename");
  return fails("rename") ? -1 : real(from, to);
}

typedef DIR *Opendir(const char *path);
DIR *opendir(const char *path) {
  REAL(Opendir *, "opendir");
  return fails("opendir") ? NULL : real(path);
}

typedef int Stat(const char *path, struct stat *status);
int stat(const char *path, struct stat *status) {
  REAL(Stat *, "stat");
  return fails("stat") ? -1 : real(path, status);
}

int lstat(const char *path, struct stat *status) {
  REAL(Stat *, "lstat");
  return fails("lstat") ? -1 : real(path, status);
}

typedef char *Realpath(const char *path, char *to);
char *realpath(const char *path, char *to) {
  REAL(Realpath *, "realpath");
  return fails("realpath") ? NULL : real(path, to);
}
