/* Facts are one vector with one covariance. A fact worked out here joins it with the covariance it
 * has with all it came from, so that nothing is counted twice when the flight is propagated. */
#include "golf/implied.h"

#include <math.h>
#include <string.h>

#include "golf/degrees.h"
#include "golf/expect.h"
#include "golf/geometry.h"
#include "golf/launch.h"
#include "golf/propagate.h"
#include "golf/range.h"

enum { N = GOLF_FACTS };

const char *golf_fact_name(enum golf_fact fact) {
  static const char *const names[] = {"club_speed", "face",           "path",      "delivered_loft",
                                      "attack",     "club_head_mass", "strike",    "strike_height",
                                      "club_loft",  "ball_speed",     "launch",    "start",
                                      "backspin",   "axis_tilt",      "tail_wind", "cross_wind"};
  return names[fact];
}

double golf_fact_error(const struct golf_facts *facts, enum golf_fact fact) {
  return sqrt(at_least(0, facts->covariance[fact * N + fact]));
}

struct golf_facts golf_facts_none(void) {
  struct golf_facts facts = {.usual = 0};
  for (int i = 0; i < N; i++) facts.value[i] = NAN;
  facts.value[GOLF_FACT_TAIL_WIND] = facts.value[GOLF_FACT_CROSS_WIND] = 0;
  return facts;
}

void golf_facts_set(struct golf_facts *facts, enum golf_fact fact, double value, double error) {
  facts->value[fact] = value;
  for (int k = 0; k < N; k++) facts->covariance[fact * N + k] = facts->covariance[k * N + fact] = 0;
  facts->covariance[fact * N + fact] = error * error;
}

static int is_known(const struct golf_facts *facts, enum golf_fact fact) {
  return !isnan(facts->value[fact]);
}

static int is_usual(const struct golf_facts *facts, enum golf_fact fact) {
  return (facts->usual >> fact & 1u) != 0;
}

/* ---- what follows from the club and the launch model ---- */

static void take_usual(struct golf_facts *facts, enum golf_fact fact, double value, double error) {
  if (is_known(facts, fact) || isnan(value)) return;
  golf_facts_set(facts, fact, value, error);
  facts->usual |= 1u << fact;
}

/* An unknown face or path is taken as 0 where only speed, height and backspin are asked for; an
 * unknown club speed is what a centred strike needs for the ball speed. */
static struct golf_launch launch_of(const double *x) {
  double speed = x[GOLF_FACT_CLUB_SPEED], loft = x[GOLF_FACT_CLUB_LOFT];
  int aimed = !isnan(x[GOLF_FACT_FACE]) && !isnan(x[GOLF_FACT_PATH]);
  struct golf_impact impact = {speed,
                               aimed ? x[GOLF_FACT_FACE] : 0,
                               aimed ? x[GOLF_FACT_PATH] : 0,
                               x[GOLF_FACT_DELIVERED_LOFT],
                               x[GOLF_FACT_ATTACK],
                               x[GOLF_FACT_HEAD_MASS],
                               x[GOLF_FACT_STRIKE],
                               x[GOLF_FACT_STRIKE_HEIGHT]};
  struct golf_launch launch;
  if (isnan(speed)) {
    struct golf_expected expected;
    golf_expect(golf_expected_club_speed(loft), loft, x[GOLF_FACT_HEAD_MASS], &expected);
    impact.club_speed = x[GOLF_FACT_BALL_SPEED] / expected.speed_ratio;
  }
  golf_launch_compute(&impact, &launch);
  if (!aimed) launch.start = launch.axis_tilt = launch.sidespin = NAN;
  return launch;
}

