/* The report of check as a whole: order, acceptances, and witnesses that can be run. */
#include "workshop/check.h"

#include <stdio.h>
#include <string.h>

#include "support/cases.h"
#include "support/knowledge.h"
#include "workshop/small.h"

static const struct check_options quick = {.seed = CHECK_SEED, .samples = 40};

#define COVERED                                                                                    \
  SMALL_FINDING("shut")                                                                            \
  SMALL_GROUPED("very-shut", "{face: {below: -5}}", "{shut: points}")                              \
  SMALL_GROUPED("widely-shut", "{face: {below: -4}}", "{shut: strong}")

static const struct check_report *report_on(struct knowledge *knowledge, const char *text) {
  if (!knowledge_load_text(knowledge, text)) {
    knowledge_print(knowledge);
    fail_msg("the knowledge does not load");
  }
  const struct check_report *report =
      check_knowledge(knowledge->arena, knowledge->network, &quick, NULL);
  assert_non_null(report);
  return report;
}

static void check_knowledge__finds_no_fault_in_sound_knowledge(void **state) {
  (void)state;
  struct knowledge knowledge;
  const struct check_report *report = report_on(&knowledge, SMALL);
  for (size_t i = 0; i < report->n; i++) print_message("%s\n", report->findings[i].diag.message);
  assert_int_equal(report->n, 0);
  knowledge_free(&knowledge);
}

/* The one finding of a code. */
static const struct check_finding *only(const struct check_report *report, enum diag_code code) {
  const struct check_finding *found = NULL;
  for (size_t i = 0; i < report->n; i++) {
    if (report->findings[i].diag.code != code) continue;
    assert_null(found);
    found = &report->findings[i];
  }
  assert_non_null(found);
  return found;
}

static void check_knowledge__accepts_with_a_reason(void **state) {
  (void)state;
  struct knowledge knowledge;
  const struct check_report *report = report_on(&knowledge, SMALL COVERED);
  assert_null(only(report, DIAG_COVERED)->accepted);
  assert_int_equal(report->n_warnings, 1);
  knowledge_free(&knowledge);

  /* widely-shut is the other of the two: it may accept as well. */
  report = report_on(&knowledge, SMALL COVERED "  accept: {covered: it is kept for its text}\n");
  assert_string_equal(only(report, DIAG_COVERED)->accepted->reason, "it is kept for its text");
  assert_int_equal(report->n_warnings, 0);
  assert_int_equal(report->n_accepted, 1);
  knowledge_free(&knowledge);
}

static void check_knowledge__tells_an_acceptance_of_nothing(void **state) {
  (void)state;
  struct knowledge knowledge;
  const struct check_report *report =
      report_on(&knowledge, SMALL COVERED "  accept: {unused: x}\n");
  const struct check_finding *finding = only(report, DIAG_ACCEPT_UNUSED);
  assert_string_equal(finding->diag.message, "nothing is left to accept as 'unused' here");
  assert_null(finding->accepted);
  knowledge_free(&knowledge);
}

/* What only a larger search would find is not missed in a small one. */
static void check_knowledge__leaves_acceptances_of_the_thorough_search(void **state) {
  (void)state;
  struct knowledge knowledge;
  const struct check_report *report =
      report_on(&knowledge, SMALL SMALL_RULE("sand-too", "{lie: rough}",
                                             "{weak: -suggests}") "  accept: {no-case-found: x}\n");
  assert_int_equal(report->n, 0);
  struct check_options thorough = quick;
  thorough.thorough = true;
  report = check_knowledge(knowledge.arena, knowledge.network, &thorough, NULL);
  only(report, DIAG_ACCEPT_UNUSED);
  knowledge_free(&knowledge);
}

/* ---- witnesses ---- */

static bool fires_in(const struct run *run, const char *rule) {
  return run->rules[model_find_rule(run->network->model, rule)] == RULE_FIRED;
}

