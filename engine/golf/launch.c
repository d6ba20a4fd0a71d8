/* Rigid-body impact split into the face normal and the face plane. Lengths of the face are cm
 * inside, to suit g cm2; everything else is in the units of the header. */
#include "golf/launch.h"

#include <math.h>
#include <stddef.h>

#include "golf/degrees.h"
#include "golf/geometry.h"
#include "golf/range.h"

static const double radius = GOLF_BALL_DIAMETER / 2000; /* m */

/* Straight line through two points, level outside them. */
static double ramp(double x, double x0, double y0, double x1, double y1) {
  if (x <= x0) return y0;
  if (x >= x1) return y1;
  return y0 + (y1 - y0) * (x - x0) / (x1 - x0);
}

double golf_restitution(double normal_speed, double head_mass) {
  double solid = 0.86 - 0.0029 * normal_speed;
  double spring = ramp(head_mass, 205, 1, 235, 0);
  return at_least(0, solid + spring * at_least(0, 0.83 - solid));
}

double golf_inertia(double head_mass) {
  return ramp(head_mass, 204, 4085, 240, 2400);
}

double golf_inertia_height(double head_mass) {
  return ramp(head_mass, 204, 2400, 240, 700);
}

double golf_strike_factor(double strike, double strike_height, double head_mass, double inertia,
                          double inertia_height) {
  double b = strike / 10, h = strike_height / 10;
  double centred = 1 + GOLF_BALL_MASS / head_mass;
  return centred / (centred + GOLF_BALL_MASS * (b * b / inertia + h * h / inertia_height));
}

double golf_normal_ratio(double incidence, double restitution, double head_mass) {
  return (1 + restitution) * cos(radians(incidence)) / (1 + GOLF_BALL_MASS / head_mass);
}

double golf_rolling_ratio(double incidence, double head_mass) {
  return sin(radians(incidence)) / (3.5 + GOLF_BALL_MASS / head_mass);
}

double golf_rolling_spin(double club_speed, double incidence, double head_mass) {
  return 2.5 * club_speed * golf_rolling_ratio(incidence, head_mass) / radius;
}

double golf_square_ball_speed(double club_speed, double incidence, double head_mass) {
  double e = golf_restitution(club_speed * cos(radians(incidence)), head_mass);
  return club_speed * hypot(golf_normal_ratio(incidence, e, head_mass),
                            golf_rolling_ratio(incidence, head_mass));
}

double golf_spin_doubt(double incidence) {
  return 0.12 + 0.02 * at_least(0, incidence - 40);
}

/* The impulse m v_n at the arm b turns the head at m v_n b / I; its face, depth d ahead of the mass
 * centre, then moves at that rate times d along the ball, which takes up the rolling share of it
 * (derived). */
static double gear_spin(double arm, double normal_ball_speed, double inertia, double head_mass) {
  double depth = ramp(head_mass, 205, 3.5, 240, 0.8);
  double drag = GOLF_BALL_MASS * normal_ball_speed * arm * depth / inertia;
  return turns(2.5 * drag / (3.5 + GOLF_BALL_MASS / head_mass) / radius);
}

double golf_gear_sidespin(double strike, double normal_ball_speed, double head_mass) {
  return -gear_spin(strike / 10, normal_ball_speed, golf_inertia(head_mass), head_mass);
}

double golf_gear_backspin(double strike_height, double normal_ball_speed, double head_mass) {
  return -gear_spin(strike_height / 10, normal_ball_speed, golf_inertia_height(head_mass),
                    head_mass);
}

const struct golf_range *golf_impact_check(const struct golf_impact *impact, int *argument) {
  static const enum golf_quantity quantities[] = {
      GOLF_CLUB_SPEED, GOLF_FACE,      GOLF_PATH,   GOLF_DELIVERED_LOFT,
      GOLF_ATTACK,     GOLF_HEAD_MASS, GOLF_STRIKE, GOLF_STRIKE_HEIGHT};
  double values[] = {impact->club_speed, impact->face,      impact->path,   impact->delivered_loft,
                     impact->attack,     impact->head_mass, impact->strike, impact->strike_height};
  size_t index = 0;
  const struct golf_range *range = golf_check(quantities, values, 8, &index);
  if (range && argument) *argument = (int)index;
  return range;
}

