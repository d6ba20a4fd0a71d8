/* The compiled form: shared tests, flat premises, layers, circles, the digest. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "support/cases.h"
#include "support/trial.h"

/* ---- tests and premises ---- */

static void network__equal_conditions_are_one_test(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("path"), CHOICE("lie", "a: a, b: b"), FINDING("f"), FINDING("g"),
        RULE("r1", "{path: {above: 2}}", "f: 0.5"),
        RULE("r2", "{path: {above: 2.0 deg}}", "f: 0.5"),
        RULE("r3", "{all: [{lie: a}, {path: {above: 2}}]}", "f: 0.5"),
        RULE("r4", "{lie: {is: a}}", "f: 0.5"), RULE("r5", "{path: {above: 3}}", "f: 0.5"),
        RULE("r6", "{path: {near: 0, within: 1}}", "g: 0.5"),
        RULE("r7", "{path: {between: [-1, 1]}}", "g: 0.5"));
  assert_int_equal(trial.network->n_tests, 4);
  size_t first = trial.network->nodes[trial.network->rules[0].first_node].test;
  assert_true(first == trial.network->nodes[trial.network->rules[1].first_node].test);
  trial_close(&trial);
}

static void network__premises_are_flat_in_prefix_order(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("a"), YES_NO("b"), YES_NO("c"), FINDING("f"),
        RULE("r", "{all: [{a: yes}, {any: [{b: yes}, {none: [{c: yes}]}]}]}", "f: 0.5"));
  static const struct {
    enum condition_kind kind;
    size_t n_clauses, n_nodes;
  } wanted[] = {{CONDITION_ALL, 2, 6}, {CONDITION_IS, 0, 1},   {CONDITION_ANY, 2, 4},
                {CONDITION_IS, 0, 1},  {CONDITION_NONE, 1, 2}, {CONDITION_IS, 0, 1}};
  assert_int_equal(trial.network->n_nodes, COUNT_OF(wanted));
  for (size_t i = 0; i < COUNT_OF(wanted); i++) {
    const struct premise_node *node = &trial.network->nodes[i];
    assert_int_equal(node->kind, wanted[i].kind);
    assert_int_equal(node->n_clauses, wanted[i].n_clauses);
    assert_int_equal(node->n_nodes, wanted[i].n_nodes);
    assert_true((node->test == NO_INDEX) == (node->kind >= CONDITION_ALL));
  }
  trial_close(&trial);
}

static void network__contributions_stand_by_claim_then_rule(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), FINDING("f"), FINDING("g"), FINDING("silent"),
        RULE("z", "{q: yes}", "f: 0.1, g: 0.2") "  group: one\n",
        RULE("a", "{q: yes}", "g: 0.3") "  group: one\n", RULE("m", "{q: yes}", "f: -0.4"));
  const struct network *network = trial.network;
  static const double strengths[] = {-0.4, 0.1, 0.3, 0.2};
  assert_int_equal(network->n_contributions, 4);
  for (size_t i = 0; i < 4; i++) assert_near(network->contributions[i].strength, strengths[i], 0);
  size_t f = trial_claim(&trial, "f"), g = trial_claim(&trial, "g");
  size_t silent = trial_claim(&trial, "silent");
  assert_int_equal(network->first_contribution[f], 0);
  assert_int_equal(network->first_contribution[g], 2);
  assert_int_equal(network->first_contribution[silent], 4);
  assert_int_equal(network->first_contribution[silent + 1], 4);
  assert_true(network->contributions[0].group == NO_INDEX);
  assert_true(network->contributions[1].group == network->contributions[3].group);
  assert_true(network->contributions[2].group == network->contributions[3].group);
  trial_close(&trial);
}

/* ---- layers ---- */

