/* A file of readings: what was measured and decided with one packet. */
#ifndef SHEAF_LOAD_READINGS_H
#define SHEAF_LOAD_READINGS_H

#include "load/load.h"
#include "model/node.h"
#include "model/readings.h"

/* What stands for a value that nobody has entered yet. */
#define READING_NOT_GIVEN "not given"

/* Is nothing entered there, or something that was reported already? */
bool reading_left_out(const Node *node);

/* NULL after a finding when the file cannot be read or is none. Whether the boxes and
 * names exist is seen when it meets the packet. */
Readings *load_readings(Run *run, const LoadSource *source, const char *path);

#endif
