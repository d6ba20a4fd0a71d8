/* Which evidence would make conditions hold, looked for through the layers.
 * A finding holds through one of the rules that conclude it, so a search chooses rules and narrows
 * what each evidence may be. That no choice is left proves that the conditions never hold together;
 * a choice found is only a candidate, which a run has to confirm, since other rules may speak
 * against it. A solver lives in the arena given and belongs to one thread. */
#ifndef WM_WORKSHOP_CHECK_SOLVE_H
#define WM_WORKSHOP_CHECK_SOLVE_H

#include <stdint.h>

#include "model/value.h"
#include "network/network.h"

#define SOLVE_FORMULAS_MAX 8

/* What an evidence may be. A number lies strictly between low and high: a reading at a threshold
 * says nothing. */
struct domain {
  double low, high;
  uint64_t choices; /* bit by choice; evidence with more than 64 of them is not narrowed */
  bool asked;       /* a condition reads its value */
  bool known, unknown;
  const struct condition *matches; /* text: the pattern it should match, or NULL */
};

struct solve_goal {
  const struct condition *condition;
  bool negated; /* it should not hold: belief below -0.2 */
};

enum solved {
  SOLVED_NEVER,   /* the goals never hold together */
  SOLVED_FOUND,   /* a candidate was taken */
  SOLVED_REFUSED, /* there are candidates, none was taken */
  SOLVED_GAVE_UP  /* too many steps */
};

struct solver;
struct solver *solver_new(struct arena *arena, const struct network *network);
/* Shown each candidate in turn; true takes it and ends the search. */
typedef bool solve_take(struct solver *solver, void *context);
/* take NULL: only whether there is a candidate. */
enum solved solver_search(struct solver *solver, const struct solve_goal *goals, size_t n,
                          solve_take *take, void *context);
/* While a candidate is shown. */
const struct domain *solver_domain(const struct solver *solver, size_t evidence);
/* A club whose fields all that is asked of clubs allows, or NO_INDEX. */
size_t solver_club(const struct solver *solver);
const struct solve_goal *solver_formulas(const struct solver *solver, size_t *n);

#endif
