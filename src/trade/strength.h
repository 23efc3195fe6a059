/* How much a bolt can take: its weakest section, its proof load, and the share used. */
#ifndef SHEAF_TRADE_STRENGTH_H
#define SHEAF_TRADE_STRENGTH_H

#include <stdbool.h>

/* Smallest section that carries the load, m2: the thread's stress area or the
 * shank's, each less the bore of a hollow bolt. waist: smallest shank diameter,
 * 0 when no thinner than the thread; bore: 0 when solid. Not below 0. */
double strength_weakest_area(double stress_area, double waist, double bore);
/* True when the shank, not the thread, is the weakest section. */
bool strength_is_waisted(double stress_area, double waist, double bore);

/* N: section m2 times proof stress Pa (ISO 898-1: Fp = As Sp). */
double strength_proof_load(double area, double proof_stress);
/* Preload over proof load; 0.75 is 75 %. */
double strength_share(double preload, double proof_load);

#endif
