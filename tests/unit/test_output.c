/* Files written whole or not at all, older ones set aside, those of others left. */
#include "unit/test.h"

#include "draw/output.h"

#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct Room {
  Arena *arena;
  char folder[64];
} Room;

static int open_room(void **state) {
  Room *room = calloc(1, sizeof *room);
  room->arena = arena_new();
  strcpy(room->folder, "/tmp/sheaf-output-XXXXXX");
  *state = room;
  return mkdtemp(room->folder) == NULL;
}

static const char *in_room(Room *room, const char *name) {
  return arena_printf(room->arena, "%s/%s", room->folder, name);
}

static size_t files_in(Room *room, bool remove_them) {
  size_t count = 0;
  DIR *folder = opendir(room->folder);
  for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
    if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0) continue;
    count++;
    if (remove_them) unlink(in_room(room, entry->d_name));
  }
  closedir(folder);
  return count;
}

static int close_room(void **state) {
  Room *room = *state;
  files_in(room, true);
  int left = rmdir(room->folder);
  arena_free(room->arena);
  free(room);
  return left;
}

static void assert_holds(const char *path, const char *text) {
  char bytes[64] = {0};
  FILE *file = fopen(path, "r");
  assert_non_null(file);
  size_t got = fread(bytes, 1, sizeof bytes - 1, file);
  fclose(file);
  assert_int_equal(got, strlen(text));
  assert_string_equal(bytes, text);
}

static void writes_and_replaces(void **state) {
  Room *room = *state;
  const char *path = in_room(room, "packet.pdf");
  assert_null(output_write(room->arena, path, "first", 5));
  assert_holds(path, "first");
  assert_null(output_write(room->arena, path, "the second", 10));
  assert_holds(path, "the second");
  assert_int_equal(files_in(room, false), 1);
  struct stat status;
  assert_int_equal(stat(path, &status), 0);
  assert_true((status.st_mode & 0600) == 0600 && (status.st_mode & 0111) == 0);
}

static void a_missing_folder_is_told(void **state) {
  Room *room = *state;
  const char *path = in_room(room, "nowhere/packet.pdf");
  const char *said = output_write(room->arena, path, "x", 1);
  assert_string_equal(
      said, arena_printf(room->arena, "%s cannot be written: No such file or directory", path));
}

static void a_folder_is_not_written_over(void **state) {
  Room *room = *state;
  const char *said = output_write(room->arena, room->folder, "x", 1);
  assert_non_null(said);
  assert_non_null(strstr(said, "Is a directory"));
}

static void a_full_device_is_told(void **state) {
  Room *room = *state;
  const char *said = output_write(room->arena, "/dev/full", "x", 1);
  assert_string_equal(said, "/dev/full cannot be written: No space left on device");
  struct stat status;
  assert_int_equal(stat("/dev/full", &status), 0);
  assert_true(S_ISCHR(status.st_mode)); /* still the device */
}

static void full_standard_output_is_told(void **state) {
  Room *room = *state;
  fflush(stdout);
  int kept = dup(STDOUT_FILENO), full = open("/dev/full", O_WRONLY);
  dup2(full, STDOUT_FILENO);
  const char *said = output_write(room->arena, "-", "x", 1);
  dup2(kept, STDOUT_FILENO);
  close(kept);
  close(full);
  assert_string_equal(said, "standard output cannot be written: No space left on device");
}

static void standard_output_gets_the_bytes(void **state) {
  Room *room = *state;
  const char *path = in_room(room, "out");
  fflush(stdout);
  int kept = dup(STDOUT_FILENO), file = open(path, O_WRONLY | O_CREAT, 0600);
  dup2(file, STDOUT_FILENO);
  const char *said = output_write(room->arena, "-", "a\0b", 3);
  dup2(kept, STDOUT_FILENO);
  close(kept);
  close(file);
  assert_null(said);
  struct stat status;
  assert_int_equal(stat(path, &status), 0);
  assert_int_equal(status.st_size, 3);
}