static double ball_speed_of(const double *x, double *own) {
  struct golf_launch launch = launch_of(x);
  return *own = launch.ball_speed_error, launch.ball_speed;
}
static double launch_angle_of(const double *x, double *own) {
  struct golf_launch launch = launch_of(x);
  return *own = launch.launch_error, launch.launch;
}
static double start_of(const double *x, double *own) {
  struct golf_launch launch = launch_of(x);
  return *own = launch.start_error, launch.start;
}
static double backspin_of(const double *x, double *own) {
  struct golf_launch launch = launch_of(x);
  return *own = launch.spin_error, launch.backspin;
}
static double axis_tilt_of(const double *x, double *own) {
  struct golf_launch launch = launch_of(x);
  return *own = launch.axis_tilt_error, launch.axis_tilt;
}

/* Fills a fact from the others: cov(z, x) = J C, var z = J C J' + own error squared. */
static void follow(struct golf_facts *facts, enum golf_fact fact,
                   double (*function)(const double *x, double *own)) {
  double x[N], slope[N] = {0}, shared[N], own, ignored, variance;
  memcpy(x, facts->value, sizeof x);
  double value = is_known(facts, fact) ? NAN : function(x, &own);
  if (isnan(value)) return;
  for (int j = 0; j < N; j++) {
    double error = golf_fact_error(facts, (enum golf_fact)j), middle = x[j];
    if (isnan(middle) || !(error > 0)) continue;
    x[j] = middle + 0.5 * error;
    double up = function(x, &ignored);
    x[j] = middle - 0.5 * error;
    double down = function(x, &ignored);
    x[j] = middle;
    if (isfinite(up - down)) slope[j] = (up - down) / error;
  }
  variance = own * own;
  for (int k = 0; k < N; k++) {
    shared[k] = 0;
    for (int j = 0; j < N; j++) shared[k] += slope[j] * facts->covariance[j * N + k];
  }
  for (int k = 0; k < N; k++) variance += shared[k] * slope[k];
  golf_facts_set(facts, fact, value, sqrt(variance));
  for (int k = 0; k < N; k++)
    if (k != (int)fact)
      facts->covariance[fact * N + k] = facts->covariance[k * N + fact] = shared[k];
  facts->follows |= 1u << fact;
}

void golf_facts_complete(struct golf_facts *facts) {
  double loft = facts->value[GOLF_FACT_CLUB_LOFT];
  if (!isnan(loft)) {
    take_usual(facts, GOLF_FACT_DELIVERED_LOFT, golf_expected_delivered_loft(loft), 3);
    take_usual(facts, GOLF_FACT_ATTACK, golf_expected_attack(loft), 2);
    take_usual(facts, GOLF_FACT_HEAD_MASS, golf_expected_head_mass(loft), 4);
    take_usual(facts, GOLF_FACT_STRIKE, 0, 10);
    take_usual(facts, GOLF_FACT_STRIKE_HEIGHT, 0, 6);
  }
  follow(facts, GOLF_FACT_BALL_SPEED, ball_speed_of);
  follow(facts, GOLF_FACT_LAUNCH, launch_angle_of);
  follow(facts, GOLF_FACT_START, start_of);
  follow(facts, GOLF_FACT_BACKSPIN, backspin_of);
  follow(facts, GOLF_FACT_AXIS_TILT, axis_tilt_of);
}

/* ---- outcomes of one vector of facts ---- */

static double known_or_straight(double x) {
  return isnan(x) ? 0 : x;
}

static struct golf_shot shot_of(const double *x) {
  double tilt = known_or_straight(x[GOLF_FACT_AXIS_TILT]);
  return (struct golf_shot){x[GOLF_FACT_BALL_SPEED], x[GOLF_FACT_LAUNCH],
                            known_or_straight(x[GOLF_FACT_START]),
                            golf_spin_total(x[GOLF_FACT_BACKSPIN], tilt), tilt};
}

struct golf_shot golf_facts_shot(const struct golf_facts *facts) {
  return shot_of(facts->value);
}

int golf_facts_sideways(const struct golf_facts *facts) {
  return is_known(facts, GOLF_FACT_START) && is_known(facts, GOLF_FACT_AXIS_TILT);
}

