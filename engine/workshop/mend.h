/* From a wrong answer to a right rule: the smallest single edits of the rules with which a case
 * comes out as it expects, and how many other worked cases each would break. Every edit is checked
 * by running; nothing is written. Results live in the arena given and borrow the network. One
 * thread. */
#ifndef WM_WORKSHOP_MEND_H
#define WM_WORKSHOP_MEND_H

#include "workshop/cases.h"
#include "workshop/draft.h"

struct mend_edit {
  struct edit edit;
  double size;      /* reading errors, steps of strength, clauses: the smaller the better */
  size_t n_touched; /* other cases in which the edited rule comes to something else */
  size_t n_fires;   /* other cases in which the edited rule fires; 0 with another strength */
  size_t n_broken;  /* other cases that come out as expected now, and would not */
  size_t n_mended;  /* other cases that do not now, and would */
};

struct mending {
  struct verdict before;         /* of the case; n_failed 0: there is nothing to mend */
  const struct mend_edit *edits; /* fewest broken first, then the smallest; the best of each kind */
  size_t n;
  size_t n_tried, n_right; /* edits run; edits that set the case right */
  size_t n_others;         /* other cases each was run on */
};

/* The case may be one of the model's or not; others of the same name are not run. NULL: no
 * memory. */
struct mending *mend_case(struct arena *arena, const struct wm_allocator *allocator,
                          const struct network *network, const struct worked_case *worked);

#endif
