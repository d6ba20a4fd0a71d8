/* Compiling: leaf conditions of equal printed form become one test, premises become flat trees in
 * prefix order, and layers are found by letting claims become final one after the other (Kahn's
 * order). What is left over stands in a circle. */
#include "network/network.h"

#include <stdlib.h>
#include <string.h>

struct compiler {
  struct arena *arena;
  struct diags *diags;
  const struct model *model;
  struct network *network;
  struct names *test_names; /* printed form -> test */
  struct test *tests;
  struct premise_node *nodes;
  struct network_rule *rules;
  size_t *claim_layer;
  /* reading_first[c] .. reading_first[c + 1]: the rules that read claim c, in reading[] */
  size_t *reading_first, *reading;
};

static bool is_join(const struct condition *condition) {
  return condition->kind >= CONDITION_ALL;
}

static size_t count_nodes(const struct condition *condition) {
  size_t n = 1;
  for (size_t i = 0; i < condition->n_clauses; i++) n += count_nodes(&condition->clauses[i]);
  return n;
}

/* ---- tests ---- */

static size_t gather_leaves(const struct condition *condition, const struct condition **leaves,
                            size_t n) {
  if (!is_join(condition)) {
    leaves[n] = condition;
    return n + 1;
  }
  for (size_t i = 0; i < condition->n_clauses; i++)
    n = gather_leaves(&condition->clauses[i], leaves, n);
  return n;
}

static int compare_leaves(const void *left, const void *right) {
  const struct condition *const *a = left, *const *b = right;
  int by_print = strcmp((*a)->printed, (*b)->printed);
  return by_print ? by_print : span_compare(&(*a)->at, &(*b)->at);
}

static bool make_tests(struct compiler *compiler) {
  const struct model *model = compiler->model;
  struct network *network = compiler->network;
  const struct condition **leaves =
      arena_new_array(compiler->arena, const struct condition *, network->n_nodes + 1);
  compiler->tests = arena_new_array(compiler->arena, struct test, network->n_nodes + 1);
  if (leaves == NULL || compiler->tests == NULL) return false;
  size_t n = 0;
  for (size_t i = 0; i < model->n_rules; i++) n = gather_leaves(model->rules[i].when, leaves, n);
  for (size_t i = model->first_drill; i < model->n_claims; i++)
    if (model->claims[i].drill->needs) n = gather_leaves(model->claims[i].drill->needs, leaves, n);
  qsort(leaves, n, sizeof *leaves, compare_leaves);
  for (size_t i = 0; i < n; i++) {
    if (i > 0 && strcmp(leaves[i - 1]->printed, leaves[i]->printed) == 0) continue;
    compiler->tests[network->n_tests].condition = leaves[i];
    names_add(compiler->test_names, leaves[i]->printed, strlen(leaves[i]->printed),
              (uint32_t)network->n_tests++);
  }
  network->tests = compiler->tests;
  return !arena_failed(compiler->arena); /* else a test may be missing from the names */
}

/* ---- premises ---- */

static size_t add_premise(struct compiler *compiler, const struct condition *condition, size_t at) {
  struct premise_node *node = &compiler->nodes[at];
  node->kind = condition->kind;
  node->n_clauses = condition->n_clauses;
  node->test = NO_INDEX;
  node->n_nodes = count_nodes(condition);
  if (!is_join(condition))
    node->test = names_find(compiler->test_names, condition->printed, strlen(condition->printed));
  at++;
  for (size_t i = 0; i < condition->n_clauses; i++)
    at = add_premise(compiler, &condition->clauses[i], at);
  return at;
}

static size_t count_all_nodes(const struct model *model) {
  size_t n = 0;
  for (size_t i = 0; i < model->n_rules; i++) n += count_nodes(model->rules[i].when);
  for (size_t i = model->first_drill; i < model->n_claims; i++)
    if (model->claims[i].drill->needs) n += count_nodes(model->claims[i].drill->needs);
  return n;
}

