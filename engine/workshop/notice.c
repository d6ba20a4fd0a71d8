#include "workshop/notice.h"

#include <math.h>
#include <string.h>

struct answer_shape *shape_new(struct arena *arena, const struct network *network) {
  const struct model *model = network->model;
  struct answer_shape *shape = arena_new_object(arena, struct answer_shape);
  if (!shape) return NULL;
  shape->n_claims = model->n_claims;
  shape->first_cause = model->first_cause;
  shape->first_drill = model->first_drill;
  shape->standings = arena_new_array(arena, enum standing, model->n_claims + 1);
  shape->certainties = arena_new_array(arena, double, model->n_claims + 1);
  return shape->standings && shape->certainties ? shape : NULL;
}

void shape_take(struct answer_shape *shape, const struct run *run) {
  shape->leading = run_leading(run);
  shape->drill = run_drill(run);
  shape->red_flag = run->red_flag;
  memcpy(shape->certainties, run->certainty, shape->n_claims * sizeof *shape->certainties);
  for (size_t i = 0; i < run->n_causes; i++)
    shape->standings[run->causes[i].claim] = run->causes[i].standing;
}

static bool same_standings(const struct answer_shape *shape, const struct run *run) {
  for (size_t i = 0; i < run->n_causes; i++)
    if (shape->standings[run->causes[i].claim] != run->causes[i].standing) return false;
  return true;
}

static bool same_beliefs(const struct answer_shape *shape, const struct run *run) {
  for (size_t i = 0; i < shape->first_cause; i++)
    if ((shape->certainties[i] > BELIEF_THRESHOLD) != (run->certainty[i] > BELIEF_THRESHOLD))
      return false;
  return true;
}

static double at_two_decimals(double certainty) {
  return round(100 * certainty);
}

static bool same_certainties(const struct answer_shape *shape, const struct run *run) {
  for (size_t i = 0; i < shape->n_claims; i++)
    if (at_two_decimals(shape->certainties[i]) != at_two_decimals(run->certainty[i])) return false;
  return true;
}

bool shape_matches(const struct answer_shape *shape, const struct run *run, bool certainties) {
  if (shape->leading != run_leading(run) || shape->drill != run_drill(run) ||
      shape->red_flag != run->red_flag)
    return false;
  return same_standings(shape, run) && same_beliefs(shape, run) &&
         (!certainties || same_certainties(shape, run));
}
