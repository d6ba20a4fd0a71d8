/* Distributions against scipy 1.10 (Debian's python3-scipy: scipy.stats t, norm, f, betabinom);
 * Wilson's interval by its formula (derived). */
#include <math.h>

#include "session/distribution.h"
#include "support/cases.h"

static void assert_near(double got, double expected, double tolerance) {
  if (!(fabs(got - expected) <= tolerance)) fail_msg("%.15g, expected %.15g", got, expected);
}

static void student_share__agrees(void **state) {
  (void)state;
  assert_near(student_share(0, 3), 0.5, 1e-13);
  assert_near(student_share(1.5, 3.3), 0.8887484016403541, 1e-13);
  assert_near(student_share(-2.2, 7), 0.03186550765131839, 1e-13);
  assert_near(student_share(-1.8608, 17.776), 0.039698289069889925, 1e-13);
  assert_near(student_share(0.3, 1), 0.5927735790777423, 1e-13);
  assert_near(student_share(4, 120), 0.9999450280786879, 1e-13);
  assert_near(student_share(-12.9, 136.9), 1.0266030437234125e-25, 1e-13);
  assert_true(isnan(student_share(1, 0)));
}

/* scipy's own inverse is off by some 3e-9: its share of it is not p, ours is to 1e-14. */
static void student_quantile__agrees(void **state) {
  (void)state;
  assert_near(student_quantile(0.95, 2), 2.919985580355516, 1e-8);
  assert_near(student_quantile(0.95, 7), 1.894578605061305, 1e-8);
  assert_near(student_quantile(0.9, 29), 1.311433643950529, 1e-8);
  assert_near(student_share(student_quantile(0.9, 29), 29), 0.9, 1e-14);
  assert_near(student_quantile(0.975, 17.776), 2.102821310380133, 1e-8);
  assert_near(student_quantile(0.05, 5), -2.0150483726691575, 1e-8);
  assert_true(isnan(student_quantile(1, 5)));
}

static void normal_quantile__agrees(void **state) {
  (void)state;
  assert_near(normal_quantile(0.8), 0.8416212335729143, 1e-12);
  assert_near(normal_quantile(0.95), 1.6448536269514722, 1e-12);
  assert_near(normal_quantile(0.5), 0.0, 1e-12);
  assert_near(normal_quantile(0.001), -3.090232306167813, 1e-12);
  assert_near(normal_share(1.3), 0.9031995154143897, 1e-15);
}

static void f2_quantile__agrees(void **state) {
  (void)state;
  assert_near(f2_quantile(0.9, 8), 3.1131176401556915, 1e-10);
  assert_near(f2_quantile(0.9, 2), 9.000000000000002, 1e-10);
  assert_near(f2_quantile(0.95, 28), 3.340385558237759, 1e-10);
  assert_near(f2_quantile(0.5, 100), 0.6979739895014567, 1e-10);
}

static void further_hits_share__agrees(void **state) {
  (void)state;
  assert_near(further_hits_share(3, 10, 7, 12), 0.13774871826171892, 1e-12);
  assert_near(further_hits_share(0, 10, 5, 20), 0.0845538444207665, 1e-12);
  assert_near(further_hits_share(10, 10, 3, 4), 1.0, 1e-12);
  assert_near(further_hits_share(6, 20, 0, 9), 0.9851636149542178, 1e-12);
  assert_true(isnan(further_hits_share(1, 2, 5, 4)));
}

static void share_range_of__is_wilsons(void **state) {
  (void)state;
  assert_near(share_range_of(9, 30, 0.9).low, 0.18370722707644058, 1e-12);
  assert_near(share_range_of(9, 30, 0.9).high, 0.44938249617359916, 1e-12);
  assert_near(share_range_of(0, 5, 0.9).low, 0, 1e-12);
  assert_near(share_range_of(0, 5, 0.9).high, 0.3511165007651012, 1e-12);
  assert_near(share_range_of(5, 5, 0.9).low, 0.6488834992348987, 1e-12);
  assert_near(share_range_of(5, 5, 0.9).high, 0.9999999999999999, 1e-12);
  assert_near(share_range_of(15, 18, 0.9).low, 0.6481957285589156, 1e-12);
  assert_near(share_range_of(15, 18, 0.9).high, 0.9313592117209293, 1e-12);
  assert_near(share_range_of(0, 0, 0.9).high, 1, 0);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(student_share__agrees),      cmocka_unit_test(student_quantile__agrees),
      cmocka_unit_test(normal_quantile__agrees),    cmocka_unit_test(f2_quantile__agrees),
      cmocka_unit_test(further_hits_share__agrees), cmocka_unit_test(share_range_of__is_wilsons),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
