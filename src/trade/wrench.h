/* Torque wrenches: the setting with an adapter, the range, the accuracy. */
#ifndef SHEAF_TRADE_WRENCH_H
#define SHEAF_TRADE_WRENCH_H

#include <stdbool.h>

/* Setting that puts torque on the fastener: T L/(L + A cos a). length: drive to
 * middle of the grip; adapter: drive to fastener, 0 without one; angle (rad)
 * between adapter and wrench, 0 = straight on, pi = turned back, pi/2 = no
 * change. NAN when the adapter turned back reaches the grip. (FAA AC 43.13-1B
 * fig. 7-2; TM 1-1500-204-23-9.) */
double wrench_setting(double torque, double length, double adapter, double angle);
/* The other way round: what the fastener gets at this setting. */
double wrench_applied(double setting, double length, double adapter, double angle);

/* What a wrench with such divisions is set to: the nearest of those that put a torque from least
 * to most on the fastener, else the nearest. setting and division in one unit; gain is what the
 * fastener gets for each unit of it (1 without an adapter). division 0: the setting itself. */
double wrench_division(double setting, double division, double gain, double least, double most);

/* Inside the range of its certificate, both ends included. */
bool wrench_is_in_range(double setting, double least, double most);
/* Nothing is promised below a fifth of full scale, whatever the scale begins with
 * (TM 1-1500-204-23-9 table 8-1); 30 to 80 % serves best. */
bool wrench_is_promised(double setting, double full_scale);
bool wrench_is_best(double setting, double full_scale);
/* Permitted deviation as a share of the reading: 0.06 up to 10 N.m, 0.04 above (ISO
 * 6789, from memory). */
double wrench_deviation(double setting);
/* What the fastener gets lies in the sheet's band; for a torque without one, as near as the
 * permitted deviation of a wrench. */
bool wrench_is_near(double applied, double torque, double least, double most);

#endif
