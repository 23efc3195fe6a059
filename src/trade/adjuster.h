/* Screw adjusters: a pushrod's or a tappet's turns, flats and travel. */
#ifndef SHEAF_TRADE_ADJUSTER_H
#define SHEAF_TRADE_ADJUSTER_H

double adjuster_travel(double turn, double pitch);       /* m; turn in rad: turn/(2 pi) P */
double adjuster_turn(double travel, double pitch);       /* rad */
double adjuster_flats(double turn, double flats_a_turn); /* number of flats that pass by */
double adjuster_turn_of_flats(double flats, double flats_a_turn); /* rad */

#endif
