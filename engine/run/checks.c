/* What to find out next: the evidence not yet known that would tell the likeliest causes apart.
 *
 * For each contender, open rules (those that lack something) pass their strength down to what they
 * lack, through findings too; so each evidence gets, for each contender, how far it could still
 * move it. What moves all alike tells nothing: the gain is how far those moves differ, weighed by
 * the contenders' certainties, with one more contender for all the other causes, which nothing
 * moves. While no cause is believed at all, it is what touches most of them. */
#include <math.h>
#include <stdlib.h>

#include "run/phases.h"

#define CONTENDERS 8
#define CONTENDER_CERTAINTY 0.05
#define OTHERS_WEIGHT 0.3    /* of the causes that are no contenders (practice) */
#define BREADTH_WEIGHT 0.002 /* of what touches many causes, beside contenders: settles equals */

/* One passing of weights from claims down to evidence. */
struct passing {
  const struct run *run;
  bool adds; /* parts are added up; else they combine like parallel evidence, never above 1 */
  double *claims, *moves; /* by claim, by evidence */
  size_t *n_rules;        /* by evidence: open rules that lack it; NULL: not counted */
};

static void add_part(const struct passing *passing, double *to, double part) {
  *to += passing->adds ? part : part * (1 - *to);
}

static void pass_to_evidence(struct passing *passing, size_t evidence, double weight) {
  const struct run *run = passing->run;
  const struct evidence *lacked = &run->network->model->evidence[evidence];
  if (run->readings[evidence].state != READING_UNKNOWN) return;
  add_part(passing, &passing->moves[evidence], weight);
  if (passing->n_rules) passing->n_rules[evidence]++;
  if (lacked->ask.n > 0 || lacked->n_formulas == 0) return;
  const struct formula *formula = lacked->formulas[0];
  for (size_t i = 0; i < formula->n_inputs; i++) {
    if (run->readings[formula->inputs[i]].state != READING_UNKNOWN) continue;
    add_part(passing, &passing->moves[formula->inputs[i]], weight / (double)formula->n_inputs);
    if (passing->n_rules) passing->n_rules[formula->inputs[i]]++;
  }
}

static void pass_to_leaf(struct passing *passing, const struct condition *condition,
                         double weight) {
  if (condition->evidence != NO_INDEX) pass_to_evidence(passing, condition->evidence, weight);
  else if (condition->claim != NO_INDEX)
    add_part(passing, &passing->claims[condition->claim], weight);
  else if (condition->formula)
    for (size_t i = 0; i < condition->formula->n_inputs; i++)
      pass_to_evidence(passing, condition->formula->inputs[i], weight);
}

static bool is_open_leaf(const struct run *run, size_t node) {
  return run->network->nodes[node].test != NO_INDEX && !run->nodes[node].known;
}

static void pass_through_rule(struct passing *passing, size_t rule) {
  const struct run *run = passing->run;
  const struct network *network = run->network;
  const struct rule *written = &network->model->rules[rule];
  size_t first = network->rules[rule].first_node, end = first + network->nodes[first].n_nodes;
  double weight = 0, n_missing = 0;
  for (size_t i = 0; i < written->n_then; i++)
    add_part(passing, &weight,
             fabs(written->then[i].strength) * passing->claims[written->then[i].claim]);
  if (weight == 0) return;
  for (size_t node = first; node < end; node++) n_missing += is_open_leaf(run, node);
  for (size_t node = first; node < end; node++)
    if (is_open_leaf(run, node))
      pass_to_leaf(passing, network->tests[network->nodes[node].test].condition,
                   weight / n_missing);
}

/* From the last layer down, so that a finding's weight is whole before its own rules pass it on. */
static void pass_down(struct passing *passing) {
  const struct network *network = passing->run->network;
  for (size_t i = network->model->n_rules; i-- > 0;)
    if (passing->run->rules[network->order[i]] == RULE_UNKNOWN)
      pass_through_rule(passing, network->order[i]);
}

