/* Cases are the outer loop: one run keeps what a case comes to, each mutant still unnoticed is put
 * into the draft, and only when it touches that run is the case chained a second time. */
#include "workshop/mutate.h"

#include <math.h>
#include <string.h>

#include "workshop/cases.h"
#include "workshop/notice.h"

/* ---- listing ---- */

struct lister {
  struct arena *arena;
  const struct network *network;
  ARRAY(struct mutant) mutants;
  size_t rule, claim; /* whose premise is listed */
};

static void add_mutant(struct lister *lister, enum mutation mutation, struct edit edit) {
  struct mutant *mutant = array_push(lister->arena, &lister->mutants);
  if (!mutant) return;
  edit.rule = lister->rule;
  edit.claim = lister->claim;
  *mutant = (struct mutant){.mutation = mutation, .edit = edit, .noticed_by = NO_INDEX};
}

/* The error of a formula's value where all inputs stand in the middle of their plausible ranges. */
static double formula_error(const struct model *model, const struct formula *formula) {
  double inputs[FORMULA_INPUTS_MAX], variance = 0;
  for (size_t i = 0; i < formula->n_inputs; i++) {
    const struct evidence *evidence = &model->evidence[formula->inputs[i]];
    inputs[i] = (evidence->low + evidence->high) / 2;
  }
  for (size_t i = 0; i < formula->n_inputs; i++) {
    double middle = inputs[i], error = model->evidence[formula->inputs[i]].error;
    inputs[i] = middle + error;
    double above = formula_value(formula, inputs);
    inputs[i] = middle - error;
    double below = formula_value(formula, inputs);
    inputs[i] = middle;
    variance += (above - below) * (above - below) / 4;
  }
  return isfinite(variance) ? sqrt(variance) : 0;
}

double condition_error(const struct network *network, const struct condition *condition) {
  if (condition->kind == CONDITION_FORMULA)
    return formula_error(network->model, condition->formula);
  const struct evidence *evidence = &network->model->evidence[condition->evidence];
  return evidence->error > 0 ? evidence->error : pow(10, -evidence->decimals);
}

static void list_limit(struct lister *lister, const struct condition *condition, size_t node,
                       bool upper) {
  double limit = upper ? condition->high : condition->low;
  double error = condition_error(lister->network, condition);
  double other = upper ? condition->low : condition->high;
  if (isinf(limit) || error == 0) return;
  for (int sign = -1; sign <= 1; sign += 2) {
    double shifted = limit + sign * error;
    bool empty =
        condition->kind != CONDITION_FORMULA && (upper ? shifted <= other : shifted >= other);
    if (!empty)
      add_mutant(
          lister, MUTATION_THRESHOLD,
          (struct edit){.kind = EDIT_THRESHOLD, .node = node, .upper = upper, .limit = shifted});
  }
}

static void list_leaf(struct lister *lister, size_t node) {
  const struct condition *condition =
      lister->network->tests[lister->network->nodes[node].test].condition;
  add_mutant(lister, MUTATION_FLIP, (struct edit){.kind = EDIT_FLIP, .node = node});
  if (condition->kind > CONDITION_NEAR && condition->kind != CONDITION_FORMULA) return;
  list_limit(lister, condition, node, false);
  if (condition->kind != CONDITION_FORMULA) list_limit(lister, condition, node, true);
}

static void list_premise(struct lister *lister, size_t root) {
  const struct premise_node *nodes = lister->network->nodes;
  for (size_t node = root; node < root + nodes[root].n_nodes; node++) {
    if (nodes[node].test != NO_INDEX) list_leaf(lister, node);
    size_t child = node + 1;
    for (size_t i = 0; nodes[node].n_clauses > 1 && i < nodes[node].n_clauses;
         i++, child += nodes[child].n_nodes)
      add_mutant(lister, MUTATION_DROP, (struct edit){.kind = EDIT_DROP, .node = child});
  }
}

static void list_strengths(struct lister *lister, size_t rule) {
  const struct network *network = lister->network;
  const struct rule *written = &network->model->rules[rule];
  for (size_t i = 0; i < written->n_then; i++) {
    size_t claim = written->then[i].claim, at = network->first_contribution[claim];
    while (network->contributions[at].rule != rule) at++;
    add_mutant(lister, MUTATION_STRENGTH,
               (struct edit){.kind = EDIT_STRENGTH,
                             .contribution = at,
                             .strength = network->contributions[at].strength / 2});
  }
}

