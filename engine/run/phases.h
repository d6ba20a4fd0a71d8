/* The phases of a run, in order: derive, chain, rank. Internal to run/, and to workshop/, which
 * judges edited premises anew; each returns false when memory ran out. */
#ifndef WM_RUN_PHASES_H
#define WM_RUN_PHASES_H

#include "run/run.h"

/* A formula's value, its gradient over the independent errors and the standard error that follows
 * (first order); own: the error of the formula itself, with what its bend adds (second order). */
struct derived {
  double number, error, own;
  double *gradient;
};

/* Fills run->readings from the given values, then from clubs and formulas until nothing more
 * follows. */
bool run_derive(struct run *run, struct diags *diags);
/* Evaluates a formula whose inputs are all known; *known is false when one is not or the value is
 * not a number. */
bool run_evaluate(struct run *run, const struct formula *formula, struct derived *derived,
                  bool *known);
/* Compares each given number with what its formulas make of the others. */
bool run_contradict(struct run *run, struct diags *diags);
/* Judges all rules layer by layer and adds up the claims. */
bool run_layers(struct run *run, struct diags *diags);
/* Judges one test from the readings and certainties as they are. */
bool run_judge_test(struct run *run, struct diags *diags, size_t index);
/* Judges the premise that starts at the node, recording every clause. */
void run_judge(struct run *run, size_t node);
/* Ranks causes and drills, and the checks that would tell most. */
bool run_rank(struct run *run);
/* The checks alone; causes are ranked already. */
bool run_rank_checks(struct run *run);

#endif
