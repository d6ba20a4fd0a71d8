/* The readings a rule rests on. */
#include "support/cases.h"
#include "support/trial.h"

static void network_roots__follow_formulas_that_invert_each_other(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a") "  formula: c - b\n", NUMBER("b") "  formula: c - a\n",
        NUMBER("c") "  formula: a + b\n", NUMBER("other"), FINDING("f"),
        RULE("r", "{a: {above: 2}}", "f: 0.5"));
  const bool *roots = network_roots(trial.knowledge.arena, trial.network);
  assert_true(roots[trial_evidence(&trial, "a")]);
  assert_true(roots[trial_evidence(&trial, "b")]);
  assert_true(roots[trial_evidence(&trial, "c")]);
  assert_false(roots[trial_evidence(&trial, "other")]);
  trial_close(&trial);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(network_roots__follow_formulas_that_invert_each_other),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
