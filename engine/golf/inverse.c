/* Six unknowns (face, path, loft, attack, club speed, strike) have a prior; at most four sightings
 * (start, curve, launch, carry) correct it. Invariant: sideways unknowns start at 0 and every step
 * is odd in them, so a mirrored flight gives a mirrored guess to the last bit. */
#include "golf/inverse.h"

#include <math.h>
#include <string.h>

#include "golf/degrees.h"
#include "golf/expect.h"
#include "golf/flight.h"
#include "golf/geometry.h"
#include "golf/launch.h"
#include "golf/propagate.h"
#include "golf/range.h"

enum { STATES = GOLF_GUESS_STRIKE + 1 };
enum { SEEN_START, SEEN_CURVE, SEEN_LAUNCH, SEEN_CARRY, SIGHTINGS };
enum { TURNS = 5 };

static const double ninety = 1.6448536269514722; /* normal quantile of a 90 % range */
static const double open_share = 0.7;

double golf_face_from_flight(double start, double axis_tilt, double delivered_loft, double attack) {
  double to_path = golf_face_to_path_from_tilt(axis_tilt, delivered_loft, attack);
  return start + (1 - golf_face_share(delivered_loft)) * to_path;
}

double golf_path_from_flight(double start, double axis_tilt, double delivered_loft, double attack) {
  double to_path = golf_face_to_path_from_tilt(axis_tilt, delivered_loft, attack);
  return start - golf_face_share(delivered_loft) * to_path;
}

static double curve_angle(const struct golf_shot *shot) {
  struct golf_flight flight;
  struct golf_air air = golf_air_standard();
  golf_fly(GOLF_BLEND, shot, &air, NULL, &flight);
  return degrees(asin(flight.curve / flight.carry));
}

/* Curve grows with tilt, nearly in proportion, so a chord finds it in few flights; one end of the
 * interval is kept from standing still by halving its weight (Illinois). A high launch leaves less
 * room for tilt than 60 deg. */
double golf_tilt_from_curve(double angle, double club_loft) {
  struct golf_expected expected;
  if (golf_expect(golf_expected_club_speed(club_loft), club_loft, NAN, &expected)) return NAN;
  double low = 0, high = at_most(60, 89 - expected.launch), tilt = 0;
  struct golf_shot shot = {expected.ball_speed, expected.launch, 0, expected.spin, high};
  double below = -fabs(angle), above = curve_angle(&shot) - fabs(angle);
  if (!(above > 0)) return NAN;
  int side = 0;
  for (int i = 0; i < 40 && below < 0; i++) {
    shot.axis_tilt = tilt = (low * above - high * below) / (above - below);
    double miss = curve_angle(&shot) - fabs(angle);
    if (fabs(miss) < 1e-7) break;
    if (miss < 0) {
      low = tilt, below = miss;
      if (side < 0) above /= 2;
    } else {
      high = tilt, above = miss;
      if (side > 0) below /= 2;
    }
    side = miss < 0 ? -1 : 1;
  }
  return copysign(tilt, angle);
}

static const enum golf_quantity quantities[GOLF_GUESSES] = {
    GOLF_FACE,       GOLF_PATH,   GOLF_DELIVERED_LOFT, GOLF_ATTACK,
    GOLF_CLUB_SPEED, GOLF_STRIKE, GOLF_FACE_TO_PATH};

const char *golf_guess_name(enum golf_guess guess) {
  return golf_range_of(quantities[guess])->name;
}

struct search {
  double prior[STATES], prior_sd[STATES];
  double head_mass;
  double seen[SIGHTINGS], seen_sd[SIGHTINGS]; /* seen NaN: not seen */
};

/* What impact state x would show. */
static void show(const double *x, double *y, void *context) {
  const struct search *search = context;
  struct golf_impact impact = {x[GOLF_GUESS_CLUB_SPEED], x[GOLF_GUESS_FACE],
                               x[GOLF_GUESS_PATH],       x[GOLF_GUESS_DELIVERED_LOFT],
                               x[GOLF_GUESS_ATTACK],     search->head_mass,
                               x[GOLF_GUESS_STRIKE],     0};
  struct golf_launch launch;
  struct golf_flight flight;
  struct golf_air air = golf_air_standard();
  golf_launch_compute(&impact, &launch);
  struct golf_shot shot = {launch.ball_speed, launch.launch, launch.start, launch.spin,
                           launch.axis_tilt};
  golf_fly(GOLF_BLEND, &shot, &air, NULL, &flight);
  y[SEEN_START] = launch.start;
  y[SEEN_CURVE] = flight.carry > 0 ? degrees(asin(flight.curve / flight.carry)) : 0;
  y[SEEN_LAUNCH] = launch.launch;
  y[SEEN_CARRY] = flight.carry;
}

