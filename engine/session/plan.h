/* Did the drill work? A test block fixed beforehand: how many shots, which number must move, by how
 * much given this player's own spread, so that chance alone says "it worked" in fewer than one case
 * in ten (aimed at one in twenty; simulated in the tests). Numbers in, numbers out: knows neither
 * evidence nor drills. All shots of the block before count, not the misses alone: those were picked
 * for being far out, and would come back by themselves. No state; any thread. */
#ifndef WM_SESSION_PLAN_H
#define WM_SESSION_PLAN_H

#include "session/statistics.h"

#define TEST_LUCK 0.05 /* aimed-at chance of a false "it worked" */
#define TEST_SHOTS_MIN 6
#define TEST_SHOTS_MAX 20
/* From so many shots on the spread seen is trusted; below, the larger of it and the usual one
 * counts (7 to 10 swings make readings reliable: villarrasa-2022). */
#define TEST_SPREAD_SHOTS 8

enum test_kind {
  TEST_NONE,  /* nothing that is measured can tell */
  TEST_MEAN,  /* the mean of a figure must come to `reach` or beyond */
  TEST_HITS,  /* at least `needed` of the shots must lie within a range */
  TEST_MISSES /* at most `needed` of the shots may miss */
};

struct test_block {
  enum test_kind kind;
  size_t shots;         /* to be hit */
  size_t shots_before;  /* that it is held against */
  double before, reach; /* TEST_MEAN: means, in the frame of the summary */
  double change;        /* TEST_MEAN: size of the least change that counts */
  int direction;        /* TEST_MEAN: 1 the mean must rise, -1 fall */
  double power; /* chance of passing when the drill does what it is for: the mean comes just to its
                   goal, the share of hits to its aim, half the misses go */
  size_t counted_before; /* TEST_HITS, TEST_MISSES: of shots_before */
  size_t needed;
  double low, high; /* the range meant; of TEST_MEAN the goal of the drill */
};

/* The mean of what was summarised has to move into low to high (either may be infinite); usual: the
 * spread from shot to shot to expect. TEST_NONE when it lies there already, or below three shots.
 */
struct test_block test_of_mean(const struct summary *before, double usual, double low, double high);
/* So many of n shots lay within low to high; aim: the share a drill that works should bring. */
struct test_block test_of_hits(size_t hits, size_t n, double aim);
/* So many of n shots missed. */
struct test_block test_of_misses(size_t misses, size_t n);
/* Of several tests the first with a power of a half, else the one with the most. */
struct test_block test_best(const struct test_block *tests, size_t n);

#endif