static bool start_passing(struct passing *passing, struct run *run, bool adds) {
  const struct model *model = run->network->model;
  *passing = (struct passing){.run = run,
                              .adds = adds,
                              .claims = arena_new_array(run->arena, double, model->n_claims + 1),
                              .moves = arena_new_array(run->arena, double, model->n_evidence + 1)};
  return passing->claims && passing->moves;
}

/* ---- gains ---- */

/* Whatever touches the causes that are not unlikely, each by its certainty. */
static bool add_breadth(struct run *run, double *gains, size_t *n_rules) {
  struct passing passing;
  if (!start_passing(&passing, run, true)) return false;
  passing.n_rules = n_rules;
  for (size_t i = 0; i < run->n_causes; i++)
    if (run->causes[i].standing != STANDING_UNLIKELY)
      passing.claims[run->causes[i].claim] = 0.1 + fmax(0, run->causes[i].certainty);
  pass_down(&passing);
  for (size_t i = 0; i < run->network->model->n_evidence; i++) gains[i] += passing.moves[i];
  return true;
}

static size_t count_contenders(const struct run *run) {
  size_t n = 0;
  while (n < run->n_causes && n < CONTENDERS && run->causes[n].certainty > CONTENDER_CERTAINTY) n++;
  return n;
}

/* Mean over the contenders, and the others, of how far each one's move is from the mean move. */
static double parting_of(const struct run *run, double *const *moves, size_t n, size_t evidence) {
  double weight = OTHERS_WEIGHT, mean = 0, apart;
  for (size_t i = 0; i < n; i++) {
    weight += run->causes[i].certainty;
    mean += run->causes[i].certainty * moves[i][evidence];
  }
  mean /= weight;
  apart = OTHERS_WEIGHT * mean;
  for (size_t i = 0; i < n; i++)
    apart += run->causes[i].certainty * fabs(moves[i][evidence] - mean);
  return apart / weight;
}

static bool add_partings(struct run *run, size_t n, double *gains) {
  double *moves[CONTENDERS];
  for (size_t i = 0; i < n; i++) {
    struct passing passing;
    if (!start_passing(&passing, run, false)) return false;
    passing.claims[run->causes[i].claim] = 1;
    pass_down(&passing);
    moves[i] = passing.moves;
  }
  for (size_t i = 0; i < run->network->model->n_evidence; i++)
    gains[i] = parting_of(run, moves, n, i) + BREADTH_WEIGHT * gains[i];
  return true;
}

/* ---- the list ---- */

static int compare_checks(const void *left, const void *right) {
  const struct next_check *a = left, *b = right;
  if (a->gain != b->gain) return a->gain > b->gain ? -1 : 1;
  return a->evidence < b->evidence ? -1 : a->evidence > b->evidence;
}

static bool list_checks(struct run *run, const double *gains, const size_t *n_rules) {
  /* What a check costs the player, from knowing it to needing a device (practice). */
  static const double costs[] = {
      [EFFORT_KNOW] = 1, [EFFORT_LOOK] = 1.5, [EFFORT_VIDEO] = 2.5, [EFFORT_MEASURE] = 4};
  const struct model *model = run->network->model;
  struct next_check *checks = arena_new_array(run->arena, struct next_check, model->n_evidence + 1);
  size_t n = 0;
  if (!checks) return false;
  for (size_t i = 0; i < model->n_evidence; i++)
    if (gains[i] > 0 && model->evidence[i].ask.n > 0)
      checks[n++] = (struct next_check){i, gains[i] / costs[model->evidence[i].effort], n_rules[i]};
  qsort(checks, n, sizeof *checks, compare_checks);
  run->checks = checks;
  run->n_checks = n;
  return true;
}

bool run_rank_checks(struct run *run) {
  const struct model *model = run->network->model;
  double *gains = arena_new_array(run->arena, double, model->n_evidence + 1);
  size_t *n_rules = arena_new_array(run->arena, size_t, model->n_evidence + 1);
  size_t n = count_contenders(run);
  if (!gains || !n_rules || !add_breadth(run, gains, n_rules)) return false;
  return (n == 0 || add_partings(run, n, gains)) && list_checks(run, gains, n_rules);
}
