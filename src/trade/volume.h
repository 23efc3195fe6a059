/* Volumes of the shapes a chamber is made of. Metres in, m3 out. */
#ifndef SHEAF_TRADE_VOLUME_H
#define SHEAF_TRADE_VOLUME_H

double volume_cylinder(double diameter, double height);
/* A gasket's or spacer's hole, or a chamfer taken as a ring: pi/4 (D^2 - d^2) h. */
double volume_ring(double outside, double inside, double height);
/* Spherical dome or dish of that rim diameter and height: pi h/6 (3 r^2 + h^2). */
double volume_cap(double rim_diameter, double height);
/* Dish or dome with sloping sides: pi h/12 (D^2 + D d + d^2). */
double volume_frustum(double rim_diameter, double floor_diameter, double height);
/* What stands above the top ring: gap between land and bore. */
double volume_crevice(double bore, double land_diameter, double height);
/* Height of a cylinder of that diameter that holds the volume: how much to take
 * off a face, or how much a gasket adds. */
double volume_height(double volume, double diameter);
/* Clearance volume at top dead centre: chamber + gasket + deck - crown. deck:
 * piston's flat below the face, negative above it; crown: + a dome, - a dish. */
double volume_clearance(double chamber, double gasket_bore, double gasket_thickness, double bore,
                        double deck, double crown);

#endif
