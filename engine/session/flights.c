/* Only evidence that the window's formulas rest on is worked out, in rounds that read what earlier
 * rounds knew, as run/derive.c does: formulas may invert each other. */
#include "session/flights.h"

#include <math.h>
#include <string.h>

#include "model/formula.h"

/* ---- what is needed ---- */

struct working {
  const struct shots *shots;
  const struct model *model;
  enum hand hand;
  const struct window *window;
  const double *constants;
  double *numbers, *fresh; /* by evidence */
  size_t *needed;          /* evidence that formulas may fill */
  size_t n_needed;
  bool *is_needed;
};

static void need(struct working *working, size_t evidence) {
  if (working->is_needed[evidence]) return;
  working->is_needed[evidence] = true;
  working->needed[working->n_needed++] = evidence;
}

static void need_inputs(struct working *working, const struct formula *formula) {
  for (size_t i = 0; i < formula->n_inputs; i++) need(working, formula->inputs[i]);
}

static void need_sorting(struct working *working, const struct sorting *sorting) {
  for (size_t i = 0; i < sorting->n_of; i++) need_inputs(working, sorting->of[i]);
}

/* The list grows while it is walked. */
static void find_needed(struct working *working) {
  need_sorting(working, &working->window->start);
  need_sorting(working, &working->window->curve);
  need_sorting(working, &working->window->finish);
  for (size_t i = 0; i < working->n_needed; i++) {
    const struct evidence *evidence = &working->model->evidence[working->needed[i]];
    for (size_t k = 0; k < evidence->n_formulas; k++) need_inputs(working, evidence->formulas[k]);
  }
}

/* ---- one shot ---- */

static double club_number(const struct club *club, enum club_field field) {
  switch (field) {
  case CLUB_LOFT: return club->loft;
  case CLUB_LENGTH: return club->length;
  case CLUB_LIE: return club->lie;
  case CLUB_HEAD_MASS: return club->head_mass;
  default: return NAN;
  }
}

static void set_known(struct working *working, size_t shot) {
  const struct shots *shots = working->shots;
  const struct model *model = working->model;
  memcpy(working->numbers, working->constants, model->n_evidence * sizeof(double));
  size_t club = shots->clubs.at[shot];
  for (size_t i = 0; i < working->n_needed && club != NO_INDEX; i++) {
    size_t evidence = working->needed[i];
    if (isnan(working->numbers[evidence]))
      working->numbers[evidence] =
          club_number(&model->clubs[club], model->evidence[evidence].from_club);
  }
  for (size_t i = 0; i < shots->n_columns; i++) {
    const struct evidence *evidence = &model->evidence[shots->columns[i].evidence];
    double reading = shots_reading(shots, i, shot);
    if (evidence->kind != EVIDENCE_NUMBER || isnan(reading)) continue;
    bool mirror = working->hand == HAND_LEFT && evidence->mirrored;
    working->numbers[shots->columns[i].evidence] = mirror ? 0 - reading : reading;
  }
}

/* NaN when an input is not known. */
static double evaluate(const struct working *working, const struct formula *formula) {
  double inputs[FORMULA_INPUTS_MAX];
  for (size_t i = 0; i < formula->n_inputs; i++) {
    inputs[i] = working->numbers[formula->inputs[i]];
    if (isnan(inputs[i])) return NAN;
  }
  double number = formula_value(formula, inputs);
  return isfinite(number) ? number : NAN;
}

static bool fill_round(struct working *working) {
  bool any = false;
  for (size_t i = 0; i < working->n_needed; i++) {
    size_t index = working->needed[i];
    const struct evidence *evidence = &working->model->evidence[index];
    working->fresh[i] = NAN;
    if (!isnan(working->numbers[index])) continue;
    for (size_t k = 0; k < evidence->n_formulas && isnan(working->fresh[i]); k++)
      working->fresh[i] = evaluate(working, evidence->formulas[k]);
    any = any || !isnan(working->fresh[i]);
  }
  for (size_t i = 0; i < working->n_needed; i++)
    if (!isnan(working->fresh[i])) working->numbers[working->needed[i]] = working->fresh[i];
  return any;
}

static double first_known(const struct working *working, const struct sorting *sorting) {
  double number = NAN;
  for (size_t i = 0; i < sorting->n_of && isnan(number); i++)
    number = evaluate(working, sorting->of[i]);
  return number;
}

/* The first choice of start and curve is there: nothing has to be worked out. */
static bool is_given(const struct working *working) {
  const struct window *window = working->window;
  return window->start.n_of > 0 && window->curve.n_of > 0 &&
         !isnan(evaluate(working, window->start.of[0])) &&
         !isnan(evaluate(working, window->curve.of[0]));
}

static struct flight work_out(struct working *working, size_t shot) {
  set_known(working, shot);
  while (!is_given(working) && fill_round(working)) continue;
  return (struct flight){.start = first_known(working, &working->window->start),
                         .curve = first_known(working, &working->window->curve),
                         .finish = first_known(working, &working->window->finish)};
}

/* ---- all shots ---- */

bool flights_make(struct flights *flights, const struct shots *shots, enum hand hand,
                  const struct window *window, double within, const double *constants) {
  size_t n = shots->model->n_evidence, n_shots = shots_count(shots);
  struct working working = {.shots = shots,
                            .model = shots->model,
                            .hand = hand,
                            .window = window,
                            .constants = constants,
                            .numbers = arena_new_array(shots->arena, double, n + 1),
                            .fresh = arena_new_array(shots->arena, double, n + 1),
                            .needed = arena_new_array(shots->arena, size_t, n + 1),
                            .is_needed = arena_new_array(shots->arena, bool, n + 1)};
  struct flight *at = arena_new_array(shots->arena, struct flight, n_shots + 1);
  if (!working.numbers || !working.fresh || !working.needed || !working.is_needed || !at)
    return false;
  find_needed(&working);
  for (size_t i = 0; i < n_shots; i++) at[i] = work_out(&working, i);
  *flights = (struct flights){.window = window,
                              .within = within > 0 ? within : window->finish.within,
                              .at = at,
                              .n = n_shots};
  return true;
}

enum side_class side_class_of(double angle, double within) {
  if (isnan(angle)) return SIDE_UNKNOWN;
  return angle < -within ? SIDE_LEFT : angle > within ? SIDE_RIGHT : SIDE_STRAIGHT;
}

enum side_class flight_finish(const struct flights *flights, size_t shot) {
  return side_class_of(flights->at[shot].finish, flights->within);
}

enum side_class flight_start(const struct flights *flights, size_t shot) {
  return side_class_of(flights->at[shot].start, flights->window->start.within);
}

enum side_class flight_curve(const struct flights *flights, size_t shot) {
  return side_class_of(flights->at[shot].curve, flights->window->curve.within);
}
