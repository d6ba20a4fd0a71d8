/* What the numbers of a shot imply: filling what is missing, outcomes, and their errors against
 * Monte Carlo. */
#include "support/cases.h"

#include <math.h>
#include <string.h>

#include "golf/close.h"
#include "golf/expect.h"
#include "golf/implied.h"
#include "golf/launch.h"
#include "golf/range.h"
#include "golf/residuals.h"

static const double mph = 0.44704, yard = 0.9144;

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

struct given {
  enum golf_fact fact;
  double value, error;
};

static struct golf_facts facts_of(const struct given *given, size_t n) {
  struct golf_facts facts = golf_facts_none();
  for (size_t i = 0; i < n; i++)
    golf_facts_set(&facts, given[i].fact, given[i].value, given[i].error);
  return facts;
}

static struct golf_outcomes outcomes_of(const struct golf_facts *facts) {
  struct golf_outcomes outcomes;
  struct golf_air air = golf_air_standard();
  assert_null(golf_implied(facts, GOLF_BLEND, &air, &outcomes));
  return outcomes;
}

static const struct given iron[] = {
    {GOLF_FACT_CLUB_LOFT, 37, 0},      {GOLF_FACT_HEAD_MASS, 275, 0},
    {GOLF_FACT_CLUB_SPEED, 32, 0.5},   {GOLF_FACT_FACE, 1, 1},
    {GOLF_FACT_PATH, -5, 1},           {GOLF_FACT_DELIVERED_LOFT, 29, 1.2},
    {GOLF_FACT_ATTACK, -3.5, 0.8},     {GOLF_FACT_STRIKE, 9, 3},
    {GOLF_FACT_STRIKE_HEIGHT, -4, 2.5}};
static const struct given measured[] = {{GOLF_FACT_BALL_SPEED, 39.4, 0.3},
                                        {GOLF_FACT_LAUNCH, 22, 0.7},
                                        {GOLF_FACT_START, -1, 0.8},
                                        {GOLF_FACT_BACKSPIN, 6500, 250},
                                        {GOLF_FACT_AXIS_TILT, 8, 2}};

static struct golf_facts whole_iron(void) {
  struct golf_facts facts = facts_of(iron, COUNT_OF(iron));
  for (size_t i = 0; i < COUNT_OF(measured); i++)
    golf_facts_set(&facts, measured[i].fact, measured[i].value, measured[i].error);
  golf_facts_complete(&facts);
  return facts;
}

/* ---- filling ---- */

static void golf_facts_complete__marks_what_it_takes_and_what_follows(void **state) {
  (void)state;
  struct golf_facts facts = facts_of(iron, 5);
  golf_facts_complete(&facts);
  assert_int_equal(facts.usual, 1u << GOLF_FACT_DELIVERED_LOFT | 1u << GOLF_FACT_ATTACK |
                                    1u << GOLF_FACT_STRIKE | 1u << GOLF_FACT_STRIKE_HEIGHT);
  assert_int_equal(facts.follows, 1u << GOLF_FACT_BALL_SPEED | 1u << GOLF_FACT_LAUNCH |
                                      1u << GOLF_FACT_START | 1u << GOLF_FACT_BACKSPIN |
                                      1u << GOLF_FACT_AXIS_TILT);
  struct golf_impact impact = {
      32, 1, -5, golf_expected_delivered_loft(37), golf_expected_attack(37), 275, 0, 0};
  struct golf_launch launch;
  assert_null(golf_launch(&impact, &launch));
  assert_close(facts.value[GOLF_FACT_BALL_SPEED], launch.ball_speed, 1e-12);
  assert_close(facts.value[GOLF_FACT_AXIS_TILT], launch.axis_tilt, 1e-12);
  /* Unseen: loft, attack, strike. Each must be in the error of the tilt. */
  assert_true(golf_fact_error(&facts, GOLF_FACT_AXIS_TILT) > 3);
}

