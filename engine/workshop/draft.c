/* An edited premise is written anew at the end of the nodes, and its rule points there; the edited
 * condition is the last test. Invariant: without an edit in force the network of the draft is equal
 * to its origin, but for a spare test that no premise holds. */
#include "workshop/draft.h"

#include <math.h>
#include <string.h>

#include "run/phases.h"

/* ---- making it ---- */

static size_t largest_premise(const struct network *network) {
  size_t most = 1;
  for (size_t i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].n_nodes > most) most = network->nodes[i].n_nodes;
  return most;
}

/* A copy of n elements with room for `more`; NULL: no memory. */
#define COPY(arena, type, from, n, more)                                                           \
  ((type *)copy_array((arena), (from), (n), (more), sizeof(type)))

static void *copy_array(struct arena *arena, const void *from, size_t n, size_t more, size_t size) {
  void *copy = arena_take_many(arena, n + more + 1, size);
  if (copy && n > 0) memcpy(copy, from, n * size);
  return copy;
}

static bool copy_network(struct draft *draft, struct arena *arena) {
  const struct network *origin = draft->origin;
  const struct model *model = origin->model;
  size_t room = largest_premise(origin) + 2 * EDIT_CLAUSES_MAX + 2;
  draft->tests = COPY(arena, struct test, origin->tests, origin->n_tests, 1);
  draft->nodes = COPY(arena, struct premise_node, origin->nodes, origin->n_nodes, room);
  draft->rules = COPY(arena, struct network_rule, origin->rules, model->n_rules, 1);
  draft->contributions =
      COPY(arena, struct contribution, origin->contributions, origin->n_contributions, 1);
  draft->first_contribution =
      COPY(arena, size_t, origin->first_contribution, model->n_claims + 1, 0);
  draft->order = COPY(arena, size_t, origin->order, model->n_rules, 1);
  draft->needs = COPY(arena, size_t, origin->needs, model->n_claims, 0);
  draft->written = COPY(arena, struct rule, model->rules, model->n_rules, 1);
  draft->spare_test = origin->n_tests;
  draft->spare_node = origin->n_nodes;
  draft->network.n_nodes += room;
  return draft->tests && draft->nodes && draft->rules && draft->contributions &&
         draft->first_contribution && draft->order && draft->needs && draft->written;
}

/* The spare test must be harmless to judge while it is not used. */
static void quieten(struct draft *draft) {
  draft->condition = (struct condition){.kind = CONDITION_KNOWN, .claim = NO_INDEX};
  draft->tests[draft->spare_test] = (struct test){&draft->condition, 0};
}

struct draft *draft_new(struct arena *arena, const struct network *origin) {
  struct draft *draft = arena_new_object(arena, struct draft);
  if (!draft) return NULL;
  draft->network = *origin;
  draft->origin = origin;
  draft->model = *origin->model;
  if (!copy_network(draft, arena)) return NULL;
  draft->model.rules = draft->written;
  draft->network.model = &draft->model;
  draft->network.tests = draft->tests;
  draft->network.nodes = draft->nodes;
  draft->network.rules = draft->rules;
  draft->network.contributions = draft->contributions;
  draft->network.first_contribution = draft->first_contribution;
  draft->network.order = draft->order;
  draft->network.needs = draft->needs;
  draft->network.n_tests += draft->model.n_evidence > 0;
  quieten(draft);
  return draft;
}

/* ---- premises ---- */

size_t edit_root(const struct network *network, const struct edit *edit) {
  return edit->rule == NO_INDEX ? network->needs[edit->claim]
                                : network->rules[edit->rule].first_node;
}

size_t draft_root(const struct draft *draft) {
  return edit_root(&draft->network, &draft->edit);
}

/* A leaf of the test at *to, under a `none` when it is negated; moves *to behind it. */
static void write_leaf(struct draft *draft, const struct premise_node *leaf, bool negated,
                       size_t *to) {
  if (negated)
    draft->nodes[(*to)++] = (struct premise_node){
        .kind = CONDITION_NONE, .test = NO_INDEX, .n_clauses = 1, .n_nodes = 2};
  draft->nodes[(*to)++] = *leaf;
}

