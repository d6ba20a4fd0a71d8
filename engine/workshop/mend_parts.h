/* What the search for edits and the listing of candidates share. Internal to mend*.c. */
#ifndef WM_WORKSHOP_MEND_PARTS_H
#define WM_WORKSHOP_MEND_PARTS_H

#include "workshop/mend.h"

struct mender {
  struct arena *arena; /* of the results */
  struct arena *scratch;
  const struct network *network;
  const struct worked_case *worked;
  struct draft *draft;
  struct run *before, *after; /* the case as it is; with an edit */
  bool *of_claim, *of_rule;   /* what the answer of the case hangs on */
  ARRAY(struct mend_edit) right;
  size_t n_tried;
  bool no_memory;
};

/* Tries the edit on the case; true when it sets it right, and then it is kept. */
bool mend_try(struct mender *mender, const struct edit *edit, double size);
/* Offers all candidates but new rules, each kind from the smallest up. */
void mend_list_edits(struct mender *mender);
/* Offers new rules for what should be concluded and against what should not. */
void mend_list_rules(struct mender *mender);
/* Marks the claims the expectations and the present answer hang on, and the rules below them. */
void mend_mark(struct mender *mender);
/* Conditions of the case that a new clause could be: on given evidence or on findings, and known.
 */
bool mend_is_clause(const struct mender *mender, size_t test);

/* The strengths that have a word: 0.2, 0.4, 0.6, 0.8, 0.95. */
#define MEND_STRENGTHS 5
extern const double mend_strengths[MEND_STRENGTHS];

#endif
