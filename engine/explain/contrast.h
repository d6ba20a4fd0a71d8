/* One claim against another, and one run against another.
 * Part of explain.h, whose contract holds: views in the caller's arena, of runs that are only read;
 * change_run alone writes, into the run it is given to fill. */
#ifndef WM_EXPLAIN_CONTRAST_H
#define WM_EXPLAIN_CONTRAST_H

#include "run/run.h"

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
