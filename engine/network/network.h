/* The compiled form of the rules: equal conditions shared, premises as flat trees, rules in layers.
 * Immutable once made, borrowed by any number of runs and threads. It holds indices only; names and
 * texts stay in the model. The order of files, rules and clauses leaves no mark on it: everything
 * is sorted by name or by printed form. */
#ifndef WM_NETWORK_NETWORK_H
#define WM_NETWORK_NETWORK_H

#include "model/formula.h"
#include "model/model.h"

/* A leaf condition, evaluated once a case however many rules hold it. */
struct test {
  const struct condition *condition;
  size_t layer; /* 0 for evidence; for believed: the layer of its claim */
};

/* A premise in prefix order: node i's clauses are the next `clauses` subtrees after it. */
struct premise_node {
  enum condition_kind kind; /* ALL, ANY, NONE, or anything else: a leaf */
  size_t test;              /* leaf: index of the test */
  size_t n_clauses;         /* all, any, none */
  size_t n_nodes;           /* size of this subtree, itself included */
};

struct network_rule {
  size_t first_node; /* its premise: nodes [first_node, first_node + nodes[first_node].n_nodes) */
  size_t layer;      /* 1 for a rule that reads evidence alone */
};

/* One rule's say on one claim. */
struct contribution {
  size_t rule, claim;
  double strength;
  size_t group; /* equal numbers, same group; NO_INDEX: none */
};

struct network {
  const struct model *model;
  const struct test *tests;
  size_t n_tests;
  const struct premise_node *nodes;
  size_t n_nodes;
  const struct network_rule *rules;         /* by the model's rule index */
  const size_t *order;                      /* the model's rule indices by layer, then by name */
  const struct contribution *contributions; /* sorted by claim, then by rule */
  size_t n_contributions;
  const size_t *first_contribution; /* by claim, n_claims + 1 entries */
  const size_t *claim_layer;        /* by claim; 0: no rule concludes it */
  const size_t *needs;              /* by claim: first node of what a drill needs, or NO_INDEX */
  size_t n_layers;
  uint64_t digest; /* of the canonical print and all texts: the same knowledge, the same digest */
};

/* Compiles; refuses circles with a diagnostic that prints the whole path. NULL after an error. */
struct network *network_compile(struct arena *arena, const struct model *model,
                                struct diags *diags);
/* The canonical, position-free print that the digest is taken of: vocabulary, rules, layers. */
void network_print(struct text *out, const struct network *network);

/* The fingerprint of the n bytes printed and of every text of the model. */
uint64_t network_digest(const struct network *network, const char *printed, size_t n);

/* The readings each rule rests on, traced through formulas and findings: n_rules rows of n_evidence
 * flags, or NULL: no memory. */
const bool *network_roots(struct arena *arena, const struct network *network);

#endif
