/* An edit in a draft must come to the same as the edited text read anew: that is checked edit by
 * edit, and on drawn cases. */
#include <math.h>

#include "support/cases.h"
#include "workshop/shop.h"

#include "workshop/cases.h"
#include "workshop/draft.h"
#include "workshop/mutate.h"

struct bench {
  struct knowledge knowledge;
  struct arena *arena;
  struct draft *draft;
  struct run *before, *after;
};

static void start(struct bench *bench) {
  shop_load(&bench->knowledge, shop_cases);
  bench->arena = arena_new(NULL);
  bench->draft = draft_new(bench->arena, bench->knowledge.network);
  bench->before = run_new(NULL, &bench->draft->network);
  bench->after = run_new(NULL, &bench->draft->network);
}

static void end(struct bench *bench) {
  run_free(bench->before);
  run_free(bench->after);
  arena_free(bench->arena);
  knowledge_free(&bench->knowledge);
}

static size_t rule_of(const struct bench *bench, const char *name) {
  return model_find_rule(bench->knowledge.model, name);
}

static size_t root_of(const struct bench *bench, const char *rule) {
  return bench->knowledge.network->rules[rule_of(bench, rule)].first_node;
}

/* The node below the rule's premise whose condition prints so. */
static size_t leaf(const struct bench *bench, const char *rule, const char *printed) {
  const struct network *network = bench->knowledge.network;
  size_t root = root_of(bench, rule);
  for (size_t i = root; i < root + network->nodes[root].n_nodes; i++)
    if (network->nodes[i].test != NO_INDEX &&
        strcmp(network->tests[network->nodes[i].test].condition->printed, printed) == 0)
      return i;
  fail_msg("no condition '%s'", printed);
  return 0;
}

static size_t test_of(const struct bench *bench, const char *printed) {
  for (size_t i = 0; i < bench->knowledge.network->n_tests; i++)
    if (strcmp(bench->knowledge.network->tests[i].condition->printed, printed) == 0) return i;
  fail_msg("no test '%s'", printed);
  return 0;
}

static size_t contribution(const struct bench *bench, const char *rule, const char *claim) {
  const struct network *network = bench->knowledge.network;
  for (size_t i = 0; i < network->n_contributions; i++)
    if (network->contributions[i].rule == rule_of(bench, rule) &&
        network->contributions[i].claim == shop_claim(&bench->knowledge, claim))
      return i;
  return NO_INDEX;
}

static void assert_same_answer(const struct run *a, const struct run *b) {
  const struct model *model = a->network->model;
  for (size_t i = 0; i < model->n_claims; i++)
    if (fabs(a->certainty[i] - b->certainty[i]) > 1e-12 || a->claims[i] != b->claims[i])
      fail_msg("%s: %f and %f", model->claims[i].name, a->certainty[i], b->certainty[i]);
  assert_int_equal(run_leading(a), run_leading(b));
  assert_int_equal(run_drill(a), run_drill(b));
}

/* The edit in force against the text with the edit, on 200 drawn cases. */
static void assert_like_text(struct bench *bench, const struct edit *edit, enum shop_rule replaced,
                             const char *rule, const char *more) {
  struct knowledge edited;
  uint64_t state = 7;
  shop_load_with(&edited, replaced, rule, more, shop_cases);
  struct run *other = run_new(NULL, edited.network);
  assert_true(draft_apply(bench->draft, edit));
  for (int i = 0; i < 200; i++) {
    run_reset(bench->after);
    run_reset(other);
    random_case(bench->after, &state, 4);
    other->hand = bench->after->hand;
    for (size_t k = 0; k < edited.model->n_evidence; k++)
      if (bench->after->is_given[k]) run_give(other, &bench->after->values[k]);
    assert_true(run_chain(bench->after, NULL) && run_chain(other, NULL));
    assert_same_answer(bench->after, other);
  }
  draft_undo(bench->draft);
  run_free(other);
  knowledge_free(&edited);
}