struct circumstances {
  const struct golf_facts *facts;
  enum golf_model model;
  struct golf_air air;
};

static struct golf_air air_of(const struct circumstances *given, const double *x) {
  struct golf_air air = given->air;
  air.tail_wind = x[GOLF_FACT_TAIL_WIND];
  air.cross_wind = x[GOLF_FACT_CROSS_WIND];
  return air;
}

static const struct golf_range *fly(const struct circumstances *given, const double *x,
                                    const struct golf_shot *shot, struct golf_flight *flight) {
  struct golf_air air = air_of(given, x);
  return golf_fly(given->model, shot, &air, NULL, flight);
}

static void add_flight(const struct golf_flight *flight, const double *x, double *y) {
  int starts = !isnan(x[GOLF_FACT_START]), tilts = !isnan(x[GOLF_FACT_AXIS_TILT]);
  y[GOLF_OUTCOME_CARRY] = flight->carry;
  y[GOLF_OUTCOME_SIDE] = starts && tilts ? flight->side : NAN;
  y[GOLF_OUTCOME_CURVE] = tilts ? flight->curve : NAN;
  y[GOLF_OUTCOME_CURVE_ANGLE] = !tilts              ? NAN
                                : flight->carry > 0 ? degrees(asin(flight->curve / flight->carry))
                                                    : 0;
  y[GOLF_OUTCOME_APEX] = flight->apex;
  y[GOLF_OUTCOME_LANDING_ANGLE] = flight->landing_angle;
  y[GOLF_OUTCOME_TIME] = flight->time;
  y[GOLF_OUTCOME_LANDING_SPEED] = flight->landing_speed;
  y[GOLF_OUTCOME_LANDING_SPIN] = flight->landing_spin;
}

static const struct golf_range *expect(const double *x, struct golf_expected *expected) {
  return golf_expect(x[GOLF_FACT_CLUB_SPEED], x[GOLF_FACT_CLUB_LOFT], x[GOLF_FACT_HEAD_MASS],
                     expected);
}

static struct golf_shot expected_shot(const struct golf_expected *expected, double ball_speed) {
  return (struct golf_shot){ball_speed, expected->launch, 0, expected->spin, 0};
}

/* A ball speed that was worked out from the club speed says nothing of what was lost. */
static void add_expected(const struct circumstances *given, const double *x, double *y) {
  struct golf_expected expected;
  struct golf_flight full, kept;
  int measured = !(given->facts->follows >> GOLF_FACT_BALL_SPEED & 1u);
  if (expect(x, &expected)) return;
  struct golf_shot should = expected_shot(&expected, expected.ball_speed);
  struct golf_shot was = expected_shot(&expected, x[GOLF_FACT_BALL_SPEED]);
  if (fly(given, x, &should, &full)) return;
  y[GOLF_OUTCOME_EXPECTED_BALL_SPEED] = expected.ball_speed;
  y[GOLF_OUTCOME_EXPECTED_CARRY] = full.carry;
  if (!measured || fly(given, x, &was, &kept)) return;
  y[GOLF_OUTCOME_BALL_SPEED_SHORT] = expected.ball_speed - x[GOLF_FACT_BALL_SPEED];
  y[GOLF_OUTCOME_CARRY_SHORT] = full.carry - kept.carry;
}

/* The shot moved by what the launch model makes of the change, so that its own bias cancels. */
static int changed_shot(const double *x, const double *changed, struct golf_shot *shot) {
  struct golf_launch was = launch_of(x), is = launch_of(changed);
  double tilt = radians(known_or_straight(x[GOLF_FACT_AXIS_TILT]));
  double back = x[GOLF_FACT_BACKSPIN] + is.backspin - was.backspin;
  double side = x[GOLF_FACT_BACKSPIN] * tan(tilt);
  if (!isnan(is.sidespin)) side += is.sidespin - was.sidespin;
  *shot = shot_of(x);
  shot->ball_speed += is.ball_speed - was.ball_speed;
  shot->launch += is.launch - was.launch;
  if (!isnan(is.start)) shot->start += is.start - was.start;
  shot->spin = hypot(back, side);
  shot->axis_tilt = degrees(atan2(side, back));
  return !isnan(shot->ball_speed);
}