/* Writes the subtree at `from` with the edit made; moves *to behind it. */
static void write_subtree(struct draft *draft, const struct edit *edit, size_t from, size_t *to) {
  const struct premise_node *nodes = draft->origin->nodes;
  bool here = from == edit->node;
  size_t at = *to, child = from + 1;
  if (nodes[from].test != NO_INDEX) {
    struct premise_node leaf = nodes[from];
    if (here && edit->kind == EDIT_THRESHOLD) leaf.test = draft->spare_test;
    write_leaf(draft, &leaf, here && edit->kind == EDIT_FLIP, to);
    return;
  }
  draft->nodes[(*to)++] = nodes[from];
  for (size_t i = 0; i < nodes[from].n_clauses; i++, child += nodes[child].n_nodes) {
    if (edit->kind == EDIT_DROP && child == edit->node) draft->nodes[at].n_clauses--;
    else write_subtree(draft, edit, child, to);
  }
  draft->nodes[at].n_nodes = *to - at;
}

static void write_clauses(struct draft *draft, const struct edit *edit, size_t *to) {
  for (size_t i = 0; i < edit->n_clauses; i++) {
    size_t test = edit->clauses[i].test;
    struct premise_node leaf = {
        .kind = draft->tests[test].condition->kind, .test = test, .n_nodes = 1};
    write_leaf(draft, &leaf, edit->clauses[i].negated, to);
  }
}

/* all(the premise as it was, the clauses added) */
static void write_added(struct draft *draft, const struct edit *edit, size_t *to) {
  size_t at = (*to)++;
  bool is_new = edit->kind == EDIT_RULE;
  if (!is_new) write_subtree(draft, edit, edit_root(draft->origin, edit), to);
  write_clauses(draft, edit, to);
  draft->nodes[at] = (struct premise_node){.kind = CONDITION_ALL,
                                           .test = NO_INDEX,
                                           .n_clauses = edit->n_clauses + !is_new,
                                           .n_nodes = *to - at};
}

static void write_premise(struct draft *draft, const struct edit *edit) {
  size_t to = draft->spare_node;
  if (edit->kind == EDIT_ADD || edit->kind == EDIT_RULE) write_added(draft, edit, &to);
  else write_subtree(draft, edit, edit_root(draft->origin, edit), &to);
}

/* ---- conditions ---- */

static bool set_limit(struct draft *draft, const struct edit *edit) {
  size_t test = draft->origin->nodes[edit->node].test;
  struct condition condition = *draft->origin->tests[test].condition;
  if (edit->upper) condition.high = edit->limit;
  else condition.low = edit->limit;
  bool open = condition.kind == CONDITION_FORMULA || condition.kind == CONDITION_BELIEVED;
  if (!open && !(condition.low < condition.high)) return false;
  draft->condition = condition;
  draft->tests[draft->spare_test] =
      (struct test){&draft->condition, draft->origin->tests[test].layer};
  return true;
}

/* A rule may only read what is final before its own layer. */
static bool clauses_are_final(const struct draft *draft, const struct edit *edit, size_t layer) {
  for (size_t i = 0; i < edit->n_clauses; i++)
    if (draft->origin->tests[edit->clauses[i].test].layer >= layer) return false;
  return true;
}

/* ---- a new rule ---- */

/* Into the order behind all rules of its layer and those below. */
static void insert_order(struct draft *draft, size_t rule, size_t layer) {
  size_t at = rule;
  while (at > 0 && draft->rules[draft->order[at - 1]].layer > layer) {
    draft->order[at] = draft->order[at - 1];
    at--;
  }
  draft->order[at] = rule;
}

static void insert_contribution(struct draft *draft, const struct edit *edit, size_t rule) {
  size_t at = draft->first_contribution[edit->claim + 1];
  memmove(&draft->contributions[at + 1], &draft->contributions[at],
          (draft->network.n_contributions - at) * sizeof *draft->contributions);
  draft->contributions[at] = (struct contribution){rule, edit->claim, edit->strength, NO_INDEX};
  for (size_t i = edit->claim + 1; i <= draft->model.n_claims; i++) draft->first_contribution[i]++;
  draft->network.n_contributions++;
}

