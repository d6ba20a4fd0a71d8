/* Worked cases as the model holds them. */
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

#define AROUND                                                                                     \
  MIRRORED("path")                                                                                 \
  "  also: [club_path]\n  words: {left: -4 +/- 2}\n", NUMBER("face"),                              \
      CHOICE("lie", "flat: a, steep: b"), FINDING("cut"), CAUSE("c"),                              \
      DRILL("gate", "body", "c: 0.5")

static const struct value *value_of(const struct trial *trial, const char *evidence) {
  const struct worked_case *worked = &trial->model->cases[0];
  for (size_t i = 0; i < worked->n_values; i++)
    if (worked->values[i].evidence == trial_evidence(trial, evidence)) return &worked->values[i];
  fail_msg("%s was not given", evidence);
  return NULL;
}

static void worked_case__in_full(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, AROUND,
        "- case: toe-cut\n  handed: left\n  shots: 10\n  evidence:\n    path: 5 +/- 2\n"
        "    lie: {value: steep, sure: 0.5}\n    face: {value: -1, shots: 1}\n"
        "  expect: {leading: c, drill: gate, believed: [cut], not_believed: [c]}\n"
        "  because: so\n");
  const struct worked_case *worked = &trial.model->cases[0];
  assert_string_equal(worked->name, "toe-cut");
  assert_int_equal(worked->hand, HAND_LEFT);
  assert_int_equal(worked->n_values, 3);
  for (size_t i = 1; i < worked->n_values; i++)
    assert_true(worked->values[i - 1].evidence < worked->values[i].evidence);
  assert_near(value_of(&trial, "path")->number, 5, 0); /* as the player sees it */
  assert_int_equal(value_of(&trial, "path")->shots, 10);
  assert_int_equal(value_of(&trial, "face")->shots, 1); /* what a value says itself stands */
  assert_near(value_of(&trial, "lie")->sure, 0.5, 0);
  assert_true(worked->expects_leading && worked->expects_drill);
  assert_true(worked->leading == trial_claim(&trial, "c"));
  assert_true(worked->drill == trial_claim(&trial, "gate"));
  assert_true(worked->believed[0] == trial_claim(&trial, "cut"));
  assert_true(worked->not_believed[0] == trial_claim(&trial, "c"));
  trial_close(&trial);
}

static void worked_case__defaults(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, AROUND, "- case: bare\n  evidence: {path: left}\n",
        "- case: none-expected\n  evidence: {}\n  expect: {leading: none, drill: none}\n");
  const struct worked_case *bare = &trial.model->cases[0], *none = &trial.model->cases[1];
  assert_int_equal(bare->hand, HAND_RIGHT);
  assert_int_equal(bare->values[0].shots, 1);
  assert_false(bare->expects_leading || bare->expects_drill);
  assert_int_equal(none->n_values, 0);
  assert_true(none->expects_leading && none->expects_drill);
  assert_true(none->leading == NO_INDEX && none->drill == NO_INDEX);
  trial_close(&trial);
}

static void assert_fault(const char *keys, const char *code) {
  struct arena *arena = arena_new(NULL);
  const char *told = FAULTS(arena, AROUND, "- case: x\n", keys);
  const char *first = strstr(told, "error: ");
  if (strstr(told, code) == NULL || strstr(first + 1, "error: ") != NULL)
    fail_msg("'%s' tells:\n%s", keys, told);
  arena_free(arena);
}

static void worked_case__faults(void **state) {
  (void)state;
  assert_fault("  shots: 3\n", "[missing-key]");
  assert_fault("  evidence: [path]\n", "[wrong-shape]");
  assert_fault("  evidence: {pth: 1}\n", "[unknown-name]");
  assert_fault("  evidence: {path: 1, club_path: 1}\n", "[twice-given]");
  assert_fault("  evidence: {path: 91}\n", "[out-of-range]");
  assert_fault("  evidence: {}\n  shots: 0\n", "[bad-shots]");
  assert_fault("  evidence: {}\n  shots: 1e300\n", "[bad-shots]");
  assert_fault("  evidence: {}\n  shots: 1e300x\n", "[bad-number]");
  assert_fault("  evidence: {}\n  handed: both\n", "[unknown-word]");
  assert_fault("  evidence: {}\n  expect: c\n", "[wrong-shape]");
  assert_fault("  evidence: {}\n  expect: {leading: cut}\n", "[case-expects]");
  assert_fault("  evidence: {}\n  expect: {leading: [c]}\n", "[wrong-shape]");
  assert_fault("  evidence: {}\n  expect: {drill: c}\n", "[case-expects]");
  assert_fault("  evidence: {}\n  expect: {drill: gat}\n", "[unknown-name]");
  assert_fault("  evidence: {}\n  expect: {believed: [gate]}\n", "[case-expects]");
  assert_fault("  evidence: {}\n  expect: {believed: cut}\n", "[wrong-shape]");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(worked_case__in_full),
      cmocka_unit_test(worked_case__defaults),
      cmocka_unit_test(worked_case__faults),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
