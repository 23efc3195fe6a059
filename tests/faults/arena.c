/* Every piece of memory of a compile refused in turn, up to the written file:
 * faults/arena BUILD LIBRARY FOLDER MOST. The packet in FOLDER stays the older one
 * and nothing is left beside it. MOST: so many of them, evenly spread. */
#include "compile.h"
#include "draw/output.h"
#include "draw/pdf.h"

#include <dirent.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char older[] = "the older packet\n";

static void jump(void *context) {
  longjmp(*(jmp_buf *)context, 1);
}

static void write_packet(Arena *arena, const char *build, const char *library, const char *path) {
  Run run = {arena, findings_new(arena)};
  Request request = {.build = build};
  vec_push(arena, &request.libraries, library);
  Compiled compiled = compile_check(&run, &request);
  if (!compiled.job || findings_refuse(run.findings)) exit(2);
  compile_packet(&run, &request, &compiled);
  Drawing drawing = draw_pdf(&run, compiled.pages);
  if (drawing.trouble || output_write(arena, path, drawing.bytes, drawing.size)) exit(2);
}

/* False when memory ran out at the nth piece; 0: never. */
static bool is_written(size_t nth, const char *build, const char *library, const char *path) {
  jmp_buf out_of_memory;
  Arena *volatile arena = arena_new();
  bool volatile whole = false;
  arena_on_exhausted(arena, jump, &out_of_memory);
  arena_fail_after(arena, nth);
  if (setjmp(out_of_memory) == 0) {
    write_packet(arena, build, library, path);
    whole = true;
  }
  arena_free(arena);
  return whole;
}

static bool put_older(const char *path) {
  FILE *file = fopen(path, "wb");
  return file && fputs(older, file) >= 0 && fclose(file) == 0;
}

static bool is_older(const char *path) {
  char text[64] = "";
  FILE *file = fopen(path, "rb");
  if (!file) return false;
  size_t n = fread(text, 1, sizeof text - 1, file);
  fclose(file);
  return n == strlen(older) && strcmp(text, older) == 0;
}

static size_t count_files(const char *folder) {
  DIR *files = opendir(folder);
  size_t n = 0;
  while (files && readdir(files)) n++;
  if (files) closedir(files);
  return n - 2; /* . and .. */
}

int main(int argc, char **argv) {
  if (argc != 5) return 2;
  const char *folder = argv[3];
  char path[4096];
  snprintf(path, sizeof path, "%s/p.pdf", folder);
  /* How many there are: doubled until nothing is refused, then halved. */
  size_t low = 1, high = 1024;
  while (!is_written(high, argv[1], argv[2], path)) low = high, high *= 2;
  while (high - low > 1) {
    size_t middle = low + (high - low) / 2;
    if (is_written(middle, argv[1], argv[2], path))
      high = middle;
    else
      low = middle;
  }
  size_t most = strtoul(argv[4], NULL, 10), all = high - 1, tried = 0, broken = 0;
  size_t step = all > most ? all / most : 1;
  if (!put_older(path)) return 2;
  for (size_t nth = 1; nth <= all; nth += nth + 50 < all && nth + step < all ? step : 1) {
    tried++;
    bool whole = is_written(nth, argv[1], argv[2], path);
    if (!whole && is_older(path) && count_files(folder) == 1) continue;
    printf("  piece %zu of %zu: %s\n", nth, all, whole ? "written all the same" : "not as it was");
    broken++;
    if (!put_older(path)) return 2;
  }
  printf("pieces of memory: %zu of %zu faults, %zu broken\n", tried, all, broken);
  return broken > 0;
}
