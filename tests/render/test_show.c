#include "support/cases.h"

#include "render/show.h"
#include "render/views.h"

static const char *const nothing[] = {NULL};

static const char *show(const struct small *small, const char *name, enum hand hand) {
  struct text text = view_text(small);
  show_text(&text, small->knowledge.network, small_subject(small, name), hand);
  return text_done(&text);
}

static void show_text__tells_each_kind_of_entry(void **state) {
  static const struct {
    const char *name;
    const char *parts[6];
  } rows[] = {
      {"path",
       {"evidence path\ntitle         club path\n",
        "plausible     20.0 deg left to 20.0 deg right\n",
        "\"left\" is worth 4.0 deg left +/- 2.0 deg\n", "effort        measure\n",
        "read by       evidence face_to_path; rule face-right-of-path"}},
      {"feet", {"points_left = to the left; square = square"}},
      {"face_to_path", {"worked out by face - path\n"}},
      {"loft", {"filled from   the club's loft\n", "read by"}},
      {"cuts_across",
       {"concluded by  +0.40 face-right-of-path (kb.yaml:",
        "+0.60 path-far-left, group path-reading",
        "read by       rule cut-means-steep, cut-with-aim, gate-for-cut\n",
        "source        none is named"}},
      {"steep",
       {"tell apart    Poor aim", "area          downswing\n",
        "drills        feel_flat, effect 0.6"}},
      {"gate",
       {"changes       poor_aim, effect 0.1",
        "ball, behind the ball by 20 cm, farther from the player by 12 cm",
        "it works when club path less than 2.5 deg left, or right, in 3 of 5 shots",
        "cautions      Clear swing", "advised by    +0.40 gate-for-cut"}},
      {"cut-means-steep",
       {"when          all of:\n                \"the club cuts across",
        "then          +0.80 for cause steep", "layer         2 of 2\n",
        "rests on      face, face_to_path, feet, path\n", "learner       The longer"}},
      {"no-gate-in-pain", {"takes out     gate\n"}},
      {"7i", {"loft          33 deg\n", "head mass     268 g\n"}},
      {"invented-2000",
       {"named by      rule path-far-left, path-left-under-open-face\n", "status        memory"}},
      {"cut",
       {"player        right-handed\n", "leading       steep\n", "because       A plain cut."}},
  };
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    const char *view = show(&small, rows[i].name, HAND_RIGHT);
    assert_true(view_is_tidy(view));
    assert_true(view_holds(view, "stands in     kb.yaml:"));
    for (size_t k = 0; k < COUNT_OF(rows[i].parts) && rows[i].parts[k] != NULL; k++)
      if (strcmp(rows[i].parts[k], "read by") != 0) assert_true(view_holds(view, rows[i].parts[k]));
  }
  small_end(&small);
}

static void show_text__gives_the_source_in_full(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  assert_true(view_holds(
      show(&small, "path-far-left", HAND_RIGHT),
      "source        invented-2000: An invented source for tests: nobody, 2000\n              [memory]\n"));
  small_end(&small);
}

static void show_text__speaks_for_the_hand(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  assert_true(
      view_holds(show(&small, "cuts_across", HAND_LEFT), "cuts across the ball toward the right"));
  assert_true(
      view_holds(show(&small, "path-far-left", HAND_LEFT), "club path more than 4 deg right"));
  small_end(&small);
}

static void show_json__has_the_keys_of_the_rule_language(void **state) {
  static const struct {
    const char *name, *part;
  } rows[] = {{"path", "\"range\":[-20,20],\"error\":1,\"spread\":2,\"mirrored\":true"},
              {"steep", "\"drills\":{\"feel_flat\":0.6,\"gate\":0.7}"},
              {"gate", "\"changes\":{\"poor_aim\":0.1,\"steep\":0.7}"},
              {"cut-means-steep", "\"then\":{\"steep\":0.8}"},
              {"7i", "\"loft_deg\":33"},
              {"invented-2000", "\"named_by\":[{\"kind\":\"rule\",\"name\":\"path-far-left\"}"},
              {"cut", "\"evidence\":{\"club\":\"7i\""}};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct json json;
    struct text text = view_text(&small);
    json_start(&json, &text, false);
    show_json(&json, small.knowledge.network, small_subject(&small, rows[i].name), HAND_RIGHT);
    assert_true(view_holds(text_done(&text), rows[i].part));
  }
  small_end(&small);
}

static void show_functions_text__lists_them_all(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  struct text text = view_text(&small);
  show_functions_text(&text);
  assert_true(view_is_tidy(text_done(&text)));
  assert_true(view_holds(text_done(&text), "\npath_from_arc(arc_direction, attack, plane_tilt)\n"));
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(show_text__tells_each_kind_of_entry),
      cmocka_unit_test(show_text__gives_the_source_in_full),
      cmocka_unit_test(show_text__speaks_for_the_hand),
      cmocka_unit_test(show_json__has_the_keys_of_the_rule_language),
      cmocka_unit_test(show_functions_text__lists_them_all),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
