#include "trade/volume.h"

#include "trade/circle.h"

double volume_cylinder(double diameter, double height) {
  return circle_area(diameter) * height;
}

double volume_ring(double outside, double inside, double height) {
  return (circle_area(outside) - circle_area(inside)) * height;
}

double volume_cap(double rim_diameter, double height) {
  double r = rim_diameter / 2.0;
  return TRADE_PI * height / 6.0 * (3.0 * r * r + height * height);
}

double volume_frustum(double rim_diameter, double floor_diameter, double height) {
  return TRADE_PI / 12.0 * height *
         (rim_diameter * rim_diameter + rim_diameter * floor_diameter +
          floor_diameter * floor_diameter);
}

double volume_crevice(double bore, double land_diameter, double height) {
  return volume_ring(bore, land_diameter, height);
}

double volume_height(double volume, double diameter) {
  return volume / circle_area(diameter);
}

double volume_clearance(double chamber, double gasket_bore, double gasket_thickness, double bore,
                        double deck, double crown) {
  return chamber + volume_cylinder(gasket_bore, gasket_thickness) + volume_cylinder(bore, deck) -
         crown;
}