struct mutants mutants_list(struct arena *arena, const struct network *network) {
  struct lister lister = {.arena = arena, .network = network, .claim = NO_INDEX};
  const struct model *model = network->model;
  for (lister.rule = 0; lister.rule < model->n_rules; lister.rule++) {
    list_premise(&lister, network->rules[lister.rule].first_node);
    list_strengths(&lister, lister.rule);
  }
  lister.rule = NO_INDEX;
  for (lister.claim = model->first_drill; lister.claim < model->n_claims; lister.claim++)
    if (network->needs[lister.claim] != NO_INDEX)
      list_premise(&lister, network->needs[lister.claim]);
  struct mutants mutants = {.list = lister.mutants.at, .n = lister.mutants.n};
  for (size_t i = 0; i < mutants.n; i++) mutants.of[mutants.list[i].mutation]++;
  return mutants;
}

/* ---- running ---- */

struct trial {
  struct draft *draft;
  struct run *before, *after;
  const struct worked_case *worked;
  enum notice notice;
  bool accepted;              /* the answer of the case is kept: any change is noticed */
  struct answer_shape *shape; /* of `before` */
};

static bool is_noticed(const struct trial *trial) {
  if (!case_holds(trial->after, trial->worked)) return true;
  return trial->notice != NOTICE_VERDICT &&
         !shape_matches(trial->shape, trial->after, trial->notice == NOTICE_CERTAINTY);
}

/* False: no memory. */
static bool try_mutant(struct trial *trial, struct mutant *mutant, bool *noticed) {
  bool good = true;
  *noticed = false;
  if (!draft_apply(trial->draft, &mutant->edit)) return true;
  if (draft_touches(trial->draft, trial->before)) {
    mutant->n_touching++;
    good = run_chain_like(trial->after, trial->before);
    *noticed = good && is_noticed(trial);
  }
  draft_undo(trial->draft);
  return good;
}

static bool run_case(struct trial *trial, struct mutants *mutants, size_t which) {
  if (!case_chain(trial->before, trial->worked)) return false;
  if (!case_holds(trial->before, trial->worked)) {
    mutants->n_left_out++;
    return true;
  }
  mutants->n_cases++;
  mutants->n_accepted += trial->accepted;
  shape_take(trial->shape, trial->before);
  for (size_t i = 0; i < mutants->n; i++) {
    bool noticed;
    if (mutants->list[i].noticed_by != NO_INDEX) continue;
    if (!try_mutant(trial, &mutants->list[i], &noticed)) return false;
    if (noticed) mutants->list[i].noticed_by = which;
  }
  return true;
}

static void count(struct mutants *mutants) {
  for (size_t i = 0; i < mutants->n; i++) {
    if (mutants->list[i].noticed_by == NO_INDEX) continue;
    mutants->noticed[mutants->list[i].mutation]++;
    mutants->n_noticed++;
  }
}

bool mutants_run(struct mutants *mutants, const struct wm_allocator *allocator,
                 const struct network *network, const struct worked_case *const *cases,
                 size_t n_cases, const bool *accepted, enum notice notice) {
  struct arena *arena = arena_new(allocator);
  struct trial trial = {0};
  bool good = arena != NULL;
  if (good) trial.draft = draft_new(arena, network);
  if (trial.draft) {
    trial.before = run_new(allocator, &trial.draft->network);
    trial.after = run_new(allocator, &trial.draft->network);
    trial.shape = shape_new(arena, network);
  }
  good = trial.before && trial.after && trial.shape;
  for (size_t i = 0; good && i < n_cases; i++) {
    trial.worked = cases[i];
    trial.accepted = accepted && accepted[i];
    trial.notice = trial.accepted ? NOTICE_CERTAINTY : notice;
    good = run_case(&trial, mutants, i);
  }
  count(mutants);
  run_free(trial.before);
  run_free(trial.after);
  if (arena) arena_free(arena);
  return good;
}

const char *mutation_words(enum mutation mutation) {
  static const char *const words[] = {"thresholds shifted", "conditions turned round",
                                      "clauses dropped", "strengths halved"};
  return words[mutation];
}

const char *notice_word(enum notice notice) {
  static const char *const words[] = {"verdict", "answer", "certainty"};
  return words[notice];
}
