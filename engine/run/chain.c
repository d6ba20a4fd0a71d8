/* Forward chaining by layers: a layer's claims are final before the next layer reads them.
 * Everything that is judged is recorded: tests, clauses, premises, contributions. One small
 * function a kind of condition. */
#include <math.h>
#include <string.h>

#include "run/phases.h"

static struct judgement known(double belief) {
  return (struct judgement){true, belief, NO_INDEX, NO_INDEX};
}

static struct judgement lacks_evidence(size_t evidence) {
  return (struct judgement){false, 0, evidence, NO_INDEX};
}

/* ---- one judge a kind of leaf; the evidence is known when it is called ---- */

struct judge_context {
  struct run *run;
  struct diags *diags;
  const struct test *test;
  const struct reading *reading;
  bool no_memory;
};

static struct judgement judge_interval(struct judge_context *context) {
  const struct condition *condition = context->test->condition;
  return known(belief_between(context->reading->number, context->reading->error, condition->low,
                              condition->high));
}

static struct judgement judge_outside(struct judge_context *context) {
  struct judgement inside = judge_interval(context);
  return known(0 - inside.belief);
}

static struct judgement judge_choice(struct judge_context *context) {
  const struct condition *condition = context->test->condition;
  for (size_t i = 0; i < condition->n_choices; i++)
    if (condition->choices[i] == context->reading->choice) return known(context->reading->sure);
  return known(-context->reading->sure);
}

static const char *rule_of_test(const struct run *run, size_t test) {
  const struct network *network = run->network;
  for (size_t rule = 0; rule < network->model->n_rules; rule++) {
    size_t first = network->rules[rule].first_node;
    for (size_t node = first; node < first + network->nodes[first].n_nodes; node++)
      if (network->nodes[node].test == test) return network->model->rules[rule].name;
  }
  return "";
}

static struct judgement judge_matches(struct judge_context *context) {
  const struct condition *condition = context->test->condition;
  const char *text = context->reading->text;
  switch (pattern_match(condition->pattern, text, strlen(text), 0, NULL, 0)) {
  case PATTERN_YES: return known(1);
  case PATTERN_NO: return known(-1);
  case PATTERN_NO_MEMORY: context->no_memory = true; break;
  case PATTERN_LIMIT:
    if (context->diags)
      DIAG(context->diags, PATTERN_LIMIT, condition->at,
           rule_of_test(context->run, (size_t)(context->test - context->run->network->tests)));
    break;
  }
  return lacks_evidence(condition->evidence);
}

typedef struct judgement (*judge)(struct judge_context *);

static const judge judges[] = {
    [CONDITION_ABOVE] = judge_interval,   [CONDITION_BELOW] = judge_interval,
    [CONDITION_BETWEEN] = judge_interval, [CONDITION_OUTSIDE] = judge_outside,
    [CONDITION_NEAR] = judge_interval,    [CONDITION_IS] = judge_choice,
    [CONDITION_ONE_OF] = judge_choice,    [CONDITION_MATCHES] = judge_matches,
};

/* ---- leaves that need no reading ---- */

static struct judgement judge_known(const struct run *run, const struct condition *condition) {
  bool is_known = run->readings[condition->evidence].state != READING_UNKNOWN;
  return known(is_known == condition->wanted ? 1 : -1);
}

/* A finding passes on its certainty; a higher threshold than the usual caps what is below it. */
static struct judgement judge_believed(const struct run *run, const struct condition *condition) {
  double certainty = run->certainty[condition->claim];
  if (run->claims[condition->claim] == CLAIM_UNKNOWN)
    return (struct judgement){false, 0, NO_INDEX, condition->claim};
  return known(certainty > condition->low ? certainty : fmin(certainty, BELIEF_THRESHOLD));
}

static bool judge_formula(struct run *run, const struct condition *condition,
                          struct judgement *judgement) {
  struct derived derived;
  bool is_known;
  if (!run_evaluate(run, condition->formula, &derived, &is_known)) return false;
  if (is_known) {
    *judgement = known(belief_between(derived.number, derived.error, condition->low, INFINITY));
    return true;
  }
  *judgement = lacks_evidence(NO_INDEX);
  for (size_t i = condition->formula->n_inputs; i-- > 0;)
    if (run->readings[condition->formula->inputs[i]].state == READING_UNKNOWN)
      judgement->missing_evidence = condition->formula->inputs[i];
  return true;
}

bool run_judge_test(struct run *run, struct diags *diags, size_t index) {
  const struct condition *condition = run->network->tests[index].condition;
  struct judgement *judgement = &run->tests[index];
  if (condition->kind == CONDITION_KNOWN) {
    *judgement = judge_known(run, condition);
  } else if (condition->kind == CONDITION_BELIEVED) {
    *judgement = judge_believed(run, condition);
  } else if (condition->kind == CONDITION_FORMULA) {
    return judge_formula(run, condition, judgement);
  } else if (run->readings[condition->evidence].state == READING_UNKNOWN) {
    *judgement = lacks_evidence(condition->evidence);
  } else {
    struct judge_context context = {run, diags, &run->network->tests[index],
                                    &run->readings[condition->evidence], false};
    *judgement = judges[condition->kind](&context);
    return !context.no_memory;
  }
  return true;
}

/* ---- joins ---- */

/* The strongest known clause (weakest for all) and the first unknown one. */
struct joined {
  struct judgement extreme, unknown;
  bool has_known, has_unknown;
};

