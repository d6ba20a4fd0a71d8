#include "support/cases.h"

#include "render/steps.h"
#include "render/views.h"

static const char *steps_of(const struct small *small, bool all) {
  struct text text = view_text(small);
  steps_text(&text, small->run, all);
  return text_done(&text);
}

static void steps_text__prints_each_number_of_a_step(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  const char *steps = steps_of(&small, false);
  assert_true(view_is_tidy(steps));
  assert_true(view_holds(steps, "   3  club path: 5.0 deg left +/- 1.0\n"
                                "       path = -5 +/- 1 deg (given as \"-5\")\n"));
  assert_true(view_holds(steps, "face_to_path = 6 +/- 1.4142 deg by face - path, step 1, step 3\n"
                                "       error from face 1 x 1, path -1 x 1\n"));
  assert_true(view_holds(steps,
                         "       +0.9876  all of these (the smallest counts):\n"
                         "       +0.9985    face_to_path above 1.5 deg, step 4\n"
                         "       +0.9876    path below -2.5 deg, step 3\n"
                         "       +0.9876 x strength 0.8 = +0.7901 for cuts_across, step 8\n"));
  assert_true(view_holds(steps, "(kb.yaml:"));
  assert_true(view_holds(steps, "because The club travels 5.0 deg left"));
  assert_true(view_holds(steps, "[invented-2000]"));
  assert_true(view_holds(steps, "of group path-reading says more"));
  assert_true(view_holds(steps, "certainty +0.8740, the counted ones combined"));
  assert_true(view_holds(steps, "+0.4894  certainty +0.6992 x effect 0.7 on steep, step 11"));
  assert_true(view_holds(steps, "external: value +0.6679"));
  small_end(&small);
}

static void steps_text__with_all_tells_what_failed_and_what_is_unknown(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  const char *steps = steps_of(&small, true);
  assert_true(view_is_tidy(steps));
  assert_true(view_holds(steps, "does not fire: not above +0.2"));
  assert_true(view_holds(steps, "       unknown  ball_speed below 35 m/s\n"
                                "       not judged: ball_speed is not known\n"));
  assert_true(view_holds(steps, "body thought: value +0.2937"));
  small_end(&small);
}

static void steps_text__tells_a_left_handed_player_whose_numbers_they_are(void **state) {
  static const char *const evidence[] = {"path=5", "face=-1", "feet=square", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_LEFT, evidence);
  const char *steps = steps_of(&small, false);
  assert_true(view_is_tidy(steps));
  assert_true(view_holds(steps, "Left-handed player"));
  assert_true(view_holds(steps, "club path: 5.0 deg right +/- 1.0\n       path = -5 +/- 1 deg"));
  assert_true(view_holds(steps, "cuts across the ball toward the right"));
  small_end(&small);
}

static void steps_text__tells_where_the_error_of_a_mean_comes_from(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  small.run->shots = 4;
  assert_true(run_chain(small.run, NULL));
  assert_true(
      view_holds(steps_of(&small, false), "error from one reading 1, spread 2 over 4 shots"));
  small_end(&small);
}

static void steps_text__says_when_there_is_nothing(void **state) {
  static const char *const nothing[] = {NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  assert_string_equal(steps_of(&small, false),
                      "No rule that fired speaks for a finding or a cause.\n");
  small_end(&small);
}

static void steps_json__has_the_numbers_in_full(void **state) {
  struct small small;
  struct json json;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct text text = view_text(&small);
  json_start(&json, &text, false);
  steps_json(&json, small.run, false);
  const char *steps = text_done(&text);
  assert_true(view_holds(steps, "\"hand\":\"right\""));
  assert_true(view_holds(steps, "\"certainty\":0.8740"));
  assert_true(view_holds(steps, "\"condition\":\"path below -2.5 deg\",\"belief\":0.98758"));
  assert_true(view_holds(steps, "\"counted\":false,\"group\":\"path-reading\""));
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(steps_text__prints_each_number_of_a_step),
      cmocka_unit_test(steps_text__with_all_tells_what_failed_and_what_is_unknown),
      cmocka_unit_test(steps_text__tells_a_left_handed_player_whose_numbers_they_are),
      cmocka_unit_test(steps_text__tells_where_the_error_of_a_mean_comes_from),
      cmocka_unit_test(steps_text__says_when_there_is_nothing),
      cmocka_unit_test(steps_json__has_the_numbers_in_full),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
