/* What is understood of a table, and what a cell is worth. */
#include <math.h>
#include <stdio.h>

#include "session/small.h"

struct taken {
  struct knowledge knowledge;
  struct arena *arena;
  struct diags diags;
  struct shots shots;
  struct intake intake;
  bool read;
};

static void take_with(struct taken *taken, const char *text, enum hand hand,
                      const struct unit_choice *units, size_t n_units) {
  struct small_feed feed = {text};
  assert_true(small_load(&taken->knowledge));
  taken->arena = arena_new(NULL);
  diags_init(&taken->diags, taken->arena);
  taken->shots = (struct shots){.arena = taken->arena, .model = taken->knowledge.model};
  assert_true(intake_start(&taken->intake, &taken->shots, "t.csv", &taken->diags));
  taken->intake.hand = hand;
  taken->intake.units = units;
  taken->intake.n_units = n_units;
  taken->read = intake_table(&taken->intake, table_open(taken->arena, small_fetch, &feed));
}

static void take(struct taken *taken, const char *text) {
  take_with(taken, text, HAND_RIGHT, NULL, 0);
}

static void drop(struct taken *taken) {
  arena_free(taken->arena);
  knowledge_free(&taken->knowledge);
}

static size_t evidence_of(const struct taken *taken, const char *name) {
  size_t evidence = model_find_evidence(taken->knowledge.model, name);
  assert_int_not_equal(evidence, NO_INDEX);
  return evidence;
}

static double reading(const struct taken *taken, const char *name, size_t shot) {
  const struct shot_column *column = shots_column(&taken->shots, evidence_of(taken, name));
  assert_non_null(column);
  assert_true(shot < shots_count(&taken->shots));
  return column->readings.at[shot];
}

static void assert_reading(const struct taken *taken, const char *name, size_t shot,
                           double expected) {
  double got = reading(taken, name, shot);
  if (!(fabs(got - expected) < 1e-9))
    fail_msg("%s of shot %zu is %g, expected %g", name, shot, got, expected);
}

static const struct diag *told(const struct taken *taken, enum diag_code code, size_t which) {
  for (size_t i = 0; i < taken->diags.list.n; i++)
    if (taken->diags.list.at[i].code == code && which-- == 0) return &taken->diags.list.at[i];
  return NULL;
}

static void assert_told(const struct taken *taken, enum diag_code code, uint32_t line,
                        uint32_t column, const char *words) {
  for (size_t i = 0;; i++) {
    const struct diag *diag = told(taken, code, i);
    if (!diag) fail_msg("not told at %u:%u: %s", (unsigned)line, (unsigned)column, words);
    if (diag->at.line == line && diag->at.column == column && strstr(diag->message, words)) return;
  }
}

/* ---- headers ---- */

static void header__is_read_in_trade_words(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "Shot,Club,Club-Path (deg),FaceAngle,Ball_Speed [mph],Weather,Notes\n"
               "1,7i,-1,2,88,sunny,good\n");
  assert_true(taken.read);
  const enum column_use uses[] = {USE_SHOT,     USE_CLUB,    USE_READINGS, USE_READINGS,
                                  USE_READINGS, USE_UNKNOWN, USE_IGNORED};
  for (size_t i = 0; i < COUNT_OF(uses); i++)
    assert_int_equal(taken.intake.columns[i].use, uses[i]);
  assert_int_equal(taken.intake.columns[2].unit_from, UNIT_HEADER);
  assert_int_equal(taken.intake.columns[3].unit_from, UNIT_USUAL);
  assert_reading(&taken, "path", 0, -1);
  assert_reading(&taken, "face", 0, 2);
  assert_reading(&taken, "ball_speed", 0, 88 * 0.44704);
  assert_int_equal(taken.diags.list.n, 0);
  drop(&taken);
}

static void header__may_stand_below_a_title_and_above_a_row_of_units(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "Practice of Monday;;\n\nclub;ball speed;strike\n;[mph];mm\n7i;88;5\n");
  assert_true(taken.read);
  assert_int_equal(taken.intake.n_before, 1);
  assert_int_equal(taken.intake.header_line, 3);
  assert_int_equal(taken.intake.columns[1].unit_from, UNIT_ROW);
  assert_int_equal(shots_count(&taken.shots), 1);
  assert_reading(&taken, "ball_speed", 0, 88 * 0.44704);
  assert_reading(&taken, "strike", 0, 5);
  drop(&taken);
}

