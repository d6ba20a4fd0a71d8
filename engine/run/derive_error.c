/* What a formula makes of the errors of its inputs. The gradient is over independent errors, those
 * of given numbers and the own ones of formulas, so an error shared by two derived numbers is
 * counted as one (first-order propagation with its covariance). */
#include "run/derive.h"

#include <math.h>

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

double derive_direction(double slope, double from, double to) {
  double sign = slope != 0 ? slope : from * to;
  return sign < 0 ? -1 : 1;
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

/* Of the whole standard error: bends up to BEND_MINDED are added by second order, and slopes may be
 * out by SLOPE_MINDED; beyond, points settle it. Both leave an error good to some 2 %. Parts below
 * STRAIGHT are rounding, or as good as. */
static const double BEND_MINDED = 0.12, SLOPE_MINDED = 0.03, STRAIGHT = 1e-3;

/* Half the second derivative along an input, times its variance. */
static double bend_along(const struct run *run, const struct around *around, size_t i) {
  double part = run->readings[around->formula->inputs[i]].error / around->steps[i];
  return (around->above[i] + around->below[i] - 2 * around->middle) / 2 * part * part;
}

/* The odd and the even part of the value with its inputs off by these; not finite beyond its
 * domain.
 */
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

/* What is left of both parts beyond slopes and bends along single inputs, with all inputs off at
 * once: in the directions of the slopes, so that a mirrored case looks at the mirrored places, and
 * by different shares of their errors, so that bends between inputs do not cancel. */
static struct parts twist(const struct run *run, const struct around *around) {
  double off[FORMULA_INPUTS_MAX] = {0}, line = 0, bends = 0;
  size_t n_moved = 0;
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    if (around->steps[i] == 0) continue;
    double slope = slope_along(around, i), share = 1 - 0.15 * (double)(n_moved++ % 3);
    off[i] = share * run->readings[around->formula->inputs[i]].error;
    line += fabs(slope) * off[i];
    bends += bend_along(run, around, i) * share * share;
    off[i] *= derive_direction(slope, around->inputs[i], around->middle);
  }
  if (n_moved < 2) return (struct parts){0, 0};
  struct parts parts = parts_at(around, off);
  return (struct parts){parts.odd - line, parts.even - bends};
}

/* How far the slope is out where the inputs are as they are on average when the value is off by
 * sqrt(3) of its standard errors, as a part of that error. */
static double steepest_misfit(const struct run *run, const struct around *around,
                              const struct derived *derived) {
  double off[FORMULA_INPUTS_MAX] = {0};
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    const double *gradient = run->readings[around->formula->inputs[i]].gradient;
    if (around->steps[i] == 0) continue;
    for (size_t k = 0; k < run->n_roots; k++)
      off[i] += derived->gradient[k] * gradient[k] * run->root_errors[k] * run->root_errors[k];
    off[i] *= sqrt(3) / derived->error;
  }
  return parts_at(around, off).odd / sqrt(3) - derived->error;
}

static bool is_out(double part, double most) {
  return !(fabs(part) <= most); /* also when it is not a number */
}

/* A squared normal error varies by sqrt(2), a product of two by 1 (derived); a twist looks at such
 * products with 0.85 of an error. */
static bool settle_bends(struct run *run, const struct around *around, struct derived *derived) {
  struct parts twisted = twist(run, around);
  double bends = 1.4 * twisted.even * twisted.even, whole = hypot(derived->error, derived->own);
  for (size_t i = 0; i < around->formula->n_inputs; i++)
    if (around->steps[i] > 0) bends += 2 * pow(bend_along(run, around, i), 2);
  if (is_out(sqrt(bends), BEND_MINDED * whole) ||
      (is_out(hypot(twisted.odd, twisted.even), STRAIGHT * whole) && derived->error > 0 &&
       is_out(steepest_misfit(run, around, derived) * derived->error,
              SLOPE_MINDED * whole * whole)))
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
