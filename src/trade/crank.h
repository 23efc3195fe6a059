/* Crank, rod and piston: where the piston is, how fast, and the volume above it. */
#ifndef SHEAF_TRADE_CRANK_H
#define SHEAF_TRADE_CRANK_H

/* Metres, rad, rad/s, m3. rod: between centres. angle: from
 * top dead centre, either sign. No offset of the pin. NAN when the rod is
 * shorter than the throw. Source where not said: Heywood, Internal Combustion
 * Engine Fundamentals (1988), eq. 2.4 to 2.6, from memory. */
double crank_drop(double stroke, double rod, double angle);         /* from top dead centre */
double crank_height(double stroke, double rod, double angle);       /* crank centre to pin */
double crank_angle_of_drop(double stroke, double rod, double drop); /* 0 to pi */
/* Away from the head, m/s and m/s2; exact, at constant speed. */
double crank_velocity(double stroke, double rod, double angle, double speed);
double crank_acceleration(double stroke, double rod, double angle, double speed);
/* Series to the second harmonic: r w (sin t + r/2l sin 2t), r w^2 (cos t + r/l cos 2t). */
double crank_velocity_series(double stroke, double rod, double angle, double speed);
double crank_acceleration_series(double stroke, double rod, double angle, double speed);
/* At top dead centre, where it is largest: r w^2 (1 + r/l), exact. */
double crank_acceleration_peak(double stroke, double rod, double speed);

double crank_piston_speed(double stroke, double speed);   /* mean, 2 S N; speed rad/s */
double crank_speed_of_piston(double stroke, double mean); /* rad/s */

double crank_swept(double bore, double stroke); /* one cylinder, pi/4 B^2 S */
/* Volume swept from that angle up to top dead centre. */
double crank_swept_from(double bore, double stroke, double rod, double angle);
double crank_ratio(double swept, double clearance);     /* (Vs + Vc)/Vc */
double crank_clearance_for(double swept, double ratio); /* Vs/(ratio - 1) */
/* Ratio from intake closing on; closes: rad after bottom dead centre. */
double crank_effective_ratio(double bore, double stroke, double rod, double clearance,
                             double closes);

#endif
