/* What a bent formula spreads: it is worked out at points spread over all independent errors at
 * once, and its variance is taken over them. Inputs that bend themselves are worked out anew at
 * each point, straight ones follow their gradient; so bends along the way, bends that inputs share,
 * and bends that no parabola follows are all in it.
 *
 * The points are a lattice of rank 1: in point j of N, a prime, the root in column c is off by the
 * normal score of (j m mod N) / N, with the column's multiplier m. Point 0, the middle, is known;
 * points j and N - j are opposite, which parts odd from even. The points are fixed: equal input
 * gives equal output bits.
 */
#include "run/derive.h"

#include <math.h>
#include <stdlib.h>

enum { LATTICE = 61, PAIRS = (LATTICE - 1) / 2, POINTS = 2 * PAIRS };

/* Normal scores of 1/2 + r / LATTICE for r = 1 to PAIRS, stretched, the last one most, so that over
 * the lattice they have the variance 1 and the fourth moment 3 of a normal error (derived). */
static const double scores[PAIRS] = {0.040825, 0.081719, 0.122753, 0.163997, 0.205526, 0.247417,
                                     0.289753, 0.332623, 0.376122, 0.420355, 0.465438, 0.511502,
                                     0.558693, 0.607181, 0.657162, 0.708865, 0.762565, 0.818594,
                                     0.877357, 0.939364, 1.005268, 1.075925, 1.152493, 1.236604,
                                     1.330662, 1.438452, 1.566485, 1.727590, 1.953687, 2.591437};

/* One a column, chosen one after the other so that products of two, three and four columns come as
 * near as can be to those of independent normal errors, the first columns most. */
static const unsigned char multipliers[PAIRS] = {1,  28, 25, 16, 6,  10, 24, 22, 21, 29,
                                                 15, 19, 9,  4,  8,  7,  17, 27, 26, 13,
                                                 18, 14, 23, 2,  30, 5,  20, 12, 3,  11};

/* A reading is bent when this much of its variance is not its gradient's and not stated. */
static const double BENT = 0.004;

struct root_in_points {
  size_t column;    /* NO_INDEX: not met yet */
  double direction; /* derive_direction: a mirrored case has the mirrored points */
  double error;
};

struct points {
  struct run *run;
  struct root_in_points *roots; /* n_roots entries, and one spare */
  double **values;              /* of each evidence at all points; NULL: not asked for yet */
  size_t n_columns;
};

static double score(size_t column, size_t pair) {
  size_t rest = (pair + 1) * (size_t)multipliers[column] % LATTICE;
  return rest <= PAIRS ? scores[rest - 1] : -scores[LATTICE - rest - 1];
}

static size_t root_of(const struct run *run, size_t evidence) {
  size_t k = 0;
  while (run->roots[k] != evidence) k++;
  return k;
}

/* ---- columns: the roots that move the value most get the first, where the lattice is best ---- */

struct moved {
  size_t root;
  double by;
};

static int by_size(const void *left, const void *right) {
  const struct moved *a = left, *b = right;
  if (a->by != b->by) return a->by > b->by ? -1 : 1;
  return a->root < b->root ? -1 : 1;
}

static void set_column(struct points *points, size_t k) {
  struct run *run = points->run;
  if (points->roots[k].column != NO_INDEX) return;
  points->roots[k].column = points->n_columns++;
  points->roots[k].error = run->root_errors[k];
  if (k >= run->n_given_roots)
    points->roots[k].error = derive_stated_error(run, run->readings[run->roots[k]].formula);
}

/* How far a root moves the value along the inputs, the larger side. */
static double moved_by(const struct run *run, const struct around *around, size_t k) {
  double by = 0;
  for (size_t i = 0; i < around->formula->n_inputs; i++) {
    if (around->steps[i] == 0) continue;
    double side =
        fmax(fabs(around->above[i] - around->middle), fabs(around->below[i] - around->middle)) /
        around->steps[i];
    by += side * fabs(run->readings[around->formula->inputs[i]].gradient[k]) * run->root_errors[k];
  }
  return by;
}

static bool set_columns(struct points *points, const struct around *around,
                        const double *gradient) {
  struct run *run = points->run;
  struct moved *moved = arena_new_array(run->arena, struct moved, run->n_roots + 1);
  size_t n = 0;
  if (moved == NULL) return false;
  for (size_t k = 0; k < run->n_roots; k++) {
    double from = run->readings[run->roots[k]].number;
    points->roots[k].column = NO_INDEX;
    points->roots[k].direction = derive_direction(gradient[k], from, around->middle);
    moved[n] = (struct moved){k, moved_by(run, around, k)};
    n += moved[n].by > 0;
  }
  qsort(moved, n, sizeof *moved, by_size);
  for (size_t i = 0; i < n; i++) set_column(points, moved[i].root);
  return true;
}

/* ---- values at the points ---- */

static void add_root(struct points *points, size_t k, double slope, double *values) {
  if (points->run->root_errors[k] == 0) return;
  set_column(points, k);
  const struct root_in_points *root = &points->roots[k];
  double by = slope * root->direction * root->error;
  if (by == 0 || root->column >= PAIRS) return; /* too many: see derive_from_points */
  for (size_t j = 0; j < PAIRS; j++) {
    double off = by * score(root->column, j);
    values[2 * j] += off;
    values[2 * j + 1] -= off;
  }
}

