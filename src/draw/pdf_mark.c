/* Lines, shapes and text of a page. */
#include "draw/pdf_inside.h"

/* A line without a width still has to survive a copier: half a point. */
#define LEAST_WIDTH MM(0.176)

/* What the page was last told, so that it is told only what changes. Positions
 * on it are millimetres from the bottom left corner. */
typedef struct Pen {
  Press *press;
  HPDF_Page sheet;
  Um height;
  bool in_text;
  Um text_x, text_y; /* start of the last text since in_text, from the top */
  Face face;
  Um size;  /* 0: no face set yet */
  Um width; /* -1: none set yet */
  bool dashed;
  Ink fill, stroke;
} Pen;

static HPDF_REAL up(const Pen *pen, Um y) {
  return in_mm(pen->height - y);
}

static void leave_text(Pen *pen) {
  if (!pen->in_text) return;
  HPDF_Page_EndText(pen->sheet);
  pen->in_text = false;
}

static void fill_with(Pen *pen, Ink ink) {
  if (pen->fill == ink) return;
  HPDF_Page_SetGrayFill(pen->sheet, ink == INK_WHITE ? 1 : 0);
  pen->fill = ink;
}

static void stroke_with(Pen *pen, const Mark *mark) {
  Um width = mark->width > 0 ? mark->width : LEAST_WIDTH;
  if (pen->stroke != mark->ink) {
    HPDF_Page_SetGrayStroke(pen->sheet, mark->ink == INK_WHITE ? 1 : 0);
    pen->stroke = mark->ink;
  }
  if (pen->width != width) {
    HPDF_Page_SetLineWidth(pen->sheet, in_mm(width));
    pen->width = width;
  }
  if (pen->dashed != mark->dashed) {
#if HPDF_VERSION_ID >= 20400
    const HPDF_REAL dash[] = {2, 1}; /* mm */
#else
    const HPDF_UINT16 dash[] = {2, 1}; /* mm */
#endif
    HPDF_Page_SetDash(pen->sheet, mark->dashed ? dash : NULL, mark->dashed ? 2 : 0, 0);
    pen->dashed = mark->dashed;
  }
}

/* Whether a closed shape shows at all; sets the inks for it. */
static bool ready_shape(Pen *pen, const Mark *mark) {
  if (!mark->filled && mark->width <= 0) return false;
  if (mark->filled) fill_with(pen, mark->ink);
  if (mark->width > 0) stroke_with(pen, mark);
  return true;
}

static void finish_shape(Pen *pen, const Mark *mark) {
  if (mark->filled && mark->width > 0) {
    HPDF_Page_FillStroke(pen->sheet);
  } else if (mark->filled) {
    HPDF_Page_Fill(pen->sheet);
  } else {
    HPDF_Page_Stroke(pen->sheet);
  }
}

static void draw_line(Pen *pen, const Mark *mark) {
  stroke_with(pen, mark);
  HPDF_Page_MoveTo(pen->sheet, in_mm(mark->x), up(pen, mark->y));
  HPDF_Page_LineTo(pen->sheet, in_mm(mark->x2), up(pen, mark->y2));
  HPDF_Page_Stroke(pen->sheet);
}

static void draw_rectangle(Pen *pen, const Mark *mark) {
  if (!ready_shape(pen, mark)) return;
  Um left = mark->x < mark->x2 ? mark->x : mark->x2, right = mark->x + mark->x2 - left;
  Um top = mark->y < mark->y2 ? mark->y : mark->y2, bottom = mark->y + mark->y2 - top;
  HPDF_Page_Rectangle(pen->sheet, in_mm(left), up(pen, bottom), in_mm(right - left),
                      in_mm(bottom - top));
  finish_shape(pen, mark);
}

