/* What a page looks like once printed, measured on its pixels. */
#include "unit/drawing.h"

/* The page as black and white pixels at 254 dots an inch: ten to the millimetre. */
typedef struct Print {
  size_t width, height;
  unsigned char *rows;
} Print;

static Print print_page(Bench *bench) {
  ask(bench, "pdftoppm -r 254 -gray -singlefile -aa no -aaVector no",
      arena_printf(bench->run.arena, "%s/print", bench->folder));
  FILE *file = fopen(arena_printf(bench->run.arena, "%s/print.pgm", bench->folder), "rb");
  assert_non_null(file);
  Print print = {0};
  assert_int_equal(fscanf(file, "P5 %zu %zu 255", &print.width, &print.height), 2);
  fgetc(file);
  size_t size = print.width * print.height;
  print.rows = arena_alloc(bench->run.arena, size);
  assert_int_equal(fread(print.rows, 1, size, file), size);
  fclose(file);
  return print;
}

static bool is_black(const Print *print, double x, double y) {
  size_t column = (size_t)(x * 10), row = (size_t)(y * 10);
  assert_true(column < print->width && row < print->height);
  return print->rows[row * print->width + column] < 128;
}

static size_t ink_in(const Print *print, double x, double y, double x2, double y2) {
  size_t count = 0;
  for (double row = y; row < y2; row += 0.1)
    for (double column = x; column < x2; column += 0.1) count += is_black(print, column, row);
  return count;
}

/* The paper's requirement: 100 mm on page 1 measure 100 +-1 mm. */
static void a_scale_bar_measures_what_it_says(void **state) {
  Bench *bench = *state;
  add(bench, MARK_LINE, 30, 50, 130, 50)->width = MM(0.5);
  draw(bench);
  Print print = print_page(bench);
  assert_int_equal(print.width, 2100);
  assert_in_range(print.height, 2970, 2971);
  size_t length = ink_in(&print, 20, 49.99, 200, 50.05);
  assert_in_range(length, 998, 1002);
  assert_true(is_black(&print, 30.15, 50) && is_black(&print, 129.85, 50));
  assert_false(is_black(&print, 29.8, 50));
  assert_false(is_black(&print, 130.2, 50));
  assert_in_range(ink_in(&print, 80, 45, 80.05, 55), 4, 6); /* half a millimetre */
}

static void shapes_stand_where_they_should(void **state) {
  Bench *bench = *state;
  static const Point triangle[] = {{MM(100), MM(30)}, {MM(120), MM(30)}, {MM(110), MM(10)}};
  add(bench, MARK_RECTANGLE, 40, 30, 20, 10)->filled = true; /* corners the other way round */
  add(bench, MARK_CIRCLE, 70, 20, 8, 0)->width = MM(1);
  Mark *polygon = add(bench, MARK_POLYGON, 0, 0, 0, 0);
  polygon->points = triangle;
  polygon->point_count = 3;
  polygon->filled = true;
  Mark *arc = add(bench, MARK_ARC, 150, 20, 8, 45); /* half past one to half past four */
  arc->y3 = 135000;
  arc->width = MM(1);
  arc = add(bench, MARK_ARC, 180, 20, 8, 300); /* over twelve o'clock */
  arc->y3 = 60000;
  arc->width = MM(1);
  add_text(bench, 22, 25, FACE_BOLD, "III")->ink = INK_WHITE;
  draw(bench);
  Print print = print_page(bench);
  assert_true(is_black(&print, 20.5, 10.5) && is_black(&print, 39.5, 29.5));
  assert_false(is_black(&print, 19.5, 10.5) || is_black(&print, 40.5, 29.5));
  assert_true(ink_in(&print, 22, 21, 28, 25) < 60 * 40 - 300); /* white letters in it */
  assert_true(is_black(&print, 78, 20) && is_black(&print, 62, 20) && is_black(&print, 70, 12));
  assert_false(is_black(&print, 70, 20));
  assert_true(is_black(&print, 110, 29) && is_black(&print, 110, 12));
  assert_false(is_black(&print, 101, 12) || is_black(&print, 119, 12));
  assert_true(is_black(&print, 158, 20)); /* three o'clock */
  assert_false(is_black(&print, 142, 20) || is_black(&print, 150, 12) || is_black(&print, 150, 28));
  assert_true(is_black(&print, 180, 12)); /* twelve o'clock */
  assert_false(is_black(&print, 180, 28) || is_black(&print, 188, 20));
}

