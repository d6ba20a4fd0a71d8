/* Units: what a number's unit is called, what it measures, and the exact factor to the base unit of
 * its dimension. Knows no evidence and reads no numbers. Conversions happen only at the edges of
 * the program. The table is constant; any thread may read it.
 */
#ifndef WM_GOLF_UNITS_H
#define WM_GOLF_UNITS_H

#include <stdbool.h>
#include <stddef.h>

/* What is measured, with the base unit all golf/ functions use.
 Places on the face are mm by
 * convention of golf/, but mm is a length unit like any other. */
enum golf_dimension {
  GOLF_DIMENSION_NONE,        /* a plain number or a count */
  GOLF_DIMENSION_RATIO,       /* base: 1; % is 0.01 */
  GOLF_DIMENSION_ANGLE,       /* base: deg */
  GOLF_DIMENSION_SPEED,       /* base: m/s */
  GOLF_DIMENSION_LENGTH,      /* base: m */
  GOLF_DIMENSION_MASS,        /* base: g */
  GOLF_DIMENSION_ROTATION,    /* base: rpm */
  GOLF_DIMENSION_TIME,        /* base: s */
  GOLF_DIMENSION_TEMPERATURE, /* base: C; the only dimension whose units have an offset */
  GOLF_DIMENSION_PRESSURE,    /* base: hPa */
  GOLF_DIMENSION_INERTIA      /* base: g cm2 */
};

/* base value = (value - zero) * up / down. Two factors, because 1/3.6 or 5/9 has no exact double.
 */
struct golf_unit {
  const char *name; /* as written and printed: ASCII, no blanks except "g cm2" */
  enum golf_dimension dimension;
  double up, down;
  double zero;
  const char *about; /* the unit in words */
};

enum golf_unit_index {
  GOLF_UNIT_NONE,
  GOLF_UNIT_COUNT,
  GOLF_UNIT_RATIO,
  GOLF_UNIT_PERCENT,
  GOLF_UNIT_DEG,
  GOLF_UNIT_RAD,
  GOLF_UNIT_MPS,
  GOLF_UNIT_MPH,
  GOLF_UNIT_KMH,
  GOLF_UNIT_FTS,
  GOLF_UNIT_M,
  GOLF_UNIT_YD,
  GOLF_UNIT_FT,
  GOLF_UNIT_IN,
  GOLF_UNIT_CM,
  GOLF_UNIT_MM,
  GOLF_UNIT_G,
  GOLF_UNIT_KG,
  GOLF_UNIT_RPM,
  GOLF_UNIT_RADS,
  GOLF_UNIT_S,
  GOLF_UNIT_MIN,
  GOLF_UNIT_MS,
  GOLF_UNIT_C,
  GOLF_UNIT_F,
  GOLF_UNIT_K,
  GOLF_UNIT_HPA,
  GOLF_UNIT_PA,
  GOLF_UNIT_GCM2,
  GOLF_UNITS
};

/* The unit at an index, never NULL for a member of the enum. */
const struct golf_unit *golf_unit_at(enum golf_unit_index index);

/* The unit called text (length bytes): its name or a common other spelling ("yards", "degrees",
 * "percent", "km/h", "kmh"); NULL when there is none. Case matters only where trade usage does:
 * "C", "F", "K". */
const struct golf_unit *golf_unit_find(const char *text, size_t length);

/* The base unit of a dimension: what the functions of golf/ take. */
const struct golf_unit *golf_unit_base(enum golf_dimension dimension);

bool golf_unit_convertible(const struct golf_unit *from, const struct golf_unit *to);

/* value in unit from, told in unit to; unchanged to the last bit when both are one unit, NaN when
 * the dimensions differ. */
double golf_unit_convert(double value, const struct golf_unit *from, const struct golf_unit *to);

/* A difference or an error in unit from, told in unit to: the zero of the scale plays no part. */
double golf_unit_convert_error(double error, const struct golf_unit *from,
                               const struct golf_unit *to);

#endif
