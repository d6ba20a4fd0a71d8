/* Retests: the comparison of two rows against published values, the looks at shots that come one by
 * one by simulation, and the verdicts on a small knowledge base. */
#include <math.h>
#include <stdio.h>

#include "session/distribution.h"
#include "session/retest.h"
#include "session/small.h"

static void close_to(double seen, double expected, double within) {
  if (!(fabs(seen - expected) <= within)) fail_msg("%.12g, expected %.12g", seen, expected);
}

/* student-1908, the first drug and the second. */
static const double first_drug[] = {0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0};
static const double second_drug[] = {1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4};

/* ---- two rows ---- */

static void rows_compare__gives_the_published_values_of_sleep(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct change change;
  assert_true(rows_compare(arena, second_drug, 10, first_drug, 10, &change));
  close_to(change.t, -1.8608, 5e-5);
  close_to(change.df, 17.776, 5e-4);
  close_to(change.p, 0.07939, 5e-6);
  close_to(change.low, -3.3654832, 5e-8);
  close_to(change.high, 0.2054832, 5e-8);
  close_to(change.difference, -1.58, 1e-12);
  assert_true(isnan(change.permutation) && change.chance == change.p);
  arena_free(arena);
}

/* nist-strd, AUTO83B: miles per gallon of American and of Japanese cars. */
static void change_of__gives_the_published_values_of_a_summary(void **state) {
  (void)state;
  struct summary before = {.n = 79, .mean = 30.48101, .sd = 6.10771};
  struct summary after = {.n = 249, .mean = 20.14458, .sd = 6.41470};
  before.error = before.sd / sqrt(79);
  after.error = after.sd / sqrt(249);
  struct change change = change_of(&before, &after);
  close_to(change.t, -12.94627, 5e-5); /* the summary is rounded */
  close_to(change.df, 136.87499, 5e-4);
  assert_true(change.p < 1e-20);
}

/* Derived: of the 20 ways to deal {1 .. 6} in threes, 2 lie as far apart. Of the 184756 ways of the
 * sleep data 15048 do, counted by an independent program in whole numbers. */
static void permutation_chance__counts_all_deals(void **state) {
  (void)state;
  static const double low[] = {1, 2, 3}, high[] = {4, 5, 6}, same[] = {7, 7, 7};
  struct arena *arena = arena_new(NULL);
  close_to(permutation_chance(arena, low, 3, high, 3), 0.1, 1e-12);
  close_to(permutation_chance(arena, same, 3, same, 3), 1, 1e-12);
  close_to(permutation_chance(arena, first_drug, 10, second_drug, 10), 15048 / 184756.0, 1e-12);
  arena_free(arena);
}

/* Too many to try all: the drawn chance is near the exact one and the same each time. */
static void permutation_chance__draws_when_there_are_too_many(void **state) {
  (void)state;
  double before[20], after[20];
  struct arena *arena = arena_new(NULL);
  for (int i = 0; i < 20; i++) {
    before[i] = first_drug[i % 10];
    after[i] = i < 10 ? first_drug[i] + 0.5 : second_drug[i - 10] - 0.7;
  }
  double drawn = permutation_chance(arena, before, 20, after, 20);
  struct change change;
  assert_true(rows_compare(arena, before, 20, after, 20, &change));
  close_to(drawn, change.p, 0.02);
  assert_true(drawn == permutation_chance(arena, before, 20, after, 20));
  arena_free(arena);
}

static void rows_compare__takes_the_larger_chance_of_few(void **state) {
  (void)state;
  static const double before[] = {1, NAN, 1.1, 1.2}, after[] = {4, 4.1, NAN, 4.2};
  struct arena *arena = arena_new(NULL);
  struct change change;
  assert_true(rows_compare(arena, before, 4, after, 4, &change));
  assert_int_equal(change.n_before, 3);
  assert_true(change.p < 0.001);
  close_to(change.permutation, 0.1, 1e-12);
  assert_true(change.chance == change.permutation);
  assert_true(rows_compare(arena, before, 1, after, 4, &change));
  assert_true(isnan(change.p) && isnan(change.chance));
  arena_free(arena);
}

/* villarrasa-2022: an error of 12.05 in both blocks makes a change of 33.41 detectable. Hedges'
 * correction for 8 degrees of freedom is 1 - 3/31 (derived). */
