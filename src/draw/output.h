/* Files written whole or not at all, and older ones set aside. */
#ifndef SHEAF_DRAW_OUTPUT_H
#define SHEAF_DRAW_OUTPUT_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

/* Puts the bytes at path by way of a new file beside it, so that a reader sees
 * the old file or the whole new one. "-" is standard output; a device or a pipe
 * is written to as it is. Answers NULL, or what went wrong: "packet.pdf cannot
 * be written: No space left on device". Nothing is left behind then. */
const char *output_write(Arena *arena, const char *path, const void *bytes, size_t size);

/* Renames the file at path, if there is one, to NAME.superseded.pdf, or
 * NAME.superseded-2.pdf and so on where that is taken; never over another file.
 * became: its new path, NULL when there was no file (or path is "-"). Answers
 * NULL, or what went wrong. */
const char *output_set_aside(Arena *arena, const char *path, const char **became);

/* Whose file stands at path: nobody's (none, an empty one, no regular file, "-"), one this
 * program wrote (a packet as PDF, text or pages), or somebody else's, which
 * must stay as it is; so must one that cannot be read. */
typedef enum OutputOwner { OUTPUT_NOBODY, OUTPUT_OWN, OUTPUT_FOREIGN, OUTPUT_UNREAD } OutputOwner;

#define OUTPUT_JOB_MOST 64 /* characters of a job number */

typedef struct OutputFile {
  OutputOwner owner;
  char job[OUTPUT_JOB_MOST + 1]; /* of a packet as PDF or text; "": the file does not tell */
  bool completed;                /* a PDF with readings */
} OutputFile;

OutputFile output_look(const char *path);

#endif
