/* Lookup by text: found, replaced, grown. */
#include "unit/test.h"

#include "base/map.h"

static void finds_what_was_put(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Map *map = map_new(arena);
  int bore, stroke;
  assert_null(map_find(map, "bore"));
  map_put(map, "bore", &bore);
  map_put(map, "stroke", &stroke);
  map_put(map, "", &bore);
  assert_ptr_equal(map_find(map, "bore"), &bore);
  assert_ptr_equal(map_find(map, "stroke"), &stroke);
  assert_ptr_equal(map_find(map, ""), &bore);
  assert_null(map_find(map, "bor"));
  assert_null(map_find(map, "bore "));
  arena_free(arena);
}

static void later_value_replaces(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Map *map = map_new(arena);
  int first, second;
  map_put(map, "bore", &first);
  map_put(map, "bore", &second);
  assert_ptr_equal(map_find(map, "bore"), &second);
  map_put(map, "bore", NULL);
  assert_null(map_find(map, "bore"));
  arena_free(arena);
}

static void key_is_a_copy(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Map *map = map_new(arena);
  char key[] = "bore";
  map_put(map, key, map);
  key[0] = 'c';
  assert_ptr_equal(map_find(map, "bore"), map);
  assert_null(map_find(map, "core"));
  arena_free(arena);
}

static void many_keys(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Map *map = map_new(arena);
  static int values[20000];
  for (int i = 0; i < 20000; i++) map_put(map, arena_printf(arena, "key-%d", i), &values[i]);
  for (int i = 0; i < 20000; i++) {
    assert_ptr_equal(map_find(map, arena_printf(arena, "key-%d", i)), &values[i]);
  }
  assert_null(map_find(map, "key-20000"));
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(finds_what_was_put),
      cmocka_unit_test(later_value_replaces),
      cmocka_unit_test(key_is_a_copy),
      cmocka_unit_test(many_keys),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
