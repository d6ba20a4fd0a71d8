/* Judging conditions, joining them, adding up: against tables written by hand, the normal
 * distribution, and an evaluator of this file that knows nothing of the compiled form. */
#include <math.h>
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

#define UNKNOWN 9 /* in tables of beliefs */

static void give_sure(struct trial *trial, const char *evidence, bool yes, double sure) {
  struct value value = {.evidence = trial_evidence(trial, evidence), .choice = yes, .sure = sure};
  assert_true(run_give(trial->run, &value));
}

/* Gives the belief of `evidence: yes`, or nothing when it is to be unknown. */
static void give_belief(struct trial *trial, const char *evidence, double belief) {
  if (belief != UNKNOWN) give_sure(trial, evidence, belief > 0, fabs(belief));
}

static void assert_premise(const struct trial *trial, const char *rule, double belief) {
  const struct judgement *premise = trial_premise(trial, rule);
  if (premise->known != (belief != UNKNOWN))
    fail_msg("%s is%s known", rule, premise->known ? "" : " not");
  if (premise->known) assert_near(premise->belief, belief, 1e-15);
}

/* ---- one condition ---- */

static double belief_of(struct trial *trial, const char *rule) {
  const struct judgement *premise = trial_premise(trial, rule);
  assert_true(premise->known);
  return premise->belief;
}

/* erf(z / sqrt 2) is the probability within z standard deviations. */
static double within(double z) {
  return erf(z / sqrt(2));
}

static void conditions__on_numbers_are_normal_probabilities(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("a"), NUMBER("b"), FINDING("f"), RULE("above", "{a: {above: 2}}", "f: 0.5"),
        RULE("below", "{a: {below: 2}}", "f: 0.5"),
        RULE("between", "{a: {between: [0, 4]}}", "f: 0.5"),
        RULE("outside", "{a: {outside: [0, 4]}}", "f: 0.5"),
        RULE("near", "{a: {near: 2, within: 2}}", "f: 0.5"),
        RULE("formula", "{formula: a > b}", "f: 0.5"));
  TRY(&trial, "a=3 +/- 0.5", "b=2 +/- 1.2");
  assert_near(belief_of(&trial, "above"), within(2), 1e-14);
  assert_near(belief_of(&trial, "below"), -within(2), 1e-14);
  double outside_low = 0.5 * erfc(6 / sqrt(2)), outside_high = 0.5 * erfc(2 / sqrt(2));
  double between = 1 - 2 * (outside_low + outside_high);
  assert_near(belief_of(&trial, "between"), between, 1e-14);
  assert_near(belief_of(&trial, "outside"), -between, 1e-14);
  assert_near(belief_of(&trial, "near"), between, 1e-14);
  assert_near(belief_of(&trial, "formula"), within(1 / 1.3), 1e-7); /* error of a - b is 1.3 */
  TRY(&trial, "a=3 +/- 0", "b=3 +/- 0");
  assert_near(belief_of(&trial, "above"), 1, 0);
  assert_near(belief_of(&trial, "below"), -1, 0);
  assert_near(belief_of(&trial, "outside"), -1, 0);
  assert_near(belief_of(&trial, "formula"), 0, 0); /* at the threshold */
  trial_close(&trial);
}

static void conditions__on_words(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, CHOICE("lie", "a: a, b: b, c: c"), YES_NO("pain"), WORDS("words"), FINDING("f"),
        RULE("is", "{lie: a}", "f: 0.5"), RULE("one-of", "{lie: {one_of: [b, a]}}", "f: 0.5"),
        RULE("pain", "{pain: yes}", "f: 0.5"), RULE("no-pain", "{pain: no}", "f: 0.5"),
        RULE("matches", "{words: {matches: \"\\\\bslic(e|ing)\\\\b\"}}", "f: 0.5"),
        RULE("known", "{words: {known: yes}}", "f: 0.5"),
        RULE("not-known", "{lie: {known: no}}", "f: 0.5"));
  TRY(&trial, "lie=b", "pain=no", "words=Always SLICING it");
  assert_premise(&trial, "is", -1);
  assert_premise(&trial, "one-of", 1);
  assert_premise(&trial, "pain", -1);
  assert_premise(&trial, "no-pain", 1);
  assert_premise(&trial, "matches", 1);
  assert_premise(&trial, "known", 1);
  assert_premise(&trial, "not-known", -1);
  TRY(&trial, "words=sliced bread");
  assert_premise(&trial, "is", UNKNOWN);
  assert_premise(&trial, "matches", -1);
  assert_premise(&trial, "not-known", 1);
  TRY(&trial, "pain=no");
  assert_premise(&trial, "matches", UNKNOWN);
  assert_premise(&trial, "known", -1);
  run_reset(trial.run);
  struct value sure = {.evidence = trial_evidence(&trial, "lie"), .choice = 0, .sure = 0.6};
  assert_true(run_give(trial.run, &sure));
  trial_chain(&trial);
  assert_premise(&trial, "is", 0.6);
  assert_premise(&trial, "one-of", 0.6);
  trial_close(&trial);
}

