/* What is lawful but doubtful in a knowledge base: the findings of `check`. */
#include <string.h>

#include "network/network.h"

struct checker {
  struct arena *arena;
  struct diags *diags;
  const struct network *network;
  const struct model *model;
};

/* ---- root readings ---- */

/* An evidence rests on itself and on what its first formula reads; formulas may invert each other, so each is entered once. */
static void add_evidence_roots(const struct model *model, size_t evidence, bool *out)
{
  if (out[evidence])
    return;
  out[evidence] = true;
  if (model->evidence[evidence].n_formulas == 0)
    return;
  const struct formula *formula = model->evidence[evidence].formulas[0];
  for (size_t i = 0; i < formula->n_inputs; i++)
    add_evidence_roots(model, formula->inputs[i], out);
}

static void add_claim_roots(const struct network *network, size_t claim, const bool *rows, bool *out)
{
  size_t n_evidence = network->model->n_evidence;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    const bool *row = rows + network->contributions[i].rule * n_evidence;
    for (size_t k = 0; k < n_evidence; k++)
      out[k] = out[k] || row[k];
  }
}

static void add_test_roots(const struct network *network, const struct condition *condition,
                           const bool *rows, bool *out)
{
  if (condition->evidence != NO_INDEX)
    add_evidence_roots(network->model, condition->evidence, out);
  if (condition->claim != NO_INDEX)
    add_claim_roots(network, condition->claim, rows, out);
  if (condition->formula)
    for (size_t i = 0; i < condition->formula->n_inputs; i++)
      add_evidence_roots(network->model, condition->formula->inputs[i], out);
}

const bool *network_roots(struct arena *arena, const struct network *network)
{
  const struct model *model = network->model;
  bool *rows = arena_take_many(arena, model->n_rules + 1, model->n_evidence + 1);
  if (rows == NULL)
    return NULL;
  /* In layer order the rows of all rules that a rule's findings rest on are ready. */
  for (size_t i = 0; i < model->n_rules; i++) {
    size_t rule = network->order[i], first = network->rules[rule].first_node;
    for (size_t node = first; node < first + network->nodes[first].n_nodes; node++)
      if (network->nodes[node].test != NO_INDEX)
        add_test_roots(network, network->tests[network->nodes[node].test].condition, rows,
                       rows + rule * model->n_evidence);
  }
  return rows;
}

static bool same_roots(const bool *a, const bool *b, size_t n)
{
  return memcmp(a, b, n * sizeof *a) == 0;
}

static const char *list_roots(struct checker *checker, const bool *row)
{
  struct text text;
  size_t n = 0;
  text_init(&text, checker->arena);
  for (size_t i = 0; i < checker->model->n_evidence; i++) {
    if (!row[i])
      continue;
    if (n++ == 6) {
      text_add(&text, ", ...");
      break;
    }
    text_add(&text, n > 1 ? ", " : "");
    text_add(&text, checker->model->evidence[i].name);
  }
  const char *done = text_done(&text);
  return done ? done : "";
}

static bool are_grouped(const struct contribution *a, const struct contribution *b)
{
  return a->group != NO_INDEX && a->group == b->group;
}

static void check_pair(struct checker *checker, const bool *rows, const struct contribution *a,
                       const struct contribution *b)
{
  const struct model *model = checker->model;
  const bool *row = rows + a->rule * model->n_evidence;
  if (are_grouped(a, b) || (a->strength > 0) != (b->strength > 0) ||
      !same_roots(row, rows + b->rule * model->n_evidence, model->n_evidence))
    return;
  struct diag *diag =
      DIAG(checker->diags, SHARED_READINGS, model->rules[b->rule].at, model->rules[a->rule].name,
           model->rules[b->rule].name, model->claims[a->claim].name, list_roots(checker, row));
  diag_note(checker->diags, diag, model->rules[a->rule].at, "the other rule");
}

static void check_shared_readings(struct checker *checker)
{
  const struct network *network = checker->network;
  const bool *rows = network_roots(checker->arena, network);
  if (rows == NULL)
    return;
  for (size_t claim = 0; claim < checker->model->n_claims; claim++) {
    size_t end = network->first_contribution[claim + 1];
    for (size_t i = network->first_contribution[claim]; i < end; i++)
      for (size_t k = i + 1; k < end; k++)
        check_pair(checker, rows, &network->contributions[i], &network->contributions[k]);
  }
}