/* places: ball speed gained, carry gained, side then, from the first outcome on. */
static void add_changed(const struct circumstances *given, const double *x, const double *changed,
                        double carry, double *places) {
  struct golf_shot shot;
  struct golf_flight flight;
  if (!changed_shot(x, changed, &shot)) return;
  places[0] = shot.ball_speed - x[GOLF_FACT_BALL_SPEED];
  if (fly(given, x, &shot, &flight)) return;
  places[1] = flight.carry - carry;
  if (!isnan(x[GOLF_FACT_START]) && !isnan(x[GOLF_FACT_AXIS_TILT])) places[2] = flight.side;
}

static void add_square(const struct circumstances *given, const double *x, double carry,
                       double *y) {
  double changed[N];
  if (isnan(x[GOLF_FACT_FACE]) || isnan(x[GOLF_FACT_PATH])) return;
  memcpy(changed, x, sizeof changed);
  changed[GOLF_FACT_PATH] = x[GOLF_FACT_FACE];
  add_changed(given, x, changed, carry, y + GOLF_OUTCOME_SQUARE_BALL_SPEED);
}

static void add_centred(const struct circumstances *given, const double *x, double carry,
                        double *y) {
  double changed[N];
  int known =
      !is_usual(given->facts, GOLF_FACT_STRIKE) || !is_usual(given->facts, GOLF_FACT_STRIKE_HEIGHT);
  if (!known || isnan(x[GOLF_FACT_STRIKE])) return;
  memcpy(changed, x, sizeof changed);
  changed[GOLF_FACT_STRIKE] = changed[GOLF_FACT_STRIKE_HEIGHT] = 0;
  add_changed(given, x, changed, carry, y + GOLF_OUTCOME_CENTRED_BALL_SPEED);
}

static void outcomes_of(const double *x, double *y, void *context) {
  const struct circumstances *given = context;
  struct golf_flight flight;
  struct golf_shot shot = shot_of(x);
  for (int i = 0; i < GOLF_OUTCOMES; i++) y[i] = NAN;
  if (!isnan(x[GOLF_FACT_CLUB_SPEED])) add_expected(given, x, y);
  if (fly(given, x, &shot, &flight)) return;
  add_flight(&flight, x, y);
  add_square(given, x, flight.carry, y);
  add_centred(given, x, flight.carry, y);
}

/* ---- errors ---- */

/* Where the slope vanishes the bend makes the error: 1/2 trace((H C)^2) over the facts whose zero
 * is a best (derived). */
enum { BENT = 4 };
static const enum golf_fact bent[BENT] = {GOLF_FACT_FACE, GOLF_FACT_PATH, GOLF_FACT_STRIKE,
                                          GOLF_FACT_STRIKE_HEIGHT};

/* Outcomes with face, path, strike or height moved by a whole or half standard error, up or down.
 */
static void moved_outcomes(struct circumstances *given, int i, double by, int k, double by_k,
                           double *y) {
  double x[N];
  memcpy(x, given->facts->value, sizeof x);
  x[bent[i]] += by;
  if (k >= 0) x[bent[k]] += by_k;
  outcomes_of(x, y, given);
}

static double bend_variance(const struct golf_facts *facts, double second[BENT][BENT]) {
  double hc[BENT][BENT] = {{0}}, trace = 0;
  for (int i = 0; i < BENT; i++)
    for (int k = 0; k < BENT; k++)
      for (int j = 0; j < BENT; j++)
        hc[i][j] += second[i][k] * facts->covariance[bent[k] * N + bent[j]];
  for (int i = 0; i < BENT; i++)
    for (int k = 0; k < BENT; k++) trace += hc[i][k] * hc[k][i];
  return at_least(0, trace / 2);
}

