#include "support/cases.h"

#include <math.h>
#include <string.h>

#include "golf/close.h"
#include "golf/flight.h"
#include "golf/range.h"

static const double mph = 0.44704, yard = 0.9144, deg = 3.14159265358979323846 / 180;

static struct golf_flight fly(enum golf_model model, struct golf_shot shot, struct golf_air air) {
  struct golf_flight flight;
  assert_null(golf_fly(model, &shot, &air, NULL, &flight));
  assert_true(flight.carry > 0);
  return flight;
}

static struct golf_flight still(struct golf_shot shot) {
  return fly(GOLF_BLEND, shot, golf_air_standard());
}

/* Source: derived. */
static void golf_fly__no_air_gives_the_parabola(void **state) {
  (void)state;
  struct golf_air none = golf_air_standard();
  none.pressure = 0;
  for (double launch = 2; launch < 75; launch += 6.1)
    for (double speed = 12; speed < 90; speed += 19) {
      struct golf_shot shot = {speed, launch, 7, 3000, 10};
      struct golf_flight f = fly(GOLF_BLEND, shot, none);
      double up = speed * sin(launch * deg), along = speed * cos(launch * deg),
             time = 2 * up / 9.80665;
      assert_close(f.carry, along * time, 1e-6);
      assert_close(f.time, time, 1e-6);
      assert_close(f.apex, up * up / (2 * 9.80665), 1e-6);
      assert_close(f.side, along * time * sin(7 * deg), 1e-6);
      assert_close(f.curve, 0, 1e-6);
      assert_close(f.landing_angle, launch, 1e-6);
      assert_close(f.landing_speed, speed, 1e-6);
      assert_close(f.landing_spin, 3000, 1e-6);
    }
}

static void golf_fly__no_tilt_no_cross_wind_never_leaves_the_line(void **state) {
  (void)state;
  for (int model = 0; model < GOLF_MODELS; model++) {
    struct golf_air windy = golf_air_standard();
    windy.tail_wind = -6;
    struct golf_shot spun = {60, 15, 0, 5000, 0}, unspun = {60, 15, 0, 0, 0};
    assert_true(fly((enum golf_model)model, spun, windy).side == 0);
    assert_true(fly((enum golf_model)model, unspun, windy).side == 0);
  }
}

static void golf_fly__no_spin_ignores_the_axis(void **state) {
  (void)state;
  struct golf_shot level = {60, 15, 3, 0, 0}, tilted = {60, 15, 3, 0, 40};
  struct golf_flight a = still(level), b = still(tilted);
  assert_close(a.carry, b.carry, 1e-9);
  assert_close(a.side, b.side, 1e-9);
  assert_close(b.curve, 0, 1e-9);
}

static void golf_fly__turning_the_start_line_turns_the_flight(void **state) {
  (void)state;
  struct golf_shot ahead = {62, 14, 0, 4000, 9}, turned = {62, 14, 31, 4000, 9};
  struct golf_flight a = still(ahead), b = still(turned);
  assert_close(a.carry, b.carry, 2e-3);
  assert_close(a.curve, b.curve, 2e-3);
  assert_close(b.side, a.carry * sin(31 * deg + asin(a.curve / a.carry)), 3e-3);
}

static void golf_fly__mirrored_shot_gives_mirrored_bits(void **state) {
  (void)state;
  for (int model = 0; model < GOLF_MODELS; model++)
    for (double tilt = -37; tilt < 40; tilt += 7.3)
      for (double start = -11; start < 12; start += 3.9) {
        struct golf_shot shot = {58.3, 17.1, start, 5234, tilt}, mirrored = golf_shot_mirror(shot);
        struct golf_air air = {21, 998, 3.3, 4.1}, other = {21, 998, 3.3, -4.1};
        struct golf_flight a = fly((enum golf_model)model, shot, air);
        struct golf_flight b = fly((enum golf_model)model, mirrored, other);
        b.side = -b.side;
        b.curve = -b.curve;
        assert_memory_equal(&a, &b, sizeof a);
      }
}

static void golf_fly__plus_tilt_curves_right_and_cross_wind_pushes(void **state) {
  (void)state;
  struct golf_shot shot = {65, 13, -4, 3500, 12}, straight = {65, 13, 0, 3500, 0};
  struct golf_air cross = golf_air_standard();
  cross.cross_wind = 5;
  assert_true(still(shot).curve > 5);
  assert_true(fly(GOLF_BLEND, straight, cross).side > 5);
}

/* Source: derived; thinner air drags and lifts less. A drive is longer a mile up. */
static void golf_fly__altitude_lengthens_a_drive(void **state) {
  (void)state;
  struct golf_shot drive = {167.7 * mph, 10.8, 0, 2599, 0};
  double sea = fly(GOLF_BLEND, drive, golf_air_at(0, NAN)).carry;
  double mile = fly(GOLF_BLEND, drive, golf_air_at(1609, NAN)).carry;
  double hot = fly(GOLF_BLEND, drive, golf_air_at(0, 35)).carry;
  assert_true(mile > 1.02 * sea && mile < 1.15 * sea);
  assert_true(hot > sea);
}