static void change_of__tells_size_and_noise(void **state) {
  (void)state;
  struct summary before = {.n = 5, .mean = 0, .sd = 12.05 * sqrt(5), .error = 12.05};
  struct summary after = before;
  after.mean = 12.05 * sqrt(5);
  struct change change = change_of(&before, &after);
  close_to(change.detectable, 33.41, 0.02);
  close_to(change.effect, 28.0 / 31, 1e-12);
}

/* Derived by hand: 0.01 < 0.05/4, 0.02 >= 0.05/3 and so nothing further. */
static void hold_together__steps_down(void **state) {
  (void)state;
  static const double chances[] = {0.02, 0.01, NAN, 0.3, 0.03};
  static const double two[] = {0.04, 0.001};
  bool below[5];
  hold_together(chances, 5, below);
  assert_true(!below[0] && below[1] && !below[2] && !below[3] && !below[4]);
  hold_together(two, 2, below);
  assert_true(below[0] && below[1]);
}

/* ---- looks ---- */

static double random_normal(uint64_t *state) {
  double u = 1 - random_uniform(state), v = random_uniform(state);
  return sqrt(-2 * log(u)) * cos(6.283185307179586 * v);
}

/* Follows shots to the stop; answers how it ended. */
static struct look follow(const struct target *target, uint64_t *state, double mean, double rate) {
  double readings[64];
  struct look look = {.answer = LOOK_GO_ON};
  for (size_t n = 0; n < 64 && look.answer == LOOK_GO_ON; n++) {
    bool counts = target->plan.kind != TEST_MEAN;
    readings[n] = counts ? random_uniform(state) < rate : mean + 2 * random_normal(state);
    look = target_look(target, readings, n + 1);
  }
  assert_true(look.answer != LOOK_GO_ON);
  return look;
}

struct shares {
  double worked, shots;
};

#define RUNS 3000

/* Blocks of n shots about -4 with a spread of 2; the goal is 0 or more. */
static struct shares follow_means(size_t n, double moved) {
  uint64_t state = 5 * n + 1;
  struct arena *arena = arena_new(NULL);
  struct shares shares = {0, 0};
  for (int i = 0; i < RUNS; i++) {
    double before[40];
    struct summary summary;
    arena_reset(arena);
    for (size_t k = 0; k < n; k++) before[k] = -4 + 2 * random_normal(&state);
    assert_true(summarise(arena, before, n, &summary));
    struct target made = target_of_test(test_of_mean(&summary, 2, 0, INFINITY));
    if (made.plan.kind != TEST_MEAN) continue;
    struct look look = follow(&made, &state, moved - 4, 0);
    shares.worked += look.answer == LOOK_WORKED;
    shares.shots += (double)look.shots / (double)made.plan.shots;
  }
  arena_free(arena);
  return (struct shares){shares.worked / RUNS, shares.shots / RUNS};
}

/* The promise: false "it worked" in fewer than one case in ten, however often one looks. */
static void target_look__is_seldom_fooled(void **state) {
  (void)state;
  static const size_t sizes[] = {5, 8, 12, 20, 40};
  for (size_t i = 0; i < COUNT_OF(sizes); i++) {
    struct shares none = follow_means(sizes[i], 0), full = follow_means(sizes[i], 5);
    printf("# %zu shots before: nothing moved: worked in %.4f, %.2f of the planned shots; to the "
           "goal: %.4f, %.2f\n",
           sizes[i], none.worked, none.shots, full.worked, full.shots);
    assert_true(none.worked < 0.10);
    assert_true(full.worked > 0.85);
    assert_true(none.shots < 0.95); /* giving up saves shots */
  }
}

static double follow_counts(bool hits, double rate_before, double rate) {
  uint64_t state = 77;
  double worked = 0;
  for (int i = 0; i < RUNS; i++) {
    size_t counted = 0;
    for (int k = 0; k < 15; k++) counted += random_uniform(&state) < rate_before;
    struct target target =
        target_of_test(hits ? test_of_hits(counted, 15, 0.6) : test_of_misses(counted, 15));
    if (target.plan.kind == TEST_NONE) continue;
    worked += follow(&target, &state, 0, rate).answer == LOOK_WORKED;
  }
  return worked / RUNS;
}

