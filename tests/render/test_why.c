#include "support/cases.h"

#include "render/views.h"
#include "render/why.h"

static const char *why(const struct small *small, const char *name) {
  struct text text = view_text(small);
  why_text(&text, small->run, small_subject(small, name));
  return text_done(&text);
}

static const char *whynot(const struct small *small, const char *name) {
  struct text text = view_text(small);
  whynot_text(&text, small->run, small_subject(small, name));
  return text_done(&text);
}

static void check(const char *view, const char *const *parts) {
  assert_true(view_is_tidy(view));
  for (; *parts != NULL; parts++) assert_true(view_holds(view, *parts));
}

static void why_text__of_a_cause_tells_for_and_against(void **state) {
  static const char *const parts[] = {
      "cause steep: the shaft steepens on the way down\n",
      "certainty   +0.70, leading",
      "Speaks for it\n  +0.70  A cut without poor aim",
      "Not judged yet (strength in brackets)\n  (+0.20) rule soft-ball",
      "? ball speed below 35 m/s: it is not known. How fast does the ball\n            leave?",
      "2 rules about it did not hold",
      "  +0.70  the shaft steepens on the way down (steep)\n    +0.87  rule cut-means-steep\n",
      "face to path 6.0 deg right +/- 1.4, by face - path\n",
      NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  check(why(&small, "steep"), parts);
  small_end(&small);
}

static void why_text__of_a_finding_tells_what_its_group_counted(void **state) {
  static const char *const parts[] = {"certainty   +0.87, believed",
                                      "a stronger rule of its group has counted",
                                      "  +0.41  The club travels far to the left.", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  check(why(&small, "cuts_across"), parts);
  small_end(&small);
}

static void why_text__of_evidence_tells_where_it_comes_from(void **state) {
  static const char *const derived[] = {
      "value       6.0 deg right +/- 1.4, worked out: face - path",
      "error       from face direction 50 %, club path 50 %", NULL};
  static const char *const given[] = {"value       5.0 deg left +/- 1.0, given as \"-5\"", NULL};
  static const char *const club[] = {"33.0 deg, taken from the club", "taken as exact", NULL};
  static const char *const unknown[] = {"not known: not given", "How fast does the ball leave?",
                                        NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  check(why(&small, "face_to_path"), derived);
  check(why(&small, "path"), given);
  check(why(&small, "loft"), club);
  check(why(&small, "ball_speed"), unknown);
  small_end(&small);
}

static void why_text__of_a_drill_tells_what_it_is_good_for(void **state) {
  static const char *const chosen[] = {
      "value       +0.67, the drill to do now",
      "+0.49  the shaft steepens on the way down (steep +0.70 x 0.7)",
      "Rules that advise it\n  +0.35  The gate shows the way.", NULL};
  static const char *const other[] = {"value       +0.29, number 2 in the order of value", NULL};
  static const char *const useless[] = {"none here: no cause that it changes is believed", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  check(why(&small, "gate"), chosen);
  check(why(&small, "feel_flat"), other);
  check(why(&small, "line_on_ground"), useless);
  small_end(&small);
}

static void why_text__of_a_removed_drill_tells_by_what(void **state) {
  static const char *const evidence[] = {"face=1", "path=-5", "feet=points_left",
                                         "ball_speed=20 m/s", NULL};
  static const char *const by_needs[] = {"but taken out", "it needs all of (", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  check(why(&small, "line_on_ground"), by_needs);
  small_end(&small);
}

static void why_text__of_a_rule_goes_clause_by_clause(void **state) {
  static const char *const fired[] = {"state       fired: premise +0.87",
                                      "learner     The longer wording.",
                                      "  +1.00    none of (the largest, reversed):\n"
                                      "  -1.00      line of the feet: to the left; it is square\n",
                                      "It says\n  +0.70  the shaft steepens", NULL};
  static const char *const failed[] = {"did not fire: premise -1.00, which is not above +0.20",
                                       "misses by 3.5 deg, 3.5", "It would say\n  -0.60", NULL};
  static const char *const unknown[] = {"not judged: it lacks evidence",
                                        "  ?      ball speed below", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  check(why(&small, "cut-means-steep"), fired);
  check(why(&small, "straight-path"), failed);
  check(why(&small, "soft-ball"), unknown);
  small_end(&small);
}

static void whynot_text__of_a_cause_names_the_rival(void **state) {
  static const char *const parts[] = {
      "None of its rules fired: 1 did not hold, 0 lack evidence.",
      "The rival that leads\n",
      "(steep) has +0.70; it is ahead on:",
      "Nearest to firing (strength in brackets)\n  (+0.80) rule cut-with-aim",
      "no rule speaks for it",
      NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  check(whynot(&small, "poor_aim"), parts);
  small_end(&small);
}

static void whynot_text__tells_by_how_much_a_clause_missed(void **state) {
  static const char *const evidence[] = {"path=-2 +/- 0.5", "face=1", NULL};
  static const char *const missed[] = {"misses by\n    0.5 deg, 1.0 standard errors", NULL};
  static const char *const unsure[] = {
      "holds by only\n    0.1 deg, 0.1 standard errors: too unsure to count", NULL};
  static const char *const near[] = {"path=-4.1", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  check(whynot(&small, "path-left-under-open-face"), missed);
  small_end(&small);
  small_start(&small, HAND_RIGHT, near);
  check(whynot(&small, "path-far-left"), unsure);
  small_end(&small);
}

static void whynot_text__of_what_is_so_points_to_why(void **state) {
  static const char *const names[] = {"steep", "cuts_across", "gate", "path", "cut-means-steep"};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  for (size_t i = 0; i < COUNT_OF(names); i++) {
    const char *view = whynot(&small, names[i]);
    assert_true(view_is_tidy(view));
    assert_true(view_holds(view, "`whymiss why "));
  }
  small_end(&small);
}

static void whynot_text__of_a_drill_compares_it_with_the_chosen(void **state) {
  static const char *const parts[] = {
      "Another drill is worth more here",
      "chosen gate: value +0.67 (from causes +0.49, advice of rules +0.35",
      "this feel_flat: value +0.29", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  check(whynot(&small, "feel_flat"), parts);
  small_end(&small);
}

static void whynot_text__of_a_drill_tells_the_red_flag(void **state) {
  static const char *const evidence[] = {"face=1", "path=-5", "feet=square", "pain=yes", NULL};
  static const char *const parts[] = {"No drill is offered: Stop, and see a licensed", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  check(whynot(&small, "gate"), parts);
  small_end(&small);
}

static void whynot_text__of_evidence_tells_how_to_get_it(void **state) {
  static const char *const evidence[] = {"face=1", NULL};
  static const char *const derived[] = {"cannot be worked out", "- face - path: needs path", NULL};
  static const char *const asked[] = {"How fast does the ball leave? (measure)", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, evidence);
  check(whynot(&small, "face_to_path"), derived);
  check(whynot(&small, "ball_speed"), asked);
  small_end(&small);
}

static const char *json_of(const struct small *small, const char *name,
                           void (*write)(struct json *, const struct run *, struct subject)) {
  struct json json;
  struct text text = view_text(small);
  json_start(&json, &text, false);
  write(&json, small->run, small_subject(small, name));
  return text_done(&text);
}

static void why_json__and_whynot_json_tell_the_same_facts(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  const char *cause = json_of(&small, "steep", why_json);
  assert_true(view_holds(cause, "\"standing\":\"leading\""));
  assert_true(view_holds(cause, "\"not_judged\":[{\"rule\":\"soft-ball\""));
  const char *rule = json_of(&small, "straight-path", whynot_json);
  assert_true(view_holds(rule, "\"is_so\":false"));
  assert_true(view_holds(rule, "\"misses_by\":3.5,\"misses_by_errors\":3.5"));
  assert_true(
      view_holds(json_of(&small, "poor_aim", whynot_json), "\"rival\":{\"cause\":\"steep\""));
  assert_true(view_holds(json_of(&small, "gate", why_json), "\"chosen\":true"));
  assert_true(view_holds(json_of(&small, "ball_speed", why_json), "\"state\":\"unknown\""));
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(why_text__of_a_cause_tells_for_and_against),
      cmocka_unit_test(why_text__of_a_finding_tells_what_its_group_counted),
      cmocka_unit_test(why_text__of_evidence_tells_where_it_comes_from),
      cmocka_unit_test(why_text__of_a_drill_tells_what_it_is_good_for),
      cmocka_unit_test(why_text__of_a_removed_drill_tells_by_what),
      cmocka_unit_test(why_text__of_a_rule_goes_clause_by_clause),
      cmocka_unit_test(whynot_text__of_a_cause_names_the_rival),
      cmocka_unit_test(whynot_text__tells_by_how_much_a_clause_missed),
      cmocka_unit_test(whynot_text__of_what_is_so_points_to_why),
      cmocka_unit_test(whynot_text__of_a_drill_compares_it_with_the_chosen),
      cmocka_unit_test(whynot_text__of_a_drill_tells_the_red_flag),
      cmocka_unit_test(whynot_text__of_evidence_tells_how_to_get_it),
      cmocka_unit_test(why_json__and_whynot_json_tell_the_same_facts),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
