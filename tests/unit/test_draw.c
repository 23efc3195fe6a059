/* Pages to PDF and to a listing: structure, text, bytes, faults. */
#include "unit/drawing.h"

#include "draw/listing.h"
#include "draw/pdf_inside.h"

static size_t times(const char *said, const char *what) {
  size_t count = 0;
  for (const char *at = strstr(said, what); at != NULL; at = strstr(at + 1, what)) count++;
  return count;
}

/* Something of everything, on three pages. */
static void add_all(Bench *bench) {
  static const Point points[] = {{MM(150), MM(40)}, {MM(160), MM(40)}, {MM(155), MM(32)}};
  for (int i = 0; i < 3; i++) {
    add_page(bench);
    add(bench, MARK_LINE, 20, 20, 120, 20)->width = MM(0.25);
    add(bench, MARK_LINE, 20, 22, 120, 22)->dashed = true;
    add(bench, MARK_RECTANGLE, 130, 15, 180, 24)->filled = true;
    add_text(bench, 132, 21, FACE_BOLD, "DANGER")->ink = INK_WHITE;
    Mark *polygon = add(bench, MARK_POLYGON, 0, 0, 0, 0);
    polygon->points = points;
    polygon->point_count = 3;
    polygon->width = MM(1);
    add(bench, MARK_CIRCLE, 170, 40, 8, 0)->width = MM(0.25);
    Mark *arc = add(bench, MARK_ARC, 170, 40, 6, 300);
    arc->y3 = 60000;
    Mark *link = add(bench, MARK_LINK, 20, 40, 60, 50);
    link->target = (i + 1) % 3;
    link->y3 = MM(100);
    for (int face = 0; face < FACE_COUNT; face++)
      add_text(bench, 20, 60 + 10 * face, (Face)face,
               arena_printf(bench->run.arena, "face %d page %d: " ACCENTS, face, i + 1));
    vec_push(bench->run.arena, &bench->pages.bookmarks,
             ((Bookmark){arena_printf(bench->run.arena, "Sheet %d", i + 1), i, i, MM(20)}));
  }
  bench->pages.title = "Work packet " ACCENTS;
  bench->pages.subject = "Twin, larger bore";
  bench->pages.author = "Sample shop";
  bench->pages.keywords = "job 12, engine 7";
  bench->pages.date_year = 2031;
  bench->pages.date_month = 2;
  bench->pages.date_day = 3;
}

static void structure_is_sound(void **state) {
  Bench *bench = *state;
  add_all(bench);
  draw(bench);
  const char *said = ask(bench, "qpdf --check", "");
  assert_says(said, "No syntax or stream encoding errors found");
  assert_int_equal(times(said, "WARNING"), 0);
  said = ask(bench, "pdfinfo", "");
  assert_says(said, "Pages:           3\n");
  assert_says(said, "595.276 x 841.89 pts (A4)");
  assert_int_equal(times(said, "Error"), 0);
}

static void text_comes_out_of_every_face(void **state) {
  Bench *bench = *state;
  add_all(bench);
  draw(bench);
  const char *said = ask(bench, "pdftotext -enc UTF-8", "-");
  for (int face = 0; face < FACE_COUNT; face++)
    for (int page = 1; page <= 3; page++)
      assert_says(said, arena_printf(bench->run.arena, "face %d page %d: " ACCENTS, face, page));
  said = ask(bench, "pdffonts", "");
  assert_says(said, "+SheafText ");
  assert_says(said, "+SheafBold ");
  assert_says(said, "+SheafFigures ");
  assert_int_equal(times(said, "yes yes yes"), FACE_COUNT); /* embedded, subset, to Unicode */
  if (SHEAF_PDF_INNER) assert_int_equal(times(said, "Warning"), 0);
}

/* A long text of all sorts, with more runs of codes than one block of the map takes. */
static void every_character_comes_out(void **state) {
  Bench *bench = *state;
  const char *all = "";
  for (int face = 0; face < FACE_COUNT; face++) {
    add_page(bench);
    Text text = text_new(bench->run.arena);
    int row = 0, count = 0;
    for (uint32_t code = 0x21; code < 0x10000; code++) {
      /* A hard space comes out as a space, a soft hyphen not at all. */
      if (face_advance((Face)face, code) <= 0 || code % 3 == 0 || code == 0xA0 || code == 0xAD)
        continue;
      text_add_code(&text, code);
      if (++count % 30 != 0) continue;
      all = text_done(&text);
      add_text(bench, 20, 20 + 6 * row++, (Face)face, all);
      text = text_new(bench->run.arena);
    }
  }
  draw(bench);
  const char *said = ask(bench, "pdftotext -raw -enc UTF-8", "-");
  for (size_t i = 0; i < bench->pages.list.n; i++)
    for (size_t j = 0; j < bench->pages.list.at[i].marks.n; j++)
      assert_says(said, bench->pages.list.at[i].marks.at[j].text);
  if (SHEAF_PDF_INNER) assert_int_equal(times(said, "Warning"), 0);
}

