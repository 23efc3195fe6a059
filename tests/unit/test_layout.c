/* What must hold on every page of a packet with everything in it, on both papers. */
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

static int set_up(void **state) {
  Bench *bench = calloc(1, sizeof *bench);
  bench->run = run_new();
  bench->sample = sample_full(bench->run.arena);
  *state = bench;
  return 0;
}

static int tear_down(void **state) {
  Bench *bench = *state;
  run_free(&bench->run);
  free(bench);
  return 0;
}

static void set_on(Bench *bench, Um width, Um height) {
  bench->pages = layout_packet(&bench->run, &bench->sample.packet, width, height);
}

typedef struct Extent {
  Um x, y, x2, y2;
} Extent;

static Extent around_points(const Mark *mark) {
  Extent e = {INT32_MAX, INT32_MAX, INT32_MIN, INT32_MIN};
  for (uint32_t i = 0; i < mark->point_count; i++) {
    const Point *p = &mark->points[i];
    e = (Extent){p->x < e.x ? p->x : e.x, p->y < e.y ? p->y : e.y, p->x > e.x2 ? p->x : e.x2,
                 p->y > e.y2 ? p->y : e.y2};
  }
  return e;
}

/* All the ink of a mark; of a text from the height of its capitals to its descent. */
static Extent extent_of(const Mark *mark) {
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

static void each_mark(Bench *bench, EachMark *look) {
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++)
      look(bench, &bench->pages->list.at[i].marks.at[j], i);
}

static void is_within_frame(Bench *bench, const Mark *mark, size_t page) {
  (void)page;
  Extent e = extent_of(mark);
  assert_true(e.x >= MM(20));
  assert_true(e.x2 <= MM(198));
  assert_true(e.y >= MM(12));
  assert_true(e.y2 <= bench->pages->height - MM(12));
  Um top = (bench->pages->height - MM(255)) / 2;
  assert_true(e.y >= top && e.y2 <= top + MM(255));
}

/* Paper 178 x 255 mm at most, 20 mm for binding, 12 mm at the other edges: docs, the paper. */
static void all_ink_is_within_the_frame(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  each_mark(bench, is_within_frame);
  set_on(bench, LETTER);
  each_mark(bench, is_within_frame);
}

static void both_papers_carry_the_same_pages(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  const Pages *a4 = bench->pages;
  set_on(bench, LETTER);
  assert_int_equal(a4->list.n, bench->pages->list.n);
  Um up = (MM(297) - MM(255)) / 2 - (MM(279.4) - MM(255)) / 2;
  for (size_t i = 0; i < a4->list.n; i++) {
    const Page *one = &a4->list.at[i], *other = &bench->pages->list.at[i];
    assert_int_equal(one->marks.n, other->marks.n);
    for (size_t j = 0; j < one->marks.n; j++) {
      Extent a = extent_of(&one->marks.at[j]), b = extent_of(&other->marks.at[j]);
      assert_int_equal(a.x, b.x);
      assert_true(abs(a.y - b.y - up) <= 1);
    }
  }
}

static void does_not_cross_text(const Page *page, size_t index) {
  Extent a = extent_of(&page->marks.at[index]);
  for (size_t i = index + 1; i < page->marks.n; i++) {
    if (page->marks.at[i].kind != MARK_TEXT) continue;
    Extent b = extent_of(&page->marks.at[i]);
    bool apart = a.x2 <= b.x + 5 || b.x2 <= a.x + 5 || a.y2 <= b.y || b.y2 <= a.y;
    if (!apart)
      print_error("\"%s\" and \"%s\"\n", page->marks.at[index].text, page->marks.at[i].text);
    assert_true(apart);
  }
}

static void no_text_stands_over_another(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++)
      if (bench->pages->list.at[i].marks.at[j].kind == MARK_TEXT)
        does_not_cross_text(&bench->pages->list.at[i], j);
}

static void is_legible(Bench *bench, const Mark *mark, size_t page) {
  (void)bench;
  (void)page;
  if (mark->kind == MARK_TEXT) {
    assert_true(mark->size >= MM(8 * 25.4 / 72) - 1);
    assert_true(utf8_count(mark->text) <= 120);
  } else if (mark->kind != MARK_LINK && !mark->filled) {
    assert_true(mark->width >= MM(0.5 * 25.4 / 72) - 1);
  }
}

