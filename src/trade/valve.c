#include "trade/valve.h"

#include "trade/circle.h"

#include <math.h>

double valve_duration(double opens, double closes) {
  return TRADE_PI + closes - opens;
}

double valve_intake_centre(double opens_tdc, double closes_bdc) {
  return opens_tdc + valve_duration(opens_tdc, closes_bdc) / 2.0;
}

double valve_exhaust_centre(double opens_bdc, double closes_tdc) {
  return closes_tdc - valve_duration(opens_bdc, closes_tdc) / 2.0;
}

double valve_separation(double intake_centre, double exhaust_centre) {
  return (intake_centre - exhaust_centre) / 2.0;
}

double valve_overlap(double intake_opens_tdc, double exhaust_closes_tdc) {
  return exhaust_closes_tdc - intake_opens_tdc;
}

double valve_advance(double intake_centre, double exhaust_centre) {
  return valve_separation(intake_centre, exhaust_centre) - intake_centre;
}

double valve_lift(double lobe_lift, double rocker_ratio, double lash) {
  double lift = lobe_lift * rocker_ratio - lash;
  return lift > 0.0 ? lift : 0.0;
}

double valve_piston_gap(double rest_gap, double lift, double drop, double valve_angle) {
  return rest_gap - lift + drop * cos(valve_angle);
}

double valve_pocket_gap(double pocket_diameter, double head_diameter, double offset) {
  return (pocket_diameter - head_diameter) / 2.0 - fabs(offset);
}

double valve_spring_load(double seat_load, double rate, double lift) {
  return seat_load + rate * lift;
}

double valve_spring_rate(double seat_load, double open_load, double lift) {
  return (open_load - seat_load) / lift;
}

double valve_spring_height(double free_length, double load, double rate) {
  return free_length - load / rate;
}

double valve_coil_bind_margin(double fitted_height, double lift, double solid_height) {
  return fitted_height - lift - solid_height;
}

double valve_retainer_gap(double gap_at_rest, double lift) {
  return gap_at_rest - lift;
}
