/* Standings of causes, values of drills, what removes them, what to check next. */
#include <math.h>
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

static const struct ranked_cause *cause(const struct trial *trial, size_t i, const char *name) {
  assert_true(i < trial->run->n_causes);
  assert_string_equal(trial->model->claims[trial->run->causes[i].claim].name, name);
  return &trial->run->causes[i];
}

static const struct ranked_drill *drill(const struct trial *trial, size_t i, const char *name) {
  assert_true(i < trial->run->n_drills);
  assert_string_equal(trial->model->claims[trial->run->drills[i].claim].name, name);
  return &trial->run->drills[i];
}

/* ---- causes ---- */

static void causes__standings(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), YES_NO("other"), CAUSE("first"), CAUSE("likely"), CAUSE("possible"),
        CAUSE("hinted"), CAUSE("open"), CAUSE("weak_and_open"), CAUSE("judged"), CAUSE("never"),
        CAUSE("against"), CAUSE("against_and_open"),
        RULE("r", "{q: yes}",
             "first: 0.9, likely: 0.6, possible: 0.21, hinted: 0.2, weak_and_open: 0.1, "
             "against: -0.5, against_and_open: -0.3"),
        RULE("o", "{other: yes}", "open: 0.5, weak_and_open: 0.5, against_and_open: 0.5"),
        RULE("n", "{q: no}", "judged: 0.5"));
  TRY(&trial, "q=yes");
  static const struct {
    const char *name;
    double certainty;
    enum standing standing;
  } wanted[] = {
      {"first", 0.9, STANDING_LEADING},
      {"likely", 0.6, STANDING_LIKELY},
      {"possible", 0.21, STANDING_POSSIBLE},
      {"hinted", 0.2, STANDING_UNLIKELY},
      {"weak_and_open", 0.1, STANDING_OPEN},
      {"open", 0, STANDING_OPEN},
      {"judged", 0, STANDING_UNLIKELY},
      {"never", 0, STANDING_UNLIKELY},
      {"against_and_open", -0.3, STANDING_UNLIKELY},
      {"against", -0.5, STANDING_UNLIKELY},
  };
  assert_int_equal(trial.run->n_causes, COUNT_OF(wanted));
  for (size_t i = 0; i < COUNT_OF(wanted); i++) {
    const struct ranked_cause *ranked = cause(&trial, i, wanted[i].name);
    assert_near(ranked->certainty, wanted[i].certainty, 1e-15);
    if (ranked->standing != wanted[i].standing)
      fail_msg("%s is %s", wanted[i].name, standing_word(ranked->standing));
  }
  assert_true(run_leading(trial.run) == trial_claim(&trial, "first"));
  trial_close(&trial);
}

static void causes__who_leads(void **state) {
  static const struct {
    const char *then;
    const char *leader; /* NULL: nobody */
    enum standing first;
  } rows[] = {
      {"a: 0.41", "a", STANDING_LEADING},
      {"a: 0.4", NULL, STANDING_POSSIBLE},
      {"b: 0.7, a: 0.64", "b", STANDING_LEADING},
      {"b: 0.7, a: 0.66", NULL, STANDING_LIKELY}, /* too close */
      {"b: 0.5, a: 0.5", NULL, STANDING_POSSIBLE},
      {"a: -0.5", NULL, STANDING_UNLIKELY},
  };
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct trial trial;
    TRIAL(&trial, YES_NO("q"), CAUSE("a"), CAUSE("b"), "- rule: r\n  when: {q: yes}\n  then: {",
          rows[i].then, "}\n  because: x\n  kind: convention\n");
    TRY(&trial, "q=yes");
    size_t leads = run_leading(trial.run);
    assert_true(leads == (rows[i].leader ? trial_claim(&trial, rows[i].leader) : NO_INDEX));
    assert_int_equal(trial.run->causes[0].standing, rows[i].first);
    trial_close(&trial);
  }
}

#define ASKED(name, effort)                                                                        \
  "- evidence: " name "\n  title: x\n  about: x\n  kind: yes_no\n  ask: x\n  effort: " effort "\n"