static void information_bookmarks_and_links(void **state) {
  Bench *bench = *state;
  add_all(bench);
  draw(bench);
  const char *said = ask(bench, "TZ=UTC0 pdfinfo -isodates", "");
  assert_says(said, "Title:           Work packet " ACCENTS "\n");
  assert_says(said, "Subject:         Twin, larger bore\n");
  assert_says(said, "Author:          Sample shop\n");
  assert_says(said, "Keywords:        job 12, engine 7\n");
  assert_says(said, "CreationDate:    2031-02-03T00:00:00");
  said = ask(bench, "qpdf --json --json-key=outlines", "");
  for (int i = 1; i <= 3; i++)
    assert_says(said, arena_printf(bench->run.arena, "\"title\": \"Sheet %d\"", i));
  /* Each bookmark is of the next level: one at the top, its kid, its kid's kid. */
  assert_int_equal(times(said, "\"kids\": []"), 1);
  said = ask(bench, "qpdf --qdf --object-streams=disable", "- | strings");
  assert_int_equal(times(said, "/Subtype /Link"), 3);
}

static void no_date_without_one(void **state) {
  Bench *bench = *state;
  add_text(bench, 20, 20, FACE_TEXT, "x");
  draw(bench);
  assert_int_equal(times(ask(bench, "pdfinfo", ""), "Date"), 0);
}

static Drawing draw_elsewhere(Bench *bench, const char *zone, const char *language) {
  setenv("TZ", zone, 1);
  setenv("LC_ALL", language, 1);
  assert_int_equal(chdir("/tmp"), 0);
  Drawing drawing = draw_pdf(&bench->run, &bench->pages);
  assert_null(drawing.trouble);
  return drawing;
}

static void same_pages_same_bytes(void **state) {
  Bench *bench = *state;
  add_all(bench);
  Drawing first = draw_pdf(&bench->run, &bench->pages);
  assert_null(first.trouble);
  static const char *const zones[] = {"Pacific/Kiritimati", "America/Anchorage"};
  static const char *const languages[] = {"de_DE.UTF-8", "tr_TR.UTF-8"};
  for (int i = 0; i < 2; i++) {
    Drawing again = draw_elsewhere(bench, zones[i], languages[i]);
    assert_int_equal(again.size, first.size);
    assert_memory_equal(again.bytes, first.bytes, first.size);
  }
}

static void what_cannot_be_drawn_is_told(void **state) {
  Bench *bench = *state;
  Drawing drawing = draw_pdf(&bench->run, &bench->pages);
  assert_null(drawing.bytes);
  assert_string_equal(drawing.trouble, "there is no page to draw");
  add_text(bench, 20, 20, FACE_TEXT, "good");
  add_page(bench);
  add_text(bench, 20, 20, FACE_BOLD, "bad \xE4\xB8\xAD");
  drawing = draw_pdf(&bench->run, &bench->pages);
  assert_null(drawing.bytes);
  assert_says(drawing.trouble, "page 2 has a character that Sheaf Bold lacks: U+4E2D");
}

static void odd_marks_do_no_harm(void **state) {
  Bench *bench = *state;
  add_page(bench);
  add(bench, MARK_RECTANGLE, 10, 10, 20, 20);
  add(bench, MARK_CIRCLE, 10, 10, 0, 0)->filled = true;
  add(bench, MARK_POLYGON, 0, 0, 0, 0)->filled = true;
  add(bench, MARK_ARC, 10, 10, 5, 0)->y3 = 360000;
  add(bench, MARK_ARC, 10, 10, 5, -90)->y3 = 900000;
  add(bench, MARK_ARC, 10, 10, 5, 30)->y3 = 30000;
  add(bench, MARK_LINK, 10, 10, 20, 20)->target = 7;
  add_text(bench, 10, 10, FACE_TEXT, "");
  add_text(bench, 10, 10, FACE_TEXT, "no size")->size = 0;
  vec_push(bench->run.arena, &bench->pages.bookmarks, ((Bookmark){"deep", 2, 0, 0}));
  vec_push(bench->run.arena, &bench->pages.bookmarks, ((Bookmark){"nowhere", 0, 9, 0}));
  vec_push(bench->run.arena, &bench->pages.bookmarks, ((Bookmark){"", -4, 0, 0}));
  draw(bench);
  assert_says(ask(bench, "qpdf --check", ""), "No syntax or stream encoding errors found");
}

