#include "support/cases.h"

#include <math.h>

#include "explain/small.h"
#include "render/wording_parts.h"

static const char *const nothing[] = {NULL};

static struct text new_text(const struct small *small) {
  struct text text;
  text_init(&text, small->arena);
  return text;
}

static const char *wrapped(const struct small *small, const char *words, size_t first,
                           size_t indent, size_t width) {
  struct text text = new_text(small);
  wording_wrap(&text, words, first, indent, width);
  return text_done(&text);
}

static const char *escaped(const struct small *small, const char *bytes, size_t n) {
  struct text text = new_text(small);
  wording_escape(&text, bytes, n);
  return text_done(&text);
}

static const char *reading(const struct small *small, const char *name) {
  struct text text = new_text(small);
  wording_reading(&text, small->run, model_find_evidence(small->model, name));
  return text_done(&text);
}

static const char *condition(const struct small *small, const char *rule, enum hand hand) {
  struct text text = new_text(small);
  wording_condition(&text, small->model, small->model->rules[small_rule(small, rule)].when, hand);
  return text_done(&text);
}

static void wording_add__mirrors_sides_and_puts_values_in(void **state) {
  struct small small;
  (void)state;
  for (int hand = HAND_RIGHT; hand <= HAND_LEFT; hand++) {
    static const char *const lefty[] = {"path=5", "face=-1", NULL};
    small_start(&small, (enum hand)hand, hand == HAND_LEFT ? lefty : small_cut);
    struct text text = new_text(&small);
    size_t rule = small_rule(&small, "path-left-under-open-face");
    wording_add(&text, small.run, &small.model->rules[rule].because);
    assert_string_equal(
        text_done(&text),
        hand == HAND_LEFT
            ? "The club travels 5.0 deg right while the face looks to the left of it."
            : "The club travels 5.0 deg left while the face looks to the right of it.");
    small_end(&small);
  }
}

static void wording_add_plain__shows_titles_for_values(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  struct text text = new_text(&small);
  size_t rule = small_rule(&small, "feet-point-aside");
  wording_add_plain(&text, small.model, &small.model->rules[rule].because, HAND_RIGHT);
  assert_string_equal(text_done(&text), "The feet point line of the feet.");
  small_end(&small);
}

