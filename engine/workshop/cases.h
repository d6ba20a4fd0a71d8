/* Worked cases run against the knowledge: what each expects, what it got, and whether it holds.
 * Evaluates nothing by itself: a run does, and what it came to is compared. Verdicts live in the
 * arena given and borrow the model. One thread a run. */
#ifndef WM_WORKSHOP_CASES_H
#define WM_WORKSHOP_CASES_H

#include "run/run.h"

enum expected { EXPECTED_LEADING, EXPECTED_DRILL, EXPECTED_BELIEVED, EXPECTED_NOT_BELIEVED };

struct expectation {
  enum expected kind;
  size_t claim;     /* what should lead, be done, be believed or not; NO_INDEX: none should */
  size_t got;       /* leading, drill: what is there instead or the same; NO_INDEX: none */
  double certainty; /* of claim; 0 when there is none */
  bool holds;
};

struct verdict {
  const struct worked_case *worked;
  const struct expectation *expectations;
  size_t n, n_failed; /* expectations */
  /* Where accepted answers are compared, and this one differs: both; accepted NULL: there is none.
   */
  const char *accepted, *answer;
};
/* Whether the case did not come out as expected, or otherwise than accepted. */
bool verdict_fails(const struct verdict *verdict);

/* Forgets what the run held, gives it the evidence of the case and chains it. False: no memory. */
bool case_chain(struct run *run, const struct worked_case *worked);
/* Compares the chained run with what the case expects. Empty when the arena has no memory. */
struct verdict case_verdict(struct arena *arena, const struct run *run,
                            const struct worked_case *worked);
/* Whether all that the case expects holds; takes no memory. */
bool case_holds(const struct run *run, const struct worked_case *worked);
/* "leading", "drill", "believed", "not_believed" */
const char *expected_word(enum expected kind);

#endif
