/* Why an outline could not be made out, in plain words. */
#ifndef SHEAF_READ_PROBLEM_H
#define SHEAF_READ_PROBLEM_H

#include "read/reader.h"

/* After yaml_parser_parse failed: one finding with the likely slip and its
 * cure. Silent when a trap on the way there was already reported. */
void problem_report(Reader *reader);

#endif
