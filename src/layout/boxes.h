/* Boxes to write in and to tick. */
#ifndef SHEAF_LAYOUT_BOXES_H
#define SHEAF_LAYOUT_BOXES_H

#include "layout/paragraph.h"

#define TICK_SIDE    MM(6.2)
#define WRITE_HEIGHT MM(9.1) /* a line of handwriting */
#define DIGIT_PITCH  MM(5.1) /* a handwritten digit */
#define BOX_GAP      MM(5.2) /* between boxes side by side */

/* A square to tick; ticked where that was typed. */
void tick_set(Sketch *sketch, Um x, Um y, bool ticked);

typedef struct NumericBox {
  int whole, places; /* digits before and after the mark */
  bool sign;         /* room for a sign */
  const char *value; /* typed, or NULL */
} NumericBox;

/* The decimal mark stands at its place and short strokes part the digits; no
 * digit is printed ahead of the reading. */
Um numeric_box_width(const NumericBox *box);
void numeric_box_set(Layout *layout, Sketch *sketch, Um x, Um y, const NumericBox *box);
/* A box for words, with its label above it; the top of the label is y. Answers the height. */
Um written_box_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const char *label);
/* Several side by side, their labels on as many lines as the longest needs. */
Um written_boxes_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const Words *labels,
                     const Words *typed);

#endif
