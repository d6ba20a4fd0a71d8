/* Thin wrappers: each checks the plausible ranges of its arguments, then calls the function of the
 * same purpose. Invariant, checked by test_formula: every argument name of the table is a name of
 * range.h, in the order in which the wrapper's list of quantities has it. */
#include "golf/formula.h"

#include <math.h>
#include <string.h>

#include "golf/degrees.h"
#include "golf/expect.h"
#include "golf/flight.h"
#include "golf/geometry.h"
#include "golf/inverse.h"
#include "golf/launch.h"
#include "golf/propagate.h"
#include "golf/range.h"

#define FITS(quantities, x)                                                                        \
  (!golf_check(quantities, x, sizeof(quantities) / sizeof(quantities)[0], NULL))

typedef enum golf_quantity quantity;

static const quantity of_arc[] = {GOLF_ARC_DIRECTION, GOLF_ATTACK, GOLF_PLANE_TILT};
static const quantity of_path[] = {GOLF_PATH, GOLF_ATTACK, GOLF_PLANE_TILT};
static const quantity of_face_path[] = {GOLF_FACE, GOLF_PATH};
static const quantity of_impact_angles[] = {GOLF_FACE, GOLF_PATH, GOLF_DELIVERED_LOFT, GOLF_ATTACK};
static const quantity of_loft[] = {GOLF_LOFT};
static const quantity of_start[] = {GOLF_FACE, GOLF_PATH, GOLF_LOFT};
static const quantity of_start_path[] = {GOLF_START, GOLF_PATH, GOLF_LOFT};
static const quantity of_start_face[] = {GOLF_START, GOLF_FACE, GOLF_LOFT};
static const quantity of_low_point[] = {GOLF_ATTACK, GOLF_PLANE_TILT, GOLF_RADIUS};
static const quantity of_low_attack[] = {GOLF_LOW_POINT, GOLF_PLANE_TILT, GOLF_RADIUS};
static const quantity of_speeds[] = {GOLF_BALL_SPEED, GOLF_CLUB_SPEED};
static const quantity of_club[] = {GOLF_CLUB_LOFT, GOLF_HEAD_MASS};
static const quantity of_club_loft[] = {GOLF_CLUB_LOFT};
static const quantity of_swing[] = {GOLF_CLUB_SPEED, GOLF_CLUB_LOFT, GOLF_HEAD_MASS};
static const quantity of_loss[] = {GOLF_BALL_SPEED, GOLF_CLUB_SPEED, GOLF_CLUB_LOFT,
                                   GOLF_HEAD_MASS};
static const quantity of_back_tilt[] = {GOLF_BACKSPIN, GOLF_AXIS_TILT};
static const quantity of_spins[] = {GOLF_BACKSPIN, GOLF_SIDESPIN};
static const quantity of_flight[] = {GOLF_START, GOLF_AXIS_TILT, GOLF_DELIVERED_LOFT, GOLF_ATTACK};
static const quantity of_curve[] = {GOLF_CURVE_ANGLE, GOLF_CLUB_LOFT};
static const quantity of_tilt[] = {GOLF_AXIS_TILT, GOLF_DELIVERED_LOFT, GOLF_ATTACK};
static const quantity of_loft_attack[] = {GOLF_DELIVERED_LOFT, GOLF_ATTACK};
static const quantity of_launch_attack[] = {GOLF_LAUNCH, GOLF_ATTACK};
static const quantity of_strike_club[] = {GOLF_STRIKE, GOLF_CLUB_LOFT};
static const quantity of_error[] = {GOLF_STANDARD_ERROR};
static const quantity of_shot[] = {GOLF_BALL_SPEED, GOLF_LAUNCH, GOLF_BACKSPIN, GOLF_AXIS_TILT,
                                   GOLF_START};

