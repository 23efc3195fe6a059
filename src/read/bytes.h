/* The bytes of a file before anything is made of them. */
#ifndef SHEAF_READ_BYTES_H
#define SHEAF_READ_BYTES_H

#include "diag/finding.h"

#include <stdbool.h>
#include <stdint.h>

/* UTF-8 text whose lines and blanks are what they look like? Reports not-text,
 * too-big or (tabs in the indentation) not-yaml. */
bool bytes_are_text(Run *run, const Source *source);

/* What is wrong with a character anywhere in a value ("an invisible
 * character"), or NULL when nothing is. */
const char *bytes_trouble(uint32_t code);

#endif
