/* One claim against another: the rules that counted differently, and the checks that would tell
 * them apart. */
#include <math.h>
#include <stdlib.h>

#include "explain/explain.h"
#include "model/formula.h"

/* ---- what counted differently ---- */

/* What the rule counted for the claim; 0 when it did not. */
static double counted_for(const struct run *run, size_t rule, size_t claim) {
  const struct network *network = run->network;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++)
    if (network->contributions[i].rule == rule &&
        run->contributions[i].state == CONTRIBUTION_COUNTED)
      return run->contributions[i].value;
  return 0;
}

static double strength_for(const struct network *network, size_t rule, size_t claim) {
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++)
    if (network->contributions[i].rule == rule) return network->contributions[i].strength;
  return 0;
}

static int compare_differences(const void *left, const void *right) {
  const struct difference *a = left, *b = right;
  double x = fabs(a->for_a - a->for_b), y = fabs(b->for_a - b->for_b);
  if (x != y) return x > y ? -1 : 1;
  return a->rule < b->rule ? -1 : a->rule > b->rule;
}

static void find_differences(struct arena *arena, const struct run *run,
                             struct contrast *contrast) {
  ARRAY(struct difference) found = {0};
  for (size_t rule = 0; rule < run->network->model->n_rules; rule++) {
    double for_a = counted_for(run, rule, contrast->a), for_b = counted_for(run, rule, contrast->b);
    struct difference *difference = for_a != for_b ? array_push(arena, &found) : NULL;
    if (difference != NULL) *difference = (struct difference){rule, for_a, for_b};
  }
  if (found.n != 0) qsort(found.at, found.n, sizeof *found.at, compare_differences);
  contrast->differences = found.at;
  contrast->n_differences = found.n;
}

/* ---- what is not known ---- */

/* Marks, once each, the evidence that can be asked for and that keeps something unknown. */
struct missing {
  const struct run *run;
  bool *evidence, *claims;
};

/* What cannot be asked for is missed through the inputs of its formulas. */
static void miss_evidence(struct missing *missing, size_t evidence) {
  const struct evidence *about = &missing->run->network->model->evidence[evidence];
  if (missing->run->readings[evidence].state != READING_UNKNOWN || missing->evidence[evidence])
    return;
  missing->evidence[evidence] = true;
  for (size_t i = 0; about->ask.n == 0 && i < about->n_formulas; i++)
    for (size_t k = 0; k < about->formulas[i]->n_inputs; k++)
      miss_evidence(missing, about->formulas[i]->inputs[k]);
}

static void miss_node(struct missing *missing, size_t index);

/* A finding is unknown for what its own unknown rules lack; the mark ends the search where rules
 * share findings. */
static void miss_claim(struct missing *missing, size_t claim) {
  const struct network *network = missing->run->network;
  if (missing->claims[claim]) return;
  missing->claims[claim] = true;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    size_t rule = network->contributions[i].rule;
    if (missing->run->rules[rule] == RULE_UNKNOWN)
      miss_node(missing, network->rules[rule].first_node);
  }
}

static void miss_leaf(struct missing *missing, const struct condition *condition) {
  if (condition->evidence != NO_INDEX) miss_evidence(missing, condition->evidence);
  if (condition->claim != NO_INDEX) miss_claim(missing, condition->claim);
  for (size_t i = 0; condition->formula != NULL && i < condition->formula->n_inputs; i++)
    miss_evidence(missing, condition->formula->inputs[i]);
}

static void miss_node(struct missing *missing, size_t index) {
  const struct network *network = missing->run->network;
  const struct premise_node *node = &network->nodes[index];
  for (size_t i = index; i < index + node->n_nodes; i++) {
    enum condition_kind kind = network->nodes[i].kind;
    bool joined = kind == CONDITION_ALL || kind == CONDITION_ANY || kind == CONDITION_NONE;
    if (!joined && !missing->run->tests[network->nodes[i].test].known)
      miss_leaf(missing, network->tests[network->nodes[i].test].condition);
  }
}

/* Adds the rule's weight to each evidence it lacks that somebody can be asked for. */
static void weigh_rule(struct arena *arena, const struct run *run, size_t rule, double apart,
                       struct telling_check *weights) {
  const struct model *model = run->network->model;
  struct missing missing = {.run = run,
                            .evidence = arena_new_array(arena, bool, model->n_evidence + 1),
                            .claims = arena_new_array(arena, bool, model->n_claims + 1)};
  if (missing.evidence == NULL || missing.claims == NULL) return;
  miss_node(&missing, run->network->rules[rule].first_node);
  for (size_t i = 0; i < model->n_evidence; i++) {
    if (!missing.evidence[i] || model->evidence[i].ask.n == 0) continue;
    weights[i].apart += apart;
    weights[i].n_rules++;
  }
}

static int compare_checks(const void *left, const void *right) {
  const struct telling_check *a = left, *b = right;
  if (a->apart != b->apart) return a->apart > b->apart ? -1 : 1;
  return a->evidence < b->evidence ? -1 : a->evidence > b->evidence;
}

static void find_checks(struct arena *arena, const struct run *run, struct contrast *contrast) {
  const struct network *network = run->network;
  size_t n = network->model->n_evidence, n_found = 0;
  struct telling_check *weights = arena_new_array(arena, struct telling_check, n + 1);
  if (weights == NULL) return;
  for (size_t rule = 0; rule < network->model->n_rules; rule++) {
    double apart =
        fabs(strength_for(network, rule, contrast->a) - strength_for(network, rule, contrast->b));
    if (run->rules[rule] == RULE_UNKNOWN && apart > 0) weigh_rule(arena, run, rule, apart, weights);
  }
  for (size_t i = 0; i < n; i++) {
    weights[i].evidence = i;
    if (weights[i].apart > 0) weights[n_found++] = weights[i];
  }
  qsort(weights, n_found, sizeof *weights, compare_checks);
  contrast->checks = weights;
  contrast->n_checks = n_found;
}

struct contrast contrast_of(struct arena *arena, const struct run *run, size_t a, size_t b) {
  struct contrast contrast = {.a = a, .b = b};
  find_differences(arena, run, &contrast);
  find_checks(arena, run, &contrast);
  return contrast;
}
