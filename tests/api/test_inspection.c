/* Inspection through the public library: whymiss.h only, on knowledge from memory. */
#include <stdio.h>
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"
#include "whymiss.h"
#include "workshop/small.h"

#define SOUND SMALL
#define FAULTS                                                                                     \
  SMALL_FINDING("shut")                                                                            \
  SMALL_GROUPED("very-shut", "{face: {below: -5}}", "{shut: points}")                              \
  SMALL_GROUPED("widely-shut", "{face: {below: -4}}", "{shut: strong}")                            \
  SMALL_RULE("fine", "{path: {above: 9}}", "{weak: 0.45}")                                         \
  "  accept: {strength-off-table: practice}\n"

struct output {
  char bytes[65536];
  size_t n;
};

static int collect(void *context, const char *bytes, size_t n) {
  struct output *output = context;
  if (n >= sizeof output->bytes - output->n) return -1;
  memcpy(output->bytes + output->n, bytes, n);
  output->n += n;
  output->bytes[output->n] = '\0';
  return 0;
}

static int refuse(void *context, const char *bytes, size_t n) {
  (void)context;
  (void)bytes;
  (void)n;
  return -1;
}

static wm_kb *load(const char *text) {
  const struct wm_file file = {.name = "kb.yaml", .bytes = text, .n = strlen(text)};
  wm_kb *kb = NULL;
  assert_int_equal(wm_kb_load_memory(&kb, &file, 1, NULL, NULL), WM_OK);
  return kb;
}

static wm_inspection *inspect(const wm_kb *kb) {
  const struct wm_inspect how = {.impacts = 5};
  wm_inspection *inspection = NULL;
  assert_int_equal(wm_kb_inspect(&inspection, kb, &how, NULL), WM_OK);
  return inspection;
}

static void wm_kb_check__tells_warnings_and_notes(void **state) {
  (void)state;
  wm_kb *sound = load(SOUND), *faulty = load(SMALL FAULTS);
  wm_diags *diags = wm_diags_new(NULL);
  assert_int_equal(wm_kb_check(sound, diags), WM_OK);
  assert_int_equal(wm_diags_count(diags), 0);
  assert_int_equal(wm_kb_check(faulty, diags), WM_FINDINGS);
  assert_int_equal(wm_kb_check(faulty, NULL), WM_FINDINGS);
  assert_int_equal(wm_diags_count(diags), 1);
  wm_kb_free(faulty); /* what was told outlives what it speaks of */
  struct wm_diag diag;
  assert_true(wm_diags_get(diags, 0, &diag));
  assert_string_equal(diag.code, "covered");
  static struct output output;
  assert_int_equal(wm_diags_write(diags, collect, &output), WM_OK);
  assert_non_null(strstr(output.bytes, "see it with: whymiss diagnose face=-8"));
  wm_diags_free(diags);
  wm_kb_free(sound);
}

static void wm_inspection_get__walks_all_also_the_accepted(void **state) {
  (void)state;
  wm_kb *kb = load(SMALL FAULTS);
  wm_inspection *inspection = inspect(kb);
  struct wm_inspection_counts counts;
  struct wm_flaw flaw;
  wm_inspection_count(inspection, &counts);
  assert_int_equal(counts.findings, 2);
  assert_int_equal(counts.warnings, 1);
  assert_int_equal(counts.notes, 0);
  assert_int_equal(counts.accepted, 1);
  assert_true(wm_inspection_get(inspection, 0, &flaw));
  assert_string_equal(flaw.diag.code, "covered");
  assert_string_equal(flaw.witness, "covered-very-shut");
  assert_string_equal(flaw.command, "diagnose face=-8");
  assert_null(flaw.accepted);
  assert_true(wm_inspection_get(inspection, 1, &flaw));
  assert_string_equal(flaw.diag.code, "strength-off-table");
  assert_string_equal(flaw.accepted, "practice");
  assert_null(flaw.witness);
  assert_false(wm_inspection_get(inspection, 2, &flaw));
  wm_inspection_free(inspection);
  wm_kb_free(kb);
}

static void wm_inspection_write_witness__is_a_case_file(void **state) {
  (void)state;
  static struct output output;
  wm_kb *kb = load(SMALL FAULTS);
  wm_inspection *inspection = inspect(kb);
  wm_case *player = NULL;
  assert_int_equal(wm_inspection_write_witness(inspection, 0, collect, &output), WM_OK);
  assert_int_equal(wm_case_new(&player, kb, NULL), WM_OK);
  assert_int_equal(wm_case_load_memory(player, "w.yaml", output.bytes, output.n, NULL), WM_OK);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(wm_inspection_write_witness(inspection, 1, collect, &output), WM_USAGE);
  assert_int_equal(wm_inspection_write_witness(inspection, 9, collect, &output), WM_USAGE);
  wm_case_free(player);
  wm_inspection_free(inspection);
  wm_kb_free(kb);
}