static const double *values_of(struct points *points, size_t evidence);

static double *formula_values(struct points *points, const struct formula *formula) {
  const double *inputs[FORMULA_INPUTS_MAX];
  double *values = arena_new_array(points->run->arena, double, POINTS);
  for (size_t i = 0; i < formula->n_inputs; i++)
    if ((inputs[i] = values_of(points, formula->inputs[i])) == NULL) return NULL;
  for (size_t p = 0; values && p < POINTS; p++) {
    double at[FORMULA_INPUTS_MAX];
    for (size_t i = 0; i < formula->n_inputs; i++) at[i] = inputs[i][p];
    values[p] = formula_value(formula, at);
  }
  return values;
}

static double *linear_values(struct points *points, const struct reading *reading) {
  double *values = arena_new_array(points->run->arena, double, POINTS);
  for (size_t p = 0; values && p < POINTS; p++) values[p] = reading->number;
  for (size_t k = 0; values && reading->gradient && k < points->run->n_roots; k++)
    if (reading->gradient[k] != 0) add_root(points, k, reading->gradient[k], values);
  return values;
}

/* Whether the bends on the way to a reading matter in it: what its own error holds beyond the
 * stated one. */
static bool is_bent(struct points *points, const struct reading *reading, size_t root) {
  if (reading->formula == NULL || reading->gradient == NULL) return false;
  double own = points->run->root_errors[root];
  double stated = own > 0 ? derive_stated_error(points->run, reading->formula) : 0;
  return own * own - stated * stated > BENT * reading->error * reading->error;
}

/* As deep as bent formulas stand on bent formulas: each rests on readings of earlier rounds. */
static const double *values_of(struct points *points, size_t evidence) {
  const struct reading *reading = &points->run->readings[evidence];
  if (points->values[evidence]) return points->values[evidence];
  size_t root = reading->gradient ? root_of(points->run, evidence) : NO_INDEX;
  double *values;
  if (is_bent(points, reading, root)) {
    values = formula_values(points, reading->formula);
    if (values) add_root(points, root, 1, values);
  } else {
    values = linear_values(points, reading);
  }
  return points->values[evidence] = values;
}

/* ---- the variance over the points ---- */

struct sums {
  double line, line_odd, odd, even, even_squared;
  size_t n;
};

/* What first order makes of the upper point of a pair. */
static double line_at(const struct points *points, const double *gradient, size_t pair) {
  double sum = 0;
  for (size_t k = 0; k < points->run->n_roots; k++) {
    double part = fabs(gradient[k]) * points->roots[k].error;
    if (part > 0) sum += part * score(points->roots[k].column, pair);
  }
  return sum;
}

static struct sums sum_up(const struct points *points, const double *gradient, const double *values,
                          double middle) {
  struct sums sums = {0};
  for (size_t j = 0; j < PAIRS; j++) {
    double odd = (values[2 * j] - values[2 * j + 1]) / 2;
    double even = (values[2 * j] + values[2 * j + 1]) / 2 - middle;
    double line = line_at(points, gradient, j);
    if (!isfinite(odd) || !isfinite(even)) continue;
    sums.line += line * line;
    sums.line_odd += line * odd;
    sums.odd += odd * odd;
    sums.even += even;
    sums.even_squared += even * even;
    sums.n++;
  }
  return sums;
}

/* The odd part is the line scaled, whose variance is known exactly, and a rest. */
static void correct(const struct points *points, const struct sums *sums, struct derived *derived) {
  const struct run *run = points->run;
  double n = 2 * (double)sums->n + 1, scale = sums->line > 0 ? sums->line_odd / sums->line : 0;
  double line = 0, mean = 2 * sums->even / n;
  for (size_t k = 0; k < run->n_roots; k++) {
    double part = derived->gradient[k] * points->roots[k].error;
    line += part * part;
  }
  double rest =
      2 * (sums->odd - scale * sums->line_odd) / n + 2 * sums->even_squared / n - mean * mean;
  double whole = scale * scale * line + fmax(0, rest);
  double first = scale * scale * derived->error * derived->error;
  if (first > whole) scale *= sqrt(whole / first);
  for (size_t k = 0; k < run->n_roots; k++) derived->gradient[k] *= scale;
  derived->error *= fabs(scale);
  derived->own = hypot(derived->own, sqrt(fmax(0, whole - first)));
}

bool derive_from_points(struct run *run, const struct around *around, struct derived *derived) {
  struct points points = {.run = run};
  points.roots = arena_new_array(run->arena, struct root_in_points, run->n_roots + 1);
  points.values = arena_new_array(run->arena, double *, run->network->model->n_evidence + 1);
  if (points.roots == NULL || points.values == NULL ||
      !set_columns(&points, around, derived->gradient))
    return false;
  const double *values = formula_values(&points, around->formula);
  if (values == NULL) return false;
  if (points.n_columns > PAIRS) return true;
  struct sums sums = sum_up(&points, derived->gradient, values, around->middle);
  if (sums.n > PAIRS / 2) correct(&points, &sums, derived);
  return true;
}
