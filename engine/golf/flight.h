/* Ball flight: three-dimensional trajectory with drag, lift, spin decay, wind and air.
 * Computes nothing about the club, bounces or roll. Pure: the caller owns every buffer; any thread
 * may call it. Frame: x level toward the target, y right, z up, m; angles deg, speeds m/s, spin
 * rpm. Ball of the rules' limits. Sources: smits-1994 (2nd), lyu-2018 (2nd), nathan-2008 (spin
 * decay, 2nd). No published fit meets all that is known of real shots: see residuals.h for what
 * each model misses. Never quote a carry without its error.
 */
#ifndef WM_GOLF_FLIGHT_H
#define WM_GOLF_FLIGHT_H

#include <stddef.h>

struct golf_range;

/* GOLF_BLEND, the default: C_D and C_L are the plain means of the two published fits, each held at
 * the ends of its own Reynolds range (7e4 to 2.1e5, 7.5e4 to 2e5) and lyu-2018's lift at its peak
 * above S = 0.306, plus ONE fitted drag term for spin beyond both fits: 0.105 q / (1 + q), q = ((S
 * - 0.12) / 0.12)^2 for S > 0.12. Published: the means. Fitted: those three numbers, to the two 8
 * iron carries (practice) and the expected drive (distance-report-2015, 2nd) of residuals.h;
 * remembered iron carries chose the shape (memory). Spin decay 2.25e-5 lies midway between the two
 * published values. lyu-2018 has no decay of its own: 4 % a second, as its check row uses. */
enum golf_model { GOLF_BLEND, GOLF_SMITS1994, GOLF_LYU2018, GOLF_MODELS };

/* "blend", "smits1994", "lyu2018"; the number of a name, or -1. */
const char *golf_model_name(enum golf_model model);
int golf_model_find(const char *name, size_t length);
/* Drag and lift coefficient at a Reynolds number and a spin parameter S = r w / v. */
void golf_model_coefficients(enum golf_model model, double reynolds, double spin_parameter,
                             double *drag, double *lift);
/* Time (s) in which spin falls to 1/e at a steady speed. */
double golf_model_spin_time(enum golf_model model, double speed);

struct golf_air {
  double temperature; /* C */
  double pressure;    /* hPa at the place, not reduced to sea level; 0 = no air */
  double tail_wind,
      cross_wind; /* m/s, + from behind, + toward the right; the same at every height */
};
/* 15 C, 1013.25 hPa, still. */
struct golf_air golf_air_standard(void);
/* The standard atmosphere at an altitude (m): pressure and, when temperature is NaN, temperature.
 */
struct golf_air golf_air_at(double altitude, double temperature);
/* kg/m3: p / (287.05 T) of dry air (derived). */
double golf_air_density(double temperature, double pressure);
/* Kinematic viscosity times density, Pa s (Sutherland's law, memory). */
double golf_air_viscosity(double temperature);

struct golf_shot {
  double ball_speed, launch, start;
  double spin;      /* about the tilted axis */
  double axis_tilt; /* elevation of the axis; the axis stands square to the launch direction, so its
                       size is at most 90 - launch */
};

struct golf_flight {
  double carry;         /* m along the ground from ball to landing, level ground */
  double side;          /* m right of the target line */
  double curve;         /* m right of the start line */
  double apex;          /* m above the ball */
  double landing_angle; /* deg below level */
  double time;          /* s */
  double landing_speed, landing_spin;
  double carry_error; /* m, one standard error of the model itself */
  int steps, evaluations;
};

struct golf_point {
  double time, x, y, z, speed;
};
/* A sampled path: points every interval s from the start, then the landing. The caller sets points,
 * capacity (2 at least) and interval; count is filled. When capacity is short the last place holds
 * the landing. */
struct golf_path {
  struct golf_point *points;
  size_t capacity, count;
  double interval;
};

/* NULL when the shot (and air) is plausible, else the range missed. */
const struct golf_range *golf_shot_check(const struct golf_shot *shot);
const struct golf_range *golf_air_check(const struct golf_air *air);

/* Flies the shot to 0.01 yd. path may be NULL. A ball launched level or downward carries 0. Returns
 * NULL, or the range missed with every figure of *flight NaN. Cost: some 10 us. */
const struct golf_range *golf_fly(enum golf_model model, const struct golf_shot *shot,
                                  const struct golf_air *air, struct golf_path *path,
                                  struct golf_flight *flight);

/* As golf_fly with drag coefficients raised by extra_drag and a tolerance per step (m): for checks.
 */
const struct golf_range *golf_fly_adjusted(enum golf_model model, const struct golf_shot *shot,
                                           const struct golf_air *air, double extra_drag,
                                           double tolerance, struct golf_path *path,
                                           struct golf_flight *flight);

/* Errors of a flight from the errors (one standard error each, independent) of the shot: central
 * differences, ten flights. out->carry also holds the model's own error; out's other fields are
 * input error only. */
const struct golf_range *golf_flight_error(enum golf_model model, const struct golf_shot *shot,
                                           const struct golf_shot *error,
                                           const struct golf_air *air, struct golf_flight *out);

/* Total spin from the parts monitors report, and the tilt they imply. */
double golf_spin_total(double backspin, double axis_tilt);
double golf_tilt_from_spins(double backspin, double sidespin);

struct golf_shot golf_shot_mirror(struct golf_shot shot);

#endif
