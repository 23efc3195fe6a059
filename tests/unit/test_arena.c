/* Memory of one compile: alignment, growing in place, the bound, running out. */
#include "unit/test.h"

#include "base/vec.h"

#include <limits.h>
#include <stdio.h>

/* cmocka's stand-in for assert leaves the call by a jump, as a handler must. */
static void refuse(void *context) {
  ++*(int *)context;
  mock_assert(0, "memory ran out", __FILE__, __LINE__);
}

static void memory_is_zeroed_and_aligned(void **state) {
  (void)state;
  Arena *arena = arena_new();
  for (size_t size = 0; size < 300; size++) {
    unsigned char *at = arena_alloc(arena, size);
    assert_non_null(at);
    assert_int_equal((uintptr_t)at % _Alignof(max_align_t), 0);
    for (size_t i = 0; i < size; i++) assert_int_equal(at[i], 0);
    memset(at, 0xA5, size); /* no later piece may show this */
  }
  arena_free(arena);
}

static void big_pieces_leave_small_ones_alone(void **state) {
  (void)state;
  Arena *arena = arena_new();
  char *first = arena_text(arena, "first", 5);
  char *big = arena_alloc(arena, 1000000);
  char *second = arena_text(arena, "second", 6);
  memset(big, 'x', 1000000);
  assert_string_equal(first, "first");
  assert_string_equal(second, "second");
  arena_free(arena);
}

static void text_gets_its_end(void **state) {
  (void)state;
  Arena *arena = arena_new();
  assert_string_equal(arena_text(arena, "bore 84 mm", 4), "bore");
  assert_string_equal(arena_text(arena, NULL, 0), "");
  assert_memory_equal(arena_copy(arena, "a\0b", 3), "a\0b", 3);
  assert_string_equal(arena_printf(arena, "%s %d", "step", 12), "step 12");
  assert_string_equal(arena_printf(arena, "%5000d", 7) + 4999, "7");
  arena_free(arena);
}

static void bound_calls_the_handler(void **state) {
  (void)state;
  Arena *arena = arena_new();
  int calls = 0;
  arena_on_exhausted(arena, refuse, &calls);
  expect_assert_failure(arena_alloc(arena, ARENA_MOST + 1));
  expect_assert_failure(arena_alloc(arena, SIZE_MAX));
  expect_assert_failure(arena_text(arena, "x", SIZE_MAX));
  assert_int_equal(calls, 3);
  assert_non_null(arena_alloc(arena, 16)); /* it is still of use */
  arena_free(arena);
}

static void bound_counts_what_was_given(void **state) {
  (void)state;
  Arena *arena = arena_new();
  int calls = 0;
  arena_on_exhausted(arena, refuse, &calls);
  size_t piece = ARENA_MOST / 4;
  for (int i = 0; i < 3; i++) assert_non_null(arena_alloc(arena, piece));
  expect_assert_failure(arena_alloc(arena, piece));
  assert_int_equal(calls, 1);
  arena_free(arena);
}

static void nth_allocation_fails(void **state) {
  (void)state;
  Arena *arena = arena_new();
  int calls = 0;
  arena_on_exhausted(arena, refuse, &calls);
  arena_fail_after(arena, 3);
  arena_alloc(arena, 1);
  arena_alloc(arena, 1);
  expect_assert_failure(arena_alloc(arena, 1));
  arena_alloc(arena, 1); /* once only */
  arena_fail_after(arena, 1);
  arena_fail_after(arena, 0);
  arena_alloc(arena, 1);
  assert_int_equal(calls, 1);
  arena_free(arena);
}

static void vec_keeps_items_in_order(void **state) {
  (void)state;
  Arena *arena = arena_new();
  VEC(int) numbers = {0};
  for (int i = 0; i < 10000; i++) vec_push(arena, &numbers, i * i);
  assert_int_equal(numbers.n, 10000);
  for (int i = 0; i < 10000; i++) assert_int_equal(numbers.at[i], i * i);
  arena_free(arena);
}

static void vec_too_big_is_refused(void **state) {
  (void)state;
  Arena *arena = arena_new();
  int calls = 0;
  arena_on_exhausted(arena, refuse, &calls);
  size_t room = SIZE_MAX / 4;
  expect_assert_failure(vec_room(arena, NULL, room, &room, 64));
  assert_int_equal(calls, 1);
  arena_free(arena);
}

/* The short way through a format says what the C library says. */
static void formats_as_the_library_does(void **state) {
  (void)state;
  Arena *arena = arena_new();
  char text[3000], longer[1200];
  memset(longer, 'x', sizeof longer);
  longer[sizeof longer - 1] = '\0';
#define SAME(...)                                                                                  \
  (snprintf(text, sizeof text, __VA_ARGS__),                                                       \
   assert_string_equal(arena_printf(arena, __VA_ARGS__), text))
  SAME("plain");
  SAME("%s", "");
  SAME("%s%s, %c%%", "a", "\xC2\xB1", 'z');
  SAME("%d %d %d %d %d", 0, 7, -7, INT_MAX, INT_MIN);
  SAME("%zu of %zu", (size_t)0, SIZE_MAX);
  SAME("%.*s|%5d|%-6s|%04X|%g|%ld|%u", 2, "abc", 12, "ab", 0xB1u, 0.25, -5L, 3u);
  SAME("before %s after %d", longer, 5);
  SAME("%.1100s%s%.100s", longer, longer, longer);
  longer[511] = '\0'; /* as long as the short way holds, and one more */
  SAME("%s", longer);
  SAME("%sy", longer);
  SAME("y%s", longer);
  longer[510] = '\0';
  SAME("%s", longer);
  SAME("%d%s", 5, longer);
#undef SAME
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(memory_is_zeroed_and_aligned),
      cmocka_unit_test(big_pieces_leave_small_ones_alone),
      cmocka_unit_test(text_gets_its_end),
      cmocka_unit_test(bound_calls_the_handler),
      cmocka_unit_test(bound_counts_what_was_given),
      cmocka_unit_test(nth_allocation_fails),
      cmocka_unit_test(vec_keeps_items_in_order),
      cmocka_unit_test(vec_too_big_is_refused),
      cmocka_unit_test(formats_as_the_library_does),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
