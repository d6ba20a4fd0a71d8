/* Invariant: one row a quantity, at the place its enum member names. */
#include "golf/range.h"

#include <string.h>

static const struct golf_range ranges[GOLF_QUANTITIES] = {
    [GOLF_CLUB_SPEED] = {"club_speed", "m/s", 2, 75},
    [GOLF_BALL_SPEED] = {"ball_speed", "m/s", 2, 105},
    [GOLF_FACE] = {"face", "deg", -45, 45},
    [GOLF_PATH] = {"path", "deg", -45, 45},
    [GOLF_FACE_TO_PATH] = {"face_to_path", "deg", -60, 60},
    [GOLF_ARC_DIRECTION] = {"arc_direction", "deg", -45, 45},
    [GOLF_ATTACK] = {"attack", "deg", -25, 25},
    [GOLF_DELIVERED_LOFT] = {"delivered_loft", "deg", 0, 75},
    [GOLF_CLUB_LOFT] = {"club_loft", "deg", 5, 70},
    [GOLF_LOFT] = {"loft", "deg", 0, 75},
    [GOLF_INCIDENCE] = {"incidence", "deg", 0, 90},
    [GOLF_PLANE_TILT] = {"plane_tilt", "deg", 25, 80},
    [GOLF_RADIUS] = {"radius", "m", 0.5, 2.5},
    [GOLF_LOW_POINT] = {"low_point", "m", -0.6, 0.6},
    [GOLF_START] = {"start", "deg", -60, 60},
    [GOLF_LAUNCH] = {"launch", "deg", -15, 75},
    [GOLF_SPIN] = {"spin", "rpm", 0, 16000},
    [GOLF_BACKSPIN] = {"backspin", "rpm", 0, 16000},
    [GOLF_SIDESPIN] = {"sidespin", "rpm", -12000, 12000},
    [GOLF_AXIS_TILT] = {"axis_tilt", "deg", -75, 75},
    [GOLF_AXIS_AT_LAUNCH] = {"axis_tilt (size at most 90 - launch)", "deg", -75, 75},
    [GOLF_HEAD_MASS] = {"head_mass", "g", 150, 400},
    [GOLF_INERTIA] = {"inertia", "g cm2", 300, 7000},
    [GOLF_STRIKE] = {"strike", "mm", -60, 60},
    [GOLF_STRIKE_HEIGHT] = {"strike_height", "mm", -40, 40},
    [GOLF_SPEED_RATIO] = {"speed_ratio", "ratio", 0.3, 1.6},
    [GOLF_CARRY] = {"carry", "m", 0, 400},
    [GOLF_CURVE_ANGLE] = {"curve_angle", "deg", -45, 45},
    [GOLF_TEMPERATURE] = {"temperature", "C", -20, 50},
    [GOLF_ALTITUDE] = {"altitude", "m", -450, 4500},
    [GOLF_PRESSURE] = {"pressure", "hPa", 0, 1100}, /* 0: no air, for checks against the parabola */
    [GOLF_TAIL_WIND] = {"tail_wind", "m/s", -30, 30},
    [GOLF_CROSS_WIND] = {"cross_wind", "m/s", -30, 30},
    [GOLF_STANDARD_ERROR] = {"standard_error", "none", 0, 1e6},
};

const struct golf_range *golf_range_of(enum golf_quantity quantity) {
  return &ranges[quantity];
}

const struct golf_range *golf_range_find(const char *name, size_t length) {
  for (size_t i = 0; i < GOLF_QUANTITIES; i++)
    if (strlen(ranges[i].name) == length && memcmp(ranges[i].name, name, length) == 0)
      return &ranges[i];
  return NULL;
}

/* Written so that NaN fails: every comparison with it is false. */
int golf_range_holds(const struct golf_range *range, double x) {
  return x >= range->low && x <= range->high;
}

const struct golf_range *golf_check(const enum golf_quantity *quantities, const double *values,
                                    size_t count, size_t *index) {
  for (size_t i = 0; i < count; i++) {
    const struct golf_range *range = &ranges[quantities[i]];
    if (golf_range_holds(range, values[i])) continue;
    if (index) *index = i;
    return range;
  }
  return NULL;
}
