/* Two runs side by side, fed with the same case by way of the names. Standings are compared for
 * causes both have; one that only one side has counts when it is at least possible there. */
#include "workshop/compare.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "run/run.h"

struct comparer {
  struct arena *arena;
  struct comparison *out;
  const struct model *models[SIDES];
  struct run *runs[SIDES];
  struct translation to_old, to_new;
  enum standing *standings[SIDES]; /* by claim of each side */
  ARRAY(struct move) leading_moves, drill_moves;
  struct standing_moves *by_cause; /* by claim of the new side */
  bool no_memory;
};

/* ---- one answer against another ---- */

static const char *name_of(const struct run *run, size_t claim) {
  return claim == NO_INDEX ? NULL : run->network->model->claims[claim].name;
}

static struct outcome outcome_of(const struct run *run) {
  return (struct outcome){name_of(run, run_leading(run)), name_of(run, run_drill(run))};
}

static bool same_name(const char *a, const char *b) {
  return a == b || (a && b && strcmp(a, b) == 0);
}

static void take_standings(struct comparer *comparer, enum side side) {
  const struct run *run = comparer->runs[side];
  for (size_t i = 0; i < run->n_causes; i++)
    comparer->standings[side][run->causes[i].claim] = run->causes[i].standing;
}

/* Where a cause stands on either side, for causes of the new side; *counts tells whether a cause of
 * one side alone is worth telling. */
static bool standing_pair(const struct comparer *comparer, size_t claim,
                          enum standing pair[SIDES]) {
  size_t old = comparer->to_old.claims[claim];
  pair[NEW_SIDE] = comparer->standings[NEW_SIDE][claim];
  pair[OLD_SIDE] = old == NO_INDEX ? STANDING_UNLIKELY : comparer->standings[OLD_SIDE][old];
  return pair[OLD_SIDE] != pair[NEW_SIDE] &&
         (old != NO_INDEX || pair[NEW_SIDE] <= STANDING_POSSIBLE);
}

/* A cause only the old side has, and which stood out there. */
static bool lost_standing(const struct comparer *comparer) {
  const struct model *model = comparer->models[OLD_SIDE];
  for (size_t i = model->first_cause; i < model->first_drill; i++)
    if (comparer->to_new.claims[i] == NO_INDEX &&
        comparer->standings[OLD_SIDE][i] <= STANDING_POSSIBLE)
      return true;
  return false;
}

static bool standings_differ(struct comparer *comparer) {
  const struct model *model = comparer->models[NEW_SIDE];
  bool differ = lost_standing(comparer);
  for (size_t i = model->first_cause; i < model->first_drill; i++) {
    enum standing pair[SIDES];
    differ = standing_pair(comparer, i, pair) || differ;
  }
  return differ;
}

static bool certainties_differ(const struct comparer *comparer) {
  const struct run *old = comparer->runs[OLD_SIDE], *new = comparer->runs[NEW_SIDE];
  for (size_t i = 0; i < comparer->models[NEW_SIDE]->n_claims; i++) {
    size_t there = comparer->to_old.claims[i];
    double before = there == NO_INDEX ? 0 : old->certainty[there];
    if (round(100 * before) != round(100 * new->certainty[i])) return true;
  }
  return false;
}

static struct differs differences(struct comparer *comparer, struct outcome outcomes[SIDES]) {
  for (size_t side = 0; side < SIDES; side++) {
    take_standings(comparer, (enum side)side);
    outcomes[side] = outcome_of(comparer->runs[side]);
  }
  return (struct differs){
      .leading = !same_name(outcomes[OLD_SIDE].leading, outcomes[NEW_SIDE].leading),
      .drill = !same_name(outcomes[OLD_SIDE].drill, outcomes[NEW_SIDE].drill),
      .standing = standings_differ(comparer),
      .certainty = certainties_differ(comparer),
  };
}

/* ---- worked cases ---- */

static enum case_change change_of(const struct compared_case *compared) {
  bool before = compared->passes[OLD_SIDE], after = compared->passes[NEW_SIDE];
  if (before != after) return after ? CASE_BETTER : CASE_WORSE;
  const struct differs *differs = &compared->differs;
  return differs->leading || differs->drill || differs->standing ? CASE_OTHER_ANSWER : CASE_SAME;
}

/* The first expectation that does not hold on the side. An expectation the side cannot know of is
 * none of them. */
static void tell_failing(struct comparer *comparer, enum side side,
                         const struct worked_case *worked, struct compared_case *out) {
  struct verdict verdict = case_verdict(comparer->arena, comparer->runs[side], worked);
  for (size_t i = 0; i < verdict.n; i++) {
    if (verdict.expectations[i].holds) continue;
    out->failing = verdict.expectations[i];
    out->failing_claim = name_of(comparer->runs[side], out->failing.claim);
    out->has_failing = true;
    return;
  }
}

