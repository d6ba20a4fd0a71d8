/* Whether the worked cases would notice a mistake in the rules: each small mistake (a mutant) is
 * put in, the cases it touches are run until one notices. What no case notices is untested
 * knowledge. Works on the compiled network; nothing is read anew. Results live in the arena given
 * and borrow the network. One thread. */
#ifndef WM_WORKSHOP_MUTATE_H
#define WM_WORKSHOP_MUTATE_H

#include "workshop/draft.h"

/* Thresholds are shifted by one reading error, down and up; conditions are turned into their
 * opposite; clauses are dropped; strengths are halved. Drills' needs count as conditions. */
enum mutation { MUTATION_THRESHOLD, MUTATION_FLIP, MUTATION_DROP, MUTATION_STRENGTH, MUTATIONS };

/* What counts as noticed; each level notices all that the one before does. */
enum notice {
  NOTICE_VERDICT,  /* something a case expects no longer holds */
  NOTICE_ANSWER,   /* leading cause, drill, red flag, a cause's standing or a finding's belief */
  NOTICE_CERTAINTY /* any certainty, at two decimals */
};

struct mutant {
  enum mutation mutation;
  struct edit edit;
  size_t n_touching; /* cases in which its rule or drill came to something else, until noticed */
  size_t noticed_by; /* index into the cases given, or NO_INDEX */
};

struct mutants {
  struct mutant *list; /* by rule, then by drill */
  size_t n;
  size_t of[MUTATIONS], noticed[MUTATIONS];
  size_t n_noticed;
  size_t n_cases, n_left_out; /* cases run; cases that fail as things are */
  size_t n_accepted;          /* of the cases run: those whose accepted answer counts */
};

/* All mutants of the network, none run. Empty without memory. */
struct mutants mutants_list(struct arena *arena, const struct network *network);
/* Runs them all on the cases. accepted, by case: its answer is kept and compared, so that it
 * notices what NOTICE_CERTAINTY does whatever the level; NULL: none is. False: no memory. */
bool mutants_run(struct mutants *mutants, const struct wm_allocator *allocator,
                 const struct network *network, const struct worked_case *const *cases,
                 size_t n_cases, const bool *accepted, enum notice notice);
/* What one reading error is for a numeric condition, in the unit of its evidence; where a reading
 * is exact, one step of its last digit. 0: none can be said. */
double condition_error(const struct network *network, const struct condition *condition);

/* "thresholds shifted", ... */
const char *mutation_words(enum mutation mutation);
/* "verdict", "answer", "certainty" */
const char *notice_word(enum notice notice);

#endif