static void draw_polygon(Pen *pen, const Mark *mark) {
  if (mark->point_count < 2 || !ready_shape(pen, mark)) return;
  for (uint32_t i = 0; i < mark->point_count; i++) {
    HPDF_REAL x = in_mm(mark->points[i].x), y = up(pen, mark->points[i].y);
    if (i == 0) {
      HPDF_Page_MoveTo(pen->sheet, x, y);
    } else {
      HPDF_Page_LineTo(pen->sheet, x, y);
    }
  }
  HPDF_Page_ClosePath(pen->sheet);
  finish_shape(pen, mark);
}

static void draw_circle(Pen *pen, const Mark *mark) {
  if (mark->x2 <= 0 || !ready_shape(pen, mark)) return;
  HPDF_Page_Circle(pen->sheet, in_mm(mark->x), up(pen, mark->y), in_mm(mark->x2));
  finish_shape(pen, mark);
}

static void draw_arc(Pen *pen, const Mark *mark) {
  const int64_t turn = 360000;
  if (mark->x2 <= 0) return;
  int64_t from = mark->y2 % turn, span = (int64_t)mark->y3 - mark->y2;
  if (from < 0) from += turn;
  if (span < 0) span = turn + span % turn; /* past twelve o'clock */
  if (span == 0) return;
  stroke_with(pen, mark);
  HPDF_REAL x = in_mm(mark->x), y = up(pen, mark->y), radius = in_mm(mark->x2);
  if (span >= turn) {
    HPDF_Page_Circle(pen->sheet, x, y, radius);
  } else {
    HPDF_Page_Arc(pen->sheet, x, y, radius, (HPDF_REAL)((double)from / 1000.0),
                  (HPDF_REAL)((double)(from + span) / 1000.0));
  }
  HPDF_Page_Stroke(pen->sheet);
}

static void draw_text(Pen *pen, const Mark *mark) {
  if (mark->text[0] == '\0' || mark->size <= 0) return;
  if (!pen->in_text) {
    HPDF_Page_BeginText(pen->sheet);
    pen->in_text = true;
    pen->text_x = 0;
    pen->text_y = pen->height;
  }
  fill_with(pen, mark->ink);
  if (pen->size != mark->size || pen->face != mark->face) {
    HPDF_Page_SetFontAndSize(pen->sheet, pen->press->fonts[mark->face], in_mm(mark->size));
    pen->face = mark->face;
    pen->size = mark->size;
  }
  /* From the last start, in whole micrometres: nothing adds up. */
  HPDF_Page_MoveTextPos(pen->sheet, in_mm(mark->x - pen->text_x), in_mm(pen->text_y - mark->y));
  pen->text_x = mark->x;
  pen->text_y = mark->y;
  HPDF_Page_ShowText(pen->sheet, mark->text);
}

static void draw_mark(Pen *pen, const Mark *mark) {
  if (mark->kind == MARK_TEXT) {
    draw_text(pen, mark);
    return;
  }
  if (mark->kind == MARK_LINK) return;
  leave_text(pen);
  switch (mark->kind) {
  case MARK_LINE:
    draw_line(pen, mark);
    break;
  case MARK_RECTANGLE:
    draw_rectangle(pen, mark);
    break;
  case MARK_POLYGON:
    draw_polygon(pen, mark);
    break;
  case MARK_CIRCLE:
    draw_circle(pen, mark);
    break;
  case MARK_ARC:
    draw_arc(pen, mark);
    break;
  case MARK_TEXT:
  case MARK_LINK:
    break;
  }
}

void press_marks(Press *press, size_t page) {
  const Page *from = &press->pages->list.at[page];
  Pen pen = {
      .press = press, .sheet = press->sheets[page], .height = press->pages->height, .width = -1};
  const HPDF_REAL points_a_mm = (HPDF_REAL)(UM_PER_MM / UM_PER_POINT);
  HPDF_Page_Concat(pen.sheet, points_a_mm, 0, 0, points_a_mm, 0, 0);
  for (size_t i = 0; i < from->marks.n && !press_stopped(press); i++)
    draw_mark(&pen, &from->marks.at[i]);
  if (!press_stopped(press)) leave_text(&pen);
}