static bool make_premises(struct compiler *compiler) {
  const struct model *model = compiler->model;
  struct network *network = compiler->network;
  size_t at = 0;
  size_t *needs = arena_new_array(compiler->arena, size_t, model->n_claims + 1);
  compiler->nodes = arena_new_array(compiler->arena, struct premise_node, network->n_nodes + 1);
  compiler->rules = arena_new_array(compiler->arena, struct network_rule, model->n_rules + 1);
  if (needs == NULL || compiler->nodes == NULL || compiler->rules == NULL) return false;
  for (size_t i = 0; i < model->n_rules; i++) {
    compiler->rules[i].first_node = at;
    at = add_premise(compiler, model->rules[i].when, at);
  }
  for (size_t i = 0; i < model->n_claims; i++) {
    bool has = model->claims[i].kind == CLAIM_DRILL && model->claims[i].drill->needs;
    needs[i] = has ? at : NO_INDEX;
    if (has) at = add_premise(compiler, model->claims[i].drill->needs, at);
  }
  network->needs = needs;
  network->nodes = compiler->nodes;
  network->rules = compiler->rules;
  return true;
}

/* ---- contributions ---- */

static int compare_contributions(const void *left, const void *right) {
  const struct contribution *a = left, *b = right;
  if (a->claim != b->claim) return a->claim < b->claim ? -1 : 1;
  return a->rule < b->rule ? -1 : a->rule > b->rule;
}

static bool make_contributions(struct compiler *compiler) {
  const struct model *model = compiler->model;
  struct network *network = compiler->network;
  struct names *groups = names_new(compiler->arena);
  size_t n = 0, n_groups = 0;
  for (size_t i = 0; i < model->n_rules; i++) n += model->rules[i].n_then;
  struct contribution *list = arena_new_array(compiler->arena, struct contribution, n + 1);
  size_t *first = arena_new_array(compiler->arena, size_t, model->n_claims + 1);
  if (groups == NULL || list == NULL || first == NULL) return false;
  for (size_t i = 0, at = 0; i < model->n_rules; i++) {
    const struct rule *rule = &model->rules[i];
    size_t group = NO_INDEX;
    if (rule->group)
      group = names_add(groups, rule->group, strlen(rule->group), (uint32_t)n_groups++);
    for (size_t k = 0; k < rule->n_then; k++)
      list[at++] = (struct contribution){i, rule->then[k].claim, rule->then[k].strength, group};
  }
  if (n > 0) qsort(list, n, sizeof *list, compare_contributions);
  for (size_t claim = 0, at = 0; claim <= model->n_claims; claim++) {
    while (at < n && list[at].claim < claim) at++;
    first[claim] = at;
  }
  network->contributions = list;
  network->n_contributions = n;
  network->first_contribution = first;
  return true;
}

/* ---- layers ---- */

/* Calls once for each leaf of the rule that reads a claim; a claim read twice is seen twice. */
static size_t next_claim_read(const struct network *network, size_t rule, size_t *node) {
  const struct network_rule *compiled = &network->rules[rule];
  size_t end = compiled->first_node + network->nodes[compiled->first_node].n_nodes;
  for (; *node < end; ++*node) {
    size_t test = network->nodes[*node].test;
    if (test != NO_INDEX && network->tests[test].condition->claim != NO_INDEX)
      return network->tests[test].condition->claim;
  }
  return NO_INDEX;
}

#define EACH_CLAIM_READ(network, rule, node, claim)                                                \
  for (size_t node = (network)->rules[rule].first_node,                                            \
              claim = next_claim_read((network), (rule), &node);                                   \
       claim != NO_INDEX; node++, claim = next_claim_read((network), (rule), &node))

static bool index_readers(struct compiler *compiler) {
  const struct network *network = compiler->network;
  const struct model *model = compiler->model;
  size_t *first = arena_new_array(compiler->arena, size_t, model->n_claims + 2), n = 0;
  if (first == NULL) return false;
  for (size_t rule = 0; rule < model->n_rules; rule++) EACH_CLAIM_READ(network, rule, node, claim)
  first[claim + 2]++, n++;
  for (size_t claim = 2; claim <= model->n_claims + 1; claim++) first[claim] += first[claim - 1];
  compiler->reading = arena_new_array(compiler->arena, size_t, n + 1);
  if (compiler->reading == NULL) return false;
  for (size_t rule = 0; rule < model->n_rules; rule++) EACH_CLAIM_READ(network, rule, node, claim)
  compiler->reading[first[claim + 1]++] = rule;
  compiler->reading_first = first;
  return true;
}