static void network__layers_follow_what_rules_read(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), FINDING("f1"), FINDING("f2"), FINDING("never"), CAUSE("c"),
        DRILL("d", "body", "c: 0.5"), RULE("z1", "{q: yes}", "f1: 0.5"),
        RULE("y2", "{f1: believed}", "f2: 0.5"), RULE("x1", "{q: no}", "f2: 0.5"),
        RULE("w3", "{all: [{f2: believed}, {q: yes}]}", "c: 0.5, d: 0.2"),
        RULE("v1", "{never: believed}", "c: 0.5"));
  const struct network *network = trial.network;
  static const char *const order[] = {"v1", "x1", "z1", "y2", "w3"};
  assert_int_equal(network->n_layers, 3);
  for (size_t i = 0; i < COUNT_OF(order); i++)
    assert_string_equal(trial.model->rules[network->order[i]].name, order[i]);
  assert_int_equal(network->claim_layer[trial_claim(&trial, "never")], 0);
  assert_int_equal(network->claim_layer[trial_claim(&trial, "f1")], 1);
  assert_int_equal(network->claim_layer[trial_claim(&trial, "f2")], 2);
  assert_int_equal(network->claim_layer[trial_claim(&trial, "c")], 3);
  assert_int_equal(network->claim_layer[trial_claim(&trial, "d")], 3);
  trial_close(&trial);
}

/* What a drill needs is judged when all is final, so it makes no circle. */
static void network__needs_make_no_circle(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), CAUSE("c"),
        DRILL("d", "body", "c: 0.5") "  needs: {c: {believed: 0.5}}\n",
        RULE("r", "{q: yes}", "c: 0.5, d: 0.2"));
  assert_true(trial.network->needs[trial_claim(&trial, "d")] != NO_INDEX);
  assert_true(trial.network->needs[trial_claim(&trial, "c")] == NO_INDEX);
  trial_close(&trial);
}

/* n findings, each concluded from the one before it. */
static void write_chain(FILE *out, size_t n) {
  fprintf(out, "%s%s", YES_NO("q"), "- finding: f0\n  title: x\n  about: x\n");
  fprintf(out, "%s", RULE("r0", "{q: yes}", "f0: 0.95"));
  for (size_t i = 1; i <= n; i++)
    fprintf(out,
            "- finding: f%zu\n  title: x\n  about: x\n"
            "- rule: r%zu\n  when: {f%zu: {believed: 0.2}}\n  then: {f%zu: 0.95}\n"
            "  because: x\n  kind: convention\n",
            i, i, i - 1, i);
}

static char *chain_text(size_t n) {
  char *yaml = NULL;
  size_t length;
  FILE *out = open_memstream(&yaml, &length);
  assert_non_null(out);
  write_chain(out, n);
  fclose(out);
  return yaml;
}

