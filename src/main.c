/* The command line: what was asked, and the exit status. */
#include "commands.h"
#include "files.h"

#include "base/near.h"
#include "base/text.h"
#include "model/packet.h"

#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifndef SHEAF_LIBRARY
#define SHEAF_LIBRARY "/usr/local/share/sheaf"
#endif

static const char usage[] =
    "usage: sheaf packet BUILD... [-o PATH]   print the work packet of each build\n"
    "       sheaf check BUILD...              everything but the drawing: values, limits, "
    "findings\n"
    "       sheaf show BUILD [NAME...]        where a value comes from and whose sheet limits it;\n"
    "                                         of a joint, whose torque holds\n"
    "       sheaf readings BUILD FILE         a file to write the readings of the packet in\n"
    "       sheaf list [KIND] [WORD]          what the library holds\n"
    "       sheaf start STARTER FILE          a build to fill in\n"
    "       sheaf language schema|keys|functions|findings   what may be written, what may be "
    "found\n"
    "\n"
    "Options of packet only: -o, --sheets, --as, --duplex. Each may be given once.\n"
    "  -o, --output PATH     a file, or a folder for several builds (default: JOB.pdf here)\n"
    "      --library DIR     a library folder that comes before the one installed; repeatable\n"
    "                        (then those in SHEAF_LIBRARY, parted by colons)\n"
    "      --readings FILE   with packet, check, show: what was measured and fitted\n"
    "      --since BUILD     the build as it was issued before: what changed is marked\n"
    "      --since-library DIR  a library folder as it was then; it comes first for that build\n"
    "      --paper a4|letter\n"
    "      --duplex          for both sides of the paper\n"
    "      --sheets ID,...   only these sheets of the packet, each page with its own number\n"
    "      --as pdf|text|pages\n"
    "      --order           with show: why each step stands where it does\n"
    "      --findings text|json\n"
    "      --help, --version\n"
    "\n"
    "Exit status: 0 done; 1 refused; 2 the input cannot be read, or wrong use;\n"
    "3 the output cannot be written.\n";

static const struct option long_options[] = {
    {"output", required_argument, NULL, 'o'},   {"library", required_argument, NULL, 'l'},
    {"paper", required_argument, NULL, 'p'},    {"duplex", no_argument, NULL, 'd'},
    {"sheets", required_argument, NULL, 't'},   {"as", required_argument, NULL, 'a'},
    {"findings", required_argument, NULL, 'f'}, {"readings", required_argument, NULL, 'm'},
    {"since", required_argument, NULL, 's'},    {"since-library", required_argument, NULL, 'b'},
    {"order", no_argument, NULL, 'r'},          {"help", no_argument, NULL, 'h'},
    {"version", no_argument, NULL, 'v'},        {NULL, 0, NULL, 0},
};

/* What stands before the text of an option: the letter is the one of long_options. */
static const char *option_said(int letter) {
  for (const struct option *option = long_options; option->name; option++)
    if (option->val == letter) return option->name;
  return "";
}

static int wrong_use(const char *what, const char *word) {
  fprintf(stderr, "sheaf: %s%s%s\n`sheaf --help` tells how it is called\n", what, word ? ": " : "",
          word ? word : "");
  return EXIT_UNREADABLE;
}

/* An option nobody knows, with the one that was probably meant; the page is for --help. */
static int unknown_option(Arena *arena, const char *word) {
  Words known = {0};
  for (const struct option *option = long_options; option->name; option++)
    vec_push(arena, &known, option->name);
  const char *name = text_starts(word, "--") ? word + 2 : word;
  const char *near = near_word(arena_text(arena, name, strcspn(name, "=")), &known);
  fprintf(stderr, "sheaf: no such option: %s", word);
  if (near) fprintf(stderr, "; did you mean --%s?", near);
  fputs("\n`sheaf --help` lists them\n", stderr);
  return EXIT_UNREADABLE;
}

/* Two values where one is taken: which was meant, nobody knows. */
static int given_twice(int letter, const char *first, const char *second) {
  fprintf(stderr, "sheaf: --%s is given twice: %s and %s\n`sheaf --help` tells how it is called\n",
          option_said(letter), first, second);
  return EXIT_UNREADABLE;
}

