/* The readings each rule rests on, traced through findings and formulas. */
#include "model/formula.h"
#include "network/network.h"

/* What is found on the way: the row that is filled, and the evidences still to be entered. Each is
 * entered once, since formulas may invert each other, so `open` never holds more than there are. */
struct roots {
  const struct network *network;
  const bool *rows;
  bool *out;
  size_t *open;
};

/* An evidence rests on itself and on what its first formula reads. */
static void add_evidence_roots(struct roots *roots, size_t evidence) {
  const struct model *model = roots->network->model;
  size_t n = 0;
  if (roots->out[evidence]) return;
  roots->out[evidence] = true;
  roots->open[n++] = evidence;
  while (n > 0) {
    const struct evidence *entered = &model->evidence[roots->open[--n]];
    const struct formula *formula = entered->n_formulas > 0 ? entered->formulas[0] : NULL;
    for (size_t i = 0; formula && i < formula->n_inputs; i++) {
      if (roots->out[formula->inputs[i]]) continue;
      roots->out[formula->inputs[i]] = true;
      roots->open[n++] = formula->inputs[i];
    }
  }
}

static void add_claim_roots(struct roots *roots, size_t claim) {
  const struct network *network = roots->network;
  size_t n_evidence = network->model->n_evidence;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    const bool *row = roots->rows + network->contributions[i].rule * n_evidence;
    for (size_t k = 0; k < n_evidence; k++) roots->out[k] = roots->out[k] || row[k];
  }
}

static void add_test_roots(struct roots *roots, const struct condition *condition) {
  if (condition->evidence != NO_INDEX) add_evidence_roots(roots, condition->evidence);
  if (condition->claim != NO_INDEX) add_claim_roots(roots, condition->claim);
  if (condition->formula)
    for (size_t i = 0; i < condition->formula->n_inputs; i++)
      add_evidence_roots(roots, condition->formula->inputs[i]);
}

const bool *network_roots(struct arena *arena, const struct network *network) {
  const struct model *model = network->model;
  bool *rows = arena_take_many(arena, model->n_rules + 1, model->n_evidence + 1);
  struct roots roots = {.network = network,
                        .rows = rows,
                        .open = arena_new_array(arena, size_t, model->n_evidence + 1)};
  if (rows == NULL || roots.open == NULL) return NULL;
  /* In layer order the rows of all rules that a rule's findings rest on are ready. */
  for (size_t i = 0; i < model->n_rules; i++) {
    size_t rule = network->order[i], first = network->rules[rule].first_node;
    roots.out = rows + rule * model->n_evidence;
    for (size_t node = first; node < first + network->nodes[first].n_nodes; node++)
      if (network->nodes[node].test != NO_INDEX)
        add_test_roots(&roots, network->tests[network->nodes[node].test].condition);
  }
  return rows;
}
