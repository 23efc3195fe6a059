/* SHA-256 over pieces, against the published vectors. */
#include "unit/test.h"

#include "base/digest.h"

/* SHA-256 (FIPS 180-4) of each piece behind its length in eight bytes, lowest
 * first. The expected values come from Python's hashlib:
 *   hashlib.sha256(struct.pack("<Q", 3) + b"abc").hexdigest() */
static const char *digest_of(Arena *arena, const char *first, const char *second) {
  Digest *digest = digest_new(arena);
  if (first) digest_add(digest, first, strlen(first));
  if (second) digest_add(digest, second, strlen(second));
  return digest_hex(digest);
}

static void known_values(void **state) {
  (void)state;
  Arena *arena = arena_new();
  /* Nothing at all: the published value for the empty message. */
  assert_string_equal(digest_of(arena, NULL, NULL),
                      "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  assert_string_equal(digest_of(arena, "abc", NULL),
                      "ce91dc5eec0139adf091900d225971d6ad246a845bad791b5693a9d0d55dd391");
  assert_string_equal(digest_of(arena, "ab", "c"),
                      "43ee655579de01ca739b3f95c1c2d3f46d353b2c0df818064ea594506cdb2617");
  arena_free(arena);
}

static void pieces_are_framed(void **state) {
  (void)state;
  Arena *arena = arena_new();
  assert_string_not_equal(digest_of(arena, "ab", "c"), digest_of(arena, "a", "bc"));
  assert_string_not_equal(digest_of(arena, "abc", ""), digest_of(arena, "abc", NULL));
  assert_string_not_equal(digest_of(arena, "", NULL), digest_of(arena, NULL, NULL));
  assert_string_equal(digest_of(arena, "a", "bc"), digest_of(arena, "a", "bc"));
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(known_values),
      cmocka_unit_test(pieces_are_framed),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