static int has_bends(const struct golf_facts *facts) {
  for (int i = 0; i < BENT; i++)
    if (golf_fact_error(facts, bent[i]) > 0) return 1;
  return 0;
}

struct bends {
  double of[GOLF_OUTCOMES][BENT][BENT]; /* second derivatives */
};

/* Sums are paired so that a mirrored shot gives the same bits. */
static void bend_along(struct circumstances *given, const double *middle, int i,
                       struct bends *bends) {
  double up[GOLF_OUTCOMES], down[GOLF_OUTCOMES];
  double step = 0.5 * golf_fact_error(given->facts, bent[i]);
  moved_outcomes(given, i, step, -1, 0, up);
  moved_outcomes(given, i, -step, -1, 0, down);
  for (int o = 0; o < GOLF_OUTCOMES; o++) {
    double bend = (up[o] + down[o] - 2 * middle[o]) / (step * step);
    bends->of[o][i][i] = isfinite(bend) ? bend : 0;
  }
}

static void bend_across(struct circumstances *given, int i, int k, struct bends *bends) {
  double y[4][GOLF_OUTCOMES];
  double step = 0.5 * golf_fact_error(given->facts, bent[i]);
  double step_k = 0.5 * golf_fact_error(given->facts, bent[k]);
  moved_outcomes(given, i, step, k, step_k, y[0]);
  moved_outcomes(given, i, -step, k, -step_k, y[1]);
  moved_outcomes(given, i, step, k, -step_k, y[2]);
  moved_outcomes(given, i, -step, k, step_k, y[3]);
  for (int o = 0; o < GOLF_OUTCOMES; o++) {
    double bend = (y[0][o] + y[1][o] - (y[2][o] + y[3][o])) / (4 * step * step_k);
    bends->of[o][i][k] = bends->of[o][k][i] = isfinite(bend) ? bend : 0;
  }
}

/* Face and path bend an outcome by their difference, so they need the mixed bend too. */
static void add_bends(struct circumstances *given, const double *middle, double *variance) {
  struct bends bends = {{{{0}}}};
  for (int i = 0; i < BENT; i++) bend_along(given, middle, i, &bends);
  bend_across(given, 0, 1, &bends);
  for (int o = GOLF_OUTCOME_SQUARE_BALL_SPEED; o < GOLF_OUTCOMES; o++)
    variance[o] += bend_variance(given->facts, bends.of[o]);
}

/* ---- what the models themselves leave open ---- */

static void own_of_flight(const struct circumstances *given, const double *y, double *own) {
  struct golf_shot shot = shot_of(given->facts->value);
  struct golf_flight flight;
  if (!fly(given, given->facts->value, &shot, &flight))
    own[GOLF_OUTCOME_CARRY] = flight.carry_error;
  own[GOLF_OUTCOME_CURVE] = own[GOLF_OUTCOME_SIDE] = 0.1 * y[GOLF_OUTCOME_CURVE];
  own[GOLF_OUTCOME_CURVE_ANGLE] = 0.1 * y[GOLF_OUTCOME_CURVE_ANGLE];
  own[GOLF_OUTCOME_APEX] = 0.06 * y[GOLF_OUTCOME_APEX];
  own[GOLF_OUTCOME_LANDING_ANGLE] = 2;
  own[GOLF_OUTCOME_TIME] = 0.03 * y[GOLF_OUTCOME_TIME];
  own[GOLF_OUTCOME_LANDING_SPEED] = 0.03 * y[GOLF_OUTCOME_LANDING_SPEED];
  own[GOLF_OUTCOME_LANDING_SPIN] = 0.05 * y[GOLF_OUTCOME_LANDING_SPIN];
}

