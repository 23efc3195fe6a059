/* Part of a packet: a torn sheet printed again has the page numbers it had. */
#include "layout/layout.h"

#include "base/text.h"

static bool is_kept(const Page *page, const Words *sheets) {
  for (size_t i = 0; i < sheets->n; i++)
    if (text_is(page->sheet, sheets->at[i])) return true;
  return false;
}

/* Where it leads is not printed: the words stay, the link goes. */
static void keep_links(Page *page, const int *now) {
  size_t kept = 0;
  for (size_t i = 0; i < page->marks.n; i++) {
    Mark mark = page->marks.at[i];
    if (mark.kind == MARK_LINK && now[mark.target] < 0) continue;
    if (mark.kind == MARK_LINK) mark.target = now[mark.target];
    page->marks.at[kept++] = mark;
  }
  page->marks.n = kept;
}

void pages_part(Run *run, Pages *pages, const Words *sheets) {
  int *now = ARENA_NEW_N(run->arena, int, pages->list.n + 1);
  size_t kept = 0, marks = 0;
  for (size_t i = 0; i < pages->list.n; i++)
    now[i] = is_kept(&pages->list.at[i], sheets) ? (int)kept++ : -1;
  for (size_t i = 0; i < pages->list.n; i++) {
    if (now[i] < 0) continue;
    keep_links(&pages->list.at[i], now);
    pages->list.at[now[i]] = pages->list.at[i];
  }
  pages->list.n = kept;
  for (size_t i = 0; i < pages->bookmarks.n; i++) {
    Bookmark mark = pages->bookmarks.at[i];
    if (now[mark.page] < 0) continue;
    mark.page = now[mark.page];
    pages->bookmarks.at[marks++] = mark;
  }
  pages->bookmarks.n = marks;
}
