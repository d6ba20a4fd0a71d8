/* Means, deviations and autocorrelation against the certified values of nist-strd (seen); the
 * ellipse by simulation. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "session/statistics.h"
#include "support/cases.h"
#include "support/knowledge.h"

/* Relative, as the certified values are given. */
static void assert_close(double got, double expected, double tolerance) {
  if (!(fabs(got - expected) <= tolerance * fabs(expected)))
    fail_msg("%.17g, expected %.17g", got, expected);
}

static struct summary summary_of(const double *x, size_t n) {
  struct arena *arena = arena_new(NULL);
  struct summary summary;
  assert_true(summarise(arena, x, n, &summary));
  arena_free(arena);
  return summary;
}

static struct summary summary_of_file(const char *name, size_t expected) {
  char path[128];
  double x[1000];
  size_t n = 0;
  snprintf(path, sizeof path, "tests/session/nist/%s.txt", name);
  FILE *file = fopen(path, "r");
  assert_non_null(file);
  while (n < 1000 && fscanf(file, "%lf", &x[n]) == 1) n++;
  fclose(file);
  assert_int_equal(n, expected);
  return summary_of(x, n);
}

static void check(struct summary summary, double mean, double sd, double lag1, double tolerance) {
  assert_close(summary.mean, mean, 1e-14);
  assert_close(summary.sd, sd, tolerance);
  assert_close(summary.lag1, lag1, tolerance);
}

static void summarise__agrees_with_the_certified_files(void **state) {
  (void)state;
  check(summary_of_file("lew", 200), -177.435, 277.332168044316, -0.307304800605679, 2e-14);
  check(summary_of_file("lottery", 218), 518.958715596330, 291.699727470969, -0.120948622967393,
        2e-14);
  /* The readings themselves are rounded to doubles, which costs digits where the sd is small. */
  check(summary_of_file("mavro", 50), 2.001856, 0.000429123454003053, 0.937989183438248, 2e-12);
  check(summary_of_file("michelso", 100), 299.8524, 0.0790105478190518, 0.535199668621283, 2e-13);
}

static void summarise__keeps_its_digits_far_from_zero(void **state) {
  (void)state;
  const double one[] = {10000001, 10000003, 10000002};
  double four[1001] = {10000000.2};
  for (int i = 1; i < 1001; i++) four[i] = i % 2 ? 10000000.1 : 10000000.3;
  check(summary_of(one, 3), 10000002, 1, -0.5, 1e-14);
  check(summary_of(four, 1001), 10000000.2, 0.1, -0.999, 2e-8);
}

static void summarise__detectable_change_is_the_published_one(void **state) {
  (void)state;
  /* Two readings 12.05 sqrt(2) sqrt(2) apart have a standard error of 12.05: 33.41
   * (villarrasa-2022, seen; its two decimals). */
  const double x[] = {0, 2 * 12.05};
  struct summary summary = summary_of(x, 2);
  assert_close(summary.error, 12.05, 1e-12);
  assert_true(fabs(summary.detectable - 33.41) < 0.015);
}

static void summarise__leaves_out_what_is_not_known(void **state) {
  (void)state;
  const double x[] = {NAN, 3, NAN, 1, 2, NAN}, none[] = {NAN, NAN}, one[] = {5};
  struct summary summary = summary_of(x, 6);
  assert_int_equal(summary.n, 3);
  assert_close(summary.mean, 2, 1e-15);
  assert_close(summary.median, 2, 1e-15);
  assert_int_equal(summary_of(none, 2).n, 0);
  assert_true(isnan(summary_of(none, 2).mean));
  summary = summary_of(one, 1);
  assert_close(summary.mean, 5, 0);
  assert_true(isnan(summary.sd) && isnan(summary.error) && isnan(summary.detectable));
  assert_int_equal(summary_of(NULL, 0).n, 0);
}

