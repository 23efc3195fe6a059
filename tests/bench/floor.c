/* What a packet costs against the least it can cost: the events of all its files
 * read, and its finished pages drawn. bench/floor BUILD LIBRARY TIMES.
 * Both are timed in turn, so that what the machine does else falls on both. */
#include "compile.h"
#include "draw/pdf.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <yaml.h>

#define TIMES_MOST 1000

typedef struct Times {
  double whole[TIMES_MOST], floor[TIMES_MOST], draw[TIMES_MOST];
} Times;

static double now(void) {
  struct timespec at;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &at);
  return (double)at.tv_sec * 1e3 + (double)at.tv_nsec / 1e6;
}

static Pages *compile(Run *run, const char *build, const char *library, Compiled *compiled) {
  Request request = {.build = build};
  vec_push(run->arena, &request.libraries, library);
  *compiled = compile_check(run, &request);
  if (!compiled->job || findings_refuse(run->findings)) exit(2);
  compile_packet(run, &request, compiled);
  return compiled->pages;
}

static void draw(Run *run, const Pages *pages) {
  if (draw_pdf(run, pages).trouble) exit(2);
}

static double time_whole(const char *build, const char *library) {
  double start = now();
  Arena *arena = arena_new();
  Run run = {arena, findings_new(arena)};
  Compiled compiled;
  draw(&run, compile(&run, build, library, &compiled));
  arena_free(arena);
  return now() - start;
}

static void read_events(const Source *source) {
  yaml_parser_t parser;
  if (!yaml_parser_initialize(&parser)) exit(2);
  yaml_parser_set_input_string(&parser, (const unsigned char *)source->text, source->size);
  for (bool more = true; more;) {
    yaml_event_t event;
    if (!yaml_parser_parse(&parser, &event)) exit(2);
    more = event.type != YAML_STREAM_END_EVENT;
    yaml_event_delete(&event);
  }
  yaml_parser_delete(&parser);
}

/* Reading and drawing; *drawn: the latter's part. */
static double time_floor(const Library *library, const Pages *pages, double *drawn) {
  double start = now();
  for (size_t i = 0; i < library->list.n; i++) read_events(library->list.at[i]->at.source);
  double read = now();
  Arena *arena = arena_new();
  Run run = {arena, findings_new(arena)};
  draw(&run, pages);
  arena_free(arena);
  *drawn = now() - read;
  return now() - start;
}

static int compare(const void *a, const void *b) {
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static double median(double *times, size_t n) {
  qsort(times, n, sizeof *times, compare);
  return times[n / 2];
}

int main(int argc, char **argv) {
  if (argc != 4) return 2;
  size_t n = strtoul(argv[3], NULL, 10);
  if (n == 0 || n > TIMES_MOST) return 2;
  Arena *arena = arena_new();
  Run run = {arena, findings_new(arena)};
  Compiled compiled;
  Pages *pages = compile(&run, argv[1], argv[2], &compiled);
  Times *times = ARENA_NEW(arena, Times);
  for (size_t i = 0; i < n; i++) {
    times->whole[i] = time_whole(argv[1], argv[2]);
    times->floor[i] = time_floor(compiled.library, pages, &times->draw[i]);
  }
  double whole = median(times->whole, n), least = median(times->floor, n);
  double drawn = median(times->draw, n);
  printf("%zu pages: %.1f ms, floor %.1f ms (reading %.1f, drawing %.1f), ratio %.2f\n",
         pages->list.n, whole, least, least - drawn, drawn, whole / least);
  arena_free(arena);
  return 0;
}
