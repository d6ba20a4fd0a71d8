/* What `check` warns of, and what it leaves alone. */
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"
#include "workshop/check.h"

/* The findings of one code on the pieces, by place: their messages. */
static size_t count_warnings(const char *code, const char *const *pieces, struct text *messages) {
  const struct check_options options = {.seed = CHECK_SEED, .samples = 1};
  struct trial trial;
  size_t n = 0;
  trial_open(&trial, pieces);
  const struct check_report *report =
      check_knowledge(trial.knowledge.arena, trial.network, &options, NULL);
  assert_non_null(report);
  for (size_t i = 0; i < report->n; i++) {
    const struct diag *diag = &report->findings[i].diag;
    if (strcmp(diag_word(diag->code), code) != 0) continue;
    assert_int_equal(diag->level, DIAG_WARNING);
    n++;
    if (messages) text_format(messages, "%s\n", diag->message);
  }
  trial_close(&trial);
  return n;
}
#define COUNT(code, ...) count_warnings((code), (const char *const[]){__VA_ARGS__, NULL}, NULL)

static void assert_warns(const char *code, const char *const *pieces, const char *wanted) {
  struct arena *arena = arena_new(NULL);
  struct text messages;
  text_init(&messages, arena);
  count_warnings(code, pieces, &messages);
  assert_string_equal(text_done(&messages), wanted);
  arena_free(arena);
}
#define WARNS(code, wanted, ...)                                                                   \
  assert_warns((code), (const char *const[]){__VA_ARGS__, NULL}, (wanted))

/* ---- shared readings ---- */

#define ABOVE(name, limit, strength) RULE(name, "{path: {above: " limit "}}", "f: " strength)

static void shared_readings__two_rules_on_one_reading(void **state) {
  (void)state;
  WARNS("shared-readings",
        "rules 'r1' and 'r2' both conclude 'f' from the same readings (path); put them in one "
        "group\n",
        NUMBER("path"), FINDING("f"), ABOVE("r1", "2", "0.5"), ABOVE("r2", "4", "0.5"));
  assert_int_equal(COUNT("shared-readings", NUMBER("path"), FINDING("f"), ABOVE("r1", "2", "0.5"),
                         ABOVE("r2", "4", "0.5"), ABOVE("r3", "6", "0.5")),
                   3); /* every pair */
}

static void shared_readings__left_alone(void **state) {
  (void)state;
  assert_int_equal(COUNT("shared-readings", NUMBER("path"), FINDING("f"),
                         ABOVE("r1", "2", "0.5") "  group: g\n",
                         ABOVE("r2", "4", "0.5") "  group: g\n"),
                   0);
  assert_int_equal(COUNT("shared-readings", NUMBER("path"), FINDING("f"), ABOVE("r1", "2", "0.5"),
                         ABOVE("r2", "4", "-0.5")),
                   0); /* for and against */
  assert_int_equal(COUNT("shared-readings", NUMBER("path"), NUMBER("face"), FINDING("f"),
                         ABOVE("r1", "2", "0.5"), RULE("r2", "{face: {above: 2}}", "f: 0.5")),
                   0);
  assert_int_equal(COUNT("shared-readings", NUMBER("path"), FINDING("f"), FINDING("g"),
                         ABOVE("r1", "2", "0.5"), RULE("r2", "{path: {above: 4}}", "g: 0.5")),
                   0);
}

static void shared_readings__one_group_in_two_and_none_in_the_third(void **state) {
  (void)state;
  assert_int_equal(COUNT("shared-readings", NUMBER("path"), FINDING("f"),
                         ABOVE("r1", "2", "0.5") "  group: g\n",
                         ABOVE("r2", "4", "0.5") "  group: g\n", ABOVE("r3", "6", "0.5")),
                   2);
}

/* A finding rests on what its rules read, a derived number on what its formula reads. */
static void shared_readings__are_traced_through_findings_and_formulas(void **state) {
  (void)state;
  assert_int_equal(COUNT("shared-readings", NUMBER("path"), FINDING("f"), CAUSE("c"),
                         ABOVE("r1", "2", "0.5"), RULE("r2", "{f: believed}", "c: 0.5"),
                         RULE("r3", "{path: {above: 3}}", "c: 0.5")),
                   1);
  assert_int_equal(COUNT("shared-readings", NUMBER("path"), NUMBER("twice") "  formula: 2 * path\n",
                         FINDING("f"), RULE("r1", "{twice: {above: 2}}", "f: 0.5"),
                         RULE("r2", "{formula: twice > path}", "f: 0.5")),
                   1);
}

/* Rules that exclude each other count nothing twice. */
static void shared_readings__of_rules_that_exclude_each_other(void **state) {
  (void)state;
  assert_int_equal(COUNT("shared-readings", NUMBER("path"), FINDING("f"), ABOVE("r1", "2", "0.5"),
                         RULE("r2", "{path: {below: -2}}", "f: 0.5")),
                   0);
}

