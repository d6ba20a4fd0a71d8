/* The distributions that blocks of shots are judged by. Plain functions of doubles, no state, any
 * thread. Formulas are derived or textbook mathematics; checked against scipy in the tests. NaN
 * outside a function's domain. */
#ifndef WM_SESSION_DISTRIBUTION_H
#define WM_SESSION_DISTRIBUTION_H

#include <stddef.h>

/* P(Z < z), and the z below which the share p lies, 0 < p < 1. */
double normal_share(double z);
double normal_quantile(double p);

/* P(T < t) of Student's t with df > 0 (need not be whole), and its inverse. */
double student_share(double t, double df);
double student_quantile(double p, double df);

/* The F below which the share p lies, 2 and df degrees of freedom (closed form, derived). */
double f2_quantile(double p, double df);

/* What a share of `hits` in n shots says of the true share: Wilson's interval at the level, such as
 * 0.9. n 0: 0 to 1. */
struct share_range {
  double low, high;
};
struct share_range share_range_of(size_t hits, size_t n, double level);

/* P(at most k of m further shots hit), when `hits` of n did and nothing has changed: beta-binomial
 * with Jeffreys' prior, so that a rate known from few shots is not taken as known. */
double further_hits_share(size_t k, size_t m, size_t hits, size_t n);

#endif
