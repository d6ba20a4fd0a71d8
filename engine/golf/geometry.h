/* Impact geometry: how path, arc, face, loft, attack, start line and spin axis hang together.
 * Exact in three dimensions for an arc in a tilted plane, except the start-line shares, which are
 * measured. Holds no state; NaN outside a function's mathematical domain. Any thread may call it.
 * All angles deg; + right, up. Sources: D-plane jorgensen-1999 (memory; the mathematics is
 * derived), shares wood-2018.
 */
#ifndef WM_GOLF_GEOMETRY_H
#define WM_GOLF_GEOMETRY_H

/* Path of the club at the ball from where its arc points, the attack (+ upward) and the plane's
 * tilt from level: arc + asin(-tan(attack) / tan(tilt)) (derived). Hitting down moves the path
 * right of the arc. */
double golf_path_from_arc(double arc_direction, double attack, double plane_tilt);
double golf_arc_from_path(double path, double attack, double plane_tilt);
/* The attack that makes arc and path agree. */
double golf_attack_from_arc(double arc_direction, double path, double plane_tilt);

/* Low point of the arc ahead of the ball (+, toward the target), in the unit of radius, along the
 * arc's direction: -radius sin(attack) / sin(tilt) (derived). */
double golf_low_point(double attack, double plane_tilt, double radius);
double golf_attack_from_low_point(double low_point, double plane_tilt, double radius);

double golf_face_to_path(double face, double path);

/* Angle between club velocity and face normal, 0 to 180: acos(cosA cosL cos(F-P) + sinA sinL)
 * (derived). */
double golf_incidence(double face, double path, double delivered_loft, double attack);

/* Tilt of the spin axis v x n above level, + curves right (derived). Exact at any loft; 0 for loft
 * = attack with a square face, where the axis is not defined. */
double golf_axis_tilt(double face, double path, double delivered_loft, double attack);
/* Its inverse in closed form: face to path from axis tilt. NaN when no face gives that tilt. */
double golf_face_to_path_from_tilt(double axis_tilt, double delivered_loft, double attack);

/* The face's share R of the start direction, R face + (1 - R) path, and its error (1 standard
 * deviation between golfers): 0.76 +/- 0.08 driver, 0.69 +/- 0.03 7-iron, 0.61 +/- 0.07 wedge
 * (wood-2018, 2nd), straight lines between lofts of 10.5, 33 and 54 deg (assumed lofts: practice),
 * level beyond. loft is the club's; the delivered loft will do, the change is below the error. */
double golf_face_share(double loft);
double golf_face_share_error(double loft);
/* The loft's share of the launch angle, attack + share (loft - attack): 0.83, 0.81, 0.72
 * (wood-2018, 2nd). Its error 0.04 is practice. */
double golf_loft_share(double loft);
double golf_loft_share_error(double loft);

double golf_start_direction(double face, double path, double loft);
double golf_face_from_start(double start, double path, double loft);
double golf_path_from_start(double start, double face, double loft);

/* Launch angle and its inverse, with the loft's share at the delivered loft. */
double golf_launch_angle(double delivered_loft, double attack);
double golf_loft_from_launch(double launch, double attack);

#endif