/* The library's memory, with the nth request refused. What it forgets is kept in a ring. */
typedef struct Piece {
  struct Piece *before, *after;
} Piece;

static size_t asked, refused_at, outstanding;
static Piece ring = {&ring, &ring};

static void *take_or_refuse(HPDF_UINT size) {
  if (++asked == refused_at) return NULL;
  Piece *piece = malloc(sizeof *piece + size);
  assert_non_null(piece);
  *piece = (Piece){ring.before, &ring};
  ring.before->after = piece;
  ring.before = piece;
  outstanding++;
  return piece + 1;
}

static void give_back(void *memory) {
  if (memory == NULL) return;
  Piece *piece = (Piece *)memory - 1;
  piece->before->after = piece->after;
  piece->after->before = piece->before;
  free(piece);
  outstanding--;
}

static void memory_running_out_is_told(void **state) {
  Bench *bench = *state;
  add_all(bench);
  PdfMemory memory = {take_or_refuse, give_back};
  asked = refused_at = outstanding = 0;
  Drawing whole = pdf_draw_with(&bench->run, &bench->pages, memory);
  assert_null(whole.trouble);
  assert_int_equal(outstanding, 0);
  size_t all = asked;
  for (size_t nth = 1; nth <= all; nth += nth < 400 ? 1 : 7) {
    Run run = run_new();
    asked = 0;
    refused_at = nth;
    Drawing drawing = pdf_draw_with(&run, &bench->pages, memory);
    assert_non_null(drawing.trouble);
    assert_null(drawing.bytes);
    /* The library forgets a few pieces of its own when it runs out of memory
     * while it writes a font; the program ends then. */
    assert_in_range(outstanding, 0, SHEAF_PDF_INNER ? 5 : 64);
    while (ring.after != &ring) give_back(ring.after + 1);
    run_free(&run);
  }
}

static void a_listing_of_all_marks(void **state) {
  Bench *bench = *state;
  static const Point points[] = {{MM(1), MM(2)}, {MM(3), MM(-4.5)}};
  Mark *mark = add(bench, MARK_LINE, 20, 30, 190, 30);
  mark->width = MM(0.176);
  mark->dashed = true;
  mark = add(bench, MARK_RECTANGLE, 20, 30, 40, 40);
  mark->filled = true;
  mark->ink = INK_WHITE;
  mark->group = 7;
  mark = add(bench, MARK_POLYGON, 0, 0, 0, 0);
  mark->points = points;
  mark->point_count = 2;
  add(bench, MARK_CIRCLE, 30, 40, 5, 0)->width = MM(0.5);
  add(bench, MARK_ARC, 30, 40, 5, 0)->y3 = 90500;
  add_text(bench, 20, 30, FACE_BOLD, "a \"b\" \\ \xC2\xB5m");
  mark = add(bench, MARK_LINK, 20, 30, 40, 34);
  mark->target = 2;
  mark->y3 = MM(12);
  vec_push(bench->run.arena, &bench->pages.bookmarks, ((Bookmark){"Job sheet", 0, 0, MM(12)}));
  assert_string_equal(draw_listing(&bench->run, &bench->pages),
                      "paper 210.000 297.000\n"
                      "page 1 \"1 of 1\"\n"
                      "  line 20.000 30.000 to 190.000 30.000 width 0.176 dashed\n"
                      "  rectangle 20.000 30.000 to 40.000 40.000 filled white group 7\n"
                      "  polygon 1.000,2.000 3.000,-4.500\n"
                      "  circle 30.000 40.000 radius 5.000 width 0.500\n"
                      "  arc 30.000 40.000 radius 5.000 from 0.000 to 90.500\n"
                      "  text 20.000 30.000 bold 5.000 \"a \\\"b\\\" \\\\ \xC2\xB5m\"\n"
                      "  link 20.000 30.000 to 40.000 34.000 page 3 at 12.000\n"
                      "bookmark 0 page 1 at 12.000 \"Job sheet\"\n");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      ON_BENCH(structure_is_sound),           ON_BENCH(text_comes_out_of_every_face),
      ON_BENCH(every_character_comes_out),    ON_BENCH(information_bookmarks_and_links),
      ON_BENCH(no_date_without_one),          ON_BENCH(same_pages_same_bytes),
      ON_BENCH(what_cannot_be_drawn_is_told), ON_BENCH(odd_marks_do_no_harm),
      ON_BENCH(memory_running_out_is_told),   ON_BENCH(a_listing_of_all_marks),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
