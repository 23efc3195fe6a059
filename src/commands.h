/* What each word on the command line does. */
#ifndef SHEAF_COMMANDS_H
#define SHEAF_COMMANDS_H

#include "base/vec.h"

#include <stdbool.h>

enum { EXIT_DONE = 0, EXIT_REFUSED = 1, EXIT_UNREADABLE = 2, EXIT_UNWRITTEN = 3 };

typedef struct Command {
  Arena *arena;    /* as long as the call */
  Words words;     /* what stands after the verb */
  Words libraries; /* folders, the first wins; the last came with the program */
  const char *output, *paper, *as, *findings;
  const char *sheets; /* "torque,customer": these of the packet; NULL: all */
  bool duplex;        /* whatever the packet asks */
  const char *since_library;     /* folder, or NULL */
  const char *readings, *since; /* paths of a file of readings, of the build as issued before */
  bool order;
} Command;

/* Each answers the exit status. */
int command_packet(const Command *command);
int command_check(const Command *command);
int command_show(const Command *command);
int command_readings(const Command *command);
int command_list(const Command *command);
int command_start(const Command *command);
int command_language(const Command *command);

#endif
