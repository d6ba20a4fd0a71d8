/* Readings: given values in the right-handed frame, then what follows from clubs and formulas.
 * Every number carries its gradient over the given readings, so that an error shared by two derived
 * numbers is counted as one (first-order propagation with its covariance). Formulas may invert each
 * other: an evidence is filled once, in rounds that read only what earlier rounds knew, so the
 * outcome never depends on order. */
#include <math.h>
#include <string.h>

#include "run/phases.h"

static const struct evidence *evidence_of(const struct run *run, size_t index) {
  return &run->network->model->evidence[index];
}

/* sqrt(error^2 + spread^2 / n) for a tendency of n shots; one shot is diagnosed as that shot. */
static double standard_error(const struct evidence *evidence, const struct value *value) {
  if (value->shots <= 1) return value->error;
  double spread = value->spread > 0 ? value->spread : evidence->spread;
  return hypot(value->error, spread / sqrt((double)value->shots));
}

static unsigned shots_of(const struct run *run, const struct value *value) {
  return value->shots > 1 ? value->shots : run->shots;
}

static void set_given(struct run *run, size_t index) {
  const struct evidence *evidence = evidence_of(run, index);
  struct reading *reading = &run->readings[index];
  struct value value = run->values[index];
  value.shots = shots_of(run, &value);
  if (run->hand == HAND_LEFT) value = value_mirror(run->network->model, value);
  *reading = (struct reading){.state = READING_GIVEN,
                              .number = value.number,
                              .choice = value.choice,
                              .sure = value.sure,
                              .text = value.text,
                              .given = &run->values[index]};
  if (evidence->kind == EVIDENCE_NUMBER) reading->error = standard_error(evidence, &value);
}

static bool set_roots(struct run *run) {
  size_t n = run->network->model->n_evidence, n_roots = 0;
  size_t *roots = arena_new_array(run->arena, size_t, n + 1);
  double *errors = arena_new_array(run->arena, double, n + 1);
  if (roots == NULL || errors == NULL) return false;
  for (size_t i = 0; i < n; i++)
    if (run->is_given[i] && evidence_of(run, i)->kind == EVIDENCE_NUMBER) roots[n_roots++] = i;
  run->n_given_roots = n_roots;
  for (size_t i = 0; i < n; i++)
    if (!run->is_given[i] && evidence_of(run, i)->n_formulas > 0) roots[n_roots++] = i;
  for (size_t k = 0; k < run->n_given_roots; k++) {
    double *gradient = arena_new_array(run->arena, double, n_roots);
    if (gradient == NULL) return false;
    gradient[k] = 1;
    run->readings[roots[k]].gradient = gradient;
    errors[k] = run->readings[roots[k]].error;
  }
  run->roots = roots;
  run->root_errors = errors;
  run->n_roots = n_roots;
  return true;
}

/* ---- from the club ---- */

/* In the unit that the model holds it in. */
static double club_number(const struct club *club, enum club_field field) {
  switch (field) {
  case CLUB_LOFT: return club->loft;
  case CLUB_LENGTH: return club->length;
  case CLUB_LIE: return club->lie;
  case CLUB_HEAD_MASS: return club->head_mass;
  default: return NAN;
  }
}

static void set_from_club(struct run *run, size_t index, const struct club *club) {
  const struct evidence *evidence = evidence_of(run, index);
  struct reading *reading = &run->readings[index];
  if (evidence->from_club == CLUB_NONE || reading->state != READING_UNKNOWN) return;
  if (evidence->kind == EVIDENCE_NUMBER) {
    *reading = (struct reading){.state = READING_DERIVED,
                                .number = golf_unit_convert(club_number(club, evidence->from_club),
                                                            value_club_unit(evidence->from_club),
                                                            evidence->unit),
                                .sure = 1,
                                .choice = NO_INDEX};
    return;
  }
  for (size_t i = 0; i < evidence->n_choices; i++)
    if (strcmp(evidence->choices[i].name, club->family) == 0)
      *reading = (struct reading){.state = READING_DERIVED, .choice = i, .sure = 1};
}

static void set_club(struct run *run) {
  const struct model *model = run->network->model;
  if (model->club_evidence == NO_INDEX ||
      run->readings[model->club_evidence].state == READING_UNKNOWN)
    return;
  const struct club *club = &model->clubs[run->readings[model->club_evidence].choice];
  for (size_t i = 0; i < model->n_evidence; i++) set_from_club(run, i, club);
}

/* ---- formulas ---- */

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

/* A formula around the values of its inputs: its value there, and on both sides along each input.
 */
struct around {
  const struct formula *formula;
  double inputs[FORMULA_INPUTS_MAX];
  double middle, above[FORMULA_INPUTS_MAX], below[FORMULA_INPUTS_MAX];
  double steps[FORMULA_INPUTS_MAX]; /* 0: the input is exact */
};

static double value_moved(struct around *around, size_t i, double by, size_t k, double by_k) {
  double was = around->inputs[i], was_k = around->inputs[k];
  around->inputs[i] += by;
  around->inputs[k] += by_k;
  double value = formula_value(around->formula, around->inputs);
  around->inputs[i] = was;
  around->inputs[k] = was_k;
  return value;
}

static bool look_along(struct around *around, size_t i, double step) {
  around->steps[i] = step;
  around->above[i] = value_moved(around, i, step, i, 0);
  around->below[i] = value_moved(around, i, -step, i, 0);
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

static double error_of_gradient(const struct run *run, const double *gradient) {
  double variance = 0;
  for (size_t k = 0; k < run->n_roots; k++)
    variance += gradient[k] * gradient[k] * run->root_errors[k] * run->root_errors[k];
  return sqrt(variance);
}

static void add_slopes(const struct run *run, const struct around *around, double *gradient) {
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    if (around->steps[i] == 0) continue;
    double slope = (around->above[i] - around->below[i]) / (2 * around->steps[i]);
    const double *of_input = run->readings[around->formula->inputs[i]].gradient;
    for (size_t k = 0; k < run->n_roots; k++) gradient[k] += slope * of_input[k];
  }
}