/* A pattern that gives up is not known, never "no match", and says so. */
static void conditions__a_pattern_that_gives_up_is_not_known(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, WORDS("words"), FINDING("f"),
        RULE("greedy", "{words: {matches: \"^(a+)+$\"}}", "f: 0.5"));
  TRY(&trial, "words=aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa!");
  assert_premise(&trial, "greedy", UNKNOWN);
  assert_int_equal(trial_premise(&trial, "greedy")->missing_evidence, 0);
  assert_int_equal(trial.knowledge.diags.warnings, 1);
  assert_int_equal(trial.knowledge.diags.list.at[0].code, DIAG_PATTERN_LIMIT);
  assert_non_null(strstr(trial.knowledge.diags.list.at[0].message, "'greedy'"));
  trial_close(&trial);
}

/* ---- joins ---- */

#define T 1.0
#define W 0.1
#define F -1.0
#define U UNKNOWN

static void joins__truth_table(void **state) {
  static const struct {
    double a, b, all, any, none;
  } rows[] = {
      {T, T, T, T, -T}, {T, W, W, T, -T}, {T, F, F, T, -T}, {T, U, U, T, -T},
      {W, T, W, T, -T}, {W, W, W, W, -W}, {W, F, F, W, -W}, {W, U, W, U, U},
      {F, T, F, T, -T}, {F, W, F, W, -W}, {F, F, F, F, -F}, {F, U, F, U, U},
      {U, T, U, T, -T}, {U, W, W, U, U},  {U, F, F, U, U},  {U, U, U, U, U},
  };
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("a"), YES_NO("b"), FINDING("f"),
        RULE("all", "{all: [{a: yes}, {b: yes}]}", "f: 0.5"),
        RULE("any", "{any: [{a: yes}, {b: yes}]}", "f: 0.5"),
        RULE("none", "{none: [{a: yes}, {b: yes}]}", "f: 0.5"));
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    run_reset(trial.run);
    give_belief(&trial, "a", rows[i].a);
    give_belief(&trial, "b", rows[i].b);
    trial_chain(&trial);
    assert_premise(&trial, "all", rows[i].all);
    assert_premise(&trial, "any", rows[i].any);
    assert_premise(&trial, "none", rows[i].none);
  }
  trial_close(&trial);
}

/* 0.2 itself is not above the threshold: it fails `all` and settles neither `any` nor `none`. */
static void joins__at_the_threshold(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("a"), YES_NO("b"), FINDING("f"),
        RULE("all", "{all: [{a: yes}, {b: yes}]}", "f: 0.5"),
        RULE("any", "{any: [{a: yes}, {b: yes}]}", "f: 0.5"), RULE("one", "{a: yes}", "f: 0.5"));
  give_sure(&trial, "a", true, 0.2);
  trial_chain(&trial);
  assert_premise(&trial, "all", 0.2);
  assert_premise(&trial, "any", UNKNOWN);
  assert_int_equal(trial.run->rules[trial_rule(&trial, "one")], RULE_FAILED);
  run_reset(trial.run);
  give_sure(&trial, "a", true, 0.2000001);
  trial_chain(&trial);
  assert_premise(&trial, "all", UNKNOWN);
  assert_premise(&trial, "any", 0.2000001);
  assert_int_equal(trial.run->rules[trial_rule(&trial, "one")], RULE_FIRED);
  trial_close(&trial);
}

static void joins__tell_the_first_thing_that_lacks(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("a"), YES_NO("b"), YES_NO("c"), FINDING("f"), FINDING("open"),
        RULE("lacks-b", "{all: [{a: yes}, {c: yes}, {b: yes}]}", "f: 0.5"),
        RULE("opens", "{b: yes}", "open: 0.5"),
        RULE("lacks-finding", "{any: [{open: believed}, {a: no}]}", "f: 0.5"));
  TRY(&trial, "a=yes");
  const struct judgement *lacks = trial_premise(&trial, "lacks-b");
  assert_false(lacks->known);
  assert_true(lacks->missing_evidence == trial_evidence(&trial, "b"));
  assert_true(lacks->missing_claim == NO_INDEX);
  lacks = trial_premise(&trial, "lacks-finding");
  assert_false(lacks->known);
  assert_true(lacks->missing_evidence == NO_INDEX);
  assert_true(lacks->missing_claim == trial_claim(&trial, "open"));
  trial_close(&trial);
}