static double path_from_arc(const double *x) {
  return FITS(of_arc, x) ? golf_path_from_arc(x[0], x[1], x[2]) : NAN;
}
static double arc_from_path(const double *x) {
  return FITS(of_path, x) ? golf_arc_from_path(x[0], x[1], x[2]) : NAN;
}
static double face_to_path(const double *x) {
  return FITS(of_face_path, x) ? golf_face_to_path(x[0], x[1]) : NAN;
}
static double incidence(const double *x) {
  return FITS(of_impact_angles, x) ? golf_incidence(x[0], x[1], x[2], x[3]) : NAN;
}
static double axis_tilt(const double *x) {
  return FITS(of_impact_angles, x) ? golf_axis_tilt(x[0], x[1], x[2], x[3]) : NAN;
}
static double face_share(const double *x) {
  return FITS(of_loft, x) ? golf_face_share(x[0]) : NAN;
}
static double face_share_error(const double *x) {
  return FITS(of_loft, x) ? golf_face_share_error(x[0]) : NAN;
}
static double face_to_path_from_tilt(const double *x) {
  return FITS(of_tilt, x) ? golf_face_to_path_from_tilt(x[0], x[1], x[2]) : NAN;
}
static double launch_from_loft(const double *x) {
  return FITS(of_loft_attack, x) ? golf_launch_angle(x[0], x[1]) : NAN;
}
static double loft_from_launch(const double *x) {
  return FITS(of_launch_attack, x) ? golf_loft_from_launch(x[0], x[1]) : NAN;
}
static double start_direction(const double *x) {
  return FITS(of_start, x) ? golf_start_direction(x[0], x[1], x[2]) : NAN;
}
static double face_from_start(const double *x) {
  return FITS(of_start_path, x) ? golf_face_from_start(x[0], x[1], x[2]) : NAN;
}
static double path_from_start(const double *x) {
  return FITS(of_start_face, x) ? golf_path_from_start(x[0], x[1], x[2]) : NAN;
}
static double low_point(const double *x) {
  return FITS(of_low_point, x) ? golf_low_point(x[0], x[1], x[2]) : NAN;
}
static double attack_from_low_point(const double *x) {
  return FITS(of_low_attack, x) ? golf_attack_from_low_point(x[0], x[1], x[2]) : NAN;
}

static struct golf_launch launch_of(const double *x) {
  struct golf_impact impact = {x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7]};
  struct golf_launch launch;
  golf_launch(&impact, &launch);
  return launch;
}
static double ball_speed(const double *x) {
  return launch_of(x).ball_speed;
}
static double launch_angle(const double *x) {
  return launch_of(x).launch;
}
static double spin_rate(const double *x) {
  return launch_of(x).spin;
}
static double backspin(const double *x) {
  return launch_of(x).backspin;
}
static double sidespin(const double *x) {
  return launch_of(x).sidespin;
}
static double launch_tilt(const double *x) {
  return launch_of(x).axis_tilt;
}

static double gear_tilt(const double *x) {
  if (!FITS(of_strike_club, x)) return NAN;
  double swing[] = {golf_expected_club_speed(x[1]),
                    0,
                    0,
                    golf_expected_delivered_loft(x[1]),
                    golf_expected_attack(x[1]),
                    golf_expected_head_mass(x[1]),
                    x[0],
                    0};
  return launch_of(swing).axis_tilt;
}

static double speed_ratio(const double *x) {
  return FITS(of_speeds, x) ? x[0] / x[1] : NAN;
}

static struct golf_expected expected_of(double club_speed, double club_loft, double head_mass) {
  struct golf_expected expected = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
  double swing[] = {club_speed, club_loft, head_mass};
  if (FITS(of_swing, swing)) golf_expect(club_speed, club_loft, head_mass, &expected);
  return expected;
}
static double expected_speed_ratio(const double *x) {
  return FITS(of_club, x) ? expected_of(golf_expected_club_speed(x[0]), x[0], x[1]).speed_ratio
                          : NAN;
}
static double expected_ball_speed(const double *x) {
  return expected_of(x[0], x[1], x[2]).ball_speed;
}
static double expected_ball_speed_error(const double *x) {
  return expected_of(x[0], x[1], x[2]).ball_speed_error;
}
static double expected_spin(const double *x) {
  return expected_of(x[0], x[1], x[2]).spin;
}
static double expected_delivered_loft(const double *x) {
  return FITS(of_club_loft, x) ? golf_expected_delivered_loft(x[0]) : NAN;
}
static double expected_attack(const double *x) {
  return FITS(of_club_loft, x) ? golf_expected_attack(x[0]) : NAN;
}
static double expected_launch(const double *x) {
  return FITS(of_club_loft, x) ? golf_expected_launch(x[0]) : NAN;
}

static struct golf_loss loss_of(const double *x) {
  struct golf_loss loss = {NAN, NAN, NAN, NAN, NAN};
  if (FITS(of_loss, x)) golf_lose(x[0], 0, x[1], 0, x[2], x[3], &loss);
  return loss;
}
static double ball_speed_lost(const double *x) {
  return FITS(of_loss, x) ? expected_of(x[1], x[2], x[3]).ball_speed - x[0] : NAN;
}
static double carry_lost(const double *x) {
  return loss_of(x).carry;
}

