/* Every view, with memory running out at each taking in turn: it must say so, never crash, and
 * never pass off a part as the whole. */
#include "support/cases.h"

#include "render/contrast.h"
#include "render/show.h"
#include "render/steps.h"
#include "render/views.h"
#include "render/whatif.h"
#include "render/why.h"
#include "support/failing_allocator.h"

struct scene {
  struct small small;
  struct run *after; /* for what-if */
};

static void scene_start(struct scene *scene) {
  static const size_t none = 0;
  small_start(&scene->small, HAND_RIGHT, small_cut);
  scene->after = run_new(NULL, scene->small.knowledge.network);
  size_t path = model_find_evidence(scene->small.model, "path");
  assert_true(change_run(scene->after, scene->small.run, NULL, none, &path, 1, NULL));
}

static void scene_end(struct scene *scene) {
  run_free(scene->after);
  small_end(&scene->small);
}

/* ---- the views, as text and as JSON ---- */

static void steps(const struct scene *scene, struct text *out, struct json *json) {
  if (out != NULL) steps_text(out, scene->small.run, true);
  else steps_json(json, scene->small.run, true);
}

static void ask(const struct scene *scene, struct text *out, struct json *json, const char *name,
                bool not ) {
  struct subject subject = small_subject(&scene->small, name);
  if (out != NULL) (not ? whynot_text : why_text)(out, scene->small.run, subject);
  else (not ? whynot_json : why_json)(json, scene->small.run, subject);
}

static void why_cause(const struct scene *scene, struct text *out, struct json *json) {
  ask(scene, out, json, "steep", false);
}

static void why_drill(const struct scene *scene, struct text *out, struct json *json) {
  ask(scene, out, json, "gate", false);
}

static void whynot_cause(const struct scene *scene, struct text *out, struct json *json) {
  ask(scene, out, json, "poor_aim", true);
}

static void whynot_drill(const struct scene *scene, struct text *out, struct json *json) {
  ask(scene, out, json, "feel_flat", true);
}

static void contrast(const struct scene *scene, struct text *out, struct json *json) {
  size_t a = small_claim(&scene->small, "steep"), b = small_claim(&scene->small, "poor_aim");
  if (out != NULL) contrast_text(out, scene->small.run, a, b);
  else contrast_json(json, scene->small.run, a, b);
}

static void whatif(const struct scene *scene, struct text *out, struct json *json) {
  if (out != NULL) whatif_text(out, scene->small.run, scene->after);
  else whatif_json(json, scene->small.run, scene->after);
}

static void show(const struct scene *scene, struct text *out, struct json *json) {
  struct subject subject = small_subject(&scene->small, "steep");
  if (out != NULL) show_text(out, scene->small.knowledge.network, subject, HAND_RIGHT);
  else show_json(json, scene->small.knowledge.network, subject, HAND_RIGHT);
}

typedef void (*view)(const struct scene *, struct text *, struct json *);

static const view views[] = {steps,        why_cause, why_drill, whynot_cause,
                             whynot_drill, contrast,  whatif,    show};

/* ---- running out ---- */

/* The view's length, or SIZE_MAX when it told that memory ran out. */
static size_t draw(const struct scene *scene, view one, bool as_json,
                   const struct wm_allocator *allocator) {
  struct arena *arena = arena_new(allocator);
  size_t length = SIZE_MAX;
  if (arena == NULL) return length;
  struct text text;
  struct json json;
  text_init(&text, arena);
  json_start(&json, &text, false);
  one(scene, as_json ? NULL : &text, as_json ? &json : NULL);
  if (text_done(&text) != NULL && !arena_failed(arena)) length = text.n;
  else assert_null(text_done(&text));
  arena_free(arena);
  return length;
}

static void check_view(const struct scene *scene, view one, bool as_json) {
  size_t whole = draw(scene, one, as_json, NULL);
  assert_true(whole != SIZE_MAX && whole > 0);
  for (int for_good = 0; for_good <= 1; for_good++) {
    bool reached = true;
    for (size_t n = 1; reached; n++) {
      struct failing_allocator failing;
      failing_allocator_init(&failing, n, for_good != 0);
      size_t length = draw(scene, one, as_json, &failing.allocator);
      reached = failing_allocator_reached(&failing);
      assert_int_equal(length, reached ? SIZE_MAX : whole);
      assert_int_equal(failing.bytes, 0);
    }
  }
}

static void each_view__tells_that_memory_ran_out(void **state) {
  struct scene scene;
  (void)state;
  scene_start(&scene);
  for (size_t i = 0; i < COUNT_OF(views); i++) {
    check_view(&scene, views[i], false);
    check_view(&scene, views[i], true);
  }
  scene_end(&scene);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(each_view__tells_that_memory_ran_out),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
