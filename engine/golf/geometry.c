/* Invariant: every function of signed sideways quantities is odd in them to the last bit, because
 * only sin, asin, atan2, sums and products are used on them; mirrored input gives mirrored output.
 */
#include "golf/geometry.h"

#include <math.h>

#include "golf/degrees.h"

double golf_path_from_arc(double arc_direction, double attack, double plane_tilt) {
  return arc_direction - degrees(asin(tan(radians(attack)) / tan(radians(plane_tilt))));
}

double golf_arc_from_path(double path, double attack, double plane_tilt) {
  return path + degrees(asin(tan(radians(attack)) / tan(radians(plane_tilt))));
}

double golf_attack_from_arc(double arc_direction, double path, double plane_tilt) {
  return degrees(atan(-sin(radians(path - arc_direction)) * tan(radians(plane_tilt))));
}

double golf_low_point(double attack, double plane_tilt, double radius) {
  double along = sin(radians(attack)) / sin(radians(plane_tilt));
  return fabs(along) <= 1 ? -radius * along : NAN;
}

double golf_attack_from_low_point(double low_point, double plane_tilt, double radius) {
  if (!(fabs(low_point) <= radius)) return NAN;
  return degrees(asin(-low_point / radius * sin(radians(plane_tilt))));
}

double golf_face_to_path(double face, double path) {
  return face - path;
}

/* Half of |v - n| is used instead of acos(v . n), which loses half its digits near zero. */
double golf_incidence(double face, double path, double delivered_loft, double attack) {
  double half_turn = sin(radians(face - path) / 2);
  double half_rise = sin(radians(delivered_loft - attack) / 2);
  double level = cos(radians(delivered_loft)) * cos(radians(attack));
  double sine2 = half_rise * half_rise + level * half_turn * half_turn;
  return degrees(2 * asin(at_most(1, sqrt(sine2))));
}

/* With d = face - path the axis v x n has the upright part cosA cosL sin d and a level part whose
 * square is sin2(L - A) + 4 sinA cosA sinL cosL sin2(d / 2). The second term is tiny or negative
 * only with the first, so the sum is clipped at 0 against rounding. */
double golf_axis_tilt(double face, double path, double delivered_loft, double attack) {
  double d = radians(face - path);
  double cos_loft = cos(radians(delivered_loft)), cos_attack = cos(radians(attack));
  double sin_loft = sin(radians(delivered_loft)), sin_attack = sin(radians(attack));
  double rise = sin_loft * cos_attack - cos_loft * sin_attack;
  double half = sin(d / 2);
  double cross = sin_loft * cos_loft * sin_attack * cos_attack;
  double level = sqrt(at_least(0, rise * rise + 4 * cross * half * half));
  return degrees(atan2(cos_attack * cos_loft * sin(d), level));
}

/* Solves K sin2 d = T2 (s + 2 q (1 - cos d)) for u = 1 - cos d, K = (cosA cosL)2, q = sinA cosA
 * sinL cosL, s = sin2(L - A): K u2 + 2 (T2 q - K) u + T2 s = 0, small root written without
 * cancellation. */
double golf_face_to_path_from_tilt(double axis_tilt, double delivered_loft, double attack) {
  double t = tan(radians(axis_tilt));
  double cos_loft = cos(radians(delivered_loft)), cos_attack = cos(radians(attack));
  double sin_loft = sin(radians(delivered_loft)), sin_attack = sin(radians(attack));
  double rise = sin_loft * cos_attack - cos_loft * sin_attack;
  double k = cos_loft * cos_loft * cos_attack * cos_attack;
  double half_b = k - t * t * sin_loft * cos_loft * sin_attack * cos_attack;
  double c = t * t * rise * rise;
  double u = c / (half_b + sqrt(half_b * half_b - k * c));
  if (!(u >= 0 && u <= 1)) return NAN;
  return copysign(degrees(2 * asin(sqrt(u / 2))), t);
}

/* The measured clubs of wood-2018: driver, 7-iron, wedge; lofts are what such clubs usually have
 * (practice). */
enum { MEASURED = 3 };
static const double measured_loft[MEASURED] = {10.5, 33, 54};
static const double measured_face[MEASURED] = {0.76, 0.69, 0.61};
static const double measured_face_error[MEASURED] = {0.08, 0.03, 0.07};
static const double measured_rise[MEASURED] = {0.83, 0.81, 0.72};
static const double rise_error = 0.04; /* practice: the source gives none */

static double between_clubs(double loft, const double *y) {
  const double *x = measured_loft;
  if (isnan(loft)) return NAN;
  if (loft <= x[0]) return y[0];
  for (int i = 0; i + 1 < MEASURED; i++)
    if (loft <= x[i + 1]) return y[i] + (y[i + 1] - y[i]) * (loft - x[i]) / (x[i + 1] - x[i]);
  return y[MEASURED - 1];
}

double golf_face_share(double loft) {
  return between_clubs(loft, measured_face);
}

double golf_face_share_error(double loft) {
  return between_clubs(loft, measured_face_error);
}

double golf_loft_share(double loft) {
  return between_clubs(loft, measured_rise);
}

double golf_loft_share_error(double loft) {
  return isnan(loft) ? NAN : rise_error;
}

double golf_start_direction(double face, double path, double loft) {
  return path + golf_face_share(loft) * (face - path);
}

double golf_face_from_start(double start, double path, double loft) {
  return path + (start - path) / golf_face_share(loft);
}

double golf_path_from_start(double start, double face, double loft) {
  double share = golf_face_share(loft);
  return (start - share * face) / (1 - share);
}

double golf_launch_angle(double delivered_loft, double attack) {
  return attack + golf_loft_share(delivered_loft) * (delivered_loft - attack);
}

/* The share changes slowly with loft, so the fixed point converges: its factor is below 0.2 a turn.
 */
double golf_loft_from_launch(double launch, double attack) {
  double loft = attack + (launch - attack) / 0.8;
  for (int i = 0; i < 40; i++) loft = attack + (launch - attack) / golf_loft_share(loft);
  return loft;
}
