/* The life of a run: made once, given evidence, chained, reset for the next case. Two arenas: one
 * holds what lasts as long as the run, one the results of a chaining. */
#include "run/run.h"

#include <string.h>

#include "run/phases.h"

struct run *run_new(const struct wm_allocator *allocator, const struct network *network) {
  struct arena *arena = arena_new(allocator);
  struct run *run = arena ? arena_new_object(arena, struct run) : NULL;
  size_t n = network->model->n_evidence;
  if (run) {
    run->lasting = arena;
    run->network = network;
    run->arena = arena_new(allocator);
    run->values = arena_new_array(arena, struct value, n + 1);
    run->is_given = arena_new_array(arena, bool, n + 1);
  }
  if (run && run->arena && run->values && run->is_given) {
    run_reset(run);
    return run;
  }
  if (run) arena_free(run->arena);
  arena_free(arena);
  return NULL;
}

void run_free(struct run *run) {
  if (run == NULL) return;
  arena_free(run->arena);
  arena_free(run->lasting);
}

/* Everything in the arena of results is forgotten with it. */
static void forget_results(struct run *run) {
  arena_reset(run->arena);
  run->judged = false;
  run->readings = NULL;
  run->n_roots = run->n_given_roots = 0;
  run->tests = run->nodes = NULL;
  run->rules = NULL;
  run->certainty = NULL;
  run->claims = NULL;
  run->contributions = NULL;
  run->causes = NULL;
  run->drills = NULL;
  run->checks = NULL;
  run->contradictions = NULL;
  run->n_causes = run->n_drills = run->n_checks = run->n_contradictions = 0;
  run->red_flag = NO_INDEX;
}

void run_reset(struct run *run) {
  size_t n = run->network->model->n_evidence;
  forget_results(run);
  memset(run->is_given, 0, n * sizeof *run->is_given);
  run->hand = HAND_RIGHT;
  run->shots = 1;
}

bool run_give(struct run *run, const struct value *value) {
  if (run->is_given[value->evidence]) return false;
  run->values[value->evidence] = *value;
  run->is_given[value->evidence] = true;
  run->judged = false;
  return true;
}

void run_take_back(struct run *run, size_t evidence) {
  run->is_given[evidence] = false;
  run->judged = false;
}

static bool take_results(struct run *run) {
  const struct network *network = run->network;
  const struct model *model = network->model;
  struct arena *arena = run->arena;
  run->readings = arena_new_array(arena, struct reading, model->n_evidence + 1);
  run->tests = arena_new_array(arena, struct judgement, network->n_tests + 1);
  run->nodes = arena_new_array(arena, struct judgement, network->n_nodes + 1);
  run->rules = arena_new_array(arena, enum rule_state, model->n_rules + 1);
  run->certainty = arena_new_array(arena, double, model->n_claims + 1);
  run->claims = arena_new_array(arena, enum claim_state, model->n_claims + 1);
  run->contributions =
      arena_new_array(arena, struct contribution_record, network->n_contributions + 1);
  return run->readings && run->tests && run->nodes && run->rules && run->certainty && run->claims &&
         run->contributions;
}

bool run_chain_like(struct run *run, const struct run *like) {
  forget_results(run);
  bool done = take_results(run);
  if (done) {
    run->hand = like->hand;
    run->shots = like->shots;
    run->readings = like->readings;
    run->n_roots = like->n_roots;
    run->n_given_roots = like->n_given_roots;
    run->roots = like->roots;
    run->root_errors = like->root_errors;
    done = run_layers(run, NULL) && run_rank(run);
  }
  if (!done) forget_results(run);
  run->judged = done;
  return done;
}

bool run_chain(struct run *run, struct diags *diags) {
  forget_results(run);
  bool done =
      take_results(run) && run_derive(run, diags) && run_layers(run, diags) && run_rank(run);
  if (!done) {
    forget_results(run);
    if (diags) diags->no_memory = true;
  }
  run->judged = done;
  return done;
}
