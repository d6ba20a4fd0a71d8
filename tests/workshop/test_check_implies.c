/* Implication and bounds: what they claim holds in every case run. */
#include <stdio.h>

#include "support/cases.h"
#include "support/knowledge.h"
#include "workshop/check_parts.h"
#include "workshop/small.h"

static struct knowledge knowledge;
static struct checker checker;

static void open_checker(void) {
  checker = (struct checker){.arena = knowledge.arena,
                             .network = knowledge.network,
                             .model = knowledge.model,
                             .run = run_new(NULL, knowledge.network),
                             .solver = solver_new(knowledge.arena, knowledge.network)};
  assert_non_null(checker.run);
  assert_non_null(checker.solver);
  check_bounds(&checker);
  assert_non_null(checker.dead);
}

static void close_checker(void) {
  run_free(checker.run);
  knowledge_free(&knowledge);
}

/* The factor from the condition a to b, beside the small knowledge. */
static double factor(const char *a, const char *b) {
  char text[16384];
  snprintf(text, sizeof text,
           SMALL SMALL_FINDING("shut") SMALL_FINDING("last")
               SMALL_GROUPED("shut-1", "{face: {below: -2}}", "{shut: strong}")
                   SMALL_GROUPED("shut-2", "{face: {below: -6}}", "{shut: near_certain}")
                       SMALL_RULE("a", "%s", "{last: hint}") SMALL_RULE("b", "%s", "{last: hint}"),
           a, b);
  if (!knowledge_load_text(&knowledge, text)) {
    knowledge_print(&knowledge);
    fail_msg("%s and %s do not load", a, b);
  }
  open_checker();
  double found =
      check_implies(&checker, knowledge.model->rules[model_find_rule(knowledge.model, "a")].when,
                    knowledge.model->rules[model_find_rule(knowledge.model, "b")].when);
  close_checker();
  return found;
}

static void check_implies__shapes(void **state) {
  (void)state;
  static const struct {
    const char *a, *b;
    double factor;
  } rows[] = {
      {"{face: {above: 3}}", "{face: {above: 2}}", 1},
      {"{face: {above: 2}}", "{face: {above: 3}}", 0},
      {"{face: {between: [1, 2]}}", "{face: {above: 0}}", 1},
      {"{face: {above: 3}}", "{face: {outside: [-3, 3]}}", 1},
      {"{face: {outside: [-4, 4]}}", "{face: {outside: [-3, 3]}}", 1},
      {"{face: {outside: [-3, 3]}}", "{face: {above: 3}}", 0},
      {"{none: [{face: {below: 3}}]}", "{face: {above: 3}}", 1},
      {"{none: [{face: {between: [-3, 3]}}]}", "{face: {outside: [-2, 2]}}", 1},
      {"{face: {above: 3}}", "{path: {above: 2}}", 0},
      {"{face: {above: 3}}", "{face: {known: yes}}", 1},
      {"{lie: rough}", "{lie: {one_of: [rough, sand]}}", 1},
      {"{none: [{lie: fairway}]}", "{lie: {one_of: [rough, sand]}}", 1},
      {"{lie: {one_of: [rough, sand]}}", "{lie: rough}", 0},
      {"{all: [{face: {above: 3}}, {lie: sand}]}", "{face: {above: 2}}", 1},
      {"{any: [{face: {above: 3}}, {lie: sand}]}", "{face: {above: 2}}", 0},
      {"{any: [{face: {above: 3}}, {face: {above: 5}}]}", "{face: {above: 2}}", 1},
      {"{face: {above: 3}}", "{all: [{face: {above: 2}}, {lie: sand}]}", 0},
      {"{all: [{lie: sand}, {face: {above: 3}}]}", "{all: [{face: {above: 2}}, {lie: sand}]}", 1},
      {"{open: {believed: 0.5}}", "{open: believed}", 1},
      {"{open: believed}", "{open: {believed: 0.5}}", 0},
      {"{open: believed}", "{face: {above: 1}}", 1}, /* its one rule reads above 2 */
      {"{open: believed}", "{face: {above: 3}}", 0},
      {"{shut: believed}", "{face: {below: -1}}", 1}, /* each rule of its one group */
      {"{shut: believed}", "{face: {below: -4}}", 0},
      {"{face: {above: 5}}", "{open: believed}", 0.8}, /* by a rule of strength 0.8 */
      {"{face: {above: 5}}", "{open: {believed: 0.5}}",
       0},                                                 /* a premise that just fires misses it */
      {"{weak: believed}", "{knuckles: {known: yes}}", 0}, /* several rules, one of them not */
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    double found = factor(rows[i].a, rows[i].b);
    if (found < rows[i].factor - 1e-9 || found > rows[i].factor + 1e-9)
      fail_msg("%s -> %s: %g", rows[i].a, rows[i].b, found);
  }
}

/* A pair of premises with its factor. */
struct claimed {
  size_t a, b;
  double factor;
};

