/* What a formula makes of the errors of its inputs. The gradient is over independent errors, those of
 * given numbers and the own ones of formulas, so an error shared by two derived numbers is counted as
 * one (first-order propagation with its covariance). */
#include <math.h>

#include "run/derive.h"
#include "run/derive_table2.h"

static bool inputs_known(const struct run *run, const struct formula *formula) {
  for (size_t i = 0; i < formula->n_inputs; i++)
    if (run->readings[formula->inputs[i]].state == READING_UNKNOWN) return false;
  return formula->doubt == NULL || inputs_known(run, formula->doubt);
}

static double value_now(const struct run *run, const struct formula *formula, double *inputs) {
  for (size_t i = 0; i < formula->n_inputs; i++)
    inputs[i] = run->readings[formula->inputs[i]].number;
  return formula_value(formula, inputs);
}

double derive_stated_error(const struct run *run, const struct formula *formula) {
  double inputs[FORMULA_INPUTS_MAX];
  return formula->doubt ? fabs(value_now(run, formula->doubt, inputs)) : formula->error;
}

double derive_linear_error(const struct run *run, const double *gradient) {
  double variance = 0;
  for (size_t k = 0; k < run->n_roots; k++)
    variance += gradient[k] * gradient[k] * run->root_errors[k] * run->root_errors[k];
  return sqrt(variance);
}

/* ---- along each input ---- */

static bool look_along(struct around *around, size_t i, double step) {
  double was = around->inputs[i];
  around->steps[i] = step;
  around->inputs[i] = was + step;
  around->above[i] = formula_value(around->formula, around->inputs);
  around->inputs[i] = was - step;
  around->below[i] = formula_value(around->formula, around->inputs);
  around->inputs[i] = was;
  return isfinite(around->above[i]) && isfinite(around->below[i]);
}

/* At the very edge of a domain the outer side is the straight line through the middle and the inner
 * one. */
static void look_inward(struct around *around, size_t i) {
  if (!isfinite(around->above[i])) around->above[i] = 2 * around->middle - around->below[i];
  else around->below[i] = 2 * around->middle - around->above[i];
}

/* Over a step of sqrt(3) standard errors a difference quotient is the slope a normal error meets on
 * average, exactly so for a cubic (derived). Where such a step leaves a function's domain, a small
 * one serves. */
static void look_around(const struct run *run, struct around *around) {
  around->middle = value_now(run, around->formula, around->inputs);
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    const struct reading *input = &run->readings[around->formula->inputs[i]];
    double least = 1e-6 * fmax(1, fabs(input->number));
    if (input->gradient == NULL || input->error == 0) continue;
    if (!look_along(around, i, fmax(sqrt(3) * input->error, least)) &&
        !look_along(around, i, fmax(0.05 * input->error, least)))
      look_inward(around, i);
  }
}

static double slope_along(const struct around *around, size_t i) {
  return (around->above[i] - around->below[i]) / (2 * around->steps[i]);
}

static void add_slopes(const struct run *run, const struct around *around, double *gradient) {
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    if (around->steps[i] == 0) continue;
    double slope = slope_along(around, i);
    const double *of_input = run->readings[around->formula->inputs[i]].gradient;
    for (size_t k = 0; k < run->n_roots; k++) gradient[k] += slope * of_input[k];
  }
}

/* ---- whether it bends ---- */

/* Half the second derivative along an input, times its variance. */
static double bend_along(const struct run *run, const struct around *around, size_t i) {
  double part = run->readings[around->formula->inputs[i]].error / around->steps[i];
  return (around->above[i] + around->below[i] - 2 * around->middle) / 2 * part * part;
}

/* The odd and the even part of the value with its inputs off by these. */
struct parts {
  double odd, even;
};

static struct parts parts_at(const struct around *around, const double *off) {
  double up[FORMULA_INPUTS_MAX], down[FORMULA_INPUTS_MAX];
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    up[i] = around->inputs[i] + off[i];
    down[i] = around->inputs[i] - off[i];
  }
  double above = formula_value(around->formula, up), below = formula_value(around->formula, down);
  return (struct parts){(above - below) / 2, (above + below) / 2 - around->middle};
}

/* The inputs as they are on average where the value is off by sqrt(3) of its standard errors: how
 * far the slope there differs from the one along single inputs, and how much it bends, as parts of
 * the standard error. */
static double steepest_misfit(const struct run *run, const struct around *around,
                              const struct derived *derived) {
  double off[FORMULA_INPUTS_MAX] = {0};
  if (derived->error == 0) return 0;
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    const double *gradient = run->readings[around->formula->inputs[i]].gradient;
    if (around->steps[i] == 0) continue;
    for (size_t k = 0; k < run->n_roots; k++)
      off[i] += derived->gradient[k] * gradient[k] * run->root_errors[k] * run->root_errors[k];
    off[i] *= sqrt(3) / derived->error;
  }
  struct parts parts = parts_at(around, off);
  double whole = hypot(derived->error, derived->own);
  if (!isfinite(parts.odd) || !isfinite(parts.even)) return 1;
  return fmax(fabs(parts.odd / sqrt(3) - derived->error)*derived->error / (whole*whole) , fabs(parts.even) / 3 * sqrt(2) / whole * ODD/EVEN);
}

/* A bend that shows only between inputs: all are off at once, in the directions of the slopes, so
 * that a mirrored case looks at the mirrored places, and by different shares of their errors, so
 * that such bends do not cancel. */
static double twist(const struct run *run, const struct around *around) {
  double off[FORMULA_INPUTS_MAX] = {0}, bends = 0;
  size_t n_moved = 0;
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    if (around->steps[i] == 0) continue;
    double share = 1 - 0.25 * (double)(n_moved++ % 3);
    double error = run->readings[around->formula->inputs[i]].error;
    off[i] = around->above[i] < around->below[i] ? -share * error : share * error;
    bends += bend_along(run, around, i) * share * share;
  }
  struct parts parts = n_moved > 1 ? parts_at(around, off) : (struct parts){0};
  return n_moved > 1 && isfinite(parts.even) ? parts.even - bends : 0;
}

static bool settle_bends(struct run *run, const struct around *around, struct derived *derived) {
  double bends = 0, whole = derived->error * derived->error + derived->own * derived->own;
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    if (around->steps[i] == 0) continue;
    double bend = bend_along(run, around, i);
    bends += 2 * bend * bend;
  }
  double t = twist(run, around);
  if (bends + t*t > EVEN*EVEN * whole || steepest_misfit(run, around, derived) > ODD)
    return derive_from_points(run, around, derived);
  derived->own = hypot(derived->own, sqrt(bends));
  return true;
}

bool run_evaluate(struct run *run, const struct formula *formula, struct derived *derived,
                  bool *known) {
  struct around around = {.formula = formula};
  *known = false;
  if (!inputs_known(run, formula)) return true;
  look_around(run, &around);
  *derived = (struct derived){.number = around.middle,
                              .gradient = arena_new_array(run->arena, double, run->n_roots)};
  if (derived->gradient == NULL) return false;
  add_slopes(run, &around, derived->gradient);
  derived->error = derive_linear_error(run, derived->gradient);
  derived->own = derive_stated_error(run, formula);
  if (isfinite(derived->number) && !settle_bends(run, &around, derived)) return false;
  *known = isfinite(derived->number) && isfinite(derived->error) && isfinite(derived->own);
  return true;
}