/* Errors of the models beside those of the eye: shares of start and launch, 20 % of a curve, the
 * carry's own. */
static void variances(const struct search *search, const double *x, const double *y, double *out) {
  double loft = x[GOLF_GUESS_DELIVERED_LOFT];
  double to_path = x[GOLF_GUESS_FACE] - x[GOLF_GUESS_PATH];
  double model[SIGHTINGS];
  model[SEEN_START] = golf_face_share_error(loft) * to_path;
  model[SEEN_CURVE] = hypot(0.5, 0.2 * y[SEEN_CURVE]);
  model[SEEN_LAUNCH] = golf_loft_share_error(loft) * (loft - x[GOLF_GUESS_ATTACK]);
  model[SEEN_CARRY] = hypot(1.8, 0.04 * y[SEEN_CARRY]);
  for (int i = 0; i < SIGHTINGS; i++) out[i] = square(search->seen_sd[i]) + square(model[i]);
}

/* Takes in one sighting, a number with its variance and its derivatives: x and covariance p after
 * it. Sightings are independent, so they can be taken one after the other and no matrix is
 * inverted. */
static void take_in(const double *derivative, double miss, double variance, double *x, double *p) {
  double gain[STATES], spread = variance;
  for (int i = 0; i < STATES; i++) {
    gain[i] = 0;
    for (int j = 0; j < STATES; j++) gain[i] += p[i * STATES + j] * derivative[j];
  }
  for (int i = 0; i < STATES; i++) spread += derivative[i] * gain[i];
  for (int i = 0; i < STATES; i++) miss -= derivative[i] * x[i];
  for (int i = 0; i < STATES; i++) {
    x[i] += gain[i] * miss / spread;
    for (int j = 0; j < STATES; j++) p[i * STATES + j] -= gain[i] * gain[j] / spread;
  }
}

/* One turn: linearise at x, then update the prior. x and p get the result; x is kept plausible. */
static void turn(const struct search *search, double *x, double *p, double *jacobian) {
  double y[SIGHTINGS], variance[SIGHTINGS], shift[STATES] = {0};
  golf_jacobian(show, (void *)(size_t)search, STATES, x, search->prior_sd, SIGHTINGS, y, jacobian);
  variances(search, x, y, variance);
  memset(p, 0, STATES * STATES * sizeof *p);
  for (int i = 0; i < STATES; i++) p[i * STATES + i] = square(search->prior_sd[i]);
  for (int k = 0; k < SIGHTINGS; k++) {
    const double *derivative = jacobian + k * STATES;
    double miss = search->seen[k] - y[k];
    for (int i = 0; i < STATES; i++) miss += derivative[i] * (x[i] - search->prior[i]);
    if (isnan(miss)) continue; /* not seen, or not computable here */
    take_in(derivative, miss, variance[k], shift, p);
  }
  for (int i = 0; i < STATES; i++) {
    const struct golf_range *range = golf_range_of(quantities[i]);
    x[i] = at_most(range->high, at_least(range->low, search->prior[i] + shift[i]));
  }
}

static void set_search(const struct golf_seen *seen, struct search *s) {
  double usual_speed = golf_expected_club_speed(seen->club_loft);
  int timed = !isnan(seen->club_speed);
  double prior[STATES] = {0,
                          0,
                          golf_expected_delivered_loft(seen->club_loft),
                          golf_expected_attack(seen->club_loft),
                          timed ? seen->club_speed : usual_speed,
                          0};
  double sd[STATES] = {5, 6, 4, 2.5, timed ? seen->club_speed_error : 0.15 * usual_speed, 10};
  double values[SIGHTINGS] = {seen->start, seen->curve, seen->launch, seen->carry};
  double errors[SIGHTINGS] = {seen->start_error, seen->curve_error, seen->launch_error,
                              seen->carry_error};
  memcpy(s->prior, prior, sizeof prior);
  memcpy(s->prior_sd, sd, sizeof sd);
  memcpy(s->seen, values, sizeof values);
  memcpy(s->seen_sd, errors, sizeof errors);
  s->head_mass = golf_expected_head_mass(seen->club_loft);
}

