#include "support/cases.h"

#include <math.h>

#include "golf/close.h"
#include "golf/geometry.h"

/* Source: derived (arc in a tilted plane); values of the reference's Impact geometry. */
static void golf_path_from_arc__reference_values(void **state) {
  (void)state;
  assert_close(golf_path_from_arc(0, -5, 45), 5.019, 5e-4);
  assert_close(golf_path_from_arc(0, -5, 50), 4.210, 5e-4);
  assert_close(golf_path_from_arc(0, -5, 60), 2.895, 5e-4);
  assert_close(golf_path_from_arc(0, 3, 60), -1.734, 5e-4);
  assert_close(golf_path_from_arc(-6, -5, 60), -6 + 2.895, 5e-4);
}

static void golf_arc_from_path__undoes_path_from_arc(void **state) {
  (void)state;
  for (double attack = -12; attack <= 8; attack += 0.9)
    for (double tilt = 40; tilt <= 70; tilt += 3.1) {
      double path = golf_path_from_arc(-4.3, attack, tilt);
      assert_close(golf_arc_from_path(path, attack, tilt), -4.3, 1e-12);
      assert_close(golf_attack_from_arc(-4.3, path, tilt), attack, 1e-9);
    }
}

static void golf_path_from_arc__steeper_attack_than_plane_is_no_number(void **state) {
  (void)state;
  assert_true(isnan(golf_path_from_arc(0, -40, 30)));
  assert_true(isnan(golf_low_point(-40, 30, 1.5)));
}

/* Source: derived. The arc is written out as a circle in a tilted plane and differentiated
 * numerically. */
static void golf_low_point__agrees_with_a_circle_walked_by_hand(void **state) {
  (void)state;
  const double radius = 1.6, tilt = 55 * acos(-1) / 180, h = 1e-6;
  for (double t = -0.2; t <= 0.2; t += 0.05) {
    double ahead = radius * sin(t), down = -radius * cos(t);
    double dx = (radius * sin(t + h) - radius * sin(t - h)) / (2 * h);
    double dslope = (-radius * cos(t + h) + radius * cos(t - h)) / (2 * h);
    double attack = atan2(dslope * sin(tilt), hypot(dx, dslope * cos(tilt))) * 180 / acos(-1);
    double sideways = atan2(-dslope * cos(tilt), dx) * 180 / acos(-1);
    assert_true(down < 0);
    assert_close(golf_low_point(attack, 55, radius), -ahead, 1e-8);
    assert_close(golf_path_from_arc(0, attack, 55), sideways, 1e-6);
    assert_close(golf_attack_from_low_point(-ahead, 55, radius), attack, 1e-6);
  }
  assert_true(golf_low_point(-5, 60, 1.6) > 0);
}

/* Sources: reference's Impact geometry; D-plane jorgensen-1999 (memory), mathematics derived. */
static void golf_axis_tilt__reference_values(void **state) {
  (void)state;
  assert_close(golf_axis_tilt(3, 0, 12, 0), 13.83, 5e-3);
  assert_close(golf_axis_tilt(3, 0, 30, 0), 5.18, 5e-3);
  assert_close(golf_axis_tilt(3, 0, 45, 0), 3.00, 5e-3);
  assert_close(golf_axis_tilt(2, -4, 14, 2), 25.97, 5e-3);
  assert_close(golf_axis_tilt(-1, 3, 20, -4), -9.14, 5e-3);
  assert_true(fabs(golf_axis_tilt(3, 0, 45, 0) - 3.81) > 0.5);
}

/* Source: derived. The same from the vectors of the reference, written out. */
static void golf_axis_tilt__agrees_with_the_cross_product(void **state) {
  (void)state;
  const double deg = acos(-1) / 180;
  for (double f = -12; f <= 12; f += 3.7)
    for (double p = -11; p <= 11; p += 2.9)
      for (double l = 3; l <= 60; l += 9.5)
        for (double a = -9; a <= 6; a += 2.3) {
          double v[] = {cos(a * deg) * cos(p * deg), cos(a * deg) * sin(p * deg), sin(a * deg)};
          double n[] = {cos(l * deg) * cos(f * deg), cos(l * deg) * sin(f * deg), sin(l * deg)};
          double x = v[1] * n[2] - v[2] * n[1], y = v[2] * n[0] - v[0] * n[2],
                 z = v[0] * n[1] - v[1] * n[0];
          double dot = v[0] * n[0] + v[1] * n[1] + v[2] * n[2];
          assert_close(golf_axis_tilt(f, p, l, a), atan2(z, hypot(x, y)) / deg, 1e-9);
          assert_close(golf_incidence(f, p, l, a), acos(fmin(1, dot)) / deg, 1e-6);
        }
}

static void golf_incidence__square_face_gives_loft_less_attack(void **state) {
  (void)state;
  assert_close(golf_incidence(3, 3, 28, -4), 32, 1e-12);
  assert_close(golf_incidence(0, 0, 1e-9, 0), 1e-9, 1e-18);
}

