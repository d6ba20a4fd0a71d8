/* Memory that runs out at each single taking in turn: every call says WM_INTERNAL and nothing
 * leaks. */
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"
#include "whymiss.h"

static int swallow(void *context, const char *bytes, size_t n) {
  (void)context;
  (void)bytes;
  (void)n;
  return 0;
}

static const char knowledge[] =
    "- evidence: path\n  title: club path\n  about: where the club goes\n  kind: number\n  unit: deg\n"
    "  range: [-20, 20]\n  error: 1\n  spread: 2\n  sides: [left, right]\n  ask: Where does it go?\n"
    "  effort: measure\n  source: practice\n"
    "- finding: path_left\n  title: it goes {left}\n  about: it goes {left}\n"
    "- cause: steep\n  title: steep\n  about: steep\n  area: downswing\n  source: practice\n"
    "- drill: gate\n  title: gate\n  task: external\n  changes: {steep: 0.7}\n  aim: to the {right}\n"
    "  setup: Lay a ball.\n  dose: Ten.\n  works: {path: {above: -2}, hits: 3, of: 5, seen: straight}\n"
    "  drop: {shots: 10, when: nothing moved}\n  cautions: [Mind your head.]\n  source: practice\n"
    "- rule: left\n  when: {path: {below: -2}}\n  then: {path_left: 0.8}\n  because: It goes {path}.\n"
    "  kind: geometry\n  source: practice\n"
    "- rule: steep\n  when: {path_left: believed}\n  then: {steep: 0.8}\n  because: It is steep.\n"
    "  kind: geometry\n  source: practice\n";

/* What a program does from load to answer; the first failure ends it. */
static enum wm_status use(const wm_kb *kb, const struct wm_allocator *allocator, wm_diags *diags) {
  wm_case *player = NULL;
  size_t n;
  enum wm_status status = wm_case_new(&player, kb, allocator);
  if (status == WM_OK) status = wm_case_give(player, "path=-5", "argument 1", diags);
  if (status == WM_OK) status = wm_case_run(player, diags);
  if (status == WM_OK && (!wm_case_causes(player, &n) || !wm_case_firings(player, &n) ||
                          !wm_case_readings(player, &n) || !wm_case_drills(player, &n)))
    status = WM_INTERNAL;
  if (status == WM_OK) status = wm_case_write(player, WM_ANSWER, WM_TEXT, swallow, NULL);
  if (status == WM_OK) status = wm_case_write(player, WM_ANSWER, WM_JSON, swallow, NULL);
  if (status == WM_OK) status = wm_case_write(player, WM_STEPS, WM_TEXT, swallow, NULL);
  if (status == WM_OK)
    status = wm_case_explain(player, WM_WHY, "steep", NULL, WM_TEXT, swallow, NULL, diags);
  wm_case_free(player);
  return status;
}

static enum wm_status load_and_use(const struct wm_allocator *allocator) {
  const struct wm_file file = {"small.yaml", knowledge, sizeof knowledge - 1, 0};
  wm_kb *kb = NULL;
  wm_diags *diags = wm_diags_new(allocator);
  if (!diags) return WM_INTERNAL;
  enum wm_status status = wm_kb_load_memory(&kb, &file, 1, allocator, diags);
  if (status == WM_OK) status = use(kb, allocator, diags);
  wm_kb_free(kb);
  wm_diags_free(diags);
  return status;
}

static void fail_at_each(bool for_good) {
  for (size_t n = 1;; n++) {
    struct failing_allocator failing;
    failing_allocator_init(&failing, n, for_good);
    enum wm_status status = load_and_use(&failing.allocator);
    assert_int_equal(failing.bytes, 0);
    if (!failing_allocator_reached(&failing)) {
      assert_int_equal(status, WM_OK);
      assert_true(n > 100);
      return;
    }
    if (status != WM_INTERNAL) fail_msg("taking %zu failed, and the status is %d", n, (int)status);
  }
}

static void any_single_failure__is_told(void **state) {
  (void)state;
  fail_at_each(false);
}

static void any_lasting_failure__is_told(void **state) {
  (void)state;
  fail_at_each(true);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(any_single_failure__is_told),
      cmocka_unit_test(any_lasting_failure__is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
