/* The test block by simulation: with no change at all it says "it worked" in fewer than one case in
 * ten, and when the drill does what it is for it says so. */
#include <math.h>

#include "session/plan.h"
#include "support/cases.h"
#include "support/knowledge.h"

#define RUNS 20000
#define SHOTS_ROOM 64

static double random_normal(uint64_t *state) {
  double u = 1 - random_uniform(state), v = random_uniform(state);
  return sqrt(-2 * log(u)) * cos(6.283185307179586 * v);
}

/* How an invented player's number varies about 0. */
struct player {
  double sd;
  double likeness;  /* of neighbours: first-order autocorrelation */
  double wild, far; /* share of shots that are `far` times as wide */
};

static void draw(uint64_t *state, const struct player *player, double mean, double *x, size_t n) {
  double last = random_normal(state), r = player->likeness;
  for (size_t i = 0; i < n; i++) {
    last = r * last + sqrt(1 - r * r) * random_normal(state);
    double wide = random_uniform(state) < player->wild ? player->far : 1;
    x[i] = mean + player->sd * wide * last;
  }
}

static double mean_of(const double *x, size_t n) {
  double sum = 0;
  for (size_t i = 0; i < n; i++) sum += x[i];
  return sum / (double)n;
}

static bool has_passed(const struct test_block *test, double after) {
  return test->direction > 0 ? after >= test->reach : after <= test->reach;
}

/* Share of sessions in which the block after passes, when its mean has moved by `moved`. The
 * player's true mean is `off` from the goal: the drill is planned only when the block before shows
 * it off. */
static double passing(const struct player *player, size_t n, double off, double moved,
                      double *planned) {
  uint64_t state = 11 * n + 1;
  size_t passed = 0, plans = 0;
  struct arena *arena = arena_new(NULL);
  for (int i = 0; i < RUNS; i++) {
    double before[SHOTS_ROOM], after[SHOTS_ROOM];
    struct summary summary;
    arena_reset(arena);
    draw(&state, player, 0 - off, before, n);
    assert_true(summarise(arena, before, n, &summary));
    struct test_block test = test_of_mean(&summary, player->sd, 0, INFINITY);
    if (test.kind == TEST_NONE) continue;
    plans++;
    draw(&state, player, moved - off, after, test.shots);
    passed += has_passed(&test, mean_of(after, test.shots));
  }
  arena_free(arena);
  if (planned) *planned = (double)plans / RUNS;
  return (double)passed / RUNS;
}

static void assert_rarely(double share, const char *what, size_t n) {
  if (!(share < 0.1)) fail_msg("%s, %zu shots before: it worked falsely in %g", what, n, share);
}

static void test_of_mean__chance_alone_seldom_passes(void **state) {
  (void)state;
  const size_t sizes[] = {3, 5, 8, 12, 20, 40};
  const struct player steady = {.sd = 2}, alike = {.sd = 2, .likeness = 0.25},
                      wild = {.sd = 2, .wild = 0.1, .far = 4};
  for (size_t i = 0; i < COUNT_OF(sizes); i++) {
    assert_rarely(passing(&steady, sizes[i], 3, 0, NULL), "independent shots", sizes[i]);
    assert_rarely(passing(&wild, sizes[i], 3, 0, NULL), "now and then a wild shot", sizes[i]);
    assert_rarely(passing(&alike, sizes[i], 3, 0, NULL), "neighbours alike", sizes[i]);
  }
  assert_rarely(passing(&steady, 12, 1, 0, NULL), "near the goal", 12);
  assert_rarely(passing(&steady, 12, 8, 0, NULL), "far from the goal", 12);
}

/* Also when the player was picked because the block before was off by chance: the true mean is at
 * the goal, and the means of both blocks are all that differs. */
static void test_of_mean__a_player_picked_by_chance_seldom_passes(void **state) {
  (void)state;
  const struct player steady = {.sd = 2};
  double planned = 0;
  double share = passing(&steady, 20, 0, 0, &planned);
  assert_true(planned > 0.45 && planned < 0.55);
  assert_rarely(share, "of all players", 20);
}

