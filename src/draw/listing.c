#include "draw/listing.h"

#include "base/text.h"

static void add_number(Text *out, const char *before, int32_t thousandths) {
  int64_t size = thousandths < 0 ? -(int64_t)thousandths : thousandths;
  text_addf(out, "%s%s%lld.%03lld", before, thousandths < 0 ? "-" : "", (long long)(size / 1000),
            (long long)(size % 1000));
}

static void add_pair(Text *out, const char *before, Um x, Um y) {
  add_number(out, before, x);
  add_number(out, " ", y);
}

static void add_quoted(Text *out, const char *text) {
  text_add(out, " \"");
  for (; text != NULL && *text != '\0'; text++) {
    if (*text == '"' || *text == '\\') text_add(out, "\\");
    text_add_n(out, text, 1);
  }
  text_add(out, "\"");
}

static void add_round(Text *out, const Mark *mark) {
  add_pair(out, mark->kind == MARK_ARC ? "arc " : "circle ", mark->x, mark->y);
  add_number(out, " radius ", mark->x2);
  if (mark->kind == MARK_CIRCLE) return;
  add_number(out, " from ", mark->y2);
  add_number(out, " to ", mark->y3);
}

static void add_text_mark(Text *out, const Mark *mark) {
  static const char *const faces[FACE_COUNT] = {"text", "bold", "figures"};
  add_pair(out, "text ", mark->x, mark->y);
  text_addf(out, " %s", (unsigned)mark->face < FACE_COUNT ? faces[mark->face] : "?");
  add_number(out, " ", mark->size);
  add_quoted(out, mark->text);
}

static void add_place(Text *out, const Mark *mark) {
  switch (mark->kind) {
  case MARK_LINE:
  case MARK_RECTANGLE:
    add_pair(out, mark->kind == MARK_LINE ? "line " : "rectangle ", mark->x, mark->y);
    add_pair(out, " to ", mark->x2, mark->y2);
    break;
  case MARK_POLYGON:
    text_add(out, "polygon");
    for (uint32_t i = 0; i < mark->point_count; i++) {
      add_number(out, " ", mark->points[i].x);
      add_number(out, ",", mark->points[i].y);
    }
    break;
  case MARK_CIRCLE:
  case MARK_ARC:
    add_round(out, mark);
    break;
  case MARK_TEXT:
    add_text_mark(out, mark);
    break;
  case MARK_LINK:
    add_pair(out, "link ", mark->x, mark->y);
    add_pair(out, " to ", mark->x2, mark->y2);
    text_addf(out, " page %d", mark->target + 1);
    add_number(out, " at ", mark->y3);
    break;
  }
}

static void add_mark(Text *out, const Mark *mark) {
  text_add(out, "  ");
  add_place(out, mark);
  if (mark->kind != MARK_TEXT && mark->kind != MARK_LINK) {
    if (mark->width != 0) add_number(out, " width ", mark->width);
    if (mark->filled) text_add(out, " filled");
    if (mark->dashed) text_add(out, " dashed");
  }
  if (mark->ink == INK_WHITE) text_add(out, " white");
  if (mark->group >= 0) text_addf(out, " group %d", mark->group);
  text_add(out, "\n");
}

const char *draw_listing(Run *run, const Pages *pages) {
  Text out = text_new(run->arena);
  add_pair(&out, "paper ", pages->width, pages->height);
  text_add(&out, "\n");
  for (size_t i = 0; i < pages->list.n; i++) {
    const Page *page = &pages->list.at[i];
    text_addf(&out, "page %zu", i + 1);
    add_quoted(&out, page->label);
    text_add(&out, "\n");
    for (size_t j = 0; j < page->marks.n; j++) add_mark(&out, &page->marks.at[j]);
  }
  for (size_t i = 0; i < pages->bookmarks.n; i++) {
    const Bookmark *mark = &pages->bookmarks.at[i];
    text_addf(&out, "bookmark %d page %d", mark->level, mark->page + 1);
    add_number(&out, " at ", mark->y);
    add_quoted(&out, mark->title);
    text_add(&out, "\n");
  }
  return text_done(&out);
}
