/* How wide the columns of a table are. */
#ifndef SHEAF_LAYOUT_TABLE_WIDTHS_H
#define SHEAF_LAYOUT_TABLE_WIDTHS_H

#include "layout/inside.h"

/* The last number and its unit stay on one line, in a column of numbers a range with its "to". */
const char *table_cell_bound(Layout *layout, const char *text, bool number);

/* left: where each column begins and, last, where the table ends: columns + 1 places. pad: air at
 * each side of a cell. Columns begin with the share their weight gives; no word is cut where
 * there is room, and what a column does not need goes to those that have to break lines. Columns
 * to write in keep their share. */
void table_divide(Layout *layout, const Block *table, Um pad, Um *left);

#endif