/* Runs the case on both sides; `home` is the side whose words it is written in. */
static void compare_case(struct comparer *comparer, const struct worked_case *worked,
                         enum side home, struct compared_case *out) {
  enum side away = home == OLD_SIDE ? NEW_SIDE : OLD_SIDE;
  const struct translation *translation = home == OLD_SIDE ? &comparer->to_new : &comparer->to_old;
  struct worked_case there;
  bool impossible = false;
  out->worked = worked;
  if (!translate_case(comparer->arena, translation, worked, &there, &impossible) ||
      !case_chain(comparer->runs[home], worked) || !case_chain(comparer->runs[away], &there)) {
    comparer->no_memory = true;
    return;
  }
  out->passes[home] = case_holds(comparer->runs[home], worked);
  out->passes[away] = !impossible && case_holds(comparer->runs[away], &there);
  out->differs = differences(comparer, out->outcomes);
  out->change = change_of(out);
  if (out->passes[home] != out->passes[away])
    tell_failing(comparer, out->passes[home] ? away : home, out->passes[home] ? &there : worked,
                 out);
  comparer->out->n_of_change[out->change]++;
}

/* Both lists are in byte order of names, so one walk merges them. */
static void compare_cases(struct comparer *comparer) {
  const struct model *old = comparer->models[OLD_SIDE], *new = comparer->models[NEW_SIDE];
  struct comparison *out = comparer->out;
  struct compared_case *cases =
      arena_new_array(comparer->arena, struct compared_case, old->n_cases + new->n_cases + 1);
  size_t i = 0, k = 0;
  while (cases && (i < old->n_cases || k < new->n_cases) && !comparer->no_memory) {
    int order = i == old->n_cases   ? 1
                : k == new->n_cases ? -1
                                    : strcmp(old->cases[i].name, new->cases[k].name);
    struct compared_case *compared = &cases[out->n_cases++];
    compared->on[OLD_SIDE] = order <= 0;
    compared->on[NEW_SIDE] = order >= 0;
    const struct worked_case *worked = order >= 0 ? &new->cases[k] : &old->cases[i];
    compare_case(comparer, worked, order >= 0 ? NEW_SIDE : OLD_SIDE, compared);
    i += order <= 0;
    k += order >= 0;
  }
  out->cases = cases;
  comparer->no_memory = comparer->no_memory || !cases;
}

/* ---- drawn impacts ---- */

#define ADD_MOVE(comparer, moves, old, new)                                                        \
  do {                                                                                             \
    size_t at = 0;                                                                                 \
    while (at < (moves)->n &&                                                                      \
           !(same_name((moves)->at[at].from, old) && same_name((moves)->at[at].to, new)))          \
      at++;                                                                                        \
    if (at < (moves)->n) (moves)->at[at].n++;                                                      \
    else {                                                                                         \
      struct move *move = array_push((comparer)->arena, moves);                                    \
      if (move) *move = (struct move){old, new, 1};                                                \
      else (comparer)->no_memory = true;                                                           \
    }                                                                                              \
  } while (0)

static void count_standings(struct comparer *comparer) {
  const struct model *model = comparer->models[NEW_SIDE];
  for (size_t i = model->first_cause; i < model->first_drill; i++) {
    enum standing pair[SIDES];
    if (!standing_pair(comparer, i, pair)) continue;
    comparer->by_cause[i].cause = model->claims[i].name;
    if (pair[NEW_SIDE] < pair[OLD_SIDE]) comparer->by_cause[i].n_higher++;
    else comparer->by_cause[i].n_lower++;
  }
}

static void count_sample(struct comparer *comparer, struct region region) {
  struct comparison *out = comparer->out;
  struct region_changes *changes = &out->regions[region_index(region)];
  struct outcome outcomes[SIDES];
  struct differs differs = differences(comparer, outcomes);
  bool any = differs.leading || differs.drill || differs.standing;
  out->n_samples++;
  changes->n++;
  out->n_leading += differs.leading;
  out->n_drill += differs.drill;
  out->n_standing += differs.standing;
  out->n_certainty += !any && differs.certainty;
  changes->n_leading += differs.leading;
  changes->n_drill += differs.drill;
  changes->n_standing += differs.standing;
  if (differs.leading)
    ADD_MOVE(comparer, &comparer->leading_moves, outcomes[OLD_SIDE].leading,
             outcomes[NEW_SIDE].leading);
  if (differs.drill)
    ADD_MOVE(comparer, &comparer->drill_moves, outcomes[OLD_SIDE].drill, outcomes[NEW_SIDE].drill);
  if (differs.standing) count_standings(comparer);
}

static bool chain_sample(struct comparer *comparer, const struct sampler *sampler) {
  struct run *old = comparer->runs[OLD_SIDE], *new = comparer->runs[NEW_SIDE];
  run_reset(old);
  run_reset(new);
  for (size_t i = 0; i < sampler->n; i++) {
    struct value there;
    run_give(new, &sampler->values[i]);
    if (translate_value(&comparer->to_old, &sampler->values[i], &there)) run_give(old, &there);
  }
  return run_chain(old, NULL) && run_chain(new, NULL);
}

