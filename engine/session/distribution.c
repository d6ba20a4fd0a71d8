#include "session/distribution.h"

#include <math.h>

#define PI 3.14159265358979323846

/* ---- the normal ---- */

double normal_share(double z) {
  return 0.5 * erfc(-z / sqrt(2));
}

/* Where a rising share reaches p: Newton's steps, held between two bounds that close in. */
static double invert(double (*share)(double x, double df), double (*density)(double x, double df),
                     double df, double p) {
  double low = -INFINITY, high = INFINITY, x = 0;
  for (int i = 0; i < 200; i++) {
    double miss = share(x, df) - p;
    if (miss > 0) high = x;
    else low = x;
    double next = x - miss / density(x, df);
    if (!(next > low && next < high)) next = isinf(low) || isinf(high) ? 2 * x : (low + high) / 2;
    if (fabs(next - x) <= 1e-15 * (1 + fabs(x))) return next;
    x = next;
  }
  return x;
}

static double normal_share_of(double z, double df) {
  (void)df;
  return normal_share(z);
}

static double normal_density(double z, double df) {
  (void)df;
  return exp(-z * z / 2) / sqrt(2 * PI);
}

double normal_quantile(double p) {
  return p > 0 && p < 1 ? invert(normal_share_of, normal_density, 0, p) : NAN;
}

/* ---- Student's t ---- */

/* Continued fraction of the incomplete beta function by Lentz's method (textbook). */
static double beta_fraction(double x, double a, double b) {
  const double tiny = 1e-300;
  double c = 1, d = 1 / fmax(tiny, 1 - (a + b) * x / (a + 1)), fraction = d;
  for (int m = 1; m < 500; m++) {
    double up = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    double down = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    const double terms[] = {up, down};
    double change = 1;
    for (int k = 0; k < 2; k++) {
      d = 1 + terms[k] * d;
      c = 1 + terms[k] / c;
      if (fabs(d) < tiny) d = tiny;
      if (fabs(c) < tiny) c = tiny;
      d = 1 / d;
      change = c * d;
      fraction *= change;
    }
    if (fabs(change - 1) < 1e-16) break;
  }
  return fraction;
}

/* Regularised incomplete beta function I_x(a, b). */
static double beta_share(double x, double a, double b) {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  double front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x));
  return x < (a + 1) / (a + b + 2) ? front * beta_fraction(x, a, b) / a
                                   : 1 - front * beta_fraction(1 - x, b, a) / b;
}

double student_share(double t, double df) {
  if (!(df > 0)) return NAN;
  double tail = 0.5 * beta_share(df / (df + t * t), df / 2, 0.5);
  return t > 0 ? 1 - tail : tail;
}

static double student_density(double t, double df) {
  return exp(lgamma((df + 1) / 2) - lgamma(df / 2) - (df + 1) / 2 * log1p(t * t / df)) /
         sqrt(df * PI);
}

double student_quantile(double p, double df) {
  return p > 0 && p < 1 && df > 0 ? invert(student_share, student_density, df, p) : NAN;
}

double f2_quantile(double p, double df) {
  return p > 0 && p < 1 && df > 0 ? df / 2 * (pow(1 - p, -2 / df) - 1) : NAN;
}

/* ---- shares ---- */

struct share_range share_range_of(size_t hits, size_t n, double level) {
  if (n == 0) return (struct share_range){0, 1};
  double z = normal_quantile(0.5 + level / 2), count = (double)n, share = (double)hits / count;
  double over = 1 + z * z / count, middle = share + z * z / (2 * count);
  double half = z * sqrt(share * (1 - share) / count + z * z / (4 * count * count));
  return (struct share_range){fmax(0, (middle - half) / over), fmin(1, (middle + half) / over)};
}

static double log_beta(double a, double b) {
  return lgamma(a) + lgamma(b) - lgamma(a + b);
}

static double log_choose(double n, double k) {
  return lgamma(n + 1) - lgamma(k + 1) - lgamma(n - k + 1);
}

double further_hits_share(size_t k, size_t m, size_t hits, size_t n) {
  double a = (double)hits + 0.5, b = (double)(n - hits) + 0.5, sum = 0, shots = (double)m;
  if (hits > n) return NAN;
  for (size_t i = 0; i <= k && i <= m; i++) {
    double x = (double)i;
    sum += exp(log_choose(shots, x) + log_beta(a + x, b + shots - x) - log_beta(a, b));
  }
  return fmin(1, sum);
}