static void draft_apply__moves_a_threshold(void **state) {
  struct bench bench;
  (void)state;
  start(&bench);
  struct edit edit = {.kind = EDIT_THRESHOLD,
                      .rule = rule_of(&bench, "left"),
                      .node = leaf(&bench, "left", "path below -2.5 deg"),
                      .upper = true,
                      .limit = 4};
  assert_like_text(&bench, &edit, R_LEFT,
                   RULE("left", "path: {below: 4}", "then: {path_left: strong}"), "");
  edit = (struct edit){.kind = EDIT_THRESHOLD,
                       .rule = rule_of(&bench, "weak"),
                       .node = leaf(&bench, "weak", "face between 3 and 9 deg"),
                       .limit = -2};
  assert_like_text(&bench, &edit, R_WEAK,
                   RULE("weak",
                        "all: [open_face: believed, any: [face: {between: [-2, 9]}, lie: rough]]",
                        "then: {weak_hold: points}"),
                   "");
  edit = (struct edit){.kind = EDIT_THRESHOLD,
                       .rule = rule_of(&bench, "far-open"),
                       .node = root_of(&bench, "far-open"),
                       .limit = -4};
  assert_like_text(&bench, &edit, R_FORMULA,
                   RULE("far-open", "formula: \"face > path + 2\"", "then: {weak_hold: suggests}"),
                   "");
  edit = (struct edit){.kind = EDIT_THRESHOLD,
                       .rule = rule_of(&bench, "steep"),
                       .node = leaf(&bench, "steep", "open_face believed above 0.4"),
                       .limit = 0.7};
  assert_like_text(&bench, &edit, R_STEEP,
                   RULE("steep", "all: [path_left: believed, open_face: {believed: 0.7}]",
                        "then: {steep: strong}"),
                   "");
  end(&bench);
}

static void draft_apply__turns_a_condition_round(void **state) {
  struct bench bench;
  (void)state;
  start(&bench);
  struct edit edit = {.kind = EDIT_FLIP,
                      .rule = rule_of(&bench, "left"),
                      .node = leaf(&bench, "left", "path below -2.5 deg")};
  assert_like_text(&bench, &edit, R_LEFT,
                   RULE("left", "path: {above: -2.5}", "then: {path_left: strong}"), "");
  edit = (struct edit){.kind = EDIT_FLIP,
                       .rule = rule_of(&bench, "weak"),
                       .node = leaf(&bench, "weak", "lie is rough")};
  assert_like_text(
      &bench, &edit, R_WEAK,
      RULE("weak", "all: [open_face: believed, any: [face: {between: [3, 9]}, none: [lie: rough]]]",
           "then: {weak_hold: points}"),
      "");
  end(&bench);
}

static void draft_apply__drops_a_clause(void **state) {
  struct bench bench;
  (void)state;
  start(&bench);
  struct edit edit = {.kind = EDIT_DROP,
                      .rule = rule_of(&bench, "aim"),
                      .node = leaf(&bench, "aim", "path_left believed above 0.2")};
  assert_like_text(&bench, &edit, R_AIM,
                   RULE("aim", "all: [none: [lie: rough]]", "then: {aims_left: 0.5, steep: -hint}"),
                   "");
  edit.node = leaf(&bench, "aim", "lie is rough") - 1; /* the whole `none` */
  assert_like_text(
      &bench, &edit, R_AIM,
      RULE("aim", "all: [path_left: believed]", "then: {aims_left: 0.5, steep: -hint}"), "");
  end(&bench);
}

static void draft_apply__adds_a_clause(void **state) {
  struct bench bench;
  (void)state;
  start(&bench);
  struct edit edit = {.kind = EDIT_ADD,
                      .rule = rule_of(&bench, "steep"),
                      .clauses = {{test_of(&bench, "lie is rough"), true}},
                      .n_clauses = 1};
  assert_like_text(
      &bench, &edit, R_STEEP,
      RULE("steep", "all: [path_left: believed, open_face: {believed: 0.4}, none: [lie: rough]]",
           "then: {steep: strong}"),
      "");
  end(&bench);
}

static void draft_apply__changes_a_strength(void **state) {
  struct bench bench;
  (void)state;
  start(&bench);
  struct edit edit = {.kind = EDIT_STRENGTH,
                      .rule = rule_of(&bench, "aim"),
                      .contribution = contribution(&bench, "aim", "steep"),
                      .strength = -0.1};
  assert_like_text(&bench, &edit, R_AIM,
                   RULE("aim", "all: [path_left: believed, none: [lie: rough]]",
                        "then: {aims_left: 0.5, steep: -0.1}"),
                   "");
  end(&bench);
}

static void draft_apply__adds_a_rule(void **state) {
  struct bench bench;
  (void)state;
  start(&bench);
  struct edit edit = {.kind = EDIT_RULE,
                      .rule = NO_INDEX,
                      .claim = shop_claim(&bench.knowledge, "aims_left"),
                      .strength = 0.8,
                      .clauses = {{test_of(&bench, "open_face believed above 0.2"), false},
                                  {test_of(&bench, "lie is rough"), true}},
                      .n_clauses = 2};
  assert_like_text(&bench, &edit, SHOP_RULES, "",
                   RULE("zz-new", "all: [open_face: believed, none: [lie: rough]]",
                        "then: {aims_left: strong}"));
  end(&bench);
}

static enum removal removal_of(const struct run *run, size_t drill) {
  for (size_t i = 0; i < run->n_drills; i++)
    if (run->drills[i].claim == drill) return run->drills[i].removal;
  fail_msg("the drill is not ranked");
  return REMOVAL_NONE;
}