/* The default tolerance against one ten thousand times finer: 0.1 yd is asked, 0.01 yd is kept. */
static void golf_fly__default_tolerance_is_true_to_a_hundredth_yard(void **state) {
  (void)state;
  double worst = 0;
  for (double speed = 22; speed < 88; speed += 7.7)
    for (double launch = 4; launch < 50; launch += 5.3)
      for (double spin = 500; spin < 11000; spin += 2100) {
        struct golf_shot shot = {speed, launch, 3, spin, 15};
        struct golf_air air = {12, 1000, -4, 3};
        struct golf_flight a, b;
        golf_fly(GOLF_BLEND, &shot, &air, NULL, &a);
        golf_fly_adjusted(GOLF_BLEND, &shot, &air, 0, 2e-9, NULL, &b);
        worst = fmax(worst, fabs(a.carry - b.carry));
        worst = fmax(worst, fabs(a.side - b.side));
        worst = fmax(worst, fabs(a.apex - b.apex));
      }
  assert_true(worst < 0.01 * yard);
}

static void golf_fly__path_samples_the_same_flight(void **state) {
  (void)state;
  struct golf_point points[400], few[3];
  struct golf_path path = {points, 400, 0, 0.05}, short_path = {few, 3, 0, 0.05};
  struct golf_shot shot = {60, 16, -2, 5500, 8};
  struct golf_air air = golf_air_standard();
  struct golf_flight f, g;
  golf_fly(GOLF_BLEND, &shot, &air, &path, &f);
  golf_fly(GOLF_BLEND, &shot, &air, &short_path, &g);
  assert_true(path.count > 50);
  double apex = 0;
  for (size_t i = 0; i + 1 < path.count; i++) {
    assert_close(points[i].time, 0.05 * (double)i, 1e-9);
    assert_true(points[i].z > -1e-9);
    apex = fmax(apex, points[i].z);
  }
  struct golf_point last = points[path.count - 1];
  assert_close(points[0].x, 0, 0);
  assert_close(points[0].speed, 60, 1e-9);
  assert_close(apex, f.apex, 0.02);
  assert_close(last.y, f.side, 0);
  assert_close(last.z, 0, 0);
  assert_close(last.time, f.time, 0);
  assert_int_equal(short_path.count, 3);
  assert_close(few[2].y, g.side, 0);
  assert_memory_equal(&f, &g, sizeof f);
}

/* Velocity of the samples is the slope of their places: the dense output belongs to the solution.
 */
static void golf_fly__samples_move_at_their_speed(void **state) {
  (void)state;
  struct golf_point points[4000];
  struct golf_path path = {points, 4000, 0, 0.002};
  struct golf_shot shot = {60, 16, -2, 5500, 8};
  struct golf_air air = golf_air_standard();
  struct golf_flight f;
  golf_fly(GOLF_BLEND, &shot, &air, &path, &f);
  for (size_t i = 1; i + 2 < path.count; i += 37) {
    struct golf_point a = points[i - 1], b = points[i + 1];
    double way =
        sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y) + (b.z - a.z) * (b.z - a.z));
    assert_close(way / 0.004, points[i].speed, 0.02);
  }
}

static void golf_fly__level_or_downward_launch_stays_on_the_ground(void **state) {
  (void)state;
  struct golf_shot topped = {30, -5, 2, 500, 0};
  struct golf_air air = golf_air_standard();
  struct golf_point point;
  struct golf_path path = {&point, 1, 0, 0.1};
  struct golf_flight f;
  assert_null(golf_fly(GOLF_BLEND, &topped, &air, &path, &f));
  assert_close(f.carry, 0, 0);
  assert_close(f.landing_angle, 5, 0);
  assert_int_equal(path.count, 1);
}

static void golf_fly__bad_input_is_refused_by_name(void **state) {
  (void)state;
  struct golf_air air = golf_air_standard(), storm = air;
  storm.tail_wind = 80;
  struct golf_shot fast = {900 * mph, 12, 0, 2500, 0}, none = {60, NAN, 0, 2500, 0};
  struct golf_shot spun = {60, 12, 0, 90000, 0}, steep = {60, 60, 0, 2500, 45},
                   fine = {60, 12, 0, 2500, 0};
  struct golf_flight f;
  const struct golf_range *range = golf_fly(GOLF_BLEND, &fast, &air, NULL, &f);
  assert_string_equal(range->name, "ball_speed");
  assert_true(range->high < 900 * mph && isnan(f.carry) && isnan(f.carry_error));
  assert_string_equal(golf_fly(GOLF_BLEND, &none, &air, NULL, &f)->name, "launch");
  assert_string_equal(golf_fly(GOLF_BLEND, &spun, &air, NULL, &f)->name, "spin");
  assert_ptr_equal(golf_fly(GOLF_BLEND, &steep, &air, NULL, &f),
                   golf_range_of(GOLF_AXIS_AT_LAUNCH));
  assert_string_equal(golf_fly(GOLF_BLEND, &fine, &storm, NULL, &f)->name, "tail_wind");
}