/* ---- what a bend of the formula adds to its error ---- */

/* Sums are paired so that a mirrored case gives the same bits. */
static double second_derivative(struct around *around, size_t i, size_t k) {
  double step = around->steps[i], step_k = around->steps[k];
  if (i == k) return (around->above[i] + around->below[i] - 2 * around->middle) / (step * step);
  double same = value_moved(around, i, step, k, step_k) + value_moved(around, i, -step, k, -step_k);
  double opposite =
      value_moved(around, i, step, k, -step_k) + value_moved(around, i, -step, k, step_k);
  return (same - opposite) / (4 * step * step_k);
}

static double covariance(const struct run *run, const struct around *around, size_t i, size_t k) {
  const double *a = run->readings[around->formula->inputs[i]].gradient;
  const double *b = run->readings[around->formula->inputs[k]].gradient;
  double sum = 0;
  for (size_t r = 0; r < run->n_roots; r++)
    sum += a[r] * b[r] * run->root_errors[r] * run->root_errors[r];
  return sum;
}

/* The variance of the second-order term of independent normal inputs, 1/2 trace((H C)^2): the whole
 * error where the slope vanishes, as for a loss at its least (derived). */
static double bend_variance(const struct run *run, struct around *around) {
  size_t n = around->formula->n_inputs;
  double hc[FORMULA_INPUTS_MAX][FORMULA_INPUTS_MAX] = {{0}}, trace = 0;
  for (size_t i = 0; i < n; i++)
    for (size_t k = 0; k < n; k++) {
      double h = around->steps[i] > 0 && around->steps[k] > 0 ? second_derivative(around, i, k) : 0;
      for (size_t j = 0; h != 0 && j < n; j++)
        if (around->steps[j] > 0) hc[i][j] += h * covariance(run, around, k, j);
    }
  for (size_t i = 0; i < n; i++)
    for (size_t k = 0; k < n; k++) trace += hc[i][k] * hc[k][i];
  return trace > 0 ? trace / 2 : 0;
}

/* Whether the bends along single inputs matter against the error by slope: seldom, so mixed bends
 * are seldom asked for. */
static bool is_bent(const struct run *run, struct around *around, double error) {
  double variance = 0;
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    if (around->steps[i] == 0) continue;
    double input = run->readings[around->formula->inputs[i]].error;
    double bend = second_derivative(around, i, i) * input * input;
    variance += bend * bend / 2;
  }
  return variance > 1e-3 * error * error;
}

static double own_error(const struct run *run, const struct formula *formula) {
  double inputs[FORMULA_INPUTS_MAX];
  return formula->doubt ? fabs(value_now(run, formula->doubt, inputs)) : formula->error;
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
  derived->error = error_of_gradient(run, derived->gradient);
  derived->own = own_error(run, formula);
  if (is_bent(run, &around, derived->error))
    derived->own = hypot(derived->own, sqrt(bend_variance(run, &around)));
  *known = isfinite(derived->number) && isfinite(derived->error) && isfinite(derived->own);
  return true;
}

/* Makes the formula's own error a root, so that it is counted once in all that follows from it. */
static void add_own_error(struct run *run, size_t index, struct derived *derived) {
  if (derived->own == 0) return;
  size_t k = run->n_given_roots;
  while (run->roots[k] != index) k++;
  run->root_errors[k] = derived->own;
  derived->gradient[k] = 1;
  derived->error = error_of_gradient(run, derived->gradient);
}

/* Fills the evidence from its first formula whose inputs are known; *filled tells. */
static bool fill(struct run *run, size_t index, struct reading *reading, bool *filled) {
  const struct evidence *evidence = evidence_of(run, index);
  *filled = false;
  for (size_t i = 0; i < evidence->n_formulas && !*filled; i++) {
    struct derived derived;
    if (!run_evaluate(run, evidence->formulas[i], &derived, filled)) return false;
    if (*filled) add_own_error(run, index, &derived);
    if (*filled)
      *reading = (struct reading){.state = READING_DERIVED,
                                  .number = derived.number,
                                  .error = derived.error,
                                  .gradient = derived.gradient,
                                  .choice = NO_INDEX,
                                  .sure = 1,
                                  .formula = evidence->formulas[i]};
  }
  return true;
}

/* One round reads only what was known when it began. */
static bool fill_round(struct run *run, struct reading *fresh, size_t *n_filled) {
  size_t n = run->network->model->n_evidence;
  *n_filled = 0;
  memset(fresh, 0, n * sizeof *fresh);
  for (size_t i = 0; i < n; i++) {
    bool filled = false;
    if (run->readings[i].state == READING_UNKNOWN && !fill(run, i, &fresh[i], &filled))
      return false;
    *n_filled += filled;
  }
  for (size_t i = 0; i < n; i++)
    if (fresh[i].state != READING_UNKNOWN) run->readings[i] = fresh[i];
  return true;
}

bool run_derive(struct run *run, struct diags *diags) {
  size_t n = run->network->model->n_evidence, n_filled = 0;
  struct reading *fresh = arena_new_array(run->arena, struct reading, n + 1);
  if (fresh == NULL) return false;
  for (size_t i = 0; i < n; i++)
    if (run->is_given[i]) set_given(run, i);
  if (!set_roots(run)) return false;
  set_club(run);
  do {
    if (!fill_round(run, fresh, &n_filled)) return false;
  } while (n_filled > 0);
  return run_contradict(run, diags);
}
