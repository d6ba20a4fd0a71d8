/* What a row of readings amounts to: middle, spread, outliers, the ellipse of two figures.
 * Works on plain arrays in any unit; not known is NaN and left out. Decides nothing about golf.
 * Pure but for the scratch taken from the arena; any thread may call it with its own arena.
 * Checked against nist-strd. */
#ifndef WM_SESSION_STATISTICS_H
#define WM_SESSION_STATISTICS_H

#include <stdbool.h>

#include "base/arena.h"

struct summary {
  size_t n; /* readings known */
  double mean, low, high;
  double sd;     /* over n - 1; NaN below two readings, as are error and detectable */
  double error;  /* of the mean: sd / sqrt(n) */
  double median; /* NaN without readings */
  double robust; /* 1.4826 x median distance from the median: sd of a normal, blind to outliers */
  double lag1;   /* autocorrelation of neighbours, in the order given; NaN when sd is 0 */
  double detectable; /* 1.96 sqrt(2) error: what the mean must change by in a second block as long
                        to be no noise, at 95 % (villarrasa-2022) */
  size_t n_outliers;
  double limit; /* a reading further than this from the median is an outlier */
};

/* Beyond this many robust spreads from the median a reading is an outlier, as long as such readings
 * are few: one, or a tenth of all. More are another kind of shot (practice). */
#define OUTLIER_LIMIT 3.5
#define OUTLIER_SHARE 0.1

/* Summarises n readings. False: no memory. */
bool summarise(struct arena *arena, const double *readings, size_t n, struct summary *summary);
/* Whether a reading is an outlier of what was summarised; never when the robust spread is 0. */
bool is_outlier(const struct summary *summary, double reading);

/* Most of the shots: a shot lies within with probability `level`, estimated from n pairs that are
 * taken as normal; wider for few shots, because mean and spread are estimates themselves. */
struct ellipse {
  size_t n;            /* pairs of which both are known */
  double x, y;         /* centre */
  double major, minor; /* half axes */
  double angle;        /* deg of the major axis from x toward y, above -90 to 90 */
  double correlation;
};
/* False when there are fewer than four pairs, or no spread in one direction. */
bool ellipse_of(const double *x, const double *y, size_t n, double level, struct ellipse *ellipse);
/* Squared distance of a point in units of the half axes: below 1 is within. */
double ellipse_distance(const struct ellipse *ellipse, double x, double y);

#endif
