/* The shape of an answer, kept so that another run can be compared with it: leading cause, drill,
 * red flag, standings, beliefs, certainties. Lives in the arena given; one thread. */
#ifndef WM_WORKSHOP_NOTICE_H
#define WM_WORKSHOP_NOTICE_H

#include "run/run.h"

struct answer_shape {
  size_t n_claims, first_cause, first_drill;
  size_t leading, drill, red_flag;
  enum standing *standings; /* by claim, causes only */
  double *certainties;      /* by claim */
};

/* Room for one shape; NULL: no memory. */
struct answer_shape *shape_new(struct arena *arena, const struct network *network);
/* Takes the shape of a chained run. */
void shape_take(struct answer_shape *shape, const struct run *run);
/* Whether the run has the same leading cause, drill, red flag, standing of each cause and belief of
 * each finding; with certainties also each certainty at two decimals. */
bool shape_matches(const struct answer_shape *shape, const struct run *run, bool certainties);

#endif
