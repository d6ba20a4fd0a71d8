/* Trajectories by the embedded Runge-Kutta pair of Dormand and Prince (order 5 with 4), whose dense
 * output gives the landing, the apex and the samples between steps without shorter steps.
 * Invariant: only sums, products, square roots and quotients touch y and the axis' sideways part,
 * and the step control sees them squared, so a mirrored shot takes the same steps and lands
 * mirrored to the last bit. */
#include "golf/flight.h"

#include <math.h>
#include <string.h>

#include "golf/degrees.h"
#include "golf/flight_model.h"
#include "golf/launch.h"
#include "golf/range.h"

/* State: place, velocity, spin (rad/s). */
enum { X, Y, Z, VX, VY, VZ, SPIN, STATE };
enum { STAGES = 7, STEPS_MAX = 4000 };

static const double gravity = 9.80665;
static const double default_tolerance = 2e-5; /* m a step: the landing is then true to 0.01 yd */
static const double longest_time = 60;        /* s; no ball stays up longer */

struct flying {
  enum golf_model model;
  double axis[3];
  double wind[2];
  double force;    /* rho A / (2 m), 1/m */
  double reynolds; /* Re for 1 m/s */
  double radius, extra_drag;
  int evaluations;
};

static void derivative(struct flying *f, const double *s, double *d) {
  double ux = s[VX] - f->wind[0], uy = s[VY] - f->wind[1], uz = s[VZ];
  double speed = sqrt(ux * ux + uy * uy + uz * uz);
  const double *c = f->axis;
  double drag = 0, lift = 0;
  f->evaluations++;
  if (speed > 1e-9)
    golf_model_coefficients(f->model, f->reynolds * speed, f->radius * s[SPIN] / speed, &drag,
                            &lift);
  double k = f->force * speed;
  double kd = -k * (drag + f->extra_drag), kl = k * lift;
  d[X] = s[VX];
  d[Y] = s[VY];
  d[Z] = s[VZ];
  d[VX] = kd * ux + kl * (c[1] * uz - c[2] * uy);
  d[VY] = kd * uy + kl * (c[2] * ux - c[0] * uz);
  d[VZ] = kd * uz + kl * (c[0] * uy - c[1] * ux) - gravity;
  d[SPIN] = f->force > 0 ? -golf_model_spin_rate(f->model, speed) * s[SPIN] : 0;
}

/* The axis square to the launch direction whose elevation is the tilt: level part rotated about the
 * direction by asin(sin tilt / cos launch). */
static void set_axis(struct flying *f, const struct golf_shot *shot) {
  double l = radians(shot->launch), a = radians(shot->start);
  double up = sin(radians(shot->axis_tilt)) / cos(l);
  double level = sqrt(fmax(0, 1 - up * up));
  f->axis[0] = level * sin(a) - up * sin(l) * cos(a);
  f->axis[1] = -level * cos(a) - up * sin(l) * sin(a);
  f->axis[2] = up * cos(l);
}

static void set_flying(struct flying *f, enum golf_model model, const struct golf_shot *shot,
                       const struct golf_air *air, double extra_drag) {
  double density = golf_air_density(air->temperature, air->pressure);
  f->model = model;
  f->radius = GOLF_BALL_DIAMETER / 2000;
  f->force = density * GOLF_PI * f->radius * f->radius / (2 * GOLF_BALL_MASS / 1000);
  f->reynolds = density * 2 * f->radius / golf_air_viscosity(air->temperature);
  f->wind[0] = air->tail_wind;
  f->wind[1] = air->cross_wind;
  f->extra_drag = extra_drag;
  f->evaluations = 0;
  set_axis(f, shot);
}

/* Dormand & Prince 1980, J. Comput. Appl. Math. 6:19; dense output of Hairer, Norsett & Wanner,
 * Solving ODE I. */