static void header__unit_may_be_the_last_word(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path deg,ball speed km/h\n1,180\n");
  assert_reading(&taken, "path", 0, 1);
  assert_reading(&taken, "ball_speed", 0, 50);
  drop(&taken);
}

static void header__asks_for_a_unit_that_it_cannot_know(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path,ball speed\n1,88\n2,90\n");
  assert_true(taken.read);
  assert_true(isnan(reading(&taken, "ball_speed", 0)));
  assert_told(&taken, DIAG_COLUMN_SKIPPED, 1, 6, "--unit ball_speed=m/s, mph");
  assert_null(told(&taken, DIAG_COLUMN_SKIPPED, 1)); /* once */
  drop(&taken);
}

static void header__takes_the_unit_that_was_asked_for(void **state) {
  (void)state;
  struct taken taken;
  assert_true(small_load(&taken.knowledge));
  struct unit_choice unit = {model_find_evidence(taken.knowledge.model, "ball_speed"),
                             golf_unit_find("mph", 3)};
  knowledge_free(&taken.knowledge);
  take_with(&taken, "path,ball speed\n1,88\n2,90 m/s\n", HAND_RIGHT, &unit, 1);
  assert_reading(&taken, "ball_speed", 0, 88 * 0.44704);
  assert_reading(&taken, "ball_speed", 1, 90);
  assert_int_equal(taken.intake.columns[1].unit_from, UNIT_ASKED);
  drop(&taken);
}

static void header__what_it_says_goes_before_what_was_asked(void **state) {
  (void)state;
  struct taken taken;
  assert_true(small_load(&taken.knowledge));
  struct unit_choice unit = {model_find_evidence(taken.knowledge.model, "ball_speed"),
                             golf_unit_find("mph", 3)};
  knowledge_free(&taken.knowledge);
  take_with(&taken, "path,ball speed (m/s)\n1,40\n", HAND_RIGHT, &unit, 1);
  assert_reading(&taken, "ball_speed", 0, 40);
  drop(&taken);
}

static void header__leaves_out_what_cannot_be_used(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path (mm),face,face angle,both,start\n1,2,3,4,5\n");
  assert_int_equal(taken.intake.columns[0].use, USE_MISFIT);
  assert_int_equal(taken.intake.columns[2].use, USE_TWICE);
  assert_int_equal(taken.intake.columns[3].use, USE_AMBIGUOUS);
  assert_told(&taken, DIAG_COLUMN_SKIPPED, 1, 1, "club path is not in mm");
  assert_told(&taken, DIAG_COLUMN_SKIPPED, 1, 16, "an earlier column");
  assert_told(&taken, DIAG_COLUMN_SKIPPED, 1, 27, "two entries");
  assert_reading(&taken, "face", 0, 2);
  drop(&taken);
}

static void header__without_known_columns_is_an_error(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "one,two\n1,2\n3,4\n");
  assert_false(taken.read);
  assert_non_null(told(&taken, DIAG_NO_HEADER, 0));
  drop(&taken);
  take(&taken, "");
  assert_false(taken.read);
  drop(&taken);
  take(&taken, "path,face\n,\n-,n/a\n");
  assert_false(taken.read);
  assert_non_null(told(&taken, DIAG_NO_READINGS, 0));
  drop(&taken);
}

/* ---- cells ---- */

static void cell__takes_signs_sides_and_words(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path;strike (mm);face\n"
               "-5,2;3;1\n5.2 L;T 3;2.1 open\n"
               "R 3;4 heel;1 closed\n3 right;toe 2;open\nleft 3;heel;closed\n2.5R;12T;+4\n"
               "L;toe;\xE2\x88\x92"
               "3\n");
  /* The first row has a decimal comma, so the points of the second are refused. */
  assert_reading(&taken, "path", 0, -5.2);
  assert_true(isnan(reading(&taken, "path", 1)));
  assert_told(&taken, DIAG_BAD_CELL, 3, 1, "decimal comma");
  drop(&taken);
  take(&taken, "path;strike (mm);face\n"
               "-5.2;3;1\n5.2 L;T 3;2.1 open\n"
               "R 3;4 heel;1 closed\n3 right;toe 2;open\nleft 3;heel;closed\n2.5R;12T;+4\n"
               "L;toe;\xE2\x88\x92"
               "3\n");
  const double paths[] = {-5.2, -5.2, 3, 3, -3, 2.5, -4};
  const double strikes[] = {3, 3, -4, 2, -15, 12, 15};
  const double faces[] = {1, 2.1, -1, 4, -4, 4, -3};
  for (size_t i = 0; i < 7; i++) {
    assert_reading(&taken, "path", i, paths[i]);
    assert_reading(&taken, "strike", i, strikes[i]);
    assert_reading(&taken, "face", i, faces[i]);
  }
  assert_int_equal(taken.intake.n_bad, 0);
  drop(&taken);
}

