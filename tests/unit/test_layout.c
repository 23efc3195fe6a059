/* What must hold on every page of a packet with everything in it, on both papers. */
#include "unit/layout_bench.h"

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

/* A box: 9 mm high, 5.1 mm a character and 5 mm over. 83.400 is six characters, -0.10 five. As many
 * again where it is measured once more. */
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
  assert_int_equal(count_boxes(page, MM(6 * 5.1 + 5) - 2, MM(9)), 2 * 3);
  assert_int_equal(count_boxes(page, MM(5 * 5.1 + 5) - 2, MM(9)), 2 * 4);
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
  /* 30 rows, 4 steps, a legend, 3 judged rows with in and out, twice where the second try has a
   * line of its own, 4 passes over 8 nuts */
  assert_int_equal(count, 30 + 4 + 1 + (1 + 2 + 2) * 2 + 4 * 8);
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

static void typed_readings_stand_in_their_boxes(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "bench", "Bench sheets");
  sample_group(&s);
  sample_measure(&s, "Bore", "83.395", "83.400", "83.410", 1, 2, 3);
  MeasureRow *row = &s.group->blocks.at[0]->measure;
  row->values[0] = "83.402";
  row->verdict = "in";
  bench->sample = s;
  set_on(bench, A4);
  assert_non_null(find_text(bench, "83.402", NULL));
  size_t polygons = 0; /* the tick */
  for (size_t i = 0; i < bench->pages->list.at[0].marks.n; i++)
    polygons += bench->pages->list.at[0].marks.at[i].kind == MARK_POLYGON;
  assert_int_equal(polygons, 1);
}

static void an_act_is_said_once(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "bench", "Bench sheets");
  sample_group(&s);
  sample_step(&s, "Wait", "Wait until it is cold.");
  sample_step(&s, "Check", "Look at the gap.");
  bench->sample = s;
  set_on(bench, A4);
  assert_string_equal(find_text(bench, "Wait", NULL)->text, "Wait");
  assert_non_null(find_text(bench, "until it is cold.", NULL));
  assert_string_equal(find_text(bench, "Check", NULL)->text, "Check:");
}

/* Wherever the line happens to end. */
static void numbers_stay_with_their_words(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "bench", "Bench sheets");
  for (int words = 1; words < 40; words++) {
    Text text = text_new(s.arena);
    for (int i = 0; i < words; i++) text_add(&text, "one ");
    text_add(&text, "figure 2 and 0.05 mm or 12 N.m more.");
    sample_group(&s);
    sample_step(&s, "Do", text_done(&text));
  }
  bench->sample = s;
  set_on(bench, A4);
  int whole = 0;
  for (size_t p = 0; p < bench->pages->list.n; p++) {
    const Page *page = &bench->pages->list.at[p];
    for (size_t m = 0; m < page->marks.n; m++) {
      const Mark *mark = &page->marks.at[m];
      if (mark->kind != MARK_TEXT) continue;
      static const char *const parted[] = {"figure", "0.05", "12"};
      size_t length = strlen(mark->text);
      for (size_t i = 0; i < 3; i++) {
        size_t tail = strlen(parted[i]);
        if (length > tail && mark->text[length - tail - 1] == ' ')
          assert_string_not_equal(mark->text + length - tail, parted[i]);
      }
      whole += strstr(mark->text, "figure 2") != NULL;
    }
  }
  assert_int_equal(whole, 39);
}

/* Numbers no shop writes: nothing leaves the page. */
static void wild_numbers_stay_on_the_page(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "bench", "Bench sheets");
  for (int kind = FIGURE_PATTERN; kind <= FIGURE_SPROCKET_LINE; kind++) {
    static const double wild[] = {0, -1e300, 1e300, NAN, INFINITY, 359.999, -720, 1e-9};
    sample_group(&s);
    Block *block = sample_figure(&s, (FigureKind)kind, LONG_NAME);
    for (size_t i = 0; i < 24; i++)
      sample_point(&s, block, i % 3 ? LONG_NAME : "7", i % 2 ? "12" : NULL, wild[i % 8],
                   wild[(i + 3) % 8]);
  }
  sample_group(&s);
  sample_measure(&s, "Box", "0", NULL, "1", 99, -5, 77);
  sample_group(&s);
  sample_block(&s, BLOCK_LINES, NULL)->count = 1000000;
  sample_group(&s);
  sample_torque(&s, 60, LONG_NAME);
  bench->sample = s;
  set_on(bench, A4);
  each_mark(bench, is_within_frame);
}

static void a_table_of_too_many_columns_is_told(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "job", "Job sheet");
  sample_group(&s);
  Block *table = sample_block(&s, BLOCK_TABLE, NULL);
  for (int i = 0; i < 60; i++) vec_push(s.arena, &table->columns, ((Column){"Reading", 1, false}));
  bench->sample = s;
  set_on(bench, A4);
  assert_int_equal(run_count(&bench->run, RULE_TOO_LONG), 1);
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
  const struct CMUnitTest tests[] = {
      LAYOUT_TEST(all_ink_is_within_the_frame),
      LAYOUT_TEST(both_papers_carry_the_same_pages),
      LAYOUT_TEST(no_text_stands_over_another),
      LAYOUT_TEST(type_and_rules_have_their_least_size),
      LAYOUT_TEST(steps_and_values_are_large_enough),
      LAYOUT_TEST(lines_have_at_most_65_characters),
      LAYOUT_TEST(numeric_boxes_have_room),
      LAYOUT_TEST(tick_boxes_are_six_millimetres),
      LAYOUT_TEST(scale_bar_is_100_millimetres),
      LAYOUT_TEST(a_missing_character_is_told_once),
      LAYOUT_TEST(typed_readings_stand_in_their_boxes),
      LAYOUT_TEST(an_act_is_said_once),
      LAYOUT_TEST(numbers_stay_with_their_words),
      LAYOUT_TEST(wild_numbers_stay_on_the_page),
      LAYOUT_TEST(a_table_of_too_many_columns_is_told),
      LAYOUT_TEST(empty_blocks_do_no_harm),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