/* ---- sources ---- */

static void check_source(struct checker *checker, struct source_ref source, const char *kind,
                         const char *name, struct span at)
{
  if (source.kind == SOURCE_NONE)
    DIAG(checker->diags, NO_SOURCE, at, kind, name);
}

static void check_sources(struct checker *checker)
{
  const struct model *model = checker->model;
  for (size_t i = 0; i < model->n_evidence; i++)
    check_source(checker, model->evidence[i].source, "evidence", model->evidence[i].name,
                 model->evidence[i].at);
  for (size_t i = model->first_cause; i < model->n_claims; i++)
    check_source(checker, model->claims[i].source, claim_kind_word(model->claims[i].kind),
                 model->claims[i].name, model->claims[i].at);
  for (size_t i = 0; i < model->n_rules; i++)
    check_source(checker, model->rules[i].source, "rule", model->rules[i].name, model->rules[i].at);
  for (size_t i = 0; i < model->n_clubs; i++)
    check_source(checker, model->clubs[i].source, "club", model->clubs[i].name, model->clubs[i].at);
}

/* ---- what nothing reads, what nothing concludes ---- */

static void mark_formula(bool *used, const struct formula *formula)
{
  for (size_t i = 0; i < formula->n_inputs; i++)
    used[formula->inputs[i]] = true;
  if (formula->doubt)
    mark_formula(used, formula->doubt);
}

static void mark_wording(bool *used, const struct wording *wording)
{
  for (size_t i = 0; i < wording->n; i++)
    if (wording->parts[i].kind == WORDING_VALUE)
      used[wording->parts[i].evidence] = true;
}

static void mark_used(const struct checker *checker, bool *used)
{
  const struct model *model = checker->model;
  for (size_t i = 0; i < checker->network->n_tests; i++) {
    const struct condition *condition = checker->network->tests[i].condition;
    if (condition->evidence != NO_INDEX)
      used[condition->evidence] = true;
    if (condition->formula)
      mark_formula(used, condition->formula);
  }
  for (size_t i = 0; i < model->n_evidence; i++)
    for (size_t k = 0; k < model->evidence[i].n_formulas; k++)
      mark_formula(used, model->evidence[i].formulas[k]);
  for (size_t i = model->first_drill; i < model->n_claims; i++)
    if (model->claims[i].drill->works)
      used[model->claims[i].drill->works->evidence] = true;
  for (size_t i = 0; i < model->n_rules; i++)
    mark_wording(used, &model->rules[i].because);
}

static void check_unused(struct checker *checker)
{
  const struct model *model = checker->model;
  bool *used = arena_new_array(checker->arena, bool, model->n_evidence + 1);
  if (used == NULL)
    return;
  mark_used(checker, used);
  for (size_t i = 0; i < model->n_evidence; i++)
    if (!used[i])
      DIAG(checker->diags, UNUSED, model->evidence[i].at, "evidence", model->evidence[i].name);
}

static bool is_reachable(const struct network *network, size_t claim)
{
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++)
    if (network->contributions[i].strength > 0)
      return true;
  return false;
}

static void check_claims(struct checker *checker)
{
  const struct model *model = checker->model;
  bool *drilled = arena_new_array(checker->arena, bool, model->n_claims + 1);
  if (drilled == NULL)
    return;
  for (size_t i = model->first_drill; i < model->n_claims; i++) {
    const struct drill *drill = model->claims[i].drill;
    for (size_t k = 0; k < drill->n_changes; k++)
      drilled[drill->changes[k].cause] = true;
    if (drill->n_changes == 0)
      DIAG(checker->diags, DRILL_WITHOUT_CAUSE, model->claims[i].at, model->claims[i].name);
  }
  for (size_t i = 0; i < model->first_drill; i++) {
    const struct claim *claim = &model->claims[i];
    if (!is_reachable(checker->network, i))
      DIAG(checker->diags, UNREACHABLE, claim->at, claim_kind_word(claim->kind), claim->name);
    if (claim->kind == CLAIM_CAUSE && !drilled[i])
      DIAG(checker->diags, CAUSE_WITHOUT_DRILL, claim->at, claim->name);
  }
}

void network_check(struct arena *arena, const struct network *network, struct diags *diags)
{
  struct checker checker = {arena, diags, network, network->model};
  check_shared_readings(&checker);
  check_sources(&checker);
  check_unused(&checker);
  check_claims(&checker);
}
