#include "trade/fit.h"

#include "trade/circle.h"

#include <math.h>

double fit_expansion(double length, double expansion, double rise) {
  return length * expansion * rise;
}

double fit_hot_length(double length, double expansion, double rise) {
  return length + fit_expansion(length, expansion, rise);
}

double fit_hot_clearance(double hole, double hole_expansion, double hole_rise, double shaft,
                         double shaft_expansion, double shaft_rise) {
  return fit_hot_length(hole, hole_expansion, hole_rise) -
         fit_hot_length(shaft, shaft_expansion, shaft_rise);
}

double fit_ring_gap_growth(double bore_change) {
  return TRADE_PI * bore_change;
}

double fit_ring_gap_in(double gap, double bore_measured_in, double bore) {
  return gap + fit_ring_gap_growth(bore - bore_measured_in);
}

double fit_shim_wanted(double fitted, double measured, double wanted) {
  return fitted + measured - wanted;
}

double fit_shim_choice(double thickness, double least, double most, double step) {
  if (!(step > 0.0)) return thickness < least ? least : thickness > most ? most : thickness;
  double steps = ceil((thickness - least) / step - 0.5 - 1e-6);
  double last = floor((most - least) / step + 1e-6);
  if (steps > last) steps = last;
  if (steps < 0.0) steps = 0.0;
  return least + steps * step;
}

static double spread(const double *first, size_t n, size_t stride) {
  double least = first[0], most = first[0];
  for (size_t i = 1; i < n; i++) {
    least = fmin(least, first[i * stride]);
    most = fmax(most, first[i * stride]);
  }
  return most - least;
}

double fit_out_of_round(const double *at, size_t heights, size_t directions) {
  double worst = 0.0;
  for (size_t h = 0; h < heights && directions > 0; h++) {
    worst = fmax(worst, spread(at + h * directions, directions, 1));
  }
  return worst;
}

double fit_taper(const double *at, size_t heights, size_t directions) {
  double worst = 0.0;
  for (size_t d = 0; d < directions && heights > 0; d++) {
    worst = fmax(worst, spread(at + d, heights, directions));
  }
  return worst;
}

double fit_stud_mismatch(double length, double clamped_expansion, double stud_expansion,
                         double rise) {
  return length * (clamped_expansion - stud_expansion) * rise;
}

double fit_stud_gain(double mismatch, double stud_stiffness, double clamped_stiffness) {
  return mismatch * stud_stiffness * clamped_stiffness / (stud_stiffness + clamped_stiffness);
}