static struct golf_flight flight_of(const double *x) {
  struct golf_flight flight = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, 0, 0};
  struct golf_air air = golf_air_standard();
  if (!FITS(of_shot, x)) return flight;
  struct golf_shot shot = {x[0], x[1], x[4], golf_spin_total(x[2], x[3]), x[3]};
  golf_fly(GOLF_BLEND, &shot, &air, NULL, &flight);
  return flight;
}
static double carry(const double *x) {
  return flight_of(x).carry;
}
static double side(const double *x) {
  return flight_of(x).side;
}
static double curve(const double *x) {
  return flight_of(x).curve;
}
static double apex(const double *x) {
  return flight_of(x).apex;
}
static double landing_angle(const double *x) {
  return flight_of(x).landing_angle;
}
static double flight_time(const double *x) {
  return flight_of(x).time;
}
static double landing_spin(const double *x) {
  return flight_of(x).landing_spin;
}
static double carry_error(const double *x) {
  return flight_of(x).carry_error;
}
static double curve_angle(const double *x) {
  struct golf_flight flight = flight_of(x);
  return flight.carry == 0 ? 0 : degrees(asin(flight.curve / flight.carry));
}

static double spin_from_back_and_tilt(const double *x) {
  return FITS(of_back_tilt, x) ? golf_spin_total(x[0], x[1]) : NAN;
}
static double axis_tilt_from_spins(const double *x) {
  return FITS(of_spins, x) ? golf_tilt_from_spins(x[0], x[1]) : NAN;
}
static double face_from_flight(const double *x) {
  return FITS(of_flight, x) ? golf_face_from_flight(x[0], x[1], x[2], x[3]) : NAN;
}
static double path_from_flight(const double *x) {
  return FITS(of_flight, x) ? golf_path_from_flight(x[0], x[1], x[2], x[3]) : NAN;
}
static double axis_tilt_from_curve(const double *x) {
  return FITS(of_curve, x) ? golf_tilt_from_curve(x[0], x[1]) : NAN;
}
static double detectable_change(const double *x) {
  return FITS(of_error, x) ? golf_detectable_change(x[0]) : NAN;
}