/* ---- the other warnings ---- */

static void no_source__of_each_kind(void **state) {
  (void)state;
  WARNS("no-source",
        "evidence 'q' names no source\ncause 'c' names no source\ndrill 'd' names no source\n"
        "rule 'r' names no source\nclub '7i' names no source\n",
        "- evidence: q\n  title: x\n  about: x\n  kind: yes_no\n  ask: x\n  effort: know\n",
        "- cause: c\n  title: x\n  about: x\n  area: grip\n",
        "- drill: d\n  title: x\n  task: body\n  changes: {c: 0.5}\n  aim: x\n  setup: x\n"
        "  dose: x\n  works: {hits: 1, of: 2, seen: x}\n  drop: {shots: 1, when: x}\n"
        "  cautions: [mind out]\n",
        "- rule: r\n  when: {q: yes}\n  then: {c: 0.5}\n  because: x\n  kind: geometry\n",
        "- club: 7i\n  title: x\n  family: iron\n  loft: 33\n  length: 0.94\n  lie: 62\n"
        "  head_mass: 268\n");
}

static void unused__is_what_nothing_reads(void **state) {
  (void)state;
  WARNS("unused", "evidence 'idle' is read by nothing\n", NUMBER("idle"), NUMBER("ruled"),
        NUMBER("reckoned"), NUMBER("compared"), NUMBER("worded"), NUMBER("measured"),
        YES_NO("needed"), FINDING("f"), CAUSE("c"), NUMBER("derived") "  formula: reckoned + 1\n",
        "- rule: r\n  when: {all: [{ruled: {above: 2}}, {derived: {above: 2}}, "
        "{formula: compared > 1}]}\n  then: {f: 0.5}\n  because: it is {worded}\n"
        "  kind: geometry\n",
        "- drill: d\n  title: x\n  task: body\n  changes: {c: 0.5}\n  aim: x\n  setup: x\n"
        "  dose: x\n  works: {measured: {above: 1}, hits: 1, of: 2}\n"
        "  drop: {shots: 1, when: x}\n  needs: {needed: yes}\n  cautions: [mind out]\n");
}

static void unreachable__is_what_no_rule_speaks_for(void **state) {
  (void)state;
  WARNS("unreachable",
        "finding 'only_against' can never be believed: no rule speaks for it\n"
        "finding 'silent' can never be believed: no rule speaks for it\n"
        "cause 'never' can never be believed: no rule speaks for it\n",
        YES_NO("q"), FINDING("f"), FINDING("only_against"), FINDING("silent"), CAUSE("never"),
        RULE("r", "{q: yes}", "f: 0.5, only_against: -0.5"));
}

static void drills_and_causes__that_do_not_meet(void **state) {
  (void)state;
  WARNS("cause-without-drill", "no drill changes cause 'lone'\n", CAUSE("c"), CAUSE("lone"),
        DRILL("d", "body", "c: 0.5"));
  WARNS("drill-without-cause", "drill 'lone' changes no cause\n", CAUSE("c"),
        DRILL("lone", "body", ""), DRILL("d", "body", "c: 0.5"));
}

static void short_caution__is_a_word_that_says_nothing(void **state) {
  (void)state;
  WARNS("short-caution",
        "caution 'x' of drill 'd' tells nobody what to do; write it out\n"
        "caution 'Carefully!' of drill 'd' tells nobody what to do; write it out\n"
        "caution 'a b c' of drill 'd' tells nobody what to do; write it out\n",
        CAUSE("c"),
        "- drill: d\n  title: x\n  task: body\n  changes: {c: 0.5}\n  aim: x\n  setup: x\n"
        "  dose: x\n  works: {hits: 1, of: 2, seen: x}\n  drop: {shots: 1, when: x}\n"
        "  cautions: [x, Warm up., Carefully!, a b c, 'Nobody to the {left}.']\n"
        "  source: practice\n");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(shared_readings__two_rules_on_one_reading),
      cmocka_unit_test(shared_readings__left_alone),
      cmocka_unit_test(shared_readings__one_group_in_two_and_none_in_the_third),
      cmocka_unit_test(shared_readings__are_traced_through_findings_and_formulas),
      cmocka_unit_test(shared_readings__of_rules_that_exclude_each_other),
      cmocka_unit_test(no_source__of_each_kind),
      cmocka_unit_test(unused__is_what_nothing_reads),
      cmocka_unit_test(unreachable__is_what_no_rule_speaks_for),
      cmocka_unit_test(drills_and_causes__that_do_not_meet),
      cmocka_unit_test(short_caution__is_a_word_that_says_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
