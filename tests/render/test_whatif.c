#include "support/cases.h"

#include "render/views.h"
#include "render/whatif.h"

/* The small cut, and the same with another path ("" takes it back). */
static struct run *changed(struct small *small, const char *path) {
  struct span nowhere = {0};
  struct value value;
  size_t index = model_find_evidence(small->model, "path");
  struct run *after = run_new(NULL, small->knowledge.network);
  bool takes_back = *path == '\0';
  if (!takes_back)
    assert_true(value_read(small->arena, &small->knowledge.diags, small->model, index, path,
                           nowhere, &value));
  assert_true(
      change_run(after, small->run, &value, takes_back ? 0 : 1, &index, takes_back ? 1 : 0, NULL));
  return after;
}

static void whatif_text__tells_what_changes(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct run *after = changed(&small, "1");
  struct text text = view_text(&small);
  whatif_text(&text, small.run, after);
  const char *view = text_done(&text);
  assert_true(view_is_tidy(view));
  assert_true(
      view_holds(view, "leading cause  the shaft steepens on the way down (steep) -> none\n"));
  assert_true(view_holds(view, "drill          gate of two balls (gate) -> none\n"));
  assert_true(view_holds(view, "  club path: 5.0 deg left +/- 1.0 -> 1.0 deg right +/- 1.0\n"));
  assert_true(view_holds(
      view, "Worked out from it\n  face to path: 6.0 deg right +/- 1.4 -> 0.0 deg +/- 1.4"));
  assert_true(view_holds(view, "  +0.87 -> no rule  the club cuts across"));
  assert_true(view_holds(view, "Rules that fire now\n  - A straight path"));
  assert_true(view_holds(view, "Rules that no longer fire\n"));
  run_free(after);
  small_end(&small);
}

static void whatif_text__takes_evidence_back(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct run *after = changed(&small, "");
  struct text text = view_text(&small);
  whatif_text(&text, small.run, after);
  assert_true(view_holds(text_done(&text), "  club path: 5.0 deg left +/- 1.0 -> not known\n"));
  assert_true(view_holds(text_done(&text), "  +0.87 -> unknown"));
  run_free(after);
  small_end(&small);
}

static void whatif_text__says_when_nothing_changes(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct run *after = changed(&small, "-5");
  struct text text = view_text(&small);
  whatif_text(&text, small.run, after);
  assert_true(view_holds(text_done(&text), "leading cause  the same: the shaft steepens"));
  assert_true(view_holds(text_done(&text), "Nothing differs"));
  run_free(after);
  small_end(&small);
}

static void whatif_json__tells_before_and_after(void **state) {
  struct small small;
  struct json json;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct run *after = changed(&small, "1");
  struct text text = view_text(&small);
  json_start(&json, &text, false);
  whatif_json(&json, small.run, after);
  const char *view = text_done(&text);
  assert_true(view_holds(view, "\"leading\":{\"before\":\"steep\",\"after\":null}"));
  assert_true(
      view_holds(view, "{\"rule\":\"straight-path\",\"before\":\"failed\",\"after\":\"fired\"}"));
  run_free(after);
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(whatif_text__tells_what_changes),
      cmocka_unit_test(whatif_text__takes_evidence_back),
      cmocka_unit_test(whatif_text__says_when_nothing_changes),
      cmocka_unit_test(whatif_json__tells_before_and_after),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