/* Sides are as the player sees them; a word without a side means the same swing for both hands. */
static void cell__of_a_left_handed_player_is_as_the_player_sees_it(void **state) {
  (void)state;
  struct taken taken;
  take_with(&taken, "path,strike (mm),face\nL 3,T 3,2 open\nright,toe,closed\n", HAND_LEFT, NULL,
            0);
  assert_reading(&taken, "path", 0, -3);
  assert_reading(&taken, "strike", 0, 3);
  assert_reading(&taken, "face", 0, -2);
  assert_reading(&taken, "path", 1, 4);
  assert_reading(&taken, "strike", 1, 15);
  assert_reading(&taken, "face", 1, 4);
  drop(&taken);
}

static void cell__takes_units_and_the_degree_sign(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path,ball speed\n1.5\xC2\xB0,88 mph\n-2 deg,40m/s\n\xC2\xA0"
               "3 ,144 km/h\n");
  assert_reading(&taken, "path", 0, 1.5);
  assert_reading(&taken, "path", 1, -2);
  assert_reading(&taken, "path", 2, 3);
  assert_reading(&taken, "ball_speed", 0, 88 * 0.44704);
  assert_reading(&taken, "ball_speed", 1, 40);
  assert_reading(&taken, "ball_speed", 2, 40);
  drop(&taken);
}

static void cell__side_may_stand_in_a_column_of_its_own(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path,L/R,face\n5,L,1\n4,right,1\n-3,R,1\n2,up,1\n1,,1\n");
  const double paths[] = {-5, 4, -3, 2, 1};
  for (size_t i = 0; i < 5; i++) assert_reading(&taken, "path", i, paths[i]);
  assert_told(&taken, DIAG_BAD_CELL, 4, 4, "has a minus already");
  assert_told(&taken, DIAG_BAD_CELL, 5, 3, "no side");
  assert_int_equal(taken.intake.n_bad, 2);
  drop(&taken);
}

static void cell__decimal_commas_and_thousands(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path;ball speed (m/s);strike (mm)\n-1,5;40;3\n2,25;41;1.5\n");
  assert_reading(&taken, "path", 0, -1.5);
  assert_reading(&taken, "path", 1, 2.25);
  assert_true(isnan(reading(&taken, "strike", 1)));
  assert_int_equal(taken.intake.decimal, ',');
  drop(&taken);
  take(&taken, "path,ball speed (m/s)\n\"1,5\",40\n\"0,001\",\"4,000\"\n");
  assert_told(&taken, DIAG_BAD_CELL, 2, 1, "part thousands");
  assert_told(&taken, DIAG_BAD_CELL, 3, 9, "plausible range of ball speed is 5 to 95 m/s");
  drop(&taken);
  take(&taken, "path\tball speed (ft/s)\n-1,5\t131,2\n1,5\t\n");
  assert_reading(&taken, "path", 0, -1.5);
  assert_reading(&taken, "ball_speed", 0, 131.2 * 0.3048);
  drop(&taken);
}

static void cell__that_is_bad_costs_itself_alone(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path,face,contact,club\n"
               "abc,1,Fat,7i\n5 L R,2,clean,PW\n1 2,3,thin,9x\n-5 L,4,fat and thin,7-Iron\n"
               "99,5,,Pitching Wedge\n3 kg,6,-,\n\"1\"x,7,,\n1e5,8,,7i\n");
  assert_true(taken.read);
  for (size_t i = 0; i < 8; i++) {
    assert_true(isnan(reading(&taken, "path", i)));
    assert_reading(&taken, "face", i, (double)(i + 1));
  }
  assert_told(&taken, DIAG_BAD_CELL, 2, 1,
              "'abc' in column 'path' is left out: it is not a number");
  assert_told(&taken, DIAG_BAD_CELL, 3, 1, "names a side twice");
  assert_told(&taken, DIAG_BAD_CELL, 4, 1, "two numbers");
  assert_told(&taken, DIAG_BAD_CELL, 4, 7, "contact is one of clean, fat, fat_and_thin");
  assert_told(&taken, DIAG_BAD_CELL, 4, 12, "no such club");
  assert_told(&taken, DIAG_BAD_CELL, 5, 1, "a minus and a side");
  assert_told(&taken, DIAG_BAD_CELL, 6, 1, "-20 to 20 deg");
  assert_told(&taken, DIAG_BAD_CELL, 7, 1, "not measured in kg");
  assert_told(&taken, DIAG_BAD_CELL, 8, 1, "behind its closing quote");
  assert_int_equal(taken.intake.n_bad, 10);
  assert_int_equal(taken.intake.columns[0].n_bad, 8);
  assert_reading(&taken, "contact", 0, 1);
  assert_reading(&taken, "contact", 3, 2);
  const size_t clubs[] = {0, 1, NO_INDEX, 0, 1, NO_INDEX, NO_INDEX, 0};
  for (size_t i = 0; i < 8; i++) assert_int_equal(taken.shots.clubs.at[i], clubs[i]);
  drop(&taken);
}

