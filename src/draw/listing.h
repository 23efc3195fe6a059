/* Finished pages as plain text, one mark a line: layout compared without a PDF. */
#ifndef SHEAF_DRAW_LISTING_H
#define SHEAF_DRAW_LISTING_H

#include "diag/finding.h"
#include "model/pages.h"

/* Lengths in millimetres from the top left corner, angles in degrees clockwise
 * from twelve o'clock, three places each:
 *   paper 210.000 297.000
 *   page 1 "1 of 2"
 *     line 20.000 30.000 to 190.000 30.000 width 0.176 [dashed] [white]
 *     rectangle 20.000 30.000 to 40.000 40.000 [width 0.176] [filled]
 *     polygon 1.000,2.000 3.000,4.000 5.000,6.000 [width 0.176] [filled]
 *     circle 30.000 40.000 radius 5.000 ...
 *     arc 30.000 40.000 radius 5.000 from 0.000 to 90.000 ...
 *     text 20.000 30.000 bold 4.233 "Deck height" [white]
 *     link 20.000 30.000 to 40.000 34.000 page 3 at 12.000
 *   bookmark 0 page 1 at 12.000 "Job sheet"
 * "group 7" closes the line of a mark that belongs to a group. */
const char *draw_listing(Run *run, const Pages *pages);

#endif