static void target_look__is_seldom_fooled_by_counts(void **state) {
  (void)state;
  double hits = follow_counts(true, 0.2, 0.2), misses = follow_counts(false, 0.7, 0.7);
  printf("# counts: nothing moved: hits %.4f, misses %.4f\n", hits, misses);
  assert_true(hits < 0.10 && misses < 0.10);
  assert_true(follow_counts(true, 0.2, 0.9) > 0.8);
  assert_true(follow_counts(false, 0.7, 0.05) > 0.8);
}

/* Counting ends as soon as it is decided, and says the same as the whole count would. */
static void target_look__decides_counts_when_nothing_can_change_them(void **state) {
  (void)state;
  struct target target = target_of_test((struct test_block){
      .kind = TEST_MISSES, .shots = 10, .shots_before = 15, .counted_before = 12, .needed = 3});
  static const double misses[] = {1, 1, 1, 1}, hits[] = {0, 0, 0, 0, 0, 0, 0, 0};
  assert_int_equal(target_look(&target, misses, 3).answer, LOOK_GO_ON);
  assert_int_equal(target_look(&target, misses, 4).answer, LOOK_GIVE_UP);
  assert_int_equal(target_look(&target, hits, 6).answer, LOOK_GO_ON);
  assert_int_equal(target_look(&target, hits, 7).answer, LOOK_WORKED);
}

/* At the planned count a look is the plan's own test. */
static void target_look__ends_with_the_plan(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  static const double before[] = {-5, -3, -4, -6, -2, -4, -5, -3};
  struct summary summary;
  assert_true(summarise(arena, before, 8, &summary));
  struct target target = target_of_test(test_of_mean(&summary, 2, 0, INFINITY));
  double readings[TEST_SHOTS_MAX];
  size_t n = target.plan.shots;
  for (size_t i = 0; i < n; i++) readings[i] = target.plan.reach + 1e-9;
  assert_int_equal(target_look(&target, readings, n).answer, LOOK_WORKED);
  close_to(target_look(&target, readings, n).reach, target.plan.reach, 1e-9);
  for (size_t i = 0; i < n; i++) readings[i] = target.plan.reach - 1e-6;
  assert_int_equal(target_look(&target, readings, n).answer, LOOK_END);
  arena_free(arena);
}

/* ---- verdicts ---- */

struct made {
  struct knowledge knowledge;
  struct arena *scratch;
  struct diags diags;
  struct run *players[2];
  struct session *sessions[2];
  struct retest retest;
};

static void make_on(struct made *made, const char *const *directories, const char *before,
                    const char *after) {
  const char *texts[] = {before, after};
  assert_true(knowledge_load(&made->knowledge, directories, 0));
  made->scratch = arena_new(NULL);
  diags_init(&made->diags, made->scratch);
  for (int i = 0; i < 2; i++) {
    struct small_feed feed = {texts[i]};
    made->players[i] = run_new(NULL, made->knowledge.network);
    made->sessions[i] = session_new(NULL, made->players[i]);
    assert_true(session_read(made->sessions[i], "t.csv", small_fetch, &feed, &made->diags));
    assert_true(session_diagnose(made->sessions[i]));
  }
  made->retest = (struct retest){.arena = made->scratch,
                                 .before = made->sessions[0],
                                 .after = made->sessions[1],
                                 .asked = NO_INDEX};
}

static void make(struct made *made, const char *before, const char *after) {
  static const char *const small[] = {"tests/session/small", NULL};
  make_on(made, small, before, after);
}

static void drop(struct made *made) {
  for (int i = 0; i < 2; i++) {
    session_free(made->sessions[i]);
    run_free(made->players[i]);
  }
  arena_free(made->scratch);
  knowledge_free(&made->knowledge);
}

/* n rows about a path and a start, with a little scatter. */
static const char *rows(char *text, size_t room, int n, double path, double start, double wide) {
  size_t at = (size_t)snprintf(text, room, "path,start,curve\n");
  for (int i = 0; i < n; i++) {
    double off = (i % 3 - 1) * 0.5 * wide;
    at += (size_t)snprintf(text + at, room - at, "%.2f,%.2f,%.2f\n", path + off, start + off,
                           off / 2);
  }
  return text;
}