/* c: NULL, there are only two. */
static bool is_one_of(const char *word, const char *a, const char *b, const char *c) {
  return !strcmp(word, a) || !strcmp(word, b) || (c && !strcmp(word, c));
}

/* Options that hold one text; NULL: another one. */
static const char **text_option(Command *command, int option) {
  switch (option) {
  case 'o':
    return &command->output;
  case 'p':
    return &command->paper;
  case 'a':
    return &command->as;
  case 't':
    return &command->sheets;
  case 'f':
    return &command->findings;
  case 'm':
    return &command->readings;
  case 's':
    return &command->since;
  case 'b':
    return &command->since_library;
  default:
    return NULL;
  }
}

/* Folders named on the command line come first, then those of the environment, parted by
 * colons, then the one that came along. */
static void add_libraries(Arena *arena, Command *command) {
  const char *named = getenv("SHEAF_LIBRARY");
  Words folders = {0};
  if (named) text_split(arena, named, ':', &folders);
  for (size_t i = 0; i < folders.n; i++)
    if (folders.at[i][0]) vec_push(arena, &command->libraries, folders.at[i]);
  vec_push(arena, &command->libraries, SHEAF_LIBRARY);
}

static bool holds_entries(Arena *arena, const char *folder) {
  return file_is_folder(arena_printf(arena, "%s/specs", folder)) ||
         file_is_folder(arena_printf(arena, "%s/templates", folder));
}

/* "my-shop/specs" or "my-shop/specs/parts" for my-shop: the folder above that is laid out like a
 * library, or NULL. */
static const char *library_above(Arena *arena, const char *path) {
  if (holds_entries(arena, path)) return NULL;
  size_t n = strlen(path);
  for (int up = 0; up < 2; up++) {
    while (n > 1 && path[n - 1] == '/') n--;
    size_t name = n;
    while (name > 0 && path[name - 1] != '/') name--;
    const char *last = arena_text(arena, path + name, n - name);
    n = name;
    if (!text_is(last, "specs") && !text_is(last, "templates")) continue;
    while (n > 1 && path[n - 1] == '/') n--;
    return n > 0 ? arena_text(arena, path, n) : ".";
  }
  return NULL;
}

/* -1: go on. */
static int judge_libraries(Arena *arena, const Command *command) {
  for (size_t i = 0; i + 1 < command->libraries.n; i++) {
    const char *path = command->libraries.at[i];
    if (!file_is_folder(path)) {
      fprintf(stderr, "sheaf: there is no library folder %s\n", path);
      return EXIT_UNREADABLE;
    }
    const char *above = library_above(arena, path);
    if (!above) continue;
    fprintf(stderr,
            "sheaf: %s holds no specs/ and no templates/, so it is no library; did you mean %s?\n",
            path, above);
    return EXIT_UNREADABLE;
  }
  return -1;
}

/* Where a variable of the shell was empty, the word before it would be misread. */
static const char *before_empty(int argc, char **argv) {
  for (int i = 1; i < argc; i++)
    if (!*argv[i]) return argv[i - 1];
  return NULL;
}

/* What does not depend on the verb. -1: go on. */
static int judge_options(const Command *command) {
  if (command->paper && !is_one_of(command->paper, "a4", "letter", NULL))
    return wrong_use("--paper is a4 or letter", command->paper);
  if (command->as && !is_one_of(command->as, "pdf", "text", "pages"))
    return wrong_use("--as is pdf, text or pages", command->as);
  if (command->findings && !is_one_of(command->findings, "text", "json", NULL))
    return wrong_use("--findings is text or json", command->findings);
  if (command->since_library && !command->since)
    return wrong_use("--since-library goes with --since", command->since_library);
  if (command->since_library && !file_is_folder(command->since_library)) {
    fprintf(stderr, "sheaf: there is no library folder %s\n", command->since_library);
    return EXIT_UNREADABLE;
  }
  return -1;
}