static void wm_inspection_write__writes_what_there_is(void **state) {
  (void)state;
  static struct output output;
  wm_kb *kb = load(SMALL FAULTS);
  wm_inspection *inspection = inspect(kb);
  assert_int_equal(wm_inspection_write(inspection, NULL, WM_LOG_JSON, collect, &output), WM_OK);
  assert_non_null(strstr(output.bytes, "\"whymiss-check\""));
  output.n = 0;
  assert_int_equal(wm_inspection_write(inspection, NULL, WM_LOG_SARIF, collect, &output), WM_OK);
  assert_non_null(strstr(output.bytes, "\"suppressions\""));
  output.n = 0;
  assert_int_equal(wm_inspection_write(NULL, NULL, WM_LOG_SARIF, collect, &output), WM_OK);
  assert_int_equal(wm_inspection_write(inspection, NULL, WM_LOG_JSON, refuse, NULL), WM_INTERNAL);
  wm_inspection_free(inspection);
  wm_kb_free(kb);
}

static void wm_explain_code__knows_each_code(void **state) {
  (void)state;
  static struct output output;
  wm_diags *diags = wm_diags_new(NULL);
  struct wm_diag diag;
  assert_int_equal(wm_explain_code("never-fires", "here", collect, &output, diags), WM_OK);
  assert_non_null(strstr(output.bytes, "accept: {never-fires: the reason}"));
  output.n = 0;
  assert_int_equal(wm_explain_code("yaml-syntax", "here", collect, &output, diags), WM_OK);
  assert_null(strstr(output.bytes, "accept")); /* an error is not accepted */
  assert_int_equal(wm_explain_code("neverfires", "here", collect, &output, diags), WM_INPUT_FAULTY);
  assert_true(wm_diags_get(diags, 0, &diag));
  assert_string_equal(diag.source, "here");
  assert_string_equal(diag.hint, "did you mean 'never-fires'?");
  wm_diags_free(diags);
}

static void wm_kb_inspect__refuses_what_is_missing(void **state) {
  (void)state;
  wm_kb *kb = load(SOUND);
  wm_inspection *inspection = NULL;
  struct wm_flaw flaw;
  wm_diags *diags = wm_diags_new(NULL);
  assert_int_equal(wm_kb_inspect(NULL, kb, NULL, NULL), WM_USAGE);
  assert_int_equal(wm_kb_inspect(&inspection, NULL, NULL, NULL), WM_USAGE);
  assert_int_equal(wm_kb_check(NULL, NULL), WM_USAGE);
  assert_int_equal(wm_inspection_tell(NULL, diags), WM_USAGE);
  assert_int_equal(wm_inspection_write(NULL, NULL, WM_LOG_JSON, NULL, NULL), WM_USAGE);
  assert_int_equal(wm_explain_code(NULL, NULL, collect, NULL, NULL), WM_USAGE);
  assert_false(wm_inspection_get(NULL, 0, &flaw));
  wm_inspection_free(NULL);
  wm_diags_free(diags);
  wm_kb_free(kb);
}

static void wm_kb_inspect__without_memory(void **state) {
  (void)state;
  wm_kb *kb = load(SMALL FAULTS);
  struct failing_allocator failing;
  size_t n = 1;
  do {
    const struct wm_inspect how = {.impacts = 1};
    wm_inspection *inspection = NULL;
    failing_allocator_init(&failing, n, true);
    enum wm_status status = wm_kb_inspect(&inspection, kb, &how, &failing.allocator);
    assert_int_equal(status, failing_allocator_reached(&failing) ? WM_INTERNAL : WM_OK);
    assert_true((inspection == NULL) == (status != WM_OK));
    wm_inspection_free(inspection);
    assert_int_equal(failing.bytes, 0);
    n += 1 + n / 10;
  } while (failing_allocator_reached(&failing));
  assert_true(n > 20);
  wm_kb_free(kb);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(wm_kb_check__tells_warnings_and_notes),
      cmocka_unit_test(wm_inspection_get__walks_all_also_the_accepted),
      cmocka_unit_test(wm_inspection_write_witness__is_a_case_file),
      cmocka_unit_test(wm_inspection_write__writes_what_there_is),
      cmocka_unit_test(wm_explain_code__knows_each_code),
      cmocka_unit_test(wm_kb_inspect__refuses_what_is_missing),
      cmocka_unit_test(wm_kb_inspect__without_memory),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
