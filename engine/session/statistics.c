/* Two passes, the second corrects the first: sums of differences from the first mean are small, so
 * readings such as 10000000.2 keep their digits. */
#include "session/statistics.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "golf/propagate.h"
#include "session/distribution.h"

#define MAD_TO_SD 1.482602218505602 /* 1 / the normal's quantile of 3/4 (derived) */
#define DEGREES (180 / 3.14159265358979323846)

/* ---- one figure ---- */

static size_t take_known(const double *readings, size_t n, double *known) {
  size_t found = 0;
  for (size_t i = 0; i < n; i++)
    if (isfinite(readings[i])) known[found++] = readings[i];
  return found;
}

static double mean_of(const double *x, size_t n) {
  double sum = 0, rest = 0;
  for (size_t i = 0; i < n; i++) sum += x[i];
  double mean = sum / (double)n;
  for (size_t i = 0; i < n; i++) rest += x[i] - mean;
  return mean + rest / (double)n;
}

static void moments(const double *x, struct summary *summary) {
  size_t n = summary->n;
  double squares = 0, rest = 0, products = 0;
  summary->mean = mean_of(x, n);
  summary->low = summary->high = x[0];
  for (size_t i = 0; i < n; i++) {
    double d = x[i] - summary->mean;
    squares += d * d;
    rest += d;
    if (i > 0) products += d * (x[i - 1] - summary->mean);
    summary->low = fmin(summary->low, x[i]);
    summary->high = fmax(summary->high, x[i]);
  }
  squares -= rest * rest / (double)n; /* what rounding of the mean left */
  if (n > 1) summary->sd = sqrt(fmax(0, squares) / (double)(n - 1));
  if (squares > 0) summary->lag1 = products / squares;
  summary->error = summary->sd / sqrt((double)n);
  summary->detectable = golf_detectable_change(summary->error);
}

static int compare(const void *left, const void *right) {
  double a = *(const double *)left, b = *(const double *)right;
  return (a > b) - (a < b);
}

static double median_of(double *x, size_t n) {
  qsort(x, n, sizeof *x, compare);
  return n % 2 ? x[n / 2] : x[n / 2 - 1] / 2 + x[n / 2] / 2;
}

/* Leaves the distances from the median in x. */
static void robust_part(double *x, struct summary *summary) {
  size_t n = summary->n;
  summary->median = median_of(x, n);
  for (size_t i = 0; i < n; i++) x[i] = fabs(x[i] - summary->median);
  summary->robust = MAD_TO_SD * median_of(x, n);
}

/* distances: of the readings from the median. */
static void find_limit(struct summary *summary, const double *distances) {
  size_t far = 0;
  summary->limit = summary->robust > 0 ? OUTLIER_LIMIT * summary->robust : INFINITY;
  for (size_t i = 0; i < summary->n; i++) far += distances[i] > summary->limit;
  if (far > 1 && (double)far > OUTLIER_SHARE * (double)summary->n) summary->limit = INFINITY;
  else summary->n_outliers = far;
}

bool summarise(struct arena *arena, const double *readings, size_t n, struct summary *summary) {
  *summary = (struct summary){.mean = NAN,
                              .low = NAN,
                              .high = NAN,
                              .sd = NAN,
                              .error = NAN,
                              .median = NAN,
                              .robust = NAN,
                              .lag1 = NAN,
                              .detectable = NAN,
                              .limit = INFINITY};
  double *known = arena_new_array(arena, double, n + 1);
  if (!known) return false;
  summary->n = take_known(readings, n, known);
  if (summary->n == 0) return true;
  moments(known, summary);
  robust_part(known, summary);
  find_limit(summary, known);
  return true;
}

bool is_outlier(const struct summary *summary, double reading) {
  return isfinite(reading) && fabs(reading - summary->median) > summary->limit;
}

/* ---- two figures ---- */

struct covariance {
  double xx, xy, yy;
};

static bool has_both(const double *x, const double *y, size_t i) {
  return isfinite(x[i]) && isfinite(y[i]);
}

static struct covariance covariance_of(const double *x, const double *y, size_t n,
                                       struct ellipse *ellipse) {
  struct covariance sums = {0, 0, 0};
  double x_sum = 0, y_sum = 0;
  for (size_t i = 0; i < n; i++) {
    if (!has_both(x, y, i)) continue;
    ellipse->n++;
    x_sum += x[i];
    y_sum += y[i];
  }
  ellipse->x = x_sum / (double)ellipse->n;
  ellipse->y = y_sum / (double)ellipse->n;
  for (size_t i = 0; i < n; i++) {
    if (!has_both(x, y, i)) continue;
    sums.xx += (x[i] - ellipse->x) * (x[i] - ellipse->x);
    sums.xy += (x[i] - ellipse->x) * (y[i] - ellipse->y);
    sums.yy += (y[i] - ellipse->y) * (y[i] - ellipse->y);
  }
  double over = (double)ellipse->n - 1;
  return (struct covariance){sums.xx / over, sums.xy / over, sums.yy / over};
}

/* Region that a new pair falls into: 2 (n + 1)(n - 1) / (n (n - 2)) F(2, n - 2) (derived:
 * Hotelling's T2 of a new observation against n). */
static double scale_of(size_t pairs, double level) {
  double n = (double)pairs;
  return 2 * (n + 1) * (n - 1) / (n * (n - 2)) * f2_quantile(level, n - 2);
}

bool ellipse_of(const double *x, const double *y, size_t n, double level, struct ellipse *ellipse) {
  *ellipse = (struct ellipse){.n = 0};
  struct covariance c = covariance_of(x, y, n, ellipse);
  if (ellipse->n < 4 || !(c.xx > 0) || !(c.yy > 0)) return false;
  double middle = (c.xx + c.yy) / 2, half = hypot((c.xx - c.yy) / 2, c.xy);
  double scale = scale_of(ellipse->n, level);
  ellipse->major = sqrt(scale * (middle + half));
  ellipse->minor = sqrt(scale * fmax(0, middle - half));
  ellipse->angle = 0.5 * atan2(2 * c.xy, c.xx - c.yy) * DEGREES;
  ellipse->correlation = c.xy / sqrt(c.xx * c.yy);
  return ellipse->minor > 0;
}

double ellipse_distance(const struct ellipse *ellipse, double x, double y) {
  double dx = x - ellipse->x, dy = y - ellipse->y;
  double c = cos(ellipse->angle / DEGREES), s = sin(ellipse->angle / DEGREES);
  double along = (dx * c + dy * s) / ellipse->major, across = (dy * c - dx * s) / ellipse->minor;
  return along * along + across * across;
}
