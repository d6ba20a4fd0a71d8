/* One row a unit, at the place its enum member names; the compiler checks nothing here, test_units
 * does. Factors are definitions (international yard and pound, SI), so none carries an error. */
#include "golf/units.h"

#include <math.h>
#include <string.h>

#define PI 3.14159265358979323846

static const struct golf_unit units[GOLF_UNITS] = {
    [GOLF_UNIT_NONE] = {"none", GOLF_DIMENSION_NONE, 1, 1, 0, "plain number"},
    [GOLF_UNIT_COUNT] = {"count", GOLF_DIMENSION_NONE, 1, 1, 0, "count"},
    [GOLF_UNIT_RATIO] = {"ratio", GOLF_DIMENSION_RATIO, 1, 1, 0, "ratio"},
    [GOLF_UNIT_PERCENT] = {"%", GOLF_DIMENSION_RATIO, 1, 100, 0, "percent"},
    [GOLF_UNIT_DEG] = {"deg", GOLF_DIMENSION_ANGLE, 1, 1, 0, "degrees"},
    [GOLF_UNIT_RAD] = {"rad", GOLF_DIMENSION_ANGLE, 180, PI, 0, "radians"},
    [GOLF_UNIT_MPS] = {"m/s", GOLF_DIMENSION_SPEED, 1, 1, 0, "metres a second"},
    [GOLF_UNIT_MPH] = {"mph", GOLF_DIMENSION_SPEED, 0.44704, 1, 0, "miles an hour"},
    [GOLF_UNIT_KMH] = {"km/h", GOLF_DIMENSION_SPEED, 5, 18, 0, "kilometres an hour"},
    [GOLF_UNIT_FTS] = {"ft/s", GOLF_DIMENSION_SPEED, 0.3048, 1, 0, "feet a second"},
    [GOLF_UNIT_M] = {"m", GOLF_DIMENSION_LENGTH, 1, 1, 0, "metres"},
    [GOLF_UNIT_YD] = {"yd", GOLF_DIMENSION_LENGTH, 0.9144, 1, 0, "yards"},
    [GOLF_UNIT_FT] = {"ft", GOLF_DIMENSION_LENGTH, 0.3048, 1, 0, "feet"},
    [GOLF_UNIT_IN] = {"in", GOLF_DIMENSION_LENGTH, 0.0254, 1, 0, "inches"},
    [GOLF_UNIT_CM] = {"cm", GOLF_DIMENSION_LENGTH, 1, 100, 0, "centimetres"},
    [GOLF_UNIT_MM] = {"mm", GOLF_DIMENSION_LENGTH, 1, 1000, 0, "millimetres"},
    [GOLF_UNIT_G] = {"g", GOLF_DIMENSION_MASS, 1, 1, 0, "grams"},
    [GOLF_UNIT_KG] = {"kg", GOLF_DIMENSION_MASS, 1000, 1, 0, "kilograms"},
    [GOLF_UNIT_RPM] = {"rpm", GOLF_DIMENSION_ROTATION, 1, 1, 0, "turns a minute"},
    [GOLF_UNIT_RADS] = {"rad/s", GOLF_DIMENSION_ROTATION, 30, PI, 0, "radians a second"},
    [GOLF_UNIT_S] = {"s", GOLF_DIMENSION_TIME, 1, 1, 0, "seconds"},
    [GOLF_UNIT_MIN] = {"min", GOLF_DIMENSION_TIME, 60, 1, 0, "minutes"},
    [GOLF_UNIT_MS] = {"ms", GOLF_DIMENSION_TIME, 1, 1000, 0, "milliseconds"},
    [GOLF_UNIT_C] = {"C", GOLF_DIMENSION_TEMPERATURE, 1, 1, 0, "degrees Celsius"},
    [GOLF_UNIT_F] = {"F", GOLF_DIMENSION_TEMPERATURE, 5, 9, 32, "degrees Fahrenheit"},
    [GOLF_UNIT_K] = {"K", GOLF_DIMENSION_TEMPERATURE, 1, 1, 273.15, "kelvin"},
    [GOLF_UNIT_HPA] = {"hPa", GOLF_DIMENSION_PRESSURE, 1, 1, 0, "hectopascals"},
    [GOLF_UNIT_PA] = {"Pa", GOLF_DIMENSION_PRESSURE, 1, 100, 0, "pascals"},
    [GOLF_UNIT_GCM2] = {"g cm2", GOLF_DIMENSION_INERTIA, 1, 1, 0, "gram square centimetres"},
};