/* What is still open while layers are found. */
struct opening {
  size_t *rule_reads;  /* by rule: leaves on claims not yet final */
  size_t *claim_rules; /* by claim: rules concluding it not yet in a layer */
  size_t *queue;       /* claims that became final */
  size_t n_queue;
};

static void settle_rule(struct compiler *compiler, struct opening *opening, size_t rule) {
  const struct rule *written = &compiler->model->rules[rule];
  size_t layer = 1;
  EACH_CLAIM_READ(compiler->network, rule, node, claim)
  if (compiler->claim_layer[claim] + 1 > layer) layer = compiler->claim_layer[claim] + 1;
  compiler->rules[rule].layer = layer;
  if (layer > compiler->network->n_layers) compiler->network->n_layers = layer;
  for (size_t i = 0; i < written->n_then; i++) {
    size_t claim = written->then[i].claim;
    if (layer > compiler->claim_layer[claim]) compiler->claim_layer[claim] = layer;
    if (--opening->claim_rules[claim] == 0) opening->queue[opening->n_queue++] = claim;
  }
}

static bool open_layers(struct compiler *compiler, struct opening *opening) {
  const struct model *model = compiler->model;
  opening->rule_reads = arena_new_array(compiler->arena, size_t, model->n_rules + 1);
  opening->claim_rules = arena_new_array(compiler->arena, size_t, model->n_claims + 1);
  opening->queue = arena_new_array(compiler->arena, size_t, model->n_claims + 1);
  compiler->claim_layer = arena_new_array(compiler->arena, size_t, model->n_claims + 1);
  if (!opening->rule_reads || !opening->claim_rules || !opening->queue || !compiler->claim_layer)
    return false;
  for (size_t rule = 0; rule < model->n_rules; rule++) {
    EACH_CLAIM_READ(compiler->network, rule, node, claim)
    opening->rule_reads[rule]++;
    for (size_t i = 0; i < model->rules[rule].n_then; i++)
      opening->claim_rules[model->rules[rule].then[i].claim]++;
  }
  return true;
}

static void run_layers(struct compiler *compiler, struct opening *opening) {
  const struct model *model = compiler->model;
  for (size_t claim = 0; claim < model->n_claims; claim++)
    if (opening->claim_rules[claim] == 0) opening->queue[opening->n_queue++] = claim;
  for (size_t rule = 0; rule < model->n_rules; rule++)
    if (opening->rule_reads[rule] == 0) settle_rule(compiler, opening, rule);
  for (size_t head = 0; head < opening->n_queue; head++) {
    size_t claim = opening->queue[head];
    size_t end = compiler->reading_first[claim + 1];
    for (size_t i = compiler->reading_first[claim]; i < end; i++)
      if (--opening->rule_reads[compiler->reading[i]] == 0)
        settle_rule(compiler, opening, compiler->reading[i]);
  }
}

/* A rule concluding the open claim that itself waits for an open claim; that claim goes to *next.
 */
static size_t waiting_rule(const struct compiler *compiler, const struct opening *opening,
                           size_t claim, size_t *next) {
  const struct network *network = compiler->network;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    size_t rule = network->contributions[i].rule;
    if (opening->rule_reads[rule] == 0) continue;
    EACH_CLAIM_READ(network, rule, node, read) {
      if (opening->claim_rules[read] > 0) {
        *next = read;
        return rule;
      }
    }
  }
  return NO_INDEX;
}