static struct joined join_clauses(struct run *run, size_t node, double sign) {
  const struct premise_node *nodes = run->network->nodes;
  struct joined joined = {0};
  size_t child = node + 1;
  for (size_t i = 0; i < nodes[node].n_clauses; i++, child += nodes[child].n_nodes) {
    run_judge(run, child);
    const struct judgement *clause = &run->nodes[child];
    if (!clause->known) {
      if (!joined.has_unknown) joined.unknown = *clause;
      joined.has_unknown = true;
    } else if (!joined.has_known || sign * clause->belief > sign * joined.extreme.belief) {
      joined.extreme = *clause;
      joined.has_known = true;
    }
  }
  return joined;
}

/* One clause at or below the threshold makes it false whatever is unknown. */
static struct judgement join_all(const struct joined *joined) {
  if (joined->has_known && joined->extreme.belief <= BELIEF_THRESHOLD) return joined->extreme;
  return joined->has_unknown ? joined->unknown : joined->extreme;
}

/* One clause above the threshold makes it true whatever is unknown. */
static struct judgement join_any(const struct joined *joined) {
  if (joined->has_known && joined->extreme.belief > BELIEF_THRESHOLD) return joined->extreme;
  return joined->has_unknown ? joined->unknown : joined->extreme;
}

void run_judge(struct run *run, size_t node) {
  const struct premise_node *premise = &run->network->nodes[node];
  struct judgement *judgement = &run->nodes[node];
  struct joined joined;
  switch (premise->kind) {
  case CONDITION_ALL:
    joined = join_clauses(run, node, -1);
    *judgement = join_all(&joined);
    break;
  case CONDITION_ANY:
    joined = join_clauses(run, node, 1);
    *judgement = join_any(&joined);
    break;
  case CONDITION_NONE:
    joined = join_clauses(run, node, 1);
    *judgement = join_any(&joined);
    judgement->belief = 0 - judgement->belief;
    break;
  default: *judgement = run->tests[premise->test];
  }
}

/* ---- rules and claims ---- */

static void judge_rule(struct run *run, size_t rule) {
  size_t node = run->network->rules[rule].first_node;
  run_judge(run, node);
  const struct judgement *premise = &run->nodes[node];
  if (!premise->known) run->rules[rule] = RULE_UNKNOWN;
  else run->rules[rule] = premise->belief > BELIEF_THRESHOLD ? RULE_FIRED : RULE_FAILED;
}

static bool outweighs(const struct contribution_record *a, const struct contribution_record *b) {
  return fabs(a->value) > fabs(b->value);
}

/* Of each group only the strongest fired member counts; the first by name of equals. */
static bool is_overshadowed(const struct run *run, size_t claim, size_t index) {
  const struct network *network = run->network;
  size_t group = network->contributions[index].group;
  if (group == NO_INDEX) return false;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    if (i == index || network->contributions[i].group != group ||
        run->rules[network->contributions[i].rule] != RULE_FIRED)
      continue;
    if (outweighs(&run->contributions[i], &run->contributions[index]) ||
        (i < index && !outweighs(&run->contributions[index], &run->contributions[i])))
      return true;
  }
  return false;
}

static void weigh_contributions(struct run *run, size_t claim, size_t first, size_t end) {
  const struct network *network = run->network;
  for (size_t i = first; i < end; i++) {
    size_t rule = network->contributions[i].rule;
    if (run->rules[rule] != RULE_FIRED) continue;
    double premise = run->nodes[network->rules[rule].first_node].belief;
    run->contributions[i].value = premise * network->contributions[i].strength;
    run->contributions[i].state = CONTRIBUTION_COUNTED;
  }
  for (size_t i = first; i < end; i++)
    if (run->contributions[i].state == CONTRIBUTION_COUNTED && is_overshadowed(run, claim, i))
      run->contributions[i].state = CONTRIBUTION_OVERSHADOWED;
}

/* Sums log likelihood ratios in the order of rule names: the same bits whatever the order of files.
 */
static void finish_claim(struct run *run, size_t claim) {
  const struct network *network = run->network;
  size_t first = network->first_contribution[claim], end = network->first_contribution[claim + 1];
  double sum = 0;
  bool fired = false, open = false;
  weigh_contributions(run, claim, first, end);
  for (size_t i = first; i < end; i++) {
    open = open || run->rules[network->contributions[i].rule] == RULE_UNKNOWN;
    fired = fired || run->contributions[i].state == CONTRIBUTION_COUNTED;
    if (run->contributions[i].state == CONTRIBUTION_COUNTED)
      sum += belief_to_log(run->contributions[i].value);
  }
  run->certainty[claim] = fired ? belief_from_log(sum) : 0;
  run->claims[claim] = fired ? CLAIM_KNOWN : open ? CLAIM_UNKNOWN : CLAIM_SILENT;
}

bool run_layers(struct run *run, struct diags *diags) {
  const struct network *network = run->network;
  size_t at = 0;
  for (size_t layer = 0; layer <= network->n_layers; layer++) {
    /* Rules of this layer read claims of lower layers, which are final. */
    for (; at < network->model->n_rules && network->rules[network->order[at]].layer == layer; at++)
      judge_rule(run, network->order[at]);
    for (size_t claim = 0; claim < network->model->n_claims; claim++)
      if (network->claim_layer[claim] == layer) finish_claim(run, claim);
    for (size_t i = 0; i < network->n_tests; i++)
      if (network->tests[i].layer == layer && !run_judge_test(run, diags, i)) return false;
  }
  return true;
}