static void summarise__marks_outliers_and_keeps_them(void **state) {
  (void)state;
  const double x[] = {1, 2, 3, 4, 5, 6, 7, 8, 9, 100};
  struct summary summary = summary_of(x, 10);
  assert_int_equal(summary.n_outliers, 1);
  assert_true(is_outlier(&summary, 100));
  assert_false(is_outlier(&summary, 9));
  assert_close(summary.mean, 14.5, 1e-15);
  assert_close(summary.median, 5.5, 1e-15);
  assert_close(summary.robust, 2.5 * 1.482602218505602, 1e-15);
  const double two_kinds[] = {1, 2, 3, 2, 1, 3, 2, 40, 41, 39};
  summary = summary_of(two_kinds, 10); /* three of ten are no outliers */
  assert_int_equal(summary.n_outliers, 0);
  assert_false(is_outlier(&summary, 41));
  const double same[] = {4, 4, 4, 4, 9};
  summary = summary_of(same, 5);
  assert_int_equal(summary.n_outliers, 0); /* no spread, no measure of being far out */
}

static double random_normal(uint64_t *state) {
  double u = 1 - random_uniform(state), v = random_uniform(state);
  return sqrt(-2 * log(u)) * cos(6.283185307179586 * v);
}

static void draw(uint64_t *state, double *x, double *y) {
  double a = random_normal(state), b = random_normal(state);
  *x = 10 + 3 * a;
  *y = -2 + 1.5 * (0.6 * a + 0.8 * b);
}

/* How often a further pair lies within the ellipse of n pairs. */
static double coverage(size_t n, double level) {
  uint64_t state = 7 + n;
  size_t hits = 0, runs = 20000;
  for (size_t i = 0; i < runs; i++) {
    double x[64], y[64], px, py;
    struct ellipse ellipse;
    for (size_t k = 0; k < n; k++) draw(&state, &x[k], &y[k]);
    assert_true(ellipse_of(x, y, n, level, &ellipse));
    draw(&state, &px, &py);
    hits += ellipse_distance(&ellipse, px, py) < 1;
  }
  return (double)hits / (double)runs;
}

static void ellipse_of__holds_its_share_of_further_shots(void **state) {
  (void)state;
  const size_t sizes[] = {6, 12, 60};
  for (size_t i = 0; i < 3; i++) {
    double share = coverage(sizes[i], 0.9);
    if (fabs(share - 0.9) > 0.0075) fail_msg("%zu shots: %g", sizes[i], share);
  }
}

static void ellipse_of__lies_along_the_data(void **state) {
  (void)state;
  double x[] = {0, 1, 2, 3, 4, 5}, y[] = {0.1, 0.9, 2.1, 2.9, 4.1, 4.9};
  struct ellipse ellipse;
  assert_true(ellipse_of(x, y, 6, 0.9, &ellipse));
  assert_close(ellipse.x, 2.5, 1e-15);
  assert_close(ellipse.y, 2.5, 1e-14);
  assert_true(fabs(ellipse.angle - 45) < 1.5);
  assert_true(ellipse.major > 10 * ellipse.minor);
  assert_close(ellipse_distance(&ellipse, 2.5, 2.5), 0, 0);
  for (int i = 0; i < 6; i++) y[i] = -y[i];
  assert_true(ellipse_of(x, y, 6, 0.9, &ellipse));
  assert_true(fabs(ellipse.angle + 45) < 1.5);
}

static void ellipse_of__needs_four_pairs_and_two_dimensions(void **state) {
  (void)state;
  const double x[] = {0, 1, 2, NAN, 4, 5}, y[] = {1, 0, NAN, 3, NAN, 1}, line[] = {0, 1, 2, 3};
  struct ellipse ellipse;
  assert_false(ellipse_of(x, y, 6, 0.9, &ellipse));
  assert_int_equal(ellipse.n, 3);
  assert_false(ellipse_of(line, (double[]){2, 2, 2, 2}, 4, 0.9, &ellipse));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(summarise__agrees_with_the_certified_files),
      cmocka_unit_test(summarise__keeps_its_digits_far_from_zero),
      cmocka_unit_test(summarise__detectable_change_is_the_published_one),
      cmocka_unit_test(summarise__leaves_out_what_is_not_known),
      cmocka_unit_test(summarise__marks_outliers_and_keeps_them),
      cmocka_unit_test(ellipse_of__holds_its_share_of_further_shots),
      cmocka_unit_test(ellipse_of__lies_along_the_data),
      cmocka_unit_test(ellipse_of__needs_four_pairs_and_two_dimensions),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
