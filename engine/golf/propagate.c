/* Invariant: sums run in index order, so equal input gives equal output bits. Central differences
 * of an odd function are odd, which keeps mirrored cases mirrored. */
#include "golf/propagate.h"

#include <math.h>
#include <string.h>

/* One column: y moved up and down by step, or one way only where the other side is no number. */
static void column(golf_vector_function *function, void *context, double *x, size_t j, double step,
                   size_t outputs, const double *y, double *derivative, size_t stride) {
  double up[GOLF_PROPAGATE_MAX], down[GOLF_PROPAGATE_MAX];
  double middle = x[j], high = middle + step, low = middle - step;
  x[j] = high;
  function(x, up, context);
  x[j] = low;
  function(x, down, context);
  x[j] = middle;
  for (size_t i = 0; i < outputs; i++) {
    double rise = up[i] - down[i], width = high - low;
    if (isnan(up[i])) rise = y[i] - down[i], width = middle - low;
    if (isnan(down[i])) rise = up[i] - y[i], width = high - middle;
    derivative[i * stride] = rise / width;
  }
}

int golf_jacobian(golf_vector_function *function, void *context, size_t inputs, const double *x,
                  const double *error, size_t outputs, double *y, double *jacobian) {
  double moving[GOLF_PROPAGATE_MAX];
  if (inputs > GOLF_PROPAGATE_MAX || outputs > GOLF_PROPAGATE_MAX) return -1;
  memcpy(moving, x, inputs * sizeof *x);
  function(moving, y, context);
  for (size_t j = 0; j < inputs; j++) {
    if (error[j] > 0) {
      column(function, context, moving, j, 0.1 * error[j], outputs, y, jacobian + j, inputs);
      continue;
    }
    for (size_t i = 0; i < outputs; i++) jacobian[i * inputs + j] = 0;
  }
  return 0;
}

/* (J C)_i . J_k, one row of J C at a time so that no second matrix is needed. */
void golf_spread(const double *jacobian, size_t inputs, size_t outputs, const double *covariance_in,
                 double *covariance_out) {
  double row[GOLF_PROPAGATE_MAX];
  for (size_t i = 0; i < outputs; i++) {
    const double *derivative = jacobian + i * inputs;
    for (size_t j = 0; j < inputs; j++) {
      row[j] = 0;
      for (size_t k = 0; k < inputs; k++) row[j] += derivative[k] * covariance_in[k * inputs + j];
    }
    for (size_t k = 0; k < outputs; k++) {
      double sum = 0;
      for (size_t j = 0; j < inputs; j++) sum += row[j] * jacobian[k * inputs + j];
      covariance_out[i * outputs + k] = sum;
    }
  }
}

int golf_propagate(golf_vector_function *function, void *context, size_t inputs, const double *x,
                   const double *error, size_t outputs, double *y, double *covariance,
                   double *jacobian) {
  double independent[GOLF_PROPAGATE_MAX * GOLF_PROPAGATE_MAX] = {0};
  if (golf_jacobian(function, context, inputs, x, error, outputs, y, jacobian)) return -1;
  for (size_t j = 0; j < inputs; j++) independent[j * inputs + j] = error[j] * error[j];
  golf_spread(jacobian, inputs, outputs, independent, covariance);
  return 0;
}

double golf_tendency_error(double error, double spread, double n) {
  return n >= 1 ? sqrt(error * error + spread * spread / n) : NAN;
}

double golf_detectable_change(double standard_error) {
  return 1.959963984540054 * sqrt(2) * standard_error;
}
