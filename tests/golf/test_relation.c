#include "support/cases.h"

#include <math.h>
#include <string.h>

#include "golf/close.h"
#include "golf/range.h"
#include "golf/relation.h"

/* A plausible set of values for each relation; member 0 is filled by the relation. */
static const double typical[GOLF_RELATIONS][GOLF_RELATION_VALUES] = {
    [GOLF_RELATION_FACE_TO_PATH] = {0, 2, -4},    [GOLF_RELATION_START] = {0, 2, -4, 10.5},
    [GOLF_RELATION_ARC] = {0, -6, -4, 55},        [GOLF_RELATION_TILT] = {0, 2, -4, 24, -3},
    [GOLF_RELATION_LOW_POINT] = {0, -4, 1.6, 55}, [GOLF_RELATION_SPEED] = {0, 60, 42}};

static void golf_relation_solve__any_two_give_the_third(void **state) {
  (void)state;
  for (int r = 0; r < GOLF_RELATIONS; r++) {
    const struct golf_relation *relation = golf_relation_at((enum golf_relation_index)r);
    double x[GOLF_RELATION_VALUES];
    memcpy(x, typical[r], sizeof x);
    x[0] = golf_relation_solve(relation, 0, x);
    assert_false(isnan(x[0]));
    for (int member = 0; member < GOLF_MEMBERS; member++) {
      double without[GOLF_RELATION_VALUES];
      memcpy(without, x, sizeof x);
      without[member] = NAN;
      assert_close(golf_relation_solve(relation, member, without), x[member], 1e-9);
    }
    assert_true(isnan(golf_relation_solve(relation, 3, x)));
  }
}

static void golf_relation_at__values_are_known_quantities(void **state) {
  (void)state;
  for (int r = 0; r < GOLF_RELATIONS; r++) {
    const struct golf_relation *relation = golf_relation_at((enum golf_relation_index)r);
    for (int i = 0; i < GOLF_RELATION_VALUES && relation->values[i]; i++)
      assert_non_null(golf_range_find(relation->values[i], strlen(relation->values[i])));
    assert_non_null(relation->source);
  }
}

/* Source: issue's example, shares wood-2018 (2nd): face 2, path -4 and a start of -6 can't all be
 * right. */
static void golf_relation_misfit__contradiction_is_reported(void **state) {
  (void)state;
  const struct golf_relation *start = golf_relation_at(GOLF_RELATION_START);
  struct golf_reading readings[5] = {{-6, 1}, {2, 1}, {-4, 1}, {10.5, 0}, {0, 0}};
  struct golf_misfit misfit;
  assert_int_equal(golf_relation_misfit(start, readings, &misfit), 0);
  assert_close(misfit.expected, 0.56, 1e-9);
  assert_close(misfit.difference, -6.56, 1e-9);
  assert_close(misfit.error, sqrt(1 + 0.76 * 0.76 + 0.24 * 0.24 + 0.48 * 0.48), 1e-6);
  assert_true(misfit.contradictory);
  readings[0].value = -0.5;
  golf_relation_misfit(start, readings, &misfit);
  assert_false(misfit.contradictory);
  readings[0] = (struct golf_reading){-6, 6};
  golf_relation_misfit(start, readings, &misfit);
  assert_false(misfit.contradictory);
}

static void golf_relation_misfit__exact_values_contradict_by_any_difference(void **state) {
  (void)state;
  const struct golf_relation *relation = golf_relation_at(GOLF_RELATION_FACE_TO_PATH);
  struct golf_reading readings[5] = {{6, 0}, {2, 0}, {-4, 0}, {0, 0}, {0, 0}};
  struct golf_misfit misfit;
  assert_int_equal(golf_relation_misfit(relation, readings, &misfit), 0);
  assert_close(misfit.standard_errors, 0, 0);
  readings[0].value = 5;
  assert_int_equal(golf_relation_misfit(relation, readings, &misfit), 0);
  assert_true(misfit.contradictory);
}

static void golf_relation_misfit__impossible_readings_have_no_answer(void **state) {
  (void)state;
  struct golf_misfit misfit;
  struct golf_reading readings[5] = {{0, 1}, {0, 1}, {-60, 1}, {30, 1}, {0, 0}};
  assert_int_equal(golf_relation_misfit(golf_relation_at(GOLF_RELATION_ARC), readings, &misfit),
                   -1);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_relation_solve__any_two_give_the_third),
      cmocka_unit_test(golf_relation_at__values_are_known_quantities),
      cmocka_unit_test(golf_relation_misfit__contradiction_is_reported),
      cmocka_unit_test(golf_relation_misfit__exact_values_contradict_by_any_difference),
      cmocka_unit_test(golf_relation_misfit__impossible_readings_have_no_answer),
  };
  return cmocka_run_group_tests_name("golf relation", cases, NULL, NULL);
}