static void own_of_changes(const double *y, double *own) {
  own[GOLF_OUTCOME_SQUARE_BALL_SPEED] = 0.1 * y[GOLF_OUTCOME_SQUARE_BALL_SPEED];
  own[GOLF_OUTCOME_SQUARE_CARRY] = 0.1 * y[GOLF_OUTCOME_SQUARE_CARRY];
  own[GOLF_OUTCOME_CENTRED_BALL_SPEED] = 0.3 * y[GOLF_OUTCOME_CENTRED_BALL_SPEED];
  own[GOLF_OUTCOME_CENTRED_CARRY] = 0.3 * y[GOLF_OUTCOME_CENTRED_CARRY];
  own[GOLF_OUTCOME_SQUARE_SIDE] = own[GOLF_OUTCOME_CENTRED_SIDE] = 0.1 * y[GOLF_OUTCOME_CURVE];
}

static void own_of_expected(const struct circumstances *given, const double *y, double *own) {
  const double *x = given->facts->value;
  struct golf_expected expected;
  struct golf_flight spread;
  struct golf_air air = air_of(given, x);
  if (isnan(x[GOLF_FACT_CLUB_SPEED]) || expect(x, &expected)) return;
  struct golf_shot should = expected_shot(&expected, expected.ball_speed);
  struct golf_shot doubt = {expected.ball_speed_error, expected.launch_error, 0,
                            expected.spin_error, 0};
  golf_flight_error(given->model, &should, &doubt, &air, &spread);
  own[GOLF_OUTCOME_EXPECTED_BALL_SPEED] = own[GOLF_OUTCOME_BALL_SPEED_SHORT] =
      expected.ball_speed_error;
  own[GOLF_OUTCOME_EXPECTED_CARRY] = spread.carry;
  double by_speed = y[GOLF_OUTCOME_CARRY_SHORT] / y[GOLF_OUTCOME_BALL_SPEED_SHORT];
  if (!isfinite(by_speed)) by_speed = y[GOLF_OUTCOME_EXPECTED_CARRY] / expected.ball_speed;
  own[GOLF_OUTCOME_CARRY_SHORT] =
      hypot(by_speed * expected.ball_speed_error, 0.1 * y[GOLF_OUTCOME_CARRY_SHORT]);
}

static void fill_errors(struct circumstances *given, struct golf_outcomes *out) {
  double error[N], jacobian[GOLF_OUTCOMES * N], covariance[GOLF_OUTCOMES * GOLF_OUTCOMES];
  double variance[GOLF_OUTCOMES], own[GOLF_OUTCOMES] = {0};
  for (int i = 0; i < N; i++)
    error[i] = isnan(given->facts->value[i]) ? 0 : golf_fact_error(given->facts, (enum golf_fact)i);
  golf_jacobian(outcomes_of, given, N, given->facts->value, error, GOLF_OUTCOMES, out->value,
                jacobian);
  golf_spread(jacobian, N, GOLF_OUTCOMES, given->facts->covariance, covariance);
  for (int i = 0; i < GOLF_OUTCOMES; i++) variance[i] = covariance[i * GOLF_OUTCOMES + i];
  own_of_flight(given, out->value, own);
  own_of_changes(out->value, own);
  own_of_expected(given, out->value, own);
  if (has_bends(given->facts)) add_bends(given, out->value, variance);
  for (int i = 0; i < GOLF_OUTCOMES; i++) {
    out->error[i] = sqrt(at_least(0, variance[i]) + own[i] * own[i]);
    if (isnan(out->error[i])) out->value[i] = NAN;
  }
}

const struct golf_range *golf_implied(const struct golf_facts *facts, enum golf_model model,
                                      const struct golf_air *air, struct golf_outcomes *out) {
  struct circumstances given = {facts, model, *air};
  struct golf_flight flight;
  struct golf_shot shot = shot_of(facts->value);
  fill_errors(&given, out);
  int flies = !isnan(shot.ball_speed) && !isnan(shot.launch) && !isnan(shot.spin);
  return flies ? fly(&given, facts->value, &shot, &flight) : NULL;
}