#define IMPACT "club_speed face path delivered_loft attack head_mass strike strike_height"
#define SHOT "ball_speed launch backspin axis_tilt start"
static const struct golf_function functions[] = {
    {"path_from_arc", 3, "arc_direction attack plane_tilt", path_from_arc,
     "club path, deg, + right"},
    {"arc_from_path", 3, "path attack plane_tilt", arc_from_path, "arc direction, deg, + right"},
    {"face_to_path", 2, "face path", face_to_path, "face less path, deg, + face right of path"},
    {"incidence", 4, "face path delivered_loft attack", incidence,
     "angle between club velocity and face normal, deg"},
    {"axis_tilt", 4, "face path delivered_loft attack", axis_tilt,
     "spin-axis tilt of a centred strike, deg, + curves right"},
    {"face_share", 1, "loft", face_share, "the face's share of the start direction, 0 to 1"},
    {"face_share_error", 1, "loft", face_share_error,
     "one standard error of face_share, from golfer to golfer"},
    {"face_to_path_from_tilt", 3, "axis_tilt delivered_loft attack", face_to_path_from_tilt,
     "face less path of a centred strike, deg, + face right of path"},
    {"launch_from_loft", 2, "delivered_loft attack", launch_from_loft, "launch angle, deg, + up"},
    {"loft_from_launch", 2, "launch attack", loft_from_launch, "loft at impact, deg"},
    {"start_direction", 3, "face path loft", start_direction, "start direction, deg, + right"},
    {"face_from_start", 3, "start path loft", face_from_start, "face, deg, + right"},
    {"path_from_start", 3, "start face loft", path_from_start, "path, deg, + right"},
    {"low_point", 3, "attack plane_tilt radius", low_point,
     "low point of the arc, m, + ahead of the ball"},
    {"attack_from_low_point", 3, "low_point plane_tilt radius", attack_from_low_point,
     "attack, deg, + upward"},
    {"ball_speed", 8, IMPACT, ball_speed, "ball speed, m/s"},
    {"launch_angle", 8, IMPACT, launch_angle, "launch angle, deg, + up"},
    {"spin_rate", 8, IMPACT, spin_rate, "spin about the tilted axis, rpm"},
    {"backspin", 8, IMPACT, backspin, "spin about the level axis, rpm"},
    {"sidespin", 8, IMPACT, sidespin, "spin about the upright axis, rpm, + curves right"},
    {"launch_tilt", 8, IMPACT, launch_tilt, "spin-axis tilt with gear effect, deg, + curves right"},
    {"gear_tilt", 2, "strike club_loft", gear_tilt,
     "spin-axis tilt from an off-centre strike at the club's usual swing, deg, + curves right"},
    {"speed_ratio", 2, "ball_speed club_speed", speed_ratio, "ball speed over club speed"},
    {"expected_speed_ratio", 2, "club_loft head_mass", expected_speed_ratio,
     "usual ball speed over club speed of that club"},
    {"expected_ball_speed", 3, "club_speed club_loft head_mass", expected_ball_speed,
     "ball speed a centred, square strike gives, m/s"},
    {"expected_ball_speed_error", 3, "club_speed club_loft head_mass", expected_ball_speed_error,
     "one standard error of expected_ball_speed, m/s"},
    {"expected_delivered_loft", 1, "club_loft", expected_delivered_loft,
     "usual loft at impact, deg"},
    {"expected_attack", 1, "club_loft", expected_attack, "usual attack, deg, + upward"},
    {"expected_launch", 1, "club_loft", expected_launch, "usual launch angle, deg"},
    {"expected_spin", 3, "club_speed club_loft head_mass", expected_spin, "usual spin, rpm"},
    {"ball_speed_lost", 4, "ball_speed club_speed club_loft head_mass", ball_speed_lost,
     "expected less measured ball speed, m/s, + lost"},
    {"carry_lost", 4, "ball_speed club_speed club_loft head_mass", carry_lost,
     "carry the lost ball speed costs, m, + lost"},
    {"carry", 5, SHOT, carry, "carry, m"},
    {"side", 5, SHOT, side, "landing beside the target line, m, + right"},
    {"curve", 5, SHOT, curve, "landing beside the start line, m, + right"},
    {"curve_angle", 5, SHOT, curve_angle, "angle from start line to landing, deg, + right"},
    {"apex", 5, SHOT, apex, "greatest height, m"},
    {"landing_angle", 5, SHOT, landing_angle, "angle of descent below level, deg"},
    {"flight_time", 5, SHOT, flight_time, "time in the air, s"},
    {"landing_spin", 5, SHOT, landing_spin, "spin at landing, rpm"},
    {"carry_error", 5, SHOT, carry_error, "one standard error of the flight model's carry, m"},
    {"spin_from_back_and_tilt", 2, "backspin axis_tilt", spin_from_back_and_tilt,
     "spin about the tilted axis, rpm"},
    {"axis_tilt_from_spins", 2, "backspin sidespin", axis_tilt_from_spins,
     "spin-axis tilt, deg, + curves right"},
    {"face_from_flight", 4, "start axis_tilt delivered_loft attack", face_from_flight,
     "face of a centred strike, deg, + right"},
    {"path_from_flight", 4, "start axis_tilt delivered_loft attack", path_from_flight,
     "path of a centred strike, deg, + right"},
    {"axis_tilt_from_curve", 2, "curve_angle club_loft", axis_tilt_from_curve,
     "spin-axis tilt for the club's usual flight, deg, + curves right"},
    {"detectable_change", 1, "standard_error", detectable_change,
     "smallest change between two readings beyond 95 % of noise"},
};

const struct golf_function *golf_function_table(size_t *count) {
  *count = sizeof functions / sizeof functions[0];
  return functions;
}

const struct golf_function *golf_function_find(const char *name, size_t length) {
  for (size_t i = 0; i < sizeof functions / sizeof functions[0]; i++)
    if (strlen(functions[i].name) == length && memcmp(functions[i].name, name, length) == 0)
      return &functions[i];
  return NULL;
}

const struct golf_range *golf_function_check(const struct golf_function *function, const double *x,
                                             int *argument) {
  const char *word = function->arguments;
  for (int i = 0; i < function->arity; i++) {
    size_t length = strcspn(word, " ");
    const struct golf_range *range = golf_range_find(word, length);
    if (range && !golf_range_holds(range, x[i])) {
      if (argument) *argument = i;
      return range;
    }
    word += length + (word[length] == ' ');
  }
  return NULL;
}
