#include "support/cases.h"
#include "workshop/shop.h"

#include "workshop/cases.h"
#include "workshop/mutate.h"

static struct mutants run_all(struct knowledge *knowledge, const char *cases, enum notice notice) {
  const struct worked_case *list[16];
  shop_load(knowledge, cases);
  for (size_t i = 0; i < knowledge->model->n_cases; i++) list[i] = &knowledge->model->cases[i];
  struct mutants mutants = mutants_list(knowledge->arena, knowledge->network);
  assert_true(mutants_run(&mutants, NULL, knowledge->network, list, knowledge->model->n_cases, NULL,
                          notice));
  return mutants;
}

static const struct mutant *find(const struct knowledge *knowledge, const struct mutants *mutants,
                                 enum mutation mutation, const char *rule, size_t which) {
  for (size_t i = 0; i < mutants->n; i++) {
    const struct mutant *mutant = &mutants->list[i];
    if (mutant->mutation == mutation &&
        mutant->edit.rule == model_find_rule(knowledge->model, rule) && which-- == 0)
      return mutant;
  }
  fail_msg("no such mutant");
  return NULL;
}

static void mutants_list__has_every_mistake_once(void **state) {
  struct knowledge knowledge;
  (void)state;
  shop_load(&knowledge, shop_cases);
  struct mutants mutants = mutants_list(knowledge.arena, knowledge.network);
  /* left 1 limit, open 1, weak 2, far-open 1: each down and up. */
  assert_int_equal(mutants.of[MUTATION_THRESHOLD], 10);
  /* left, open, steep 2, aim 2, weak 3, far-open, rough, and what the drill `line` needs. */
  assert_int_equal(mutants.of[MUTATION_FLIP], 12);
  /* steep 2, aim 2, weak 2 + 2. */
  assert_int_equal(mutants.of[MUTATION_DROP], 8);
  /* One a conclusion. */
  assert_int_equal(mutants.of[MUTATION_STRENGTH], 7);
  assert_int_equal(mutants.n, 37);
  knowledge_free(&knowledge);
}

static void mutants_list__shifts_by_one_reading_error(void **state) {
  struct knowledge knowledge;
  (void)state;
  shop_load(&knowledge, shop_cases);
  struct mutants mutants = mutants_list(knowledge.arena, knowledge.network);
  assert_true(find(&knowledge, &mutants, MUTATION_THRESHOLD, "left", 0)->edit.limit == -3.5);
  assert_true(find(&knowledge, &mutants, MUTATION_THRESHOLD, "left", 1)->edit.limit == -1.5);
  assert_true(find(&knowledge, &mutants, MUTATION_THRESHOLD, "open", 1)->edit.limit == 3.5);
  /* face - path - 6: the root of 1 + 1 */
  assert_float_equal(find(&knowledge, &mutants, MUTATION_THRESHOLD, "far-open", 1)->edit.limit,
                     1.414213562, 1e-6);
  knowledge_free(&knowledge);
}

static void mutants_run__notices_what_changes_an_expectation(void **state) {
  struct knowledge knowledge;
  (void)state;
  struct mutants mutants = run_all(&knowledge, shop_cases, NOTICE_VERDICT);
  assert_int_equal(mutants.n_cases, 3);
  assert_int_equal(mutants.n_left_out, 0);
  /* Turned round, `left` no longer leads to steep in the case cut, the first by name. */
  assert_int_equal(find(&knowledge, &mutants, MUTATION_FLIP, "left", 0)->noticed_by, 0);
  /* Halved it still leads: the case is touched, and nothing it expects changes. */
  const struct mutant *halved = find(&knowledge, &mutants, MUTATION_STRENGTH, "aim", 0);
  assert_int_equal(halved->noticed_by, NO_INDEX);
  assert_int_equal(halved->n_touching, 1);
  /* Turned round, `rough` takes the drill away on the fairway. */
  assert_int_equal(find(&knowledge, &mutants, MUTATION_FLIP, "rough", 0)->noticed_by, 0);
  knowledge_free(&knowledge);
}

static void mutants_run__is_as_a_run_of_each_mutant_says(void **state) {
  struct knowledge knowledge;
  (void)state;
  struct mutants mutants = run_all(&knowledge, shop_cases, NOTICE_VERDICT);
  struct draft *draft = draft_new(knowledge.arena, knowledge.network);
  struct run *run = run_new(NULL, &draft->network);
  for (size_t i = 0; i < mutants.n; i++) {
    size_t noticed_by = NO_INDEX;
    assert_true(draft_apply(draft, &mutants.list[i].edit));
    for (size_t k = 0; k < knowledge.model->n_cases && noticed_by == NO_INDEX; k++) {
      assert_true(case_chain(run, &knowledge.model->cases[k]));
      if (!case_holds(run, &knowledge.model->cases[k])) noticed_by = k;
    }
    draft_undo(draft);
    assert_int_equal(mutants.list[i].noticed_by, noticed_by);
  }
  run_free(run);
  knowledge_free(&knowledge);
}

static void mutants_run__each_level_notices_what_the_one_before_does(void **state) {
  struct knowledge knowledge[3];
  struct mutants mutants[3];
  (void)state;
  for (size_t level = 0; level < 3; level++)
    mutants[level] = run_all(&knowledge[level], shop_cases, (enum notice)level);
  for (size_t i = 0; i < mutants[0].n; i++)
    for (size_t level = 1; level < 3; level++)
      if (mutants[level - 1].list[i].noticed_by != NO_INDEX)
        assert_int_not_equal(mutants[level].list[i].noticed_by, NO_INDEX);
  assert_true(mutants[2].n_noticed > mutants[0].n_noticed);
  for (size_t level = 0; level < 3; level++) knowledge_free(&knowledge[level]);
}

static void mutants_run__leaves_out_a_case_that_fails(void **state) {
  struct knowledge knowledge;
  (void)state;
  struct mutants mutants = run_all(
      &knowledge, CASE("wrong", "path: -6, face: 1", "leading: weak_hold"), NOTICE_CERTAINTY);
  assert_int_equal(mutants.n_cases, 0);
  assert_int_equal(mutants.n_left_out, 1);
  assert_int_equal(mutants.n_noticed, 0);
  knowledge_free(&knowledge);
}

static void mutants_run__without_cases_notices_nothing(void **state) {
  struct knowledge knowledge;
  (void)state;
  struct mutants mutants = run_all(&knowledge, "", NOTICE_VERDICT);
  assert_int_equal(mutants.n_noticed, 0);
  assert_int_equal(mutants.n, 37);
  knowledge_free(&knowledge);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(mutants_list__has_every_mistake_once),
      cmocka_unit_test(mutants_list__shifts_by_one_reading_error),
      cmocka_unit_test(mutants_run__notices_what_changes_an_expectation),
      cmocka_unit_test(mutants_run__is_as_a_run_of_each_mutant_says),
      cmocka_unit_test(mutants_run__each_level_notices_what_the_one_before_does),
      cmocka_unit_test(mutants_run__leaves_out_a_case_that_fails),
      cmocka_unit_test(mutants_run__without_cases_notices_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
