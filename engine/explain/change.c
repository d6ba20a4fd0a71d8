/* One run against another of the same network: the case with a change, and what differs. */
#include <math.h>
#include <string.h>

#include "explain/explain.h"

/* Below what two decimals show, a difference is none. */
#define CHANGE_SEEN 0.005

/* ---- the case with a change ---- */

static bool is_changed(size_t evidence, const struct value *values, size_t n_values,
                       const size_t *takes_back, size_t n_takes_back) {
  for (size_t i = 0; i < n_values; i++)
    if (values[i].evidence == evidence) return true;
  for (size_t i = 0; i < n_takes_back; i++)
    if (takes_back[i] == evidence) return true;
  return false;
}

bool change_run(struct run *after, const struct run *before, const struct value *values,
                size_t n_values, const size_t *takes_back, size_t n_takes_back,
                struct diags *diags) {
  run_reset(after);
  after->hand = before->hand;
  after->shots = before->shots;
  for (size_t i = 0; i < before->network->model->n_evidence; i++)
    if (before->is_given[i] && !is_changed(i, values, n_values, takes_back, n_takes_back))
      run_give(after, &before->values[i]);
  for (size_t i = 0; i < n_values; i++) {
    run_take_back(after, values[i].evidence);
    run_give(after, &values[i]);
  }
  return run_chain(after, diags);
}

/* ---- what differs ---- */

struct indices {
  ARRAY(size_t) list;
  struct arena *arena;
};

static void indices_add(struct indices *indices, size_t index) {
  size_t *slot = array_push(indices->arena, &indices->list);
  if (slot != NULL) *slot = index;
}

static bool reading_differs(const struct reading *a, const struct reading *b) {
  if (a->state == READING_UNKNOWN || b->state == READING_UNKNOWN) return a->state != b->state;
  if (a->number != b->number || a->error != b->error || a->choice != b->choice ||
      a->sure != b->sure)
    return true;
  return a->text != NULL && b->text != NULL && strcmp(a->text, b->text) != 0;
}

struct change change_between(struct arena *arena, const struct run *before,
                             const struct run *after) {
  const struct model *model = before->network->model;
  struct indices readings = {.arena = arena}, claims = {.arena = arena}, rules = {.arena = arena};
  for (size_t i = 0; i < model->n_evidence; i++)
    if (reading_differs(&before->readings[i], &after->readings[i])) indices_add(&readings, i);
  for (size_t i = 0; i < model->first_drill; i++)
    if (fabs(before->certainty[i] - after->certainty[i]) > CHANGE_SEEN) indices_add(&claims, i);
  for (size_t i = 0; i < model->n_rules; i++)
    if (before->rules[i] != after->rules[i]) indices_add(&rules, i);
  return (struct change){.readings = readings.list.at,
                         .n_readings = readings.list.n,
                         .claims = claims.list.at,
                         .n_claims = claims.list.n,
                         .rules = rules.list.at,
                         .n_rules = rules.list.n,
                         .leading_before = run_leading(before),
                         .leading_after = run_leading(after),
                         .drill_before = run_drill(before),
                         .drill_after = run_drill(after)};
}
