#include "support/cases.h"

#include <math.h>
#include <string.h>

#include "golf/range.h"
#include "golf/units.h"

static void golf_range_of__every_row_is_complete(void **state) {
  (void)state;
  for (int i = 0; i < GOLF_QUANTITIES; i++) {
    const struct golf_range *range = golf_range_of((enum golf_quantity)i);
    assert_non_null(range->name);
    assert_non_null(golf_unit_find(range->unit, strlen(range->unit)));
    assert_true(range->low < range->high);
    assert_ptr_equal(golf_range_find(range->name, strlen(range->name)), range);
  }
  assert_null(golf_range_find("fa", 2));
}

static void golf_check__names_the_first_misfit_and_its_range(void **state) {
  (void)state;
  const enum golf_quantity quantities[] = {GOLF_FACE, GOLF_BALL_SPEED, GOLF_DELIVERED_LOFT};
  double fast[] = {2, 900 * 0.44704, 20}, odd[] = {2, 60, -1}, none[] = {NAN, 60, 20},
         fine[] = {2, 60, 20};
  size_t index = 99;
  assert_string_equal(golf_check(quantities, fast, 3, &index)->name, "ball_speed");
  assert_int_equal(index, 1);
  assert_string_equal(golf_check(quantities, odd, 3, &index)->name, "delivered_loft");
  assert_int_equal(index, 2);
  assert_string_equal(golf_check(quantities, none, 3, NULL)->name, "face");
  assert_null(golf_check(quantities, fine, 3, &index));
}

static void golf_range_holds__ends_belong_and_infinity_does_not(void **state) {
  (void)state;
  const struct golf_range *range = golf_range_of(GOLF_ATTACK);
  assert_true(golf_range_holds(range, range->low));
  assert_true(golf_range_holds(range, range->high));
  assert_false(golf_range_holds(range, nextafter(range->high, 1e9)));
  assert_false(golf_range_holds(range, INFINITY));
  assert_false(golf_range_holds(range, NAN));
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_range_of__every_row_is_complete),
      cmocka_unit_test(golf_check__names_the_first_misfit_and_its_range),
      cmocka_unit_test(golf_range_holds__ends_belong_and_infinity_does_not),
  };
  return cmocka_run_group_tests_name("golf range", cases, NULL, NULL);
}
