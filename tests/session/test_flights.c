/* Where shots start, curve and finish, given or worked out, for both hands. */
#include <math.h>

#include "session/small.h"

struct made {
  struct knowledge knowledge;
  struct arena *arena;
  struct diags diags;
  struct shots shots;
  struct flights flights;
};

static void make(struct made *made, const char *text, enum hand hand, double within) {
  struct small_feed feed = {text};
  struct intake intake;
  assert_true(small_load(&made->knowledge));
  made->arena = arena_new(NULL);
  diags_init(&made->diags, made->arena);
  made->shots = (struct shots){.arena = made->arena, .model = made->knowledge.model};
  assert_true(intake_start(&intake, &made->shots, "t.csv", &made->diags));
  intake.hand = hand;
  assert_true(intake_table(&intake, table_open(made->arena, small_fetch, &feed)));
  double *constants = arena_new_array(made->arena, double, made->knowledge.model->n_evidence);
  for (size_t i = 0; i < made->knowledge.model->n_evidence; i++) constants[i] = NAN;
  assert_true(flights_make(&made->flights, &made->shots, hand, &made->knowledge.model->windows[0],
                           within, constants));
}

static void drop(struct made *made) {
  arena_free(made->arena);
  knowledge_free(&made->knowledge);
}

static void assert_flight(const struct made *made, size_t shot, double start, double curve,
                          double finish) {
  const struct flight *flight = &made->flights.at[shot];
  const double got[] = {flight->start, flight->curve, flight->finish},
               expected[] = {start, curve, finish};
  for (int i = 0; i < 3; i++)
    if (!(fabs(got[i] - expected[i]) < 1e-9) && !(isnan(got[i]) && isnan(expected[i])))
      fail_msg("shot %zu, angle %d: %g, expected %g", shot, i, got[i], expected[i]);
}

static void flights_make__takes_what_is_given(void **state) {
  (void)state;
  struct made made;
  make(&made, "start,curve,path\n-3,5,9\n1,,9\n,2,9\n", HAND_RIGHT, 0);
  assert_flight(&made, 0, -3, 5, 2);
  assert_flight(&made, 1, 1, NAN, 1); /* the finish falls back on the start */
  assert_flight(&made, 2, NAN, 2, NAN);
  drop(&made);
}

static void flights_make__works_out_what_is_not(void **state) {
  (void)state;
  struct made made;
  make(&made, "path,face\n-4,1\n2,\n", HAND_RIGHT, 0);
  assert_flight(&made, 0, 0.7 - 1.2, 5, 4.5);
  assert_flight(&made, 1, NAN, NAN, NAN);
  drop(&made);
}

static void flights_make__mirrors_a_left_handed_player(void **state) {
  (void)state;
  struct made made;
  make(&made, "path,face\n4,-1\nR 4,L 1\n", HAND_LEFT, 0);
  assert_flight(&made, 0, 0.7 - 1.2, 5, 4.5);
  assert_flight(&made, 1, 0.7 - 1.2, 5, 4.5);
  assert_int_equal(flight_start(&made.flights, 0), SIDE_STRAIGHT);
  assert_int_equal(flight_curve(&made.flights, 0), SIDE_RIGHT);
  assert_int_equal(flight_finish(&made.flights, 0), SIDE_RIGHT);
  drop(&made);
}

static void flight_finish__follows_the_window_asked_for(void **state) {
  (void)state;
  struct made made;
  make(&made, "start,curve\n-3,0\n-3,0\n", HAND_RIGHT, 2.5);
  assert_int_equal(flight_finish(&made.flights, 0), SIDE_LEFT);
  assert_int_equal(flight_start(&made.flights, 0), SIDE_LEFT);
  drop(&made);
  make(&made, "start,curve\n-3,0\n-4,0\n-4.01,0\n", HAND_RIGHT, 0);
  assert_int_equal(flight_finish(&made.flights, 0), SIDE_STRAIGHT);
  assert_int_equal(flight_finish(&made.flights, 1), SIDE_STRAIGHT);
  assert_int_equal(flight_finish(&made.flights, 2), SIDE_LEFT);
  drop(&made);
}

static void side_class_of__knows_not_known(void **state) {
  (void)state;
  assert_int_equal(side_class_of(NAN, 2), SIDE_UNKNOWN);
  assert_int_equal(side_class_of(2, 2), SIDE_STRAIGHT);
  assert_int_equal(side_class_of(2.1, 2), SIDE_RIGHT);
  assert_int_equal(side_class_of(-2.1, 2), SIDE_LEFT);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(flights_make__takes_what_is_given),
      cmocka_unit_test(flights_make__works_out_what_is_not),
      cmocka_unit_test(flights_make__mirrors_a_left_handed_player),
      cmocka_unit_test(flight_finish__follows_the_window_asked_for),
      cmocka_unit_test(side_class_of__knows_not_known),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
