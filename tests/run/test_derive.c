/* Readings: given, from the club, from formulas; their errors against arithmetic and against
 * sampling; numbers that contradict each other. */
#include <math.h>
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

/* A number in degrees that is only derived. */
#define DERIVED(name, formula)                                                                     \
  "- evidence: " name "\n  title: the " name "\n  about: x\n  kind: number\n  unit: deg\n"         \
  "  range: [-900, 900]\n  error: 1\n  spread: 2\n  formula: " formula "\n  source: practice\n"

static void assert_reading(const struct trial *trial, const char *name, double number,
                           double error) {
  const struct reading *reading = trial_reading(trial, name);
  if (reading->state == READING_UNKNOWN) fail_msg("%s is not known", name);
  assert_near(reading->number, number, 1e-8 * (1 + fabs(number)));
  assert_near(reading->error, error, 1e-6 * (1 + error));
}

static void assert_unknown(const struct trial *trial, const char *name) {
  assert_int_equal(trial_reading(trial, name)->state, READING_UNKNOWN);
}

/* ---- given ---- */

static void given__the_error_of_a_mean(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a")); /* error 1, spread 2 */
  struct value value = {.evidence = 0, .number = 5, .error = 1};
  static const struct {
    unsigned of_case, of_value;
    double error;
  } rows[] = {{1, 0, 1},
              {1, 1, 1},
              {1, 4, 1.4142135623730951},   /* sqrt(1 + 4/4) */
              {16, 0, 1.118033988749895},   /* sqrt(1 + 4/16) */
              {16, 4, 1.4142135623730951}}; /* the value's own count stands */
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    run_reset(trial.run);
    trial.run->shots = rows[i].of_case;
    value.shots = rows[i].of_value;
    assert_true(run_give(trial.run, &value));
    trial_chain(&trial);
    assert_int_equal(trial_reading(&trial, "a")->state, READING_GIVEN);
    assert_near(trial_reading(&trial, "a")->number, 5, 0);
    assert_near(trial_reading(&trial, "a")->error, rows[i].error, 1e-15);
  }
  trial_close(&trial);
}

static void given__a_left_handed_number_is_turned(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, MIRRORED("path") "  words: {left: -4, slice: 8}\n", NUMBER("height"),
        CHOICE("aim", "aim_left: a, aim_right: b"));
  TRY(&trial, "path=5", "height=3", "aim=aim_left");
  assert_reading(&trial, "path", 5, 1);
  trial.run->hand = HAND_LEFT;
  trial_chain(&trial);
  assert_reading(&trial, "path", -5, 1);
  assert_reading(&trial, "height", 3, 1);
  assert_int_equal(trial_reading(&trial, "aim")->choice, 1);
  TRY(&trial, "path=left");
  trial.run->hand = HAND_LEFT;
  trial_chain(&trial);
  assert_reading(&trial, "path", 4, 1); /* left is what a right-handed player calls right */
  TRY(&trial, "path=slice");
  trial.run->hand = HAND_LEFT;
  trial_chain(&trial);
  assert_reading(&trial, "path", 8, 1); /* a slice is a slice to both */
  trial_close(&trial);
}

/* ---- from the club ---- */

static void club__fills_what_is_not_given_in_the_unit_of_the_evidence(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, CLUB_EVIDENCE("club"), SEVEN_IRON, NUMBER("loft") "  from_club: loft\n",
        NUMBER("lie") "  from_club: lie\n",
        "- evidence: club_length\n  title: x\n  about: x\n  kind: number\n  unit: in\n"
        "  range: [20, 60]\n  error: 1\n  spread: 1\n  from_club: length\n",
        "- evidence: club_mass\n  title: x\n  about: x\n  kind: number\n  unit: kg\n"
        "  range: [0, 1]\n  error: 1\n  spread: 1\n  from_club: head_mass\n",
        CHOICE("family", "wood: a, iron: b") "  from_club: family\n",
        CHOICE("odd_family", "wood: a, putter: b") "  from_club: family\n",
        DERIVED("doubled", "2 * loft"));
  TRY(&trial, "club=iron7", "lie=60");
  assert_reading(&trial, "loft", 33, 0);
  assert_reading(&trial, "lie", 60, 1); /* given */
  assert_reading(&trial, "club_length", 37, 0);
  assert_reading(&trial, "club_mass", 0.268, 0);
  assert_int_equal(trial_reading(&trial, "loft")->state, READING_DERIVED);
  assert_null(trial_reading(&trial, "loft")->gradient); /* exact */
  assert_int_equal(trial_reading(&trial, "family")->choice, 1);
  assert_unknown(&trial, "odd_family");
  assert_reading(&trial, "doubled", 66, 0);
  TRY(&trial, "lie=60");
  assert_unknown(&trial, "loft");
  assert_unknown(&trial, "doubled");
  trial_close(&trial);
}