static void causes__video_alone_leads_nothing(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, ASKED("filmed", "video"), ASKED("filmed_too", "video"), ASKED("watched", "look"),
        CLUB_EVIDENCE("club"), SEVEN_IRON, FINDING("steep"), CAUSE("a"),
        RULE("r1", "{filmed: yes}", "steep: 0.9"), RULE("r2", "{steep: believed}", "a: 0.8"),
        RULE("r3", "{all: [{filmed_too: yes}, {club: {is: 7i}}]}", "a: 0.8"),
        RULE("r4", "{watched: yes}", "steep: 0.3"), RULE("r5", "{watched: no}", "a: -0.3"));
  TRY(&trial, "filmed=yes", "filmed_too=yes", "club=7i"); /* two pictures and a club */
  assert_true(trial_certainty(&trial, "a") > 0.9);
  assert_int_equal(cause(&trial, 0, "a")->standing, STANDING_LIKELY);
  TRY(&trial, "filmed=yes", "watched=no"); /* what speaks against it does not carry it */
  assert_true(run_leading(trial.run) == NO_INDEX);
  TRY(&trial, "filmed=yes", "watched=yes"); /* through the finding */
  assert_true(run_leading(trial.run) == trial_claim(&trial, "a"));
  trial_close(&trial);
}

static void causes__equals_stand_by_name(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), CAUSE("c"), CAUSE("a"), CAUSE("b"),
        RULE("r", "{q: yes}", "b: 0.5, c: 0.5, a: 0.5"));
  TRY(&trial, "q=yes");
  cause(&trial, 0, "a");
  cause(&trial, 1, "b");
  cause(&trial, 2, "c");
  trial_close(&trial);
}

/* ---- drills ---- */

static void drills__value(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), CAUSE("a"), CAUSE("b"), CAUSE("not"),
        DRILL("both", "external", "a: 0.5, b: 0.4"), DRILL("thought", "body", "a: 0.9"),
        DRILL("advised", "external", "a: 0.5"), DRILL("warned", "external", "a: 0.5, not: 0.9"),
        RULE("r", "{q: yes}", "a: 0.8, b: 0.5, not: -0.8"), RULE("for", "{q: yes}", "advised: 0.5"),
        RULE("against", "{q: yes}", "warned: -0.3"));
  TRY(&trial, "q=yes");
  const struct ranked_drill *advised = drill(&trial, 0, "advised");
  assert_near(advised->from_causes, 0.4, 1e-15);
  assert_near(advised->advice, 0.5, 1e-15);
  assert_near(advised->value, 0.7, 1e-15); /* 0.4 + 0.5 - 0.2 */
  const struct ranked_drill *both = drill(&trial, 1, "both");
  assert_near(both->value, 1 - (1 - 0.8 * 0.5) * (1 - 0.5 * 0.4), 1e-15);
  assert_int_equal(both->n_shares, 2);
  assert_true(both->shares[0].cause == trial_claim(&trial, "a"));
  assert_near(both->shares[0].part, 0.4, 1e-15);
  assert_near(both->shares[1].certainty, 0.5, 1e-15);
  assert_near(both->shares[1].effect, 0.4, 0);
  assert_near(drill(&trial, 2, "thought")->value, 0.7 * 0.8 * 0.9, 1e-15);
  const struct ranked_drill *warned = drill(&trial, 3, "warned");
  assert_near(warned->value, (0.4 - 0.3) / (1 - 0.3), 1e-15);
  assert_int_equal(warned->n_shares, 1); /* what speaks against a cause adds nothing */
  assert_true(run_drill(trial.run) == trial_claim(&trial, "advised"));
  trial_close(&trial);
}

/* Advice alone does not make a drill apt: it must change a cause that is believed. */
static void drills__need_a_believed_cause(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), CAUSE("a"), CAUSE("b"), DRILL("advised", "external", "b: 0.9"),
        DRILL("apt", "external", "a: 0.2"), DRILL("spoilt", "external", "a: 0.2"),
        RULE("r", "{q: yes}", "a: 0.5, b: 0.2, advised: 0.9, spoilt: -0.9"));
  TRY(&trial, "q=yes");
  assert_int_equal(trial.run->n_drills, 1);
  drill(&trial, 0, "apt");
  trial_close(&trial);
}

static void drills__equals_stand_by_name(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), CAUSE("a"), DRILL("z", "external", "a: 0.5"),
        DRILL("m", "external", "a: 0.5"), RULE("r", "{q: yes}", "a: 0.5"));
  TRY(&trial, "q=yes");
  drill(&trial, 0, "m");
  drill(&trial, 1, "z");
  trial_close(&trial);
}

#define REMOVES(name, when, drills)                                                                \
  "- rule: " name "\n  when: " when "\n  removes: [" drills "]\n  because: x\n  kind: convention\n"

