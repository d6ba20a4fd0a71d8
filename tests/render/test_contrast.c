#include "support/cases.h"

#include "render/contrast.h"
#include "render/views.h"

static const char *contrast(const struct small *small, const char *a, const char *b) {
  struct text text = view_text(small);
  contrast_text(&text, small->run, small_claim(small, a), small_claim(small, b));
  return text_done(&text);
}

static void contrast_text__sets_two_causes_side_by_side(void **state) {
  static const char *const evidence[] = {"path=-5", "face=1", "feet=points_left", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  const char *view = contrast(&small, "steep", "poor_aim");
  assert_true(view_is_tidy(view));
  assert_true(view_holds(view, "B  aim to the left (cause poor_aim): +0.70, leading"));
  assert_true(view_holds(view, "Speaks for B and not, or less, for A\n"));
  assert_true(view_holds(view, "  +0.70  The path goes where the feet point."));
  assert_true(view_holds(view, "[A -0.35, B +0.70]"));
  assert_true(
      view_holds(view, "- How fast does the ball leave? (ball_speed, measure; 1 rule waits"));
  assert_true(view_holds(view, "steep: Poor aim gives the same path together with the feet."));
  small_end(&small);
}

static void contrast_text__of_drills_tells_what_each_works_on(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  const char *view = contrast(&small, "gate", "feel_flat");
  assert_true(view_is_tidy(view));
  assert_true(view_holds(view, "A  gate of two balls (drill gate): value +0.67"));
  assert_true(view_holds(
      view, "B works on\n  - the shaft steepens on the way down: effect 0.6, certainty"));
  assert_true(view_holds(view, "all rules that differ have been"));
  small_end(&small);
}

static void contrast_json__tells_both_sides_of_each_rule(void **state) {
  static const char *const evidence[] = {"path=-5", "face=1", "feet=points_left", NULL};
  struct small small;
  struct json json;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  struct text text = view_text(&small);
  json_start(&json, &text, false);
  contrast_json(&json, small.run, small_claim(&small, "steep"), small_claim(&small, "poor_aim"));
  assert_true(view_holds(text_done(&text), "{\"rule\":\"cut-with-aim\",\"for_a\":-0.349"));
  assert_true(view_holds(text_done(&text), "{\"evidence\":\"ball_speed\",\"ask\":\"How fast"));
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(contrast_text__sets_two_causes_side_by_side),
      cmocka_unit_test(contrast_text__of_drills_tells_what_each_works_on),
      cmocka_unit_test(contrast_json__tells_both_sides_of_each_rule),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
