/* What spoke for and against a claim, and how far a rule that did not fire was from firing.
 * Part of explain.h, whose contract holds: views in the caller's arena, of a run that is only read.
 */
#ifndef WM_EXPLAIN_SUPPORT_H
#define WM_EXPLAIN_SUPPORT_H

#include "run/run.h"

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

#endif