static void golf_facts_complete__takes_nothing_without_a_club(void **state) {
  (void)state;
  const struct given few[] = {{GOLF_FACT_BALL_SPEED, 40, 0.3}};
  struct golf_facts facts = facts_of(few, 1);
  golf_facts_complete(&facts);
  assert_int_equal(facts.usual | facts.follows, 0);
  struct golf_outcomes outcomes = outcomes_of(&facts);
  for (int i = 0; i < GOLF_OUTCOMES; i++) assert_true(isnan(outcomes.value[i]));
}

static void golf_facts_complete__changes_nothing_given(void **state) {
  (void)state;
  struct golf_facts facts = whole_iron();
  assert_int_equal(facts.usual | facts.follows, 0);
  for (size_t i = 0; i < COUNT_OF(iron); i++)
    assert_true(facts.value[iron[i].fact] == iron[i].value);
}

static void golf_implied__without_face_and_path_the_side_is_not_known(void **state) {
  (void)state;
  struct golf_facts facts = facts_of(iron, 3);
  golf_facts_complete(&facts);
  assert_false(golf_facts_sideways(&facts));
  struct golf_outcomes outcomes = outcomes_of(&facts);
  assert_true(isnan(outcomes.value[GOLF_OUTCOME_SIDE]));
  assert_true(isnan(outcomes.value[GOLF_OUTCOME_CURVE]));
  assert_true(isnan(outcomes.value[GOLF_OUTCOME_SQUARE_CARRY]));
  assert_true(outcomes.value[GOLF_OUTCOME_CARRY] > 80);
  assert_true(outcomes.error[GOLF_OUTCOME_CARRY] > 3);
}

/* ---- outcomes ---- */

/* practice: the same 8 iron swing, struck better, leaves 6.5 mph faster and carries some 14 yd
 * further. The club speed is chosen so that the model gives the faster ball. */
static void golf_implied__tells_what_the_eight_iron_lost(void **state) {
  (void)state;
  struct golf_expected expected;
  golf_expect(32, 37, 275, &expected);
  double club_speed = 94.5 * mph / expected.speed_ratio;
  struct golf_shot shot = golf_residual_iron(0);
  const struct given given[] = {{GOLF_FACT_CLUB_LOFT, 37, 0},
                                {GOLF_FACT_HEAD_MASS, 275, 0},
                                {GOLF_FACT_CLUB_SPEED, club_speed, 0.3},
                                {GOLF_FACT_BALL_SPEED, shot.ball_speed, 0.3},
                                {GOLF_FACT_LAUNCH, shot.launch, 0.7},
                                {GOLF_FACT_BACKSPIN, shot.spin, 250}};
  struct golf_facts facts = facts_of(given, COUNT_OF(given));
  golf_facts_complete(&facts);
  struct golf_outcomes outcomes = outcomes_of(&facts);
  assert_close(outcomes.value[GOLF_OUTCOME_BALL_SPEED_SHORT] / mph, 6.5, 0.2);
  assert_close(outcomes.value[GOLF_OUTCOME_CARRY_SHORT] / yard, 14, 2);
  assert_close(outcomes.value[GOLF_OUTCOME_CARRY] / yard, 111, 3);
}

/* A ball speed worked out from the club speed cannot tell what was lost; a strike taken as usual
 * cannot tell what the middle would give. */
static void golf_implied__says_nothing_of_what_was_only_assumed(void **state) {
  (void)state;
  struct golf_facts facts = facts_of(iron, 5);
  golf_facts_complete(&facts);
  struct golf_outcomes outcomes = outcomes_of(&facts);
  assert_false(isnan(outcomes.value[GOLF_OUTCOME_EXPECTED_BALL_SPEED]));
  assert_true(isnan(outcomes.value[GOLF_OUTCOME_BALL_SPEED_SHORT]));
  assert_true(isnan(outcomes.value[GOLF_OUTCOME_CENTRED_CARRY]));
  assert_false(isnan(outcomes.value[GOLF_OUTCOME_SQUARE_CARRY]));
}

