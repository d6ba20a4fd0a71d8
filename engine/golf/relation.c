/* One row a relation; solve[0] is the relation, the others its inverses, and test_relation checks
 * each against it. */
#include "golf/relation.h"

#include <math.h>
#include <stddef.h>

#include "golf/geometry.h"
#include "golf/propagate.h"

static double to_path(const double *x) {
  return golf_face_to_path(x[1], x[2]);
}
static double to_path_face(const double *x) {
  return x[0] + x[2];
}
static double to_path_path(const double *x) {
  return x[1] - x[0];
}

static double start(const double *x) {
  return golf_start_direction(x[1], x[2], x[3]);
}
static double start_face(const double *x) {
  return golf_face_from_start(x[0], x[2], x[3]);
}
static double start_path(const double *x) {
  return golf_path_from_start(x[0], x[1], x[3]);
}
static double start_doubt(const double *x) {
  return golf_face_share_error(x[3]) * fabs(x[1] - x[2]);
}

static double arc_path(const double *x) {
  return golf_path_from_arc(x[1], x[2], x[3]);
}
static double arc_direction(const double *x) {
  return golf_arc_from_path(x[0], x[2], x[3]);
}
static double arc_attack(const double *x) {
  return golf_attack_from_arc(x[1], x[0], x[3]);
}

static double tilt(const double *x) {
  return golf_axis_tilt(x[1], x[2], x[3], x[4]);
}
static double tilt_face(const double *x) {
  return x[2] + golf_face_to_path_from_tilt(x[0], x[3], x[4]);
}
static double tilt_path(const double *x) {
  return x[1] - golf_face_to_path_from_tilt(x[0], x[3], x[4]);
}

static double low_point(const double *x) {
  return golf_low_point(x[1], x[3], x[2]);
}
static double low_attack(const double *x) {
  return golf_attack_from_low_point(x[0], x[3], x[2]);
}
static double low_radius(const double *x) {
  double share = golf_low_point(x[1], x[3], 1);
  return share != 0 ? x[0] / share : NAN;
}

static double speed_ratio(const double *x) {
  return x[2] > 0 ? x[1] / x[2] : NAN;
}
static double speed_ball(const double *x) {
  return x[0] * x[2];
}
static double speed_club(const double *x) {
  return x[0] > 0 ? x[1] / x[0] : NAN;
}

static const struct golf_relation relations[GOLF_RELATIONS] = {
    [GOLF_RELATION_FACE_TO_PATH] = {"face to path",
                                    {"face_to_path", "face", "path"},
                                    {to_path, to_path_face, to_path_path},
                                    NULL,
                                    "derived"},
    [GOLF_RELATION_START] = {"start direction",
                             {"start", "face", "path", "loft"},
                             {start, start_face, start_path},
                             start_doubt,
                             "wood-2018"},
    [GOLF_RELATION_ARC] = {"path of the arc",
                           {"path", "arc_direction", "attack", "plane_tilt"},
                           {arc_path, arc_direction, arc_attack},
                           NULL,
                           "derived"},
    [GOLF_RELATION_TILT] = {"spin axis",
                            {"axis_tilt", "face", "path", "delivered_loft", "attack"},
                            {tilt, tilt_face, tilt_path},
                            NULL,
                            "derived"},
    [GOLF_RELATION_LOW_POINT] = {"low point",
                                 {"low_point", "attack", "radius", "plane_tilt"},
                                 {low_point, low_attack, low_radius},
                                 NULL,
                                 "derived"},
    [GOLF_RELATION_SPEED] = {"speed ratio",
                             {"speed_ratio", "ball_speed", "club_speed"},
                             {speed_ratio, speed_ball, speed_club},
                             NULL,
                             "derived"},
};

const struct golf_relation *golf_relation_at(enum golf_relation_index index) {
  return &relations[index];
}

double golf_relation_solve(const struct golf_relation *relation, int missing, const double *x) {
  if (missing < 0 || missing >= GOLF_MEMBERS) return NAN;
  return relation->solve[missing](x);
}

static void solve_first(const double *x, double *y, void *context) {
  const struct golf_relation *relation = context;
  *y = relation->solve[0](x);
}

int golf_relation_misfit(const struct golf_relation *relation, const struct golf_reading *readings,
                         struct golf_misfit *misfit) {
  double x[GOLF_RELATION_VALUES] = {0}, error[GOLF_RELATION_VALUES] = {0};
  double expected, variance, jacobian[GOLF_RELATION_VALUES];
  size_t n = 0;
  for (; n < GOLF_RELATION_VALUES && relation->values[n]; n++) {
    x[n] = readings[n].value;
    error[n] = n > 0 ? readings[n].error : 0; /* member 0 is not an input of itself */
  }
  golf_propagate(solve_first, (void *)(size_t)relation, n, x, error, 1, &expected, &variance,
                 jacobian);
  double doubt = relation->doubt ? relation->doubt(x) : 0;
  misfit->given = readings[0].value;
  misfit->expected = expected;
  misfit->difference = misfit->given - expected;
  misfit->error = sqrt(variance + doubt * doubt + readings[0].error * readings[0].error);
  misfit->standard_errors = fabs(misfit->difference) / misfit->error;
  if (misfit->difference == 0) misfit->standard_errors = 0;
  misfit->contradictory = misfit->standard_errors > GOLF_CONTRADICTION;
  return isnan(misfit->standard_errors) ? -1 : 0;
}
