/* What the two forms of a measured row share: the whole line, and two alike on one line. */
#ifndef SHEAF_LAYOUT_MEASURE_ROW_H
#define SHEAF_LAYOUT_MEASURE_ROW_H

#include "layout/block.h"
#include "layout/boxes.h"

#define INITIALS MM(14)

bool row_has_limits(const MeasureRow *row);
int row_readings(const MeasureRow *row); /* 1 to 3 */
/* What is measured, behind the letter that formulas call it by; answers the height. */
Um row_what_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const MeasureRow *row);
Um row_what_width(Layout *layout, const MeasureRow *row); /* on one line */
NumericBox row_box(const MeasureRow *row, int reading);
/* "Record only.", "Judged by Squish." */
const char *row_kind(Layout *layout, const MeasureRow *row);
/* The block before it in its group is a row with the same gauge, kind and source: said once. */
bool row_goes_on(const Form *form, size_t at);

/* One reading without limits takes half a line where the next is alike: sets both and answers
 * true; true also for the second of two. */
bool pair_set(Form *form, const Block *block);

/* The same size at another place, several readings each and no limits: such rows follow each other
 * as a grid, places down and readings across. at: of the block in the group; before: as the one
 * in front, so that what is said there is not said again. */
bool in_grid(const Form *form, size_t at);
bool in_grid_before(const Form *form, size_t at);
/* Of that many boxes side by side, with the unit after the last; where they end at most. */
Um row_boxes_width(const MeasureRow *row, int count);
Um row_boxes_end(const MeasureRow *row);
/* A row of the grid below its first. */
void form_grid_row(Form *form, const Block *block);
/* Where the boxes of a grid begin. */
Um grid_boxes_x(const MeasureRow *row);

#endif
