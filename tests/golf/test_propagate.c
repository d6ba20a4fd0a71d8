/* First-order errors against Monte Carlo: every derived item and every figure of a flight, within 5
 * %. */
#include "support/cases.h"

#include <math.h>
#include <string.h>

#include "golf/close.h"
#include "golf/derive.h"
#include "golf/flight.h"
#include "golf/geometry.h"
#include "golf/propagate.h"

/* Normal deviates by Box and Muller over a 64-bit xorshift: the same in every run. */
static double uniform(uint64_t *seed) {
  *seed ^= *seed << 13;
  *seed ^= *seed >> 7;
  *seed ^= *seed << 17;
  return ((double)(*seed >> 11) + 0.5) / 9007199254740992.0;
}
static double normal(uint64_t *seed) {
  double r = sqrt(-2 * log(uniform(seed)));
  return r * cos(2 * acos(-1) * uniform(seed));
}

struct moments {
  double mean[GOLF_PROPAGATE_MAX];
  double product[GOLF_PROPAGATE_MAX][GOLF_PROPAGATE_MAX];
};

static void monte_carlo(golf_vector_function *function, size_t inputs, const double *x,
                        const double *error, size_t outputs, int draws, struct moments *m) {
  uint64_t seed = 88172645463325252u;
  double drawn[GOLF_PROPAGATE_MAX], y[GOLF_PROPAGATE_MAX], middle[GOLF_PROPAGATE_MAX];
  memset(m, 0, sizeof *m);
  function(x, middle, NULL);
  for (int n = 0; n < draws; n++) {
    for (size_t j = 0; j < inputs; j++) drawn[j] = x[j] + error[j] * normal(&seed);
    function(drawn, y, NULL);
    for (size_t i = 0; i < outputs; i++) {
      m->mean[i] += (y[i] - middle[i]) / draws;
      for (size_t k = 0; k < outputs; k++)
        m->product[i][k] += (y[i] - middle[i]) * (y[k] - middle[k]) / draws;
    }
  }
}

static double covariance_of(const struct moments *m, size_t i, size_t k) {
  return m->product[i][k] - m->mean[i] * m->mean[k];
}

/* Standard errors within 5 %, correlations within 0.03. */
static void compare(golf_vector_function *function, size_t inputs, const double *x,
                    const double *error, size_t outputs, int draws, const char *(*name)(size_t)) {
  double y[GOLF_PROPAGATE_MAX], covariance[GOLF_PROPAGATE_MAX * GOLF_PROPAGATE_MAX];
  double jacobian[GOLF_PROPAGATE_MAX * GOLF_PROPAGATE_MAX];
  struct moments m;
  assert_int_equal(
      golf_propagate(function, NULL, inputs, x, error, outputs, y, covariance, jacobian), 0);
  monte_carlo(function, inputs, x, error, outputs, draws, &m);
  for (size_t i = 0; i < outputs; i++) {
    double first = sqrt(covariance[i * outputs + i]), drawn = sqrt(covariance_of(&m, i, i));
    if (!(fabs(first / drawn - 1) <= 0.05)) {
      print_error("%s: first order %g, Monte Carlo %g\n", name(i), first, drawn);
      fail();
    }
    for (size_t k = 0; k < i; k++) {
      double shared = covariance[i * outputs + k] / first / sqrt(covariance[k * outputs + k]);
      double seen = covariance_of(&m, i, k) / drawn / sqrt(covariance_of(&m, k, k));
      if (!(fabs(shared - seen) <= 0.03)) {
        print_error("%s with %s: correlation %g, Monte Carlo %g\n", name(i), name(k), shared, seen);
        fail();
      }
    }
  }
}

static const char *derived_name(size_t i) {
  return golf_output_name((enum golf_output)i);
}

static void golf_propagate__monte_carlo_agrees_for_an_iron(void **state) {
  (void)state;
  const double iron[GOLF_INPUTS] = {36, 2, -4, 28, -4, 268, 9, 4, 58, 1.5, 37};
  const double error[GOLF_INPUTS] = {0.5, 1, 1, 1, 0.7, 4, 2, 2, 1.5, 0.05, 0.5};
  compare(golf_derive_vector, GOLF_INPUTS, iron, error, GOLF_OUTPUTS, 100000, derived_name);
}

static void golf_propagate__monte_carlo_agrees_for_a_driver(void **state) {
  (void)state;
  const double driver[GOLF_INPUTS] = {45, -3, 2.5, 14, 2, 203, -14, 5, 48, 1.7, 10.5};
  const double error[GOLF_INPUTS] = {0.5, 0.8, 0.8, 0.7, 0.7, 2, 2, 1.5, 1.5, 0.05, 0.5};
  compare(golf_derive_vector, GOLF_INPUTS, driver, error, GOLF_OUTPUTS, 100000, derived_name);
}

static void fly_vector(const double *x, double *y, void *context) {
  struct golf_shot shot = {x[0], x[1], x[2], x[3], x[4]};
  struct golf_air air = golf_air_standard();
  struct golf_flight f;
  (void)context;
  golf_fly(GOLF_BLEND, &shot, &air, NULL, &f);
  memcpy(y, &f, 8 * sizeof *y);
}
static const char *flight_name(size_t i) {
  static const char *const names[] = {"carry",         "side", "curve",         "apex",
                                      "landing angle", "time", "landing speed", "landing spin"};
  return names[i];
}

static void golf_propagate__monte_carlo_agrees_for_a_flight(void **state) {
  (void)state;
  const double iron[] = {42, 21, -1, 6500, 8}, error[] = {0.6, 0.7, 0.8, 300, 2};
  compare(fly_vector, 5, iron, error, 8, 20000, flight_name);
}