/* given: letters of the options that were met. -1: go on. */
static int read_options(int argc, char **argv, Arena *arena, Command *command, Text *given) {
  opterr = 0;
  const char *before = before_empty(argc, argv);
  if (before) return wrong_use("an empty word stands behind", before);
  for (int option; (option = getopt_long(argc, argv, ":o:h", long_options, NULL)) != -1;) {
    const char **text = text_option(command, option);
    text_add_n(given, &(char){(char)option}, 1);
    if (text) {
      if (*text) return given_twice(option, *text, optarg);
      *text = optarg;
      continue;
    }
    switch (option) {
    case 'l':
      vec_push(arena, &command->libraries, optarg);
      break;
    case 'r':
      command->order = true;
      break;
    case 'd':
      command->duplex = true;
      break;
    case 'h':
      fputs(usage, stdout);
      return EXIT_DONE;
    case 'v':
      puts(SHEAF_PROGRAM);
      return EXIT_DONE;
    case ':':
      return wrong_use("something is missing behind", argv[optind - 1]);
    default:
      return unknown_option(arena, argv[optind - 1]);
    }
  }
  int status = judge_options(command);
  if (status >= 0) return status;
  if (!command->as) command->as = "pdf";
  if (!command->findings) command->findings = "text";
  add_libraries(arena, command);
  status = judge_libraries(arena, command);
  if (status >= 0) return status;
  for (int i = optind + 1; i < argc; i++) vec_push(arena, &command->words, argv[i]);
  return -1;
}

typedef struct Verb {
  const char *name;
  size_t least;
  int (*run)(const Command *command);
  bool builds; /* its words are builds, of which readings and an earlier issue belong to one */
  const char *takes; /* letters of the options that do something there; --library always does */
} Verb;

static const Verb verbs[] = {
    {"packet", 1, command_packet, true, "olptadfmsb"}, {"check", 1, command_check, true, "lpfmsb"},
    {"show", 1, command_show, false, "lrfmsb"},        {"list", 0, command_list, false, "l"},
    {"readings", 2, command_readings, false, "lfsb"},  {"start", 2, command_start, false, "l"},
    {"language", 1, command_language, false, "l"},
};

/* An option that changes nothing was meant to change something. -1: go on. */
static int judge_given(const Verb *verb, const Command *command, const char *given) {
  for (; *given; given++) {
    if (strchr(verb->takes, *given)) continue;
    fprintf(stderr, "sheaf: --%s does nothing with %s\n`sheaf --help` tells how it is called\n",
            option_said(*given), verb->name);
    return EXIT_UNREADABLE;
  }
  if (command->order && command->words.n > 1)
    return wrong_use("--order shows every step; it takes no name", command->words.at[1]);
  if (command->since && !command->since_library && command->words.n &&
      text_is(command->since, command->words.at[0]))
    return wrong_use("--since names the build itself; name it as it was issued before, or with "
                     "--since-library the library as it was",
                     command->since);
  return -1;
}

static const Verb *find_verb(const char *name) {
  for (size_t i = 0; i < COUNT_OF(verbs); i++)
    if (!strcmp(name, verbs[i].name)) return &verbs[i];
  return NULL;
}

static int no_such_verb(Arena *arena, const char *name) {
  Words names = {0};
  for (size_t i = 0; i < COUNT_OF(verbs); i++) vec_push(arena, &names, verbs[i].name);
  const char *near = near_word(name, &names);
  if (!near) return wrong_use("no such command", name);
  fprintf(stderr, "sheaf: no such command: %s; did you mean %s?\n`sheaf --help` lists them\n", name,
          near);
  return EXIT_UNREADABLE;
}

int main(int argc, char **argv) {
  Arena *arena = arena_new();
  Command command = {.arena = arena};
  Text given = text_new(arena);
  int status = read_options(argc, argv, arena, &command, &given);
  if (status < 0) {
    const char *name = optind < argc ? argv[optind] : NULL;
    const Verb *verb = name ? find_verb(name) : NULL;
    if (!verb)
      status = name ? no_such_verb(arena, name) : wrong_use("say what to do", NULL);
    else if (command.words.n < verb->least)
      status = wrong_use("name the file", name);
    else if (verb->builds && command.words.n > 1 && (command.readings || command.since))
      status = wrong_use("--readings and --since go with one build", NULL);
    else
      status = judge_given(verb, &command, text_done(&given));
    if (status < 0) status = verb->run(&command);
  }
  arena_free(arena);
  if (fflush(stdout) != 0 || ferror(stdout)) {
    fputs("sheaf: standard output cannot be written\n", stderr);
    status = EXIT_UNWRITTEN;
  }
  return status;
}