static void check_witness_file__is_a_case_in_which_both_rules_fire(void **state) {
  (void)state;
  struct knowledge knowledge, again;
  const struct check_report *report = report_on(&knowledge, SMALL COVERED);
  const struct check_finding *finding = only(report, DIAG_COVERED);
  assert_string_equal(finding->name, "covered-very-shut");
  assert_string_equal(finding->command, "diagnose face=-8");
  struct text text;
  text_init(&text, knowledge.arena);
  text_add(&text, SMALL COVERED);
  check_witness_file(&text, knowledge.model, finding);
  assert_true(knowledge_load_text(&again, text_done(&text)));
  assert_int_equal(again.model->n_cases, 1);
  struct run *run = run_new(NULL, again.network);
  worked_case_give(run, &again.model->cases[0]);
  assert_true(run_chain(run, NULL));
  assert_true(fires_in(run, "very-shut"));
  assert_true(fires_in(run, "widely-shut"));
  run_free(run);
  knowledge_free(&again);
  knowledge_free(&knowledge);
}

/* A text in a witness is quoted for YAML and for a shell. */
static void check_witness_file__quotes_texts(void **state) {
  (void)state;
  struct knowledge knowledge, again;
  const struct check_report *report =
      report_on(&knowledge, SMALL SMALL_RULE("worn", "{words: {matches: '(\"(a+)+\\\\)+face$'}}",
                                             "{weak: suggests}"));
  const struct check_finding *finding = only(report, DIAG_SLOW_PATTERN);
  assert_memory_equal(finding->command, "diagnose 'words=\"a", 18);
  struct text text;
  text_init(&text, knowledge.arena);
  text_add(&text, SMALL);
  check_witness_file(&text, knowledge.model, finding);
  assert_true(knowledge_load_text(&again, text_done(&text)));
  assert_string_equal(again.model->cases[0].values[0].text, finding->witness.values[0].text);
  knowledge_free(&again);
  knowledge_free(&knowledge);
}

static void check_knowledge__takes_away_what_a_witness_can_do_without(void **state) {
  (void)state;
  struct knowledge knowledge;
  const struct check_report *report = report_on(
      &knowledge,
      SMALL SMALL_FINDING("shut") SMALL_GROUPED(
          "two", "{any: [{all: [{face: {below: -5}}, {lie: sand}]}, {face: {below: -6}}]}",
          "{shut: points}") SMALL_GROUPED("one", "{face: {below: -4}}", "{shut: strong}"));
  const struct check_finding *finding = only(report, DIAG_COVERED);
  assert_int_equal(finding->witness.n, 1);
  knowledge_free(&knowledge);
}

/* ---- order ---- */

static const char *all_told(struct knowledge *knowledge) {
  struct text text;
  const struct check_report *report =
      check_knowledge(knowledge->arena, knowledge->network, &quick, NULL);
  assert_non_null(report);
  text_init(&text, knowledge->arena);
  for (size_t i = 0; i < report->n; i++) {
    const struct check_finding *finding = &report->findings[i];
    text_format(&text, "%s %s %s\n", diag_word(finding->diag.code), finding->diag.message,
                finding->command ? finding->command : "");
  }
  return text_done(&text);
}

static void check_knowledge__bears_no_mark_of_the_order_of_files(void **state) {
  (void)state;
  struct knowledge a, b;
  assert_true(knowledge_load_shipped(&a, 0));
  assert_true(knowledge_load_shipped(&b, 77));
  assert_string_equal(all_told(&a), all_told(&b));
  knowledge_free(&a);
  knowledge_free(&b);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(check_knowledge__finds_no_fault_in_sound_knowledge),
      cmocka_unit_test(check_knowledge__accepts_with_a_reason),
      cmocka_unit_test(check_knowledge__tells_an_acceptance_of_nothing),
      cmocka_unit_test(check_knowledge__leaves_acceptances_of_the_thorough_search),
      cmocka_unit_test(check_witness_file__is_a_case_in_which_both_rules_fire),
      cmocka_unit_test(check_witness_file__quotes_texts),
      cmocka_unit_test(check_knowledge__takes_away_what_a_witness_can_do_without),
      cmocka_unit_test(check_knowledge__bears_no_mark_of_the_order_of_files),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
