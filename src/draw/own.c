/* Whether a file is one that this program wrote: only such a file may be replaced
 * or renamed, whatever the command line says. */
#include "draw/output.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

/* As draw_pdf writes the creator: UTF-16 in hexadecimal. */
static const char creator[] = "/Creator <FEFF00730068006500610066>";

static bool starts_with(const char *bytes, size_t size, const char *with) {
  return size >= strlen(with) && memcmp(bytes, with, strlen(with)) == 0;
}

static bool holds(const char *bytes, size_t size, const char *word) {
  size_t n = strlen(word);
  for (size_t i = 0; i + n <= size; i++)
    if (bytes[i] == word[0] && memcmp(bytes + i, word, n) == 0) return true;
  return false;
}

/* Piece by piece, each after the end of the one before, so that the word is found across. */
static bool file_holds_creator(FILE *file) {
  const size_t tail = sizeof creator - 2; /* one character short of the word */
  char piece[65536];
  size_t kept = 0, n;
  while ((n = fread(piece + kept, 1, sizeof piece - kept, file)) > 0) {
    size_t all = kept + n;
    if (holds(piece, all, creator)) return true;
    kept = all < tail ? all : tail;
    memmove(piece, piece + all - kept, kept);
  }
  return false;
}

OutputOwner output_owner(const char *path) {
  struct stat status;
  if (strcmp(path, "-") == 0 || stat(path, &status) != 0) return OUTPUT_NOBODY;
  if (!S_ISREG(status.st_mode) || status.st_size == 0) return OUTPUT_NOBODY;
  FILE *file = fopen(path, "rb");
  if (!file) return OUTPUT_UNREAD;
  char head[8];
  size_t n = fread(head, 1, sizeof head, file);
  bool own = starts_with(head, n, "job ") || starts_with(head, n, "paper ");
  if (starts_with(head, n, "%PDF-")) own = file_holds_creator(file);
  bool unread = ferror(file) != 0;
  fclose(file);
  return own ? OUTPUT_OWN : unread ? OUTPUT_UNREAD : OUTPUT_FOREIGN;
}
