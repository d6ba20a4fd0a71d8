#include "support/cases.h"

#include <math.h>
#include <string.h>

#include "golf/close.h"
#include "golf/flight.h"
#include "golf/flight_model.h"
#include "golf/launch.h"

/* Sources: smits-1994, lyu-2018 (2nd); the printed polynomials worked by hand at Re 1.5e5, S 0.1.
 */
static void golf_model_coefficients__published_fits_as_printed(void **state) {
  (void)state;
  double drag, lift;
  golf_model_coefficients(GOLF_SMITS1994, 1.5e5, 0.1, &drag, &lift);
  assert_close(drag, 0.24 + 0.018 + 0.06 * sin(0.3 * acos(-1)), 1e-12);
  assert_close(lift, 0.54 * pow(0.1, 0.4), 1e-12);
  golf_model_coefficients(GOLF_LYU2018, 1.5e5, 0.1, &drag, &lift);
  assert_close(drag, 0.42975 - 0.81 + 0.56, 1e-12);
  assert_close(lift, -0.0325 + 0.199, 1e-12);
}

static void golf_model_coefficients__blend_lies_between_where_both_are_valid(void **state) {
  (void)state;
  for (double re = 8e4; re < 2e5; re += 9e3)
    for (double s = 0.081; s < 0.12; s += 0.004) {
      double drag[GOLF_MODELS], lift[GOLF_MODELS];
      for (int i = 0; i < GOLF_MODELS; i++)
        golf_model_coefficients((enum golf_model)i, re, s, &drag[i], &lift[i]);
      assert_close(drag[GOLF_BLEND], (drag[GOLF_SMITS1994] + drag[GOLF_LYU2018]) / 2, 1e-12);
      assert_close(lift[GOLF_BLEND], (lift[GOLF_SMITS1994] + lift[GOLF_LYU2018]) / 2, 1e-12);
    }
}

static void golf_model_coefficients__blend_stays_sane_beyond_the_fits(void **state) {
  (void)state;
  double lift_before = -1;
  for (double s = 0; s < 3; s += 0.01) {
    double drag, lift;
    golf_model_coefficients(GOLF_BLEND, 1.2e5, s, &drag, &lift);
    assert_true(drag > 0.15 && drag < 1 && lift >= lift_before);
    lift_before = lift;
  }
  for (double re = 0; re < 4e5; re += 1e3) {
    double drag, lift;
    golf_model_coefficients(GOLF_BLEND, re, 0.1, &drag, &lift);
    assert_true(drag > 0.15 && drag < 0.5);
  }
}

/* Source: nathan-2008 (2nd): 23.8 s for lambda 2.0e-5, 19.1 s for 2.5e-5, at 44.7 m/s. */
static void golf_model_spin_time__published_and_between(void **state) {
  (void)state;
  double r = GOLF_BALL_DIAMETER / 2000;
  assert_close(golf_model_spin_time(GOLF_SMITS1994, 44.7), 23.8, 0.1);
  assert_close(r / (2.5e-5 * 44.7), 19.1, 0.1);
  double blend = golf_model_spin_time(GOLF_BLEND, 44.7);
  assert_true(blend > 19.1 && blend < 23.8);
  assert_close(golf_model_spin_time(GOLF_LYU2018, 70), 25, 1e-12);
}

/* Source: equipment-rules (seen): at most 45.93 g, at least 42.67 mm. */
static void ball__is_within_the_rules(void **state) {
  (void)state;
  assert_true(GOLF_BALL_MASS <= 45.93);
  assert_true(GOLF_BALL_DIAMETER >= 42.67);
}

/* Source: derived, p / (287.05 T) in the standard atmosphere. */
static void golf_air_density__standard_atmosphere(void **state) {
  (void)state;
  struct golf_air sea = golf_air_at(0, NAN), mile = golf_air_at(1609, NAN),
                  warm = golf_air_at(1609, 30);
  assert_close(golf_air_density(sea.temperature, sea.pressure), 1.2250, 5e-5);
  assert_close(golf_air_density(mile.temperature, mile.pressure), 1.0466, 2e-4);
  assert_close(warm.pressure, mile.pressure, 0);
  assert_close(warm.temperature, 30, 0);
  assert_close(golf_air_viscosity(15), 1.789e-5, 1e-8);
}

static void golf_model_find__knows_every_name(void **state) {
  (void)state;
  for (int i = 0; i < GOLF_MODELS; i++) {
    const char *name = golf_model_name((enum golf_model)i);
    assert_int_equal(golf_model_find(name, strlen(name)), i);
  }
  assert_int_equal(golf_model_find("blen", 4), -1);
}

static void golf_model_carry_error__grows_where_nothing_was_fitted(void **state) {
  (void)state;
  assert_close(golf_model_carry_error(0, 0), 1.8, 1e-12);
  assert_close(golf_model_carry_error(200, 0.1), hypot(1.8, 8), 1e-12);
  assert_true(golf_model_carry_error(80, 0.6) > golf_model_carry_error(80, 0.4));
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_model_coefficients__published_fits_as_printed),
      cmocka_unit_test(golf_model_coefficients__blend_lies_between_where_both_are_valid),
      cmocka_unit_test(golf_model_coefficients__blend_stays_sane_beyond_the_fits),
      cmocka_unit_test(golf_model_spin_time__published_and_between),
      cmocka_unit_test(ball__is_within_the_rules),
      cmocka_unit_test(golf_air_density__standard_atmosphere),
      cmocka_unit_test(golf_model_find__knows_every_name),
      cmocka_unit_test(golf_model_carry_error__grows_where_nothing_was_fitted),
  };
  return cmocka_run_group_tests_name("golf flight model", cases, NULL, NULL);
}