static size_t claim_pairs(struct claimed *claimed, size_t room) {
  const struct network *network = knowledge.network;
  size_t n = 0;
  for (size_t claim = 0; claim < knowledge.model->n_claims; claim++)
    for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
         i++)
      for (size_t k = network->first_contribution[claim];
           k < network->first_contribution[claim + 1]; k++) {
        size_t a = network->contributions[i].rule, b = network->contributions[k].rule;
        double found = a == b ? 0
                              : check_implies(&checker, knowledge.model->rules[a].when,
                                              knowledge.model->rules[b].when);
        if (found > 0 && n < room) claimed[n++] = (struct claimed){a, b, found};
      }
  return n;
}

static void compare(const struct claimed *claimed, size_t *n_compared) {
  const struct run *run = checker.run;
  const struct judgement *a = &run->nodes[knowledge.network->rules[claimed->a].first_node];
  const struct judgement *b = &run->nodes[knowledge.network->rules[claimed->b].first_node];
  if (!a->known || !(a->belief > BELIEF_THRESHOLD)) return;
  ++*n_compared;
  if (!b->known || b->belief < claimed->factor * a->belief - 1e-9)
    fail_msg("'%s' at %g should make '%s' at least %g, not %g",
             knowledge.model->rules[claimed->a].name, a->belief,
             knowledge.model->rules[claimed->b].name, claimed->factor * a->belief, b->belief);
}

static void check_implies__is_sound_on_the_shipped_knowledge(void **state) {
  (void)state;
  enum { ROOM = 4000 };
  assert_true(knowledge_load_shipped(&knowledge, 0));
  open_checker();
  struct claimed *claimed = arena_new_array(knowledge.arena, struct claimed, ROOM);
  size_t n = claim_pairs(claimed, ROOM), n_compared = 0;
  uint64_t random = 5;
  for (int i = 0; i < 400; i++) {
    run_reset(checker.run);
    random_case(checker.run, &random, 30);
    assert_true(run_chain(checker.run, NULL));
    for (size_t k = 0; k < n; k++) compare(&claimed[k], &n_compared);
  }
  for (size_t i = 0; i < knowledge.model->n_cases; i++) {
    run_reset(checker.run);
    worked_case_give(checker.run, &knowledge.model->cases[i]);
    assert_true(run_chain(checker.run, NULL));
    for (size_t k = 0; k < n; k++) compare(&claimed[k], &n_compared);
  }
  assert_true(n > 20);
  assert_true(n_compared > 200);
  close_checker();
}

static void check_bounds__hold_on_the_shipped_knowledge(void **state) {
  (void)state;
  assert_true(knowledge_load_shipped(&knowledge, 0));
  open_checker();
  uint64_t random = 8;
  for (int i = 0; i < 300; i++) {
    run_reset(checker.run);
    random_case(checker.run, &random, 60);
    assert_true(run_chain(checker.run, NULL));
    for (size_t claim = 0; claim < knowledge.model->n_claims; claim++) {
      double certainty = checker.run->certainty[claim];
      if (certainty > checker.most[claim] + 1e-9 || certainty < checker.least[claim] - 1e-9)
        fail_msg("'%s' at %g is not within %g and %g", knowledge.model->claims[claim].name,
                 certainty, checker.least[claim], checker.most[claim]);
    }
  }
  close_checker();
}

/* A group gives its strongest member, others add up. */
static void check_bounds__add_up_by_the_algebra(void **state) {
  (void)state;
  assert_true(knowledge_load_text(
      &knowledge, SMALL SMALL_FINDING("sum") SMALL_FINDING("group") SMALL_FINDING("next")
                      SMALL_RULE("s1", "{face: {above: 2}}", "{sum: 0.5}")
                          SMALL_RULE("s2", "{path: {above: 2}}", "{sum: 0.4}") SMALL_RULE(
                              "s3", "{all: [{path: {above: 2}}, {path: {below: 1}}]}", "{sum: 0.9}")
                              SMALL_GROUPED("g1", "{face: {above: 2}}", "{group: 0.5}")
                                  SMALL_GROUPED("g2", "{path: {above: 2}}", "{group: 0.4}")
                                      SMALL_RULE("n1", "{group: believed}", "{next: 0.6}")));
  open_checker();
  const struct model *model = knowledge.model;
  assert_float_equal(checker.most[model_find_claim(model, "sum")], 0.7, 1e-9);
  assert_float_equal(checker.most[model_find_claim(model, "group")], 0.5, 1e-9);
  assert_float_equal(checker.most[model_find_claim(model, "next")], 0.3, 1e-9);
  assert_true(checker.dead[model_find_rule(model, "s3")]);
  close_checker();
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(check_implies__shapes),
      cmocka_unit_test(check_implies__is_sound_on_the_shipped_knowledge),
      cmocka_unit_test(check_bounds__hold_on_the_shipped_knowledge),
      cmocka_unit_test(check_bounds__add_up_by_the_algebra),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
