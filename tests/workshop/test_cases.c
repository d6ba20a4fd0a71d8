#include "support/cases.h"
#include "workshop/shop.h"

#include "workshop/cases.h"

struct fixture {
  struct knowledge knowledge;
  struct run *run;
  struct verdict verdict;
  bool holds;
};

static void judge(struct fixture *fixture, const char *cases, const char *name) {
  shop_load(&fixture->knowledge, cases);
  const struct worked_case *worked = shop_case(&fixture->knowledge, name);
  fixture->run = run_new(NULL, fixture->knowledge.network);
  assert_true(case_chain(fixture->run, worked));
  fixture->verdict = case_verdict(fixture->knowledge.arena, fixture->run, worked);
  fixture->holds = case_holds(fixture->run, worked);
}

static void done(struct fixture *fixture) {
  run_free(fixture->run);
  knowledge_free(&fixture->knowledge);
}

static void case_verdict__holds_when_all_is_as_expected(void **state) {
  static const char *const names[] = {"cut", "held-open", "straight"};
  (void)state;
  for (size_t i = 0; i < 3; i++) {
    struct fixture fixture;
    judge(&fixture, shop_cases, names[i]);
    assert_int_equal(fixture.verdict.n_failed, 0);
    assert_true(fixture.verdict.n >= 2);
    assert_true(fixture.holds);
    done(&fixture);
  }
}

static void case_verdict__tells_what_it_got(void **state) {
  struct fixture fixture;
  (void)state;
  judge(&fixture,
        CASE("wrong", "path: -6, face: 0",
             "leading: aims_left, drill: none, believed: [path_left, hurts], "
             "not_believed: [open_face, weak_hold]"),
        "wrong");
  const struct expectation *list = fixture.verdict.expectations;
  assert_int_equal(fixture.verdict.n, 6);
  assert_int_equal(fixture.verdict.n_failed, 4);
  assert_false(fixture.holds);
  assert_int_equal(list[0].kind, EXPECTED_LEADING);
  assert_int_equal(list[0].claim, shop_claim(&fixture.knowledge, "aims_left"));
  assert_int_equal(list[0].got, shop_claim(&fixture.knowledge, "steep"));
  assert_false(list[0].holds);
  assert_int_equal(list[1].kind, EXPECTED_DRILL);
  assert_int_equal(list[1].claim, NO_INDEX);
  assert_int_equal(list[1].got, shop_claim(&fixture.knowledge, "gate"));
  assert_true(list[2].holds);  /* path_left */
  assert_false(list[3].holds); /* hurts */
  assert_true(list[3].certainty == 0);
  assert_int_equal(list[4].kind, EXPECTED_NOT_BELIEVED);
  assert_false(list[4].holds); /* open_face */
  assert_true(list[4].certainty > 0.7);
  assert_true(list[5].holds); /* weak_hold */
  done(&fixture);
}

static void case_verdict__none_is_an_expectation_and_nothing_is_none(void **state) {
  struct fixture fixture;
  (void)state;
  judge(&fixture, CASE("quiet", "path: 0", ""), "quiet");
  assert_int_equal(fixture.verdict.n, 0);
  assert_true(fixture.holds);
  done(&fixture);
  judge(&fixture, CASE("quiet", "path: -6, face: 1", "leading: none"), "quiet");
  assert_int_equal(fixture.verdict.n_failed, 1);
  done(&fixture);
}

static void case_chain__forgets_the_case_before(void **state) {
  struct fixture fixture;
  (void)state;
  judge(&fixture, shop_cases, "cut");
  size_t lie = model_find_evidence(fixture.knowledge.model, "lie");
  assert_true(fixture.run->is_given[lie]);
  assert_true(case_chain(fixture.run, shop_case(&fixture.knowledge, "straight")));
  assert_false(fixture.run->is_given[lie]);
  assert_int_equal(run_leading(fixture.run), NO_INDEX);
  done(&fixture);
}

static void case_chain__mirrors_a_left_handed_case(void **state) {
  struct fixture fixture;
  (void)state;
  judge(&fixture,
        "- case: other\n  handed: left\n  evidence: {path: 6, face: -1}\n"
        "  expect: {leading: steep, believed: [path_left]}\n",
        "other");
  assert_int_equal(fixture.verdict.n_failed, 0);
  done(&fixture);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(case_verdict__holds_when_all_is_as_expected),
      cmocka_unit_test(case_verdict__tells_what_it_got),
      cmocka_unit_test(case_verdict__none_is_an_expectation_and_nothing_is_none),
      cmocka_unit_test(case_chain__forgets_the_case_before),
      cmocka_unit_test(case_chain__mirrors_a_left_handed_case),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
