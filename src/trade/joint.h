/* Torque, stretch and angle on one side, clamp load on the other. */
#ifndef SHEAF_TRADE_JOINT_H
#define SHEAF_TRADE_JOINT_H

#include "trade/thread.h"

/* Short form T = K d F (Shigley, Mechanical Engineering Design, 9th ed., eq.
 * 8-27). N, N.m, m; k has no unit. torque is what is left after the prevailing torque. */
double joint_preload(double torque, double k, double major);
double joint_torque(double preload, double k, double major);
/* What a locking nut's or insert's prevailing torque leaves for the clamp load; not below 0. */
double joint_net_torque(double torque, double prevailing);

/* Mean diameter of the face that rubs under a head, as Shigley takes it where no head is said. */
#define JOINT_USUAL_COLLAR 1.25 /* of the major diameter */

/* Long form, K from friction in the thread and under the head (Shigley, 9th
 * ed., eq. 8-26): thread angle 30 degrees a side. mean: mean of major and minor diameter of
 * the bolt; lead: P for one start; collar: mean diameter of the face under the head. */
double joint_k(double major, double mean, double lead, double collar, double friction_thread,
               double friction_head);
/* The same for a thread, minor diameter d3; collar 0: the usual one. */
double joint_k_of(const Thread *thread, double collar, double friction_thread,
                  double friction_head);
/* The friction, equal in thread and under the usual head, that gives this k; not below 0. */
double joint_friction_of_k(const Thread *thread, double k);

/* VDI 2230, ISO 16047: MA = F (0.16 P + 0.58 d2 mu_thread + DKm mu_head/2).
 * head: mean friction diameter DKm = (bearing outside + hole)/2, m. */
double joint_long_torque(double preload, double pitch, double pitch_diameter,
                         double friction_thread, double friction_head, double head);
double joint_long_preload(double torque, double pitch, double pitch_diameter,
                          double friction_thread, double friction_head, double head);
/* The part of it that twists the shank: F (0.16 P + 0.58 d2 mu). */
double joint_thread_torque(double preload, double pitch, double pitch_diameter, double friction);
/* VDI 2230 permissible assembly preload: the tension that with its torsion
 * comes to share (0.9 in the guideline's tables) of yield. */
double joint_assembly_preload(const Thread *thread, double yield, double friction, double share);

/* von Mises stress of tension with torsion, Pa: sqrt(s^2 + 3 t^2), s = F/area,
 * t = M / (pi d^3/12), the section yielding as a whole as in VDI 2230; d is
 * the diameter of a circle of that area. */
double joint_equivalent_stress(double preload, double thread_torque, double area);
/* Share of yield while being tightened with the thread's friction, and a locking nut's prevailing torque, N.m, which
 * twists the shank too. */
double joint_yield_share(const Thread *thread, double area, double preload, double friction,
                         double prevailing, double yield);

/* Elastic bodies: N/m, Pa, m2, m. */
double joint_stiffness(double modulus, double area, double length); /* E A / L */
double joint_in_series(double a, double b);                         /* 1/(1/a + 1/b) */
double joint_preload_of_stretch(double stretch, double stiffness);
double joint_stretch(double preload, double stiffness);
/* What a bolt squeezes, N/m: cones of 30 degrees from under head and nut, met in the middle
 * (Shigley, 9th ed., eq. 8-22 for one material, from memory: 0.5774 pi E d over
 * 2 ln 5 (0.5774 l + 0.5 d)/(0.5774 l + 2.5 d)); it reckons with a face of 1.5 d under the head. */
double joint_cone_stiffness(double modulus, double major, double length);
/* The same by the substitute cylinder of VDI 2230 for a bolt with a nut, from memory: face outside
 * dw and hole dh, across the diameter of what is clamped (0: wide enough for the whole cone). */
double joint_cylinder_area(double face, double hole, double length, double across);
/* Turn of the nut past snug, rad: F = turn/(2 pi) P, over bolt and clamped parts in series. */
double joint_preload_of_angle(double turn, double pitch, double bolt, double clamped);

/* Gas force on a joint, N: pressure Pa over a circle of that diameter, m. */
double joint_gas_load(double pressure, double diameter);

#endif
