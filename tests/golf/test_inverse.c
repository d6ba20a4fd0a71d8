#include "support/cases.h"

#include <math.h>
#include <string.h>

#include "golf/close.h"
#include "golf/expect.h"
#include "golf/flight.h"
#include "golf/geometry.h"
#include "golf/inverse.h"
#include "golf/launch.h"
#include "golf/range.h"

static const struct golf_seen nothing_seen = {37, NAN, 0, NAN, 0, NAN, 0, NAN, 0, NAN, 0};

static struct golf_impact_guess guess_from(struct golf_seen seen) {
  struct golf_impact_guess guess;
  assert_null(golf_invert(&seen, &guess));
  return guess;
}

static void golf_invert__nothing_seen_leaves_everything_open(void **state) {
  (void)state;
  struct golf_impact_guess guess = guess_from(nothing_seen);
  for (int i = 0; i < GOLF_GUESSES; i++) {
    struct golf_estimate e = guess.of[i];
    assert_true(e.open);
    assert_close(e.sd, e.before, 1e-12);
    assert_true(e.low < e.mean && e.mean < e.high);
  }
  assert_close(guess.of[GOLF_GUESS_FACE].mean, 0, 0);
  assert_close(guess.of[GOLF_GUESS_DELIVERED_LOFT].mean, golf_expected_delivered_loft(37), 0);
}

/* A start left of and a curve to the right of the target line: path left of the face, both
 * narrowed. */
static void golf_invert__start_left_curve_right_is_a_cut(void **state) {
  (void)state;
  struct golf_seen seen = nothing_seen;
  seen.start = -4;
  seen.start_error = 2;
  seen.curve = 5;
  seen.curve_error = 2.5;
  struct golf_impact_guess guess = guess_from(seen);
  assert_true(guess.of[GOLF_GUESS_FACE_TO_PATH].mean > 2);
  assert_true(guess.of[GOLF_GUESS_PATH].mean < guess.of[GOLF_GUESS_FACE].mean);
  assert_true(guess.of[GOLF_GUESS_PATH].mean < -4);
  assert_false(guess.of[GOLF_GUESS_FACE].open);
  assert_true(guess.of[GOLF_GUESS_STRIKE].open);
  assert_true(guess.of[GOLF_GUESS_CLUB_SPEED].open);
}

/* With a driver an off-centre strike curves the ball too, so the same sight says less of face and
 * path. */
static void golf_invert__gear_effect_leaves_a_driver_more_open(void **state) {
  (void)state;
  struct golf_seen seen = nothing_seen;
  seen.start = -3;
  seen.curve = 5;
  seen.start_error = seen.curve_error = 1.5;
  struct golf_impact_guess iron = guess_from(seen);
  seen.club_loft = 10.5;
  struct golf_impact_guess driver = guess_from(seen);
  assert_true(driver.curve_from_strike > 2 * iron.curve_from_strike);
  assert_true(driver.of[GOLF_GUESS_STRIKE].mean < -1);
  assert_false(driver.of[GOLF_GUESS_STRIKE].sd > 10);
}

static double uniform(uint64_t *seed) {
  *seed ^= *seed << 13;
  *seed ^= *seed >> 7;
  *seed ^= *seed << 17;
  return ((double)(*seed >> 11) + 0.5) / 9007199254740992.0;
}
static double normal(uint64_t *seed) {
  double r = sqrt(-2 * log(uniform(seed)));
  return r * cos(2 * acos(-1) * uniform(seed));
}

/* Draws an impact from the priors and what an onlooker sees of it; state in the order of enum
 * golf_guess. */