/* ---- random premises against an evaluator of the condition as written ---- */

static void evaluate(const struct condition *condition, const double *beliefs, double *belief) {
  if (condition->kind == CONDITION_IS) {
    *belief = beliefs[condition->evidence];
    if (*belief != UNKNOWN && condition->choices[0] == 0) *belief = -*belief;
    return;
  }
  double least = 2, most = -2;
  bool lacks = false;
  for (size_t i = 0; i < condition->n_clauses; i++) {
    double clause;
    evaluate(&condition->clauses[i], beliefs, &clause);
    if (clause == UNKNOWN) {
      lacks = true;
      continue;
    }
    least = fmin(least, clause);
    most = fmax(most, clause);
  }
  if (condition->kind == CONDITION_ALL) *belief = lacks && !(least <= 0.2) ? UNKNOWN : least;
  else if (lacks && !(most > 0.2)) *belief = UNKNOWN;
  else *belief = condition->kind == CONDITION_ANY ? most : -most;
}

static void write_premise(struct text *out, uint64_t *state, int depth) {
  static const char *const joins[] = {"all", "any", "none"};
  if (depth == 0 || random_uniform(state) < 0.3) {
    text_format(out, "{%c: %s}", (char)('a' + random_next(state) % 5),
                random_uniform(state) < 0.5 ? "yes" : "no");
    return;
  }
  size_t n = 1 + (size_t)(random_next(state) % 3);
  text_format(out, "{%s: [", joins[random_next(state) % 3]);
  for (size_t i = 0; i < n; i++) {
    text_add(out, i ? ", " : "");
    write_premise(out, state, depth - 1);
  }
  text_add(out, "]}");
}

static void joins__random_premises(void **state) {
  enum { RULES = 60, CASES = 40 };
  struct arena *arena = arena_new(NULL);
  struct text rules;
  struct trial trial;
  uint64_t seed = 7;
  (void)state;
  text_init(&rules, arena);
  for (int i = 0; i < RULES; i++) {
    text_format(&rules, "- rule: r%d\n  when: ", i);
    write_premise(&rules, &seed, 4);
    text_add(&rules, "\n  then: {f: 0.1}\n  because: x\n  kind: convention\n");
  }
  TRIAL(&trial, YES_NO("a"), YES_NO("b"), YES_NO("c"), YES_NO("d"), YES_NO("e"), FINDING("f"),
        text_done(&rules));
  for (int round = 0; round < CASES; round++) {
    double beliefs[5];
    run_reset(trial.run);
    for (size_t i = 0; i < 5; i++) {
      static const char *const names[] = {"a", "b", "c", "d", "e"};
      double draw = random_uniform(&seed);
      beliefs[i] = draw < 0.3 ? UNKNOWN : draw < 0.4 ? 0.2 : 2 * random_uniform(&seed) - 1;
      give_belief(&trial, names[i], beliefs[i]);
    }
    trial_chain(&trial);
    for (size_t rule = 0; rule < RULES; rule++) {
      double wanted;
      evaluate(trial.model->rules[rule].when, beliefs, &wanted);
      assert_premise(&trial, trial.model->rules[rule].name, wanted);
    }
  }
  trial_close(&trial);
  arena_free(arena);
}

/* ---- findings as conditions ---- */

static void believed__passes_the_certainty_above_its_threshold(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), YES_NO("other"), FINDING("half"), FINDING("against"), FINDING("open"),
        FINDING("silent"), FINDING("out"), RULE("r1", "{q: yes}", "half: 0.5, against: -0.5"),
        RULE("r2", "{other: yes}", "open: 0.5"), RULE("r3", "{q: no}", "silent: 0.5"),
        RULE("plain", "{half: believed}", "out: 0.1"),
        RULE("at-4", "{half: {believed: 0.4}}", "out: 0.1"),
        RULE("at-5", "{half: {believed: 0.5}}", "out: 0.1"),
        RULE("at-6", "{half: {believed: 0.6}}", "out: 0.1"),
        RULE("against-it", "{against: believed}", "out: 0.1"),
        RULE("open-it", "{open: believed}", "out: 0.1"),
        RULE("silent-it", "{silent: believed}", "out: 0.1"),
        RULE("not-silent", "{none: [{silent: believed}]}", "out: 0.1"));
  TRY(&trial, "q=yes");
  assert_premise(&trial, "plain", 0.5);
  assert_premise(&trial, "at-4", 0.5);
  assert_premise(&trial, "at-5", 0.2); /* not above it: fails, but does not speak against */
  assert_premise(&trial, "at-6", 0.2);
  assert_premise(&trial, "against-it", -0.5);
  assert_premise(&trial, "open-it", UNKNOWN);
  assert_premise(&trial, "silent-it", 0);
  assert_premise(&trial, "not-silent", 0);
  assert_int_equal(trial.run->rules[trial_rule(&trial, "at-4")], RULE_FIRED);
  assert_int_equal(trial.run->rules[trial_rule(&trial, "at-5")], RULE_FAILED);
  trial_close(&trial);
}

