/* Finished pages: what layout hands to draw. Coordinates are micrometres from
 * the top left corner of the sheet, x to the right, y downwards. */
#ifndef SHEAF_MODEL_PAGES_H
#define SHEAF_MODEL_PAGES_H
/* Records are laid out as tables, a meaning beside each member. */
/* clang-format off */

#include "base/vec.h"

#include <stdbool.h>
#include <stdint.h>

typedef int32_t Um; /* micrometre */
#define UM_PER_MM 1000
#define MM(x) ((Um)((x) * 1000.0 + ((x) < 0 ? -0.5 : 0.5)))
#define UM_PER_POINT (25400.0 / 72.0)

typedef enum Face { FACE_TEXT, FACE_BOLD, FACE_FIGURES, FACE_COUNT } Face; /* sans, sans bold, mono bold */

typedef enum Ink { INK_BLACK, INK_WHITE } Ink; /* one-bit: nothing between */

typedef enum MarkKind {
  MARK_LINE,      /* x, y to x2, y2; width */
  MARK_RECTANGLE, /* x, y, x2, y2 as corners; width 0 = no outline; filled */
  MARK_POLYGON,   /* points; closed; width, filled */
  MARK_CIRCLE,    /* centre x, y, radius x2; width, filled */
  MARK_ARC,       /* centre x, y, radius x2, from angle y2 to angle y3, in thousandths of a degree clockwise from twelve o'clock */
  MARK_TEXT,      /* baseline start x, y; face, size, text, ink */
  MARK_LINK,      /* x, y, x2, y2 leads to page target at height y3 */
} MarkKind;

typedef struct Point { Um x, y; } Point;

typedef struct Mark {
  MarkKind kind;
  Um x, y, x2, y2, y3;
  Um width;      /* of the line */
  bool filled, dashed;
  Ink ink;
  Face face;
  Um size;       /* of the type: its em, in micrometres (12 pt = 4233) */
  const char *text; /* UTF-8, only characters the faces have */
  const Point *points;
  uint32_t point_count;
  int target;    /* page index from 0, LINK only */
  int group;     /* which group of the packet it belongs to; -1 header, footer */
} Mark;

typedef struct Page {
  VEC(Mark) marks;
  const char *label; /* "3 of 14" */
  const char *sheet; /* id of the sheet it belongs to: "torque" */
} Page;

typedef struct Bookmark {
  const char *title;
  int level; /* 0 sheets, 1 blocks, 2 steps */
  int page;  /* index from 0 */
  Um y;
} Bookmark;

typedef struct Pages {
  Um width, height;
  VEC(Page) list;
  VEC(Bookmark) bookmarks;
  const char *title, *subject, *author, *keywords; /* document information */
  int date_year, date_month, date_day;             /* of the job; 0: none */
} Pages;

#endif