/* Every corner of the plausible ranges either lands or is refused: no NaN, no endless flight. */
static void golf_fly__corners_of_the_ranges_land(void **state) {
  (void)state;
  const double speeds[] = {2, 105}, launches[] = {0.01, 75}, spins[] = {0, 16000},
               tilts[] = {-15, 15};
  const double winds[] = {-30, 30}, temperatures[] = {-20, 50}, pressures[] = {0, 500, 1100};
  for (int i = 0; i < 64; i++)
    for (int p = 0; p < 3; p++)
      for (int model = 0; model < GOLF_MODELS; model++) {
        struct golf_shot shot = {speeds[i & 1], launches[i >> 1 & 1], 0, spins[i >> 2 & 1],
                                 tilts[i >> 3 & 1]};
        struct golf_air air = {temperatures[i >> 5 & 1], pressures[p], winds[i >> 4 & 1], 5};
        struct golf_flight f;
        assert_null(golf_fly((enum golf_model)model, &shot, &air, NULL, &f));
        assert_false(isnan(f.carry));
        assert_true(f.steps < 4000);
      }
}

static void golf_flight_error__adds_inputs_and_model(void **state) {
  (void)state;
  struct golf_shot shot = {60, 16, 1, 5500, 4}, exact = {0, 0, 0, 0, 0},
                   error = {0.5, 0.7, 1, 300, 3};
  struct golf_air air = golf_air_standard();
  struct golf_flight e, none;
  golf_flight_error(GOLF_BLEND, &shot, &exact, &air, &none);
  golf_flight_error(GOLF_BLEND, &shot, &error, &air, &e);
  assert_close(none.carry, none.carry_error, 1e-12);
  assert_close(none.side, 0, 0);
  assert_true(e.carry > e.carry_error && e.carry < 4 * e.carry_error);
  struct golf_shot faster = shot;
  faster.ball_speed += 0.5;
  struct golf_shot speed_only = {0.5, 0, 0, 0, 0};
  golf_flight_error(GOLF_BLEND, &shot, &speed_only, &air, &none);
  assert_close(sqrt(none.carry * none.carry - none.carry_error * none.carry_error),
               still(faster).carry - still(shot).carry, 0.03);
  assert_true(none.carry_error >= 0.04 * still(shot).carry);
  shot.ball_speed = 900;
  assert_string_equal(golf_flight_error(GOLF_BLEND, &shot, &error, &air, &e)->name, "ball_speed");
}

static void golf_spin_total__and_tilt_come_from_parts(void **state) {
  (void)state;
  double total = hypot(3000, -800), tilt = golf_tilt_from_spins(3000, -800);
  assert_true(tilt < 0);
  assert_close(golf_spin_total(3000, tilt), total, 1e-9);
}

/* Source: derived. Right after launch the lift of an axis square to the launch direction with
 * elevation t pushes sideways by sin t / cos l of itself, where a level axis lifts by cos l.
 * lyu2018's drag does not know the spin. */
static void golf_fly__axis_is_square_to_the_launch_direction(void **state) {
  (void)state;
  struct golf_point points[3][8];
  struct golf_shot shots[] = {{60, 30, 0, 4000, 20}, {60, 30, 0, 4000, 0}, {60, 30, 0, 0, 0}};
  struct golf_air air = golf_air_standard();
  struct golf_flight f;
  for (int i = 0; i < 3; i++) {
    struct golf_path path = {points[i], 8, 0, 0.002};
    golf_fly(GOLF_LYU2018, &shots[i], &air, &path, &f);
  }
  double lift = points[1][5].z - points[2][5].z;
  assert_close(points[0][5].y / lift, sin(20 * deg) / (cos(30 * deg) * cos(30 * deg)), 2e-3);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_fly__no_air_gives_the_parabola),
      cmocka_unit_test(golf_fly__no_tilt_no_cross_wind_never_leaves_the_line),
      cmocka_unit_test(golf_fly__no_spin_ignores_the_axis),
      cmocka_unit_test(golf_fly__turning_the_start_line_turns_the_flight),
      cmocka_unit_test(golf_fly__mirrored_shot_gives_mirrored_bits),
      cmocka_unit_test(golf_fly__plus_tilt_curves_right_and_cross_wind_pushes),
      cmocka_unit_test(golf_fly__altitude_lengthens_a_drive),
      cmocka_unit_test(golf_fly__default_tolerance_is_true_to_a_hundredth_yard),
      cmocka_unit_test(golf_fly__path_samples_the_same_flight),
      cmocka_unit_test(golf_fly__samples_move_at_their_speed),
      cmocka_unit_test(golf_fly__level_or_downward_launch_stays_on_the_ground),
      cmocka_unit_test(golf_fly__bad_input_is_refused_by_name),
      cmocka_unit_test(golf_fly__corners_of_the_ranges_land),
      cmocka_unit_test(golf_flight_error__adds_inputs_and_model),
      cmocka_unit_test(golf_spin_total__and_tilt_come_from_parts),
      cmocka_unit_test(golf_fly__axis_is_square_to_the_launch_direction),
  };
  return cmocka_run_group_tests_name("golf flight", cases, NULL, NULL);
}
