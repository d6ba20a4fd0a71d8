/* The algebra of certainties. A certainty x stands for a likelihood ratio L: L = 1/(1 - x) for x >=
 * 0 and L = 1 + x for x < 0; parallel evidence multiplies ratios, so sums of logarithms never
 * depend on order (heckerman-1986, buchanan-shortliffe-1984). */
#include <math.h>

#include "run/run.h"

static double normal_below(double z) {
  return 0.5 * erfc(-z / sqrt(2.0));
}

static double belief_exact(double value, double low, double high) {
  if (value == low || value == high) return 0; /* a reading at the threshold says nothing */
  return value > low && value < high ? 1 : -1;
}

double belief_between(double value, double error, double low, double high) {
  if (isnan(value)) return 0;
  if (!(error > 0)) return belief_exact(value, low, high);
  /* Work from the nearer tail, so that small probabilities keep their digits. */
  double below = isinf(low) ? 0 : normal_below((low - value) / error);
  double above = isinf(high) ? 0 : normal_below((value - high) / error);
  return 1 - 2 * (below + above);
}

double belief_to_log(double certainty) {
  return certainty >= 0 ? -log1p(-certainty) : log1p(certainty);
}

double belief_from_log(double log_ratio) {
  return log_ratio >= 0 ? -expm1(-log_ratio) : expm1(log_ratio);
}

double belief_combine(double a, double b) {
  if (a >= 0 && b >= 0) return a + b - a * b;
  if (a <= 0 && b <= 0) return a + b + a * b;
  double rest = 1 - fmin(fabs(a), fabs(b));
  return rest > 0 ? (a + b) / rest : 0; /* rounded to 1 and -1: they cancel */
}

const char *standing_word(enum standing standing) {
  static const char *const words[] = {"leading", "likely", "possible", "open", "unlikely"};
  return words[standing];
}
