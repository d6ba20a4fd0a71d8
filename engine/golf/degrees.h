/* Degrees and radians, for the .c files of golf/ only: interfaces speak degrees. */
#ifndef WM_GOLF_DEGREES_H
#define WM_GOLF_DEGREES_H

#define GOLF_PI 3.14159265358979323846

static inline double radians(double deg) {
  return deg * (GOLF_PI / 180);
}
static inline double degrees(double rad) {
  return rad * (180 / GOLF_PI);
}
static inline double square(double x) {
  return x * x;
}
/* Like fmax and fmin, but a NaN stays NaN: what is not known must not turn into a limit. */
static inline double at_least(double low, double x) {
  return x < low ? low : x;
}
static inline double at_most(double high, double x) {
  return x > high ? high : x;
}
/* rpm to rad/s and back. */
static inline double rotation(double rpm) {
  return rpm * (GOLF_PI / 30);
}
static inline double turns(double rad_per_s) {
  return rad_per_s * (30 / GOLF_PI);
}

#endif
