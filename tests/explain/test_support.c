#include "support/cases.h"

#include <math.h>

#include "explain/small.h"

static bool near(double a, double b) {
  return fabs(a - b) < 1e-6;
}

static void claim_supports__puts_counted_before_overshadowed(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct supports supports =
      claim_supports(small.arena, small.run, small_claim(&small, "cuts_across"));
  assert_int_equal(supports.n, 3);
  assert_int_equal(supports.n_counted, 2);
  assert_int_equal(supports.n_overshadowed, 1);
  assert_int_equal(supports.list[0].rule, small_rule(&small, "path-left-under-open-face"));
  assert_int_equal(supports.list[2].rule, small_rule(&small, "path-far-left"));
  assert_false(supports.list[2].counted);
  assert_int_equal(supports.list[2].overshadowed_by,
                   small_rule(&small, "path-left-under-open-face"));
  assert_true(near(supports.list[0].value, supports.list[0].premise * 0.8));
  small_end(&small);
}

static void claim_supports__puts_unknown_before_failed(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct supports supports = claim_supports(small.arena, small.run, small_claim(&small, "steep"));
  assert_int_equal(supports.n_counted, 1);
  assert_int_equal(supports.n_unknown, 1);
  assert_int_equal(supports.n_failed, 2);
  assert_int_equal(supports.list[1].rule, small_rule(&small, "soft-ball"));
  assert_int_equal(supports.list[1].state, RULE_UNKNOWN);
  /* Nearest first: a clause at 0 before one at -1. */
  assert_int_equal(supports.list[2].rule, small_rule(&small, "cut-with-aim"));
  small_end(&small);
}

static void rule_shortfalls__measures_the_miss(void **state) {
  static const char *const evidence[] = {"path=-2 +/- 0.5", "face=1", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  size_t rule = small_rule(&small, "path-left-under-open-face");
  struct shortfalls shortfalls = rule_shortfalls(small.arena, small.run, rule);
  assert_int_equal(shortfalls.n, 1);
  assert_true(shortfalls.list[0].measured);
  assert_true(near(shortfalls.list[0].units, 0.5));
  assert_true(near(shortfalls.list[0].errors, 1));
  small_end(&small);
}

static void rule_shortfalls__tells_what_holds_too_little(void **state) {
  static const char *const evidence[] = {"path=-4.1", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  struct shortfalls shortfalls =
      rule_shortfalls(small.arena, small.run, small_rule(&small, "path-far-left"));
  assert_int_equal(shortfalls.n, 1);
  assert_true(near(shortfalls.list[0].units, -0.1));
  assert_true(near(shortfalls.list[0].errors, -0.1));
  small_end(&small);
}

static void rule_shortfalls__is_empty_for_a_fired_rule(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  size_t rule = small_rule(&small, "path-left-under-open-face");
  assert_int_equal(rule_shortfalls(small.arena, small.run, rule).n, 0);
  small_end(&small);
}

static void rule_shortfalls__negates_below_none(void **state) {
  static const char *const evidence[] = {"path=-5", "face=1", "feet=points_right", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  size_t rule = small_rule(&small, "cut-means-steep");
  struct shortfalls shortfalls = rule_shortfalls(small.arena, small.run, rule);
  assert_int_equal(shortfalls.n, 1);
  assert_true(shortfalls.list[0].negated);
  assert_true(shortfalls.list[0].judged.belief > 0);
  small_end(&small);
}

static void rule_shortfalls__puts_the_unknown_last(void **state) {
  static const char *const evidence[] = {"pain=no", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  struct shortfalls shortfalls =
      rule_shortfalls(small.arena, small.run, small_rule(&small, "pain-is-told"));
  assert_int_equal(shortfalls.n, 2);
  assert_true(shortfalls.list[0].judged.known);
  assert_false(shortfalls.list[1].judged.known);
  small_end(&small);
}

/* 0.5 deg on the wrong side of face > path + 1, with an error of sqrt(2). */
static void rule_shortfalls__measures_a_formula(void **state) {
  static const char *const evidence[] = {"path=0", "face=0.5", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  struct shortfalls shortfalls =
      rule_shortfalls(small.arena, small.run, small_rule(&small, "face-right-of-path"));
  assert_int_equal(shortfalls.n, 1);
  assert_true(near(shortfalls.list[0].units, 0.5));
  assert_true(near(shortfalls.list[0].errors, 0.5 / sqrt(2)));
  small_end(&small);
}

static void drill_shortfalls__tells_what_a_drill_lacks(void **state) {
  static const char *const evidence[] = {"path=-5", "face=1", "feet=points_left",
                                         "ball_speed=20 m/s", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  size_t drill = small_claim(&small, "line_on_ground");
  assert_int_equal(drill_shortfalls(small.arena, small.run, drill).n, 1);
  assert_int_equal(drill_shortfalls(small.arena, small.run, small_claim(&small, "gate")).n, 0);
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(claim_supports__puts_counted_before_overshadowed),
      cmocka_unit_test(claim_supports__puts_unknown_before_failed),
      cmocka_unit_test(rule_shortfalls__measures_the_miss),
      cmocka_unit_test(rule_shortfalls__tells_what_holds_too_little),
      cmocka_unit_test(rule_shortfalls__is_empty_for_a_fired_rule),
      cmocka_unit_test(rule_shortfalls__negates_below_none),
      cmocka_unit_test(rule_shortfalls__puts_the_unknown_last),
      cmocka_unit_test(rule_shortfalls__measures_a_formula),
      cmocka_unit_test(drill_shortfalls__tells_what_a_drill_lacks),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
