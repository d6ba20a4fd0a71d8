#include "session/plan.h"

#include <math.h>

#include "session/distribution.h"

#define POWER_QUANTILE 0.8416212335729143 /* of a wished power of 0.8 (practice) */
#define POWER_ENOUGH 0.5
#define COUNTED_SHOTS_MIN 10
#define COUNTED_SHOTS_MAX 30

/* ---- a mean ---- */

/* Shots in a row that resemble each other say less than as many independent ones: the spread of a
 * mean grows by sqrt((1 + r) / (1 - r)) (derived for a first-order process). Only when the likeness
 * is more than chance, since r of a short block is uncertain by about 1 / sqrt(n). */
static double likeness_factor(const struct summary *before) {
  double r = before->lag1;
  if (!(r > 1.645 / sqrt((double)before->n))) return 1;
  r = fmin(r, 0.6);
  return sqrt((1 + r) / (1 - r));
}

static double spread_of(const struct summary *before, double usual) {
  double spread = before->n < TEST_SPREAD_SHOTS ? fmax(before->sd, usual) : before->sd;
  return spread * likeness_factor(before);
}

/* Standard error of the difference of both means. */
static double difference_error(double spread, size_t n, size_t shots) {
  return spread * sqrt(1 / (double)n + 1 / (double)shots);
}

struct test_block test_of_mean(const struct summary *before, double usual, double low,
                               double high) {
  struct test_block test = {.kind = TEST_NONE, .low = low, .high = high, .before = before->mean};
  bool below = before->mean<low, above = before->mean> high;
  if (before->n < 3 || (!below && !above)) return test;
  double spread = spread_of(before, usual);
  if (!(spread > 0)) return test;
  double goal = below ? low - before->mean : before->mean - high;
  double quantile = student_quantile(1 - TEST_LUCK, (double)before->n - 1);
  size_t shots = TEST_SHOTS_MIN;
  while (shots < TEST_SHOTS_MAX &&
         (quantile + POWER_QUANTILE) * difference_error(spread, before->n, shots) > goal)
    shots++;
  double error = difference_error(spread, before->n, shots);
  test.kind = TEST_MEAN;
  test.shots = shots;
  test.shots_before = before->n;
  test.direction = below ? 1 : -1;
  test.change = quantile * error;
  test.reach = before->mean + test.direction * test.change;
  test.power = normal_share((goal - test.change) / error);
  return test;
}

/* ---- counts ---- */

/* The least count of hits that chance brings in fewer than TEST_LUCK of cases; above shots: none.
 */
static size_t hits_needed(size_t hits, size_t n, size_t shots) {
  size_t k = 1;
  while (k <= shots && 1 - further_hits_share(k - 1, shots, hits, n) >= TEST_LUCK) k++;
  return k;
}

/* P(at most k of n shots hit) at a known rate. */
static double at_most(size_t k, size_t n, double rate) {
  double sum = 0, term = pow(1 - rate, (double)n);
  for (size_t i = 0; i <= k && i <= n; i++) {
    sum += term;
    term *= (double)(n - i) / (double)(i + 1) * rate / (1 - rate);
  }
  return fmin(1, sum);
}

struct test_block test_of_hits(size_t hits, size_t n, double aim) {
  struct test_block test = {.kind = TEST_NONE, .shots_before = n, .counted_before = hits};
  if (n < 3) return test;
  for (size_t shots = COUNTED_SHOTS_MIN; shots <= COUNTED_SHOTS_MAX; shots++) {
    size_t needed = hits_needed(hits, n, shots);
    if (needed > shots) continue;
    test.kind = TEST_HITS;
    test.shots = shots;
    test.needed = needed;
    test.power = aim < 1 ? 1 - at_most(needed - 1, shots, aim) : 1;
    if ((double)needed <= aim * (double)shots) break;
  }
  return test;
}

struct test_block test_of_misses(size_t misses, size_t n) {
  struct test_block test = {.kind = TEST_NONE, .shots_before = n, .counted_before = misses};
  if (n < 3) return test;
  for (size_t shots = COUNTED_SHOTS_MIN; shots <= COUNTED_SHOTS_MAX; shots++) {
    size_t needed = 0;
    if (further_hits_share(0, shots, misses, n) >= TEST_LUCK) continue;
    while (further_hits_share(needed + 1, shots, misses, n) < TEST_LUCK) needed++;
    test.kind = TEST_MISSES;
    test.shots = shots;
    test.needed = needed;
    test.power = at_most(needed, shots, (double)misses / (double)n / 2);
    /* Half the misses gone is what a player would notice. */
    if ((double)needed * (double)n >= 0.5 * (double)misses * (double)shots) break;
  }
  return test;
}

struct test_block test_best(const struct test_block *tests, size_t n) {
  struct test_block best = {.kind = TEST_NONE};
  for (size_t i = 0; i < n; i++) {
    if (tests[i].kind == TEST_NONE) continue;
    if (tests[i].power >= POWER_ENOUGH) return tests[i];
    if (best.kind == TEST_NONE || tests[i].power > best.power) best = tests[i];
  }
  return best;
}
