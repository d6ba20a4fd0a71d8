/* The search through the layers: what it proves never to hold does not hold in any case run, and
 * what it offers can be run. */
#include <stdio.h>

#include "workshop/check_solve.h"

#include "run/run.h"
#include "support/cases.h"
#include "support/knowledge.h"
#include "workshop/small.h"

static struct knowledge knowledge;

static void load(const char *more) {
  char text[16384];
  snprintf(text, sizeof text, "%s%s", SMALL, more);
  if (!knowledge_load_text(&knowledge, text)) {
    knowledge_print(&knowledge);
    fail_msg("the knowledge does not load");
  }
}

/* What a search for the rule of that name comes to. */
static enum solved search(const char *name) {
  struct solver *solver = solver_new(knowledge.arena, knowledge.network);
  size_t rule = model_find_rule(knowledge.model, name);
  assert_non_null(solver);
  assert_true(rule != NO_INDEX);
  const struct solve_goal goal = {knowledge.model->rules[rule].when, false};
  return solver_search(solver, &goal, 1, NULL, NULL);
}

static enum solved search_when(const char *when) {
  char more[1024];
  snprintf(more, sizeof more,
           SMALL_FINDING("shut")
               SMALL_RULE("shut-face", "{face: {below: -2}}", "{shut: strong, open: -strong}")
                   SMALL_RULE("asked", "%s", "{weak: hint}"),
           when);
  load(more);
  enum solved solved = search("asked");
  knowledge_free(&knowledge);
  return solved;
}

static void solver_search__intervals(void **state) {
  (void)state;
  static const struct {
    const char *when;
    enum solved solved;
  } rows[] = {
      {"{all: [{face: {above: 2}}, {face: {below: 4}}]}", SOLVED_FOUND},
      {"{all: [{face: {above: 4}}, {face: {below: 4}}]}", SOLVED_NEVER},
      {"{all: [{face: {above: 2}}, {face: {outside: [-5, 5]}}]}", SOLVED_FOUND},
      {"{all: [{face: {between: [-4, 4]}}, {face: {outside: [-5, 5]}}]}", SOLVED_NEVER},
      {"{face: {above: 20}}", SOLVED_NEVER},
      {"{all: [{face: {above: 2}}, {none: [{face: {above: 1}}]}]}", SOLVED_NEVER},
      {"{all: [{any: [{face: {above: 9}}, {path: {above: 9}}]}, {face: {below: 0}}]}",
       SOLVED_FOUND},
      {"{all: [{any: [{face: {above: 9}}, {face: {above: 7}}]}, {face: {below: 0}}]}",
       SOLVED_NEVER},
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++)
    if (search_when(rows[i].when) != rows[i].solved) fail_msg("%s", rows[i].when);
}

static void solver_search__words(void **state) {
  (void)state;
  assert_int_equal(search_when("{all: [{lie: rough}, {lie: {one_of: [sand, fairway]}}]}"),
                   SOLVED_NEVER);
  assert_int_equal(search_when("{all: [{lie: {one_of: [rough, sand]}}, {none: [{lie: rough}]}]}"),
                   SOLVED_FOUND);
  assert_int_equal(search_when("{all: [{lie: rough}, {lie: {known: no}}]}"), SOLVED_NEVER);
}

static void solver_search__through_findings(void **state) {
  (void)state;
  assert_int_equal(search_when("{all: [{open: believed}, {face: {below: 0}}]}"), SOLVED_NEVER);
  assert_int_equal(search_when("{all: [{open: believed}, {shut: believed}]}"), SOLVED_NEVER);
  assert_int_equal(search_when("{none: [{open: believed}]}"), SOLVED_FOUND);
  assert_int_equal(search_when("{all: [{none: [{open: believed}]}, {face: {above: 0}}]}"),
                   SOLVED_NEVER);
  assert_int_equal(search_when("{none: [{shut: believed}]}"), SOLVED_NEVER);
}

/* Two rules of the shipped knowledge that fire in one case can never be said to exclude each other.
 * What a club fills is not given beside another club: such a case contradicts itself. */
static void solver_search__is_sound_on_the_shipped_knowledge(void **state) {
  (void)state;
  assert_true(knowledge_load_shipped(&knowledge, 0));
  const struct model *model = knowledge.model;
  struct run *run = run_new(NULL, knowledge.network);
  struct solver *solver = solver_new(knowledge.arena, knowledge.network);
  uint64_t random = 11;
  size_t n_pairs = 0;
  for (int i = 0; i < 150; i++) {
    run_reset(run);
    random_case(run, &random, 40);
    run->hand = HAND_RIGHT;
    for (size_t k = 0; k < model->n_evidence; k++)
      if (model->evidence[k].from_club != CLUB_NONE) run_take_back(run, k);
    assert_true(run_chain(run, NULL));
    size_t last = NO_INDEX;
    for (size_t rule = 0; rule < model->n_rules; rule++) {
      if (run->rules[rule] != RULE_FIRED) continue;
      const struct solve_goal goals[] = {
          {model->rules[rule].when, false},
          {model->rules[last == NO_INDEX ? rule : last].when, false}};
      if (solver_search(solver, goals, 2, NULL, NULL) == SOLVED_NEVER)
        fail_msg("'%s' and '%s' both fire in case %d", model->rules[rule].name,
                 model->rules[last == NO_INDEX ? rule : last].name, i);
      last = rule;
      n_pairs++;
    }
  }
  assert_true(n_pairs > 1000);
  run_free(run);
  knowledge_free(&knowledge);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(solver_search__intervals),
      cmocka_unit_test(solver_search__words),
      cmocka_unit_test(solver_search__through_findings),
      cmocka_unit_test(solver_search__is_sound_on_the_shipped_knowledge),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
