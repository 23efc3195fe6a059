/* What stays together, where pages end, and what leads where. */
#include "unit/layout_bench.h"

#include "base/text.h"
#include "layout/paragraph.h"

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

static void references_are_filled_and_linked(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  size_t step_page = 0, links = 0;
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

/* A pattern of few fasteners stands on its card; both cards of a step then share a page. */
static void a_step_with_two_cards_stays_on_one_page(void **state) {
  Bench *bench = *state;
  Sample s = sample_new(bench->run.arena);
  sample_sheet(&s, "bench", "Bench sheets");
  sample_group(&s);
  sample_step(&s, "Do", "Tighten the bolts of each cylinder in order.");
  sample_table(&s, 3, "final, to 18 N.m");
  for (int i = 0; i < 2; i++) {
    Block *figure = sample_figure(&s, FIGURE_PATTERN, "Bolts: tighten in the order of the numbers");
    for (int j = 0; j < 4; j++)
      sample_point(&s, figure, arena_printf(s.arena, "place %d", j),
                   arena_printf(s.arena, "%d", j + 1), 40 * (j % 2), 30 * (j / 2));
    sample_torque(&s, 4, "Rocker support bolts");
  }
  bench->sample = s;
  set_on(bench, A4);
  assert_int_equal(bench->pages->list.n, 1);
  assert_int_equal(count_ticks(bench), 1 + 3 + 2 * 4 * 4);
  for (int i = 1; i <= 2; i++)
    assert_non_null(find_text(bench, arena_printf(s.arena, "Figure %d.", i), NULL));
  assert_non_null(find_text(bench, "place 3", NULL));
  each_mark(bench, is_within_frame);
}

static void a_card_names_the_page_of_its_figure(void **state) {
  Bench *bench = *state;
  set_on(bench, A4);
  size_t page = 0;
  assert_non_null(find_text(bench, "Figure 1.", &page));
  const char *said = arena_printf(bench->run.arena, "figure 1, page %zu", page + 1);
  bool found = false;
  for (size_t i = 0; i < bench->pages->list.n; i++)
    for (size_t j = 0; j < bench->pages->list.at[i].marks.n; j++) {
      const Mark *mark = &bench->pages->list.at[i].marks.at[j];
      found = found || (mark->kind == MARK_TEXT && strstr(mark->text, said));
    }
  assert_true(found);
}

/* Plain words are set the short way; a second blank takes the same words the long way (which
 * holds no number to its unit across two). */
static void lines_are_the_same_both_ways(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Run run = {arena, findings_new(arena)};
  Layout layout = {.run = &run, .arena = arena, .width = MM(210), .height = MM(297)};
  static const char *const words[] = {"a",        "The",      "crankcase", "is 0.05\xC2\xA0mm",
                                      "wide:",    "\xC2\xB1", "measure,",  "Unmittelbarkeitsgrad",
                                      "eighteen", "N.m."};
  unsigned seed = 7;
  for (int i = 0; i < 3000; i++) {
    Text plain = text_new(arena), spaced = text_new(arena);
    size_t count = 1 + (size_t)i % 40;
    for (size_t k = 0; k < count; k++) {
      seed = seed * 1103515245u + 12345u;
      const char *word = words[(seed >> 16) % COUNT_OF(words)];
      text_addf(&plain, "%s%s", k ? " " : "", word);
      text_addf(&spaced, "%s%s", k ? "  " : " ", word);
    }
    Paragraph short_way = {.type = (TypeName)(i % TYPE_COUNT),
                           .text = text_done(&plain),
                           .width = MM(20) + MM(3) * (i % 50),
                           .align = (Align)(i % 3)};
    Paragraph long_way = short_way;
    long_way.text = text_done(&spaced);
    Sketch a = {.arena = arena}, b = {.arena = arena};
    assert_int_equal(paragraph_set(&layout, &a, 5, 7, &short_way),
                     paragraph_set(&layout, &b, 5, 7, &long_way));
    assert_int_equal(a.marks.n, b.marks.n);
    for (size_t k = 0; k < a.marks.n; k++) {
      assert_string_equal(a.marks.at[k].text, b.marks.at[k].text);
      assert_int_equal(a.marks.at[k].x, b.marks.at[k].x);
      assert_int_equal(a.marks.at[k].y, b.marks.at[k].y);
      assert_int_equal(a.marks.at[k].face, b.marks.at[k].face);
    }
  }
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(lines_are_the_same_both_ways),
      LAYOUT_TEST(groups_are_not_split),
      LAYOUT_TEST(keep_with_next_keeps),
      LAYOUT_TEST(references_are_filled_and_linked),
      LAYOUT_TEST(a_reference_to_no_step_has_no_page),
      LAYOUT_TEST(pages_say_what_they_belong_to),
      LAYOUT_TEST(bookmarks_lead_to_sheets_blocks_and_steps),
      LAYOUT_TEST(a_running_head_stands_where_a_block_goes_on),
      LAYOUT_TEST(a_long_table_puts_its_head_again),
      LAYOUT_TEST(what_is_taller_than_a_page_is_told),
      LAYOUT_TEST(a_step_with_two_cards_stays_on_one_page),
      LAYOUT_TEST(a_card_names_the_page_of_its_figure),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
