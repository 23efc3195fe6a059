/* The bytes of a file before anything is made of them. */
#ifndef SHEAF_READ_BYTES_H
#define SHEAF_READ_BYTES_H

#include "diag/finding.h"

#include <stdbool.h>
#include <stdint.h>

/* UTF-8 text whose lines and blanks are what they look like? Reports not-text,
 * too-big or (tabs in the indentation) not-yaml. */
bool bytes_are_text(Run *run, const Source *source);

const char *bytes_trouble_rare(uint32_t code); /* of bytes_trouble, but for plain ASCII */
/* What is wrong with a character anywhere in a value ("an invisible
 * character"), or NULL when nothing is. */
static inline const char *bytes_trouble(uint32_t code) {
  return code >= ' ' && code < 0x7F ? NULL : bytes_trouble_rare(code);
}

#endif