static void golf_implied__a_square_and_centred_shot_gains_nothing(void **state) {
  (void)state;
  struct golf_facts facts = whole_iron();
  golf_facts_set(&facts, GOLF_FACT_PATH, 1, 1);
  golf_facts_set(&facts, GOLF_FACT_STRIKE, 0, 3);
  golf_facts_set(&facts, GOLF_FACT_STRIKE_HEIGHT, 0, 2.5);
  struct golf_outcomes outcomes = outcomes_of(&facts);
  assert_close(outcomes.value[GOLF_OUTCOME_SQUARE_BALL_SPEED], 0, 1e-12);
  assert_close(outcomes.value[GOLF_OUTCOME_SQUARE_CARRY], 0, 1e-9);
  assert_close(outcomes.value[GOLF_OUTCOME_CENTRED_CARRY], 0, 1e-9);
  assert_true(outcomes.error[GOLF_OUTCOME_SQUARE_BALL_SPEED] > 0.01);
  assert_true(outcomes.error[GOLF_OUTCOME_CENTRED_BALL_SPEED] > 0.1);
}

static void golf_implied__the_path_where_the_face_looks_bends_nothing(void **state) {
  (void)state;
  struct golf_facts facts = facts_of(iron, COUNT_OF(iron));
  golf_facts_set(&facts, GOLF_FACT_STRIKE, 0, 3);
  golf_facts_complete(&facts);
  struct golf_outcomes outcomes = outcomes_of(&facts);
  double landing = outcomes.value[GOLF_OUTCOME_SQUARE_SIDE];
  double carry = outcomes.value[GOLF_OUTCOME_CARRY] + outcomes.value[GOLF_OUTCOME_SQUARE_CARRY];
  assert_close(asin(landing / carry) * 180 / acos(-1), facts.value[GOLF_FACT_FACE], 1e-6);
}

static void golf_implied__wind_moves_the_landing(void **state) {
  (void)state;
  struct golf_facts facts = whole_iron(), windy = facts;
  golf_facts_set(&windy, GOLF_FACT_TAIL_WIND, -5, 1.5);
  golf_facts_set(&windy, GOLF_FACT_CROSS_WIND, 3, 1.5);
  struct golf_outcomes still = outcomes_of(&facts), blown = outcomes_of(&windy);
  assert_true(blown.value[GOLF_OUTCOME_CARRY] < still.value[GOLF_OUTCOME_CARRY] - 5);
  assert_true(blown.value[GOLF_OUTCOME_SIDE] > still.value[GOLF_OUTCOME_SIDE] + 3);
  assert_true(blown.error[GOLF_OUTCOME_SIDE] > still.error[GOLF_OUTCOME_SIDE]);
}

/* A driver's gear effect on the toe: the strike's unit and sign must be right. */
static void golf_implied__mirrored_facts_give_mirrored_bits(void **state) {
  (void)state;
  const enum golf_fact sideways[] = {GOLF_FACT_FACE, GOLF_FACT_PATH, GOLF_FACT_STRIKE,
                                     GOLF_FACT_START, GOLF_FACT_AXIS_TILT};
  struct golf_facts facts = whole_iron(), mirror = facts;
  for (size_t i = 0; i < COUNT_OF(sideways); i++)
    golf_facts_set(&mirror, sideways[i], -facts.value[sideways[i]],
                   golf_fact_error(&facts, sideways[i]));
  struct golf_outcomes a = outcomes_of(&facts), b = outcomes_of(&mirror);
  for (int i = 0; i < GOLF_OUTCOMES; i++) {
    int turns = i == GOLF_OUTCOME_SIDE || i == GOLF_OUTCOME_CURVE ||
                i == GOLF_OUTCOME_CURVE_ANGLE || i == GOLF_OUTCOME_SQUARE_SIDE ||
                i == GOLF_OUTCOME_CENTRED_SIDE;
    assert_true(a.value[i] == (turns ? -b.value[i] : b.value[i]));
    assert_close(a.error[i], b.error[i], 1e-12 * a.error[i]);
  }
}

static void golf_implied__names_the_range_a_flight_misses(void **state) {
  (void)state;
  struct golf_facts facts = whole_iron();
  struct golf_air air = golf_air_standard();
  struct golf_outcomes outcomes;
  golf_facts_set(&facts, GOLF_FACT_BALL_SPEED, 402, 1);
  assert_string_equal(golf_implied(&facts, GOLF_BLEND, &air, &outcomes)->name, "ball_speed");
  assert_true(isnan(outcomes.value[GOLF_OUTCOME_CARRY]));
}

