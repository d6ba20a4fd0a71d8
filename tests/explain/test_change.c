#include "support/cases.h"

#include "explain/small.h"

static struct value read_value(struct small *small, const char *name, const char *text) {
  struct value value;
  struct span nowhere = {0};
  assert_true(value_read(small->arena, &small->knowledge.diags, small->model,
                         model_find_evidence(small->model, name), text, nowhere, &value));
  return value;
}

static void change_run__replaces_and_takes_back(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_LEFT, small_cut);
  struct run *after = run_new(NULL, small.knowledge.network);
  struct value value = read_value(&small, "path", "4");
  size_t face = model_find_evidence(small.model, "face");
  size_t path = model_find_evidence(small.model, "path");
  size_t feet = model_find_evidence(small.model, "feet");
  assert_true(change_run(after, small.run, &value, 1, &face, 1, NULL));
  assert_int_equal(after->hand, HAND_LEFT);
  assert_true(after->readings[path].number == -4); /* mirrored */
  assert_int_equal(after->readings[face].state, READING_UNKNOWN);
  assert_int_equal(after->readings[feet].state, READING_GIVEN);
  run_free(after);
  small_end(&small);
}

static void change_between__lists_what_differs(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct run *after = run_new(NULL, small.knowledge.network);
  struct value value = read_value(&small, "path", "1");
  assert_true(change_run(after, small.run, &value, 1, NULL, 0, NULL));
  struct change change = change_between(small.arena, small.run, after);
  assert_int_equal(change.n_readings, 2);
  assert_string_equal(small.model->evidence[change.readings[0]].name, "face_to_path");
  assert_string_equal(small.model->evidence[change.readings[1]].name, "path");
  assert_int_equal(change.n_claims, 2);
  assert_string_equal(small.model->claims[change.claims[0]].name, "cuts_across");
  assert_string_equal(small.model->claims[change.claims[1]].name, "steep");
  assert_int_equal(change.leading_before, small_claim(&small, "steep"));
  assert_int_equal(change.leading_after, NO_INDEX);
  assert_int_equal(change.drill_before, small_claim(&small, "gate"));
  assert_int_equal(change.drill_after, NO_INDEX);
  assert_true(change.n_rules > 0);
  run_free(after);
  small_end(&small);
}

static void change_between__is_empty_for_the_same_evidence(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct run *after = run_new(NULL, small.knowledge.network);
  assert_true(change_run(after, small.run, NULL, 0, NULL, 0, NULL));
  struct change change = change_between(small.arena, small.run, after);
  assert_int_equal(change.n_readings + change.n_claims + change.n_rules, 0);
  assert_int_equal(change.leading_before, change.leading_after);
  run_free(after);
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(change_run__replaces_and_takes_back),
      cmocka_unit_test(change_between__lists_what_differs),
      cmocka_unit_test(change_between__is_empty_for_the_same_evidence),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
