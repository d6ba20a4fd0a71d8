#include "support/cases.h"

#include <math.h>

#include "explain/small.h"

/* cut-with-aim speaks for poor aim and against a steep shaft: it tells them apart most. */
static void contrast_of__orders_by_how_much_a_rule_tells(void **state) {
  static const char *const evidence[] = {"path=-5", "face=1", "feet=points_left",
                                         "ball_speed=20 m/s", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  size_t steep = small_claim(&small, "steep"), aim = small_claim(&small, "poor_aim");
  struct contrast contrast = contrast_of(small.arena, small.run, steep, aim);
  assert_int_equal(contrast.n_differences, 2);
  assert_int_equal(contrast.differences[0].rule, small_rule(&small, "cut-with-aim"));
  assert_true(contrast.differences[0].for_a < 0 && contrast.differences[0].for_b > 0);
  assert_int_equal(contrast.differences[1].rule, small_rule(&small, "soft-ball"));
  assert_true(contrast.differences[1].for_a > 0);
  assert_true(contrast.differences[1].for_b == 0);
  small_end(&small);
}

static void contrast_of__names_the_check_that_tells_most(void **state) {
  static const char *const evidence[] = {"path=-5", "face=1", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  size_t steep = small_claim(&small, "steep"), aim = small_claim(&small, "poor_aim");
  struct contrast contrast = contrast_of(small.arena, small.run, steep, aim);
  assert_int_equal(contrast.n_checks, 2);
  assert_string_equal(small.model->evidence[contrast.checks[0].evidence].name, "feet");
  /* cut-means-steep: 0.8; cut-with-aim: 0.8 + 0.4, through the finding that the feet decide */
  assert_true(fabs(contrast.checks[0].apart - 2.0) < 1e-12);
  assert_int_equal(contrast.checks[0].n_rules, 2);
  assert_string_equal(small.model->evidence[contrast.checks[1].evidence].name, "ball_speed");
  small_end(&small);
}

static void contrast_of__has_no_check_once_all_is_judged(void **state) {
  static const char *const evidence[] = {"path=-5", "face=1", "feet=square", "ball_speed=50 m/s",
                                         NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  size_t steep = small_claim(&small, "steep"), aim = small_claim(&small, "poor_aim");
  assert_int_equal(contrast_of(small.arena, small.run, steep, aim).n_checks, 0);
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(contrast_of__orders_by_how_much_a_rule_tells),
      cmocka_unit_test(contrast_of__names_the_check_that_tells_most),
      cmocka_unit_test(contrast_of__has_no_check_once_all_is_judged),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
