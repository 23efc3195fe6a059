/* Text that grows, lists, names, classes of characters, UTF-8 after RFC 3629. */
#include "unit/test.h"

#include "base/text.h"

static void text_grows(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Text text = text_new(arena);
  assert_string_equal(text_done(&text), "");
  text_add(&text, "");
  assert_string_equal(text_done(&text), "");
  text_add(&text, "bore ");
  text_add_n(&text, "84 mm and more", 5);
  text_addf(&text, ", %d of %d", 2, 4);
  assert_string_equal(text_done(&text), "bore 84 mm, 2 of 4");
  for (int i = 0; i < 1000; i++) text_add(&text, "0123456789");
  assert_int_equal(text.n, 18 + 10000);
  assert_int_equal(strlen(text_done(&text)), text.n);
  arena_free(arena);
}

static void questions(void **state) {
  (void)state;
  Arena *arena = arena_new();
  assert_true(text_is("a", "a"));
  assert_false(text_is("a", "ab"));
  assert_true(text_is(NULL, NULL));
  assert_false(text_is(NULL, ""));
  assert_true(text_starts("bore_top", "bore"));
  assert_true(text_starts("bore", ""));
  assert_false(text_starts("bore", "bore_top"));
  assert_false(text_starts(NULL, "bore"));
  Words words = {0};
  assert_false(text_has(&words, "bore"));
  vec_push(arena, &words, "bore");
  vec_push(arena, &words, "stroke");
  assert_true(text_has(&words, "stroke"));
  assert_false(text_has(&words, "rod"));
  arena_free(arena);
}

static void lists(void **state) {
  (void)state;
  Arena *arena = arena_new();
  Words words = {0};
  assert_string_equal(text_join(arena, &words, ", "), "");
  text_split(arena, "left.intake", '.', &words);
  assert_int_equal(words.n, 2);
  assert_string_equal(words.at[0], "left");
  assert_string_equal(text_join(arena, &words, " or "), "left or intake");
  text_split(arena, ",a,", ',', &words); /* appended; nothing between marks counts */
  assert_int_equal(words.n, 5);
  assert_string_equal(words.at[2], "");
  assert_string_equal(words.at[3], "a");
  assert_string_equal(words.at[4], "");
  arena_free(arena);
}

static void names_as_people_write_them(void **state) {
  (void)state;
  Arena *arena = arena_new();
  assert_string_equal(text_title(arena, "engine_number"), "Engine number");
  assert_string_equal(text_title(arena, "\xC3\xB8 of the bore"), "\xC3\xB8 of the bore");
  assert_string_equal(text_title(arena, ""), "");
  assert_string_equal(text_exchange(arena, "left.intake", '.', ' '), "left intake");
  arena_free(arena);
}

static void dates(void **state) {
  (void)state;
  assert_true(date_before("2026-11-09", "2026-11-10"));
  assert_false(date_before("2026-11-10", "2026-11-10"));
  assert_false(date_before("2027-01-01", "2026-12-31"));
  assert_false(date_before("2026", "2026-12-31"));
  assert_false(date_before(NULL, "2026-12-31"));
}

static void classes_of_characters(void **state) {
  (void)state;
  assert_true(is_digit('0') && is_digit('9') && !is_digit('a') && !is_digit('/'));
  assert_true(is_letter('a') && is_letter('Z') && !is_letter('_') && !is_letter('\xC3'));
  assert_true(is_word_character('_') && !is_word_character('-'));
  assert_true(is_blank('\t') && !is_blank('\n') && is_space('\n'));
  assert_true(utf8_is_control(0x1B) && utf8_is_control(0x9F) && !utf8_is_control(0xA0));
  assert_true(utf8_is_invisible(0x200B) && utf8_is_invisible(0x202E) && !utf8_is_invisible(0x2028));
}

/* RFC 3629, section 7: "A<not identical to><Alpha>.", "hangugeo" and "nihongo",
 * and the stump of tree U+233B4, each with the octets given there. */