static void test_of_mean__a_drill_that_works_passes(void **state) {
  (void)state;
  const struct player steady = {.sd = 2};
  double share = passing(&steady, 20, 4, 4, NULL);
  if (share < 0.75) fail_msg("it worked in %g", share);
}

static struct summary summary_with(size_t n, double mean, double sd) {
  return (struct summary){.n = n, .mean = mean, .sd = sd, .error = sd / sqrt((double)n), .lag1 = 0};
}

static void test_of_mean__asks_for_what_the_spread_needs(void **state) {
  (void)state;
  struct summary narrow = summary_with(20, -5, 1), wide = summary_with(20, -5, 4);
  struct test_block easy = test_of_mean(&narrow, 2, -2.5, INFINITY);
  struct test_block hard = test_of_mean(&wide, 2, -2.5, INFINITY);
  assert_int_equal(easy.kind, TEST_MEAN);
  assert_int_equal(easy.shots, TEST_SHOTS_MIN);
  assert_int_equal(hard.shots, TEST_SHOTS_MAX);
  assert_true(hard.change > easy.change && hard.power < easy.power);
  assert_int_equal(easy.direction, 1);
  /* t(0.95, 19) = 1.729 (scipy); 1.729 sqrt(1/20 + 1/6) */
  assert_true(fabs(easy.change - 0.80484) < 1e-4);
  assert_true(fabs(easy.reach - (-5 + easy.change)) < 1e-12);
  struct test_block down = test_of_mean(&narrow, 2, -INFINITY, -6);
  assert_int_equal(down.direction, -1);
  assert_true(down.reach < -5);
}

static void test_of_mean__is_none_where_nothing_has_to_move(void **state) {
  (void)state;
  struct summary fine = summary_with(20, 0, 1), two = summary_with(2, -5, 1);
  assert_int_equal(test_of_mean(&fine, 2, -2.5, 2.5).kind, TEST_NONE);
  assert_int_equal(test_of_mean(&two, 2, -2.5, 2.5).kind, TEST_NONE);
}

static void test_of_mean__few_shots_count_with_the_usual_spread(void **state) {
  (void)state;
  struct summary lucky = summary_with(5, -5, 0.2);
  struct test_block test = test_of_mean(&lucky, 2, -2.5, INFINITY);
  assert_true(test.change > 2);
}

static size_t hits(uint64_t *state, size_t n, double rate) {
  size_t count = 0;
  for (size_t i = 0; i < n; i++) count += random_uniform(state) < rate;
  return count;
}

/* Share of RUNS in which both blocks have the same rate and the second passes all the same. */
static void check_counts(uint64_t *seed, size_t n, double rate, const struct test_block *more,
                         const struct test_block *fewer) {
  size_t hit = 0, missed = 0;
  for (int i = 0; i < RUNS; i++) {
    size_t before = hits(seed, n, rate);
    const struct test_block *hit_test = &more[before], *miss_test = &fewer[before];
    hit += hit_test->kind == TEST_HITS && hits(seed, hit_test->shots, rate) >= hit_test->needed;
    missed +=
        miss_test->kind == TEST_MISSES && hits(seed, miss_test->shots, rate) <= miss_test->needed;
  }
  assert_rarely((double)hit / RUNS, "hits", n);
  assert_rarely((double)missed / RUNS, "misses", n);
}

static void tests_of_counts__chance_alone_seldom_passes(void **state) {
  (void)state;
  uint64_t seed = 5;
  const size_t sizes[] = {5, 10, 20, 40};
  for (size_t s = 0; s < COUNT_OF(sizes); s++) {
    struct test_block more[SHOTS_ROOM], fewer[SHOTS_ROOM];
    for (size_t k = 0; k <= sizes[s]; k++) {
      more[k] = test_of_hits(k, sizes[s], 0.6);
      fewer[k] = test_of_misses(k, sizes[s]);
    }
    for (double rate = 0.1; rate < 0.95; rate += 0.2)
      check_counts(&seed, sizes[s], rate, more, fewer);
  }
}

