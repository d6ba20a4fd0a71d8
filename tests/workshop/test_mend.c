#include "support/cases.h"
#include "workshop/shop.h"

#include "workshop/mend.h"

struct fixture {
  struct knowledge knowledge;
  struct mending *mending;
};

static void mend(struct fixture *fixture, const char *cases, const char *name) {
  shop_load(&fixture->knowledge, cases);
  fixture->mending = mend_case(fixture->knowledge.arena, NULL, fixture->knowledge.network,
                               shop_case(&fixture->knowledge, name));
  assert_non_null(fixture->mending);
}

static const struct mend_edit *find(const struct mending *mending, enum edit_kind kind) {
  for (size_t i = 0; i < mending->n; i++)
    if (mending->edits[i].edit.kind == kind) return &mending->edits[i];
  return NULL;
}

/* Applies each edit anew, and runs this case and all others. */
static void assert_true_to_its_word(const struct fixture *fixture, const char *name) {
  const struct model *model = fixture->knowledge.model;
  struct arena *arena = arena_new(NULL);
  struct draft *draft = draft_new(arena, fixture->knowledge.network);
  struct run *run = run_new(NULL, &draft->network);
  for (size_t i = 0; i < fixture->mending->n; i++) {
    const struct mend_edit *edit = &fixture->mending->edits[i];
    size_t n_broken = 0, n_mended = 0;
    for (size_t k = 0; k < model->n_cases; k++) {
      const struct worked_case *worked = &model->cases[k];
      assert_true(case_chain(run, worked));
      bool before = case_holds(run, worked);
      assert_true(draft_apply(draft, &edit->edit));
      assert_true(case_chain(run, worked));
      bool after = case_holds(run, worked);
      draft_undo(draft);
      bool other = strcmp(worked->name, name) != 0;
      if (!other) assert_true(!before && after);
      n_broken += other && before && !after;
      n_mended += other && !before && after;
    }
    assert_int_equal(edit->n_broken, n_broken);
    assert_int_equal(edit->n_mended, n_mended);
  }
  run_free(run);
  arena_free(arena);
}

static void mend_case__finds_the_threshold(void **state) {
  struct fixture fixture;
  (void)state;
  /* 1.5 is not above 2, so nothing says that the face is open. */
  mend(&fixture,
       CASE("near", "path: -5, face: -3.5", "leading: steep")
           CASE("other", "path: -6, face: 1", "leading: steep"),
       "near");
  assert_int_equal(fixture.mending->before.n_failed, 1);
  assert_int_equal(fixture.mending->n_others, 1);
  const struct mend_edit *edit = find(fixture.mending, EDIT_THRESHOLD);
  assert_non_null(edit);
  assert_int_equal(edit->edit.rule, model_find_rule(fixture.knowledge.model, "open"));
  assert_true(edit->edit.limit < 1.5);
  assert_true(edit->size <= 3);
  assert_int_equal(edit->n_broken, 0);
  assert_true_to_its_word(&fixture, "near");
  knowledge_free(&fixture.knowledge);
}

static void mend_case__counts_what_breaks(void **state) {
  static const char cases[] = CASE("wanted", "path: -6, face: -7", "leading: aims_left")
      CASE("same-numbers", "path: -6, face: -7", "leading: none")
          CASE("cut", "path: -6, face: 1", "leading: steep");
  struct fixture fixture;
  (void)state;
  mend(&fixture, cases, "wanted");
  assert_true(fixture.mending->n > 0);
  for (size_t i = 0; i < fixture.mending->n; i++) {
    assert_true(fixture.mending->edits[i].n_broken >= 1); /* nothing tells the two apart */
    if (i > 0)
      assert_true(fixture.mending->edits[i - 1].n_broken <= fixture.mending->edits[i].n_broken);
  }
  assert_true_to_its_word(&fixture, "wanted");
  knowledge_free(&fixture.knowledge);
}

static void mend_case__offers_a_new_rule_and_a_clause(void **state) {
  static const char cases[] =
      CASE("in-the-rough", "path: -6, face: 1, lie: rough", "leading: weak_hold, drill: firm_hold")
          CASE("cut", "path: -6, face: 1, lie: fairway", "leading: steep, drill: gate");
  struct fixture fixture;
  (void)state;
  mend(&fixture, cases, "in-the-rough");
  const struct mend_edit *rule = find(fixture.mending, EDIT_RULE);
  const struct mend_edit *clause = find(fixture.mending, EDIT_ADD);
  assert_non_null(rule);
  bool for_wanted = rule->edit.claim == shop_claim(&fixture.knowledge, "weak_hold");
  assert_true(for_wanted == (rule->edit.strength > 0)); /* else against the one that led */
  assert_non_null(clause);
  assert_int_equal(clause->n_broken, 0);
  assert_true_to_its_word(&fixture, "in-the-rough");
  knowledge_free(&fixture.knowledge);
}

static void mend_case__changes_a_strength(void **state) {
  struct fixture fixture;
  (void)state;
  mend(&fixture, CASE("aim", "path: -9, face: -9, lie: fairway", "leading: aims_left, drill: line"),
       "aim");
  const struct mend_edit *edit = find(fixture.mending, EDIT_STRENGTH);
  assert_non_null(edit);
  assert_true(edit->edit.strength > 0.5);
  assert_true_to_its_word(&fixture, "aim");
  knowledge_free(&fixture.knowledge);
}

static void mend_case__leaves_a_right_case_alone(void **state) {
  struct fixture fixture;
  (void)state;
  mend(&fixture, shop_cases, "cut");
  assert_int_equal(fixture.mending->before.n_failed, 0);
  assert_int_equal(fixture.mending->n, 0);
  assert_int_equal(fixture.mending->n_tried, 0);
  knowledge_free(&fixture.knowledge);
}

static void mend_case__finds_nothing_where_nothing_helps(void **state) {
  struct fixture fixture;
  (void)state;
  /* No condition of any rule holds, so there is nothing a rule could say it from. */
  mend(&fixture, CASE("silent", "lie: fairway", "leading: steep"), "silent");
  assert_int_equal(fixture.mending->before.n_failed, 1);
  assert_int_equal(fixture.mending->n, 0);
  knowledge_free(&fixture.knowledge);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(mend_case__finds_the_threshold),
      cmocka_unit_test(mend_case__counts_what_breaks),
      cmocka_unit_test(mend_case__offers_a_new_rule_and_a_clause),
      cmocka_unit_test(mend_case__changes_a_strength),
      cmocka_unit_test(mend_case__leaves_a_right_case_alone),
      cmocka_unit_test(mend_case__finds_nothing_where_nothing_helps),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