/* A disk that fills up half way: the old file stays, nothing else is left. */
static void a_failed_write_leaves_the_old_file(void **state) {
  Room *room = *state;
  const char *path = in_room(room, "packet.pdf");
  char *much = calloc(1, 100000);
  assert_null(output_write(room->arena, path, "old", 3));
  struct rlimit before, small;
  assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
  small = before;
  small.rlim_cur = 50000;
  signal(SIGXFSZ, SIG_IGN);
  setrlimit(RLIMIT_FSIZE, &small);
  const char *said = output_write(room->arena, path, much, 100000);
  setrlimit(RLIMIT_FSIZE, &before);
  free(much);
  assert_string_equal(said,
                      arena_printf(room->arena, "%s cannot be written: File too large", path));
  assert_holds(path, "old");
  assert_int_equal(files_in(room, false), 1);
}

static void a_left_over_part_is_not_touched(void **state) {
  Room *room = *state;
  const char *part = in_room(room, arena_printf(room->arena, ".sheaf-%ld-0.part", (long)getpid()));
  assert_null(output_write(room->arena, part, "theirs", 6)); /* itself by way of another name */
  assert_null(output_write(room->arena, in_room(room, "packet.pdf"), "ours", 4));
  assert_holds(part, "theirs");
  assert_holds(in_room(room, "packet.pdf"), "ours");
}

static void a_link_stays_a_link(void **state) {
  Room *room = *state;
  const char *path = in_room(room, "packet.pdf"), *link = in_room(room, "link.pdf");
  assert_null(output_write(room->arena, path, "old", 3));
  assert_int_equal(symlink("packet.pdf", link), 0);
  assert_null(output_write(room->arena, link, "new", 3));
  assert_holds(path, "new");
  struct stat status;
  assert_int_equal(lstat(link, &status), 0);
  assert_true(S_ISLNK(status.st_mode));
}

static void sets_aside_under_free_names(void **state) {
  Room *room = *state;
  const char *path = in_room(room, "job 12.pdf"), *became;
  const char *const names[] = {"job 12.superseded.pdf", "job 12.superseded-2.pdf",
                               "job 12.superseded-3.pdf"};
  const char *const texts[] = {"a", "b", "c"};
  for (int i = 0; i < 3; i++) {
    assert_null(output_write(room->arena, path, texts[i], 1));
    assert_null(output_set_aside(room->arena, path, &became));
    assert_string_equal(became, in_room(room, names[i]));
  }
  for (int i = 0; i < 3; i++) assert_holds(in_room(room, names[i]), texts[i]);
  assert_int_equal(files_in(room, false), 3);
}

static void nothing_to_set_aside(void **state) {
  Room *room = *state;
  const char *became = "x";
  assert_null(output_set_aside(room->arena, in_room(room, "packet.pdf"), &became));
  assert_null(became);
  assert_null(output_set_aside(room->arena, in_room(room, "no/packet.pdf"), &became));
  assert_null(became);
  assert_null(output_set_aside(room->arena, "-", &became));
  assert_null(became);
  assert_null(output_set_aside(room->arena, "/dev/full", &became));
  assert_null(became);
}

/* A dot in the folder's name is not the start of an extension. */
static void a_name_without_an_extension(void **state) {
  Room *room = *state;
  const char *folder = in_room(room, "v1.2");
  assert_int_equal(mkdir(folder, 0700), 0);
  const char *path = arena_printf(room->arena, "%s/packet", folder), *became;
  assert_null(output_write(room->arena, path, "x", 1));
  assert_null(output_set_aside(room->arena, path, &became));
  assert_string_equal(became, arena_printf(room->arena, "%s.superseded", path));
  unlink(became);
  rmdir(folder);
}

int main(void) {
  const struct CMUnitTest tests[] = {
#define IN_ROOM(test) cmocka_unit_test_setup_teardown(test, open_room, close_room)
      IN_ROOM(writes_and_replaces),
      IN_ROOM(a_missing_folder_is_told),
      IN_ROOM(a_folder_is_not_written_over),
      IN_ROOM(a_full_device_is_told),
      IN_ROOM(full_standard_output_is_told),
      IN_ROOM(standard_output_gets_the_bytes),
      IN_ROOM(a_failed_write_leaves_the_old_file),
      IN_ROOM(a_left_over_part_is_not_touched),
      IN_ROOM(a_link_stays_a_link),
      IN_ROOM(sets_aside_under_free_names),
      IN_ROOM(nothing_to_set_aside),
      IN_ROOM(a_name_without_an_extension),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