static void type_and_rules_have_their_least_size(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  each_mark(bench, is_legible);
}

static const Mark *find_text(const Bench *bench, const char *begins, size_t *page) {
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++) {
      const Mark *mark = &bench->pages->list.at[i].marks.at[j];
      if (mark->kind != MARK_TEXT || !text_starts(mark->text, begins)) continue;
      if (page) *page = i;
      return mark;
    }
  return NULL;
}

static Um scaled(const Mark *mark, int thousandths) {
  return (Um)((int64_t)mark->size * thousandths / 1000);
}

/* x-height 2.3 mm: NASA CR-177605 gives 0.10 in at arm's length; digits 3.5 mm. */
static void steps_and_values_are_large_enough(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  const Mark *step = find_text(bench, "Fit the first circlip", NULL);
  assert_non_null(step);
  assert_true(scaled(step, face_info(step->face)->x_height) >= MM(2.3));
  static const char *const values[] = {"0.24", "83.395", "46", "-0.10"};
  for (size_t i = 0; i < sizeof values / sizeof *values; i++) {
    const Mark *value = find_text(bench, values[i], NULL);
    assert_non_null(value);
    assert_int_equal(value->face, FACE_FIGURES);
    assert_true(scaled(value, face_info(value->face)->digit_height) >= MM(3.5));
  }
}

static void lines_have_at_most_65_characters(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  const Mark *line = find_text(bench, "Gehaeuse", NULL);
  assert_non_null(line);
  assert_true(utf8_count(line->text) <= 65);
  line = find_text(bench, "Larger bore", NULL);
  assert_non_null(line);
  assert_true(utf8_count(line->text) <= 65);
}

/* Every group but those taller than a page stands on one page. */
static void groups_are_not_split(void **state) {
  Bench *bench = *state;
  Sample small = sample_new(bench->run.arena);
  sample_sheet(&small, "bench", "Bench sheets");
  for (int i = 0; i < 60; i++) {
    sample_group(&small);
    if (i % 4 == 0) sample_message(&small, SAFETY_WARNING, "spring");
    sample_step(&small, i % 3 ? "Do" : "Record", "Measure the height of the spring.");
    for (int j = 0; j < i % 5; j++)
      sample_measure(&small, "Height", "38.00", "38.50", "39.00", 1 + j % 3, 2, 2);
  }
  bench->sample = small;
  set_on(bench, A4);
  int page_of[60];
  for (int i = 0; i < 60; i++) page_of[i] = -1;
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++) {
      int group = bench->pages->list.at[i].marks.at[j].group;
      if (group < 0) continue;
      assert_true(group < 60);
      assert_true(page_of[group] == -1 || page_of[group] == (int)i);
      page_of[group] = (int)i;
    }
  for (int i = 0; i < 60; i++) assert_true(page_of[i] >= 0);
  assert_int_equal(bench->run.findings->list.n, 0);
}

static void keep_with_next_keeps(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "bench", "Bench sheets");
  for (int i = 0; i < 30; i++) {
    sample_group(&s);
    sample_heading(&s, 2, arena_printf(s.arena, "Head %d", i));
    s.group->keep_with_next = true;
    sample_group(&s);
    sample_step(&s, "Do", arena_printf(s.arena, "Foot %d", i));
    sample_block(&s, BLOCK_LINES, NULL)->count = 1 + i % 4;
  }
  bench->sample = s;
  set_on(bench, A4);
  assert_true(bench->pages->list.n > 3);
  for (int i = 0; i < 30; i++) {
    size_t head, foot;
    assert_non_null(find_text(bench, arena_printf(s.arena, "Head %d", i), &head));
    assert_non_null(find_text(bench, arena_printf(s.arena, "Foot %d", i), &foot));
    assert_int_equal(head, foot);
  }
}

static size_t count_boxes(const Page *page, Um width, Um height) {
  size_t count = 0;
  for (size_t i = 0; i < page->marks.n; i++) {
    const Mark *mark = &page->marks.at[i];
    if (mark->kind != MARK_RECTANGLE || mark->filled) continue;
    Extent e = extent_of(mark);
    count += e.x2 - e.x >= width && e.y2 - e.y >= height && e.y2 - e.y < MM(14);
  }
  return count;
}

