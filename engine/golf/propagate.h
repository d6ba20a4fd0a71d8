/* First-order propagation of errors through a vector function, with the covariance that shared
 * inputs cause. Knows nothing of golf; the caller owns every array; any thread may call it.
 * Matrices are row-major.
 */
#ifndef WM_GOLF_PROPAGATE_H
#define WM_GOLF_PROPAGATE_H

#include <stddef.h>

enum { GOLF_PROPAGATE_MAX = 32 }; /* inputs and outputs at most */

/* Fills y from x; must not keep either. Outside its domain it writes NaN. */
typedef void golf_vector_function(const double *x, double *y, void *context);

/* Derivatives dy_i/dx_j (outputs x inputs) by central differences with the step 0.1 error[j];
 * one-sided where the other side leaves the domain; 0 where error[j] is 0, because an exact input
 * spreads nothing. y gets the outputs at x. Returns 0, or -1 when there are too many inputs or
 * outputs. Derivatives that no step yields are NaN. */
int golf_jacobian(golf_vector_function *function, void *context, size_t inputs, const double *x,
                  const double *error, size_t outputs, double *y, double *jacobian);

/* covariance_out (outputs x outputs) = J covariance_in J'. jacobian is outputs x inputs,
 * covariance_in inputs x inputs. The diagonal's square roots are the standard errors. */
void golf_spread(const double *jacobian, size_t inputs, size_t outputs, const double *covariance_in,
                 double *covariance_out);

/* Both at once for independent inputs: y and its covariance. jacobian is workspace, outputs x
 * inputs, and holds the derivatives afterwards. */
int golf_propagate(golf_vector_function *function, void *context, size_t inputs, const double *x,
                   const double *error, size_t outputs, double *y, double *covariance,
                   double *jacobian);

/* Standard error of a tendency read off n shots: sqrt(error^2 + spread^2 / n). NaN for n < 1. */
double golf_tendency_error(double error, double spread, double n);

/* The smallest change between two readings that 95 % of pure noise stays below: 1.96 sqrt(2)
 * standard_error (derived; villarrasa-2022 gives 12.05 -> 33.41). */
double golf_detectable_change(double standard_error);

#endif
