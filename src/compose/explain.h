/* Between the files that tell how a value or joint came about (`sheaf show`). */
#ifndef SHEAF_COMPOSE_EXPLAIN_H
#define SHEAF_COMPOSE_EXPLAIN_H

#include "base/text.h"
#include "model/job.h"

/* Whose sheet says it, and where. */
void show_voice(Text *out, const char *what, const Voice *voice);
void show_joint(Text *out, const JobJoint *joint);

#endif
