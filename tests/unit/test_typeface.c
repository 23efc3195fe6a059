/* Widths and characters of the faces that are carried. */
#include "unit/test.h"

#include "base/text.h"
#include "model/typeface.h"

#define EM_12_POINTS ((Um)(12 * UM_PER_POINT + 0.5))

static const char *const NEEDED =
    "0O1lI5S8B \xC5\xA1\xC3\xB3\xC5\xB5\xC4\x9F\xC5\x81\xCE\xA9"       /* šóŵğŁΩ */
    "\xC8\x98\xC8\x9B\xE1\xBA\x84\xE1\xBB\xB3"                         /* ȘțẄỳ */
    "\xD0\x96\xD1\x8F"                                                 /* Жя */
    "\xC2\xB1\xC2\xB5\xC2\xB0\xC3\x97\xC3\xB7\xE2\x89\xA4\xE2\x89\xA5" /* ±µ°×÷≤≥ */
    "\xE2\x89\x88\xE2\x86\x92\xE2\x86\x90\xE2\x86\x91\xE2\x86\x93"     /* ≈→←↑↓ */
    "\xC3\x98\xE2\x88\x85\xE2\x88\x9A\xCF\x80\xCE\x94\xE2\x9C\x93"     /* Ø∅√πΔ✓ */
    "\xE2\x98\x90\xE2\x96\xA1\xE2\x96\xA0\xE2\x97\x8F\xE2\x97\x8B"     /* ☐□■●○ */
    "\xE2\x96\xB3\xE2\x96\xB2\xE2\x80\xA6\xE2\x80\xA2"                 /* △▲…• */
    "\xE2\x80\x93\xE2\x80\x94\xE2\x80\x98\xE2\x80\x99\xE2\x80\x9C\xE2\x80\x9D"; /* –—‘’“” */

static void faces_have_what_a_packet_prints(void **state) {
  (void)state;
  for (int face = 0; face < FACE_COUNT; face++)
    assert_int_equal(face_missing((Face)face, NEEDED), 0);
}

static void what_a_face_lacks_is_told(void **state) {
  (void)state;
  assert_int_equal(face_missing(FACE_TEXT, "a\xE4\xB8\xAD"), 0x4E2D);
  assert_int_equal(face_missing(FACE_TEXT, "\xF0\x9F\x94\xA7"), 0x1F527);
  assert_int_equal(face_missing(FACE_BOLD, "a\tb"), '\t');
  assert_int_equal(face_missing(FACE_BOLD, "a\xFF"), 0xFFFD);
  assert_int_equal(face_advance(FACE_TEXT, 0x4E2D), -1);
  assert_int_equal(face_advance(FACE_TEXT, 0), -1);
  assert_int_equal(face_advance(FACE_TEXT, 0x7F), -1);
  assert_int_equal(face_advance(FACE_TEXT, UINT32_MAX), -1);
}

/* Source: hmtx tables of DejaVuSans.ttf, DejaVuSans-Bold.ttf and DejaVuSansMono-Bold.ttf, version
 * 2.37, 2048 units to the em; here in thousandths, rounded down. */
static void advances_are_those_of_the_fonts(void **state) {
  (void)state;
  static const struct {
    uint32_t code;
    int units[FACE_COUNT];
  } published[] = {
      {' ', {651, 713, 1233}},      {'A', {1401, 1585, 1233}},    {'0', {1303, 1425, 1233}},
      {'i', {569, 702, 1233}},      {0x0175, {1675, 1892, 1233}}, {0x03A9, {1565, 1741, 1233}},
      {0x00B1, {1716, 1716, 1233}}, {0x2713, {1716, 1716, 1233}},
  };
  for (size_t i = 0; i < sizeof published / sizeof *published; i++)
    for (int face = 0; face < FACE_COUNT; face++)
      assert_int_equal(face_advance((Face)face, published[i].code),
                       published[i].units[face] * 1000 / 2048);
}

/* The paper's requirement: x-height at least 2.3 mm at 12 points; both come from outlines, here
 * held against the 1120 and 1493 units of the same fonts. */
static void heights_are_those_of_the_outlines(void **state) {
  (void)state;
  for (int face = 0; face < FACE_COUNT; face++) {
    const FaceInfo *info = face_info((Face)face);
    assert_int_equal(info->x_height, 547);     /* 1120 / 2048 */
    assert_int_equal(info->digit_height, 729); /* 1493 / 2048 */
    assert_true(info->x_height * EM_12_POINTS / 1000 >= MM(2.3));
  }
}

static void figures_are_all_of_one_width(void **state) {
  (void)state;
  for (uint32_t code = ' '; code < 0x7F; code++)
    assert_int_equal(face_advance(FACE_FIGURES, code), 602);
  for (uint32_t digit = '1'; digit <= '9'; digit++) {
    assert_int_equal(face_advance(FACE_TEXT, digit), face_advance(FACE_TEXT, '0'));
    assert_int_equal(face_advance(FACE_BOLD, digit), face_advance(FACE_BOLD, '0'));
  }
}

static void width_of_a_text(void **state) {
  (void)state;
  assert_int_equal(face_width(FACE_FIGURES, 10000, "31.20"), 5 * 6020);
  assert_int_equal(face_width(FACE_TEXT, 1000, "A0"), 684 + 636);
  assert_int_equal(face_width(FACE_TEXT, 1000, ""), 0);
  assert_int_equal(face_width(FACE_TEXT, 1000, "\xC5\xB5"), 817);
}

/* Whether the bytes hold the word, as one-byte or as two-byte characters. */
static bool holds(const FaceInfo *info, const char *word) {
  size_t length = strlen(word);
  for (size_t step = 1; step <= 2; step++)
    for (size_t i = 0; i + length * step <= info->size; i++) {
      size_t same = 0;
      while (same < length && info->bytes[i + same * step] == (unsigned char)word[same]) same++;
      if (same == length) return true;
    }
  return false;
}

/* The licence of the fonts: changed copies bear other names and keep the notice. */
static void changed_fonts_have_names_of_their_own(void **state) {
  (void)state;
  static const char *const names[FACE_COUNT] = {"Sheaf Text", "Sheaf Bold", "Sheaf Figures"};
  for (int face = 0; face < FACE_COUNT; face++) {
    const FaceInfo *info = face_info((Face)face);
    assert_string_equal(info->name, names[face]);
    assert_true(holds(info, names[face]));
    assert_true(holds(info, "Copyright (c) 2003 by Bitstream, Inc."));
    assert_false(holds(info, "DejaVu Sans"));
    assert_false(holds(info, "DejaVuSans"));
    assert_true(info->size < 120000);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(faces_have_what_a_packet_prints),
      cmocka_unit_test(what_a_face_lacks_is_told),
      cmocka_unit_test(advances_are_those_of_the_fonts),
      cmocka_unit_test(heights_are_those_of_the_outlines),
      cmocka_unit_test(figures_are_all_of_one_width),
      cmocka_unit_test(width_of_a_text),
      cmocka_unit_test(changed_fonts_have_names_of_their_own),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
