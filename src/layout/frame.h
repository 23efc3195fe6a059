/* The printed area of a page: margins, and what stands at its head and foot. */
#ifndef SHEAF_LAYOUT_FRAME_H
#define SHEAF_LAYOUT_FRAME_H

#include "layout/inside.h"

/* All ink lies within it. */
#define INK_WIDTH      MM(178)
#define INK_HEIGHT     MM(255)
#define MARGIN_BINDING MM(20)

/* Where the content of a page goes; the same size on every paper. */
typedef struct Frame {
  Um x, y; /* top left corner of the ink */
  Um left; /* of the content: the margin beside it takes the marks of changes */
  Um top, bottom;
} Frame;

/* The binding edge is at the left; on the back of a page printed on both sides, at the right. */
Frame frame_of(const Layout *layout, int page);
Um frame_room(void); /* height of the content */
/* Head and foot, once it is known how many pages there are. */
void frame_set(Layout *layout, int page, const char *title);

#endif