/* A box: 9 mm high, 5.1 mm a character and 5 mm over. 83.400 is six characters, -0.10 five. */
static void numeric_boxes_have_room(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "bench", "Bench sheets");
  sample_group(&s);
  sample_measure(&s, "Bore", "83.395", "83.400", "83.410", 3, 2, 3);
  sample_group(&s);
  sample_measure(&s, "Offset", "-0.10", NULL, "0.10", 1, 1, 2);
  bench->sample = s;
  set_on(bench, A4);
  const Page *page = &bench->pages->list.at[0];
  assert_int_equal(count_boxes(page, MM(6 * 5.1 + 5) - 2, MM(9)), 3);
  assert_int_equal(count_boxes(page, MM(5 * 5.1 + 5) - 2, MM(9)), 4);
}

static void tick_boxes_are_six_millimetres(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  size_t count = 0;
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++) {
      const Mark *mark = &bench->pages->list.at[i].marks.at[j];
      if (mark->kind != MARK_RECTANGLE || mark->filled) continue;
      Extent e = extent_of(mark);
      if (e.x2 - e.x != e.y2 - e.y) continue;
      assert_true(e.x2 - e.x >= MM(6));
      count++;
    }
  /* 30 rows, 4 steps, a legend, 3 judged rows with in and out, 4 passes over 8 nuts */
  assert_int_equal(count, 30 + 4 + 1 + 3 * 2 + 4 * 8);
}

static void references_are_filled_and_linked(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  size_t step_page, links = 0;
  assert_non_null(find_text(bench, "Decide:", &step_page));
  const char *page_text = arena_printf(bench->run.arena, "page %zu", step_page + 1);
  assert_non_null(find_text(bench, "step 3,", NULL));
  assert_non_null(find_text(bench, page_text, NULL));
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++) {
      const Mark *mark = &bench->pages->list.at[i].marks.at[j];
      if (mark->kind == MARK_TEXT) assert_null(strstr(mark->text, PACKET_STEP_REF));
      if (mark->kind != MARK_LINK) continue;
      assert_in_range(mark->target, 0, bench->pages->list.n - 1);
      links++;
    }
  assert_int_equal(links, 3 * 2); /* "step 3," and "page 7" are a link each */
}

static void a_reference_to_no_step_has_no_page(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "bench", "Bench sheets");
  sample_group(&s);
  sample_block(&s, BLOCK_TEXT, "See {step:77} and {step:} and {step:x}.");
  bench->sample = s;
  set_on(bench, A4);
  const Mark *mark = find_text(bench, "See step 77", NULL);
  assert_non_null(mark);
  assert_string_equal(mark->text, "See step 77");
}

static void scale_bar_is_100_millimetres(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  size_t found = 0;
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++) {
      const Mark *mark = &bench->pages->list.at[i].marks.at[j];
      if (mark->kind == MARK_LINE && mark->y == mark->y2) found += mark->x2 - mark->x == MM(100);
    }
  assert_int_equal(found, 1);
}

static void pages_say_what_they_belong_to(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  static const char *const said[] = {"Q-0417",    "T764-20417", "1a2b3c4d", "5e6f7a8b",
                                     "sheaf 0.1", "2031-02-03", "Copy 1"};
  for (size_t i = 0; i < bench->pages->list.n; i++) {
    const Page *page = &bench->pages->list.at[i];
    Text all = text_new(bench->run.arena);
    for (size_t j = 0; j < page->marks.n; j++)
      if (page->marks.at[j].kind == MARK_TEXT && page->marks.at[j].group == -1)
        text_addf(&all, "%s\n", page->marks.at[j].text);
    for (size_t j = 0; j < sizeof said / sizeof *said; j++)
      assert_non_null(strstr(text_done(&all), said[j]));
    const char *label = arena_printf(bench->run.arena, "%zu of %zu", i + 1, bench->pages->list.n);
    assert_string_equal(page->label, label);
    assert_non_null(strstr(text_done(&all), label));
  }
}

static void bookmarks_lead_to_sheets_blocks_and_steps(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  size_t levels[3] = {0};
  for (size_t i = 0; i < bench->pages->bookmarks.n; i++) {
    const Bookmark *mark = &bench->pages->bookmarks.at[i];
    assert_in_range(mark->level, 0, 2);
    assert_in_range(mark->page, 0, bench->pages->list.n - 1);
    levels[mark->level]++;
  }
  assert_int_equal(levels[0], 4); /* sheets */
  assert_int_equal(levels[1], 5); /* headings */
  assert_int_equal(levels[2], 4); /* steps; the hold was given no title */
}

