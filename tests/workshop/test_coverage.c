#include "support/cases.h"
#include "workshop/shop.h"

#include "workshop/cases.h"
#include "workshop/coverage.h"

struct fixture {
  struct knowledge knowledge;
  struct coverage *coverage;
};

static void gather(struct fixture *fixture, const char *cases) {
  struct arena *scratch = arena_new(NULL);
  shop_load(&fixture->knowledge, cases);
  fixture->coverage = coverage_new(fixture->knowledge.arena, fixture->knowledge.network);
  assert_non_null(fixture->coverage);
  struct run *run = run_new(NULL, fixture->knowledge.network);
  for (size_t i = 0; i < fixture->knowledge.model->n_cases; i++) {
    assert_true(case_chain(run, &fixture->knowledge.model->cases[i]));
    coverage_add(fixture->coverage, run, scratch);
    arena_reset(scratch);
  }
  run_free(run);
  arena_free(scratch);
}

static bool rule_seen(const struct fixture *fixture, enum covered kind, const char *name) {
  return fixture->coverage->seen[kind][model_find_rule(fixture->knowledge.model, name)];
}

static bool claim_seen(const struct fixture *fixture, enum covered kind, const char *name) {
  const struct model *model = fixture->knowledge.model;
  size_t first = kind == COVERED_DRILL ? model->first_drill : model->first_cause;
  return fixture->coverage->seen[kind][shop_claim(&fixture->knowledge, name) - first];
}

static size_t test_named(const struct fixture *fixture, const char *printed) {
  const struct network *network = fixture->knowledge.network;
  for (size_t i = 0; i < network->n_tests; i++)
    if (strcmp(network->tests[i].condition->printed, printed) == 0) return i;
  return NO_INDEX;
}

static void coverage__of_no_case_is_nothing(void **state) {
  struct fixture fixture;
  (void)state;
  gather(&fixture, "");
  for (size_t kind = 0; kind < COVERED_KINDS; kind++) {
    assert_int_equal(coverage_count(fixture.coverage, (enum covered)kind), 0);
    assert_true(fixture.coverage->of[kind] > 0);
  }
  assert_int_equal(fixture.coverage->of[COVERED_FIRED], SHOP_RULES);
  /* path, face_to_path, face twice, the formula */
  assert_int_equal(fixture.coverage->of[COVERED_BELOW], 5);
  knowledge_free(&fixture.knowledge);
}

static void coverage__marks_what_one_case_reaches(void **state) {
  struct fixture fixture;
  (void)state;
  gather(&fixture, CASE("cut", "path: -6, face: -1, lie: fairway", "leading: steep"));
  assert_true(rule_seen(&fixture, COVERED_FIRED, "left"));
  assert_false(rule_seen(&fixture, COVERED_FAILED, "left"));
  assert_true(rule_seen(&fixture, COVERED_FAILED, "weak"));
  assert_true(rule_seen(&fixture, COVERED_FAILED, "rough"));
  assert_true(claim_seen(&fixture, COVERED_LEADING, "steep"));
  assert_false(claim_seen(&fixture, COVERED_CANDIDATE, "steep"));
  assert_true(claim_seen(&fixture, COVERED_CANDIDATE, "aims_left"));
  assert_true(claim_seen(&fixture, COVERED_DRILL, "gate"));
  assert_false(claim_seen(&fixture, COVERED_DRILL, "line"));
  size_t path = test_named(&fixture, "path below -2.5 deg");
  assert_true(fixture.coverage->seen[COVERED_HELD][path]);
  assert_false(fixture.coverage->seen[COVERED_NOT_HELD][path]);
  size_t rough = test_named(&fixture, "lie is rough");
  assert_true(fixture.coverage->seen[COVERED_NOT_HELD][rough]);
  size_t formula = test_named(&fixture, "face > path + 6");
  for (size_t i = 0; i < fixture.coverage->of[COVERED_BELOW]; i++) {
    if (fixture.coverage->thresholds[i].test == path) {
      assert_true(fixture.coverage->seen[COVERED_BELOW][i]);
      assert_false(fixture.coverage->seen[COVERED_ABOVE][i]);
    }
    if (fixture.coverage->thresholds[i].test == formula) {
      assert_true(fixture.coverage->seen[COVERED_BELOW][i]); /* 5 is below 6 */
      assert_false(fixture.coverage->seen[COVERED_ABOVE][i]);
    }
  }
  knowledge_free(&fixture.knowledge);
}

static void coverage__shows_the_texts_behind_the_answer_only(void **state) {
  struct fixture fixture;
  (void)state;
  gather(&fixture, CASE("cut", "path: -6, face: -1, lie: fairway", "leading: steep"));
  const struct coverage *coverage = fixture.coverage;
  const struct model *model = fixture.knowledge.model;
  const bool *shown = coverage->seen[COVERED_TEXT];
  assert_true(shown[coverage->text_of_rule[model_find_rule(model, "steep")]]);
  assert_false(shown[coverage->text_of_rule[model_find_rule(model, "weak")]]);
  assert_true(shown[coverage->text_of_claim[shop_claim(&fixture.knowledge, "gate")]]);
  assert_false(shown[coverage->text_of_claim[shop_claim(&fixture.knowledge, "line")]]);
  assert_false(shown[coverage->text_of_red_flag[shop_claim(&fixture.knowledge, "hurts")]]);
  assert_int_equal(coverage->text_of_red_flag[shop_claim(&fixture.knowledge, "path_left")],
                   NO_INDEX);
  knowledge_free(&fixture.knowledge);
}

static void coverage__adds_up_over_cases(void **state) {
  struct fixture fixture;
  (void)state;
  gather(&fixture, shop_cases);
  assert_true(rule_seen(&fixture, COVERED_FIRED, "left"));
  assert_true(rule_seen(&fixture, COVERED_FAILED, "left"));
  assert_int_equal(coverage_count(fixture.coverage, COVERED_LEADING), 2);
  assert_int_equal(coverage_count(fixture.coverage, COVERED_DRILL), 2);
  knowledge_free(&fixture.knowledge);
}

static void coverage_percent__is_rounded_down(void **state) {
  (void)state;
  assert_int_equal(coverage_percent(999, 1000), 99);
  assert_int_equal(coverage_percent(1000, 1000), 100);
  assert_int_equal(coverage_percent(2, 3), 66);
  assert_int_equal(coverage_percent(0, 3), 0);
  assert_int_equal(coverage_percent(0, 0), 100);
}

static void coverage_place__points_at_what_is_meant(void **state) {
  struct fixture fixture;
  (void)state;
  gather(&fixture, shop_cases);
  for (size_t kind = 0; kind < COVERED_KINDS; kind++)
    for (size_t i = 0; i < fixture.coverage->of[kind]; i++)
      assert_true(coverage_place(fixture.coverage, (enum covered)kind, i).line > 0);
  struct span at = coverage_place(fixture.coverage, COVERED_FIRED,
                                  model_find_rule(fixture.knowledge.model, "steep"));
  size_t n;
  const char *line = source_line(at.source, at.line, &n);
  assert_memory_equal(line, "- rule: steep", strlen("- rule: steep"));
  knowledge_free(&fixture.knowledge);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(coverage__of_no_case_is_nothing),
      cmocka_unit_test(coverage__marks_what_one_case_reaches),
      cmocka_unit_test(coverage__shows_the_texts_behind_the_answer_only),
      cmocka_unit_test(coverage__adds_up_over_cases),
      cmocka_unit_test(coverage_percent__is_rounded_down),
      cmocka_unit_test(coverage_place__points_at_what_is_meant),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
