/* Valve timing, lift, springs, and the gap between valve and piston. */
#ifndef SHEAF_TRADE_VALVE_H
#define SHEAF_TRADE_VALVE_H

/* Positions are signed, rad after the named dead centre: intake opens 31 BTDC
 * is -31 deg, closes 65 ABDC is +65 deg; exhaust opens 67 BBDC is -67 deg, closes 29
 * ATDC is +29 deg. All at one and the same lift. The relations are geometry; checked
 * against TM 9-8000 p. 2-36. */
double valve_duration(double opens, double closes); /* pi + closes - opens */
/* Middle of the open time, after top dead centre (of the overlap); exhaust
 * comes out negative, that is before it. Symmetric cams only. */
double valve_intake_centre(double opens_tdc, double closes_bdc);
double valve_exhaust_centre(double opens_bdc, double closes_tdc);
/* Half the angle between the centres, in crank rad = cam rad between the lobes. */
double valve_separation(double intake_centre, double exhaust_centre);
double valve_overlap(double intake_opens_tdc, double exhaust_closes_tdc);
/* How far the cam stands advanced: separation - intake centre. */
double valve_advance(double intake_centre, double exhaust_centre);

double valve_lift(double lobe_lift, double rocker_ratio, double lash); /* not below 0 */

/* Gap along the valve with the crank at some angle: rest gap (valve seated,
 * piston at top) - lift + drop of the piston * cos(angle between valve and bore). */
double valve_piston_gap(double rest_gap, double lift, double drop, double valve_angle);
/* Gap square to the valve where head and pocket pass: half the difference of the
 * diameters, less the offset. */
double valve_pocket_gap(double pocket_diameter, double head_diameter, double offset);

double valve_spring_load(double seat_load, double rate, double lift); /* N, N/m, m */
double valve_spring_rate(double seat_load, double open_load, double lift);
/* Fitted height for a seat load: free length - load/rate. */
double valve_spring_height(double free_length, double load, double rate);
double valve_coil_bind_margin(double fitted_height, double lift, double solid_height);
double valve_retainer_gap(double gap_at_rest, double lift); /* retainer to stem seal */

#endif
