/* Memory that runs out at each single taking in turn: every call says WM_INTERNAL and nothing
 * leaks. */
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"
#include "support/small_knowledge.h"
#include "whymiss.h"

static int swallow(void *context, const char *bytes, size_t n) {
  (void)context;
  (void)bytes;
  (void)n;
  return 0;
}

static const char knowledge[] = SMALL_KNOWLEDGE;

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

static enum wm_status load_and_use(const struct wm_allocator *allocator, void *context) {
  (void)context;
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
  assert_true(fail_at_each_taking(for_good, load_and_use, NULL) > 100);
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
