/* Candidates: every edit of a rule that the case's answer hangs on. Each series goes from the
 * smallest edit up and ends with the first that sets the case right. */
#include "workshop/mend_parts.h"

#include <math.h>

#include "workshop/mutate.h"

/* Thresholds are moved by so many halves of a reading error at most. */
#define HALVES_MAX 12
/* What dropping or adding a clause counts beside thresholds and strengths. */
#define CLAUSE_SIZE 3

const double mend_strengths[MEND_STRENGTHS] = {0.2, 0.4, 0.6, 0.8, 0.95};

/* ---- what the answer hangs on ---- */

static void mark_claim(struct mender *mender, size_t claim) {
  if (claim != NO_INDEX) mender->of_claim[claim] = true;
}

static void mark_drill(struct mender *mender, size_t claim) {
  if (claim == NO_INDEX) return;
  const struct drill *drill = mender->network->model->claims[claim].drill;
  mark_claim(mender, claim);
  for (size_t i = 0; i < drill->n_changes; i++) mark_claim(mender, drill->changes[i].cause);
}

/* Causes surer than the one that should lead stand in its way. */
static void mark_rivals(struct mender *mender, size_t wanted) {
  const struct run *run = mender->before;
  for (size_t i = 0; i < run->n_causes && run->causes[i].claim != wanted; i++)
    if (run->causes[i].certainty > BELIEF_THRESHOLD) mark_claim(mender, run->causes[i].claim);
}

static void mark_expected(struct mender *mender) {
  const struct worked_case *worked = mender->worked;
  if (worked->expects_leading) {
    mark_claim(mender, worked->leading);
    mark_rivals(mender, worked->leading);
  }
  if (worked->expects_drill) {
    mark_drill(mender, worked->drill);
    mark_drill(mender, run_drill(mender->before));
  }
  for (size_t i = 0; i < worked->n_believed; i++) mark_claim(mender, worked->believed[i]);
  for (size_t i = 0; i < worked->n_not_believed; i++) mark_claim(mender, worked->not_believed[i]);
  mark_claim(mender, mender->before->red_flag);
}

static bool concerns(const struct mender *mender, size_t rule) {
  const struct rule *written = &mender->network->model->rules[rule];
  for (size_t i = 0; i < written->n_then; i++)
    if (mender->of_claim[written->then[i].claim]) return true;
  for (size_t i = 0; i < written->n_removes; i++)
    if (mender->of_claim[written->removes[i]]) return true;
  return false;
}

static void mark_reads(struct mender *mender, size_t rule) {
  const struct network *network = mender->network;
  size_t first = network->rules[rule].first_node, end = first + network->nodes[first].n_nodes;
  for (size_t node = first; node < end; node++)
    if (network->nodes[node].test != NO_INDEX)
      mark_claim(mender, network->tests[network->nodes[node].test].condition->claim);
}

/* From the last layer down, so that one pass finds all that lies below. */
void mend_mark(struct mender *mender) {
  mark_expected(mender);
  for (size_t i = mender->network->model->n_rules; i-- > 0;) {
    size_t rule = mender->network->order[i];
    mender->of_rule[rule] = concerns(mender, rule);
    if (mender->of_rule[rule]) mark_reads(mender, rule);
  }
}

/* ---- thresholds ---- */

static double rounded(const struct model *model, const struct condition *condition, double limit) {
  if (condition->evidence == NO_INDEX) return limit;
  double step = pow(10, -model->evidence[condition->evidence].decimals);
  return step * round(limit / step);
}

static void list_limit(struct mender *mender, struct edit edit, const struct condition *condition) {
  double limit = edit.upper ? condition->high : condition->low;
  double error = condition_error(mender->network, condition);
  if (isinf(limit) || error == 0) return;
  for (int sign = -1; sign <= 1; sign += 2)
    for (int halves = 1; halves <= HALVES_MAX; halves++) {
      edit.limit = rounded(mender->network->model, condition, limit + sign * halves * error / 2);
      if (edit.limit != limit && mend_try(mender, &edit, halves / 2.0)) break;
    }
}

static void list_believed(struct mender *mender, struct edit edit,
                          const struct condition *condition) {
  for (size_t i = 0; i < MEND_STRENGTHS - 1; i++) {
    edit.limit = mend_strengths[i];
    if (edit.limit != condition->low)
      mend_try(mender, &edit, fabs(edit.limit - condition->low) / 0.2);
  }
}

static void list_leaf(struct mender *mender, struct edit edit) {
  size_t test = mender->network->nodes[edit.node].test;
  const struct condition *condition = mender->network->tests[test].condition;
  edit.kind = EDIT_THRESHOLD;
  if (!mender->before->tests[test].known) return;
  if (condition->kind == CONDITION_BELIEVED) list_believed(mender, edit, condition);
  if (condition->kind > CONDITION_NEAR && condition->kind != CONDITION_FORMULA) return;
  list_limit(mender, edit, condition);
  edit.upper = true;
  if (condition->kind != CONDITION_FORMULA) list_limit(mender, edit, condition);
}

