/* The thorough search: for each rule a case in which it fires, for each drill one in which it comes
 * first. What bounds do not forbid may still never happen, because other rules speak against it. */
#include "workshop/cases.h"
#include "workshop/check_parts.h"
#include "workshop/sample.h"

/* What the worked cases and the sampled impacts reach already. */
struct reached {
  bool *fired; /* by rule */
  bool *first; /* by claim: drills */
};

static void note_reached(struct reached *reached, const struct run *run) {
  size_t drill = run_drill(run);
  for (size_t i = 0; i < run->network->model->n_rules; i++)
    reached->fired[i] = reached->fired[i] || run->rules[i] == RULE_FIRED;
  if (drill != NO_INDEX) reached->first[drill] = true;
}

static void reach_by_cases(struct checker *checker, struct reached *reached) {
  for (size_t i = 0; i < checker->model->n_cases; i++)
    if (case_chain(checker->run, &checker->model->cases[i])) note_reached(reached, checker->run);
}

/* With things seen and told besides, as players come. */
static void reach_by_impacts(struct checker *checker, struct reached *reached) {
  struct sampler sampler;
  if (!sampler_make(&sampler, checker->arena, checker->model, checker->options.seed) ||
      !sampler_is_fit(&sampler))
    return;
  for (size_t i = 0; i < checker->options.samples / 2; i++) {
    sampler_next(&sampler);
    if (check_chain(checker, (struct witness){sampler.values, sampler.n}))
      note_reached(reached, checker->run);
  }
}

static void search_rule(struct checker *checker, size_t rule) {
  const struct rule *written = &checker->model->rules[rule];
  if (check_search_rule(checker, rule).n == 0)
    FIND(checker, NO_CASE_FOUND, written->at, written->at, written->name);
}

#define RIVALS_MAX 6 /* set aside one after the other */

static bool shows_first(const struct run *run, const void *context) {
  return run_drill(run) == *(const size_t *)context;
}

/* Any case of the cause in which some drill is done. */
static bool shows_some(const struct run *run, const void *context) {
  (void)context;
  return run_drill(run) != NO_INDEX;
}

/* Sets aside the drills that come before it, by what they need being out of reach. */
static bool comes_first_without_rivals(struct checker *checker, size_t index,
                                       const struct condition *believed) {
  const struct model *model = checker->model;
  const struct condition *own = model->claims[index].drill->needs;
  struct solve_goal goals[RIVALS_MAX + 2] = {{believed, false}};
  size_t n = 1;
  if (own) goals[n++] = (struct solve_goal){own, false};
  for (size_t i = 0; i < RIVALS_MAX; i++) {
    if (check_search(checker, goals, n, shows_first, &index).n > 0) return true;
    if (check_search(checker, goals, n, shows_some, NULL).n == 0) return false;
    const struct condition *needs = model->claims[run_drill(checker->run)].drill->needs;
    if (!needs) return false;
    goals[n++] = (struct solve_goal){needs, true};
  }
  return false;
}

/* Looks for a case of one of its causes in which it comes first: as it is, advised, or without the
 * drills before it. */
static bool comes_first(struct checker *checker, size_t index) {
  const struct drill *drill = checker->model->claims[index].drill;
  for (size_t i = 0; i < drill->n_changes; i++) {
    struct condition believed = check_believed(drill->changes[i].cause, BELIEF_THRESHOLD);
    struct condition advised = check_believed(index, BELIEF_THRESHOLD);
    const struct solve_goal goals[] = {{&believed, false}, {&advised, false}};
    if (check_search(checker, goals, 2, shows_first, &index).n > 0 ||
        comes_first_without_rivals(checker, index, &believed))
      return true;
  }
  return false;
}

void check_reached(struct checker *checker) {
  const struct model *model = checker->model;
  struct reached reached = {arena_new_array(checker->arena, bool, model->n_rules + 1),
                            arena_new_array(checker->arena, bool, model->n_claims + 1)};
  if (!reached.fired || !reached.first) return;
  reach_by_cases(checker, &reached);
  reach_by_impacts(checker, &reached);
  for (size_t i = 0; i < model->n_rules; i++)
    if (!reached.fired[i] && !checker->dead[i]) search_rule(checker, i);
  for (size_t i = model->first_drill; i < model->n_claims; i++)
    if (!reached.first[i] && !comes_first(checker, i))
      FIND(checker, DRILL_NEVER_FIRST, model->claims[i].at, model->claims[i].at,
           model->claims[i].name);
}