static void wording_reading__tells_side_unit_and_error(void **state) {
  static const char *const evidence[] = {"club=7i",
                                         "path=left",
                                         "face=0.04",
                                         "feet=points_left",
                                         "ball_speed=88 mph +/- 1 mph",
                                         "pain=no",
                                         "said=it \x1b[31mhurts",
                                         NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  assert_string_equal(reading(&small, "club"), "7 iron");
  assert_string_equal(reading(&small, "path"), "left, about 4.0 deg +/- 2.0");
  assert_string_equal(reading(&small, "face"), "0.0 deg +/- 1.0");
  assert_string_equal(reading(&small, "feet"), "to the left");
  assert_string_equal(reading(&small, "ball_speed"), "88.0 mph +/- 1.0");
  assert_string_equal(reading(&small, "pain"), "no");
  assert_string_equal(reading(&small, "said"), "\"it \\x1b[31mhurts\"");
  assert_string_equal(reading(&small, "loft"), "33.0 deg");
  small_end(&small);
  small_start(&small, HAND_RIGHT, nothing);
  assert_string_equal(reading(&small, "path"), "not known");
  small_end(&small);
}

static void wording_reading__speaks_as_a_left_handed_player_gave_it(void **state) {
  static const char *const evidence[] = {"path=left", "face=2", "feet=points_left", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_LEFT, evidence);
  assert_string_equal(reading(&small, "path"), "left, about 4.0 deg +/- 2.0");
  assert_string_equal(reading(&small, "face"), "2.0 deg right +/- 1.0");
  assert_string_equal(reading(&small, "feet"), "to the left");
  assert_string_equal(reading(&small, "face_to_path"), "6.0 deg right +/- 2.2");
  small_end(&small);
}

static void wording_condition__mirrors_limits(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  assert_string_equal(condition(&small, "path-far-left", HAND_RIGHT),
                      "club path more than 4 deg left");
  assert_string_equal(condition(&small, "path-far-left", HAND_LEFT),
                      "club path more than 4 deg right");
  assert_string_equal(condition(&small, "straight-path", HAND_LEFT),
                      "club path between 1.5 deg left and 1.5 deg right");
  assert_string_equal(condition(&small, "soft-ball", HAND_RIGHT), "ball speed below 35 m/s");
  assert_string_equal(condition(&small, "feet-point-aside", HAND_LEFT),
                      "line of the feet: to the right");
  assert_string_equal(condition(&small, "face-right-of-path", HAND_LEFT),
                      "face > path + 1 (as for a right-handed player)");
  assert_string_equal(condition(&small, "cut-with-aim", HAND_RIGHT),
                      "all of (\"the body is aimed to the left\" is believed; \"the club cuts "
                      "across the ball toward the left\" is believed (certainty above 0.4))");
  small_end(&small);
}

static void wording_condition__tells_the_side_of_a_limit(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  struct text text = new_text(&small);
  const struct drill *drill = small.model->claims[small_claim(&small, "gate")].drill;
  wording_condition(&text, small.model, drill->works, HAND_RIGHT);
  assert_string_equal(text_done(&text), "club path less than 2.5 deg left, or right");
  small_end(&small);
}

/* Left and right are places, other side words compare. On the shipped words, which have both. */
static void wording_condition__fits_the_words_to_the_sides(void **state) {
  static const struct {
    const char *evidence;
    double low, high;
    const char *told;
  } table[] = {
      {"path", 0, INFINITY, "club path to the right, be it ever so little"},
      {"path", -2.5, INFINITY, "club path less than 2.5 deg left, or right"},
      {"launch_gap", -INFINITY, 0, "launch for this club lower than usual, be it ever so little"},
      {"loft_gap", -2, INFINITY, "loft at impact for this club at most 2 deg less than usual"},
      {"strike", -INFINITY, 6, "strike along the face at most 6 mm toe side"},
      {"strike", 6, INFINITY, "strike along the face more than 6 mm toe side"},
  };
  struct knowledge shipped;
  (void)state;
  assert_true(knowledge_load_shipped(&shipped, 0));
  struct arena *arena = arena_new(NULL);
  for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
    struct condition limit = {
        .kind = isinf(table[i].high) ? CONDITION_ABOVE : CONDITION_BELOW,
        .evidence = model_find_evidence(shipped.model, table[i].evidence),
        .claim = NO_INDEX,
        .low = table[i].low,
        .high = table[i].high,
    };
    struct text text;
    text_init(&text, arena);
    wording_condition(&text, shipped.model, &limit, HAND_RIGHT);
    assert_string_equal(text_done(&text), table[i].told);
  }
  arena_free(arena);
  knowledge_free(&shipped);
}

static void wording_condition_in__tells_limits_in_the_unit_typed(void **state) {
  static const char *const evidence[] = {"ball_speed=88 mph", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  struct text text = new_text(&small);
  wording_condition_in(&text, small.run, small.model->rules[small_rule(&small, "soft-ball")].when);
  assert_string_equal(text_done(&text), "ball speed below 78.3 mph");
  small_end(&small);
}

static void wording_certainty__has_a_sign_unless_zero(void **state) {
  static const struct {
    double certainty;
    const char *words;
  } rows[] = {{0.724, "+0.72"}, {-0.3, "-0.30"}, {0, "0.00"}, {0.004, "0.00"}, {-0.004, "0.00"}};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct text text = new_text(&small);
    wording_certainty(&text, rows[i].certainty);
    assert_string_equal(text_done(&text), rows[i].words);
  }
  small_end(&small);
}

