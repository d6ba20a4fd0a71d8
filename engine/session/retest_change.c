#include "session/retest_change.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "golf/propagate.h"
#include "session/distribution.h"

/* ---- Welch ---- */

static double hedges(const struct change *change, const struct summary *before,
                     const struct summary *after) {
  double df = (double)(before->n + after->n) - 2;
  double squares = (double)(before->n - 1) * before->sd * before->sd +
                   (double)(after->n - 1) * after->sd * after->sd;
  return change->difference / sqrt(squares / df) * (1 - 3 / (4 * df - 1));
}

static void judge_without_spread(struct change *change) {
  change->p = change->difference == 0 ? 1 : 0;
  change->low = change->high = change->difference;
  change->t = change->df = change->effect = NAN;
}

static void judge(struct change *change, const struct summary *before,
                  const struct summary *after) {
  double u = before->error * before->error, v = after->error * after->error;
  change->t = change->difference / change->error;
  change->df =
      (u + v) * (u + v) / (u * u / (double)(before->n - 1) + v * v / (double)(after->n - 1));
  change->p = 2 * student_share(-fabs(change->t), change->df);
  double half = student_quantile(1 - CHANGE_LEVEL / 2, change->df) * change->error;
  change->low = change->difference - half;
  change->high = change->difference + half;
  change->effect = hedges(change, before, after);
}

struct change change_of(const struct summary *before, const struct summary *after) {
  struct change change = {.n_before = before->n,
                          .n_after = after->n,
                          .before = before->mean,
                          .after = after->mean,
                          .difference = after->mean - before->mean,
                          .error = hypot(before->error, after->error),
                          .permutation = NAN};
  if (before->n < 2 || after->n < 2) {
    change.error = change.t = change.df = change.p = change.low = change.high = NAN;
    change.effect = change.detectable = change.chance = NAN;
    return change;
  }
  change.detectable = golf_detectable_change(change.error / sqrt(2));
  if (change.error > 0) judge(&change, before, after);
  else judge_without_spread(&change);
  change.chance = change.p;
  return change;
}

/* ---- permutation ---- */

/* splitmix64, from a fixed seed: the same answer on every machine. */
static uint64_t next_random(uint64_t *state) {
  uint64_t z = *state += 0x9e3779b97f4a7c15u;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

/* All readings less their mean, so that the first row's sum alone tells how far a deal lies. */
struct deal {
  double *all;
  size_t n, of;    /* so many of all readings fall to the first row */
  double observed; /* |sum| seen, less what rounding may do */
  size_t *picked;
};

static double ways_to_deal(size_t n, size_t of) {
  double ways = 1;
  for (size_t i = 1; i <= n; i++) ways *= (double)(of - n + i) / (double)i;
  return ways;
}

static bool lies_as_far(const struct deal *deal) {
  double sum = 0;
  for (size_t i = 0; i < deal->n; i++) sum += deal->all[deal->picked[i]];
  return fabs(sum) >= deal->observed;
}

/* The next choice of n out of `of` in order; false after the last. */
static bool next_choice(struct deal *deal) {
  size_t i = deal->n;
  while (i > 0 && deal->picked[i - 1] == deal->of - deal->n + i - 1) i--;
  if (i == 0) return false;
  deal->picked[i - 1]++;
  for (; i < deal->n; i++) deal->picked[i] = deal->picked[i - 1] + 1;
  return true;
}

static double try_all(struct deal *deal) {
  double far = 0, ways = 0;
  for (size_t i = 0; i < deal->n; i++) deal->picked[i] = i;
  do {
    far += lies_as_far(deal);
    ways++;
  } while (next_choice(deal));
  return far / ways;
}

/* The deal seen counts as one of those drawn, so the chance is never 0. */
static double try_some(struct deal *deal) {
  uint64_t state = 1;
  size_t far = 1;
  for (size_t i = 0; i < deal->n; i++) deal->picked[i] = i;
  for (size_t k = 0; k < CHANGE_DRAWS; k++) {
    for (size_t i = 0; i < deal->n; i++) {
      size_t other = i + (size_t)(next_random(&state) % (deal->of - i));
      double kept = deal->all[i];
      deal->all[i] = deal->all[other];
      deal->all[other] = kept;
    }
    far += lies_as_far(deal);
  }
  return (double)far / (CHANGE_DRAWS + 1);
}

double permutation_chance(struct arena *arena, const double *before, size_t n, const double *after,
                          size_t m) {
  struct deal deal = {.n = n, .of = n + m};
  if (n == 0 || m == 0) return NAN;
  deal.all = arena_new_array(arena, double, n + m);
  deal.picked = arena_new_array(arena, size_t, n);
  if (!deal.all || !deal.picked) return NAN;
  memcpy(deal.all, before, n * sizeof *before);
  memcpy(deal.all + n, after, m * sizeof *after);
  double mean = 0, sum = 0, size = 0;
  for (size_t i = 0; i < n + m; i++) mean += deal.all[i] / (double)(n + m);
  for (size_t i = 0; i < n + m; i++) {
    deal.all[i] -= mean;
    size += fabs(deal.all[i]);
    if (i < n) sum += deal.all[i];
  }
  deal.observed = fabs(sum) - 1e-9 * size;
  return ways_to_deal(n, n + m) <= CHANGE_WAYS_MAX ? try_all(&deal) : try_some(&deal);
}

/* ---- rows ---- */

static size_t take_known(double *known, const double *readings, size_t n) {
  size_t found = 0;
  for (size_t i = 0; i < n; i++)
    if (isfinite(readings[i])) known[found++] = readings[i];
  return found;
}

bool rows_compare(struct arena *arena, const double *before, size_t n, const double *after,
                  size_t m, struct change *change) {
  struct summary first, second;
  if (!summarise(arena, before, n, &first) || !summarise(arena, after, m, &second)) return false;
  *change = change_of(&first, &second);
  if (isnan(change->p) || (first.n >= CHANGE_FEW && second.n >= CHANGE_FEW)) return true;
  double *known = arena_new_array(arena, double, first.n + second.n);
  if (!known) return false;
  take_known(known, before, n);
  take_known(known + first.n, after, m);
  change->permutation = permutation_chance(arena, known, first.n, known + first.n, second.n);
  change->chance = fmax(change->p, change->permutation);
  return !isnan(change->permutation);
}

static double *distances_of(struct arena *arena, const double *readings, size_t n) {
  struct summary summary;
  double *distances = arena_new_array(arena, double, n + 1);
  if (!distances || !summarise(arena, readings, n, &summary)) return NULL;
  for (size_t i = 0; i < n; i++) distances[i] = fabs(readings[i] - summary.median);
  return distances;
}

bool change_of_spread(struct arena *arena, const double *before, size_t n, const double *after,
                      size_t m, struct change *change) {
  const double *first = distances_of(arena, before, n), *second = distances_of(arena, after, m);
  return first && second && rows_compare(arena, first, n, second, m, change);
}

void hold_together(const double *chances, size_t n, bool *below) {
  size_t left = 0;
  for (size_t i = 0; i < n; i++) {
    below[i] = false;
    left += !isnan(chances[i]);
  }
  for (; left > 0; left--) {
    size_t least = n;
    for (size_t i = 0; i < n; i++)
      if (!below[i] && !isnan(chances[i]) && (least == n || chances[i] < chances[least])) least = i;
    if (chances[least] >= CHANGE_LEVEL / (double)left) return;
    below[least] = true;
  }
}