static void claims__known_silent_and_unknown(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("a"), YES_NO("b"), FINDING("f"), FINDING("never"),
        RULE("r1", "{a: yes}", "f: 0.5"), RULE("r2", "{b: yes}", "f: 0.4"));
  TRY(&trial, "a=yes");
  assert_int_equal(trial.run->claims[trial_claim(&trial, "f")], CLAIM_KNOWN); /* r2 lacks b */
  assert_near(trial_certainty(&trial, "f"), 0.5, 1e-15);
  TRY(&trial, "a=no");
  assert_int_equal(trial.run->claims[trial_claim(&trial, "f")], CLAIM_UNKNOWN);
  assert_near(trial_certainty(&trial, "f"), 0, 0);
  TRY(&trial, "a=no", "b=no");
  assert_int_equal(trial.run->claims[trial_claim(&trial, "f")], CLAIM_SILENT);
  assert_int_equal(trial.run->claims[trial_claim(&trial, "never")], CLAIM_SILENT);
  TRY(&trial, "a=yes", "b=yes");
  assert_near(trial_certainty(&trial, "f"), 0.7, 1e-15); /* 0.5 + 0.4 - 0.2 */
  trial_close(&trial);
}

static void claims__premise_times_strength(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), FINDING("f"), FINDING("g"), RULE("r", "{q: yes}", "f: 0.5, g: -0.8"));
  give_sure(&trial, "q", true, 0.6);
  trial_chain(&trial);
  assert_near(trial_certainty(&trial, "f"), 0.3, 1e-15);
  assert_near(trial_certainty(&trial, "g"), -0.48, 1e-15);
  assert_int_equal(trial.run->contributions[0].state, CONTRIBUTION_COUNTED);
  assert_near(trial.run->contributions[0].value, 0.3, 1e-15);
  trial_close(&trial);
}

/* ---- groups ---- */

static enum contribution_state state_of(const struct trial *trial, const char *rule,
                                        const char *claim) {
  size_t index = trial_rule(trial, rule), of = trial_claim(trial, claim);
  for (size_t i = 0; i < trial->network->n_contributions; i++)
    if (trial->network->contributions[i].rule == index &&
        trial->network->contributions[i].claim == of)
      return trial->run->contributions[i].state;
  fail_msg("%s says nothing of %s", rule, claim);
  return CONTRIBUTION_NONE;
}

#define IN_GROUP(name, when, then) RULE(name, when, then) "  group: g\n"

static void groups__only_the_strongest_fired_member_counts(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("a"), YES_NO("b"), FINDING("f"), FINDING("g"),
        IN_GROUP("weak", "{a: yes}", "f: 0.3, g: 0.3"), IN_GROUP("strong", "{a: yes}", "f: 0.6"),
        IN_GROUP("strongest", "{b: yes}", "f: 0.9"), RULE("loose", "{a: yes}", "f: 0.5"));
  TRY(&trial, "a=yes");
  assert_int_equal(state_of(&trial, "weak", "f"), CONTRIBUTION_OVERSHADOWED);
  assert_int_equal(state_of(&trial, "weak", "g"), CONTRIBUTION_COUNTED); /* of another claim */
  assert_int_equal(state_of(&trial, "strong", "f"), CONTRIBUTION_COUNTED);
  assert_int_equal(state_of(&trial, "strongest", "f"), CONTRIBUTION_NONE); /* it did not fire */
  assert_int_equal(state_of(&trial, "loose", "f"), CONTRIBUTION_COUNTED);
  assert_near(trial_certainty(&trial, "f"), 0.8, 1e-15); /* 0.6 and 0.5 */
  TRY(&trial, "a=yes", "b=yes");
  assert_int_equal(state_of(&trial, "strong", "f"), CONTRIBUTION_OVERSHADOWED);
  assert_near(trial_certainty(&trial, "f"), 0.95, 1e-15); /* 0.9 and 0.5 */
  trial_close(&trial);
}

