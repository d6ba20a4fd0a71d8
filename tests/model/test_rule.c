/* Rules as the model holds them. */
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

#define AROUND                                                                                     \
  YES_NO("q"), FINDING("f"), CAUSE("c"), DRILL("d1", "body", "c: 0.5"),                            \
      DRILL("d2", "body", "c: 0.5")

static double strength_of(const char *written) {
  struct trial trial;
  TRIAL(&trial, AROUND, "- rule: r\n  when: {q: yes}\n  then: {f: ", written,
        "}\n  because: x\n  kind: geometry\n");
  double strength = trial.model->rules[0].then[0].strength;
  trial_close(&trial);
  return strength;
}

static void rule__words_of_strength(void **state) {
  (void)state;
  assert_near(strength_of("hint"), 0.2, 0);
  assert_near(strength_of("suggests"), 0.4, 0);
  assert_near(strength_of("points"), 0.6, 0);
  assert_near(strength_of("strong"), 0.8, 0);
  assert_near(strength_of("near_certain"), 0.95, 0);
  assert_near(strength_of("-suggests"), -0.4, 0);
  assert_near(strength_of("0.33"), 0.33, 0);
  assert_near(strength_of("-0.95"), -0.95, 0);
}

static void assert_refused(const char *strength) {
  struct arena *arena = arena_new(NULL);
  const char *told = FAULTS(arena, AROUND, "- rule: r\n  when: {q: yes}\n  then: {f: ", strength,
                            "}\n  because: x\n  kind: geometry\n");
  if (strstr(told, "[bad-strength]") == NULL) fail_msg("%s tells:\n%s", strength, told);
  arena_free(arena);
}

static void rule__other_strengths_are_refused(void **state) {
  (void)state;
  assert_refused("0");
  assert_refused("-0");
  assert_refused("0.951");
  assert_refused("1e999");
  assert_refused("0.5x");
  assert_refused("--0.5");
  assert_refused("+strong");
  assert_refused("Strong");
}

static void rule__in_full(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, AROUND,
        "- rule: one-and-two\n  when: {q: yes}\n  then: {d1: hint, c: -0.5, f: 0.5}\n"
        "  removes: [d2, d1]\n  because: It does.\n  learner: It does, since {q}.\n"
        "  kind: cause_effect\n  group: q-reading\n  source: memory\n");
  const struct rule *rule = &trial.model->rules[trial_rule(&trial, "one-and-two")];
  assert_int_equal(rule->n_then, 3);
  for (size_t i = 1; i < 3; i++) assert_true(rule->then[i - 1].claim < rule->then[i].claim);
  assert_int_equal(rule->n_removes, 2);
  assert_true(rule->removes[0] == trial_claim(&trial, "d1"));
  assert_true(rule->removes[1] == trial_claim(&trial, "d2"));
  assert_int_equal(rule->learner.n, 3);
  assert_int_equal(rule->kind, RULE_CAUSE_EFFECT);
  assert_string_equal(rule->group, "q-reading");
  assert_int_equal(rule->source.kind, SOURCE_MEMORY);
  trial_close(&trial);
}

static void rule__may_only_remove(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, AROUND,
        "- rule: r\n  when: {q: yes}\n  removes: [d1]\n  because: x\n  kind: experience\n");
  assert_int_equal(trial.model->rules[0].n_then, 0);
  assert_int_equal(trial.model->rules[0].n_removes, 1);
  trial_close(&trial);
}

static void rule__must_have_an_effect(void **state) {
  static const char *const effects[] = {"", "  then: {}\n", "  removes: []\n",
                                        "  then: {}\n  removes: []\n"};
  (void)state;
  for (size_t i = 0; i < COUNT_OF(effects); i++) {
    struct arena *arena = arena_new(NULL);
    const char *told = FAULTS(arena, AROUND, "- rule: r\n  when: {q: yes}\n", effects[i],
                              "  because: x\n  kind: experience\n");
    assert_non_null(strstr(told, "[rule-without-effect]"));
    arena_free(arena);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(rule__words_of_strength),
      cmocka_unit_test(rule__other_strengths_are_refused),
      cmocka_unit_test(rule__in_full),
      cmocka_unit_test(rule__may_only_remove),
      cmocka_unit_test(rule__must_have_an_effect),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
