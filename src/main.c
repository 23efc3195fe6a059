/* The command line: what was asked, and the exit status. */
#include "commands.h"

#include <getopt.h>
#include <stdio.h>
#include <string.h>

#ifndef SHEAF_LIBRARY
#define SHEAF_LIBRARY "/usr/local/share/sheaf"
#endif

static const char usage[] =
    "usage: sheaf packet BUILD... [-o PATH]   print the work packet of each build\n"
    "       sheaf check BUILD...              everything but the drawing: values, limits, "
    "findings\n"
    "       sheaf show BUILD [QUANTITY...]    where a value comes from and whose sheet limits it\n"
    "       sheaf list [KIND] [WORD]          what the library holds\n"
    "       sheaf start STARTER FILE          a build to fill in\n"
    "\n"
    "  -o, --output PATH     a file, or a folder for several builds (default: JOB.pdf here)\n"
    "      --library DIR     a library folder that comes before the one installed; repeatable\n"
    "      --paper a4|letter\n"
    "      --as pdf|text|pages\n"
    "      --order           with show: why each step stands where it does\n"
    "      --findings text|json\n"
    "      --help, --version\n"
    "\n"
    "Exit status: 0 done; 1 refused; 2 the input cannot be read, or wrong use;\n"
    "3 the output cannot be written.\n";

static const struct option long_options[] = {
    {"output", required_argument, NULL, 'o'},
    {"library", required_argument, NULL, 'l'},
    {"paper", required_argument, NULL, 'p'},
    {"as", required_argument, NULL, 'a'},
    {"findings", required_argument, NULL, 'f'},
    {"order", no_argument, NULL, 'r'},
    {"help", no_argument, NULL, 'h'},
    {"version", no_argument, NULL, 'v'},
    {NULL, 0, NULL, 0},
};

static int wrong_use(const char *what, const char *word) {
  fprintf(stderr, "sheaf: %s%s%s\n\n%s", what, word ? ": " : "", word ? word : "", usage);
  return EXIT_UNREADABLE;
}

/* A word out of a few, or wrong use. */
static bool is_one_of(const char *word, const char *a, const char *b, const char *c) {
  return !strcmp(word, a) || !strcmp(word, b) || (c && !strcmp(word, c));
}

/* -1: go on. */
static int read_options(int argc, char **argv, Arena *arena, Command *command) {
  for (int option; (option = getopt_long(argc, argv, "o:h", long_options, NULL)) != -1;) {
    switch (option) {
    case 'o':
      command->output = optarg;
      break;
    case 'l':
      vec_push(arena, &command->libraries, optarg);
      break;
    case 'p':
      command->paper = optarg;
      break;
    case 'a':
      command->as = optarg;
      break;
    case 'f':
      command->findings = optarg;
      break;
    case 'r':
      command->order = true;
      break;
    case 'h':
      fputs(usage, stdout);
      return EXIT_DONE;
    case 'v':
      puts(SHEAF_PROGRAM);
      return EXIT_DONE;
    default:
      fputs(usage, stderr);
      return EXIT_UNREADABLE;
    }
  }
  if (command->paper && !is_one_of(command->paper, "a4", "letter", NULL))
    return wrong_use("--paper is a4 or letter", command->paper);
  if (!is_one_of(command->as, "pdf", "text", "pages"))
    return wrong_use("--as is pdf, text or pages", command->as);
  if (!is_one_of(command->findings, "text", "json", NULL))
    return wrong_use("--findings is text or json", command->findings);
  vec_push(arena, &command->libraries, SHEAF_LIBRARY);
  for (int i = optind + 1; i < argc; i++) vec_push(arena, &command->words, argv[i]);
  return -1;
}

typedef struct Verb {
  const char *name;
  size_t least;
  int (*run)(const Command *command);
} Verb;

static const Verb verbs[] = {
    {"packet", 1, command_packet}, {"check", 1, command_check}, {"show", 1, command_show},
    {"list", 0, command_list},     {"start", 2, command_start},
};

static const Verb *find_verb(const char *name) {
  for (size_t i = 0; i < sizeof verbs / sizeof *verbs; i++)
    if (!strcmp(name, verbs[i].name)) return &verbs[i];
  return NULL;
}

int main(int argc, char **argv) {
  Arena *arena = arena_new();
  Command command = {.as = "pdf", .findings = "text"};
  int status = read_options(argc, argv, arena, &command);
  if (status < 0) {
    const char *name = optind < argc ? argv[optind] : NULL;
    const Verb *verb = name ? find_verb(name) : NULL;
    if (!verb)
      status = wrong_use(name ? "no such command" : "say what to do", name);
    else if (command.words.n < verb->least)
      status = wrong_use("name the file", name);
    else
      status = verb->run(&command);
  }
  arena_free(arena);
  if (fflush(stdout) != 0) status = EXIT_UNWRITTEN;
  return status;
}
