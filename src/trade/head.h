/* The face that rubs under a head or nut. */
#ifndef SHEAF_TRADE_HEAD_H
#define SHEAF_TRADE_HEAD_H

#include "trade/thread.h"

typedef enum HeadShape {
  HEAD_HEXAGON, /* ISO 4014, ISO 4017, nuts of ISO 4032: product grade A */
  HEAD_SOCKET,  /* ISO 4762 */
  HEAD_FLANGE,  /* EN 1665, nuts of EN 1661 */
} HeadShape;
#define HEAD_WORDS "hexagon|socket|flange"

/* false: the word names none. */
bool head_shape(const char *word, HeadShape *out);
/* The standard's number, to print: "ISO 4014". */
const char *head_standard(HeadShape shape);
/* Least outside diameter of the bearing face, m, by the standard; 0: it has no such size. */
double head_face(HeadShape shape, const Thread *thread);
/* The same of a hexagon of that width across flats, m: 0.92 of it, within 4 % of the table. */
double head_face_across(double flats);
/* Clearance hole, medium series of ISO 273, m; a tenth over the thread where it has no such size.
 */
double head_hole(const Thread *thread);
/* Mean diameter of the ring between hole and face (VDI 2230: DKm). */
double head_collar(double face, double hole);

#endif
