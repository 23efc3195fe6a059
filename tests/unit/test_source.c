/* Places in a file: lines, columns, line ends, marks of byte order. */
#include "unit/test.h"

#include "diag/source.h"

static Source *source_of(Arena *arena, const char *text) {
  return source_new(arena, "build.yaml", text, strlen(text));
}

static void lines(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Source *source = source_of(arena, "one\n\nthree\r\nfour");
  assert_int_equal(source->line_count, 4);
  assert_string_equal(source_line(arena, source, 1), "one");
  assert_string_equal(source_line(arena, source, 2), "");
  assert_string_equal(source_line(arena, source, 3), "three");
  assert_string_equal(source_line(arena, source, 4), "four");
  assert_string_equal(source_line(arena, source, 5), "");
  assert_string_equal(source_line(arena, source, 0), "");
  assert_string_equal(source_line(arena, source, -1), "");
  arena_free(arena);
}

static void empty_file(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Source *source = source_of(arena, "");
  assert_string_equal(source_line(arena, source, 1), "");
  Place place = source_place(source, 0, 1);
  assert_int_equal(place.line, 1);
  assert_int_equal(place.column, 1);
  arena_free(arena);
}

static void text_is_a_copy_with_an_end(void **state) {
  (void)state;
  Arena *arena = arena_new();
  char text[3] = {'a', '\n', 'b'};
  Source *source = source_new(arena, "f", text, 3);
  text[0] = 'x';
  assert_int_equal(source->text[3], 0);
  assert_string_equal(source_line(arena, source, 1), "a");
  arena_free(arena);
}

static void offsets_become_characters(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Source *source = source_of(arena, "\xC3\xB8 84 \xC2\xB1 0.1\nnext\n");
  Place place = source_place(source, 6, 1); /* the plus-minus sign */
  assert_int_equal(place.line, 1);
  assert_int_equal(place.column, 6);
  place = source_place(source, 13, 4);
  assert_int_equal(place.line, 2);
  assert_int_equal(place.column, 1);
  assert_int_equal(place.width, 4);
  place = source_place(source, 12, 0); /* the line's end belongs to it */
  assert_int_equal(place.line, 1);
  assert_int_equal(place.column, 11);
  assert_int_equal(place.width, 1);
  place = source_place(source, 1000, 1);
  assert_int_equal(place.line, 3);
  assert_int_equal(place.column, 1);
  arena_free(arena);
}

static void byte_order_mark_is_no_character(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Source *source = source_of(arena, "\xEF\xBB\xBF"
                                    "bore: 84\n");
  assert_string_equal(source_line(arena, source, 1), "bore: 84");
  assert_int_equal(source_place(source, 9, 1).column, 7);
  assert_int_equal(source_place(source, 0, 1).column, 1);
  arena_free(arena);
}

static void inside_a_scalar(void **state) {
  (void)state;
  Place scalar = place_at(NULL, 3, 10, 20);
  Place inside = place_inside(scalar, 4, 2);
  assert_int_equal(inside.line, 3);
  assert_int_equal(inside.column, 14);
  assert_int_equal(inside.width, 2);
}

static int sign(int value) {
  return (value > 0) - (value < 0);
}

static void order_of_places(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Source *a = source_new(arena, "a.yaml", "", 0), *b = source_new(arena, "b.yaml", "", 0);
  Source *same = source_new(arena, "a.yaml", "", 0);
  const Place places[] = {
      place_at(NULL, 0, 0, 1), place_at(a, 0, 0, 1),  place_at(a, 1, 2, 1),
      place_at(a, 1, 10, 1),   place_at(a, 10, 1, 1), place_at(b, 1, 1, 1),
  };
  for (int i = 0; i < 6; i++) {
    for (int j = 0; j < 6; j++) {
      assert_int_equal(sign(place_compare(places[i], places[j])), sign(i - j));
    }
  }
  assert_int_equal(place_compare(place_at(a, 1, 1, 1), place_at(same, 1, 1, 9)), 0);
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(lines),
      cmocka_unit_test(empty_file),
      cmocka_unit_test(text_is_a_copy_with_an_end),
      cmocka_unit_test(offsets_become_characters),
      cmocka_unit_test(byte_order_mark_is_no_character),
      cmocka_unit_test(inside_a_scalar),
      cmocka_unit_test(order_of_places),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