static void cell__that_is_empty_is_not_known(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path,face\n1,\n2,-\n3,N/A\n4,NaN\n5,--\n");
  for (size_t i = 0; i < 5; i++) assert_true(isnan(reading(&taken, "face", i)));
  assert_int_equal(taken.intake.n_bad, 0);
  drop(&taken);
}

/* ---- rows ---- */

static void row__of_another_length_is_told_and_kept(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path,face,start\n1,2\n3,4,5,6\n7,8,9,,\n");
  assert_int_equal(taken.intake.n_ragged, 2);
  assert_told(&taken, DIAG_RAGGED_ROW, 2, 3, "this row: 2, in the header: 3");
  assert_told(&taken, DIAG_RAGGED_ROW, 3, 7, "too many");
  assert_reading(&taken, "path", 0, 1);
  assert_true(isnan(reading(&taken, "start", 0)));
  assert_reading(&taken, "start", 1, 5);
  assert_reading(&taken, "start", 2, 9);
  drop(&taken);
}

static void row__that_is_no_shot_is_passed_over(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "club,path,face\n7i,1,2\nAverage,1,2\nclub,path,face\n7i,3,4\nMean,9,9\n");
  assert_int_equal(shots_count(&taken.shots), 2);
  assert_int_equal(taken.intake.n_summary, 3);
  assert_reading(&taken, "path", 1, 3);
  assert_int_equal(taken.shots.lines.at[1], 5);
  drop(&taken);
}

static void row__faults_are_told_up_to_a_limit_and_all_counted(void **state) {
  (void)state;
  struct taken taken;
  char text[4096] = "path,face\n1,1\n";
  for (int i = 0; i < 100; i++) strcat(text, "x,1\n");
  take(&taken, text);
  assert_int_equal(taken.intake.n_bad, 100);
  assert_non_null(told(&taken, DIAG_BAD_CELL, CELL_FAULTS_MAX - 1));
  assert_null(told(&taken, DIAG_BAD_CELL, CELL_FAULTS_MAX));
  assert_true(strstr(told(&taken, DIAG_MORE_CELLS, 0)->message, "80 more") != NULL);
  drop(&taken);
}

static void table__fault_is_an_error(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path,face\n1,\"2\n");
  assert_false(taken.read);
  assert_told(&taken, DIAG_TABLE_FAULTY, 2, 3, "never closed");
  drop(&taken);
}

/* A stream is fed row by row; what is there can be looked at in between. */
static void intake_row__can_be_fed_one_by_one(void **state) {
  (void)state;
  struct taken taken;
  struct small_feed feed = {"path,face\n1,2\n3,4\n"};
  struct row row;
  take(&taken, "path\n1\n");
  struct shots shots = {.arena = taken.arena, .model = taken.knowledge.model};
  struct intake intake;
  assert_true(intake_start(&intake, &shots, "stream", &taken.diags));
  struct table *table = table_open(taken.arena, small_fetch, &feed);
  for (size_t i = 0; table_next(table, &row) == TABLE_ROW; i++) {
    assert_true(intake_row(&intake, &row, table_delimiter(table)));
    assert_int_equal(shots_count(&shots), i);
  }
  assert_true(intake_end(&intake));
  drop(&taken);
}

/* ---- names of the vocabulary, the hand, the player ---- */

static void header__may_be_the_name_of_an_evidence(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path,pain,Path Scatter,path_scatter (deg),scatter of the path,ball_speed\n"
               "1,no,2,3,4,40 m/s\n");
  assert_true(taken.read);
  assert_reading(&taken, "pain", 0, 0);
  assert_reading(&taken, "path_scatter", 0, 2);
  assert_int_equal(taken.intake.columns[3].use, USE_TWICE);
  assert_int_equal(taken.intake.columns[4].use, USE_TWICE);
  assert_reading(&taken, "ball_speed", 0, 40);
  drop(&taken);
}

