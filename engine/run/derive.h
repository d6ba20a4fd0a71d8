/* Propagation of errors through one formula: first order over the independent errors
 * (derive_error.c), and where the formula bends, its value at points spread over those errors
 * (derive_points.c). Internal to the derivation: it knows formulas and readings, no rounds and no
 * rules. All memory is the run's arena; one thread a run. */
#ifndef WM_RUN_DERIVE_H
#define WM_RUN_DERIVE_H

#include "model/formula.h"
#include "run/phases.h"

/* A formula around the values of its inputs: its value there, and on both sides along each input.
 */
struct around {
  const struct formula *formula;
  double inputs[FORMULA_INPUTS_MAX];
  double middle, above[FORMULA_INPUTS_MAX], below[FORMULA_INPUTS_MAX];
  double steps[FORMULA_INPUTS_MAX]; /* 0: the input is exact */
};

/* The standard error that a gradient over the roots makes. */
double derive_linear_error(const struct run *run, const double *gradient);

/* The formula's own error as the vocabulary states it, in the unit of what it fills; >= 0. */
double derive_stated_error(const struct run *run, const struct formula *formula);

/* The way to move a number so that the value rises, 1 or -1. Without a slope the signs of both
 * decide, so that a mirrored case moves to mirrored places also then. */
double derive_direction(double slope, double from, double to);

/* Corrects what first order made of a formula (gradient and error in *derived): the gradient is
 * scaled to the slope that its errors meet on average, and own takes up what no slope explains,
 * beside the stated error it holds. Leaves *derived as it is where too few points have a value.
 * Returns false when memory ran out. */
bool derive_from_points(struct run *run, const struct around *around, struct derived *derived);

#endif