static void draft_apply__edits_what_a_drill_needs(void **state) {
  struct bench bench;
  (void)state;
  start(&bench);
  size_t line = shop_claim(&bench.knowledge, "line");
  struct edit edit = {.kind = EDIT_FLIP,
                      .rule = NO_INDEX,
                      .claim = line,
                      .node = bench.knowledge.network->needs[line]};
  struct worked_case worked = *shop_case(&bench.knowledge, "cut");
  struct value values[8];
  memcpy(values, worked.values, worked.n_values * sizeof *values);
  values[worked.n_values] =
      (struct value){.evidence = model_find_evidence(bench.knowledge.model, "sticks"),
                     .choice = 1,
                     .sure = 1,
                     .shots = 1};
  worked.values = values;
  worked.n_values++;
  assert_true(case_chain(bench.before, &worked));
  assert_int_equal(removal_of(bench.before, line), REMOVAL_NONE);
  assert_true(draft_apply(bench.draft, &edit));
  assert_true(draft_touches(bench.draft, bench.before));
  assert_true(case_chain(bench.after, &worked));
  assert_int_equal(removal_of(bench.after, line), REMOVAL_NEEDS);
  end(&bench);
}

static void draft_apply__refuses_what_cannot_be(void **state) {
  struct bench bench;
  (void)state;
  start(&bench);
  struct edit edit = {.kind = EDIT_THRESHOLD,
                      .rule = rule_of(&bench, "weak"),
                      .node = leaf(&bench, "weak", "face between 3 and 9 deg"),
                      .limit = 9};
  assert_false(draft_apply(bench.draft, &edit)); /* nothing is between 9 and 9 */
  edit = (struct edit){.kind = EDIT_ADD,
                       .rule = rule_of(&bench, "left"),
                       .clauses = {{test_of(&bench, "path_left believed above 0.2"), false}},
                       .n_clauses = 1};
  assert_false(draft_apply(bench.draft, &edit)); /* it would read what it concludes */
  edit = (struct edit){.kind = EDIT_RULE,
                       .claim = shop_claim(&bench.knowledge, "path_left"),
                       .rule = NO_INDEX,
                       .strength = 0.5,
                       .clauses = {{test_of(&bench, "open_face believed above 0.2"), false}},
                       .n_clauses = 1};
  assert_false(draft_apply(bench.draft, &edit)); /* open_face is of the same layer */
  assert_false(bench.draft->edited);
  end(&bench);
}

/* Every mutant: undone it leaves no mark, and a case it does not touch comes to the same. */
static void draft_undo__leaves_no_mark_and_touches_is_exact(void **state) {
  struct bench bench;
  uint64_t seed = 11;
  size_t n_touched = 0, n_untouched = 0;
  (void)state;
  start(&bench);
  struct mutants mutants = mutants_list(bench.arena, bench.knowledge.network);
  struct run *origin = run_new(NULL, bench.knowledge.network);
  for (int i = 0; i < 40; i++) {
    run_reset(bench.before);
    random_case(bench.before, &seed, 4);
    assert_true(run_chain(bench.before, NULL));
    for (size_t k = 0; k < mutants.n; k++) {
      if (!draft_apply(bench.draft, &mutants.list[k].edit)) continue;
      bool touches = draft_touches(bench.draft, bench.before);
      assert_true(run_chain_like(bench.after, bench.before));
      if (!touches) assert_same_answer(bench.before, bench.after);
      n_touched += touches;
      n_untouched += !touches;
      draft_undo(bench.draft);
    }
    assert_true(run_chain_like(bench.after, bench.before));
    assert_same_answer(bench.before, bench.after);
    run_reset(origin);
    origin->hand = bench.before->hand;
    for (size_t k = 0; k < bench.knowledge.model->n_evidence; k++)
      if (bench.before->is_given[k]) run_give(origin, &bench.before->values[k]);
    assert_true(run_chain(origin, NULL));
    assert_same_answer(origin, bench.after);
  }
  assert_true(n_touched > 200 && n_untouched > 200);
  run_free(origin);
  end(&bench);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(draft_apply__moves_a_threshold),
      cmocka_unit_test(draft_apply__turns_a_condition_round),
      cmocka_unit_test(draft_apply__drops_a_clause),
      cmocka_unit_test(draft_apply__adds_a_clause),
      cmocka_unit_test(draft_apply__changes_a_strength),
      cmocka_unit_test(draft_apply__adds_a_rule),
      cmocka_unit_test(draft_apply__edits_what_a_drill_needs),
      cmocka_unit_test(draft_apply__refuses_what_cannot_be),
      cmocka_unit_test(draft_undo__leaves_no_mark_and_touches_is_exact),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
