#include "trade/adjuster.h"

#include "trade/circle.h"

#define TURN (2.0 * TRADE_PI)

double adjuster_travel(double turn, double pitch) {
  return turn / TURN * pitch;
}

double adjuster_turn(double travel, double pitch) {
  return travel / pitch * TURN;
}

double adjuster_flats(double turn, double flats_a_turn) {
  return turn / TURN * flats_a_turn;
}

double adjuster_turn_of_flats(double flats, double flats_a_turn) {
  return flats / flats_a_turn * TURN;
}