static double seconds_now(void) {
  struct timespec now;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void network__a_chain_of_5000_findings_compiles_and_runs_fast(void **state) {
  enum { LENGTH = 5000 };
  struct knowledge knowledge;
  char *yaml = chain_text(LENGTH), name[16];
  (void)state;
  double start = seconds_now();
  assert_true(knowledge_load_text(&knowledge, yaml));
  double loaded = seconds_now();
  assert_int_equal(knowledge.network->n_layers, LENGTH + 1);
  for (size_t i = 0; i <= LENGTH; i++) {
    snprintf(name, sizeof name, "f%zu", i);
    assert_int_equal(knowledge.network->claim_layer[model_find_claim(knowledge.model, name)],
                     i + 1);
  }
  struct run *run = run_new(NULL, knowledge.network);
  struct value yes = {.choice = 1, .sure = 1};
  double begun = seconds_now();
  assert_true(run_give(run, &yes) && run_chain(run, NULL));
  double ran = seconds_now() - begun;
  assert_near(run->certainty[model_find_claim(knowledge.model, "f1")], 0.95 * 0.95, 1e-15);
  print_message("# loaded in %.3f s, ran in %.3f s\n", loaded - start, ran);
  assert_true(loaded - start < 10 && ran < 10); /* sanitizers take their share */
  run_free(run);
  knowledge_free(&knowledge);
  free(yaml);
}

/* ---- circles ---- */

static void network_compile__a_circle_is_told_with_its_whole_path(void **state) {
  struct arena *arena = arena_new(NULL);
  (void)state;
  const char *told =
      FAULTS(arena, YES_NO("q"), FINDING("a"), FINDING("b"), FINDING("c"), FINDING("after"),
             FINDING("before"), RULE("ab", "{a: believed}", "b: 0.5"),
             RULE("bc", "{all: [{b: believed}, {before: believed}]}", "c: 0.5"),
             RULE("ca", "{none: [{c: believed}]}", "a: -0.5"),
             RULE("out", "{c: believed}", "after: 0.5"), RULE("in", "{q: yes}", "before: 0.5"));
  assert_non_null(strstr(told, "the rules go round in a circle: a -> b -> c -> a [circle]"));
  assert_non_null(strstr(told, "note: rule 'ab' concludes 'b' from 'a'"));
  assert_non_null(strstr(told, "note: rule 'bc' concludes 'c' from 'b'"));
  assert_non_null(strstr(told, "note: rule 'ca' concludes 'a' from 'c'"));
  assert_null(strstr(told, "'after'"));
  assert_null(strstr(told, "'before'"));
  arena_free(arena);
}

static void network_compile__a_circle_of_one(void **state) {
  struct arena *arena = arena_new(NULL);
  (void)state;
  const char *told = FAULTS(arena, FINDING("a"), RULE("aa", "{a: believed}", "a: 0.5"));
  assert_non_null(strstr(told, "in a circle: a -> a [circle]"));
  assert_non_null(strstr(told, "note: rule 'aa' concludes 'a' from 'a'"));
  arena_free(arena);
}

/* The whole of a long circle, and every rule of it with its line. */
static void network_compile__a_long_circle(void **state) {
  enum { LENGTH = 200 };
  char *yaml = chain_text(LENGTH), *whole = NULL;
  size_t n, notes = 0, length;
  struct arena *arena = arena_new(NULL);
  (void)state;
  FILE *out = open_memstream(&whole, &length);
  fprintf(out,
          "%s- rule: back\n  when: {f%d: believed}\n  then: {f0: 0.5}\n  because: x\n"
          "  kind: convention\n",
          yaml, LENGTH);
  fclose(out);
  const char *told = FAULTS(arena, whole);
  for (const char *at = told; (at = strstr(at, " concludes ")) != NULL; at++) notes++;
  assert_int_equal(notes, LENGTH + 1);
  n = strlen(told);
  assert_true(n > 0);
  free(yaml);
  free(whole);
  arena_free(arena);
}

/* ---- digest ---- */

static uint64_t digest_of(const char *const *pieces) {
  struct trial trial;
  trial_open(&trial, pieces);
  uint64_t digest = trial.network->digest;
  trial_close(&trial);
  return digest;
}
#define DIGEST(...) digest_of((const char *const[]){__VA_ARGS__, NULL})

#define PLAIN_RULE RULE("r", "{path: {above: 2}}", "f: 0.5")
#define PLAIN_DRILL DRILL("d", "body", "c: 0.5")

static void network_digest__every_change_of_meaning_changes_it(void **state) {
  uint64_t digests[64];
  size_t n = 0;
  (void)state;
#define ADD(...) digests[n++] = DIGEST(__VA_ARGS__)
#define REST FINDING("f"), CAUSE("c")
  ADD(NUMBER("path"), REST, PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path"), REST, RULE("r", "{path: {above: 3}}", "f: 0.5"), PLAIN_DRILL);
  ADD(NUMBER("path"), REST, RULE("r", "{path: {below: 2}}", "f: 0.5"), PLAIN_DRILL);
  ADD(NUMBER("path"), REST, RULE("r", "{path: {above: 2}}", "f: 0.6"), PLAIN_DRILL);
  ADD(NUMBER("path"), REST, RULE("s", "{path: {above: 2}}", "f: 0.5"), PLAIN_DRILL);
  ADD(NUMBER("path"), REST, PLAIN_RULE "  group: g\n", PLAIN_DRILL);
  ADD(NUMBER("path"), REST, PLAIN_RULE "  learner: y\n", PLAIN_DRILL);
  ADD(NUMBER("path"), REST, PLAIN_RULE "  removes: [d]\n", PLAIN_DRILL);
  ADD(MIRRORED("path"), REST, PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path") "  words: {odd: 1}\n", REST, PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path") "  words: {odd: 1 +/- 3}\n", REST, PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path") "  formula: 1 + 2\n", REST, PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path") "  formula: {is: 1 + 2, error: 1}\n", REST, PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path") "  from_club: loft\n", REST, PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path") "  from_club: lie\n", REST, PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path"), FINDING("f") "  good: yes\n", CAUSE("c"), PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path"), FINDING("f") "  red_flag: y\n", CAUSE("c"), PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path"), FINDING("f"), CAUSE("c") "  tell_apart: y\n", PLAIN_RULE, PLAIN_DRILL);
  ADD(NUMBER("path"), REST, PLAIN_RULE, DRILL("d", "external", "c: 0.5"));
  ADD(NUMBER("path"), REST, PLAIN_RULE, DRILL("d", "body", "c: 0.6"));
  ADD(NUMBER("path"), REST, PLAIN_RULE, PLAIN_DRILL "  spoils: y\n");
  ADD(NUMBER("path"), REST, PLAIN_RULE, PLAIN_DRILL "  needs: {f: believed}\n");
  ADD(NUMBER("path"), REST, PLAIN_RULE, PLAIN_DRILL "  objects: [{object: ball}]\n");
  ADD(NUMBER("path"), REST, PLAIN_RULE, PLAIN_DRILL, SEVEN_IRON);
  for (size_t i = 0; i < n; i++)
    for (size_t k = i + 1; k < n; k++)
      if (digests[i] == digests[k]) fail_msg("changes %zu and %zu have one digest", i, k);
}

