/* Sorting: a shot that finishes outside the window is a miss, and goes to the group of its flight.
 */
#include <math.h>
#include <stdlib.h>

#include "session/block_parts.h"

/* Places: start class, curve class, and, where both are unknown, the side it finishes on. */
#define PLACES (4 * 4 + 3)

static size_t place_of(const struct flights *flights, size_t shot) {
  enum side_class start = flight_start(flights, shot), curve = flight_curve(flights, shot);
  if (start == SIDE_UNKNOWN && curve == SIDE_UNKNOWN)
    return 16 + (size_t)flight_finish(flights, shot);
  return (size_t)start * 4 + (size_t)curve;
}

static double mean_of(const struct flights *flights, const struct miss_group *group,
                      double (*pick)(const struct flight *)) {
  double sum = 0;
  size_t n = 0;
  for (size_t i = 0; i < group->n; i++) {
    double angle = pick(&flights->at[group->shots[i]]);
    if (isnan(angle)) continue;
    sum += angle;
    n++;
  }
  return n > 0 ? sum / (double)n : NAN;
}

static double pick_start(const struct flight *flight) {
  return flight->start;
}

static double pick_curve(const struct flight *flight) {
  return flight->curve;
}

static double pick_finish(const struct flight *flight) {
  return flight->finish;
}

static void finish_group(struct miss_group *group, const struct block *block,
                         const struct flights *flights) {
  group->share = share_range_of(group->n, block->n_sorted, SHARE_LEVEL);
  if (!flights) return;
  group->mean = (struct flight){.start = mean_of(flights, group, pick_start),
                                .curve = mean_of(flights, group, pick_curve),
                                .finish = mean_of(flights, group, pick_finish)};
  group->finish = side_class_of(group->mean.finish, 0);
}

static int compare_groups(const void *left, const void *right) {
  const struct miss_group *a = left, *b = right;
  if (a->n != b->n) return a->n > b->n ? -1 : 1;
  if (a->start != b->start) return a->start < b->start ? -1 : 1;
  if (a->curve != b->curve) return a->curve < b->curve ? -1 : 1;
  return a->finish < b->finish ? -1 : a->finish > b->finish;
}

/* One group for each place that has shots; shots keep their order. */
static bool make_groups(struct block *block, const struct block_maker *maker, const size_t *places,
                        const size_t *counts) {
  struct arena *arena = maker->shots->arena;
  block->groups = arena_new_array(arena, struct miss_group, PLACES + 1);
  if (!block->groups) return false;
  for (size_t place = 0; place < PLACES; place++) {
    if (counts[place] == 0) continue;
    struct miss_group *group = &block->groups[block->n_groups++];
    size_t *shots = arena_new_array(arena, size_t, counts[place]);
    if (!shots) return false;
    *group = (struct miss_group){.start = SIDE_UNKNOWN, .curve = SIDE_UNKNOWN, .shots = shots};
    if (place < 16) {
      group->start = (enum side_class)(place / 4);
      group->curve = (enum side_class)(place % 4);
    }
    for (size_t i = 0; i < block->n; i++)
      if (places[i] == place) shots[group->n++] = block->shots[i];
    finish_group(group, block, maker->flights);
  }
  qsort(block->groups, block->n_groups, sizeof *block->groups, compare_groups);
  return true;
}

/* The shots that do not miss. */
static bool gather_in_window(struct block *block, const struct block_maker *maker,
                             const size_t *places) {
  size_t *shots = arena_new_array(maker->shots->arena, size_t, block->n + 1);
  if (!shots) return false;
  block->in_window = (struct miss_group){
      .start = SIDE_UNKNOWN, .curve = SIDE_UNKNOWN, .finish = SIDE_STRAIGHT, .shots = shots};
  for (size_t i = 0; i < block->n; i++)
    if (places[i] == PLACES) shots[block->in_window.n++] = block->shots[i];
  finish_group(&block->in_window, block, maker->flights);
  return true;
}

static struct miss_group whole_of(const struct block *block) {
  return (struct miss_group){.start = SIDE_UNKNOWN,
                             .curve = SIDE_UNKNOWN,
                             .finish = SIDE_UNKNOWN,
                             .shots = block->shots,
                             .n = block->n};
}

bool block_sort(struct block *block, const struct block_maker *maker) {
  size_t counts[PLACES] = {0};
  size_t *places = arena_new_array(maker->shots->arena, size_t, block->n + 1);
  if (!places) return false;
  for (size_t i = 0; i < block->n && maker->flights; i++) {
    enum side_class finish = flight_finish(maker->flights, block->shots[i]);
    places[i] = finish == SIDE_UNKNOWN    ? PLACES + 1
                : finish == SIDE_STRAIGHT ? PLACES
                                          : place_of(maker->flights, block->shots[i]);
    block->n_sorted += places[i] <= PLACES;
    if (places[i] >= PLACES) continue;
    block->n_missed++;
    block->n_left += finish == SIDE_LEFT;
    counts[places[i]]++;
  }
  block->missed = share_range_of(block->n_missed, block->n_sorted, SHARE_LEVEL);
  block->whole = whole_of(block);
  finish_group(&block->whole, block, maker->flights);
  return make_groups(block, maker, places, counts) && gather_in_window(block, maker, places);
}
