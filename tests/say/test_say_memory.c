/* Memory that runs out at each single taking while phrases are read and words understood. */
#include <stdio.h>
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"
#include "whymiss.h"

static char knowledge[1 << 16];
static size_t n_knowledge;

static int load(void **state) {
  FILE *file = fopen("tests/say/small/small.yaml", "rb");
  (void)state;
  if (!file) return -1;
  n_knowledge = fread(knowledge, 1, sizeof knowledge, file);
  fclose(file);
  return n_knowledge > 0 && n_knowledge < sizeof knowledge ? 0 : -1;
}

static int swallow(void *context, const char *bytes, size_t n) {
  (void)context;
  (void)bytes;
  (void)n;
  return 0;
}

static enum wm_status use(const wm_kb *kb, const struct wm_allocator *allocator, wm_diags *diags) {
  wm_case *player = NULL;
  size_t n;
  enum wm_status status = wm_case_new(&player, kb, allocator);
  if (status == WM_OK)
    status = wm_case_say(player, "slise or hook, never thin. start 5 left, ball speed 90 mph", NULL,
                         diags);
  if (status == WM_OK) status = wm_case_say(player, "i am left handed, driver", NULL, diags);
  if (status == WM_OK) status = wm_case_run(player, diags);
  if (status == WM_OK && !wm_case_said(player, &n)) status = WM_INTERNAL;
  if (status == WM_OK) status = wm_case_write(player, WM_ANSWER, WM_TEXT, swallow, NULL);
  if (status == WM_OK) status = wm_case_write(player, WM_ANSWER, WM_JSON, swallow, NULL);
  wm_case_free(player);
  return status;
}

static enum wm_status load_and_use(const struct wm_allocator *allocator, void *context) {
  (void)context;
  const struct wm_file file = {"small.yaml", knowledge, n_knowledge, 0};
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
  fail_at_each_taking(for_good, load_and_use, NULL);
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
  return cmocka_run_group_tests(tests, load, NULL);
}