static const struct {
  const char *text;
  enum golf_unit_index unit;
} spellings[] = {
    {"degree", GOLF_UNIT_DEG},
    {"degrees", GOLF_UNIT_DEG},
    {"\xc2\xb0", GOLF_UNIT_DEG},
    {"radians", GOLF_UNIT_RAD},
    {"mps", GOLF_UNIT_MPS},
    {"kmh", GOLF_UNIT_KMH},
    {"kph", GOLF_UNIT_KMH},
    {"fps", GOLF_UNIT_FTS},
    {"metre", GOLF_UNIT_M},
    {"metres", GOLF_UNIT_M},
    {"meter", GOLF_UNIT_M},
    {"meters", GOLF_UNIT_M},
    {"yard", GOLF_UNIT_YD},
    {"yards", GOLF_UNIT_YD},
    {"yds", GOLF_UNIT_YD},
    {"foot", GOLF_UNIT_FT},
    {"feet", GOLF_UNIT_FT},
    {"inch", GOLF_UNIT_IN},
    {"inches", GOLF_UNIT_IN},
    {"gram", GOLF_UNIT_G},
    {"grams", GOLF_UNIT_G},
    {"rev/min", GOLF_UNIT_RPM},
    {"1/min", GOLF_UNIT_RPM},
    {"sec", GOLF_UNIT_S},
    {"second", GOLF_UNIT_S},
    {"seconds", GOLF_UNIT_S},
    {"minute", GOLF_UNIT_MIN},
    {"minutes", GOLF_UNIT_MIN},
    {"\xc2\xb0"
     "C",
     GOLF_UNIT_C},
    {"\xc2\xb0"
     "F",
     GOLF_UNIT_F},
    {"percent", GOLF_UNIT_PERCENT},
    {"mbar", GOLF_UNIT_HPA},
    {"m/sec", GOLF_UNIT_MPS},
};

const struct golf_unit *golf_unit_at(enum golf_unit_index index) {
  return &units[index];
}

static bool same_text(const char *name, const char *text, size_t length) {
  return strlen(name) == length && memcmp(name, text, length) == 0;
}

const struct golf_unit *golf_unit_find(const char *text, size_t length) {
  for (size_t i = 0; i < GOLF_UNITS; i++)
    if (same_text(units[i].name, text, length)) return &units[i];
  for (size_t i = 0; i < sizeof spellings / sizeof spellings[0]; i++)
    if (same_text(spellings[i].text, text, length)) return &units[spellings[i].unit];
  return NULL;
}

const struct golf_unit *golf_unit_base(enum golf_dimension dimension) {
  for (size_t i = 0; i < GOLF_UNITS; i++)
    if (units[i].dimension == dimension && units[i].up == 1 && units[i].down == 1 &&
        units[i].zero == 0)
      return &units[i];
  return &units[GOLF_UNIT_NONE];
}

bool golf_unit_convertible(const struct golf_unit *from, const struct golf_unit *to) {
  return from->dimension == to->dimension;
}

double golf_unit_convert(double value, const struct golf_unit *from, const struct golf_unit *to) {
  if (from == to) return value;
  if (!golf_unit_convertible(from, to)) return NAN;
  double base = (value - from->zero) * from->up / from->down;
  return base * to->down / to->up + to->zero;
}

double golf_unit_convert_error(double error, const struct golf_unit *from,
                               const struct golf_unit *to) {
  if (from == to) return error;
  if (!golf_unit_convertible(from, to)) return NAN;
  return error * from->up / from->down * to->down / to->up;
}
