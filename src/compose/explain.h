/* Between the files that tell what values and joints come to, and how (`sheaf check`, `sheaf
 * show`). */
#ifndef SHEAF_COMPOSE_EXPLAIN_H
#define SHEAF_COMPOSE_EXPLAIN_H

#include "base/text.h"
#include "model/job.h"

/* "fits", "to be measured"; "" where nothing limits it. */
const char *outcome_word(const Job *job, const Quantity *quantity);
/* "no sheet gives piston.expansion or piston.hot_rise"; "" where its value is known. */
const char *lacks_print(Arena *arena, const Quantity *quantity);
/* Whose sheet says it, and where. */
void show_voice(Text *out, const char *what, const Voice *voice);
void show_joint(Text *out, const JobJoint *joint);

#endif
