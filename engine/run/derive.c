/* Readings: given values in the right-handed frame, then what follows from clubs and formulas.
 * Every number carries its gradient over the given readings (derive_error.c). Formulas may invert
 * each other: an evidence is filled once, in rounds that read only what earlier rounds knew, so the
 * outcome never depends on order. */
#include <math.h>
#include <string.h>

#include "run/derive.h"

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

/* Makes the formula's own error a root, so that it is counted once in all that follows from it. */
static void add_own_error(struct run *run, size_t index, struct derived *derived) {
  if (derived->own == 0) return;
  size_t k = run->n_given_roots;
  while (run->roots[k] != index) k++;
  run->root_errors[k] = derived->own;
  derived->gradient[k] = 1;
  derived->error = derive_linear_error(run, derived->gradient);
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
