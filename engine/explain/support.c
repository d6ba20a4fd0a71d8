/* What spoke for and against a claim, and how far the rules that did not fire were from firing. */
#include <math.h>
#include <stdlib.h>

#include "explain/explain.h"
#include "model/formula.h"

/* ---- support ---- */

static size_t overshadowed_by(const struct run *run, size_t contribution) {
  const struct network *network = run->network;
  const struct contribution *its = &network->contributions[contribution];
  if (run->contributions[contribution].state != CONTRIBUTION_OVERSHADOWED) return NO_INDEX;
  for (size_t i = network->first_contribution[its->claim];
       i < network->first_contribution[its->claim + 1]; i++)
    if (network->contributions[i].group == its->group &&
        run->contributions[i].state == CONTRIBUTION_COUNTED)
      return network->contributions[i].rule;
  return NO_INDEX;
}

static struct support support_of(const struct run *run, size_t contribution) {
  const struct contribution *its = &run->network->contributions[contribution];
  const struct judgement *premise = &run->nodes[run->network->rules[its->rule].first_node];
  const struct contribution_record *record = &run->contributions[contribution];
  return (struct support){.contribution = contribution,
                          .rule = its->rule,
                          .strength = its->strength,
                          .state = run->rules[its->rule],
                          .premise = premise->known ? premise->belief : 0,
                          .value = record->state != CONTRIBUTION_NONE ? record->value : 0,
                          .counted = record->state == CONTRIBUTION_COUNTED,
                          .overshadowed_by = overshadowed_by(run, contribution)};
}

/* The four parts in their order. */
static int part_of(const struct support *support) {
  if (support->counted) return 0;
  return support->state == RULE_FIRED ? 1 : support->state == RULE_UNKNOWN ? 2 : 3;
}

/* Larger first within the part. */
static double weight_of(const struct support *support) {
  if (support->state == RULE_FIRED) return fabs(support->value);
  return support->state == RULE_UNKNOWN ? fabs(support->strength) : support->premise;
}

/* Equal weights keep the order of rule names, so that the view never depends on the order of files.
 */
static int compare_supports(const void *left, const void *right) {
  const struct support *a = left, *b = right;
  if (part_of(a) != part_of(b)) return part_of(a) < part_of(b) ? -1 : 1;
  double x = weight_of(a), y = weight_of(b);
  if (x != y) return x > y ? -1 : 1;
  return a->rule < b->rule ? -1 : a->rule > b->rule;
}

struct supports claim_supports(struct arena *arena, const struct run *run, size_t claim) {
  size_t first = run->network->first_contribution[claim];
  size_t n = run->network->first_contribution[claim + 1] - first;
  struct support *list = arena_new_array(arena, struct support, n + 1);
  struct supports supports = {.list = list, .n = n};
  if (list == NULL) return (struct supports){0};
  for (size_t i = 0; i < n; i++) {
    list[i] = support_of(run, first + i);
    size_t *const counts[] = {&supports.n_counted, &supports.n_overshadowed, &supports.n_unknown,
                              &supports.n_failed};
    ++*counts[part_of(&list[i])];
  }
  qsort(list, n, sizeof *list, compare_supports);
  return supports;
}

/* ---- distances ---- */

/* The standard normal deviate z with 2 * Phi(z) - 1 = belief. The trace records the belief of a
 * formula, not its error, so the distance in standard errors is read back from the belief; 60
 * halvings are exact to the double. */