static void groups__of_equals_the_first_by_name_counts(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("a"), FINDING("f"), IN_GROUP("r2", "{a: yes}", "f: -0.5"),
        IN_GROUP("r3", "{a: yes}", "f: 0.5"), IN_GROUP("r1", "{a: yes}", "f: 0.5"));
  TRY(&trial, "a=yes");
  assert_int_equal(state_of(&trial, "r1", "f"), CONTRIBUTION_COUNTED);
  assert_int_equal(state_of(&trial, "r2", "f"), CONTRIBUTION_OVERSHADOWED);
  assert_int_equal(state_of(&trial, "r3", "f"), CONTRIBUTION_OVERSHADOWED);
  assert_near(trial_certainty(&trial, "f"), 0.5, 1e-15);
  trial_close(&trial);
}

/* By size: an objection can be the strongest member. */
static void groups__the_strongest_may_speak_against(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("a"), FINDING("f"), IN_GROUP("for", "{a: yes}", "f: 0.5"),
        IN_GROUP("against", "{a: yes}", "f: -0.6"));
  TRY(&trial, "a=yes");
  assert_near(trial_certainty(&trial, "f"), -0.6, 1e-15);
  trial_close(&trial);
}

/* Of one rule set the weights are premise x strength, not strength alone. */
static void groups__are_compared_by_what_the_premise_leaves(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("a"), YES_NO("b"), FINDING("f"), IN_GROUP("r1", "{a: yes}", "f: 0.9"),
        IN_GROUP("r2", "{b: yes}", "f: 0.5"));
  give_sure(&trial, "a", true, 0.5);
  give_sure(&trial, "b", true, 1);
  trial_chain(&trial);
  assert_near(trial_certainty(&trial, "f"), 0.5, 1e-15);
  assert_int_equal(state_of(&trial, "r1", "f"), CONTRIBUTION_OVERSHADOWED);
  trial_close(&trial);
}

/* However many rules speak, a certainty stays within its open interval's closed hull and finite. */
static void claims__many_rules_never_leave_the_range(void **state) {
  enum { RULES = 200 };
  struct arena *arena = arena_new(NULL);
  struct text rules;
  struct trial trial;
  (void)state;
  text_init(&rules, arena);
  for (int i = 0; i < RULES; i++)
    text_format(&rules,
                "- rule: r%d\n  when: {a: yes}\n  then: {up: 0.95, down: -0.95, both: %s0.95}\n"
                "  because: x\n  kind: convention\n",
                i, i % 2 ? "-" : "");
  TRIAL(&trial, YES_NO("a"), CAUSE("up"), CAUSE("down"), CAUSE("both"),
        DRILL("d", "external", "up: 0.95, both: 0.5"), text_done(&rules));
  TRY(&trial, "a=yes");
  assert_near(trial_certainty(&trial, "up"), 1, 1e-12);
  assert_near(trial_certainty(&trial, "down"), -1, 1e-12);
  assert_near(trial_certainty(&trial, "both"), 0, 1e-9);
  assert_true(trial_certainty(&trial, "up") <= 1 && trial_certainty(&trial, "down") >= -1);
  assert_int_equal(trial.run->n_drills, 1);
  assert_true(isfinite(trial.run->drills[0].value));
  trial_close(&trial);
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(conditions__on_numbers_are_normal_probabilities),
      cmocka_unit_test(conditions__on_words),
      cmocka_unit_test(conditions__a_pattern_that_gives_up_is_not_known),
      cmocka_unit_test(joins__truth_table),
      cmocka_unit_test(joins__at_the_threshold),
      cmocka_unit_test(joins__tell_the_first_thing_that_lacks),
      cmocka_unit_test(joins__random_premises),
      cmocka_unit_test(believed__passes_the_certainty_above_its_threshold),
      cmocka_unit_test(claims__known_silent_and_unknown),
      cmocka_unit_test(claims__premise_times_strength),
      cmocka_unit_test(groups__only_the_strongest_fired_member_counts),
      cmocka_unit_test(groups__of_equals_the_first_by_name_counts),
      cmocka_unit_test(groups__the_strongest_may_speak_against),
      cmocka_unit_test(groups__are_compared_by_what_the_premise_leaves),
      cmocka_unit_test(claims__many_rules_never_leave_the_range),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
