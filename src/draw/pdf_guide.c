/* Links, bookmarks and document information. */
#include "draw/pdf_inside.h"

#include "base/text.h"

/* A place to go to: that page, fitted to the window's width, from that height. */
static HPDF_Destination place_on(Press *press, int page, Um y) {
  HPDF_Destination there = HPDF_Page_CreateDestination(press->sheets[page]);
  if (there != NULL) HPDF_Destination_SetFitH(there, in_points(press->pages->height - y));
  return there;
}

static bool is_page(const Press *press, int page) {
  return page >= 0 && (size_t)page < press->pages->list.n;
}

static void add_link(Press *press, size_t page, const Mark *mark) {
  if (!is_page(press, mark->target)) return;
  HPDF_Destination there = place_on(press, mark->target, mark->y3);
  if (there == NULL) return;
  Um height = press->pages->height;
  HPDF_Rect rect = {in_points(mark->x), in_points(height - mark->y2), in_points(mark->x2),
                    in_points(height - mark->y)};
  HPDF_Annotation link = HPDF_Page_CreateLinkAnnot(press->sheets[page], rect, there);
  if (link != NULL) HPDF_LinkAnnot_SetBorderStyle(link, 0, 0, 0); /* the print shows no frame */
}

static void add_links(Press *press) {
  for (size_t i = 0; i < press->pages->list.n; i++) {
    const Page *page = &press->pages->list.at[i];
    for (size_t j = 0; j < page->marks.n && !press_stopped(press); j++)
      if (page->marks.at[j].kind == MARK_LINK) add_link(press, i, &page->marks.at[j]);
  }
}

#define LEVELS 3

static void add_bookmarks(Press *press) {
  HPDF_Outline above[LEVELS + 1] = {NULL}; /* above[n]: the parent at level n */
  int deepest = 0;
  for (size_t i = 0; i < press->pages->bookmarks.n && !press_stopped(press); i++) {
    const Bookmark *mark = &press->pages->bookmarks.at[i];
    if (!is_page(press, mark->page)) continue;
    int level = mark->level < 0 ? 0 : mark->level > deepest ? deepest : mark->level;
    HPDF_Outline line = HPDF_CreateOutline(press->pdf, above[level], mark->title, press->encoder);
    if (line == NULL || press_stopped(press)) return;
    HPDF_Outline_SetOpened(line, level == 0 ? HPDF_TRUE : HPDF_FALSE);
    HPDF_Outline_SetDestination(line, place_on(press, mark->page, mark->y));
    above[level + 1] = line;
    deepest = level + 1 < LEVELS ? level + 1 : LEVELS - 1;
  }
  if (press->pages->bookmarks.n > 0) HPDF_SetPageMode(press->pdf, HPDF_PAGE_MODE_USE_OUTLINE);
}

static void set_info(Press *press, HPDF_InfoType type, const char *value) {
  if (value != NULL && *value != '\0' && !press_stopped(press))
    HPDF_SetInfoAttr(press->pdf, type, value);
}

static void add_information(Press *press) {
  const Pages *pages = press->pages;
  HPDF_SetCurrentEncoder(press->pdf, "UTF-8"); /* strings become UTF-16 */
  set_info(press, HPDF_INFO_TITLE, pages->title);
  set_info(press, HPDF_INFO_SUBJECT, pages->subject);
  set_info(press, HPDF_INFO_AUTHOR, pages->author);
  set_info(press, HPDF_INFO_KEYWORDS, pages->keywords);
  set_info(press, HPDF_INFO_CREATOR, "sheaf");
  if (pages->date_year == 0 || press_stopped(press)) return;
  HPDF_Date date = {
      .year = pages->date_year, .month = pages->date_month, .day = pages->date_day, .ind = ' '};
  HPDF_SetInfoDateAttr(press->pdf, HPDF_INFO_CREATION_DATE, date);
  HPDF_SetInfoDateAttr(press->pdf, HPDF_INFO_MOD_DATE, date);
}

void press_guides(Press *press) {
  add_links(press);
  if (!press_stopped(press)) add_bookmarks(press);
  if (!press_stopped(press)) add_information(press);
}
