/* Views of the trace of one run: what a belief rests on, what spoke for and against it, what was
 * missing. They filter and order what run/ recorded; no belief is computed here. A view is made in
 * the arena given, holds indices into the model and the network, and is good as long as the run is
 * not chained again. Without memory a view is empty and the arena says so. Several threads may look
 * at the same run, each with its own arena. */
#ifndef WM_EXPLAIN_EXPLAIN_H
#define WM_EXPLAIN_EXPLAIN_H

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

/* ---- what spoke for and against a claim ---- */
struct support {
  size_t contribution; /* of the network */
  size_t rule;
  double strength;
  enum rule_state state;
  double premise; /* when fired or failed */
  double value;   /* premise x strength when fired */
  bool counted;
  size_t overshadowed_by; /* the rule of its group that counted instead, or NO_INDEX */
};
struct supports {
  const struct support
      *list; /* counted by size, then overshadowed, unknown, failed nearest first */
  size_t n;
  size_t n_counted, n_overshadowed, n_unknown, n_failed; /* the lengths of the four parts */
};
struct supports claim_supports(struct arena *arena, const struct run *run, size_t claim);

/* ---- how far a clause is from holding ---- */
struct shortfall {
  size_t test; /* of the network */
  struct judgement judged;
  bool negated;  /* it stands under a `none` */
  double units;  /* numbers: from the value to the limit; > 0 on the wrong side, <= 0 on the right
                    side but unsure */
  double errors; /* the same in standard errors; infinite when the value is exact */
  bool measured; /* units and errors are meant */
};
/* The clauses that keep the rule from firing: false, unsure or not known, those that can be named;
 * nearest first. */
struct shortfalls {
  const struct shortfall *list;
  size_t n;
};
struct shortfalls rule_shortfalls(struct arena *arena, const struct run *run, size_t rule);
/* The same for what a drill needs; empty when it needs nothing. */
struct shortfalls drill_shortfalls(struct arena *arena, const struct run *run, size_t drill);
/* Signed distance of the evidence's (or formula's) value to the limits of a numeric condition, as
 * in struct shortfall. False: not numeric or not known. */
bool condition_distance(const struct run *run, const struct condition *condition, double *units,
                        double *errors);

/* ---- one claim against another ---- */
struct difference { /* one rule that fired, and what it counts for on either side */
  size_t rule;
  double for_a, for_b; /* counted contributions; 0: none */
};
struct telling_check { /* an evidence not known, and the rules it would decide */
  size_t evidence;
  double apart; /* how far apart its open rules could move the two: sum of |strength for a -
                   strength for b| */
  size_t n_rules;
};
struct contrast {
  size_t a, b;
  const struct difference *differences; /* most telling first */
  size_t n_differences;
  const struct telling_check *checks; /* most telling first */
  size_t n_checks;
};
struct contrast contrast_of(struct arena *arena, const struct run *run, size_t a, size_t b);

/* ---- one run against another ---- */
/* Copies the case of `before` into the empty run `after` with the changes: a value given replaces,
 * takes_back removes; then chains it. False: no memory. */
bool change_run(struct run *after, const struct run *before, const struct value *values,
                size_t n_values, const size_t *takes_back, size_t n_takes_back,
                struct diags *diags);
struct change {
  const size_t *readings; /* evidence whose value or state differs, sorted */
  size_t n_readings;
  const size_t *claims; /* findings and causes whose certainty differs by more than 0.005, sorted */
  size_t n_claims;
  const size_t *rules; /* rules whose state differs, sorted */
  size_t n_rules;
  size_t leading_before, leading_after, drill_before, drill_after; /* claims, or NO_INDEX */
};
struct change change_between(struct arena *arena, const struct run *before,
                             const struct run *after);

#endif