static void network_digest__order_and_places_do_not_change_it(void **state) {
  (void)state;
  uint64_t plain = DIGEST(NUMBER("path"), FINDING("f"), CAUSE("c"), PLAIN_RULE, PLAIN_DRILL);
  assert_true(plain == DIGEST(PLAIN_DRILL, "# a comment\n", PLAIN_RULE, CAUSE("c"), FINDING("f"),
                              NUMBER("path")));
}

static void network_print__is_what_decides_an_answer(void **state) {
  struct trial trial;
  struct text text;
  (void)state;
  TRIAL(&trial, NUMBER("path"), FINDING("f"), RULE("r", "{path: {above: 2}}", "f: hint"));
  text_init(&text, trial.knowledge.arena);
  network_print(&text, trial.network);
  assert_string_equal(text_done(&text),
                      "evidence path: a number unit deg low -90 high 90 error 1 spread 2 effort "
                      "look\nfinding f: layer 1\n"
                      "rule r: layer 1 when path above 2 deg then f=0.2\n");
  trial_close(&trial);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(network__equal_conditions_are_one_test),
      cmocka_unit_test(network__premises_are_flat_in_prefix_order),
      cmocka_unit_test(network__contributions_stand_by_claim_then_rule),
      cmocka_unit_test(network__layers_follow_what_rules_read),
      cmocka_unit_test(network__needs_make_no_circle),
      cmocka_unit_test(network__a_chain_of_5000_findings_compiles_and_runs_fast),
      cmocka_unit_test(network_compile__a_circle_is_told_with_its_whole_path),
      cmocka_unit_test(network_compile__a_circle_of_one),
      cmocka_unit_test(network_compile__a_long_circle),
      cmocka_unit_test(network_digest__every_change_of_meaning_changes_it),
      cmocka_unit_test(network_digest__order_and_places_do_not_change_it),
      cmocka_unit_test(network_print__is_what_decides_an_answer),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