/* ---- from formulas ---- */

static void formula__the_first_whose_inputs_are_known(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a"), NUMBER("b"), NUMBER("c"),
        DERIVED("sum", "[a + b, 2 * c, sqrt(0 - a)]"));
  TRY(&trial, "a=1", "b=2", "c=30");
  assert_reading(&trial, "sum", 3, sqrt(2));
  assert_string_equal(trial_reading(&trial, "sum")->formula->text, "a + b");
  TRY(&trial, "a=1", "c=30");
  assert_reading(&trial, "sum", 60, 2);
  TRY(&trial, "a=-9");
  assert_near(trial_reading(&trial, "sum")->number, 3, 0);
  assert_near(trial_reading(&trial, "sum")->error, 1.0 / 6, 0.002);
  TRY(&trial, "a=9"); /* outside the domain: not known, not a number */
  assert_unknown(&trial, "sum");
  TRY(&trial, "b=9");
  assert_unknown(&trial, "sum");
  trial_close(&trial);
}

static void formula__inverses_fill_whichever_is_missing(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("path") "  formula: face - face_to_path\n",
        NUMBER("face") "  formula: path + face_to_path\n",
        NUMBER("face_to_path") "  formula: face - path\n");
  TRY(&trial, "path=-5", "face=1");
  assert_reading(&trial, "face_to_path", 6, sqrt(2));
  TRY(&trial, "path=-5", "face_to_path=6");
  assert_reading(&trial, "face", 1, sqrt(2));
  TRY(&trial, "face=1", "face_to_path=6");
  assert_reading(&trial, "path", -5, sqrt(2));
  assert_int_equal(trial_reading(&trial, "face")->state, READING_GIVEN);
  TRY(&trial, "face=1");
  assert_unknown(&trial, "path");
  assert_unknown(&trial, "face_to_path");
  trial_close(&trial);
}

/* A round reads only what earlier rounds knew, so that names do not decide which way a number is
 * found: `end` takes the short way although the long way's last step sorts before it. */
static void formula__rounds_do_not_depend_on_names(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("given"), DERIVED("a_step", "given + 1"), DERIVED("z_step", "a_step + 1"),
        DERIVED("m_end", "[z_step + 100, a_step + 10, given]"));
  TRY(&trial, "given=1");
  assert_reading(&trial, "a_step", 2, 1);
  assert_reading(&trial, "z_step", 3, 1);
  assert_reading(&trial, "m_end", 1, 1); /* known in the first round */
  trial_close(&trial);
}

static void formula__a_given_number_is_never_replaced(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a"), DERIVED("b", "a + 1"));
  TRY(&trial, "a=1", "b=2.5");
  assert_reading(&trial, "b", 2.5, 1);
  assert_int_equal(trial_reading(&trial, "b")->state, READING_GIVEN);
  trial_close(&trial);
}

/* ---- errors ---- */

static void error__of_a_formula_itself_is_added_once(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a"), DERIVED("b", "{is: 2 * a, error: 3}"), DERIVED("c", "b + a"),
        DERIVED("d", "c - b"), DERIVED("e", "b - b"));
  TRY(&trial, "a=1");
  assert_reading(&trial, "b", 2, sqrt(4 + 9));
  assert_reading(&trial, "c", 3, sqrt(9 + 9));
  assert_reading(&trial, "d", 1, 1);
  assert_reading(&trial, "e", 0, 0);
  TRY(&trial, "b=2");
  assert_reading(&trial, "b", 2, 1); /* given: the formula and its error play no part */
  trial_close(&trial);
}

static void error__shared_readings_are_counted_once(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a"), NUMBER("b"), DERIVED("sum", "a + b"), DERIVED("difference", "a - b"),
        DERIVED("twice_a", "sum + difference"), DERIVED("twice_b", "sum - difference"),
        DERIVED("nothing", "sum - a - b"));
  TRY(&trial, "a=10 +/- 3", "b=4 +/- 4");
  assert_reading(&trial, "sum", 14, 5);
  assert_reading(&trial, "difference", 6, 5);
  assert_reading(&trial, "twice_a", 20, 6);
  assert_reading(&trial, "twice_b", 8, 8);
  assert_reading(&trial, "nothing", 0, 0);
  trial_close(&trial);
}