static struct golf_seen draw(uint64_t *seed, double loft, double *truth) {
  double speed = golf_expected_club_speed(loft) * (1 + 0.15 * normal(seed));
  double middle[] = {0, 0, golf_expected_delivered_loft(loft), golf_expected_attack(loft)};
  const double spread[] = {5, 6, 4, 2.5};
  for (int i = 0; i < 4; i++) truth[i] = middle[i] + spread[i] * normal(seed);
  truth[GOLF_GUESS_CLUB_SPEED] = speed;
  truth[GOLF_GUESS_STRIKE] = 10 * normal(seed);
  truth[GOLF_GUESS_FACE_TO_PATH] = truth[0] - truth[1];
  struct golf_impact impact = {speed,
                               truth[0],
                               truth[1],
                               truth[2],
                               truth[3],
                               golf_expected_head_mass(loft),
                               truth[GOLF_GUESS_STRIKE],
                               0};
  struct golf_launch l;
  struct golf_flight f;
  struct golf_air air = golf_air_standard();
  golf_launch_compute(&impact, &l);
  struct golf_shot shot = {l.ball_speed, l.launch, l.start, l.spin, l.axis_tilt};
  golf_fly(GOLF_BLEND, &shot, &air, NULL, &f);
  struct golf_seen seen = {loft, NAN, 2, NAN, 2.5, NAN, 2.5, NAN, 10, NAN, 0};
  seen.start = l.start + 2 * normal(seed) + l.start_error * normal(seed);
  seen.curve = asin(f.curve / f.carry) * 180 / acos(-1);
  seen.curve += hypot(2.5, hypot(0.5, 0.2 * seen.curve)) * normal(seed);
  seen.launch = l.launch + hypot(2.5, l.launch_error) * normal(seed);
  seen.carry = f.carry + hypot(10, hypot(1.8, 0.04 * f.carry)) * normal(seed);
  return seen;
}

/* The 90 % ranges must hold the truth in about 90 % of cases: neither boastful nor empty. */
static void golf_invert__ranges_hold_what_they_say(void **state) {
  (void)state;
  const double lofts[] = {10.5, 24, 37, 46};
  int inside[GOLF_GUESSES] = {0}, drawn = 0;
  uint64_t seed = 88172645463325252u;
  for (int n = 0; n < 400; n++) {
    double truth[GOLF_GUESSES];
    struct golf_seen seen = draw(&seed, lofts[n % 4], truth);
    struct golf_impact_guess guess;
    if (isnan(seen.carry) || golf_invert(&seen, &guess)) continue;
    drawn++;
    for (int i = 0; i < GOLF_GUESSES; i++)
      inside[i] += truth[i] >= guess.of[i].low && truth[i] <= guess.of[i].high;
  }
  assert_true(drawn > 380);
  for (int i = 0; i < GOLF_GUESSES; i++) {
    double share = (double)inside[i] / drawn;
    if (!(share > 0.85 && share < 0.96)) {
      print_error("%s: %.3f of the truths lie in its 90 %% range\n",
                  golf_guess_name((enum golf_guess)i), share);
      fail();
    }
  }
}

static void golf_invert__mirrored_flight_gives_mirrored_bits(void **state) {
  (void)state;
  struct golf_seen seen = {10.5, -3, 1.5, 6, 2, 12, 2, 190, 10, 42, 1};
  struct golf_impact_guess a = guess_from(seen), b = guess_from(golf_seen_mirror(seen));
  const int sideways[] = {GOLF_GUESS_FACE, GOLF_GUESS_PATH, GOLF_GUESS_STRIKE,
                          GOLF_GUESS_FACE_TO_PATH};
  for (size_t i = 0; i < COUNT_OF(sideways); i++) {
    struct golf_estimate x = a.of[sideways[i]], y = b.of[sideways[i]];
    assert_true(x.mean == -y.mean && x.sd == y.sd && x.low == -y.high && x.high == -y.low);
  }
  assert_memory_equal(&a.of[GOLF_GUESS_DELIVERED_LOFT], &b.of[GOLF_GUESS_DELIVERED_LOFT],
                      sizeof a.of[0]);
  assert_true(a.face_path_correlation == b.face_path_correlation);
}

/* A carry short of what the club speed gives leaves the strike's side open but widens no range. */
static void golf_invert__more_sight_never_widens(void **state) {
  (void)state;
  struct golf_seen seen = {37, -4, 1.5, 5, 2, NAN, 2, NAN, 5, NAN, 1}, more = seen;
  more.launch = 22;
  more.carry = 105;
  more.club_speed = 33;
  struct golf_impact_guess a = guess_from(seen), b = guess_from(more);
  for (int i = 0; i < GOLF_GUESSES; i++) assert_true(b.of[i].sd <= a.of[i].sd * 1.1);
  assert_false(b.of[GOLF_GUESS_DELIVERED_LOFT].open);
}

