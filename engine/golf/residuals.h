/* What each flight model says beside everything known of flight: the rows of outside check values
 * and the misses. The rows are outside facts or trade practice, never tuned to a model. Pure; any
 * thread may call it. `whymiss flight --residuals` prints this table and test_residuals pins it.
 */
#ifndef WM_GOLF_RESIDUALS_H
#define WM_GOLF_RESIDUALS_H

#include <stddef.h>

#include "golf/flight.h"

struct golf_residual_row {
  const char *what;   /* the claim in words */
  const char *unit;   /* a name of units.h */
  double value;       /* the claimed value; NaN for bounds alone */
  double low, high;   /* accepted; infinite where open */
  const char *source; /* key of the source, or "practice" */
  const char *status; /* seen, 2nd, derived, practice */
  unsigned
      about; /* models it was published of, bit 1 << model; 0: of the real ball, so of all models */
  double (*measure)(enum golf_model model);
};

struct golf_residual {
  double measured;
  double residual; /* measured - value; without a value the distance outside the bounds, 0 within */
  int meets;       /* within the bounds */
  int concerns;    /* the row is about this model; if not, a miss is information, no fault */
};

const struct golf_residual_row *golf_residual_rows(size_t *count);
/* Some 10 us to 0.1 ms a row. */
struct golf_residual golf_residual_of(const struct golf_residual_row *row, enum golf_model model);

/* Carries of the trade are told as "about", read here as +/- 3 yd, and without spin. These are the
 * assumptions the two 8 iron rows are flown with (practice): launch 22 deg both, 7000 rpm for
 * "somewhat spinny", 6500 rpm after the better strike. */
struct golf_shot golf_residual_iron(int better);

#endif
