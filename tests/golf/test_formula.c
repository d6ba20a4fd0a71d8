#include "support/cases.h"

#include <math.h>
#include <string.h>

#include "golf/close.h"
#include "golf/flight.h"
#include "golf/formula.h"
#include "golf/geometry.h"
#include "golf/range.h"

static const struct golf_function *named(const char *name) {
  const struct golf_function *function = golf_function_find(name, strlen(name));
  assert_non_null(function);
  return function;
}

static double call(const char *name, const double *x) {
  return named(name)->call(x);
}

static int words(const char *text) {
  int count = *text != 0;
  for (; *text; text++) count += *text == ' ';
  return count;
}

/* A plausible value for an argument, off any edge. */
static double usual(const char *word, size_t length) {
  static const struct {
    const char *name;
    double value;
  } values[] = {
      {"club_speed", 36}, {"ball_speed", 47},     {"face", 1.5},         {"path", -3},
      {"attack", -3.5},   {"delivered_loft", 27}, {"loft", 27},          {"club_loft", 35},
      {"head_mass", 268}, {"plane_tilt", 58},     {"radius", 1.5},       {"low_point", 0.1},
      {"start", -1},      {"launch", 20},         {"backspin", 6000},    {"sidespin", 700},
      {"axis_tilt", 6},   {"strike", 5},          {"strike_height", -2}, {"arc_direction", -5},
      {"curve_angle", 3}, {"standard_error", 2}};
  for (size_t i = 0; i < COUNT_OF(values); i++)
    if (strlen(values[i].name) == length && memcmp(values[i].name, word, length) == 0)
      return values[i].value;
  return NAN;
}

static void fill_usual(const struct golf_function *function, double *x) {
  const char *word = function->arguments;
  for (int i = 0; i < function->arity; i++) {
    size_t length = strcspn(word, " ");
    x[i] = usual(word, length);
    assert_false(isnan(x[i]));
    word += length + (word[length] == ' ');
  }
}

static void golf_function_table__rows_are_complete_and_unique(void **state) {
  (void)state;
  size_t count;
  const struct golf_function *table = golf_function_table(&count);
  assert_true(count > 35);
  for (size_t i = 0; i < count; i++) {
    assert_int_equal(words(table[i].arguments), table[i].arity);
    assert_in_range(table[i].arity, 1, GOLF_FUNCTION_ARITY_MAX);
    assert_true(strlen(table[i].about) > 6);
    assert_ptr_equal(named(table[i].name), &table[i]);
  }
  assert_null(golf_function_find("carr", 4));
  assert_null(golf_function_find("carry_", 6));
}

static void golf_function__usual_arguments_give_a_number(void **state) {
  (void)state;
  size_t count;
  const struct golf_function *table = golf_function_table(&count);
  for (size_t i = 0; i < count; i++) {
    double x[GOLF_FUNCTION_ARITY_MAX];
    fill_usual(&table[i], x);
    assert_null(golf_function_check(&table[i], x, NULL));
    assert_false(isnan(table[i].call(x)));
  }
}

/* Names, ranges and wrappers agree: just outside the range of any argument check and call both
 * refuse, and the check names that argument. */
static void golf_function__every_argument_is_checked(void **state) {
  (void)state;
  size_t count;
  const struct golf_function *table = golf_function_table(&count);
  for (size_t i = 0; i < count; i++)
    for (int k = 0; k < table[i].arity; k++) {
      double x[GOLF_FUNCTION_ARITY_MAX], bad[3] = {NAN, 0, 0};
      int argument = -1;
      fill_usual(&table[i], x);
      x[k] = NAN;
      const struct golf_range *range = golf_function_check(&table[i], x, &argument);
      assert_non_null(range);
      assert_int_equal(argument, k);
      bad[1] = nextafter(range->low, -INFINITY);
      bad[2] = nextafter(range->high, INFINITY);
      for (int n = 0; n < 3; n++) {
        x[k] = bad[n];
        assert_ptr_equal(golf_function_check(&table[i], x, NULL), range);
        assert_true(isnan(table[i].call(x)));
      }
    }
}

static void carry__is_the_blend_in_standard_air(void **state) {
  (void)state;
  double x[] = {47, 20, 6000, 6, -1};
  struct golf_shot shot = {47, 20, -1, 6000 / cos(6 * acos(-1) / 180), 6};
  struct golf_air air = golf_air_standard();
  struct golf_flight f;
  golf_fly(GOLF_BLEND, &shot, &air, NULL, &f);
  assert_close(call("carry", x), f.carry, 1e-9);
  assert_close(call("side", x), f.side, 1e-9);
  assert_close(call("curve_angle", x), asin(f.curve / f.carry) * 180 / acos(-1), 1e-9);
  assert_close(call("carry_error", x), f.carry_error, 1e-9);
  x[1] = -2;
  assert_close(call("carry", x), 0, 0);
  assert_close(call("curve_angle", x), 0, 0);
}

static void carry__a_tilt_no_launch_allows_is_no_number(void **state) {
  (void)state;
  assert_true(isnan(call("carry", (double[]){47, 60, 6000, 40, -1})));
}

/* Face and path from a flight give back the flight they were made of. */
static void face_from_flight__undoes_start_and_tilt(void **state) {
  (void)state;
  double start = golf_start_direction(2, -3, 27), tilt = golf_axis_tilt(2, -3, 27, -3.5);
  assert_close(call("face_from_flight", (double[]){start, tilt, 27, -3.5}), 2, 1e-9);
  assert_close(call("path_from_flight", (double[]){start, tilt, 27, -3.5}), -3, 1e-9);
}

static void axis_tilt_from_curve__is_odd_and_grows(void **state) {
  (void)state;
  double small = call("axis_tilt_from_curve", (double[]){2, 37});
  double large = call("axis_tilt_from_curve", (double[]){6, 37});
  assert_true(small > 0 && large > small);
  assert_true(call("axis_tilt_from_curve", (double[]){-6, 37}) == -large);
  assert_true(isnan(call("axis_tilt_from_curve", (double[]){44, 60})));
}

static void ball_speed_lost__agrees_with_expected(void **state) {
  (void)state;
  double expected = call("expected_ball_speed", (double[]){32, 37, 275});
  assert_close(call("ball_speed_lost", (double[]){expected - 3, 32, 37, 275}), 3, 1e-12);
  assert_true(call("carry_lost", (double[]){expected - 3, 32, 37, 275}) > 8);
  assert_true(call("carry_lost", (double[]){expected + 1, 32, 37, 275}) < 0);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_function_table__rows_are_complete_and_unique),
      cmocka_unit_test(golf_function__usual_arguments_give_a_number),
      cmocka_unit_test(golf_function__every_argument_is_checked),
      cmocka_unit_test(carry__is_the_blend_in_standard_air),
      cmocka_unit_test(carry__a_tilt_no_launch_allows_is_no_number),
      cmocka_unit_test(face_from_flight__undoes_start_and_tilt),
      cmocka_unit_test(axis_tilt_from_curve__is_odd_and_grows),
      cmocka_unit_test(ball_speed_lost__agrees_with_expected),
  };
  return cmocka_run_group_tests_name("golf formula", cases, NULL, NULL);
}
