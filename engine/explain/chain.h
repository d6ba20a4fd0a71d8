/* What a name stands for, and what something rests on: as a chain of steps and as a tree.
 * Part of explain.h, whose contract holds: views in the caller's arena, of a run that is only read.
 */
#ifndef WM_EXPLAIN_CHAIN_H
#define WM_EXPLAIN_CHAIN_H

#include "run/run.h"

/* ---- what a name stands for ---- */
enum subject_kind {
  SUBJECT_EVIDENCE,
  SUBJECT_CLAIM,
  SUBJECT_RULE,
  SUBJECT_CLUB,
  SUBJECT_REFERENCE,
  SUBJECT_CASE
};
struct subject {
  enum subject_kind kind;
  size_t index; /* into the model's array of that kind; claims: findings, causes and drills */
};
/* Looks the name up as evidence (other names too), finding, cause, drill, rule, club, source, case,
 * in this order; "rule:name" and the like ask for one kind. False after a diagnostic at `at` with
 * the nearest name; in_case refuses what has no part in a case. */
bool subject_find(const struct model *model, struct diags *diags, struct span at, const char *name,
                  bool in_case, struct subject *subject);
/* "evidence", "finding", "cause", "drill", "rule", "club", "source", "case". */
const char *subject_kind_word(const struct model *model, struct subject subject);
const char *subject_name(const struct model *model, struct subject subject);
struct span subject_span(const struct model *model, struct subject subject);

/* ---- the chain of steps ---- */
enum step_kind { STEP_GIVEN, STEP_DERIVED, STEP_RULE, STEP_CLAIM, STEP_DRILL };
struct step {
  enum step_kind kind;
  size_t index; /* evidence; rule; claim; place in run->drills for STEP_DRILL */
};
struct chain {
  const struct step *steps; /* a step comes after all the steps it rests on */
  size_t n;
  size_t n_left_out; /* steps of the run that are not in this chain */
};
/* The chain behind the answer: the leading cause (where none leads, the best-ranked; where none has
 * anything for it, the believed findings), the drill to do now, the red flag. With `all` every
 * reading, every rule and every claim that has a certainty. */
struct chain chain_of_answer(struct arena *arena, const struct run *run, bool all);
/* The chain behind one evidence, claim or rule. */
struct chain chain_of_subject(struct arena *arena, const struct run *run, struct subject subject);
/* Whether a clause has a part in what the join it stands in came to: node indices of the network.
 */
bool clause_decides(const struct run *run, size_t joined, size_t clause);
/* The place (from 0) of the step, or NO_INDEX. */
size_t chain_find(const struct chain *chain, enum step_kind kind, size_t index);
/* The given readings a chain ends in, as evidence indices, sorted; *n gets their count. */
const size_t *chain_readings(struct arena *arena, const struct chain *chain, size_t *n);

/* The same as a tree, downwards from the subject to the readings; only what counted. */
struct branch {
  struct step step;
  unsigned depth; /* 0 for the subject */
  bool repeated;  /* stands further up already; its own branches are not listed again */
};
struct tree {
  const struct branch *branches;
  size_t n;
};
struct tree tree_of_subject(struct arena *arena, const struct run *run, struct subject subject);

#endif
