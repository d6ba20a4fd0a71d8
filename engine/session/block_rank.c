/* What the groups have in common. A cause's score is the sum over the groups of their share of all
 * misses times its certainty there (above 0); misses in groups too small to be diagnosed count in
 * the whole, so they are explained by nothing. */
#include <math.h>
#include <stdlib.h>

#include "session/block_parts.h"

/* What causes and drills are weighed over: the groups, or all shots as one. */
struct base {
  const struct run *run;
  double weight; /* share of the misses */
  size_t n;
};

static size_t collect_bases(const struct block *block, struct base *bases) {
  size_t n = 0;
  if (block->on_whole) {
    bases[0] = (struct base){block->whole.run, 1, block->n_missed};
    return 1;
  }
  for (size_t i = 0; i < block->n_groups; i++)
    if (block->groups[i].run)
      bases[n++] =
          (struct base){block->groups[i].run, (double)block->groups[i].n / (double)block->n_missed,
                        block->groups[i].n};
  return n;
}

static const struct model *model_of(const struct block_maker *maker) {
  return maker->shots->model;
}

/* ---- causes ---- */

static bool is_likely(const struct run *run, size_t claim) {
  for (size_t i = 0; i < run->n_causes; i++)
    if (run->causes[i].claim == claim)
      return run->causes[i].standing == STANDING_LEADING ||
             run->causes[i].standing == STANDING_LIKELY;
  return false;
}

static double certainty_of(const struct run *run, size_t claim) {
  return run ? run->certainty[claim] : NAN;
}

static bool weigh_cause(const struct block *block, const struct block_maker *maker,
                        const struct base *bases, size_t n_bases, struct cause_share *cause) {
  double *certainty = arena_new_array(maker->shots->arena, double, block->n_groups + 1);
  if (!certainty) return false;
  for (size_t i = 0; i < block->n_groups; i++)
    certainty[i] = certainty_of(block->groups[i].run, cause->claim);
  for (size_t i = 0; i < n_bases; i++) {
    cause->score += bases[i].weight * fmax(0, bases[i].run->certainty[cause->claim]);
    if (is_likely(bases[i].run, cause->claim)) cause->explained += bases[i].n;
  }
  cause->certainty = certainty;
  cause->in_window = certainty_of(block->in_window.run, cause->claim);
  cause->on_whole = certainty_of(block->whole.run, cause->claim);
  return true;
}

static int compare_causes(const void *left, const void *right) {
  const struct cause_share *a = left, *b = right;
  if (a->score != b->score) return a->score > b->score ? -1 : 1;
  return a->claim < b->claim ? -1 : a->claim > b->claim;
}

static bool rank_causes(struct block *block, const struct block_maker *maker,
                        const struct base *bases, size_t n_bases) {
  const struct model *model = model_of(maker);
  size_t n = model->first_drill - model->first_cause;
  struct cause_share *causes = arena_new_array(maker->shots->arena, struct cause_share, n + 1);
  if (!causes) return false;
  for (size_t i = 0; i < n; i++) {
    struct cause_share cause = {.claim = model->first_cause + i};
    if (!weigh_cause(block, maker, bases, n_bases, &cause)) return false;
    if (cause.score > 0) causes[block->n_causes++] = cause;
  }
  qsort(causes, block->n_causes, sizeof *causes, compare_causes);
  block->causes = causes;
  return true;
}

/* One cause is said to explain most misses only when it is ahead, and few shots do not make it so.
 */
static void find_one_cause(struct block *block) {
  block->one_cause = NO_INDEX;
  if (block->on_whole || block->n_causes == 0 || block->n_missed < ONE_CAUSE_MISSES) return;
  const struct cause_share *best = &block->causes[0];
  double next = block->n_causes > 1 ? block->causes[1].score : 0;
  struct share_range range = share_range_of(best->explained, block->n_missed, SHARE_LEVEL);
  if (range.low <= ONE_CAUSE_SHARE || best->score - next < ONE_CAUSE_MARGIN) return;
  block->one_cause = best->claim;
  block->one_cause_share = range;
}

