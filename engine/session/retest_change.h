/* Two rows of readings held against each other: by how much the mean moved, with its error, and how
 * often chance alone moves it as far. Numbers in, numbers out: knows neither evidence nor golf.
 * Scratch comes from the arena given; any thread. Formulas are textbook mathematics, checked
 * against student-1908 and nist-strd. */
#ifndef WM_SESSION_RETEST_CHANGE_H
#define WM_SESSION_RETEST_CHANGE_H

#include "session/statistics.h"

#define CHANGE_LEVEL 0.05 /* of p; intervals hold 1 - CHANGE_LEVEL */
/* Below so many readings in a row the permutation test has a say too (villarrasa-2022: 7 to 10). */
#define CHANGE_FEW 10
/* Up to so many ways to deal the readings all are tried, above so many drawn with a fixed seed. */
#define CHANGE_WAYS_MAX 200000
#define CHANGE_DRAWS 9999

struct change {
  size_t n_before, n_after; /* readings known */
  double before, after;     /* means */
  double difference, error; /* after - before; error: one standard error */
  double t, df, p;          /* Welch's test, two-sided */
  double low, high;         /* of the true difference, 95 % */
  double effect;            /* Hedges' g: in standard deviations, corrected for few readings */
  double detectable;        /* 1.96 standard errors: less is noise, 95 % */
  double permutation;       /* p of the permutation test; NaN: enough readings not to need it */
  double chance;            /* what counts: the larger p */
};

/* Welch's comparison; NaN where there are fewer than two readings in a row. Without any spread t is
 * NaN, and p is 1 or 0. */
struct change change_of(const struct summary *before, const struct summary *after);
/* Compares n and m readings, NaN not known; for few also by permutation. False: no memory. */
bool rows_compare(struct arena *arena, const double *before, size_t n, const double *after,
                  size_t m, struct change *change);
/* P that dealing all readings at random moves the mean at least as far; exact or drawn. NaN without
 * readings or memory. All readings must be known. */
double permutation_chance(struct arena *arena, const double *before, size_t n, const double *after,
                          size_t m);
/* Brown and Forsythe's comparison of spreads: distances from the medians. False: no memory. */
bool change_of_spread(struct arena *arena, const double *before, size_t n, const double *after,
                      size_t m, struct change *change);
/* Which of n chances are below CHANGE_LEVEL when all are looked at together (Holm's steps), so that
 * one false alarm among them comes in fewer than CHANGE_LEVEL of cases. NaN is none. */
void hold_together(const double *chances, size_t n, bool *below);

#endif
