/* Typical values are straight lines between named clubs; expectations are the launch model at those
 * values with a centred, square strike, so that measured and expected differ only by what the
 * player did. */
#include "golf/expect.h"

#include <math.h>
#include <stddef.h>

#include "golf/degrees.h"
#include "golf/flight.h"
#include "golf/geometry.h"
#include "golf/launch.h"
#include "golf/range.h"

/* By static loft: driver, 3-wood, hybrid, 7-iron, pitching wedge, sand wedge. All practice. */
static const struct typical {
  double loft, head_mass, attack, delivered, club_speed;
} typical[] = {{10.5, 203, -1, 13, 44}, {15, 212, -2.5, 14.5, 42}, {22, 240, -3.5, 18, 39.5},
               {33, 268, -3.5, 26, 36}, {46, 288, -3.5, 36, 33.5}, {56, 300, -3.5, 45, 32}};
enum { TYPICAL = sizeof typical / sizeof typical[0] };

static const double loft_error = 3, attack_error = 2;

/* The row below a loft and how far it is to the next, 0 to 1. */
static int find_row(double loft, double *share) {
  int i = 0;
  while (i + 2 < TYPICAL && loft > typical[i + 1].loft) i++;
  double t = (loft - typical[i].loft) / (typical[i + 1].loft - typical[i].loft);
  *share = at_most(1, at_least(0, t));
  return i;
}

double golf_expected_head_mass(double club_loft) {
  double t;
  int i = find_row(club_loft, &t);
  return typical[i].head_mass + t * (typical[i + 1].head_mass - typical[i].head_mass);
}

double golf_expected_attack(double club_loft) {
  double t;
  int i = find_row(club_loft, &t);
  return typical[i].attack + t * (typical[i + 1].attack - typical[i].attack);
}

/* Beyond the table the loft keeps its distance from the club's. */
double golf_expected_delivered_loft(double club_loft) {
  double t;
  int i = find_row(club_loft, &t);
  double inside = typical[i].delivered + t * (typical[i + 1].delivered - typical[i].delivered);
  return inside + at_least(0, club_loft - typical[TYPICAL - 1].loft) +
         at_most(0, club_loft - typical[0].loft);
}

double golf_expected_club_speed(double club_loft) {
  double t;
  int i = find_row(club_loft, &t);
  return typical[i].club_speed + t * (typical[i + 1].club_speed - typical[i].club_speed);
}

double golf_expected_launch(double club_loft) {
  return golf_launch_angle(golf_expected_delivered_loft(club_loft),
                           golf_expected_attack(club_loft));
}

static struct golf_launch launch_at(double club_speed, double loft, double attack,
                                    double head_mass) {
  struct golf_impact impact = {club_speed, 0, 0, loft, attack, head_mass, 0, 0};
  struct golf_launch launch;
  golf_launch_compute(&impact, &launch);
  return launch;
}

static void fill_expected(double club_speed, double club_loft, double head_mass,
                          struct golf_expected *out) {
  double loft = golf_expected_delivered_loft(club_loft), attack = golf_expected_attack(club_loft);
  struct golf_launch mid = launch_at(club_speed, loft, attack, head_mass);
  struct golf_launch more = launch_at(club_speed, loft + loft_error, attack, head_mass);
  struct golf_launch less = launch_at(club_speed, loft - loft_error, attack, head_mass);
  struct golf_launch up = launch_at(club_speed, loft, attack + attack_error, head_mass);
  double by_loft = (more.ball_speed - less.ball_speed) / 2,
         by_attack = up.ball_speed - mid.ball_speed;
  out->ball_speed = mid.ball_speed;
  out->ball_speed_error = sqrt(square(by_loft) + square(by_attack) + square(mid.ball_speed_error));
  out->speed_ratio = mid.speed_ratio;
  out->speed_ratio_error = out->ball_speed_error / club_speed;
  out->launch = mid.launch;
  out->launch_error = sqrt(square((more.launch - less.launch) / 2) +
                           square(up.launch - mid.launch) + square(mid.launch_error));
  out->spin = mid.spin;
  out->spin_error = sqrt(square((more.spin - less.spin) / 2) + square(up.spin - mid.spin) +
                         square(mid.spin_error));
  out->carry = out->carry_error = 0;
}

const struct golf_range *golf_expect(double club_speed, double club_loft, double head_mass,
                                     struct golf_expected *out) {
  static const enum golf_quantity quantities[] = {GOLF_CLUB_SPEED, GOLF_CLUB_LOFT, GOLF_HEAD_MASS};
  double mass = isnan(head_mass) ? golf_expected_head_mass(club_loft) : head_mass;
  double values[] = {club_speed, club_loft, mass};
  const struct golf_range *range = golf_check(quantities, values, 3, NULL);
  if (range) *out = (struct golf_expected){NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
  else fill_expected(club_speed, club_loft, mass, out);
  return range;
}

static struct golf_shot expected_shot(const struct golf_expected *expected, double ball_speed) {
  return (struct golf_shot){ball_speed, expected->launch, 0, expected->spin, 0};
}

void golf_expect_carry(struct golf_expected *expected) {
  struct golf_air air = golf_air_standard();
  struct golf_shot shot = expected_shot(expected, expected->ball_speed);
  struct golf_shot error = {expected->ball_speed_error, expected->launch_error, 0,
                            expected->spin_error, 0};
  struct golf_flight flight, errors;
  golf_fly(GOLF_BLEND, &shot, &air, NULL, &flight);
  golf_flight_error(GOLF_BLEND, &shot, &error, &air, &errors);
  expected->carry = flight.carry;
  expected->carry_error = errors.carry;
}

const struct golf_range *golf_lose(double ball_speed, double ball_speed_error, double club_speed,
                                   double club_speed_error, double club_loft, double head_mass,
                                   struct golf_loss *out) {
  struct golf_expected expected;
  struct golf_flight full, kept;
  struct golf_air air = golf_air_standard();
  const struct golf_range *range = golf_expect(club_speed, club_loft, head_mass, &expected);
  *out = (struct golf_loss){NAN, NAN, NAN, NAN, NAN};
  if (range) return range;
  struct golf_shot should = expected_shot(&expected, expected.ball_speed);
  struct golf_shot was = expected_shot(&expected, ball_speed);
  range = golf_fly(GOLF_BLEND, &was, &air, NULL, &kept);
  if (range) return range;
  golf_fly(GOLF_BLEND, &should, &air, NULL, &full);
  out->ball_speed = expected.ball_speed - ball_speed;
  out->ball_speed_error = sqrt(square(ball_speed_error) + square(expected.ball_speed_error) +
                               square(club_speed_error * expected.speed_ratio));
  out->carry = full.carry - kept.carry;
  double by_speed =
      out->ball_speed != 0 ? out->carry / out->ball_speed : full.carry / should.ball_speed;
  out->carry_error = hypot(by_speed * out->ball_speed_error, 0.1 * out->carry);
  out->speed_ratio = ball_speed / club_speed;
  return NULL;
}
