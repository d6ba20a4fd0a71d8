/* A copy of a network in which one edit at a time can be tried and taken back.
 * Nothing is read or compiled anew: an edit rewrites one premise into spare room, or one number.
 * The origin is only read. A draft belongs to one thread, and so do all runs on it; a run chained
 * before an edit keeps its results, so that one premise can be judged anew from them. */
#ifndef WM_WORKSHOP_DRAFT_H
#define WM_WORKSHOP_DRAFT_H

#include "run/run.h"

enum edit_kind {
  EDIT_THRESHOLD, /* another limit of a numeric condition or of a certainty */
  EDIT_FLIP,      /* a condition turned into its opposite */
  EDIT_DROP,      /* a clause left out of its all, any or none */
  EDIT_ADD,       /* a condition that must hold too */
  EDIT_STRENGTH,  /* another strength of a conclusion */
  EDIT_RULE       /* a new rule: all of some conditions, one conclusion */
};

#define EDIT_CLAUSES_MAX 3

/* A condition of the network as it is, or its opposite. */
struct edit_clause {
  size_t test;
  bool negated;
};

struct edit {
  enum edit_kind kind;
  size_t rule;         /* the rule edited; NO_INDEX: what a drill needs, or a new rule */
  size_t claim;        /* the drill whose needs are edited; what a new rule concludes */
  size_t node;         /* of the network: the condition or clause edited */
  bool upper;          /* threshold: the upper limit of the two */
  double limit;        /* threshold: the new limit, in the unit of the evidence */
  size_t contribution; /* strength: of the network */
  double strength;     /* the new strength; of a new rule */
  struct edit_clause clauses[EDIT_CLAUSES_MAX]; /* added */
  size_t n_clauses;
};

struct draft {
  struct network network; /* what runs use */
  const struct network *origin;
  struct model model; /* with room for one rule more */
  struct test *tests; /* the last one is spare */
  struct premise_node *nodes;
  struct network_rule *rules;
  struct contribution *contributions;
  size_t *first_contribution, *order, *needs;
  struct rule *written;
  struct condition condition; /* of the spare test */
  struct conclusion conclusion;
  size_t spare_test, spare_node;
  struct edit edit; /* the one in force */
  bool edited;
};

/* NULL: no memory. */
struct draft *draft_new(struct arena *arena, const struct network *origin);
/* Puts the edit in force; one at a time. False when it cannot be: a limit past the other limit, a
 * clause that is not known before its rule is judged; then nothing is changed. */
bool draft_apply(struct draft *draft, const struct edit *edit);
void draft_undo(struct draft *draft);

/* The premise the edit in force is part of, as it was and as it is: nodes of the network. */
size_t edit_root(const struct network *network, const struct edit *edit);
size_t draft_root(const struct draft *draft);
/* Whether the edit in force makes any difference to what the run, chained without it, came to: its
 * premise or its strength. False too when only names or certainties that count for nothing
 * differ. */
bool draft_touches(const struct draft *draft, struct run *run);

#endif
