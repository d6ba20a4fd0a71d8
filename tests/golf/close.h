/* Comparison of doubles for the tests of golf/: says what was got and wanted when it fails. NaN
 * never passes. */
#ifndef TESTS_GOLF_CLOSE_H
#define TESTS_GOLF_CLOSE_H

#include <math.h>

static inline void close_or_fail(double got, double want, double within, const char *what,
                                 const char *file, int line) {
  if (fabs(got - want) <= within) return;
  print_error("%s = %.12g, wanted %.12g +/- %.3g\n", what, got, want, within);
  _fail(file, line);
}

#define assert_close(got, want, within) close_or_fail(got, want, within, #got, __FILE__, __LINE__)

#endif