static void tests_of_counts__ask_for_more_than_before(void **state) {
  (void)state;
  struct test_block test = test_of_hits(6, 20, 0.6);
  assert_int_equal(test.kind, TEST_HITS);
  assert_true((double)test.needed / (double)test.shots > 0.3);
  test = test_of_misses(12, 20);
  assert_int_equal(test.kind, TEST_MISSES);
  assert_true((double)test.needed / (double)test.shots < 0.6);
  assert_int_equal(test_of_hits(20, 20, 0.6).kind, TEST_NONE);
  assert_int_equal(test_of_misses(0, 20).kind, TEST_NONE);
  assert_int_equal(test_of_misses(1, 2).kind, TEST_NONE);
}

/* The tests are chosen by what the block before showed; chance must not profit by the choice. The
 * invented player has two kinds of shots: so the mean alone says little. */
static void test_best__chance_alone_seldom_passes_the_one_chosen(void **state) {
  (void)state;
  uint64_t seed = 17;
  struct arena *arena = arena_new(NULL);
  struct test_block more[21], fewer[21];
  size_t passed = 0, kinds[4] = {0};
  for (size_t k = 0; k <= 20; k++) {
    more[k] = test_of_hits(k, 20, 0.6);
    fewer[k] = test_of_misses(k, 20);
  }
  for (int run = 0; run < RUNS; run++) {
    double x[20], sum = 0;
    size_t good = 0, hit = 0;
    struct summary summary;
    arena_reset(arena);
    for (size_t i = 0; i < 20; i++) {
      x[i] = (random_uniform(&seed) < 0.5 ? -6 : 0) + random_normal(&seed);
      good += x[i] > -2.5;
    }
    assert_true(summarise(arena, x, 20, &summary));
    const struct test_block tests[] = {test_of_mean(&summary, 2, -2.5, INFINITY), more[good],
                                       fewer[20 - good]};
    struct test_block test = test_best(tests, 3);
    kinds[test.kind]++;
    for (size_t i = 0; i < test.shots; i++) {
      double y = (random_uniform(&seed) < 0.5 ? -6 : 0) + random_normal(&seed);
      sum += y;
      hit += y > -2.5;
    }
    passed += test.kind == TEST_MEAN     ? has_passed(&test, sum / (double)test.shots)
              : test.kind == TEST_HITS   ? hit >= test.needed
              : test.kind == TEST_MISSES ? test.shots - hit <= test.needed
                                         : 0;
  }
  arena_free(arena);
  assert_rarely((double)passed / RUNS, "the test chosen", 20);
  assert_true(kinds[TEST_MEAN] > 100 && kinds[TEST_HITS] + kinds[TEST_MISSES] > 100);
}

static void test_best__takes_the_first_that_has_power(void **state) {
  (void)state;
  struct test_block tests[] = {{.kind = TEST_MEAN, .power = 0.3},
                               {.kind = TEST_HITS, .power = 0.6},
                               {.kind = TEST_MISSES, .power = 0.9}};
  assert_int_equal(test_best(tests, 3).kind, TEST_HITS);
  tests[1].power = 0.2;
  tests[2].power = 0.4;
  assert_int_equal(test_best(tests, 3).kind, TEST_MISSES);
  assert_int_equal(test_best(tests, 0).kind, TEST_NONE);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(test_of_mean__chance_alone_seldom_passes),
      cmocka_unit_test(test_of_mean__a_player_picked_by_chance_seldom_passes),
      cmocka_unit_test(test_of_mean__a_drill_that_works_passes),
      cmocka_unit_test(test_of_mean__asks_for_what_the_spread_needs),
      cmocka_unit_test(test_of_mean__is_none_where_nothing_has_to_move),
      cmocka_unit_test(test_of_mean__few_shots_count_with_the_usual_spread),
      cmocka_unit_test(tests_of_counts__chance_alone_seldom_passes),
      cmocka_unit_test(tests_of_counts__ask_for_more_than_before),
      cmocka_unit_test(test_best__chance_alone_seldom_passes_the_one_chosen),
      cmocka_unit_test(test_best__takes_the_first_that_has_power),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
