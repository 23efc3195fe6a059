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

static const char *find(const char *bytes, size_t size, const char *word) {
  size_t n = strlen(word);
  for (size_t i = 0; i + n <= size; i++)
    if (bytes[i] == word[0] && memcmp(bytes + i, word, n) == 0) return bytes + i;
  return NULL;
}

/* Where the word begins in the file, or -1. Read piece by piece, each after the end of the one
 * before, so that the word is found across. */
static long file_find_creator(FILE *file) {
  const size_t tail = sizeof creator - 2; /* one character short of the word */
  char piece[65536];
  size_t kept = 0, n;
  long at = ftell(file);
  while (at >= 0 && (n = fread(piece + kept, 1, sizeof piece - kept, file)) > 0) {
    size_t all = kept + n;
    const char *found = find(piece, all, creator);
    if (found) return at + (long)(found - piece);
    kept = all < tail ? all : tail;
    at += (long)(all - kept);
    memmove(piece, piece + all - kept, kept);
  }
  return -1;
}

static int hex_digit(char c) {
  static const char digits[] = "0123456789ABCDEF";
  const char *at = c ? strchr(digits, c) : NULL;
  return at ? (int)(at - digits) : -1;
}

/* ASCII that is written in UTF-16, four hexadecimal digits a character; ends at the first that is
 * none. */
static void read_wide(const char *hex, const char *end, char *out, size_t most) {
  size_t n = 0;
  for (; end - hex >= 4 && n + 1 < most && hex[0] == '0' && hex[1] == '0'; hex += 4) {
    int high = hex_digit(hex[2]), low = hex_digit(hex[3]);
    if (high < 0 || low < 0) break;
    out[n++] = (char)(high * 16 + low);
  }
  out[n] = '\0';
}

/* "job T-1, inputs ..." or "job T-1 | engine ...": up to the mark. */
static void read_job(OutputFile *found, const char *said, char mark) {
  if (strncmp(said, "job ", 4) != 0) return;
  const char *end = strchr(said + 4, mark);
  size_t n = end ? (size_t)(end - said) - 4 : 0;
  while (n > 0 && said[4 + n - 1] == ' ') n--;
  if (n == 0 || n > OUTPUT_JOB_MOST) return;
  memcpy(found->job, said + 4, n);
  found->job[n] = '\0';
}

/* The keywords stand right before the creator. */
static void read_keywords(FILE *file, long creator_at, OutputFile *found) {
  static const char key[] = "/Keywords <FEFF";
  char piece[4096], said[1024];
  long from = creator_at > (long)sizeof piece ? creator_at - (long)sizeof piece : 0;
  if (fseek(file, from, SEEK_SET) != 0) return;
  size_t n = fread(piece, 1, (size_t)(creator_at - from), file);
  const char *at = find(piece, n, key);
  if (!at) return;
  read_wide(at + sizeof key - 1, piece + n, said, sizeof said);
  read_job(found, said, ',');
  found->completed = strstr(said, ", readings ") != NULL;
}

OutputFile output_look(const char *path) {
  OutputFile found = {.owner = OUTPUT_NOBODY};
  struct stat status;
  if (strcmp(path, "-") == 0 || stat(path, &status) != 0) return found;
  if (!S_ISREG(status.st_mode) || status.st_size == 0) return found;
  found.owner = OUTPUT_UNREAD;
  FILE *file = fopen(path, "rb");
  if (!file) return found;
  char head[OUTPUT_JOB_MOST + 8];
  size_t n = fread(head, 1, sizeof head - 1, file);
  head[n] = '\0';
  bool own = starts_with(head, n, "job ") || starts_with(head, n, "paper ");
  read_job(&found, head, '|');
  if (starts_with(head, n, "%PDF-") && fseek(file, 0, SEEK_SET) == 0) {
    long at = file_find_creator(file);
    own = at >= 0;
    if (own) read_keywords(file, at, &found);
  }
  if (!ferror(file)) found.owner = own ? OUTPUT_OWN : OUTPUT_FOREIGN;
  fclose(file);
  return found;
}