/* At the edge of a function's domain the error is known from the side that is inside. */
static void error__at_the_edge_of_a_domain(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a"), DERIVED("edge", "a + sqrt(90 - a)"), DERIVED("low", "sqrt(a + 90)"),
        DERIVED("corner", "2 * a + 0 * sqrt(90 - a)"));
  TRY(&trial, "a=90 +/- 0");
  assert_reading(&trial, "edge", 90, 0);
  TRY(&trial, "a=90");
  assert_int_equal(trial_reading(&trial, "edge")->state, READING_DERIVED);
  assert_near(trial_reading(&trial, "corner")->error, 2, 1e-6);
  TRY(&trial, "a=-90");
  assert_near(trial_reading(&trial, "low")->number, 0, 0);
  assert_true(trial_reading(&trial, "low")->error > 0.5);
  trial_close(&trial);
}

/* Normal deviates by the polar method. */
static double deviate(uint64_t *state) {
  double x, y, r;
  do {
    x = 2 * random_uniform(state) - 1;
    y = 2 * random_uniform(state) - 1;
    r = x * x + y * y;
  } while (r >= 1 || r == 0);
  return x * sqrt(-2 * log(r) / r);
}

struct sampled {
  double sum, squares;
};

/* The spread of what is derived when the given numbers are drawn anew each time. */
static void sample(struct trial *trial, const struct value *given, size_t n_given,
                   const char *const *names, struct sampled *sampled, size_t n, size_t draws) {
  uint64_t state = 42;
  memset(sampled, 0, n * sizeof *sampled);
  for (size_t draw = 0; draw < draws; draw++) {
    run_reset(trial->run);
    for (size_t i = 0; i < n_given; i++) {
      struct value value = given[i];
      value.number += value.error * deviate(&state);
      assert_true(run_give(trial->run, &value));
    }
    assert_true(run_chain(trial->run, NULL));
    for (size_t i = 0; i < n; i++) {
      double number = trial_reading(trial, names[i])->number;
      sampled[i].sum += number;
      sampled[i].squares += number * number;
    }
  }
}

static void error__agrees_with_sampling_within_five_percent(void **state) {
  enum { DRAWS = 20000 };
  static const char *const names[] = {"product", "ratio", "sine",  "shared", "root",
                                      "chained", "start", "twist", "bowl"};
  struct sampled sampled[COUNT_OF(names)];
  struct value given[3];
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a"), NUMBER("b"), NUMBER("c"), DERIVED("product", "a * b"),
        DERIVED("ratio", "a / (b + 30)"), DERIVED("sine", "50 * sin(a + 2 * b)"),
        DERIVED("shared", "product - 9 * a"), DERIVED("root", "sqrt(abs(a) + 50)"),
        DERIVED("chained", "ratio * sine + shared / 10"),
        DERIVED("start", "start_direction(a - 8, b - 10, c)"),
        DERIVED("twist", "axis_tilt(a - 8, b - 10, c, 0)"),
        DERIVED("bowl", "(a - 10) * (a - 10)")); /* no slope at all: its bend is its error */
  TRY(&trial, "a=10 +/- 1", "b=8 +/- 0.8", "c=30 +/- 1.5");
  double errors[COUNT_OF(names)];
  for (size_t i = 0; i < COUNT_OF(names); i++) errors[i] = trial_reading(&trial, names[i])->error;
  static const char *const inputs[] = {"a", "b", "c"};
  for (size_t i = 0; i < 3; i++) given[i] = trial.run->values[trial_evidence(&trial, inputs[i])];
  sample(&trial, given, 3, names, sampled, COUNT_OF(names), DRAWS);
  for (size_t i = 0; i < COUNT_OF(names); i++) {
    double mean = sampled[i].sum / DRAWS;
    double deviation = sqrt((sampled[i].squares - DRAWS * mean * mean) / (DRAWS - 1));
    double off = errors[i] / deviation - 1;
    print_message("# %-8s error %.4g, sampled %.4g: %+.1f %%\n", names[i], errors[i], deviation,
                  100 * off);
    if (fabs(off) > 0.05) fail_msg("%s: %.4g against %.4g", names[i], errors[i], deviation);
  }
  trial_close(&trial);
}

/* ---- contradictions ---- */

#define TRIANGLE                                                                                   \
  MIRRORED("path")                                                                                 \
  "  formula: face - face_to_path\n", MIRRORED("face") "  formula: path + face_to_path\n",         \
      MIRRORED("face_to_path") "  formula: face - path\n"

static void contradiction__beyond_three_standard_errors(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, TRIANGLE);
  /* The error of the difference is sqrt(3): its three-fold is 5.196. */
  TRY(&trial, "path=-5", "face=1", "face_to_path=0.81");
  assert_int_equal(trial.run->n_contradictions, 0);
  TRY(&trial, "path=-5", "face=1", "face_to_path=0.80");
  assert_int_equal(trial.run->n_contradictions, 1);
  assert_int_equal(trial.knowledge.diags.warnings, 1);
  const struct contradiction *found = &trial.run->contradictions[0];
  assert_near(found->error, sqrt(3), 1e-6);
  assert_near(fabs(found->given - found->computed), 5.2, 1e-12);
  /* The given values stand. */
  assert_reading(&trial, "path", -5, 1);
  trial_close(&trial);
}

