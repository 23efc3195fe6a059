/* Files and folders as the operating system has them. */
#ifndef SHEAF_FILES_H
#define SHEAF_FILES_H

#include "diag/finding.h"

typedef enum FileState { FILE_READ, FILE_ABSENT, FILE_REFUSED } FileState;

/* The whole file, NUL-terminated beyond size. REFUSED after a finding
 * (no-file, too-big): a folder, no permission, an error while reading. */
FileState file_read(Run *run, const char *path, const char **text, size_t *size);
bool file_is_folder(const char *path);
/* Names in a folder that end in ".yaml", without it, in order of the alphabet. */
void folder_ids(Run *run, const char *path, Words *out);
/* Why folder/id.yaml is not found though something like it is there, with what to do: another
 * ending, capitals, a link to nowhere. NULL: nothing like it. */
const char *folder_beside(Run *run, const char *path, const char *id);

#endif