static void golf_invert__bad_input_is_refused_by_name(void **state) {
  (void)state;
  struct golf_seen seen = nothing_seen;
  struct golf_impact_guess guess;
  seen.club_loft = NAN;
  assert_string_equal(golf_invert(&seen, &guess)->name, "club_loft");
  seen = nothing_seen;
  seen.start = 170;
  assert_string_equal(golf_invert(&seen, &guess)->name, "start");
  seen.start = 2;
  seen.start_error = -1;
  assert_string_equal(golf_invert(&seen, &guess)->name, "standard_error");
  seen.start_error = NAN;
  assert_string_equal(golf_invert(&seen, &guess)->name, "standard_error");
}

/* Exact eyes leave the doubt of the models: the share of the start, and a curve that grows with the
 * curve itself. */
static void golf_invert__exact_sight_leaves_the_doubt_of_the_models(void **state) {
  (void)state;
  struct golf_seen seen = {37, 0, 0, 1, 0, 20, 0, NAN, 0, 36, 0};
  struct golf_impact_guess small = guess_from(seen);
  seen.curve = 8;
  struct golf_impact_guess large = guess_from(seen);
  double loft = large.of[GOLF_GUESS_DELIVERED_LOFT].mean, share = golf_face_share(loft);
  double face = share * large.of[GOLF_GUESS_FACE].sd,
         path = (1 - share) * large.of[GOLF_GUESS_PATH].sd;
  double start = sqrt(face * face + path * path + 2 * face * path * large.face_path_correlation);
  double doubt = golf_face_share_error(loft) * large.of[GOLF_GUESS_FACE_TO_PATH].mean;
  assert_close(start, doubt, 0.2 * doubt);
  assert_true(large.of[GOLF_GUESS_FACE_TO_PATH].sd > 1.6 * small.of[GOLF_GUESS_FACE_TO_PATH].sd);
}

static void golf_tilt_from_curve__undoes_the_flight(void **state) {
  (void)state;
  double tilt = golf_tilt_from_curve(5, 37);
  struct golf_expected e;
  golf_expect(golf_expected_club_speed(37), 37, NAN, &e);
  struct golf_shot shot = {e.ball_speed, e.launch, 0, e.spin, tilt};
  struct golf_air air = golf_air_standard();
  struct golf_flight f;
  golf_fly(GOLF_BLEND, &shot, &air, NULL, &f);
  assert_close(asin(f.curve / f.carry) * 180 / acos(-1), 5, 1e-5);
  assert_true(isnan(golf_tilt_from_curve(NAN, 37)) && isnan(golf_tilt_from_curve(5, NAN)));
}

static void golf_flight_word_find__words_are_mirrored_pairs(void **state) {
  (void)state;
  size_t count;
  const struct golf_flight_word *words = golf_flight_words(&count);
  assert_true(count >= 10);
  const struct golf_flight_word *left = golf_flight_word_find("curve", "left");
  const struct golf_flight_word *right = golf_flight_word_find("curve", "right");
  assert_true(left->value == -right->value && left->error == right->error);
  for (size_t i = 0; i < count; i++) assert_true(words[i].error > 0);
  assert_null(golf_flight_word_find("start", "sideways"));
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_invert__nothing_seen_leaves_everything_open),
      cmocka_unit_test(golf_invert__start_left_curve_right_is_a_cut),
      cmocka_unit_test(golf_invert__gear_effect_leaves_a_driver_more_open),
      cmocka_unit_test(golf_invert__ranges_hold_what_they_say),
      cmocka_unit_test(golf_invert__mirrored_flight_gives_mirrored_bits),
      cmocka_unit_test(golf_invert__more_sight_never_widens),
      cmocka_unit_test(golf_invert__bad_input_is_refused_by_name),
      cmocka_unit_test(golf_tilt_from_curve__undoes_the_flight),
      cmocka_unit_test(golf_flight_word_find__words_are_mirrored_pairs),
      cmocka_unit_test(golf_invert__exact_sight_leaves_the_doubt_of_the_models),
  };
  return cmocka_run_group_tests_name("golf inverse", cases, NULL, NULL);
}