/* Walks back from an open claim until one comes again: from there on it is the circle. */
static void report_circle(struct compiler *compiler, const struct opening *opening, size_t start) {
  const struct model *model = compiler->model;
  size_t *seen_at = arena_new_array(compiler->arena, size_t, model->n_claims + 1);
  size_t *path = arena_new_array(compiler->arena, size_t, model->n_claims + 2);
  size_t *by_rule = arena_new_array(compiler->arena, size_t, model->n_claims + 2);
  struct text text;
  size_t n = 0, claim = start;
  if (!seen_at || !path || !by_rule) return;
  while (seen_at[claim] == 0) {
    path[n] = claim;
    seen_at[claim] = n + 1;
    by_rule[n++] = waiting_rule(compiler, opening, claim, &claim);
  }
  size_t from = seen_at[claim] - 1;
  text_init(&text, compiler->arena);
  text_add(&text, model->claims[claim].name);
  for (size_t i = n; i-- > from;) text_format(&text, " -> %s", model->claims[path[i]].name);
  const char *printed = text_done(&text);
  struct diag *diag =
      DIAG(compiler->diags, CIRCLE, model->rules[by_rule[n - 1]].at, printed ? printed : "");
  for (size_t i = n; i-- > from;) {
    struct text note;
    text_init(&note, compiler->arena);
    text_format(&note, "rule '%s' concludes '%s' from '%s'", model->rules[by_rule[i]].name,
                model->claims[path[i]].name, model->claims[i + 1 < n ? path[i + 1] : claim].name);
    const char *done = text_done(&note);
    if (done) diag_note(compiler->diags, diag, model->rules[by_rule[i]].at, done);
  }
}

static bool make_layers(struct compiler *compiler) {
  const struct model *model = compiler->model;
  struct opening opening = {0};
  if (!index_readers(compiler) || !open_layers(compiler, &opening)) return false;
  run_layers(compiler, &opening);
  compiler->network->claim_layer = compiler->claim_layer;
  for (size_t claim = 0; claim < model->n_claims; claim++) {
    size_t unused;
    if (opening.claim_rules[claim] > 0 &&
        waiting_rule(compiler, &opening, claim, &unused) != NO_INDEX) {
      report_circle(compiler, &opening, claim);
      return false;
    }
  }
  for (size_t i = 0; i < compiler->network->n_tests; i++) {
    size_t claim = compiler->tests[i].condition->claim;
    compiler->tests[i].layer = claim == NO_INDEX ? 0 : compiler->claim_layer[claim];
  }
  return true;
}

/* Counting sort by layer; rules are already in the order of their names. */
static bool make_order(struct compiler *compiler) {
  size_t n = compiler->model->n_rules, at = 0;
  size_t *order = arena_new_array(compiler->arena, size_t, n + 1);
  size_t *start = arena_new_array(compiler->arena, size_t, compiler->network->n_layers + 2);
  if (order == NULL || start == NULL) return false;
  for (size_t rule = 0; rule < n; rule++) start[compiler->rules[rule].layer]++;
  for (size_t layer = 0; layer <= compiler->network->n_layers; layer++) {
    size_t count = start[layer];
    start[layer] = at;
    at += count;
  }
  for (size_t rule = 0; rule < n; rule++) order[start[compiler->rules[rule].layer]++] = rule;
  compiler->network->order = order;
  return true;
}

static bool make_digest(struct compiler *compiler) {
  struct text text;
  text_init(&text, compiler->arena);
  network_print(&text, compiler->network);
  const char *printed = text_done(&text);
  if (printed == NULL) return false;
  compiler->network->digest = network_digest(compiler->network, printed, text.n);
  return true;
}

struct network *network_compile(struct arena *arena, const struct model *model,
                                struct diags *diags) {
  struct network *network = arena_new_object(arena, struct network);
  struct compiler compiler = {.arena = arena, .diags = diags, .model = model, .network = network};
  size_t before = diags->errors;
  compiler.test_names = names_new(arena);
  bool made = network != NULL && compiler.test_names != NULL;
  if (made) {
    network->model = model;
    network->n_nodes = count_all_nodes(model);
    made = make_tests(&compiler) && make_premises(&compiler) && make_contributions(&compiler) &&
           make_layers(&compiler) && make_order(&compiler) && make_digest(&compiler);
  }
  if (made && !arena_failed(arena)) return network;
  if (diags->errors == before) diags->no_memory = true;
  return NULL;
}
