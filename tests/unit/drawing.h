/* Pages drawn for a test, and what other programs say of the file: qpdf and
 * poppler's tools share nothing with what wrote it. */
#ifndef SHEAF_TESTS_UNIT_DRAWING_H
#define SHEAF_TESTS_UNIT_DRAWING_H

#include "unit/test.h"

#include "base/text.h"
#include "draw/output.h"
#include "draw/pdf.h"
#include "model/typeface.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#define ACCENTS    "\xC5\xA1 \xC3\xB3 \xC5\xB5 \xC4\x9F \xC5\x81 \xCE\xA9" /* š ó ŵ ğ Ł Ω */
#define POINTS(mm) ((mm)*72.0 / 25.4)

typedef struct Bench {
  Run run;
  Pages pages;
  char folder[64];
  const char *file; /* the drawing, once drawn */
} Bench;

static inline int set_up(void **state) {
  Bench *bench = calloc(1, sizeof *bench);
  bench->run = run_new();
  strcpy(bench->folder, "/tmp/sheaf-draw-XXXXXX");
  if (mkdtemp(bench->folder) == NULL) return 1;
  bench->file = arena_printf(bench->run.arena, "%s/a.pdf", bench->folder);
  bench->pages.width = MM(210);
  bench->pages.height = MM(297);
  *state = bench;
  return 0;
}

static inline int tear_down(void **state) {
  Bench *bench = *state;
  int left = system(arena_printf(bench->run.arena, "rm -r %s", bench->folder));
  run_free(&bench->run);
  free(bench);
  return left;
}

/* What a command says of the drawing, whose path stands between before and after. */
static inline const char *ask(Bench *bench, const char *before, const char *after) {
  Text said = text_new(bench->run.arena);
  FILE *pipe =
      popen(arena_printf(bench->run.arena, "%s %s %s 2>&1", before, bench->file, after), "r");
  assert_non_null(pipe);
  char piece[4096];
  size_t got;
  while ((got = fread(piece, 1, sizeof piece, pipe)) > 0) text_add_n(&said, piece, got);
  pclose(pipe);
  return text_done(&said);
}

static inline void assert_says(const char *said, const char *wanted) {
  if (strstr(said, wanted) == NULL) fail_msg("\"%s\" is not in:\n%s", wanted, said);
}

static inline size_t add_page(Bench *bench) {
  vec_push(bench->run.arena, &bench->pages.list, ((Page){.label = "1 of 1"}));
  return bench->pages.list.n - 1;
}

/* A mark on the last page, lengths in mm. */
static inline Mark *add(Bench *bench, MarkKind kind, double x, double y, double x2, double y2) {
  if (bench->pages.list.n == 0) add_page(bench);
  Page *page = &bench->pages.list.at[bench->pages.list.n - 1];
  Mark mark = {.kind = kind, .x = MM(x), .y = MM(y), .x2 = MM(x2), .y2 = MM(y2), .group = -1};
  vec_push(bench->run.arena, &page->marks, mark);
  return &page->marks.at[page->marks.n - 1];
}

static inline Mark *add_text(Bench *bench, double x, double y, Face face, const char *text) {
  Mark *mark = add(bench, MARK_TEXT, x, y, 0, 0);
  mark->face = face;
  mark->size = MM(5);
  mark->text = text;
  return mark;
}

static inline void draw(Bench *bench) {
  Drawing drawing = draw_pdf(&bench->run, &bench->pages);
  assert_null(drawing.trouble);
  assert_null(output_write(bench->run.arena, bench->file, drawing.bytes, drawing.size));
}

#define ON_BENCH(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)

#endif