static void dashes_leave_gaps(void **state) {
  Bench *bench = *state;
  Mark *dashed = add(bench, MARK_LINE, 30, 20, 120, 20);
  dashed->width = MM(0.5);
  dashed->dashed = true;
  add(bench, MARK_LINE, 30, 30, 120, 30)->width = MM(0.5);
  draw(bench);
  Print print = print_page(bench);
  assert_in_range(ink_in(&print, 25, 19.99, 125, 20.05), 560, 640); /* two thirds */
  assert_in_range(ink_in(&print, 25, 29.99, 125, 30.05), 898, 902);
}

/* Text as wide as layout reckons: the last stem ends where it should. */
static void text_is_as_wide_as_reckoned(void **state) {
  Bench *bench = *state;
  for (int face = 0; face < FACE_COUNT; face++) {
    const char *text = "Deck height " ACCENTS " 31.20 \xC2\xB1 0.05 mm";
    add_text(bench, 20, 20 + 20 * face, (Face)face, text);
    double end = 20 + face_width((Face)face, MM(5), text) / 1000.0;
    add_text(bench, end, 20 + 20 * face, (Face)face, "|");
  }
  draw(bench);
  const char *said = ask(bench, "pdftotext -bbox", "-");
  for (int face = 0; face < FACE_COUNT; face++) {
    const char *word = strstr(said, ">31.20<");
    assert_non_null(word);
    said = word + 1;
    while (strncmp(word, "<word", 5) != 0) word--;
    double left, top, right, bottom;
    assert_int_equal(sscanf(word, "<word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\">",
                            &left, &top, &right, &bottom),
                     4);
    double before = 20 + face_width((Face)face, MM(5), "Deck height " ACCENTS " ") / 1000.0;
    double width = face_width((Face)face, MM(5), "31.20") / 1000.0;
    assert_close(left, POINTS(before), 0, 0.01);
    assert_close(right, POINTS(before + width), 0, 0.01);
  }
}

/* Accents are there as ink: a letter with one has ink above where the bare one
 * ends. The zero is open: a mark in it reads as 8 on a copy of a copy. */
static void accents_show_and_the_zero_is_open_in_print(void **state) {
  Bench *bench = *state;
  for (int face = 0; face < FACE_COUNT; face++) {
    double y = 30 + 40 * face;
    static const char *const letters[] = {"s", "\xC5\xA1", "o", "\xC3\xB3",
                                          "w", "\xC5\xB5", "g", "\xC4\x9F"};
    for (int i = 0; i < 8; i++)
      add_text(bench, 20 + 20 * i, y, (Face)face, letters[i])->size = MM(20);
  }
  add_text(bench, 20, 170, FACE_FIGURES, "0")->size = MM(20);
  add_text(bench, 40, 170, FACE_FIGURES, "8")->size = MM(20);
  draw(bench);
  Print print = print_page(bench);
  for (int face = 0; face < FACE_COUNT; face++) {
    double y = 30 + 40 * face;
    for (int i = 0; i < 8; i++) {
      size_t above = ink_in(&print, 20 + 20 * i, y - 18, 39 + 20 * i, y - 11.6);
      if (i % 2 == 0) assert_int_equal(above, 0);
      if (i % 2 == 1) assert_true(above > 100);
    }
  }
  double middle = 20 * 0.602 / 2, height = 170 - 20 * 0.729 / 2;
  assert_false(is_black(&print, 20 + middle, height));
  assert_true(is_black(&print, 40 + middle, height));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      ON_BENCH(a_scale_bar_measures_what_it_says),
      ON_BENCH(shapes_stand_where_they_should),
      ON_BENCH(dashes_leave_gaps),
      ON_BENCH(text_is_as_wide_as_reckoned),
      ON_BENCH(accents_show_and_the_zero_is_open_in_print),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