static void contradiction__is_told_once_and_in_the_players_hand(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, TRIANGLE);
  TRY(&trial, "path=-9", "face=1", "face_to_path=2");
  assert_int_equal(trial.run->n_contradictions, 1);
  run_reset(trial.run);
  trial.run->hand = HAND_LEFT;
  trial_give(&trial, "path", "9");
  trial_give(&trial, "face", "-1");
  trial_give(&trial, "face_to_path", "-2");
  trial_chain(&trial);
  assert_int_equal(trial.run->n_contradictions, 1);
  assert_non_null(strstr(trial.run->contradictions[0].told, "path 9"));
  assert_non_null(strstr(trial.run->contradictions[0].told, "deg right"));
  trial_close(&trial);
}

/* face - path may lie within -9..9; with an error of sqrt(2), 13.2 is just within, 13.3 beyond. */
static void contradiction__what_follows_must_be_plausible(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, MIRRORED("path"), MIRRORED("face"),
        "- evidence: face_to_path\n  title: face to path\n  about: x\n  kind: number\n  unit: deg\n"
        "  range: [-9, 9]\n  error: 1\n  spread: 1\n  decimals: 1\n  sides: [left, right]\n"
        "  formula: face - path\n");
  TRY(&trial, "path=-8", "face=5.2");
  assert_int_equal(trial.run->n_contradictions, 0);
  TRY(&trial, "path=-8", "face=5.3");
  assert_int_equal(trial.run->n_contradictions, 1);
  assert_true(trial.run->contradictions[0].beyond_range);
  assert_near(trial.run->contradictions[0].given, 9, 0);
  assert_string_equal(trial.run->contradictions[0].told,
                      "face 5.3 and path -8 cannot both be correct: together they make face to "
                      "path 13.3 deg right +/- 1.4, and no more than 9.0 deg is plausible");
  run_reset(trial.run);
  trial.run->hand = HAND_LEFT;
  trial_give(&trial, "path", "8");
  trial_give(&trial, "face", "-5.3");
  trial_chain(&trial);
  assert_string_equal(trial.run->contradictions[0].told,
                      "face -5.3 and path 8 cannot both be correct: together they make face to "
                      "path 13.3 deg left +/- 1.4, and no less than -9.0 deg is plausible");
  trial_close(&trial);
}

static void contradiction__own_errors_and_means_make_it_harder_or_easier(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a"), NUMBER("b") "  formula: {is: a, error: 3}\n");
  TRY(&trial, "a=0", "b=9.9"); /* error sqrt(1 + 1 + 9) = 3.317 */
  assert_int_equal(trial.run->n_contradictions, 0);
  TRY(&trial, "a=0", "b=10");
  assert_int_equal(trial.run->n_contradictions, 1);
  TRY(&trial, "a=0 +/- 0", "b=9.5 +/- 0.1");
  assert_int_equal(trial.run->n_contradictions, 1);
  trial_close(&trial);
}

static void contradiction__exact_numbers_may_differ_by_rounding_only(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a"), NUMBER("b") "  formula: a * 3\n");
  TRY(&trial, "a=0.1 +/- 0", "b=0.3 +/- 0");
  assert_int_equal(trial.run->n_contradictions, 0);
  TRY(&trial, "a=0.1 +/- 0", "b=0.301 +/- 0");
  assert_int_equal(trial.run->n_contradictions, 1);
  trial_close(&trial);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(given__the_error_of_a_mean),
      cmocka_unit_test(given__a_left_handed_number_is_turned),
      cmocka_unit_test(club__fills_what_is_not_given_in_the_unit_of_the_evidence),
      cmocka_unit_test(formula__the_first_whose_inputs_are_known),
      cmocka_unit_test(formula__inverses_fill_whichever_is_missing),
      cmocka_unit_test(formula__rounds_do_not_depend_on_names),
      cmocka_unit_test(formula__a_given_number_is_never_replaced),
      cmocka_unit_test(error__of_a_formula_itself_is_added_once),
      cmocka_unit_test(error__shared_readings_are_counted_once),
      cmocka_unit_test(error__at_the_edge_of_a_domain),
      cmocka_unit_test(error__agrees_with_sampling_within_five_percent),
      cmocka_unit_test(contradiction__beyond_three_standard_errors),
      cmocka_unit_test(contradiction__what_follows_must_be_plausible),
      cmocka_unit_test(contradiction__is_told_once_and_in_the_players_hand),
      cmocka_unit_test(contradiction__own_errors_and_means_make_it_harder_or_easier),
      cmocka_unit_test(contradiction__exact_numbers_may_differ_by_rounding_only),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