static void drills__removed_by_a_rule(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), YES_NO("rough"), CAUSE("a"), DRILL("gate", "external", "a: 0.9"),
        DRILL("line", "external", "a: 0.3"), RULE("r", "{q: yes}", "a: 0.8"),
        REMOVES("z-too", "{rough: yes}", "gate"),
        REMOVES("not-from-rough", "{rough: yes}", "gate"));
  TRY(&trial, "q=yes");
  assert_true(run_drill(trial.run) == trial_claim(&trial, "gate")); /* not known to be rough */
  TRY(&trial, "q=yes", "rough=yes");
  assert_true(run_drill(trial.run) == trial_claim(&trial, "line"));
  const struct ranked_drill *gate = drill(&trial, 1, "gate"); /* the removed stand last */
  assert_int_equal(gate->removal, REMOVAL_RULE);
  assert_true(gate->removed_by == trial_rule(&trial, "not-from-rough"));
  assert_near(gate->value, 0.72, 1e-15);
  TRY(&trial, "q=yes", "rough=no");
  assert_int_equal(drill(&trial, 0, "gate")->removal, REMOVAL_NONE);
  trial_close(&trial);
}

static void drills__removed_by_what_they_need(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), YES_NO("sticks"), CHOICE("place", "range: a, net: b, course: c"),
        CAUSE("a"),
        DRILL("gate", "external",
              "a: 0.9") "  needs: {all: [{sticks: yes}, {place: {one_of: [range, net]}}]}\n",
        RULE("r", "{q: yes}", "a: 0.8"));
  TRY(&trial, "q=yes");
  assert_int_equal(drill(&trial, 0, "gate")->removal, REMOVAL_NONE); /* not known: not removed */
  TRY(&trial, "q=yes", "sticks=yes", "place=net");
  assert_int_equal(drill(&trial, 0, "gate")->removal, REMOVAL_NONE);
  TRY(&trial, "q=yes", "sticks=no");
  assert_int_equal(drill(&trial, 0, "gate")->removal, REMOVAL_NEEDS);
  assert_true(run_drill(trial.run) == NO_INDEX);
  TRY(&trial, "q=yes", "sticks=yes", "place=course");
  assert_int_equal(drill(&trial, 0, "gate")->removal, REMOVAL_NEEDS);
  trial_close(&trial);
}

static void drills__a_red_flag_forbids_all(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), YES_NO("pain"), FINDING("hurts") "  red_flag: Stop.\n", CAUSE("a"),
        DRILL("gate", "external", "a: 0.9"), RULE("r", "{q: yes}", "a: 0.8"),
        RULE("p", "{pain: yes}", "hurts: near_certain"));
  TRY(&trial, "q=yes", "pain=no");
  assert_true(trial.run->red_flag == NO_INDEX);
  assert_true(run_drill(trial.run) != NO_INDEX);
  TRY(&trial, "q=yes", "pain=yes");
  assert_true(trial.run->red_flag == trial_claim(&trial, "hurts"));
  assert_true(run_drill(trial.run) == NO_INDEX);
  assert_true(run_leading(trial.run) == trial_claim(&trial, "a")); /* the cause is told */
  assert_int_equal(trial.run->n_drills, 0); /* and nothing to do, nor to find out */
  assert_int_equal(trial.run->n_checks, 0);
  trial_close(&trial);
}

static void belief_combine__certain_for_and_against_cancel(void **state) {
  (void)state;
  assert_near(belief_combine(1, -1), 0, 0);
  assert_near(belief_combine(1, -0.5), 1, 0);
}

/* ---- what to check next ---- */

static const struct next_check *check(const struct trial *trial, size_t i, const char *name) {
  assert_true(i < trial->run->n_checks);
  assert_string_equal(trial->model->evidence[trial->run->checks[i].evidence].name, name);
  return &trial->run->checks[i];
}

static void checks__by_what_they_could_tell_per_effort(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), ASKED("known_by_player", "know"), ASKED("looked_at", "look"),
        ASKED("filmed", "video"), ASKED("measured", "measure"), YES_NO("idle"), CAUSE("a"),
        CAUSE("b"), RULE("r", "{q: yes}", "a: 0.5"), RULE("r1", "{known_by_player: yes}", "a: 0.4"),
        RULE("r2", "{looked_at: yes}", "a: 0.4"), RULE("r3", "{filmed: yes}", "a: 0.4"),
        RULE("r4", "{measured: yes}", "a: 0.4"));
  TRY(&trial, "q=yes");
  assert_int_equal(trial.run->n_checks, 4); /* not q, which is known, nor idle */
  double gain = check(&trial, 0, "known_by_player")->gain;
  assert_true(gain > 0);
  assert_near(check(&trial, 1, "looked_at")->gain, gain / 1.5, 1e-15);
  assert_near(check(&trial, 2, "filmed")->gain, gain / 2.5, 1e-15);
  assert_near(check(&trial, 3, "measured")->gain, gain / 4, 1e-15);
  assert_int_equal(check(&trial, 0, "known_by_player")->n_rules, 1);
  trial_close(&trial);
}