static struct golf_estimate estimate(enum golf_guess guess, double mean, double variance,
                                     double before) {
  const struct golf_range *range = golf_range_of(quantities[guess]);
  struct golf_estimate e = {mean, sqrt(at_least(0, variance)), 0, 0, before, 0};
  e.low = at_least(range->low, mean - ninety * e.sd);
  e.high = at_most(range->high, mean + ninety * e.sd);
  e.open = e.sd > open_share * before;
  return e;
}

static void fill_guess(const struct search *s, const double *x, const double *p,
                       const double *jacobian, struct golf_impact_guess *out) {
  enum { F = GOLF_GUESS_FACE, P = GOLF_GUESS_PATH, B = GOLF_GUESS_STRIKE };
  double shared = p[F * STATES + P];
  for (int i = 0; i < STATES; i++)
    out->of[i] = estimate((enum golf_guess)i, x[i], p[i * STATES + i], s->prior_sd[i]);
  double variance = p[F * STATES + F] + p[P * STATES + P] - 2 * shared;
  out->of[GOLF_GUESS_FACE_TO_PATH] = estimate(GOLF_GUESS_FACE_TO_PATH, x[F] - x[P], variance,
                                              hypot(s->prior_sd[F], s->prior_sd[P]));
  out->face_path_correlation = shared / (out->of[F].sd * out->of[P].sd);
  out->curve_from_strike = fabs(jacobian[SEEN_CURVE * STATES + B]) * out->of[B].sd;
}

/* Checks only what was seen. */
static const struct golf_range *check_seen(const struct golf_seen *seen) {
  const enum golf_quantity kinds[] = {GOLF_CLUB_LOFT, GOLF_START, GOLF_CURVE_ANGLE,
                                      GOLF_LAUNCH,    GOLF_CARRY, GOLF_CLUB_SPEED};
  const double values[] = {seen->club_loft, seen->start, seen->curve,
                           seen->launch,    seen->carry, seen->club_speed};
  const double errors[] = {0,
                           seen->start_error,
                           seen->curve_error,
                           seen->launch_error,
                           seen->carry_error,
                           seen->club_speed_error};
  for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
    if (i > 0 && isnan(values[i])) continue;
    if (!golf_range_holds(golf_range_of(kinds[i]), values[i])) return golf_range_of(kinds[i]);
    if (!golf_range_holds(golf_range_of(GOLF_STANDARD_ERROR), errors[i]))
      return golf_range_of(GOLF_STANDARD_ERROR);
  }
  return NULL;
}

const struct golf_range *golf_invert(const struct golf_seen *seen,
                                     struct golf_impact_guess *guess) {
  const struct golf_range *range = check_seen(seen);
  struct search search;
  double x[STATES], p[STATES * STATES], jacobian[SIGHTINGS * STATES];
  memset(guess, 0, sizeof *guess);
  if (range) return range;
  set_search(seen, &search);
  memcpy(x, search.prior, sizeof x);
  for (int i = 0; i < TURNS; i++) turn(&search, x, p, jacobian);
  fill_guess(&search, x, p, jacobian, guess);
  return NULL;
}

static const struct golf_flight_word words[] = {
    {"start", "far_left", -8, 3},   {"start", "left", -4, 2},      {"start", "straight", 0, 1.5},
    {"start", "right", 4, 2},       {"start", "far_right", 8, 3},  {"curve", "hard_left", -10, 4},
    {"curve", "left", -4, 2.5},     {"curve", "straight", 0, 1.5}, {"curve", "right", 4, 2.5},
    {"curve", "hard_right", 10, 4}, {"height", "low", -4, 2.5},    {"height", "usual", 0, 2},
    {"height", "high", 4, 2.5},
};

const struct golf_flight_word *golf_flight_words(size_t *count) {
  *count = sizeof words / sizeof words[0];
  return words;
}

const struct golf_flight_word *golf_flight_word_find(const char *kind, const char *word) {
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    if (strcmp(words[i].kind, kind) == 0 && strcmp(words[i].word, word) == 0) return &words[i];
  return NULL;
}

struct golf_seen golf_seen_mirror(struct golf_seen seen) {
  seen.start = -seen.start;
  seen.curve = -seen.curve;
  return seen;
}
