#include "support/cases.h"

#include "explain/small.h"
#include "model/formula.h"

static size_t place(const struct small *small, const struct chain *chain, enum step_kind kind,
                    const char *name) {
  size_t index = kind == STEP_RULE    ? small_rule(small, name)
                 : kind == STEP_CLAIM ? small_claim(small, name)
                                      : model_find_evidence(small->model, name);
  return chain_find(chain, kind, index);
}

/* All readings and claims that a rule reads come before it, all its conclusions after it. */
static void check_order(const struct small *small, const struct chain *chain) {
  for (size_t i = 0; i < chain->n; i++) {
    if (chain->steps[i].kind == STEP_DERIVED) {
      const struct formula *formula = small->run->readings[chain->steps[i].index].formula;
      for (size_t k = 0; formula != NULL && k < formula->n_inputs; k++)
        assert_true(chain_find(chain, STEP_GIVEN, formula->inputs[k]) < i ||
                    chain_find(chain, STEP_DERIVED, formula->inputs[k]) < i);
    }
    if (chain->steps[i].kind != STEP_RULE) continue;
    const struct rule *rule = &small->model->rules[chain->steps[i].index];
    for (size_t k = 0; k < rule->n_then; k++)
      assert_true(chain_find(chain, STEP_CLAIM, rule->then[k].claim) > i);
    for (size_t k = 0; k < rule->when->n_clauses; k++)
      if (rule->when->clauses[k].claim != NO_INDEX &&
          small->run->claims[rule->when->clauses[k].claim] == CLAIM_KNOWN)
        assert_true(chain_find(chain, STEP_CLAIM, rule->when->clauses[k].claim) < i);
  }
}

static void chain_of_answer__holds_what_the_answer_rests_on(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct chain chain = chain_of_answer(small.arena, small.run, false);
  check_order(&small, &chain);
  assert_true(place(&small, &chain, STEP_GIVEN, "path") < chain.n);
  assert_true(place(&small, &chain, STEP_DERIVED, "face_to_path") < chain.n);
  assert_true(place(&small, &chain, STEP_RULE, "cut-means-steep") < chain.n);
  assert_true(place(&small, &chain, STEP_CLAIM, "steep") < chain.n);
  assert_int_equal(chain.steps[chain.n - 1].kind, STEP_DRILL);
  /* The overshadowed rule is a step too: it is told why it did not count. */
  assert_true(place(&small, &chain, STEP_RULE, "path-far-left") < chain.n);
  small_end(&small);
}

static void chain_of_answer__leaves_out_what_did_not_matter(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct chain chain = chain_of_answer(small.arena, small.run, false);
  assert_int_equal(place(&small, &chain, STEP_GIVEN, "pain"), NO_INDEX);
  assert_int_equal(place(&small, &chain, STEP_DERIVED, "loft"), NO_INDEX);
  assert_int_equal(place(&small, &chain, STEP_RULE, "straight-path"), NO_INDEX);
  assert_int_equal(chain.n_left_out, 3); /* club, loft, pain */
  struct chain all = chain_of_answer(small.arena, small.run, true);
  check_order(&small, &all);
  assert_int_equal(all.n_left_out, 0);
  assert_true(place(&small, &all, STEP_RULE, "straight-path") < all.n);
  assert_true(place(&small, &all, STEP_RULE, "soft-ball") < all.n);
  small_end(&small);
}

static void chain_of_answer__without_a_cause_is_what_was_found(void **state) {
  static const char *const aimed[] = {"feet=points_left", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, aimed);
  struct chain chain = chain_of_answer(small.arena, small.run, false);
  assert_int_equal(chain.n, 3);
  assert_int_equal(place(&small, &chain, STEP_CLAIM, "aimed_aside"), 2);
  small_end(&small);
}

static void chain_of_answer__tells_the_red_flag(void **state) {
  static const char *const pain[] = {"face=1", "path=-5", "feet=square", "pain=yes", NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, pain);
  struct chain chain = chain_of_answer(small.arena, small.run, false);
  assert_true(place(&small, &chain, STEP_CLAIM, "hurts") < chain.n);
  for (size_t i = 0; i < chain.n; i++) assert_int_not_equal(chain.steps[i].kind, STEP_DRILL);
  small_end(&small);
}

static void chain_of_answer__is_empty_when_nothing_is_given(void **state) {
  static const char *const nothing[] = {NULL};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  assert_int_equal(chain_of_answer(small.arena, small.run, false).n, 0);
  small_end(&small);
}

static void chain_readings__are_the_given_ones(void **state) {
  struct small small;
  size_t n;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct chain chain =
      chain_of_subject(small.arena, small.run, small_subject(&small, "cuts_across"));
  const size_t *readings = chain_readings(small.arena, &chain, &n);
  assert_int_equal(n, 2);
  assert_string_equal(small.model->evidence[readings[0]].name, "face");
  assert_string_equal(small.model->evidence[readings[1]].name, "path");
  small_end(&small);
}

static void tree_of_subject__lists_each_thing_once(void **state) {
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, small_cut);
  struct tree tree = tree_of_subject(small.arena, small.run, small_subject(&small, "steep"));
  assert_true(tree.n > 5);
  assert_int_equal(tree.branches[0].depth, 0);
  size_t fresh = 0;
  for (size_t i = 0; i < tree.n; i++) {
    bool seen = false;
    for (size_t k = 0; k < i; k++)
      seen = seen || (tree.branches[k].step.kind == tree.branches[i].step.kind &&
                      tree.branches[k].step.index == tree.branches[i].step.index);
    assert_int_equal(tree.branches[i].repeated, seen);
    fresh += !seen;
    assert_true(i == 0 || tree.branches[i].depth <= tree.branches[i - 1].depth + 1);
    /* The overshadowed rule did not count. */
    assert_false(tree.branches[i].step.kind == STEP_RULE &&
                 tree.branches[i].step.index == small_rule(&small, "path-far-left"));
  }
  assert_int_equal(fresh, 9);
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(chain_of_answer__holds_what_the_answer_rests_on),
      cmocka_unit_test(chain_of_answer__leaves_out_what_did_not_matter),
      cmocka_unit_test(chain_of_answer__without_a_cause_is_what_was_found),
      cmocka_unit_test(chain_of_answer__tells_the_red_flag),
      cmocka_unit_test(chain_of_answer__is_empty_when_nothing_is_given),
      cmocka_unit_test(chain_readings__are_the_given_ones),
      cmocka_unit_test(tree_of_subject__lists_each_thing_once),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