static const double weight[STAGES][6] = {
    {0},
    {1. / 5},
    {3. / 40, 9. / 40},
    {44. / 45, -56. / 15, 32. / 9},
    {19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
    {9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
    {35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84}};
static const double error_weight[STAGES] = {71. / 57600,      0,         -71. / 16695, 71. / 1920,
                                            -17253. / 339200, 22. / 525, -1. / 40};
static const double dense_weight[STAGES] = {
    -12715105075. / 11282082432,  0,
    87487479700. / 32700410799,   -10690763975. / 1880347072,
    701980252875. / 199316789632, -1453857185. / 822651844,
    69997945. / 29380423};

struct step {
  double from[STATE], to[STATE];
  double k[STAGES][STATE];
  double start, length; /* s */
};

/* Tries one step and returns its error over the tolerance. k[0] must hold the derivative at from.
 * Velocity errors count as the metres they make in a second; an error of spin matters a hundred
 * times less. */
static double try_step(struct flying *f, struct step *s, double tolerance) {
  for (int stage = 1; stage < STAGES; stage++) {
    for (int i = 0; i < STATE; i++) {
      double sum = 0;
      for (int j = 0; j < stage; j++) sum += weight[stage][j] * s->k[j][i];
      s->to[i] = s->from[i] + s->length * sum;
    }
    derivative(f, s->to, s->k[stage]);
  }
  double total = 0;
  for (int i = 0; i < STATE; i++) {
    double e = 0;
    for (int j = 0; j < STAGES; j++) e += error_weight[j] * s->k[j][i];
    e *= s->length * (i == SPIN ? 0.01 : 1);
    total += e * e;
  }
  return sqrt(total) / tolerance;
}

/* Coordinate i at the fraction t of the step. */
static double dense(const struct step *s, int i, double t) {
  double rise = s->to[i] - s->from[i];
  double first = s->length * s->k[0][i] - rise;
  double last = rise - s->length * s->k[STAGES - 1][i] - first;
  double bend = 0;
  for (int j = 0; j < STAGES; j++) bend += dense_weight[j] * s->k[j][i];
  double rest = 1 - t;
  return s->from[i] + t * (rise + rest * (first + t * (last + rest * s->length * bend)));
}

/* The fraction of the step where coordinate i falls through 0: positive or zero at 0, negative
 * at 1. */
static double fall(const struct step *s, int i) {
  double low = 0, high = 1;
  for (int n = 0; n < 52 && high - low > 1e-14; n++) {
    double middle = (low + high) / 2;
    if (dense(s, i, middle) < 0) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

static struct golf_point point_at(const struct step *s, double t) {
  double vx = dense(s, VX, t), vy = dense(s, VY, t), vz = dense(s, VZ, t);
  return (struct golf_point){s->start + t * s->length, dense(s, X, t), dense(s, Y, t),
                             dense(s, Z, t), sqrt(vx * vx + vy * vy + vz * vz)};
}

/* Adds the samples that fall within the step up to the fraction end; keeps one place for the
 * landing. */
static void sample(struct golf_path *path, const struct step *s, double end) {
  if (!path || !(path->interval > 0)) return;
  while (path->count + 1 < path->capacity) {
    double t = ((double)path->count * path->interval - s->start) / s->length;
    if (t >= end) return;
    path->points[path->count++] = point_at(s, fmax(t, 0));
  }
}

static void fill_landing(const struct step *s, double t, const struct golf_shot *shot,
                         struct golf_path *path, struct golf_flight *out) {
  struct golf_point p = point_at(s, t);
  double vx = dense(s, VX, t), vy = dense(s, VY, t), vz = dense(s, VZ, t);
  double a = radians(shot->start), r = GOLF_BALL_DIAMETER / 2000;
  p.z = 0;
  out->carry = sqrt(p.x * p.x + p.y * p.y);
  out->side = p.y;
  out->curve = p.y * cos(a) - p.x * sin(a);
  out->landing_angle = degrees(atan2(-vz, sqrt(vx * vx + vy * vy)));
  out->time = p.time;
  out->landing_speed = p.speed;
  out->landing_spin = turns(dense(s, SPIN, t));
  out->carry_error =
      golf_model_carry_error(out->carry, r * rotation(shot->spin) / shot->ball_speed);
  if (path && path->capacity > path->count) path->points[path->count++] = p;
}

static void start_step(struct step *s, const struct golf_shot *shot) {
  double l = radians(shot->launch), a = radians(shot->start);
  double start[STATE] = {0,
                         0,
                         0,
                         shot->ball_speed * cos(l) * cos(a),
                         shot->ball_speed * cos(l) * sin(a),
                         shot->ball_speed * sin(l),
                         rotation(shot->spin)};
  memcpy(s->from, start, sizeof start);
  s->start = 0;
  s->length = 0.2;
}

/* Moves on to the next step: the last stage of an accepted step is the first of the next. */
static void advance(struct step *s, double error) {
  s->start += s->length;
  memcpy(s->from, s->to, sizeof s->from);
  memcpy(s->k[0], s->k[STAGES - 1], sizeof s->k[0]);
  s->length *= fmin(4, 0.9 * pow(fmax(error, 1e-6), -0.2));
}

/* Flies until the ball falls through the ground; false when it does not, which no plausible shot
 * does. */
static int integrate(struct flying *f, const struct golf_shot *shot, double tolerance,
                     struct golf_path *path, struct golf_flight *out) {
  struct step s;
  start_step(&s, shot);
  derivative(f, s.from, s.k[0]);
  for (out->steps = 1; out->steps < STEPS_MAX && s.start < longest_time; out->steps++) {
    double error = try_step(f, &s, tolerance);
    if (!(error <= 1)) {
      s.length *= fmax(0.1, 0.9 * pow(error, -0.2));
      continue;
    }
    if (s.from[VZ] >= 0 && s.to[VZ] < 0) out->apex = fmax(out->apex, dense(&s, Z, fall(&s, VZ)));
    double end = s.to[Z] < 0 ? fall(&s, Z) : 1;
    sample(path, &s, end);
    if (s.to[Z] < 0) {
      fill_landing(&s, end, shot, path, out);
      return 1;
    }
    advance(&s, error);
  }
  return 0;
}

static const struct golf_flight nothing = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, 0, 0};

const struct golf_range *golf_shot_check(const struct golf_shot *shot) {
  static const enum golf_quantity quantities[] = {GOLF_BALL_SPEED, GOLF_LAUNCH, GOLF_START,
                                                  GOLF_SPIN, GOLF_AXIS_TILT};
  double values[] = {shot->ball_speed, shot->launch, shot->start, shot->spin, shot->axis_tilt};
  const struct golf_range *range = golf_check(quantities, values, 5, NULL);
  if (!range && fabs(shot->axis_tilt) > 90 - shot->launch)
    range = golf_range_of(GOLF_AXIS_AT_LAUNCH);
  return range;
}

const struct golf_range *golf_air_check(const struct golf_air *air) {
  static const enum golf_quantity quantities[] = {GOLF_TEMPERATURE, GOLF_PRESSURE, GOLF_TAIL_WIND,
                                                  GOLF_CROSS_WIND};
  double values[] = {air->temperature, air->pressure, air->tail_wind, air->cross_wind};
  return golf_check(quantities, values, 4, NULL);
}

static void stay_on_ground(const struct golf_shot *shot, struct golf_path *path,
                           struct golf_flight *out) {
  *out = (struct golf_flight){0};
  out->landing_angle = -shot->launch;
  out->landing_speed = shot->ball_speed;
  out->landing_spin = shot->spin;
  out->carry_error = golf_model_carry_error(0, 0);
  if (path && path->capacity > 0) {
    path->points[0] = (struct golf_point){0, 0, 0, 0, shot->ball_speed};
    path->count = 1;
  }
}

const struct golf_range *golf_fly_adjusted(enum golf_model model, const struct golf_shot *shot,
                                           const struct golf_air *air, double extra_drag,
                                           double tolerance, struct golf_path *path,
                                           struct golf_flight *flight) {
  const struct golf_range *range = golf_shot_check(shot);
  if (!range) range = golf_air_check(air);
  *flight = nothing;
  if (path) path->count = 0;
  if (range) return range;
  if (shot->launch <= 0) {
    stay_on_ground(shot, path, flight);
    return NULL;
  }
  struct flying f;
  set_flying(&f, model, shot, air, extra_drag);
  flight->apex = 0;
  if (!integrate(&f, shot, tolerance, path, flight)) *flight = nothing;
  flight->evaluations = f.evaluations;
  return NULL;
}

const struct golf_range *golf_fly(enum golf_model model, const struct golf_shot *shot,
                                  const struct golf_air *air, struct golf_path *path,
                                  struct golf_flight *flight) {
  return golf_fly_adjusted(model, shot, air, 0, default_tolerance, path, flight);
}

/* The figures with an input error are the first FIGURES doubles of struct golf_flight, the inputs
 * all of struct golf_shot; memcpy moves them to arrays and back. */
enum { FIGURES = 8, INPUTS = 5 };

/* Flies with one input at value; when that is refused, flies the shot itself and puts *value back.
 */
static void fly_moved(enum golf_model model, const double *inputs, size_t field, double *value,
                      const struct golf_air *air, double *figures) {
  double moved[INPUTS];
  struct golf_shot shot;
  struct golf_flight flight;
  memcpy(moved, inputs, sizeof moved);
  moved[field] = *value;
  memcpy(&shot, moved, sizeof shot);
  if (golf_fly(model, &shot, air, NULL, &flight)) {
    *value = inputs[field];
    memcpy(&shot, inputs, sizeof shot);
    golf_fly(model, &shot, air, NULL, &flight);
  }
  memcpy(figures, &flight, FIGURES * sizeof *figures);
}

const struct golf_range *golf_flight_error(enum golf_model model, const struct golf_shot *shot,
                                           const struct golf_shot *error,
                                           const struct golf_air *air, struct golf_flight *out) {
  struct golf_flight flight;
  const struct golf_range *range = golf_fly(model, shot, air, NULL, &flight);
  double inputs[INPUTS], errors[INPUTS], up[FIGURES], down[FIGURES], sum[FIGURES] = {0};
  *out = nothing;
  if (range) return range;
  memcpy(inputs, shot, sizeof inputs);
  memcpy(errors, error, sizeof errors);
  for (size_t i = 0; i < INPUTS; i++) {
    if (!(errors[i] > 0)) continue;
    double high = inputs[i] + errors[i] / 4, low = inputs[i] - errors[i] / 4;
    fly_moved(model, inputs, i, &high, air, up);
    fly_moved(model, inputs, i, &low, air, down);
    for (size_t j = 0; j < FIGURES; j++)
      sum[j] += square((up[j] - down[j]) / (high - low) * errors[i]);
  }
  for (size_t j = 0; j < FIGURES; j++) sum[j] = sqrt(sum[j]);
  memcpy(out, sum, sizeof sum);
  out->carry_error = flight.carry_error;
  out->carry = hypot(out->carry, flight.carry_error);
  return NULL;
}

double golf_spin_total(double backspin, double axis_tilt) {
  return backspin / cos(radians(axis_tilt));
}

double golf_tilt_from_spins(double backspin, double sidespin) {
  return degrees(atan2(sidespin, backspin));
}

struct golf_shot golf_shot_mirror(struct golf_shot shot) {
  shot.start = -shot.start;
  shot.axis_tilt = -shot.axis_tilt;
  return shot;
}
