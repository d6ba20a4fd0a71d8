/* What a bent formula spreads: it is worked out anew from the given numbers on, at points spread over
 * all independent errors at once, and its variance is taken over them. So bends along the way, bends
 * shared by several inputs, and bends that no parabola follows are all in it.
 *
 * The points are a lattice of rank 1 (Korobov): N is a prime, and in point j the root in column c is off
 * by the normal score of (j g^c mod N) / N. The middle, point 0, is known; points j and N - j are
 * opposite, so odd and even parts separate. They are fixed: equal input gives equal output bits. */
#include <math.h>
#include <stdlib.h>

#include "run/derive.h"

#include "run/derive_table.h"
enum { PAIRS = (LATTICE - 1) / 2, POINTS = 2 * PAIRS };

struct root_in_points {
  size_t column;    /* NO_INDEX: not met yet */
  double direction; /* 1 or -1: the way that raises the value, so that a mirrored case has the
                       mirrored points */
  double error;
};

struct points {
  struct run *run;
  struct root_in_points *roots;
  double **values; /* of each evidence at all points; NULL: not asked for yet */
  size_t n_columns;
  int multipliers[PAIRS];
};

static double score(const struct points *points, size_t column, size_t pair) {
  size_t rest = (pair + 1) * (size_t)points->multipliers[column] % LATTICE;
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
    double side = fmax(fabs(around->above[i] - around->middle),
                       fabs(around->below[i] - around->middle)) / around->steps[i];
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
    points->roots[k] = (struct root_in_points){NO_INDEX, gradient[k] < 0 ? -1 : 1, 0};
    moved[n] = (struct moved){k, moved_by(run, around, k)};
    n += moved[n].by > 0;
  }
  qsort(moved, n, sizeof *moved, by_size);
  for (size_t i = 0; i < n; i++) set_column(points, moved[i].root);
  points->multipliers[0] = 1;
  for (size_t c = 1; c < PAIRS; c++)
    points->multipliers[c] = points->multipliers[c - 1] * GENERATOR % LATTICE;
  return true;
}

/* ---- values at the points ---- */

static void add_root(struct points *points, size_t k, double *values) {
  set_column(points, k);
  const struct root_in_points *root = &points->roots[k];
  if (root->error == 0 || root->column >= PAIRS) return;
  for (size_t j = 0; j < PAIRS; j++) {
    double off = root->direction * root->error * score(points, root->column, j);
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

static double *fixed_values(struct points *points, double number) {
  double *values = arena_new_array(points->run->arena, double, POINTS);
  for (size_t p = 0; values && p < POINTS; p++) values[p] = number;
  return values;
}

/* As deep as formulas stand on formulas: each rests on readings of earlier rounds. */
static const double *values_of(struct points *points, size_t evidence) {
  const struct reading *reading = &points->run->readings[evidence];
  if (points->values[evidence]) return points->values[evidence];
  double *values = reading->formula ? formula_values(points, reading->formula)
                                    : fixed_values(points, reading->number);
  if (values && reading->gradient) add_root(points, root_of(points->run, evidence), values);
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
  for (size_t k = 0; k < points->run->n_roots; k++)
    if (gradient[k] != 0 && points->roots[k].column < PAIRS)
      sum += fabs(gradient[k]) * points->roots[k].error *
             score(points, points->roots[k].column, pair);
  return sum;
}

static struct sums sum_up(const struct points *points, const double *gradient,
                          const double *values, double middle) {
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
    line += points->roots[k].column < PAIRS ? part * part : 0;
  }
  double rest = 2 * (sums->odd - scale * sums->line_odd) / n + 2 * sums->even_squared / n - mean * mean;
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
  struct sums sums = sum_up(&points, derived->gradient, values, around->middle);
  if (sums.n > PAIRS / 2) correct(&points, &sums, derived);
  return true;
}