/* The same rule as in a run, over the groups; a shot or two tell no tendency. */
static void find_leading(struct block *block, const struct base *bases, size_t n_bases) {
  double leads = 0, all = 0;
  if (block->n_causes == 0 || block->n < GROUP_SHOTS_MIN) return;
  for (size_t i = 0; i < n_bases; i++) {
    all += bases[i].weight;
    if (run_leading(bases[i].run) == block->causes[0].claim) leads += bases[i].weight;
  }
  if (2 * leads >= all) block->leading = block->causes[0].claim;
}

/* ---- drills ---- */

static const struct ranked_drill *find_drill(const struct run *run, size_t claim) {
  for (size_t i = 0; i < run->n_drills; i++)
    if (run->drills[i].claim == claim) return &run->drills[i];
  return NULL;
}

/* Whether a rule that fired takes the drill out, also where no cause there would ask for it. */
static bool is_removed(const struct run *run, size_t claim) {
  const struct model *model = run->network->model;
  for (size_t rule = 0; rule < model->n_rules; rule++)
    for (size_t i = 0; run->rules[rule] == RULE_FIRED && i < model->rules[rule].n_removes; i++)
      if (model->rules[rule].removes[i] == claim) return true;
  return false;
}

/* In a group that a rule keeps it out of, it is taken to harm as much as it helps in the others. */
static struct planned_drill weigh_drill(const struct base *bases, size_t n_bases, size_t claim) {
  struct planned_drill drill = {.claim = claim};
  double helped = 0, harmed = 0;
  for (size_t i = 0; i < n_bases; i++) {
    const struct ranked_drill *ranked = find_drill(bases[i].run, claim);
    bool lacks = ranked && ranked->removal == REMOVAL_NEEDS;
    bool kept_out = is_removed(bases[i].run, claim);
    if (lacks || kept_out) drill.removed_in = bases[i].run;
    if (kept_out) harmed += bases[i].weight;
    drill.removed = drill.removed || lacks; /* what the player lacks is lacking in every group */
    if (!ranked || kept_out) continue;
    helped += bases[i].weight;
    drill.value += bases[i].weight * ranked->value;
  }
  if (helped > 0) drill.value *= 1 - harmed / helped;
  drill.removed = drill.removed || (harmed > 0 && drill.value <= 0);
  return drill;
}

/* Removed drills are worth telling of only where they would have helped. */
static bool is_worth_telling(const struct base *bases, size_t n_bases,
                             const struct planned_drill *drill) {
  for (size_t i = 0; i < n_bases && drill->removed; i++)
    if (find_drill(bases[i].run, drill->claim)) return true;
  return drill->value > 0 && !drill->removed;
}

static int compare_drills(const void *left, const void *right) {
  const struct planned_drill *a = left, *b = right;
  if (a->removed != b->removed) return a->removed ? 1 : -1;
  if (a->value != b->value) return a->value > b->value ? -1 : 1;
  return a->claim < b->claim ? -1 : a->claim > b->claim;
}

static bool rank_drills(struct block *block, const struct block_maker *maker,
                        const struct base *bases, size_t n_bases) {
  const struct model *model = model_of(maker);
  struct planned_drill *drills = arena_new_array(maker->shots->arena, struct planned_drill,
                                                 model->n_claims - model->first_drill + 1);
  if (!drills) return false;
  for (size_t claim = model->first_drill; claim < model->n_claims; claim++) {
    struct planned_drill drill = weigh_drill(bases, n_bases, claim);
    if (is_worth_telling(bases, n_bases, &drill)) drills[block->n_drills++] = drill;
  }
  qsort(drills, block->n_drills, sizeof *drills, compare_drills);
  block->drills = drills;
  for (size_t i = 0; i < n_bases && block->red_flag == NO_INDEX; i++)
    block->red_flag = bases[i].run->red_flag;
  return true;
}

size_t block_drill(const struct block *block) {
  bool offered = block->red_flag == NO_INDEX && block->n_drills > 0 && !block->drills[0].removed;
  return offered ? block->drills[0].claim : NO_INDEX;
}

/* ---- what to find out next ---- */