static void compare_samples(struct comparer *comparer, size_t n, uint64_t seed) {
  struct sampler sampler;
  for (size_t i = 0; i < REGIONS; i++) comparer->out->regions[i].region = region_at(i);
  if (!sampler_make(&sampler, comparer->arena, comparer->models[NEW_SIDE], seed)) {
    comparer->no_memory = true;
    return;
  }
  if (!sampler_is_fit(&sampler)) return;
  for (size_t i = 0; i < n && !comparer->no_memory; i++) {
    sampler_next(&sampler);
    if (chain_sample(comparer, &sampler)) count_sample(comparer, sampler.region);
    else comparer->no_memory = true;
  }
}

/* ---- putting in order ---- */

static int order_of_names(const char *a, const char *b) {
  return strcmp(a ? a : "", b ? b : "");
}

static int order_of_moves(const void *left, const void *right) {
  const struct move *a = left, *b = right;
  if (a->n != b->n) return a->n > b->n ? -1 : 1;
  int by_from = order_of_names(a->from, b->from);
  return by_from ? by_from : order_of_names(a->to, b->to);
}

static int order_of_standings(const void *left, const void *right) {
  const struct standing_moves *a = left, *b = right;
  size_t n_a = a->n_higher + a->n_lower, n_b = b->n_higher + b->n_lower;
  if (n_a != n_b) return n_a > n_b ? -1 : 1;
  return order_of_names(a->cause, b->cause);
}

static int order_of_regions(const void *left, const void *right) {
  const struct region_changes *a = left, *b = right;
  size_t n_a = a->n_leading + a->n_drill, n_b = b->n_leading + b->n_drill;
  if (n_a != n_b) return n_a > n_b ? -1 : 1;
  if (a->n_standing != b->n_standing) return a->n_standing > b->n_standing ? -1 : 1;
  size_t i_a = region_index(a->region), i_b = region_index(b->region);
  return i_a < i_b ? -1 : i_a > i_b;
}

static void sort(void *list, size_t n, size_t size, int (*order)(const void *, const void *)) {
  if (n > 0) qsort(list, n, size, order);
}

static void finish(struct comparer *comparer) {
  struct comparison *out = comparer->out;
  struct standing_moves *standings = comparer->by_cause;
  size_t n = 0;
  for (size_t i = 0; i < comparer->models[NEW_SIDE]->first_drill; i++)
    if (standings[i].cause) standings[n++] = standings[i];
  sort(standings, n, sizeof *standings, order_of_standings);
  sort(comparer->leading_moves.at, comparer->leading_moves.n, sizeof(struct move), order_of_moves);
  sort(comparer->drill_moves.at, comparer->drill_moves.n, sizeof(struct move), order_of_moves);
  sort(out->regions, REGIONS, sizeof *out->regions, order_of_regions);
  out->standings = standings;
  out->n_standings = n;
  out->leading_moves = comparer->leading_moves.at;
  out->n_leading_moves = comparer->leading_moves.n;
  out->drill_moves = comparer->drill_moves.at;
  out->n_drill_moves = comparer->drill_moves.n;
}

/* ---- the whole ---- */

static bool prepare(struct comparer *comparer, const struct wm_allocator *allocator) {
  for (size_t side = 0; side < SIDES; side++) {
    const struct network *network = comparer->out->networks[side];
    comparer->models[side] = network->model;
    comparer->runs[side] = run_new(allocator, network);
    comparer->standings[side] =
        arena_new_array(comparer->arena, enum standing, network->model->n_claims + 1);
    if (!comparer->runs[side] || !comparer->standings[side]) return false;
  }
  const struct model *old = comparer->models[OLD_SIDE], *new = comparer->models[NEW_SIDE];
  comparer->by_cause = arena_new_array(comparer->arena, struct standing_moves, new->n_claims + 1);
  return comparer->by_cause && translation_make(&comparer->to_old, comparer->arena, new, old) &&
         translation_make(&comparer->to_new, comparer->arena, old, new);
}

struct comparison *compare(struct arena *arena, const struct wm_allocator *allocator,
                           const struct network *old_network, const struct network *new_network,
                           size_t samples, uint64_t seed) {
  struct comparer comparer = {.arena = arena, .out = arena_new_object(arena, struct comparison)};
  if (!comparer.out) return NULL;
  comparer.out->networks[OLD_SIDE] = old_network;
  comparer.out->networks[NEW_SIDE] = new_network;
  comparer.out->seed = seed;
  comparer.no_memory = !prepare(&comparer, allocator);
  if (!comparer.no_memory) compare_cases(&comparer);
  if (!comparer.no_memory) compare_samples(&comparer, samples, seed);
  if (!comparer.no_memory) finish(&comparer);
  run_free(comparer.runs[OLD_SIDE]);
  run_free(comparer.runs[NEW_SIDE]);
  return comparer.no_memory || arena_failed(arena) ? NULL : comparer.out;
}

bool comparison_differs(const struct comparison *comparison) {
  bool cases = comparison->n_of_change[CASE_SAME] < comparison->n_cases;
  return cases || comparison->n_leading + comparison->n_drill + comparison->n_standing > 0;
}
