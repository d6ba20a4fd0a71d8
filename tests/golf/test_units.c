/* Sources: 1 mph = 0.44704 m/s, 1 yd = 0.9144 m, 1 rpm = 0.104720 rad/s (definitions; the
 * reference's head). */
#include "support/cases.h"

#include <math.h>
#include <string.h>

#include "golf/close.h"
#include "golf/units.h"

static const struct golf_unit *unit(const char *text) {
  const struct golf_unit *found = golf_unit_find(text, strlen(text));
  assert_non_null(found);
  return found;
}

static double convert(double value, const char *from, const char *to) {
  return golf_unit_convert(value, unit(from), unit(to));
}

static void golf_unit_convert__definitions_hold(void **state) {
  (void)state;
  assert_true(convert(1, "mph", "m/s") == 0.44704);
  assert_true(convert(1, "yd", "m") == 0.9144);
  assert_true(convert(1, "in", "mm") == 25.4);
  assert_close(convert(3, "ft", "yd"), 1, 1e-15);
  assert_close(convert(36, "km/h", "m/s"), 10, 0);
  assert_close(convert(1, "rpm", "rad/s"), 0.104720, 5e-7);
  assert_close(convert(180, "deg", "rad"), 3.14159265358979, 1e-14);
  assert_true(convert(59, "F", "C") == 15);
  assert_close(convert(-40, "C", "F"), -40, 1e-12);
  assert_true(convert(15, "C", "K") == 288.15);
  assert_true(convert(50, "%", "ratio") == 0.5);
}

static void golf_unit_convert__every_pair_round_trips(void **state) {
  (void)state;
  for (int i = 0; i < GOLF_UNITS; i++)
    for (int j = 0; j < GOLF_UNITS; j++) {
      const struct golf_unit *from = golf_unit_at((enum golf_unit_index)i);
      const struct golf_unit *to = golf_unit_at((enum golf_unit_index)j);
      if (!golf_unit_convertible(from, to)) continue;
      for (double x = -250.7; x < 260; x += 13.3) {
        double back = golf_unit_convert(golf_unit_convert(x, from, to), to, from);
        assert_close(back, x, 1e-11 * (300 + fabs(x)));
      }
    }
}

static void golf_unit_convert__same_unit_keeps_every_bit(void **state) {
  (void)state;
  assert_true(convert(0.1, "km/h", "km/h") == 0.1);
  assert_true(convert(0.3, "F", "F") == 0.3);
}

static void golf_unit_convert__other_dimension_is_no_number(void **state) {
  (void)state;
  assert_true(isnan(convert(1, "m", "m/s")));
  assert_true(isnan(golf_unit_convert_error(1, unit("deg"), unit("m"))));
}

static void golf_unit_convert_error__ignores_the_zero_of_the_scale(void **state) {
  (void)state;
  assert_close(golf_unit_convert_error(9, unit("F"), unit("C")), 5, 1e-12);
}

static void golf_unit_find__knows_names_and_spellings_only(void **state) {
  (void)state;
  assert_ptr_equal(unit("yards"), unit("yd"));
  assert_ptr_equal(unit("degrees"), golf_unit_at(GOLF_UNIT_DEG));
  assert_ptr_equal(unit("none"), golf_unit_at(GOLF_UNIT_NONE));
  assert_null(golf_unit_find("furlong", 7));
  assert_null(golf_unit_find("", 0));
  assert_ptr_equal(golf_unit_find("mph and more", 3), unit("mph"));
}

static void golf_unit_base__is_found_for_every_dimension(void **state) {
  (void)state;
  for (int i = 0; i < GOLF_UNITS; i++) {
    const struct golf_unit *u = golf_unit_at((enum golf_unit_index)i);
    assert_non_null(u->name);
    assert_int_equal(golf_unit_base(u->dimension)->dimension, u->dimension);
  }
  assert_string_equal(golf_unit_base(GOLF_DIMENSION_LENGTH)->name, "m");
  assert_string_equal(golf_unit_base(GOLF_DIMENSION_TEMPERATURE)->name, "C");
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_unit_convert__definitions_hold),
      cmocka_unit_test(golf_unit_convert__every_pair_round_trips),
      cmocka_unit_test(golf_unit_convert__same_unit_keeps_every_bit),
      cmocka_unit_test(golf_unit_convert__other_dimension_is_no_number),
      cmocka_unit_test(golf_unit_convert_error__ignores_the_zero_of_the_scale),
      cmocka_unit_test(golf_unit_find__knows_names_and_spellings_only),
      cmocka_unit_test(golf_unit_base__is_found_for_every_dimension),
  };
  return cmocka_run_group_tests_name("golf units", cases, NULL, NULL);
}