/* One evidence in front of the header, such as an age, is no header. */
static void header__is_not_a_single_name_of_an_evidence(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "pain,no\nclub,path\n7i,1\n");
  assert_true(taken.read);
  assert_int_equal(taken.intake.header_line, 2);
  drop(&taken);
}

static void header__that_is_missing_is_told_at_the_first_row(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "\none,two\n1,2\n");
  assert_false(taken.read);
  assert_told(&taken, DIAG_NO_HEADER, 2, 1, "first 2 rows");
  drop(&taken);
}

/* 4 deg open is to the left of a left-handed player. */
static void hand__of_a_column_is_the_players(void **state) {
  (void)state;
  static const char *const left[] = {"L", "left", "Left-handed", "LH"};
  for (size_t i = 0; i < 4; i++) {
    struct taken taken;
    char text[100];
    snprintf(text, sizeof text, "face,player hand\n4 open,%s\n4 open,\n", left[i]);
    take(&taken, text);
    assert_true(taken.read);
    assert_int_equal(taken.intake.hand, HAND_LEFT);
    assert_reading(&taken, "face", 0, -4);
    assert_reading(&taken, "face", 1, -4);
    drop(&taken);
  }
}

static void hand__that_changes_is_refused(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path,hand\n1,right\n1,L\n");
  assert_false(taken.read);
  assert_told(&taken, DIAG_TABLE_FAULTY, 3, 3, "left-handed here and right-handed in line 2");
  drop(&taken);
  take(&taken, "path,hand\n1,\n1,L\n");
  assert_false(taken.read);
  assert_told(&taken, DIAG_TABLE_FAULTY, 3, 3, "no hand is named in the shots before");
  drop(&taken);
}

static void players__of_one_table_are_one(void **state) {
  (void)state;
  struct taken taken;
  take(&taken, "path,face,player,name\n1,1,Ann B.,7\n1,1,ann b,7\n1,1,,\n");
  assert_true(taken.read);
  drop(&taken);
  take(&taken, "path,player\n1,Ann\n1,Ann\n1,Bea\n");
  assert_false(taken.read);
  assert_told(&taken, DIAG_TABLE_FAULTY, 4, 3, "two players in one table?");
  assert_told(&taken, DIAG_TABLE_FAULTY, 4, 3, "'Bea' here and 'Ann' in line 2");
  drop(&taken);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(header__is_read_in_trade_words),
      cmocka_unit_test(header__may_stand_below_a_title_and_above_a_row_of_units),
      cmocka_unit_test(header__unit_may_be_the_last_word),
      cmocka_unit_test(header__asks_for_a_unit_that_it_cannot_know),
      cmocka_unit_test(header__takes_the_unit_that_was_asked_for),
      cmocka_unit_test(header__what_it_says_goes_before_what_was_asked),
      cmocka_unit_test(header__leaves_out_what_cannot_be_used),
      cmocka_unit_test(header__without_known_columns_is_an_error),
      cmocka_unit_test(cell__takes_signs_sides_and_words),
      cmocka_unit_test(cell__of_a_left_handed_player_is_as_the_player_sees_it),
      cmocka_unit_test(cell__takes_units_and_the_degree_sign),
      cmocka_unit_test(cell__side_may_stand_in_a_column_of_its_own),
      cmocka_unit_test(cell__decimal_commas_and_thousands),
      cmocka_unit_test(cell__that_is_bad_costs_itself_alone),
      cmocka_unit_test(cell__that_is_empty_is_not_known),
      cmocka_unit_test(row__of_another_length_is_told_and_kept),
      cmocka_unit_test(row__that_is_no_shot_is_passed_over),
      cmocka_unit_test(row__faults_are_told_up_to_a_limit_and_all_counted),
      cmocka_unit_test(table__fault_is_an_error),
      cmocka_unit_test(intake_row__can_be_fed_one_by_one),
      cmocka_unit_test(header__may_be_the_name_of_an_evidence),
      cmocka_unit_test(header__is_not_a_single_name_of_an_evidence),
      cmocka_unit_test(header__that_is_missing_is_told_at_the_first_row),
      cmocka_unit_test(hand__of_a_column_is_the_players),
      cmocka_unit_test(hand__that_changes_is_refused),
      cmocka_unit_test(players__of_one_table_are_one),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
