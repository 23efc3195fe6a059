/* Clearances cold and hot, ring gaps, shims, wear, and studs that grow less than what they hold. */
#ifndef SHEAF_TRADE_FIT_H
#define SHEAF_TRADE_FIT_H

#include <stddef.h>

/* Linear expansion: a in 1/K, rise in K, lengths in m. */
double fit_expansion(double length, double expansion, double rise);  /* growth L a dT */
double fit_hot_length(double length, double expansion, double rise); /* L (1 + a dT) */
/* Diametral clearance with hole and shaft each at its own rise. A linear model
 * with one temperature a part: to be reported, not to be judged on. */
double fit_hot_clearance(double hole, double hole_expansion, double hole_rise, double shaft,
                         double shaft_expansion, double shaft_rise);

/* A ring's end gap grows by pi times the change of the bore (geometry; Army TMs:
 * 0.003 in for 0.001 in). */
double fit_ring_gap_growth(double bore_change);
double fit_ring_gap_in(double gap, double bore_measured_in, double bore);

/* Shim to fit: fitted + measured - wanted, then the nearest that is stocked. */
double fit_shim_wanted(double fitted, double measured, double wanted);
/* Nearest of least, least + step, ... most; halfway goes to the thinner. */
double fit_shim_choice(double thickness, double least, double most, double step);

/* From readings of one bore (common terms of engine manuals): the most over all
 * heights of the difference across directions, and the most over all directions of
 * largest - smallest along it. at: heights rows of directions columns. */
double fit_out_of_round(const double *at, size_t heights, size_t directions);
double fit_taper(const double *at, size_t heights, size_t directions);

/* A steel stud through parts that grow more: how much longer they want to be, m. */
double fit_stud_mismatch(double length, double clamped_expansion, double stud_expansion,
                         double rise);
/* Preload it adds, N: mismatch over stud and clamped parts in series (N/m). */
double fit_stud_gain(double mismatch, double stud_stiffness, double clamped_stiffness);

#endif