static void a_running_head_stands_where_a_block_goes_on(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "bench", "Bench sheets");
  vec_push(s.arena, &s.sheet->headers, "Rings (goes on)");
  for (int i = 0; i < 60; i++) {
    sample_group(&s);
    sample_step(&s, "Do", "Fit the ring.");
  }
  bench->sample = s;
  set_on(bench, A4);
  assert_true(bench->pages->list.n > 2);
  size_t page;
  assert_non_null(find_text(bench, "Rings (goes on)", &page));
  assert_int_equal(page, 1);
}

static void a_long_table_puts_its_head_again(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "setup", "Setup sheet");
  sample_group(&s);
  sample_table(&s, 80, "piston");
  bench->sample = s;
  set_on(bench, A4);
  assert_true(bench->pages->list.n >= 3);
  for (size_t i = 0; i < bench->pages->list.n; i++) {
    size_t heads = 0;
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++) {
      const Mark *mark = &bench->pages->list.at[i].marks.at[j];
      heads += mark->kind == MARK_TEXT && text_is(mark->text, "Order number");
    }
    assert_int_equal(heads, 1);
  }
  assert_int_equal(bench->run.findings->list.n, 0);
}

static void a_missing_character_is_told_once(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "job", "Job sheet");
  sample_group(&s);
  sample_block(&s, BLOCK_TEXT, "Name \xE4\xB8\xAD and \xE4\xB8\xAD again");
  sample_block(&s, BLOCK_TEXT, "and \xE4\xB8\xAD");
  bench->sample = s;
  set_on(bench, A4);
  assert_int_equal(run_count(&bench->run, RULE_NO_GLYPH), 1);
  assert_non_null(find_text(bench, "Name ? and ? again", NULL));
}

static void what_is_taller_than_a_page_is_told(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "job", "Job sheet");
  sample_group(&s);
  Text text = text_new(s.arena);
  for (int i = 0; i < 600; i++) text_add(&text, "a long story about a valve ");
  sample_block(&s, BLOCK_TEXT, text_done(&text));
  bench->sample = s;
  set_on(bench, A4);
  assert_int_equal(run_count(&bench->run, RULE_TOO_LONG), 1);
  each_mark(bench, is_within_frame);
}

/* Whatever is left empty: something is laid out and nothing breaks. */
static void empty_blocks_do_no_harm(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "job", "Job sheet");
  for (int kind = BLOCK_HEADING; kind <= BLOCK_LINES; kind++) {
    sample_group(&s);
    Block *block = sample_block(&s, (BlockKind)kind, NULL);
    if (block->kind == BLOCK_FIGURE) {
      for (int figure = FIGURE_PATTERN; figure <= FIGURE_SPROCKET_LINE; figure++) {
        sample_figure(&s, (FigureKind)figure, NULL);
      }
    }
  }
  s.packet.engine_number = s.packet.copy = NULL;
  bench->sample = s;
  set_on(bench, A4);
  each_mark(bench, is_within_frame);
}

int main(void) {
#define TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)
  const struct CMUnitTest tests[] = {
      TEST(all_ink_is_within_the_frame),
      TEST(both_papers_carry_the_same_pages),
      TEST(no_text_stands_over_another),
      TEST(type_and_rules_have_their_least_size),
      TEST(steps_and_values_are_large_enough),
      TEST(lines_have_at_most_65_characters),
      TEST(groups_are_not_split),
      TEST(keep_with_next_keeps),
      TEST(numeric_boxes_have_room),
      TEST(tick_boxes_are_six_millimetres),
      TEST(references_are_filled_and_linked),
      TEST(a_reference_to_no_step_has_no_page),
      TEST(scale_bar_is_100_millimetres),
      TEST(pages_say_what_they_belong_to),
      TEST(bookmarks_lead_to_sheets_blocks_and_steps),
      TEST(a_running_head_stands_where_a_block_goes_on),
      TEST(a_long_table_puts_its_head_again),
      TEST(a_missing_character_is_told_once),
      TEST(what_is_taller_than_a_page_is_told),
      TEST(empty_blocks_do_no_harm),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