static void published_sequences(void **state) {
  (void)state;
  static const struct {
    const char *bytes;
    uint32_t codes[5];
  } examples[] = {
      {"\x41\xE2\x89\xA2\xCE\x91\x2E", {0x41, 0x2262, 0x391, 0x2E}},
      {"\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4", {0xD55C, 0xAD6D, 0xC5B4}},
      {"\xE6\x97\xA5\xE6\x9C\xAC\xE8\xAA\x9E", {0x65E5, 0x672C, 0x8A9E}},
      {"\xEF\xBB\xBF\xF0\xA3\x8E\xB4", {0xFEFF, 0x233B4}},
  };
  Arena *arena = arena_new();
  for (size_t i = 0; i < sizeof examples / sizeof *examples; i++) {
    const char *at = examples[i].bytes;
    size_t bytes = strlen(at), count = 0, length;
    Text again = text_new(arena);
    assert_int_equal(utf8_bad(at, bytes), bytes);
    for (; *at; at += length, count++) {
      uint32_t code = utf8_next(at, &length);
      assert_int_equal(code, examples[i].codes[count]);
      text_add_code(&again, code);
    }
    assert_int_equal(utf8_count(examples[i].bytes), count);
    assert_string_equal(text_done(&again), examples[i].bytes);
  }
  arena_free(arena);
}

/* RFC 3629, section 3 and 10: what a decoder must not take. */
static void bad_sequences(void **state) {
  (void)state;
  static const struct {
    const char *bytes;
    size_t bad; /* offset */
  } examples[] = {
      {"\xC0\x80", 0},                 /* U+0000 in two octets */
      {"\xC1\xBF", 0},                 /* longer than need be */
      {"\xE0\x9F\xBF", 0},             /* longer than need be */
      {"\xF0\x8F\xBF\xBF", 0},         /* longer than need be */
      {"\xED\xA1\x8C\xED\xBE\xB4", 0}, /* a surrogate pair */
      {"\xF4\x90\x80\x80", 0},         /* beyond U+10FFFF */
      {"\xF5\x80\x80\x80", 0},         /* never appears */
      {"\xFF", 0},                     /* never appears */
      {"\x80", 0},                     /* continues nothing */
      {"bore \xC3", 5},                /* cut off */
      {"bore \xE2\x89", 5},            /* cut off */
      {"\xC3\xB8\xC3(", 2},            /* not continued */
      {"\xE2(\xA2", 0},                /* not continued */
  };
  for (size_t i = 0; i < sizeof examples / sizeof *examples; i++) {
    const char *bytes = examples[i].bytes;
    assert_int_equal(utf8_bad(bytes, strlen(bytes)), examples[i].bad);
    size_t length;
    assert_int_equal(utf8_next(bytes + examples[i].bad, &length), 0xFFFD);
    assert_int_equal(length, 1);
  }
  /* The length counts, not an end that happens to follow. */
  assert_int_equal(utf8_bad("\xC3\xB8", 1), 0);
  assert_int_equal(utf8_bad("a\0b\xFF", 4), 3);
}

static void bounds_of_the_lengths(void **state) {
  (void)state;
  static const struct {
    uint32_t code;
    size_t length;
  } examples[] = {
      {0x7F, 1},   {0x80, 2},   {0x7FF, 2},   {0x800, 3},    {0xD7FF, 3},
      {0xE000, 3}, {0xFFFF, 3}, {0x10000, 4}, {0x10FFFF, 4},
  };
  Arena *arena = arena_new();
  for (size_t i = 0; i < sizeof examples / sizeof *examples; i++) {
    Text text = text_new(arena);
    size_t length;
    text_add_code(&text, examples[i].code);
    assert_int_equal(text.n, examples[i].length);
    assert_int_equal(utf8_next(text_done(&text), &length), examples[i].code);
    assert_int_equal(length, examples[i].length);
  }
  Text text = text_new(arena);
  text_add_code(&text, 0xD800);
  text_add_code(&text, 0x110000);
  assert_string_equal(text_done(&text), "\xEF\xBF\xBD\xEF\xBF\xBD");
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(text_grows),
      cmocka_unit_test(questions),
      cmocka_unit_test(lists),
      cmocka_unit_test(names_as_people_write_them),
      cmocka_unit_test(dates),
      cmocka_unit_test(classes_of_characters),
      cmocka_unit_test(published_sequences),
      cmocka_unit_test(bad_sequences),
      cmocka_unit_test(bounds_of_the_lengths),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
