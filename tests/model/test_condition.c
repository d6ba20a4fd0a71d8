/* Conditions as the model holds them: intervals, choices, order and the canonical print. */
#include <math.h>
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

#define VOCABULARY                                                                                 \
  NUMBER("path")                                                                                   \
  "  also: [club_path]\n", NUMBER("face"), YES_NO("pain"), WORDS("words"),                         \
      CHOICE("lie", "fairway: a, rough: b, sand: c"), CLUB_EVIDENCE("club"), SEVEN_IRON,           \
      FINDING("cut"), CAUSE("steep"), FINDING("out")

/* The premise of a rule written `when: <condition>`. */
static const struct condition *open_when(struct trial *trial, const char *when) {
  const char *rule[] = {"- rule: r\n  when: ", when,
                        "\n  then: {out: 0.5}\n  because: x\n  kind: convention\n"};
  TRIAL(trial, VOCABULARY, rule[0], rule[1], rule[2]);
  return trial->model->rules[0].when;
}

static void assert_prints(const char *when, const char *printed) {
  struct trial trial;
  assert_string_equal(open_when(&trial, when)->printed, printed);
  trial_close(&trial);
}

static void condition__intervals(void **state) {
  static const struct {
    const char *when;
    enum condition_kind kind;
    double low, high;
  } rows[] = {
      {"{path: {above: 2}}", CONDITION_ABOVE, 2, INFINITY},
      {"{path: {below: -2 deg}}", CONDITION_BELOW, -INFINITY, -2},
      {"{path: {between: [-2, 3]}}", CONDITION_BETWEEN, -2, 3},
      {"{path: {outside: [-2, 3]}}", CONDITION_OUTSIDE, -2, 3},
      {"{path: {near: 1, within: 1.5}}", CONDITION_NEAR, -0.5, 2.5},
      {"{path: {within: 1.5, near: 1}}", CONDITION_NEAR, -0.5, 2.5},
      {"{club_path: {above: 0}}", CONDITION_ABOVE, 0, INFINITY},
  };
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct trial trial;
    const struct condition *condition = open_when(&trial, rows[i].when);
    assert_int_equal(condition->kind, rows[i].kind);
    assert_int_equal(condition->evidence, trial_evidence(&trial, "path"));
    assert_true(condition->claim == NO_INDEX);
    assert_true(condition->low == rows[i].low);
    assert_true(condition->high == rows[i].high);
    trial_close(&trial);
  }
}

static void condition__choices_are_sorted_and_short_forms_are_the_long_ones(void **state) {
  struct trial trial;
  (void)state;
  const struct condition *one_of = open_when(&trial, "{lie: {one_of: [sand, fairway]}}");
  assert_int_equal(one_of->n_choices, 2);
  assert_int_equal(one_of->choices[0], 0);
  assert_int_equal(one_of->choices[1], 2);
  trial_close(&trial);
  assert_prints("{lie: {is: rough}}", "lie is rough");
  assert_prints("{lie: rough}", "lie is rough");
  assert_prints("{pain: yes}", "pain is yes");
  assert_prints("{pain: {is: no}}", "pain is no");
  assert_prints("{club: iron7}", "club is 7i");
  assert_prints("{cut: believed}", "cut believed above 0.2");
  assert_prints("{cut: {believed: yes}}", "cut believed above 0.2");
  assert_prints("{steep: {believed: 0.4}}", "steep believed above 0.4");
}

static void condition__prints_in_the_unit_of_the_evidence(void **state) {
  (void)state;
  assert_prints("{path: {above: 0.1 rad}}", "path above 5.729577951308232 deg");
  assert_prints("{path: {near: 0, within: 1.5}}", "path between -1.5 and 1.5 deg");
  assert_prints("{path: {outside: [-1, 1]}}", "path outside -1 and 1 deg");
  assert_prints("{words: {matches: \"slic(e|ing)\"}}", "words matches /slic(e|ing)/");
  assert_prints("{path: {known: no}}", "path not known");
  assert_prints("{words: {known: yes}}", "words known");
  assert_prints("{formula: face > path}", "(face - path) > 0");
}

static void condition__joins_are_in_the_order_of_their_prints(void **state) {
  static const char printed[] =
      "all(any(cut believed above 0.2; pain is yes); lie is rough; path above 2 deg)";
  (void)state;
  assert_prints("{all: [{path: {above: 2}}, {any: [{pain: yes}, {cut: believed}]}, {lie: rough}]}",
                printed);
  assert_prints("{all: [{lie: rough}, {path: {above: 2}}, {any: [{cut: believed}, {pain: yes}]}]}",
                printed);
  assert_prints("{none: [{pain: yes}]}", "none(pain is yes)");
}

/* n joins within each other around one condition. */
static const char *nested(struct arena *arena, int n) {
  struct text text;
  text_init(&text, arena);
  for (int i = 0; i < n; i++) text_add(&text, "{all: [");
  text_add(&text, "{pain: yes}");
  for (int i = 0; i < n; i++) text_add(&text, "]}");
  return text_done(&text);
}

static void condition__joins_nest_eight_deep_and_no_deeper(void **state) {
  struct trial trial;
  struct arena *arena = arena_new(NULL);
  (void)state;
  const struct condition *condition = open_when(&trial, nested(arena, 8));
  for (int i = 0; i < 8; i++) condition = condition->clauses;
  assert_int_equal(condition->kind, CONDITION_IS);
  trial_close(&trial);
  const char *told = FAULTS(arena, VOCABULARY, "- rule: r\n  when: ", nested(arena, 9),
                            "\n  then: {out: 0.5}\n  because: x\n  kind: convention\n");
  assert_non_null(strstr(told, "[condition-depth]"));
  arena_free(arena);
}

static void condition__an_empty_one_is_told(void **state) {
  static const char *const empty[] = {"{}",        "{cut: {}}", "{path: {}}",
                                      "{lie: {}}", "{all: []}", "{all: [{}]}"};
  (void)state;
  for (size_t i = 0; i < COUNT_OF(empty); i++) {
    struct arena *arena = arena_new(NULL);
    const char *told = FAULTS(arena, VOCABULARY, "- rule: r\n  when: ", empty[i],
                              "\n  then: {out: 0.5}\n  because: x\n  kind: convention\n");
    assert_non_null(strstr(told, ": error: "));
    arena_free(arena);
  }
}

/* All faults of a premise are told in one pass. */
static void condition__every_faulty_clause_is_told(void **state) {
  struct arena *arena = arena_new(NULL);
  size_t n = 0;
  (void)state;
  const char *told =
      FAULTS(arena, VOCABULARY,
             "- rule: r\n  when:\n    all:\n      - path: {above: x}\n      - lie: grass\n"
             "      - words: {matches: \"(\"}\n      - none: [{pian: yes}, {cut: {believed: 2}}]\n"
             "      - formula: path\n  then: {out: 0.5}\n  because: x\n  kind: convention\n");
  for (const char *at = told; (at = strstr(at, ": error: ")) != NULL; at++) n++;
  assert_int_equal(n, 6);
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(condition__intervals),
      cmocka_unit_test(condition__choices_are_sorted_and_short_forms_are_the_long_ones),
      cmocka_unit_test(condition__prints_in_the_unit_of_the_evidence),
      cmocka_unit_test(condition__joins_are_in_the_order_of_their_prints),
      cmocka_unit_test(condition__joins_nest_eight_deep_and_no_deeper),
      cmocka_unit_test(condition__an_empty_one_is_told),
      cmocka_unit_test(condition__every_faulty_clause_is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