static void golf_face_to_path_from_tilt__undoes_axis_tilt(void **state) {
  (void)state;
  for (double d = -20; d <= 20; d += 1.7)
    for (double l = 8; l <= 60; l += 6.5)
      for (double a = -8; a <= 5; a += 2.1) {
        double tilt = golf_axis_tilt(d + 1, 1, l, a);
        double back = golf_face_to_path_from_tilt(tilt, l, a);
        assert_close(golf_axis_tilt(back, 0, l, a), tilt, 1e-9);
        if (l - a > 25) assert_close(back, d, 1e-8);
      }
  assert_close(golf_face_to_path_from_tilt(0, 20, -2), 0, 0);
}

/* Source: wood-2018 (2nd). */
static void golf_start_direction__reference_value_and_shares(void **state) {
  (void)state;
  assert_close(golf_start_direction(2, -4, 10.5), 0.56, 1e-12);
  assert_close(golf_face_share(10.5), 0.76, 1e-15);
  assert_close(golf_face_share(33), 0.69, 1e-15);
  assert_close(golf_face_share(54), 0.61, 1e-15);
  assert_close(golf_face_share_error(10.5), 0.08, 1e-15);
  assert_close(golf_face_share_error(33), 0.03, 1e-15);
  assert_close(golf_face_share_error(54), 0.07, 1e-15);
  assert_close(golf_loft_share(10.5), 0.83, 1e-15);
  assert_close(golf_loft_share(33), 0.81, 1e-15);
  assert_close(golf_loft_share(54), 0.72, 1e-15);
  assert_true(golf_face_share(20) < 0.76 && golf_face_share(20) > 0.69);
}

static void golf_start_direction__inverses_undo_it(void **state) {
  (void)state;
  for (double loft = 5; loft < 65; loft += 4.7) {
    double start = golf_start_direction(2.5, -3.75, loft);
    assert_close(golf_face_from_start(start, -3.75, loft), 2.5, 1e-12);
    assert_close(golf_path_from_start(start, 2.5, loft), -3.75, 1e-12);
    double launch = golf_launch_angle(loft, -3);
    assert_close(golf_loft_from_launch(launch, -3), loft, 1e-9);
  }
}

static void geometry__mirrored_input_gives_mirrored_bits(void **state) {
  (void)state;
  for (double f = -9.3; f < 10; f += 1.13)
    for (double p = -8.7; p < 9; p += 1.37) {
      assert_true(golf_axis_tilt(-f, -p, 17.3, -3.1) == -golf_axis_tilt(f, p, 17.3, -3.1));
      assert_true(golf_incidence(-f, -p, 17.3, -3.1) == golf_incidence(f, p, 17.3, -3.1));
      assert_true(golf_start_direction(-f, -p, 17.3) == -golf_start_direction(f, p, 17.3));
      assert_true(golf_face_from_start(-f, -p, 17.3) == -golf_face_from_start(f, p, 17.3));
      assert_true(golf_path_from_start(-f, -p, 17.3) == -golf_path_from_start(f, p, 17.3));
      assert_true(golf_face_to_path_from_tilt(-f, 17.3, -3.1) ==
                  -golf_face_to_path_from_tilt(f, 17.3, -3.1));
    }
}

/* The arc rule is not odd in one hand's frame: hitting down moves the path away from the player. A
 * left-handed case is reflected before it comes here, so arc and path change sign together with the
 * plane's lean. */
static void geometry__no_number_in_gives_no_number_out(void **state) {
  (void)state;
  assert_true(isnan(golf_path_from_arc(NAN, -3, 55)));
  assert_true(isnan(golf_incidence(0, 0, NAN, 0)));
  assert_true(isnan(golf_axis_tilt(0, NAN, 20, 0)));
  assert_true(isnan(golf_start_direction(1, 2, NAN)));
  assert_true(isnan(golf_low_point(-3, NAN, 1.6)));
  assert_true(isnan(golf_face_to_path_from_tilt(NAN, 20, 0)));
  assert_true(isnan(golf_loft_share_error(NAN)));
  assert_true(isnan(golf_attack_from_low_point(2, 50, 1)));
  assert_true(isnan(golf_loft_from_launch(NAN, 0)));
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_path_from_arc__reference_values),
      cmocka_unit_test(golf_arc_from_path__undoes_path_from_arc),
      cmocka_unit_test(golf_path_from_arc__steeper_attack_than_plane_is_no_number),
      cmocka_unit_test(golf_low_point__agrees_with_a_circle_walked_by_hand),
      cmocka_unit_test(golf_axis_tilt__reference_values),
      cmocka_unit_test(golf_axis_tilt__agrees_with_the_cross_product),
      cmocka_unit_test(golf_incidence__square_face_gives_loft_less_attack),
      cmocka_unit_test(golf_face_to_path_from_tilt__undoes_axis_tilt),
      cmocka_unit_test(golf_start_direction__reference_value_and_shares),
      cmocka_unit_test(golf_start_direction__inverses_undo_it),
      cmocka_unit_test(geometry__mirrored_input_gives_mirrored_bits),
      cmocka_unit_test(geometry__no_number_in_gives_no_number_out),
  };
  return cmocka_run_group_tests_name("golf geometry", cases, NULL, NULL);
}
