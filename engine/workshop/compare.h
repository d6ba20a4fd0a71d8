/* What an edit changes: two knowledge bases on the same cases and on the same drawn impacts.
 * An answer is the leading cause, the drill to do now and the standing of each cause; claims are
 * compared by name. Lives in the arena given and borrows both networks. One thread. */
#ifndef WM_WORKSHOP_COMPARE_H
#define WM_WORKSHOP_COMPARE_H

#include "workshop/cases.h"
#include "workshop/sample.h"
#include "workshop/translate.h"

enum side { OLD_SIDE, NEW_SIDE, SIDES };

/* What an answer came to, by name, so that both sides can be told alike. NULL: none. */
struct outcome {
  const char *leading, *drill;
};

/* How two answers differ; a later one is told only when no earlier is. */
struct differs {
  bool leading, drill, standing, certainty;
};

enum case_change { CASE_SAME, CASE_OTHER_ANSWER, CASE_BETTER, CASE_WORSE };
struct compared_case {
  const struct worked_case *worked; /* the new one where both have it */
  bool on[SIDES];                   /* which bases have it */
  bool passes[SIDES];
  struct outcome outcomes[SIDES];
  struct differs differs;
  enum case_change change;
  bool has_failing;
  struct expectation failing; /* better, worse: the first that does not hold on the other side */
  const char *failing_claim;  /* its claim, or NULL: none was expected */
};

/* Answers that go from one name to another; NULL: none. */
struct move {
  const char *from, *to;
  size_t n;
};
struct standing_moves {
  const char *cause;
  size_t n_higher, n_lower;
};
struct region_changes {
  struct region region;
  size_t n, n_leading, n_drill, n_standing; /* drawn in it, and how many changed */
};

struct comparison {
  const struct network *networks[SIDES];
  const struct compared_case *cases; /* by name */
  size_t n_cases, n_of_change[CASE_WORSE + 1];
  size_t n_samples, n_leading, n_drill, n_standing; /* samples whose answer changed so */
  size_t n_certainty; /* the same answer, but some certainty differs at two decimals */
  uint64_t seed;
  const struct move *leading_moves, *drill_moves; /* the most frequent first */
  size_t n_leading_moves, n_drill_moves;
  const struct standing_moves *standings; /* causes whose standing changed, most often first */
  size_t n_standings;
  struct region_changes regions[REGIONS]; /* the most changed first */
};

/* NULL: no memory. samples 0: cases only. */
struct comparison *compare(struct arena *arena, const struct wm_allocator *allocator,
                           const struct network *old_network, const struct network *new_network,
                           size_t samples, uint64_t seed);
/* Whether any answer or verdict differs; certainties alone do not count. */
bool comparison_differs(const struct comparison *comparison);

#endif