static int compare_checks(const void *left, const void *right) {
  const struct next_check *a = left, *b = right;
  if (a->gain != b->gain) return a->gain > b->gain ? -1 : 1;
  return a->evidence < b->evidence ? -1 : a->evidence > b->evidence;
}

/* What would tell most in the groups, each by its share of the misses. */
static bool rank_checks(struct block *block, const struct block_maker *maker,
                        const struct base *bases, size_t n_bases) {
  size_t n = model_of(maker)->n_evidence;
  struct next_check *checks = arena_new_array(maker->shots->arena, struct next_check, n + 1);
  if (!checks) return false;
  for (size_t i = 0; i < n; i++) checks[i].evidence = i;
  for (size_t b = 0; b < n_bases; b++)
    for (size_t i = 0; i < bases[b].run->n_checks; i++) {
      const struct next_check *asked = &bases[b].run->checks[i];
      checks[asked->evidence].gain += bases[b].weight * asked->gain;
      checks[asked->evidence].n_rules += asked->n_rules;
    }
  for (size_t i = 0; i < n; i++)
    if (checks[i].gain > 0) checks[block->n_checks++] = checks[i];
  qsort(checks, block->n_checks, sizeof *checks, compare_checks);
  block->checks = checks;
  return true;
}

/* ---- the test block ---- */

/* The range the drill aims at, in the frame of the player's hand; false when it is no single range
 * of a figure. */
static bool aim_of(const struct block_maker *maker, const struct condition *works, double *low,
                   double *high) {
  switch (works->kind) {
  case CONDITION_ABOVE:
  case CONDITION_BELOW:
  case CONDITION_BETWEEN:
  case CONDITION_NEAR: break;
  default: return false;
  }
  bool mirror = maker->hand == HAND_LEFT && model_of(maker)->evidence[works->evidence].mirrored;
  *low = mirror ? 0 - works->high : works->low;
  *high = mirror ? 0 - works->low : works->high;
  return true;
}

static size_t count_within(const struct figure *figure, size_t n, double low, double high) {
  size_t count = 0;
  for (size_t i = 0; i < n; i++) count += figure->readings[i] > low && figure->readings[i] < high;
  return count;
}

/* The tests by the number that the drill names: its mean, and how many shots are as they should be.
 */
static void test_figure(const struct block *block, const struct block_maker *maker,
                        const struct drill *drill, const struct figure *figure,
                        struct test_block tests[2]) {
  double low, high, aim = drill->of > 0 ? (double)drill->hits / drill->of : 0.6;
  if (!aim_of(maker, drill->works, &low, &high)) return;
  tests[0] =
      test_of_mean(&figure->summary, model_of(maker)->evidence[figure->evidence].spread, low, high);
  tests[1] = test_of_hits(count_within(figure, block->n, low, high), figure->summary.n, aim);
  tests[1].low = low;
  tests[1].high = high;
}

static void plan_test(struct block *block, const struct block_maker *maker) {
  size_t claim = block_drill(block);
  struct test_block tests[3] = {{.kind = TEST_NONE}, {.kind = TEST_NONE}, {.kind = TEST_NONE}};
  if (claim == NO_INDEX) return;
  const struct drill *drill = model_of(maker)->claims[claim].drill;
  const struct figure *figure = drill->works ? block_figure(block, drill->works->evidence) : NULL;
  if (figure) test_figure(block, maker, drill, figure, tests);
  if (block->n_missed > 0) tests[2] = test_of_misses(block->n_missed, block->n_sorted);
  block->test = test_best(tests, 3);
  bool by_figure = block->test.kind == TEST_MEAN || block->test.kind == TEST_HITS;
  block->test_figure = by_figure ? (size_t)(figure - block->figures) : NO_INDEX;
}

bool block_rank(struct block *block, const struct block_maker *maker) {
  struct base *bases = arena_new_array(maker->shots->arena, struct base, block->n_groups + 1);
  if (!bases) return false;
  size_t n = collect_bases(block, bases);
  if (!rank_causes(block, maker, bases, n) || !rank_drills(block, maker, bases, n) ||
      !rank_checks(block, maker, bases, n))
    return false;
  find_leading(block, bases, n);
  find_one_cause(block);
  plan_test(block, maker);
  return true;
}
