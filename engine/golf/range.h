/* The plausible range of each quantity, so that a wrong number is refused by name and nothing is
 * guessed. Ranges are wide: beyond them a reading is a slip (a 900 mph ball), not an unusual shot.
 * They are common practice, not published. Constant table; any thread may read it.
 */
#ifndef WM_GOLF_RANGE_H
#define WM_GOLF_RANGE_H

#include <stddef.h>

enum golf_quantity {
  GOLF_CLUB_SPEED,
  GOLF_BALL_SPEED,
  GOLF_FACE,
  GOLF_PATH,
  GOLF_FACE_TO_PATH,
  GOLF_ARC_DIRECTION,
  GOLF_ATTACK,
  GOLF_DELIVERED_LOFT,
  GOLF_CLUB_LOFT,
  GOLF_LOFT,
  GOLF_INCIDENCE,
  GOLF_PLANE_TILT,
  GOLF_RADIUS,
  GOLF_LOW_POINT,
  GOLF_START,
  GOLF_LAUNCH,
  GOLF_SPIN,
  GOLF_BACKSPIN,
  GOLF_SIDESPIN,
  GOLF_AXIS_TILT,
  GOLF_AXIS_AT_LAUNCH,
  GOLF_HEAD_MASS,
  GOLF_INERTIA,
  GOLF_STRIKE,
  GOLF_STRIKE_HEIGHT,
  GOLF_SPEED_RATIO,
  GOLF_CARRY,
  GOLF_CURVE_ANGLE,
  GOLF_TEMPERATURE,
  GOLF_ALTITUDE,
  GOLF_PRESSURE,
  GOLF_TAIL_WIND,
  GOLF_CROSS_WIND,
  GOLF_STANDARD_ERROR,
  GOLF_QUANTITIES
};

struct golf_range {
  const char *name; /* as in the arguments of formula.h, so it can be printed as it stands */
  const char *unit; /* a name of units.h */
  double low, high; /* both plausible themselves */
};

/* The range of a quantity, never NULL for a member of the enum. */
const struct golf_range *golf_range_of(enum golf_quantity quantity);

/* The range called name (length bytes), or NULL. */
const struct golf_range *golf_range_find(const char *name, size_t length);

/* Whether x is a number within the range; NaN is not. */
int golf_range_holds(const struct golf_range *range, double x);

/* Checks count values, the i-th against quantities[i]. NULL when all are plausible; else the range
 * missed, and *index (may be NULL) the first misfit. */
const struct golf_range *golf_check(const enum golf_quantity *quantities, const double *values,
                                    size_t count, size_t *index);

#endif
