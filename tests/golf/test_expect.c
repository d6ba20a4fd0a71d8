#include "support/cases.h"

#include <math.h>

#include "golf/close.h"
#include "golf/expect.h"
#include "golf/launch.h"
#include "golf/range.h"

static const double mph = 0.44704, yard = 0.9144;

static void golf_expected__typical_values_follow_the_loft(void **state) {
  (void)state;
  double loft_before = 0, launch_before = 0;
  for (double loft = 8; loft <= 64; loft += 2) {
    double delivered = golf_expected_delivered_loft(loft), launch = golf_expected_launch(loft);
    assert_true(delivered > loft_before && launch > launch_before - 1e-9);
    loft_before = delivered;
    launch_before = launch;
  }
  assert_close(golf_expected_delivered_loft(10.5), 13, 1e-12);
  assert_close(golf_expected_delivered_loft(60), 49, 1e-12);
  assert_close(golf_expected_head_mass(33), 268, 1e-12);
  assert_close(golf_expected_attack(40), -3.5, 1e-12);
  assert_true(isnan(golf_expected_delivered_loft(NAN)));
}

/* Source: practice; usual ratios of able players: driver 1.44 to 1.50, 8 iron 1.28 to 1.38, sand
 * wedge 1.05 to 1.25. */
static void golf_expect__ratios_are_those_of_the_trade(void **state) {
  (void)state;
  struct golf_expected driver, iron, wedge;
  golf_expect(45, 10.5, NAN, &driver);
  golf_expect(35, 37, NAN, &iron);
  golf_expect(32, 56, NAN, &wedge);
  assert_in_range((int)(1000 * driver.speed_ratio), 1440, 1500);
  assert_in_range((int)(1000 * iron.speed_ratio), 1280, 1380);
  assert_in_range((int)(1000 * wedge.speed_ratio), 1050, 1250);
  assert_true(driver.ball_speed_error > 0.5 && driver.ball_speed_error < 3);
  assert_true(wedge.spin_error / wedge.spin > iron.spin_error / iron.spin);
}

/* Source: practice (reference, Trade facts): 8 iron, 88 against 94.5 mph at one club speed, about
 * 14 yd. */
static void golf_lose__six_and_a_half_mph_cost_about_fourteen_yards(void **state) {
  (void)state;
  struct golf_expected expected;
  struct golf_loss loss;
  double club_speed = 71.5 * mph;
  golf_expect(club_speed, 37, 275, &expected);
  double ball_speed = expected.ball_speed - 6.5 * mph;
  assert_null(golf_lose(ball_speed, 0.5, club_speed, 0.5, 37, 275, &loss));
  assert_close(loss.ball_speed / mph, 6.5, 1e-9);
  assert_close(loss.carry / yard, 14, 3);
  assert_true(loss.carry_error > 0 && loss.ball_speed_error > 0.5);
}

static void golf_lose__a_full_strike_loses_nothing(void **state) {
  (void)state;
  struct golf_expected expected;
  struct golf_loss loss;
  golf_expect(40, 33, NAN, &expected);
  golf_lose(expected.ball_speed, 0.5, 40, 0.5, 33, NAN, &loss);
  assert_close(loss.carry, 0, 0);
  assert_true(loss.carry_error > 0.5);
}

static void golf_expect_carry__comes_with_an_error(void **state) {
  (void)state;
  struct golf_expected expected;
  golf_expect(45, 10.5, NAN, &expected);
  golf_expect_carry(&expected);
  assert_true(expected.carry > 190 && expected.carry < 240);
  assert_true(expected.carry_error > 0.04 * expected.carry &&
              expected.carry_error < 0.15 * expected.carry);
}

static void golf_expect__bad_input_is_refused_by_name(void **state) {
  (void)state;
  struct golf_expected expected;
  struct golf_loss loss;
  assert_string_equal(golf_expect(45, -3, NAN, &expected)->name, "club_loft");
  assert_true(isnan(expected.ball_speed));
  assert_string_equal(golf_expect(45, 10, 2000, &expected)->name, "head_mass");
  assert_string_equal(golf_lose(900 * mph, 1, 45, 1, 10, NAN, &loss)->name, "ball_speed");
  assert_true(isnan(loss.carry));
}

/* The error holds what 3 deg of loft and 2 deg of attack (practice) change, and the launch model's
 * own. */
static void golf_expect__error_comes_from_loft_attack_and_model(void **state) {
  (void)state;
  struct golf_expected e;
  golf_expect(36, 33, 268, &e);
  double more = golf_square_ball_speed(36, 26 + 3.5 + 3, 268),
         less = golf_square_ball_speed(36, 26 + 3.5 - 3, 268);
  double up = golf_square_ball_speed(36, 26 + 3.5 - 2, 268) - e.ball_speed,
         loft = (less - more) / 2;
  assert_close(e.ball_speed, golf_square_ball_speed(36, 29.5, 268), 1e-9);
  assert_close(e.ball_speed_error, hypot(hypot(up, loft), 0.015 * e.ball_speed), 1e-9);
}

/* Source: derived. Squares of independent errors add. */
static void golf_lose__errors_of_both_readings_count(void **state) {
  (void)state;
  struct golf_loss exact, ball, club;
  struct golf_expected e;
  golf_expect(36, 33, NAN, &e);
  golf_lose(40, 0, 36, 0, 33, NAN, &exact);
  golf_lose(40, 0.7, 36, 0, 33, NAN, &ball);
  golf_lose(40, 0, 36, 0.7, 33, NAN, &club);
  double alone = exact.ball_speed_error * exact.ball_speed_error;
  assert_close(exact.ball_speed_error, e.ball_speed_error, 1e-12);
  assert_close(ball.ball_speed_error * ball.ball_speed_error - alone, 0.49, 1e-9);
  assert_close(club.ball_speed_error * club.ball_speed_error - alone,
               0.49 * e.speed_ratio * e.speed_ratio, 1e-9);
  double by_speed = exact.carry / exact.ball_speed * exact.ball_speed_error;
  assert_close(exact.carry_error, hypot(by_speed, 0.1 * exact.carry), 1e-9);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_expected__typical_values_follow_the_loft),
      cmocka_unit_test(golf_expect__ratios_are_those_of_the_trade),
      cmocka_unit_test(golf_lose__six_and_a_half_mph_cost_about_fourteen_yards),
      cmocka_unit_test(golf_lose__a_full_strike_loses_nothing),
      cmocka_unit_test(golf_expect_carry__comes_with_an_error),
      cmocka_unit_test(golf_expect__bad_input_is_refused_by_name),
      cmocka_unit_test(golf_lose__errors_of_both_readings_count),
      cmocka_unit_test(golf_expect__error_comes_from_loft_attack_and_model),
  };
  return cmocka_run_group_tests_name("golf expect", cases, NULL, NULL);
}