static enum verdict_reason reason_for(int n, double path, double start, double wide) {
  struct made made;
  char before[2000], after[2000];
  make(&made, rows(before, sizeof before, 12, -6, -5.5, 1),
       rows(after, sizeof after, n, path, start, wide));
  assert_true(retest_make(&made.retest));
  assert_int_equal(made.retest.n_clubs, 1);
  enum verdict_reason reason = made.retest.clubs[0].reason;
  drop(&made);
  return reason;
}

static void retest_make__gives_the_verdict(void **state) {
  (void)state;
  assert_int_equal(reason_for(12, -0.5, -0.4, 1), REASON_REACHED);
  assert_int_equal(reason_for(12, -5, -4.6, 1), REASON_ON_THE_WAY);
  assert_int_equal(reason_for(12, -6.01, -5.5, 1), REASON_NOT_MOVED);
  assert_int_equal(reason_for(12, -8, -5.5, 1), REASON_BACKWARDS);
  assert_int_equal(reason_for(2, -0.5, -0.4, 1), REASON_FEW_SHOTS);
  assert_int_equal(reason_for(12, 0.5, 9, 1), REASON_AT_A_COST);
  assert_int_equal(reason_for(12, -6, -5.5, 1), REASON_SAME_SHOTS);
}

static void retest_make__tests_the_number_asked_for(void **state) {
  (void)state;
  struct made made;
  char before[2000], after[2000];
  make(&made, rows(before, sizeof before, 12, -6, -5.5, 1),
       rows(after, sizeof after, 12, -6, -2, 1));
  made.retest.asked = model_find_evidence(made.knowledge.model, "start");
  made.retest.goal = -3;
  assert_true(retest_make(&made.retest));
  assert_int_equal(made.retest.clubs[0].reason, REASON_REACHED);
  made.retest.n_clubs = 0;
  made.retest.goal = 0;
  assert_true(retest_make(&made.retest));
  assert_int_equal(made.retest.clubs[0].reason, REASON_ON_THE_WAY);
  made.retest.n_clubs = 0;
  made.retest.asked = model_find_evidence(made.knowledge.model, "attack");
  assert_true(retest_make(&made.retest));
  assert_int_equal(made.retest.clubs[0].reason, REASON_NO_TARGET);
  drop(&made);
}

/* Twelve shots swung 10 % faster with the same strike gain no ball speed at the same club speed. */
static void retest_make__compares_at_the_same_club_speed(void **state) {
  (void)state;
  static const char *const directories[] = {"rules", "kb", NULL};
  struct made made = {.scratch = NULL};
  char text[2][2000];
  assert_true(knowledge_load(&made.knowledge, directories, 0));
  made.scratch = arena_new(NULL);
  diags_init(&made.diags, made.scratch);
  for (int i = 0; i < 2; i++) {
    size_t at = (size_t)snprintf(text[i], sizeof text[i],
                                 "Club,Club Speed (mph),Ball Speed (mph),Carry (yd)\n");
    for (int k = 0; k < 12; k++) {
      double speed = (i ? 88 : 80) + k % 3 - 1, ball = speed * (1.3 + 0.004 * (k % 4));
      double carry = 130 * pow(speed / 80, 1.2) + k % 2;
      at += (size_t)snprintf(text[i] + at, sizeof text[i] - at, "7i,%.2f,%.3f,%.3f\n", speed, ball,
                             carry);
    }
    struct small_feed feed = {text[i]};
    made.players[i] = run_new(NULL, made.knowledge.network);
    made.sessions[i] = session_new(NULL, made.players[i]);
    assert_true(session_read(made.sessions[i], "t.csv", small_fetch, &feed, &made.diags));
    assert_true(session_diagnose(made.sessions[i]));
  }
  made.retest = (struct retest){.arena = made.scratch,
                                .before = made.sessions[0],
                                .after = made.sessions[1],
                                .asked = NO_INDEX};
  assert_true(retest_make(&made.retest));
  const struct club_retest *club = &made.retest.clubs[0];
  for (size_t i = 0; i < club->n_figures; i++) {
    const struct compared *of = &club->figures[i];
    if (i == club->speed) continue;
    assert_true(of->adjusted && of->change.chance < 1e-6);
    assert_true(fabs(of->at_speed.difference) < 0.01 * of->change.before && !of->moved);
    /* 0.2 ln 1.1 of the carry comes on top of the error of the carry. */
    bool carry = fabs(of->change.before / 0.9144 - 130.5) < 2;
    assert_true(!carry || of->at_speed.error > 0.2 * log(1.1) * of->change.after);
  }
  assert_int_equal(club->n_worse, 0);
  drop(&made);
}