/* ---- errors ---- */

enum { DRAWS = 3000 };

/* Standard deviations of the outcomes when the given facts are drawn; facts that follow are worked
 * out anew from each draw. */
static void monte_carlo(const struct given *given, size_t n, double *deviation) {
  double sum[GOLF_OUTCOMES] = {0}, squares[GOLF_OUTCOMES] = {0};
  struct golf_facts middle = facts_of(given, n);
  golf_facts_complete(&middle);
  struct golf_outcomes nominal = outcomes_of(&middle);
  uint64_t seed = 88172645463325252u;
  for (int draw = 0; draw < DRAWS; draw++) {
    struct golf_facts facts = golf_facts_none();
    for (size_t i = 0; i < n; i++)
      golf_facts_set(&facts, given[i].fact, given[i].value + given[i].error * normal(&seed), 0);
    golf_facts_complete(&facts);
    struct golf_outcomes outcomes = outcomes_of(&facts);
    for (int i = 0; i < GOLF_OUTCOMES; i++) {
      double off = outcomes.value[i] - nominal.value[i];
      sum[i] += off / DRAWS;
      squares[i] += off * off / DRAWS;
    }
  }
  for (int i = 0; i < GOLF_OUTCOMES; i++) deviation[i] = sqrt(squares[i] - sum[i] * sum[i]);
}

/* The same facts known exactly leave what the models themselves leave open. */
static void compare(const struct given *given, size_t n) {
  double deviation[GOLF_OUTCOMES];
  struct golf_facts facts = facts_of(given, n), exact = golf_facts_none();
  for (size_t i = 0; i < n; i++) golf_facts_set(&exact, given[i].fact, given[i].value, 0);
  golf_facts_complete(&facts);
  golf_facts_complete(&exact);
  struct golf_outcomes all = outcomes_of(&facts), own = outcomes_of(&exact);
  monte_carlo(given, n, deviation);
  for (int i = 0; i < GOLF_OUTCOMES; i++) {
    if (isnan(all.value[i])) continue;
    double propagated = sqrt(all.error[i] * all.error[i] - own.error[i] * own.error[i]);
    if (!(fabs(propagated / deviation[i] - 1) <= 0.05)) {
      print_error("outcome %d: propagated %g, Monte Carlo %g\n", i, propagated, deviation[i]);
      fail();
    }
  }
}

static void golf_implied__monte_carlo_agrees_when_all_is_measured(void **state) {
  (void)state;
  struct given all[COUNT_OF(iron) + COUNT_OF(measured)];
  memcpy(all, iron, sizeof iron);
  memcpy(all + COUNT_OF(iron), measured, sizeof measured);
  compare(all, COUNT_OF(all));
}

static void golf_implied__monte_carlo_agrees_when_the_launch_follows(void **state) {
  (void)state;
  compare(iron, COUNT_OF(iron));
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_facts_complete__marks_what_it_takes_and_what_follows),
      cmocka_unit_test(golf_facts_complete__takes_nothing_without_a_club),
      cmocka_unit_test(golf_facts_complete__changes_nothing_given),
      cmocka_unit_test(golf_implied__without_face_and_path_the_side_is_not_known),
      cmocka_unit_test(golf_implied__tells_what_the_eight_iron_lost),
      cmocka_unit_test(golf_implied__says_nothing_of_what_was_only_assumed),
      cmocka_unit_test(golf_implied__a_square_and_centred_shot_gains_nothing),
      cmocka_unit_test(golf_implied__the_path_where_the_face_looks_bends_nothing),
      cmocka_unit_test(golf_implied__wind_moves_the_landing),
      cmocka_unit_test(golf_implied__mirrored_facts_give_mirrored_bits),
      cmocka_unit_test(golf_implied__names_the_range_a_flight_misses),
      cmocka_unit_test(golf_implied__monte_carlo_agrees_when_all_is_measured),
      cmocka_unit_test(golf_implied__monte_carlo_agrees_when_the_launch_follows),
  };
  return cmocka_run_group_tests_name("golf implied", cases, NULL, NULL);
}
