/* Readings: given values in the right-handed frame, then what follows from clubs and formulas.
 * Every number carries its gradient over the given readings, so that an error shared by two derived numbers is counted as one
 * (first-order propagation with its covariance). Formulas may invert each other: an evidence is filled once, in rounds that read only what
 * earlier rounds knew, so the outcome never depends on order. */
#include <math.h>
#include <string.h>

#include "run/phases.h"

static const struct evidence *evidence_of(const struct run *run, size_t index)
{
  return &run->network->model->evidence[index];
}

/* sqrt(error^2 + spread^2 / n) for a tendency of n shots; one shot is diagnosed as that shot. */
static double standard_error(const struct evidence *evidence, const struct value *value)
{
  if (value->shots <= 1)
    return value->error;
  return hypot(value->error, evidence->spread / sqrt((double)value->shots));
}

static unsigned shots_of(const struct run *run, const struct value *value)
{
  return value->shots > 1 ? value->shots : run->shots;
}

static void set_given(struct run *run, size_t index)
{
  const struct evidence *evidence = evidence_of(run, index);
  struct reading *reading = &run->readings[index];
  struct value value = run->values[index];
  value.shots = shots_of(run, &value);
  if (run->hand == HAND_LEFT)
    value = value_mirror(run->network->model, value);
  *reading = (struct reading){.state = READING_GIVEN,
                              .number = value.number,
                              .choice = value.choice,
                              .sure = value.sure,
                              .text = value.text,
                              .given = &run->values[index]};
  if (evidence->kind == EVIDENCE_NUMBER)
    reading->error = standard_error(evidence, &value);
}

static bool has_own_error(const struct evidence *evidence)
{
  for (size_t i = 0; i < evidence->n_formulas; i++)
    if (evidence->formulas[i]->error > 0)
      return true;
  return false;
}

