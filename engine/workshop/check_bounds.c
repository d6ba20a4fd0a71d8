/* How sure a claim can get, by bounds over the layers, and which rules can never fire.
 * A claim's bound takes every rule for it at its best and none against it, so it is never too low.
 */
#include <math.h>

#include "workshop/check_parts.h"

struct bound {
  double least, most;
};

struct bounds {
  struct checker *checker;
  double *most, *least;
  bool *dead;
};

static struct bound bound_of(const struct bounds *bounds, const struct condition *condition);

static struct bound number_bound(const struct model *model, const struct condition *condition) {
  const struct evidence *evidence = &model->evidence[condition->evidence];
  bool possible = fmax(condition->low, evidence->low) < fmin(condition->high, evidence->high);
  bool certain = condition->low < evidence->low && condition->high > evidence->high;
  struct bound inside = {certain ? 1 : -1, possible ? 1 : -1};
  if (condition->kind != CONDITION_OUTSIDE) return inside;
  return (struct bound){0 - inside.most, 0 - inside.least};
}

static struct bound choice_bound(const struct model *model, const struct condition *condition) {
  bool all = condition->n_choices == model->evidence[condition->evidence].n_choices;
  return (struct bound){all ? 0 : -1, 1};
}

static double passed(const struct condition *condition, double certainty) {
  return certainty > condition->low ? certainty : fmin(certainty, BELIEF_THRESHOLD);
}

/* all: the least of each; any and none: the greatest. */
static struct bound join_bound(const struct bounds *bounds, const struct condition *condition) {
  struct bound joined = {0, 0};
  bool all = condition->kind == CONDITION_ALL;
  for (size_t i = 0; i < condition->n_clauses; i++) {
    struct bound one = bound_of(bounds, &condition->clauses[i]);
    joined.least = i == 0 ? one.least
                   : all  ? fmin(joined.least, one.least)
                          : fmax(joined.least, one.least);
    joined.most = i == 0 ? one.most
                  : all  ? fmin(joined.most, one.most)
                         : fmax(joined.most, one.most);
  }
  if (condition->kind != CONDITION_NONE) return joined;
  return (struct bound){0 - joined.most, 0 - joined.least};
}

static struct bound bound_of(const struct bounds *bounds, const struct condition *condition) {
  switch (condition->kind) {
  case CONDITION_ABOVE:
  case CONDITION_BELOW:
  case CONDITION_BETWEEN:
  case CONDITION_OUTSIDE:
  case CONDITION_NEAR: return number_bound(bounds->checker->model, condition);
  case CONDITION_IS:
  case CONDITION_ONE_OF: return choice_bound(bounds->checker->model, condition);
  case CONDITION_BELIEVED:
    return (struct bound){passed(condition, bounds->least[condition->claim]),
                          passed(condition, bounds->most[condition->claim])};
  case CONDITION_ALL:
  case CONDITION_ANY:
  case CONDITION_NONE: return join_bound(bounds, condition);
  default: return (struct bound){-1, 1};
  }
}

/* ---- claims ---- */

/* What the contribution can come to at its best: a certainty of its sign. */
static double at_best(const struct bounds *bounds, const struct contribution *contribution) {
  const struct rule *rule = &bounds->checker->model->rules[contribution->rule];
  if (bounds->dead[contribution->rule]) return 0;
  return bound_of(bounds, rule->when).most * contribution->strength;
}

/* Whether another of its group and sign says more; of equals the first counts. */
static bool outdone(const struct bounds *bounds, size_t index, size_t first, size_t end) {
  const struct contribution *all = bounds->checker->network->contributions;
  double own = at_best(bounds, &all[index]);
  if (all[index].group == NO_INDEX) return false;
  for (size_t i = first; i < end; i++) {
    if (i == index || all[i].group != all[index].group) continue;
    double other = at_best(bounds, &all[i]);
    if (other * own > 0 && (fabs(other) > fabs(own) || (!(fabs(other) < fabs(own)) && i < index)))
      return true;
  }
  return false;
}

static void bound_claim(struct bounds *bounds, size_t claim) {
  const struct network *network = bounds->checker->network;
  size_t first = network->first_contribution[claim], end = network->first_contribution[claim + 1];
  for (size_t i = first; i < end; i++) {
    if (outdone(bounds, i, first, end)) continue;
    double own = at_best(bounds, &network->contributions[i]);
    double *side = own > 0 ? &bounds->most[claim] : &bounds->least[claim];
    *side = belief_combine(*side, own);
  }
}

/* ---- rules ---- */

static bool never_fires(struct bounds *bounds, size_t rule) {
  const struct condition *when = bounds->checker->model->rules[rule].when;
  const struct solve_goal goal = {when, false};
  return !(bound_of(bounds, when).most > BELIEF_THRESHOLD) ||
         solver_search(bounds->checker->solver, &goal, 1, NULL, NULL) == SOLVED_NEVER;
}

void check_bounds(struct checker *checker) {
  const struct network *network = checker->network;
  const struct model *model = checker->model;
  struct bounds bounds = {checker, arena_new_array(checker->arena, double, model->n_claims + 1),
                          arena_new_array(checker->arena, double, model->n_claims + 1),
                          arena_new_array(checker->arena, bool, model->n_rules + 1)};
  if (!bounds.most || !bounds.least || !bounds.dead) return;
  size_t at = 0;
  for (size_t layer = 1; layer <= network->n_layers; layer++) {
    for (; at < model->n_rules && network->rules[network->order[at]].layer == layer; at++)
      bounds.dead[network->order[at]] = never_fires(&bounds, network->order[at]);
    for (size_t claim = 0; claim < model->n_claims; claim++)
      if (network->claim_layer[claim] == layer) bound_claim(&bounds, claim);
  }
  checker->most = bounds.most;
  checker->least = bounds.least;
  checker->dead = bounds.dead;
}