static void checks__flow_through_findings_and_formulas(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("filmed"), NUMBER("face"), NUMBER("path"),
        "- evidence: face_to_path\n  title: x\n  about: x\n  kind: number\n  unit: deg\n"
        "  range: [-9, 9]\n  error: 1\n  spread: 1\n  formula: face - path\n",
        FINDING("open_face"), CAUSE("a"),
        RULE("r1", "{all: [{face_to_path: {above: 2}}, {filmed: yes}]}", "open_face: 0.5"),
        RULE("r2", "{open_face: believed}", "a: 0.5"));
  TRY(&trial, "filmed=yes");
  assert_int_equal(trial.run->n_checks, 2); /* face_to_path itself is never asked for */
  check(&trial, 0, "face");
  check(&trial, 1, "path");
  TRY(&trial, "filmed=yes", "path=1");
  assert_int_equal(trial.run->n_checks, 1);
  check(&trial, 0, "face");
  TRY(&trial, "filmed=no"); /* r1 has failed, whatever the face does */
  assert_int_equal(trial.run->n_checks, 0);
  trial_close(&trial);
}

static void checks__share_among_what_a_rule_lacks(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("alone"), YES_NO("one"), YES_NO("two"), CAUSE("a"),
        RULE("r1", "{alone: yes}", "a: 0.6"),
        RULE("r2", "{all: [{one: yes}, {two: yes}]}", "a: 0.6"));
  trial_chain(&trial); /* nothing given */
  double alone = check(&trial, 0, "alone")->gain;
  assert_near(check(&trial, 1, "one")->gain, alone / 2, 1e-15);
  assert_near(check(&trial, 2, "two")->gain, alone / 2, 1e-15);
  trial_close(&trial);
}

static void checks__surer_causes_draw_more(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), YES_NO("of_sure"), YES_NO("of_open"), YES_NO("of_unlikely"),
        CAUSE("sure"), CAUSE("open"), CAUSE("unlikely"),
        RULE("r", "{q: yes}", "sure: 0.7, unlikely: -0.7"),
        RULE("r1", "{of_sure: yes}", "sure: 0.5"), RULE("r2", "{of_open: yes}", "open: 0.5"),
        RULE("r3", "{of_unlikely: yes}", "unlikely: 0.5"));
  TRY(&trial, "q=yes");
  assert_int_equal(trial.run->n_checks, 2);
  check(&trial, 0, "of_sure");
  check(&trial, 1, "of_open");
  trial_close(&trial);
}

/* What moves both contenders alike tells nothing; what moves one tells. */
static void checks__part_the_contenders(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), YES_NO("of_both"), YES_NO("of_one"), YES_NO("of_many"), CAUSE("a"),
        CAUSE("b"), CAUSE("c"), CAUSE("d"), CAUSE("e"), RULE("r", "{q: yes}", "a: 0.5, b: 0.5"),
        RULE("r1", "{of_both: yes}", "a: 0.6, b: 0.6"), RULE("r2", "{of_one: yes}", "a: 0.6"),
        RULE("r3", "{of_many: yes}", "c: 0.9, d: 0.9, e: 0.9"));
  TRY(&trial, "q=yes");
  double one = check(&trial, 0, "of_one")->gain, both = check(&trial, 1, "of_both")->gain;
  assert_true(one > 1.1 * both);
  check(&trial, 2, "of_many"); /* touches nothing that is in question */
  trial_chain(&trial);
  run_reset(trial.run);
  trial_chain(&trial); /* with nothing believed yet, what touches most comes first */
  check(&trial, 0, "of_many");
  trial_close(&trial);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(causes__standings),
      cmocka_unit_test(causes__who_leads),
      cmocka_unit_test(causes__video_alone_leads_nothing),
      cmocka_unit_test(causes__equals_stand_by_name),
      cmocka_unit_test(drills__value),
      cmocka_unit_test(drills__need_a_believed_cause),
      cmocka_unit_test(drills__equals_stand_by_name),
      cmocka_unit_test(drills__removed_by_a_rule),
      cmocka_unit_test(drills__removed_by_what_they_need),
      cmocka_unit_test(drills__a_red_flag_forbids_all),
      cmocka_unit_test(belief_combine__certain_for_and_against_cancel),
      cmocka_unit_test(checks__by_what_they_could_tell_per_effort),
      cmocka_unit_test(checks__flow_through_findings_and_formulas),
      cmocka_unit_test(checks__share_among_what_a_rule_lacks),
      cmocka_unit_test(checks__surer_causes_draw_more),
      cmocka_unit_test(checks__part_the_contenders),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