static void fill_speeds(const struct golf_impact *x, double incidence, struct golf_launch *out,
                        double *normal) {
  double closing = x->club_speed * cos(radians(incidence));
  double e = golf_restitution(closing, x->head_mass);
  double factor = golf_strike_factor(x->strike, x->strike_height, x->head_mass,
                                     golf_inertia(x->head_mass), golf_inertia_height(x->head_mass));
  *normal = closing * (1 + e) / (1 + GOLF_BALL_MASS / x->head_mass) * factor;
  double along = x->club_speed * golf_rolling_ratio(incidence, x->head_mass);
  out->ball_speed = hypot(*normal, along);
  out->ball_speed_error = out->ball_speed * (0.015 + 0.3 * (1 - factor));
  out->speed_ratio = out->ball_speed / x->club_speed;
}

/* The spin of a centred strike stands along v x n; gear effect adds about the level and the upright
 * axis. */
static void fill_spin(const struct golf_impact *x, double incidence, double normal,
                      struct golf_launch *out) {
  double rolling = turns(golf_rolling_spin(x->club_speed, incidence, x->head_mass));
  double tilt = radians(out->centred_tilt);
  double gear_side = golf_gear_sidespin(x->strike, normal, x->head_mass);
  double gear_back = golf_gear_backspin(x->strike_height, normal, x->head_mass);
  out->backspin = rolling * cos(tilt) + gear_back;
  out->sidespin = rolling * sin(tilt) + gear_side;
  out->spin = hypot(out->backspin, out->sidespin);
  out->axis_tilt = degrees(atan2(out->sidespin, out->backspin));
  double doubt = golf_spin_doubt(incidence) * rolling;
  double gear = 0.4 * hypot(gear_side, gear_back);
  out->spin_error = hypot(doubt, gear);
  out->axis_tilt_error =
      out->spin > 0 ? degrees(hypot(0.4 * gear_side, 0.05 * rolling) / out->spin) : 0;
}

void golf_launch_compute(const struct golf_impact *x, struct golf_launch *out) {
  double incidence = golf_incidence(x->face, x->path, x->delivered_loft, x->attack), normal;
  out->incidence = incidence;
  out->centred_tilt = golf_axis_tilt(x->face, x->path, x->delivered_loft, x->attack);
  fill_speeds(x, incidence, out, &normal);
  fill_spin(x, incidence, normal, out);
  out->launch = golf_launch_angle(x->delivered_loft, x->attack);
  out->launch_error =
      golf_loft_share_error(x->delivered_loft) * fabs(x->delivered_loft - x->attack);
  out->start = golf_start_direction(x->face, x->path, x->delivered_loft);
  out->start_error = golf_face_share_error(x->delivered_loft) * fabs(x->face - x->path);
}

const struct golf_range *golf_launch(const struct golf_impact *impact, struct golf_launch *launch) {
  const struct golf_range *range = golf_impact_check(impact, NULL);
  if (!range) golf_launch_compute(impact, launch);
  else
    *launch = (struct golf_launch){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN,
                                   NAN, NAN, NAN, NAN, NAN, NAN, NAN};
  return range;
}

/* Strike changes sign too: in a right-handed frame toe is right. */
struct golf_impact golf_impact_mirror(struct golf_impact impact) {
  impact.face = -impact.face;
  impact.path = -impact.path;
  impact.strike = -impact.strike;
  return impact;
}

struct golf_launch golf_launch_mirror(struct golf_launch launch) {
  launch.start = -launch.start;
  launch.sidespin = -launch.sidespin;
  launch.centred_tilt = -launch.centred_tilt;
  launch.axis_tilt = -launch.axis_tilt;
  return launch;
}