/* In the layer of the claim it concludes: lower layers may not be read by it, later is too late. */
static bool add_rule(struct draft *draft, const struct edit *edit) {
  size_t rule = draft->model.n_rules, layer = draft->origin->claim_layer[edit->claim];
  if (layer == 0 || !clauses_are_final(draft, edit, layer)) return false;
  draft->conclusion = (struct conclusion){.claim = edit->claim, .strength = edit->strength};
  draft->written[rule] = (struct rule){.name = "new-rule", .then = &draft->conclusion, .n_then = 1};
  draft->rules[rule] = (struct network_rule){draft->spare_node, layer};
  draft->model.n_rules++;
  insert_order(draft, rule, layer);
  insert_contribution(draft, edit, rule);
  return true;
}

static void remove_rule(struct draft *draft) {
  const struct network *origin = draft->origin;
  size_t n_rules = origin->model->n_rules;
  draft->model.n_rules = n_rules;
  draft->network.n_contributions = origin->n_contributions;
  memcpy(draft->order, origin->order, n_rules * sizeof *draft->order);
  memcpy(draft->contributions, origin->contributions,
         origin->n_contributions * sizeof *draft->contributions);
  memcpy(draft->first_contribution, origin->first_contribution,
         (draft->model.n_claims + 1) * sizeof *draft->first_contribution);
}

/* ---- applying ---- */

static bool prepare(struct draft *draft, const struct edit *edit) {
  switch (edit->kind) {
  case EDIT_THRESHOLD: return set_limit(draft, edit);
  case EDIT_ADD: return clauses_are_final(draft, edit, draft->rules[edit->rule].layer);
  case EDIT_RULE: return add_rule(draft, edit);
  case EDIT_STRENGTH: draft->contributions[edit->contribution].strength = edit->strength; break;
  case EDIT_FLIP:
  case EDIT_DROP: break;
  }
  return true;
}

bool draft_apply(struct draft *draft, const struct edit *edit) {
  if (!prepare(draft, edit)) return false;
  draft->edit = *edit;
  draft->edited = true;
  if (edit->kind == EDIT_STRENGTH) return true;
  write_premise(draft, edit);
  if (edit->kind == EDIT_RULE) draft->edit.rule = draft->model.n_rules - 1;
  else if (edit->rule == NO_INDEX) draft->needs[edit->claim] = draft->spare_node;
  else draft->rules[edit->rule].first_node = draft->spare_node;
  return true;
}

void draft_undo(struct draft *draft) {
  const struct edit *edit = &draft->edit;
  const struct network *origin = draft->origin;
  if (!draft->edited) return;
  draft->edited = false;
  if (edit->kind == EDIT_STRENGTH)
    draft->contributions[edit->contribution].strength =
        origin->contributions[edit->contribution].strength;
  else if (edit->kind == EDIT_RULE) remove_rule(draft);
  else if (edit->rule == NO_INDEX) draft->needs[edit->claim] = origin->needs[edit->claim];
  else draft->rules[edit->rule].first_node = origin->rules[edit->rule].first_node;
  quieten(draft);
}

/* ---- what an edit touches ---- */

static bool fires(const struct judgement *premise) {
  return premise->known && premise->belief > BELIEF_THRESHOLD;
}

/* Two premises that come to the same for their rule: both fire alike, both fail, or both lack. */
static bool same_premise(const struct judgement *a, const struct judgement *b) {
  if (a->known != b->known) return false;
  if (fires(a) != fires(b)) return false;
  return !fires(a) || a->belief == b->belief;
}

/* What a drill needs counts only when it is known to be lacking. */
static bool same_needs(const struct judgement *a, const struct judgement *b) {
  return (a->known && a->belief < 0) == (b->known && b->belief < 0);
}

bool draft_touches(const struct draft *draft, struct run *run) {
  const struct edit *edit = &draft->edit;
  if (!draft->edited) return false;
  if (edit->kind == EDIT_STRENGTH)
    return run->contributions[edit->contribution].state != CONTRIBUTION_NONE;
  if (edit->kind == EDIT_THRESHOLD && !run_judge_test(run, NULL, draft->spare_test)) return true;
  run_judge(run, draft_root(draft));
  const struct judgement *now = &run->nodes[draft_root(draft)];
  if (edit->kind == EDIT_RULE) return fires(now);
  size_t root = edit_root(draft->origin, edit);
  if (edit->rule != NO_INDEX) return !same_premise(&run->nodes[root], now);
  run_judge(run, root);
  return !same_needs(&run->nodes[root], now);
}
