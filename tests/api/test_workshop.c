/* The workshop by its public functions: wrong calls, results as structs, and memory that runs out
 * at each taking in turn. */
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"
#include "support/small_knowledge.h"
#include "whymiss.h"

static const char knowledge[] =
    SMALL_KNOWLEDGE "- case: far\n  evidence: {path: -6}\n  expect: {leading: steep, drill: gate}\n"
                    "- case: near\n  evidence: {path: -1}\n  expect: {leading: steep}\n";

static wm_kb *load(const struct wm_allocator *allocator, const char *text, wm_diags *diags) {
  const struct wm_file file = {"small.yaml", text, strlen(text), 0};
  wm_kb *kb = NULL;
  wm_kb_load_memory(&kb, &file, 1, allocator, diags);
  return kb;
}

static int swallow(void *context, const char *bytes, size_t n) {
  (void)bytes;
  *(size_t *)context += n;
  return 0;
}

static int refuse(void *context, const char *bytes, size_t n) {
  (void)context;
  (void)bytes;
  (void)n;
  return -1;
}

static void wrong_calls__are_told_and_harmless(void **state) {
  struct wm_verdict verdict;
  struct wm_coverage coverage;
  struct wm_mutants mutants;
  struct wm_edit edit;
  size_t n = 0;
  (void)state;
  wm_kb *kb = load(NULL, knowledge, NULL);
  wm_cases *cases = NULL;
  wm_comparison *comparison = NULL;
  wm_mending *mending = NULL;
  assert_non_null(kb);
  assert_int_equal(wm_cases_new(NULL, kb, NULL), WM_USAGE);
  assert_int_equal(wm_cases_new(&cases, NULL, NULL), WM_USAGE);
  assert_int_equal(wm_cases_new(&cases, kb, NULL), WM_OK);
  assert_int_equal(wm_mend(&mending, cases, NULL), WM_USAGE);              /* no case */
  assert_int_equal(wm_cases_write(cases, WM_TEXT, swallow, &n), WM_USAGE); /* not run */
  assert_int_equal(wm_cases_write_coverage(cases, WM_TEXT, swallow, &n), WM_USAGE);
  assert_int_equal(wm_cases_write_mutants(cases, WM_TEXT, swallow, &n), WM_USAGE);
  assert_false(wm_cases_verdict(cases, 0, &verdict));
  assert_false(wm_cases_coverage(cases, 0, &coverage));
  assert_false(wm_cases_mutants(cases, &mutants));
  assert_int_equal(wm_cases_mutate(cases, (enum wm_notice)7), WM_USAGE);
  assert_int_equal(wm_cases_add(cases, "nobody", NULL, NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_cases_add_file(cases, "/nowhere", NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_cases_count(cases), 0);
  assert_int_equal(wm_cases_count(NULL), 0);
  assert_int_equal(wm_cases_run(NULL), WM_USAGE);
  assert_int_equal(wm_compare(&comparison, kb, NULL, 1, 1, NULL), WM_USAGE);
  assert_int_equal(wm_compare(&comparison, kb, kb, WM_IMPACTS_MAX + 1, 1, NULL), WM_USAGE);
  assert_null(comparison);
  assert_int_equal(wm_comparison_write(NULL, WM_TEXT, swallow, &n), WM_USAGE);
  assert_int_equal(wm_mending_write(NULL, WM_TEXT, swallow, &n), WM_USAGE);
  assert_false(wm_mending_edit(NULL, 0, &edit));
  assert_int_equal(n, 0);
  wm_cases_free(NULL);
  wm_comparison_free(NULL);
  wm_mending_free(NULL);
  wm_cases_free(cases);
  wm_kb_free(kb);
}

static void wm_cases__gives_verdicts_coverage_and_mutants(void **state) {
  struct wm_verdict verdict;
  struct wm_coverage coverage;
  struct wm_mutants mutants;
  size_t n = 0, kinds = 0;
  (void)state;
  wm_kb *kb = load(NULL, knowledge, NULL);
  wm_cases *cases = NULL;
  assert_int_equal(wm_cases_new(&cases, kb, NULL), WM_OK);
  assert_int_equal(wm_cases_add_all(cases), WM_OK);
  assert_int_equal(wm_cases_run(cases), WM_FINDINGS);
  assert_true(wm_cases_verdict(cases, 0, &verdict));
  assert_string_equal(verdict.name, "far");
  assert_string_equal(verdict.file, "small.yaml");
  assert_int_equal(verdict.n_expected, 2);
  assert_int_equal(verdict.n_failed, 0);
  assert_true(wm_cases_verdict(cases, 1, &verdict));
  assert_int_equal(verdict.n_failed, 1);
  assert_false(wm_cases_verdict(cases, 2, &verdict));
  assert_int_equal(wm_cases_write(cases, WM_TEXT, refuse, NULL), WM_INTERNAL);

  assert_int_equal(wm_cases_cover(cases), WM_OK);
  for (; wm_cases_coverage(cases, kinds, &coverage); kinds++)
    assert_true(coverage.reached <= coverage.all &&
                coverage.percent == 100 * coverage.reached / coverage.all);
  assert_int_equal(kinds, 10);

  assert_int_equal(wm_cases_mutate(cases, WM_NOTICE_VERDICT), WM_FINDINGS);
  assert_true(wm_cases_mutants(cases, &mutants));
  assert_int_equal(mutants.all, 6); /* two thresholds, two conditions, two strengths */
  assert_int_equal(mutants.cases, 1);
  assert_int_equal(mutants.cases_left_out, 1);
  assert_int_equal(mutants.percent, 100 * mutants.noticed / mutants.all);

  /* Another case forgets what was found. */
  assert_int_equal(wm_cases_add(cases, "far", NULL, NULL), WM_OK);
  assert_false(wm_cases_verdict(cases, 0, &verdict));
  assert_false(wm_cases_coverage(cases, 0, &coverage));
  assert_false(wm_cases_mutants(cases, &mutants));
  assert_int_equal(wm_cases_write_answers(cases, false, swallow, &n), WM_OK);
  assert_true(n > 0);
  wm_cases_free(cases);
  wm_kb_free(kb);
}

static void wm_mend__gives_edits(void **state) {
  struct wm_edit edit;
  (void)state;
  wm_kb *kb = load(NULL, knowledge, NULL);
  wm_cases *cases = NULL;
  wm_mending *mending = NULL;
  assert_int_equal(wm_cases_new(&cases, kb, NULL), WM_OK);
  assert_int_equal(wm_cases_add(cases, "near", NULL, NULL), WM_OK);
  assert_int_equal(wm_mend(&mending, cases, NULL), WM_OK);
  assert_true(wm_mending_edit(mending, 0, &edit));
  assert_string_equal(edit.file, "small.yaml");
  assert_string_equal(edit.in, "rule 'left'");
  assert_string_equal(edit.old_text, "path: {below: -2}");
  assert_memory_equal(edit.new_text, "path: {below: ", strlen("path: {below: "));
  assert_int_equal(edit.cases_broken, 0);
  wm_mending_free(mending);
  wm_cases_free(cases);
  wm_kb_free(kb);
}

static void wm_compare__counts(void **state) {
  struct wm_comparison_counts counts;
  char other[sizeof knowledge];
  (void)state;
  strcpy(other, knowledge);
  memcpy(strstr(other, "below: -2}"), "below: 0 }", strlen("below: -2}"));
  wm_kb *old_kb = load(NULL, knowledge, NULL), *new_kb = load(NULL, other, NULL);
  wm_comparison *comparison = NULL;
  assert_non_null(new_kb);
  assert_int_equal(wm_compare(&comparison, old_kb, new_kb, 200, 1, NULL), WM_OK);
  wm_comparison_count(comparison, &counts);
  assert_int_equal(counts.cases, 2);
  assert_int_equal(counts.better, 1);
  assert_int_equal(counts.worse, 0);
  assert_int_equal(counts.impacts, 200);
  assert_true(counts.leading > 0 && counts.leading <= 200);
  wm_comparison_free(comparison);
  wm_kb_free(old_kb);
  wm_kb_free(new_kb);
}

/* ---- memory ---- */

static enum wm_status use_cases(const wm_kb *kb, const struct wm_allocator *allocator) {
  wm_cases *cases = NULL;
  size_t n = 0;
  enum wm_status status = wm_cases_new(&cases, kb, allocator);
  if (status == WM_OK) status = wm_cases_add(cases, "far", NULL, NULL);
  if (status == WM_OK) status = wm_cases_run(cases);
  if (status == WM_OK) status = wm_cases_write(cases, WM_TEXT, swallow, &n);
  if (status == WM_OK) status = wm_cases_cover(cases);
  if (status == WM_OK) status = wm_cases_write_coverage(cases, WM_JSON, swallow, &n);
  if (status == WM_OK) {
    status = wm_cases_mutate(cases, WM_NOTICE_CERTAINTY);
    if (status == WM_FINDINGS) status = WM_OK;
  }
  if (status == WM_OK) status = wm_cases_write_mutants(cases, WM_TEXT, swallow, &n);
  wm_cases_free(cases);
  return status;
}

static enum wm_status use_mend(const wm_kb *kb, const struct wm_allocator *allocator) {
  wm_cases *cases = NULL;
  wm_mending *mending = NULL;
  enum wm_status status = wm_cases_new(&cases, kb, allocator);
  if (status == WM_OK) status = wm_cases_add(cases, "near", NULL, NULL);
  if (status == WM_OK) status = wm_mend(&mending, cases, allocator);
  wm_mending_free(mending);
  wm_cases_free(cases);
  return status;
}

static enum wm_status use_compare(const wm_kb *kb, const struct wm_allocator *allocator) {
  wm_comparison *comparison = NULL;
  enum wm_status status = wm_compare(&comparison, kb, kb, 5, 1, allocator);
  wm_comparison_free(comparison);
  return status;
}

static void fail_at_each(enum wm_status (*use)(const wm_kb *, const struct wm_allocator *)) {
  wm_kb *kb = load(NULL, knowledge, NULL);
  /* Each of the first takings, then fewer: what comes later repeats itself case by case. */
  for (size_t n = 1;; n += 1 + n / 16) {
    struct failing_allocator failing;
    failing_allocator_init(&failing, n, true);
    enum wm_status status = use(kb, &failing.allocator);
    assert_int_equal(failing.bytes, 0);
    if (!failing_allocator_reached(&failing)) {
      assert_int_equal(status, WM_OK);
      assert_true(n > 20);
      break;
    }
    if (status != WM_INTERNAL) fail_msg("taking %zu failed, and the status is %d", n, (int)status);
  }
  wm_kb_free(kb);
}

static void memory_that_runs_out__is_told_and_nothing_leaks(void **state) {
  (void)state;
  fail_at_each(use_cases);
  fail_at_each(use_mend);
  fail_at_each(use_compare);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(wrong_calls__are_told_and_harmless),
      cmocka_unit_test(wm_cases__gives_verdicts_coverage_and_mutants),
      cmocka_unit_test(wm_mend__gives_edits),
      cmocka_unit_test(wm_compare__counts),
      cmocka_unit_test(memory_that_runs_out__is_told_and_nothing_leaks),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