/* golf_flight_error takes the same inputs as independent and must tell the same standard errors. */
static void golf_flight_error__monte_carlo_agrees(void **state) {
  (void)state;
  const double x[] = {42, 21, -1, 6500, 8}, error[] = {0.6, 0.7, 0.8, 300, 2};
  struct golf_shot shot = {42, 21, -1, 6500, 8}, errors = {0.6, 0.7, 0.8, 300, 2};
  struct golf_air air = golf_air_standard();
  struct golf_flight e;
  struct moments m;
  golf_flight_error(GOLF_BLEND, &shot, &errors, &air, &e);
  monte_carlo(fly_vector, 5, x, error, 8, 20000, &m);
  double carry = sqrt(e.carry * e.carry - e.carry_error * e.carry_error);
  assert_close(carry / sqrt(covariance_of(&m, 0, 0)), 1, 0.05);
  assert_close(e.side / sqrt(covariance_of(&m, 1, 1)), 1, 0.05);
  assert_close(e.apex / sqrt(covariance_of(&m, 3, 3)), 1, 0.05);
  assert_close(e.landing_angle / sqrt(covariance_of(&m, 4, 4)), 1, 0.05);
}

static void linear(const double *x, double *y, void *context) {
  (void)context;
  y[0] = 2 * x[0] - 3 * x[1];
  y[1] = x[0] + x[1];
}

/* Source: derived. Shared inputs give covariance 2 * 1 * 4 - 3 * 1 * 9. */
static void golf_propagate__linear_functions_are_exact(void **state) {
  (void)state;
  const double x[] = {1, 2}, error[] = {2, 3};
  double y[2], covariance[4], jacobian[4];
  golf_propagate(linear, NULL, 2, x, error, 2, y, covariance, jacobian);
  assert_close(y[0], -4, 0);
  assert_close(covariance[0], 4 * 4 + 9 * 9, 1e-9);
  assert_close(covariance[1], 2 * 4 - 3 * 9, 1e-9);
  assert_close(covariance[2], covariance[1], 1e-12);
  assert_close(covariance[3], 13, 1e-9);
}

static void golf_spread__takes_a_full_covariance(void **state) {
  (void)state;
  const double jacobian[] = {1, -1}, covariance[] = {4, 3.9, 3.9, 4};
  double out;
  golf_spread(jacobian, 2, 1, covariance, &out);
  assert_close(out, 0.2, 1e-12);
}

static void edge(const double *x, double *y, void *context) {
  (void)context;
  y[0] = x[0] >= 0 ? 3 * x[0] : NAN;
  y[1] = x[0] * x[1];
}

static void golf_jacobian__edge_of_a_domain_is_taken_from_inside(void **state) {
  (void)state;
  const double x[] = {0, 5}, error[] = {1, 0};
  double y[2], jacobian[4];
  golf_jacobian(edge, NULL, 2, x, error, 2, y, jacobian);
  assert_close(jacobian[0], 3, 1e-12);
  assert_close(jacobian[1], 0, 0);
  assert_close(jacobian[2], 5, 1e-12);
  assert_close(jacobian[3], 0, 0);
}

static void upper_edge(const double *x, double *y, void *context) {
  (void)context;
  y[0] = x[0] <= 2 ? 3 * x[0] : NAN;
}

static void golf_jacobian__upper_edge_is_taken_from_inside(void **state) {
  (void)state;
  const double x[] = {2}, error[] = {1};
  double y, jacobian;
  golf_jacobian(upper_edge, NULL, 1, x, error, 1, &y, &jacobian);
  assert_close(jacobian, 3, 1e-12);
}

static void golf_jacobian__no_value_gives_no_derivative(void **state) {
  (void)state;
  const double x[] = {-5, 5}, error[] = {1, 1};
  double y[2], jacobian[4];
  assert_int_equal(golf_jacobian(edge, NULL, 2, x, error, 2, y, jacobian), 0);
  assert_true(isnan(y[0]) && isnan(jacobian[0]));
  assert_int_equal(golf_jacobian(edge, NULL, GOLF_PROPAGATE_MAX + 1, x, error, 2, y, jacobian), -1);
}

/* Source: villarrasa-2022 (seen): SEM 12.05 -> 33.41, printed from rounded figures. */
static void golf_detectable_change__published_value(void **state) {
  (void)state;
  assert_close(golf_detectable_change(12.05), 33.41, 0.015);
}

static void golf_tendency_error__shrinks_to_the_error_of_reading(void **state) {
  (void)state;
  assert_close(golf_tendency_error(1, 2, 1), sqrt(5), 1e-12);
  assert_close(golf_tendency_error(1, 2, 4), sqrt(2), 1e-12);
  assert_true(isnan(golf_tendency_error(1, 2, 0)));
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_propagate__monte_carlo_agrees_for_an_iron),
      cmocka_unit_test(golf_propagate__monte_carlo_agrees_for_a_driver),
      cmocka_unit_test(golf_propagate__monte_carlo_agrees_for_a_flight),
      cmocka_unit_test(golf_flight_error__monte_carlo_agrees),
      cmocka_unit_test(golf_propagate__linear_functions_are_exact),
      cmocka_unit_test(golf_spread__takes_a_full_covariance),
      cmocka_unit_test(golf_jacobian__edge_of_a_domain_is_taken_from_inside),
      cmocka_unit_test(golf_jacobian__no_value_gives_no_derivative),
      cmocka_unit_test(golf_detectable_change__published_value),
      cmocka_unit_test(golf_tendency_error__shrinks_to_the_error_of_reading),
      cmocka_unit_test(golf_jacobian__upper_edge_is_taken_from_inside),
  };
  return cmocka_run_group_tests_name("golf propagate", cases, NULL, NULL);
}
