/* The trade's arithmetic as plain functions of doubles, found by name: what a formula language
 * binds to. Does not parse, allocate or convert units: angles are degrees, spin is rpm, speeds m/s,
 * lengths m, points on the face and thicknesses mm, masses g. Signs are a right-handed player's: +
 * right, up, toe. The table is constant and owned by this module; any thread may read it and call
 * from it.
 */
#ifndef WM_GOLF_FORMULA_H
#define WM_GOLF_FORMULA_H

#include <stddef.h>

struct golf_range;

/* The largest arity in the table: a caller's argument array needs no more places. */
enum { GOLF_FUNCTION_ARITY_MAX = 8 };

struct golf_function {
  const char *name;                /* lower case with underscores, unique in the table */
  int arity;                       /* 1 to GOLF_FUNCTION_ARITY_MAX */
  const char *arguments;           /* names in order, separated by one space: "face path" */
  double (*call)(const double *x); /* x has arity places; NaN where an argument is not plausible */
  const char *about;               /* one line: what it returns, in which unit, and the sign */
};

/* Geometry (geometry.h):
 *   path_from_arc(arc_direction, attack, plane_tilt)           deg
 *   arc_from_path(path, attack, plane_tilt)                    deg
 *   face_to_path(face, path)                                   deg
 *   incidence(face, path, delivered_loft, attack)              deg
 *   axis_tilt(face, path, delivered_loft, attack)              deg
 *   face_share(loft)                                           none
 *   face_share_error(loft)                                     none
 *   face_to_path_from_tilt(axis_tilt, delivered_loft, attack)  deg
 *   launch_from_loft(delivered_loft, attack)                   deg
 *   loft_from_launch(launch, attack)                           deg
 *   start_direction(face, path, loft)                          deg
 *   face_from_start(start, path, loft)                         deg
 *   path_from_start(start, face, loft)                         deg
 *   low_point(attack, plane_tilt, radius)                      m, + ahead of the ball
 *   attack_from_low_point(low_point, plane_tilt, radius)       deg
 * Launch (launch.h); IMPACT = club_speed, face, path, delivered_loft, attack, head_mass, strike,
 * strike_height:
 *   ball_speed(IMPACT)                                         m/s
 *   launch_angle(IMPACT)                                       deg
 *   spin_rate(IMPACT)                                          rpm, about the tilted axis
 *   backspin(IMPACT)                                           rpm, the part about a level axis
 *   sidespin(IMPACT)                                           rpm, upright part, + curves right
 *   launch_tilt(IMPACT)                                        deg, axis tilt with gear effect
 *   gear_tilt(strike, club_loft)                               deg, gear effect at the usual swing
 *   speed_ratio(ball_speed, club_speed)                        none
 *   expected_speed_ratio(club_loft, head_mass)                 none
 *   expected_ball_speed(club_speed, club_loft, head_mass)      m/s
 *   expected_ball_speed_error(club_speed, club_loft, head_mass) m/s, one standard error
 *   expected_delivered_loft(club_loft)                         deg
 *   expected_attack(club_loft)                                 deg
 *   expected_launch(club_loft)                                 deg
 *   expected_spin(club_speed, club_loft, head_mass)            rpm
 *   ball_speed_lost(ball_speed, club_speed, club_loft, head_mass) m/s, + short of expected
 *   carry_lost(ball_speed, club_speed, club_loft, head_mass)   m, + short of expected
 * Flight (flight.h), model blend, still air at 15 C and sea level; SHOT = ball_speed, launch,
 * backspin, axis_tilt, start:
 *   carry(SHOT) m   side(SHOT) m, + right of the target line   curve(SHOT) m, + right of start line
 *   apex(SHOT) m    landing_angle(SHOT) deg    flight_time(SHOT) s    landing_spin(SHOT) rpm
 *   carry_error(SHOT) m, the model's own standard error, inputs taken as exact
 *   curve_angle(SHOT) deg, curve as an angle seen from the tee
 *   spin_from_back_and_tilt(backspin, axis_tilt) rpm
 *   axis_tilt_from_spins(backspin, sidespin) deg
 * Inverse (inverse.h):
 *   face_from_flight(start, axis_tilt, delivered_loft, attack) deg
 *   path_from_flight(start, axis_tilt, delivered_loft, attack) deg
 *   axis_tilt_from_curve(curve_angle, club_loft)               deg, for the club's usual flight
 * Statistics of a reading:
 *   detectable_change(standard_error)                          same unit; 95 %, two readings
 */

/* The whole table in print order; *count gets its length. */
const struct golf_function *golf_function_table(size_t *count);

/* The function called name (length bytes, not necessarily ended by NUL), or NULL. */
const struct golf_function *golf_function_find(const char *name, size_t length);

/* Checks x (arity places) against the plausible range of each argument. Returns NULL when all fit;
 * else the range missed (name, unit, low, high: range.h), and *argument the 0-based index of the
 * first misfit. */
const struct golf_range *golf_function_check(const struct golf_function *function, const double *x,
                                             int *argument);

#endif