static double deviate_of(double belief) {
  double low = -9, high = 9;
  if (fabs(belief) >= 1) return belief > 0 ? INFINITY : -INFINITY;
  for (int i = 0; i < 60; i++) {
    double middle = (low + high) / 2;
    if (erf(middle / sqrt(2)) < belief) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

static bool formula_distance(const struct run *run, const struct condition *condition,
                             double *units) {
  const struct formula *formula = condition->formula;
  double inputs[FORMULA_INPUTS_MAX];
  for (size_t i = 0; i < formula->n_inputs; i++) {
    const struct reading *reading = &run->readings[formula->inputs[i]];
    if (reading->state == READING_UNKNOWN) return false;
    inputs[i] = reading->number;
  }
  *units = condition->low - formula_value(formula, inputs);
  return isfinite(*units);
}

static bool is_interval(enum condition_kind kind) {
  return kind == CONDITION_ABOVE || kind == CONDITION_BELOW || kind == CONDITION_BETWEEN ||
         kind == CONDITION_OUTSIDE || kind == CONDITION_NEAR;
}

bool condition_distance(const struct run *run, const struct condition *condition, double *units,
                        double *errors) {
  *errors = INFINITY;
  if (condition->kind == CONDITION_FORMULA) return formula_distance(run, condition, units);
  if (!is_interval(condition->kind)) return false;
  const struct reading *reading = &run->readings[condition->evidence];
  if (reading->state == READING_UNKNOWN) return false;
  *units = fmax(condition->low - reading->number, reading->number - condition->high);
  if (condition->kind == CONDITION_OUTSIDE) *units = -*units;
  if (reading->error > 0) *errors = *units / reading->error;
  return true;
}

/* ---- the clauses that keep a rule from firing ---- */

struct search {
  const struct run *run;
  struct arena *arena;
  ARRAY(struct shortfall) found;
};

static bool holds(const struct judgement *judged, bool negated) {
  return judged->known && (negated ? -judged->belief : judged->belief) > BELIEF_THRESHOLD;
}

static void add_shortfall(struct search *search, size_t test, bool negated) {
  const struct judgement *judged = &search->run->tests[test];
  const struct condition *condition = search->run->network->tests[test].condition;
  struct shortfall *shortfall = array_push(search->arena, &search->found);
  if (shortfall == NULL) return;
  *shortfall = (struct shortfall){.test = test, .judged = *judged, .negated = negated};
  shortfall->measured = judged->known && condition_distance(search->run, condition,
                                                            &shortfall->units, &shortfall->errors);
  if (shortfall->measured && condition->kind == CONDITION_FORMULA)
    shortfall->errors = -deviate_of(judged->belief);
  if (negated) {
    shortfall->units = -shortfall->units;
    shortfall->errors = -shortfall->errors;
  }
}

/* Below a `none` the sense turns round: there a clause is in the way when it is not clearly false.
 * A join that holds as it should is not searched, however its clauses stand. */
static void search_node(struct search *search, size_t index, bool negated) {
  const struct premise_node *node = &search->run->network->nodes[index];
  bool joined =
      node->kind == CONDITION_ALL || node->kind == CONDITION_ANY || node->kind == CONDITION_NONE;
  if (holds(&search->run->nodes[index], negated)) return;
  if (!joined) {
    add_shortfall(search, node->test, negated);
    return;
  }
  bool inner = node->kind == CONDITION_NONE ? !negated : negated;
  size_t child = index + 1;
  for (size_t i = 0; i < node->n_clauses; i++) {
    search_node(search, child, inner);
    child += search->run->network->nodes[child].n_nodes;
  }
}

/* Measured first by how near they are, then the false, then the unknown. */
static int compare_shortfalls(const void *left, const void *right) {
  const struct shortfall *a = left, *b = right;
  int x = a->measured ? 0 : a->judged.known ? 1 : 2, y = b->measured ? 0 : b->judged.known ? 1 : 2;
  if (x != y) return x - y;
  if (a->measured && a->errors != b->errors) return a->errors < b->errors ? -1 : 1;
  return a->test < b->test ? -1 : a->test > b->test;
}

static struct shortfalls search_premise(struct arena *arena, const struct run *run, size_t node) {
  struct search search = {.run = run, .arena = arena};
  search_node(&search, node, false);
  if (search.found.n == 0) return (struct shortfalls){0};
  qsort(search.found.at, search.found.n, sizeof *search.found.at, compare_shortfalls);
  return (struct shortfalls){search.found.at, search.found.n};
}

struct shortfalls rule_shortfalls(struct arena *arena, const struct run *run, size_t rule) {
  return search_premise(arena, run, run->network->rules[rule].first_node);
}

struct shortfalls drill_shortfalls(struct arena *arena, const struct run *run, size_t drill) {
  size_t node = run->network->needs[drill];
  return node != NO_INDEX ? search_premise(arena, run, node) : (struct shortfalls){0};
}