static bool set_roots(struct run *run)
{
  size_t n = run->network->model->n_evidence, n_roots = 0;
  size_t *roots = arena_new_array(run->arena, size_t, n + 1);
  double *errors = arena_new_array(run->arena, double, n + 1);
  if (roots == NULL || errors == NULL)
    return false;
  for (size_t i = 0; i < n; i++)
    if (run->is_given[i] && evidence_of(run, i)->kind == EVIDENCE_NUMBER)
      roots[n_roots++] = i;
  run->n_given_roots = n_roots;
  for (size_t i = 0; i < n; i++)
    if (!run->is_given[i] && has_own_error(evidence_of(run, i)))
      roots[n_roots++] = i;
  for (size_t k = 0; k < run->n_given_roots; k++) {
    double *gradient = arena_new_array(run->arena, double, n_roots);
    if (gradient == NULL)
      return false;
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

static double club_number(const struct club *club, enum club_field field)
{
  switch (field) {
  case CLUB_LOFT:
    return club->loft;
  case CLUB_LENGTH:
    return club->length;
  case CLUB_LIE:
    return club->lie;
  case CLUB_HEAD_MASS:
    return club->head_mass;
  default:
    return NAN;
  }
}

static void set_from_club(struct run *run, size_t index, const struct club *club)
{
  const struct evidence *evidence = evidence_of(run, index);
  struct reading *reading = &run->readings[index];
  if (evidence->from_club == CLUB_NONE || reading->state != READING_UNKNOWN)
    return;
  if (evidence->kind == EVIDENCE_NUMBER) {
    *reading = (struct reading){.state = READING_DERIVED,
                                .number = club_number(club, evidence->from_club),
                                .sure = 1,
                                .choice = NO_INDEX};
    return;
  }
  for (size_t i = 0; i < evidence->n_choices; i++)
    if (strcmp(evidence->choices[i].name, club->family) == 0)
      *reading = (struct reading){.state = READING_DERIVED, .choice = i, .sure = 1};
}

static void set_club(struct run *run)
{
  const struct model *model = run->network->model;
  if (model->club_evidence == NO_INDEX ||
      run->readings[model->club_evidence].state == READING_UNKNOWN)
    return;
  const struct club *club = &model->clubs[run->readings[model->club_evidence].choice];
  for (size_t i = 0; i < model->n_evidence; i++)
    set_from_club(run, i, club);
}

/* ---- formulas ---- */

static bool inputs_known(const struct run *run, const struct formula *formula)
{
  for (size_t i = 0; i < formula->n_inputs; i++)
    if (run->readings[formula->inputs[i]].state == READING_UNKNOWN)
      return false;
  return true;
}

/* Central difference over a step that is small against the input's error but large against rounding. */
static double slope(const struct formula *formula, double *inputs, size_t i, double error)
{
  double middle = inputs[i], step = fmax(0.05 * error, 1e-6 * fmax(1, fabs(middle)));
  inputs[i] = middle + step;
  double above = formula_value(formula, inputs);
  inputs[i] = middle - step;
  double below = formula_value(formula, inputs);
  inputs[i] = middle;
  return (above - below) / (2 * step);
}

static double error_of_gradient(const struct run *run, const double *gradient)
{
  double variance = 0;
  for (size_t k = 0; k < run->n_roots; k++)
    variance += gradient[k] * gradient[k] * run->root_errors[k] * run->root_errors[k];
  return sqrt(variance);
}

bool run_evaluate(struct run *run, const struct formula *formula, struct derived *derived,
                  bool *known)
{
  double inputs[FORMULA_INPUTS_MAX];
  *known = false;
  if (!inputs_known(run, formula))
    return true;
  for (size_t i = 0; i < formula->n_inputs; i++)
    inputs[i] = run->readings[formula->inputs[i]].number;
  *derived = (struct derived){.number = formula_value(formula, inputs)};
  derived->gradient = arena_new_array(run->arena, double, run->n_roots);
  if (derived->gradient == NULL)
    return false;
  for (size_t i = 0; i < formula->n_inputs; i++) {
    const struct reading *input = &run->readings[formula->inputs[i]];
    if (input->gradient == NULL || input->error == 0)
      continue;
    double by_input = slope(formula, inputs, i, input->error);
    for (size_t k = 0; k < run->n_roots; k++)
      derived->gradient[k] += by_input * input->gradient[k];
  }
  derived->error = error_of_gradient(run, derived->gradient);
  *known = isfinite(derived->number) && isfinite(derived->error);
  return true;
}

static void add_own_error(struct run *run, size_t index, const struct formula *formula,
                          struct derived *derived)
{
  if (formula->error == 0)
    return;
  size_t k = run->n_given_roots;
  while (run->roots[k] != index)
    k++;
  run->root_errors[k] = formula->error;
  derived->gradient[k] = 1;
  derived->error = error_of_gradient(run, derived->gradient);
}

/* Fills the evidence from its first formula whose inputs are known; *filled tells. */
static bool fill(struct run *run, size_t index, struct reading *reading, bool *filled)
{
  const struct evidence *evidence = evidence_of(run, index);
  *filled = false;
  for (size_t i = 0; i < evidence->n_formulas && !*filled; i++) {
    struct derived derived;
    if (!run_evaluate(run, evidence->formulas[i], &derived, filled))
      return false;
    if (*filled)
      add_own_error(run, index, evidence->formulas[i], &derived);
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
static bool fill_round(struct run *run, struct reading *fresh, size_t *n_filled)
{
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
    if (fresh[i].state != READING_UNKNOWN)
      run->readings[i] = fresh[i];
  return true;
}

/* ---- contradictions ---- */

/* Tolerance of three standard errors of the difference; its gradient is the difference of both gradients. */
static bool contradicts(struct run *run, size_t index, const struct formula *formula,
                        struct contradiction *found, bool *is)
{
  struct derived derived;
  bool known;
  *is = false;
  if (!run_evaluate(run, formula, &derived, &known))
    return false;
  if (!known)
    return true;
  const struct reading *reading = &run->readings[index];
  for (size_t k = 0; k < run->n_roots; k++)
    derived.gradient[k] -= reading->gradient ? reading->gradient[k] : 0;
  double error = hypot(error_of_gradient(run, derived.gradient), formula->error);
  *found = (struct contradiction){index, formula, reading->number, derived.number, error};
  double rounding = 1e-9 * (1 + fabs(reading->number));
  *is = fabs(derived.number - reading->number) > 3 * error + rounding;
  return true;
}

static bool from_given_alone(const struct run *run, const struct formula *formula)
{
  for (size_t i = 0; i < formula->n_inputs; i++) {
    const struct reading *input = &run->readings[formula->inputs[i]];
    if (input->state != READING_GIVEN && input->gradient != NULL)
      return false;
  }
  return true;
}

static const char *number_words(struct run *run, size_t index, double number, double error)
{
  const struct evidence *evidence = evidence_of(run, index);
  struct text text;
  text_init(&text, run->arena);
  text_fixed(&text, run->hand == HAND_LEFT && evidence->mirrored ? -number : number,
             evidence->decimals);
  if (error >= 0) {
    text_add(&text, " +/- ");
    text_fixed(&text, error, evidence->decimals);
  }
  const char *done = text_done(&text);
  return done ? done : "";
}

static void report_contradiction(struct run *run, struct diags *diags,
                                 const struct contradiction *found)
{
  if (diags == NULL)
    return;
  const struct reading *reading = &run->readings[found->evidence];
  DIAG(diags, CONTRADICTION, reading->given->at, evidence_of(run, found->evidence)->name,
       number_words(run, found->evidence, found->given, -1), found->formula->text,
       number_words(run, found->evidence, found->computed, found->error));
}

/* Whether the same given values were told to contradict each other already: the inverse formulas would repeat it. */
static bool is_told(const struct contradiction *list, size_t n, const struct contradiction *found)
{
  for (size_t i = 0; i < n; i++) {
    const struct formula *told = list[i].formula;
    for (size_t k = 0; k < told->n_inputs; k++)
      if (told->inputs[k] == found->evidence)
        return true;
  }
  return false;
}

static bool find_contradictions(struct run *run, struct diags *diags)
{
  const struct model *model = run->network->model;
  struct contradiction *list = arena_new_array(run->arena, struct contradiction, run->n_roots + 1);
  size_t n = 0;
  if (list == NULL)
    return false;
  for (size_t k = 0; k < run->n_given_roots; k++) {
    const struct evidence *evidence = &model->evidence[run->roots[k]];
    for (size_t i = 0; i < evidence->n_formulas; i++) {
      struct contradiction found;
      bool is = false;
      if (!from_given_alone(run, evidence->formulas[i]))
        continue;
      if (!contradicts(run, run->roots[k], evidence->formulas[i], &found, &is))
        return false;
      if (!is || is_told(list, n, &found))
        continue;
      list[n++] = found;
      report_contradiction(run, diags, &found);
      break;
    }
  }
  run->contradictions = list;
  run->n_contradictions = n;
  return true;
}

bool run_derive(struct run *run, struct diags *diags)
{
  size_t n = run->network->model->n_evidence, n_filled = 0;
  struct reading *fresh = arena_new_array(run->arena, struct reading, n + 1);
  if (fresh == NULL)
    return false;
  for (size_t i = 0; i < n; i++)
    if (run->is_given[i])
      set_given(run, i);
  if (!set_roots(run))
    return false;
  set_club(run);
  do {
    if (!fill_round(run, fresh, &n_filled))
      return false;
  } while (n_filled > 0);
  return find_contradictions(run, diags);
}