static void wording_wrap__keeps_to_the_width(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  assert_string_equal(wrapped(&small, "one two  three\nfour", 0, 2, 9), "one two\n  three\n  four");
  assert_string_equal(wrapped(&small, "one two", 6, 2, 9), "one\n  two");
  assert_string_equal(wrapped(&small, "far-too-long-for-this", 0, 2, 9), "far-too-long-for-this");
  assert_string_equal(wrapped(&small, "", 0, 2, 9), "");
  /* Two bytes, one column. */
  assert_string_equal(wrapped(&small, "\xC3\xBC\xC3\xBC\xC3\xBC \xC3\xBC", 0, 0, 5),
                      "\xC3\xBC\xC3\xBC\xC3\xBC \xC3\xBC");
  small_end(&small);
}

static void wording_wrap__keeps_a_number_with_its_unit_and_error(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  assert_string_equal(wrapped(&small, "it is 5.0 deg, or so", 0, 0, 10), "it is\n5.0 deg,\nor so");
  assert_string_equal(wrapped(&small, "speed left +/- 1.0", 0, 0, 12), "speed\nleft +/- 1.0");
  small_end(&small);
}

static void wording_paragraph__goes_on_below_a_label_that_is_too_long(void **state) {
  static const char *const label =
      "a label so long that hardly anything has room behind it, not even a word";
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  struct text text = new_text(&small);
  wording_paragraph(&text, 0, label, 2, "something-that-stands below");
  wording_paragraph(&text, 2, "short", 9, "beside");
  wording_paragraph(&text, 0, "alone", 9, "");
  size_t n = strlen(label);
  assert_string_equal(text_done(&text) + n,
                      "\n  something-that-stands below\n  short  beside\nalone\n");
  small_end(&small);
}

static void wording_escape__shows_what_would_hide(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  assert_string_equal(escaped(&small, "a\tb\x1b[0m", 7), "a\\x09b\\x1b[0m");
  assert_string_equal(escaped(&small, "\xE2\x80\xAEx", 4), "\\u202ex");
  assert_string_equal(escaped(&small, "\xFFx", 2), "\\xffx");
  assert_string_equal(escaped(&small, "\xC3\xBC", 2), "\xC3\xBC");
  small_end(&small);
}

/* What is reckoned from the printed value must not depend on the digits left out. */
static void wording_precise__has_decimals_enough_for_the_error(void **state) {
  static const struct {
    double x, error;
    const char *words;
  } rows[] = {{-5, 1, "-5"},
              {1.23456789, 1, "1.2346"},
              {1.23456789, 0.01, "1.234568"},
              {39.339520000000003, 0, "39.33952"}};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct text text = new_text(&small);
    wording_precise(&text, rows[i].x, rows[i].error);
    assert_string_equal(text_done(&text), rows[i].words);
  }
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(wording_add__mirrors_sides_and_puts_values_in),
      cmocka_unit_test(wording_add_plain__shows_titles_for_values),
      cmocka_unit_test(wording_reading__tells_side_unit_and_error),
      cmocka_unit_test(wording_reading__speaks_as_a_left_handed_player_gave_it),
      cmocka_unit_test(wording_condition__mirrors_limits),
      cmocka_unit_test(wording_condition__tells_the_side_of_a_limit),
      cmocka_unit_test(wording_condition__fits_the_words_to_the_sides),
      cmocka_unit_test(wording_condition_in__tells_limits_in_the_unit_typed),
      cmocka_unit_test(wording_certainty__has_a_sign_unless_zero),
      cmocka_unit_test(wording_wrap__keeps_to_the_width),
      cmocka_unit_test(wording_wrap__keeps_a_number_with_its_unit_and_error),
      cmocka_unit_test(wording_paragraph__goes_on_below_a_label_that_is_too_long),
      cmocka_unit_test(wording_escape__shows_what_would_hide),
      cmocka_unit_test(wording_precise__has_decimals_enough_for_the_error),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