/* Twelve shots about a path, at a club speed in mph. */
static const char *swung(char *text, size_t room, double path, double speed) {
  size_t at = (size_t)snprintf(text, room, "Club,Path,Club Speed (mph)\n");
  for (int i = 0; i < 12; i++) {
    double off = i % 3 - 1;
    at += (size_t)snprintf(text + at, room - at, "7i,%.2f,%.2f\n", path + off / 2,
                           speed + off * (i % 2 ? 0.8 : 1.1));
  }
  return text;
}

static void retest_speed(struct made *made, double path, double speed, const char *asked) {
  static const char *const directories[] = {"rules", "kb", NULL};
  char before[2000], after[2000];
  make_on(made, directories, swung(before, sizeof before, -5, 84.3),
          swung(after, sizeof after, path, speed));
  made->retest.asked = model_find_evidence(made->knowledge.model, asked);
  made->retest.goal = asked[0] == 'p' ? 0 : 45;
  assert_true(retest_make(&made->retest));
  assert_int_equal(made->retest.n_clubs, 1);
}

static void retest_make__compares_no_swings_of_another_speed(void **state) {
  (void)state;
  static const struct {
    double speed;
    bool apart;
    enum verdict_reason reason;
    size_t n_worse;
  } swings[] = {{59.5, true, REASON_OTHER_SPEED, 1},
                {95, true, REASON_OTHER_SPEED, 0},
                {84.5, false, REASON_REACHED, 0},
                {82, false, REASON_AT_A_COST, 1}}; /* more than noise, less than 5 % */
  for (size_t i = 0; i < 4; i++) {
    struct made made;
    retest_speed(&made, 0.5, swings[i].speed, "path");
    const struct club_retest *club = &made.retest.clubs[0];
    assert_int_equal(club->speed_apart, swings[i].apart);
    assert_int_equal(club->reason, swings[i].reason);
    assert_int_equal(club->n_worse, swings[i].n_worse);
    drop(&made);
  }
}

static void retest_make__may_ask_for_club_speed_itself(void **state) {
  (void)state;
  struct made made;
  retest_speed(&made, -5.2, 104, "club_speed");
  assert_true(made.retest.clubs[0].speed_apart);
  assert_int_equal(made.retest.clubs[0].reason, REASON_REACHED);
  drop(&made);
}

static void retest_make__stops_at_an_alarm_of_either_table(void **state) {
  (void)state;
  static const char *const texts[] = {"path,pain\n-6,no\n-6,\n-6,no\n",
                                      "path,pain\n-6,no\n-6,no\n-1,yes\n"};
  for (int i = 0; i < 2; i++) {
    struct made made;
    make(&made, texts[i], texts[!i]);
    assert_true(retest_make(&made.retest));
    assert_int_equal(made.retest.n_clubs, 0);
    assert_non_null(made.retest.alarm);
    assert_int_equal(made.retest.alarm->line, 4);
    drop(&made);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(rows_compare__gives_the_published_values_of_sleep),
      cmocka_unit_test(change_of__gives_the_published_values_of_a_summary),
      cmocka_unit_test(permutation_chance__counts_all_deals),
      cmocka_unit_test(permutation_chance__draws_when_there_are_too_many),
      cmocka_unit_test(rows_compare__takes_the_larger_chance_of_few),
      cmocka_unit_test(change_of__tells_size_and_noise),
      cmocka_unit_test(hold_together__steps_down),
      cmocka_unit_test(target_look__is_seldom_fooled),
      cmocka_unit_test(target_look__is_seldom_fooled_by_counts),
      cmocka_unit_test(target_look__decides_counts_when_nothing_can_change_them),
      cmocka_unit_test(target_look__ends_with_the_plan),
      cmocka_unit_test(retest_make__gives_the_verdict),
      cmocka_unit_test(retest_make__tests_the_number_asked_for),
      cmocka_unit_test(retest_make__compares_at_the_same_club_speed),
      cmocka_unit_test(retest_make__compares_no_swings_of_another_speed),
      cmocka_unit_test(retest_make__may_ask_for_club_speed_itself),
      cmocka_unit_test(retest_make__stops_at_an_alarm_of_either_table),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
