/* The word somebody probably meant. */
#include "unit/test.h"

#include "base/near.h"

#define WORDS(...) words_of((const char *[]){__VA_ARGS__, NULL})

static Words words_of(const char **words) {
  Words list = {.at = words};
  while (words[list.n]) list.n++;
  list.room = list.n;
  return list;
}

static void one_slip_of_each_kind(void **state) {
  (void)state;
  Words words = WORDS("stroke", "torque", "bore");
  assert_string_equal(near_word("torqe", &words), "torque");   /* left out */
  assert_string_equal(near_word("torrque", &words), "torque"); /* put in */
  assert_string_equal(near_word("torkue", &words), "torque");  /* replaced */
  assert_string_equal(near_word("torqeu", &words), "torque");  /* swapped */
  assert_string_equal(near_word("torque", &words), "torque");
}

static void far_words_are_not_meant(void **state) {
  (void)state;
  Words words = WORDS("stroke", "torque", "bore");
  assert_null(near_word("piston", &words));
  assert_null(near_word("", &words));
  assert_null(near_word(NULL, &words));
  Words none = {0};
  assert_null(near_word("bore", &none));
}

static void a_third_of_the_length(void **state) {
  (void)state;
  Words words = WORDS("abcdef");
  assert_string_equal(near_word("abcdXX", &words), "abcdef"); /* 2 of 6 */
  assert_null(near_word("abcXXX", &words));                   /* 3 of 6 */
  Words shorter = WORDS("mm");
  assert_string_equal(near_word("m", &shorter), "mm"); /* at least 1 */
  assert_null(near_word("in", &shorter));
}

/* A swap is one edit, but what was swapped is not edited again: "ca" to "abc"
 * takes 3 (the usual example that tells this distance from the unrestricted
 * one, which gives 2). */
static void no_place_is_edited_twice(void **state) {
  (void)state;
  Words words = WORDS("abcxxxx");
  assert_null(near_word("caxxxx", &words)); /* 3 of 6, 2 allowed */
}

static void a_slip_is_read_on(void **state) {
  (void)state;
  assert_true(near_slip("pistn", "piston"));
  assert_true(near_slip("clpi", "clip"));
  assert_true(near_slip("deck_hieghts", "deck_height")); /* 2 of 12 */
  assert_true(near_slip("mmm", "mm"));                   /* typed twice */
  assert_true(near_slip("inlet", "intake"));             /* two words for one thing */
  assert_false(near_slip("weigh_piston", "fit_piston"));
  assert_false(near_slip("mn", "mm"));
  assert_false(near_slip("gasket_05", "gasket_06")); /* another size */
  assert_false(near_slip("stage1", "stage2"));
  assert_false(near_slip(NULL, "mm"));
}

static void another_word_of_the_trade(void **state) {
  (void)state;
  Words words = WORDS("inner", "intake");
  assert_string_equal(near_word("inlet", &words), "intake");
}

static void nearest_wins_and_first_of_equals(void **state) {
  (void)state;
  Words words = WORDS("deck_hight", "deck_heights", "deck_height");
  assert_string_equal(near_word("deck_heigth", &words), "deck_height");
  Words equals = WORDS("gap_b", "gap_c");
  assert_string_equal(near_word("gap_a", &equals), "gap_b");
}

static void letters_not_bytes(void **state) {
  (void)state;
  Words words = WORDS("m\xC3\xA9t\xC3\xA9o"); /* five letters in seven bytes */
  assert_string_equal(near_word("met\xC3\xA9o", &words), "m\xC3\xA9t\xC3\xA9o");
  assert_null(near_word("meteo", &words)); /* 2 of 5 */
}

static void long_words_are_passed_over(void **state) {
  (void)state;
  char word[200];
  memset(word, 'x', sizeof word - 1);
  word[sizeof word - 1] = '\0';
  Words words = WORDS(word, "bore");
  assert_null(near_word(word, &words));
  assert_string_equal(near_word("bone", &words), "bore");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(one_slip_of_each_kind),
      cmocka_unit_test(far_words_are_not_meant),
      cmocka_unit_test(a_third_of_the_length),
      cmocka_unit_test(no_place_is_edited_twice),
      cmocka_unit_test(a_slip_is_read_on),
      cmocka_unit_test(another_word_of_the_trade),
      cmocka_unit_test(nearest_wins_and_first_of_equals),
      cmocka_unit_test(letters_not_bytes),
      cmocka_unit_test(long_words_are_passed_over),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
