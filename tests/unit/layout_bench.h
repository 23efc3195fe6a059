/* What the tests of layout share: a packet set on pages, and looking for marks on them. */
#ifndef SHEAF_TESTS_UNIT_LAYOUT_BENCH_H
#define SHEAF_TESTS_UNIT_LAYOUT_BENCH_H

#include "unit/test.h"

#include "unit/layout_sample.h"

#include "base/text.h"
#include "model/typeface.h"

#include <stdlib.h>

#define A4     MM(210), MM(297)
#define LETTER MM(215.9), MM(279.4)

typedef struct Bench {
  Run run;
  Sample sample;
  Pages *pages;
} Bench;

static inline int set_up(void **state) {
  Bench *bench = calloc(1, sizeof *bench);
  bench->run = run_new();
  bench->sample = sample_full(bench->run.arena);
  *state = bench;
  return 0;
}

static inline int tear_down(void **state) {
  Bench *bench = *state;
  run_free(&bench->run);
  free(bench);
  return 0;
}

static inline void set_on(Bench *bench, Um width, Um height) {
  bench->pages = layout_packet(&bench->run, &bench->sample.packet, width, height);
}

typedef struct Extent {
  Um x, y, x2, y2;
} Extent;

static inline Extent around_points(const Mark *mark) {
  Extent e = {INT32_MAX, INT32_MAX, INT32_MIN, INT32_MIN};
  for (uint32_t i = 0; i < mark->point_count; i++) {
    const Point *p = &mark->points[i];
    e = (Extent){p->x < e.x ? p->x : e.x, p->y < e.y ? p->y : e.y, p->x > e.x2 ? p->x : e.x2,
                 p->y > e.y2 ? p->y : e.y2};
  }
  return e;
}

/* All the ink of a mark; of a text from the height of its capitals to its descent. */
static inline Extent extent_of(const Mark *mark) {
  Extent e = {mark->x, mark->y, mark->x, mark->y};
  Um half = mark->width / 2;
  switch (mark->kind) {
  case MARK_LINE:
  case MARK_RECTANGLE:
  case MARK_LINK:
    e = (Extent){mark->x < mark->x2 ? mark->x : mark->x2, mark->y < mark->y2 ? mark->y : mark->y2,
                 mark->x > mark->x2 ? mark->x : mark->x2, mark->y > mark->y2 ? mark->y : mark->y2};
    break;
  case MARK_POLYGON:
    e = around_points(mark);
    break;
  case MARK_CIRCLE:
  case MARK_ARC:
    e = (Extent){mark->x - mark->x2, mark->y - mark->x2, mark->x + mark->x2, mark->y + mark->x2};
    break;
  case MARK_TEXT: {
    const FaceInfo *face = face_info(mark->face);
    e.x2 = mark->x + face_width(mark->face, mark->size, mark->text);
    e.y = mark->y - (Um)((int64_t)mark->size * face->digit_height / 1000);
    e.y2 = mark->y + (Um)((int64_t)mark->size * face->descent / 1000);
    return e;
  }
  }
  return (Extent){e.x - half, e.y - half, e.x2 + half, e.y2 + half};
}

typedef void EachMark(Bench *bench, const Mark *mark, size_t page);

static inline void each_mark(Bench *bench, EachMark *look) {
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++)
      look(bench, &bench->pages->list.at[i].marks.at[j], i);
}

static inline void is_within_frame(Bench *bench, const Mark *mark, size_t page) {
  (void)page;
  Extent e = extent_of(mark);
  assert_true(e.x >= MM(20));
  assert_true(e.x2 <= MM(198));
  assert_true(e.y >= MM(12));
  assert_true(e.y2 <= bench->pages->height - MM(12));
  Um top = (bench->pages->height - MM(255)) / 2;
  assert_true(e.y >= top && e.y2 <= top + MM(255));
}

static inline const Mark *find_text(const Bench *bench, const char *begins, size_t *page) {
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++) {
      const Mark *mark = &bench->pages->list.at[i].marks.at[j];
      if (mark->kind != MARK_TEXT || !text_starts(mark->text, begins)) continue;
      if (page) *page = i;
      return mark;
    }
  return NULL;
}

static inline size_t count_ticks(const Bench *bench) {
  size_t count = 0;
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++) {
      const Mark *mark = &bench->pages->list.at[i].marks.at[j];
      Extent e = extent_of(mark);
      count += mark->kind == MARK_RECTANGLE && !mark->filled && e.x2 - e.x == e.y2 - e.y;
    }
  return count;
}

#define LAYOUT_TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)

#endif
