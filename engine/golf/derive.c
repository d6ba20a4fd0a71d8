/* The order of names and quantities below is the order of the enums in the header; test_derive
 * checks it. */
#include "golf/derive.h"

#include <math.h>

#include "golf/expect.h"
#include "golf/geometry.h"
#include "golf/launch.h"
#include "golf/range.h"

static const enum golf_quantity quantities[GOLF_INPUTS] = {
    GOLF_CLUB_SPEED, GOLF_FACE,      GOLF_PATH,     GOLF_DELIVERED_LOFT,
    GOLF_ATTACK,     GOLF_HEAD_MASS, GOLF_STRIKE,   GOLF_STRIKE_HEIGHT,
    GOLF_PLANE_TILT, GOLF_RADIUS,    GOLF_CLUB_LOFT};

static const char *const output_names[GOLF_OUTPUTS] = {
    "face_to_path", "incidence", "arc_direction", "low_point",           "axis_tilt",
    "launch_tilt",  "start",     "launch_angle",  "ball_speed",          "speed_ratio",
    "spin_rate",    "backspin",  "sidespin",      "expected_ball_speed", "ball_speed_lost"};

const char *golf_input_name(enum golf_input input) {
  return golf_range_of(quantities[input])->name;
}

const char *golf_output_name(enum golf_output output) {
  return output_names[output];
}

/* The expectation at the usual delivery of this club, centred and square. */
static double expected_ball_speed(const double *in) {
  double club_loft = in[GOLF_IN_CLUB_LOFT];
  double incidence = golf_expected_delivered_loft(club_loft) - golf_expected_attack(club_loft);
  return golf_square_ball_speed(in[GOLF_IN_CLUB_SPEED], incidence, in[GOLF_IN_HEAD_MASS]);
}

void golf_derive(const double *in, double *out) {
  struct golf_impact impact = {
      in[GOLF_IN_CLUB_SPEED], in[GOLF_IN_FACE],      in[GOLF_IN_PATH],   in[GOLF_IN_DELIVERED_LOFT],
      in[GOLF_IN_ATTACK],     in[GOLF_IN_HEAD_MASS], in[GOLF_IN_STRIKE], in[GOLF_IN_STRIKE_HEIGHT]};
  struct golf_launch launch;
  golf_launch_compute(&impact, &launch);
  out[GOLF_OUT_FACE_TO_PATH] = golf_face_to_path(impact.face, impact.path);
  out[GOLF_OUT_INCIDENCE] = launch.incidence;
  out[GOLF_OUT_ARC_DIRECTION] =
      golf_arc_from_path(impact.path, impact.attack, in[GOLF_IN_PLANE_TILT]);
  out[GOLF_OUT_LOW_POINT] =
      golf_low_point(impact.attack, in[GOLF_IN_PLANE_TILT], in[GOLF_IN_RADIUS]);
  out[GOLF_OUT_CENTRED_TILT] = launch.centred_tilt;
  out[GOLF_OUT_AXIS_TILT] = launch.axis_tilt;
  out[GOLF_OUT_START] = launch.start;
  out[GOLF_OUT_LAUNCH] = launch.launch;
  out[GOLF_OUT_BALL_SPEED] = launch.ball_speed;
  out[GOLF_OUT_SPEED_RATIO] = launch.speed_ratio;
  out[GOLF_OUT_SPIN] = launch.spin;
  out[GOLF_OUT_BACKSPIN] = launch.backspin;
  out[GOLF_OUT_SIDESPIN] = launch.sidespin;
  out[GOLF_OUT_EXPECTED_BALL_SPEED] = expected_ball_speed(in);
  out[GOLF_OUT_BALL_SPEED_LOST] = out[GOLF_OUT_EXPECTED_BALL_SPEED] - launch.ball_speed;
}

const struct golf_range *golf_derive_check(const double *in, size_t *index) {
  for (size_t i = 0; i < GOLF_INPUTS; i++) {
    const struct golf_range *range = golf_range_of(quantities[i]);
    if (isnan(in[i]) || golf_range_holds(range, in[i])) continue;
    if (index) *index = i;
    return range;
  }
  return NULL;
}

void golf_derive_vector(const double *in, double *out, void *context) {
  (void)context;
  golf_derive(in, out);
}
