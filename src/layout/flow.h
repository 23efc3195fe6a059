/* Groups onto pages: what stays together, where a page ends. */
#ifndef SHEAF_LAYOUT_FLOW_H
#define SHEAF_LAYOUT_FLOW_H

#include "layout/inside.h"

/* Fills layout->pages from the packet, all but head and foot; answers the title
 * of the sheet that each page belongs to. */
Words flow_pages(Layout *layout);

#endif