/* ---- clauses ---- */

static void list_drops(struct mender *mender, struct edit edit) {
  const struct premise_node *nodes = mender->network->nodes;
  size_t join = edit.node;
  edit.kind = EDIT_DROP;
  edit.node = join + 1;
  for (size_t i = 0; nodes[join].n_clauses > 1 && i < nodes[join].n_clauses; i++) {
    mend_try(mender, &edit, CLAUSE_SIZE);
    edit.node += nodes[edit.node].n_nodes;
  }
}

bool mend_is_clause(const struct mender *mender, size_t test) {
  const struct condition *condition = mender->network->tests[test].condition;
  if (!mender->before->tests[test].known || condition->kind == CONDITION_KNOWN) return false;
  if (condition->kind == CONDITION_BELIEVED)
    return condition->claim < mender->network->model->first_cause;
  return condition->evidence != NO_INDEX &&
         mender->before->readings[condition->evidence].state == READING_GIVEN;
}

/* Whether the premise reads what the test is about: another clause on it would say a thing twice or
 * contradict it. */
static bool reads(const struct network *network, size_t rule, size_t test) {
  size_t first = network->rules[rule].first_node, end = first + network->nodes[first].n_nodes;
  const struct condition *condition = network->tests[test].condition;
  for (size_t node = first; node < end; node++) {
    if (network->nodes[node].test == NO_INDEX) continue;
    const struct condition *read = network->tests[network->nodes[node].test].condition;
    if (read->evidence == condition->evidence && read->claim == condition->claim) return true;
  }
  return false;
}

/* A clause that does not hold here keeps the rule from firing, whichever it is: when the first does
 * not help, none does. */
static void list_adds(struct mender *mender, size_t rule) {
  struct edit edit = {.kind = EDIT_ADD, .rule = rule, .claim = NO_INDEX, .n_clauses = 1};
  bool helps = true;
  edit.node = mender->network->rules[rule].first_node;
  if (mender->before->rules[rule] != RULE_FIRED) return;
  for (size_t test = 0; helps && test < mender->network->n_tests; test++) {
    if (!mend_is_clause(mender, test) ||
        mender->network->tests[test].layer >= mender->network->rules[rule].layer ||
        reads(mender->network, rule, test))
      continue;
    bool holds = mender->before->tests[test].belief > BELIEF_THRESHOLD;
    edit.clauses[0] = (struct edit_clause){test, holds};
    helps = mend_try(mender, &edit, CLAUSE_SIZE + 1);
  }
}

static void list_premise(struct mender *mender, size_t rule, size_t claim, size_t root) {
  const struct premise_node *nodes = mender->network->nodes;
  for (size_t node = root; node < root + nodes[root].n_nodes; node++) {
    struct edit edit = {.rule = rule, .claim = claim, .node = node};
    if (nodes[node].test != NO_INDEX) list_leaf(mender, edit);
    else list_drops(mender, edit);
  }
}

/* ---- strengths ---- */

/* Along the words of strength, away from the present one in both directions; the sign stays. */
static void list_strength(struct mender *mender, size_t contribution) {
  const struct contribution *now = &mender->network->contributions[contribution];
  struct edit edit = {
      .kind = EDIT_STRENGTH, .rule = now->rule, .claim = NO_INDEX, .contribution = contribution};
  double size = fabs(now->strength), sign = now->strength < 0 ? -1 : 1;
  if (mender->before->rules[now->rule] != RULE_FIRED) return;
  for (size_t i = 0; i < MEND_STRENGTHS; i++) {
    edit.strength = sign * mend_strengths[i];
    if (mend_strengths[i] > size && mend_try(mender, &edit, (mend_strengths[i] - size) / 0.2))
      break;
  }
  for (size_t i = MEND_STRENGTHS; i-- > 0;) {
    edit.strength = sign * mend_strengths[i];
    if (mend_strengths[i] < size && mend_try(mender, &edit, (size - mend_strengths[i]) / 0.2))
      break;
  }
}

void mend_list_edits(struct mender *mender) {
  const struct network *network = mender->network;
  const struct model *model = network->model;
  for (size_t rule = 0; rule < model->n_rules; rule++) {
    if (!mender->of_rule[rule]) continue;
    list_premise(mender, rule, NO_INDEX, network->rules[rule].first_node);
    list_adds(mender, rule);
  }
  for (size_t i = 0; i < network->n_contributions; i++)
    if (mender->of_claim[network->contributions[i].claim]) list_strength(mender, i);
  size_t drill = mender->worked->expects_drill ? mender->worked->drill : NO_INDEX;
  if (drill != NO_INDEX && network->needs[drill] != NO_INDEX)
    list_premise(mender, NO_INDEX, drill, network->needs[drill]);
}
