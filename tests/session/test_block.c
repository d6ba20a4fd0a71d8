/* Blocks: figures, groups of misses, their diagnosis, what is common to them, the plan. */
#include <math.h>
#include <stdio.h>

#include "session/block_parts.h"
#include "session/small.h"

struct made {
  struct knowledge knowledge;
  struct arena *scratch;
  struct diags diags;
  struct run *player;
  struct session *session;
};

/* given: one choice of the player, or NULL. */
static void make_with(struct made *made, const char *text, enum hand hand, const char *given,
                      size_t choice) {
  struct small_feed feed = {text};
  assert_true(small_load(&made->knowledge));
  made->scratch = arena_new(NULL);
  diags_init(&made->diags, made->scratch);
  made->player = run_new(NULL, made->knowledge.network);
  made->player->hand = hand;
  struct value value = {.choice = choice, .sure = 1, .typed = "x"};
  if (given) value.evidence = model_find_evidence(made->knowledge.model, given);
  if (given) assert_true(run_give(made->player, &value));
  made->session = session_new(NULL, made->player);
  assert_true(session_read(made->session, "t.csv", small_fetch, &feed, &made->diags));
  assert_true(session_diagnose(made->session));
}

static void make(struct made *made, const char *text) {
  make_with(made, text, HAND_RIGHT, NULL, 0);
}

static void drop(struct made *made) {
  session_free(made->session);
  run_free(made->player);
  arena_free(made->scratch);
  knowledge_free(&made->knowledge);
}

static const struct block *only_block(const struct made *made) {
  assert_int_equal(made->session->n_blocks, 1);
  return &made->session->blocks[0];
}

static size_t claim_of(const struct made *made, const char *name) {
  return model_find_claim(made->knowledge.model, name);
}

static const struct figure *figure_of(const struct made *made, const char *name) {
  return block_figure(only_block(made), model_find_evidence(made->knowledge.model, name));
}

/* n rows of path, start and curve about the given ones, with a little scatter. */
static void add_rows(char *text, size_t room, int n, double path, double start, double curve) {
  for (int i = 0; i < n; i++) {
    size_t used = strlen(text);
    double d = 0.3 * (i % 3 - 1);
    snprintf(text + used, room - used, "7i,%.2f,%.2f,%.2f\n", path + d, start - d, curve + d / 2);
  }
}

#define HEADER "club,path,start,curve\n"

/* ---- figures ---- */

static void block__measures_each_column_and_what_is_worked_out(void **state) {
  (void)state;
  struct made made;
  make(&made, "club,path,face,ball speed (mph)\n7i,-4,0,88\n7i,-2,1,90\n7i,-3,2,\n");
  assert_int_equal(only_block(&made)->n_figures, 5);
  const struct figure *path = figure_of(&made, "path"), *speed = figure_of(&made, "ball_speed"),
                      *curve = figure_of(&made, "curve");
  assert_true(fabs(path->summary.mean + 3) < 1e-12 && path->summary.n == 3 && !path->derived);
  assert_true(fabs(speed->summary.mean - 89 * 0.44704) < 1e-12 && speed->summary.n == 2);
  assert_string_equal(speed->unit->name, "mph");
  assert_true(curve->derived && fabs(curve->summary.mean - 4) < 1e-12);
  drop(&made);
}

static void block__is_one_for_each_club_in_order(void **state) {
  (void)state;
  struct made made;
  make(&made, "club,path\nPW,1\n7i,2\npw,3\n,4\nxx,5\n");
  assert_int_equal(made.session->n_blocks, 3);
  const size_t sizes[] = {2, 1, 2};
  for (size_t i = 0; i < 3; i++) assert_int_equal(made.session->blocks[i].n, sizes[i]);
  assert_string_equal(made.knowledge.model->clubs[made.session->blocks[0].club].name, "pw");
  assert_int_equal(made.session->blocks[2].club, NO_INDEX);
  assert_int_equal(made.session->blocks[0].shots[1], 2);
  drop(&made);
}

static void block__marks_outliers_and_keeps_them(void **state) {
  (void)state;
  struct made made;
  make(&made, "path,face\n-4,0\n-5,1\n-4.5,0\n-3.9,1\n-4.2,0\n12,1\n");
  const struct block *block = only_block(&made);
  assert_int_equal(figure_of(&made, "path")->summary.n, 6);
  bool found = false;
  for (size_t i = 0; i < block->n_outliers; i++)
    found = found || (block->outliers[i].shot == 5 &&
                      &block->figures[block->outliers[i].figure] == figure_of(&made, "path"));
  assert_true(found);
  drop(&made);
}

/* ---- groups ---- */

static void groups__are_the_flights_that_finish_outside(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 9, -5, -5, 0); /* left, straight */
  add_rows(text, sizeof text, 6, 0, 5, 4);   /* right, right */
  add_rows(text, sizeof text, 2, -5, -9, 3); /* left, right: misses, but few */
  add_rows(text, sizeof text, 5, -5, -5, 5); /* comes back: no miss */
  add_rows(text, sizeof text, 3, 0, 0, 0);
  make(&made, text);
  const struct block *block = only_block(&made);
  assert_int_equal(block->n_sorted, 25);
  assert_int_equal(block->n_missed, 17);
  assert_int_equal(block->n_groups, 3);
  assert_int_equal(block->groups[0].n, 9);
  assert_int_equal(block->groups[0].start, SIDE_LEFT);
  assert_int_equal(block->groups[0].curve, SIDE_STRAIGHT);
  assert_int_equal(block->groups[1].n, 6);
  assert_int_equal(block->groups[1].curve, SIDE_RIGHT);
  assert_true(block->groups[0].run && block->groups[1].run && !block->groups[2].run);
  assert_int_equal(block->in_window.n, 8);
  assert_true(fabs(block->groups[1].mean.finish - 9) < 0.5);
  /* 9 of 25, Wilson at 0.9 (derived) */
  assert_true(fabs(block->groups[0].share.low - 0.2231) < 1e-3);
  assert_true(fabs(block->groups[0].share.high - 0.5243) < 1e-3);
  drop(&made);
}

static void groups__of_a_left_handed_player_are_the_mirror_image(void **state) {
  (void)state;
  struct made right, left;
  char a[4096] = HEADER, b[4096] = HEADER;
  add_rows(a, sizeof a, 9, -5, -5, 0);
  for (int i = 0; i < 9; i++) {
    size_t used = strlen(b);
    double d = 0.3 * (i % 3 - 1);
    snprintf(b + used, sizeof b - used, "7i,%.2f,%.2f,%.2f\n", 5 - d, 5 + d, 0 - d / 2);
  }
  make(&right, a);
  make_with(&left, b, HAND_LEFT, NULL, 0);
  const struct block *one = only_block(&right), *other = only_block(&left);
  assert_int_equal(one->groups[0].start, other->groups[0].start);
  assert_int_equal(one->n_causes, other->n_causes);
  for (size_t i = 0; i < one->n_causes; i++) {
    assert_int_equal(one->causes[i].claim, other->causes[i].claim);
    assert_true(fabs(one->causes[i].score - other->causes[i].score) < 1e-12);
  }
  assert_int_equal(block_drill(one), block_drill(other));
  assert_int_equal(one->test.direction, -other->test.direction);
  assert_true(fabs(one->test.reach + other->test.reach) < 1e-9);
  drop(&right);
  drop(&left);
}

/* sqrt(error^2 + spread^2 / n), the spread being the group's with the usual one as five more shots.
 */
static void group__mean_has_the_error_of_a_tendency(void **state) {
  (void)state;
  struct made made;
  make(&made, HEADER "7i,-4,-6,0\n7i,-5,-6,0\n7i,-6,-6,0\n7i,-5,-6,0\n");
  const struct block *block = only_block(&made);
  assert_int_equal(block->n_groups, 1);
  const struct run *run = block->groups[0].run;
  const struct reading *path = &run->readings[model_find_evidence(run->network->model, "path")];
  double seen = 2.0 / 3, spread = sqrt((5 * 4 + 3 * seen) / (5 + 3));
  assert_true(fabs(path->number + 5) < 1e-12);
  assert_true(fabs(path->error - sqrt(0.25 + spread * spread / 4)) < 1e-12);
  drop(&made);
}

static void group__gets_the_scatter_of_the_block(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  for (int i = 0; i < 10; i++) strcat(text, i % 2 ? "7i,-8,-6,0\n" : "7i,4,-6,0\n");
  make(&made, text);
  const struct run *run = only_block(&made)->groups[0].run;
  const struct reading *scatter =
      &run->readings[model_find_evidence(run->network->model, "path_scatter")];
  double sd = figure_of(&made, "path")->summary.sd;
  assert_int_equal(scatter->state, READING_GIVEN);
  assert_true(fabs(scatter->number - sd) < 1e-12);
  assert_true(fabs(scatter->error - sd / sqrt(18)) < 1e-12);
  drop(&made);
}

static void group__says_whether_misses_go_both_ways(void **state) {
  (void)state;
  struct made made;
  char one_way[4096] = HEADER, both[4096] = HEADER;
  add_rows(one_way, sizeof one_way, 8, -5, -6, 0);
  add_rows(both, sizeof both, 5, -5, -6, 0);
  add_rows(both, sizeof both, 4, 5, 6, 0);
  make(&made, one_way);
  size_t evidence = model_find_evidence(made.knowledge.model, "both_ways");
  assert_int_equal(only_block(&made)->groups[0].run->readings[evidence].choice, 0);
  drop(&made);
  make(&made, both);
  assert_int_equal(only_block(&made)->groups[0].run->readings[evidence].choice, 1);
  assert_int_equal(only_block(&made)->groups[1].run->readings[evidence].choice, 1);
  drop(&made);
}

static void block__without_flights_is_diagnosed_as_a_whole(void **state) {
  (void)state;
  struct made made;
  make(&made, "club,path\n7i,-6\n7i,-7\n7i,-6\n7i,-6.5\n");
  const struct block *block = only_block(&made);
  assert_int_equal(block->n_sorted, 0);
  assert_true(block->on_whole && block->whole.run);
  assert_int_equal(block->causes[0].claim, claim_of(&made, "steep"));
  assert_int_equal(block->one_cause, NO_INDEX);
  assert_int_equal(block_drill(block), claim_of(&made, "gate"));
  drop(&made);
}

static void block__with_too_few_misses_is_diagnosed_as_a_whole(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 2, -7, -6, 0);
  add_rows(text, sizeof text, 9, -6, 0, 0);
  make(&made, text);
  const struct block *block = only_block(&made);
  assert_int_equal(block->n_missed, 2);
  assert_true(block->on_whole && !block->groups[0].run);
  drop(&made);
}

/* Their mean would be a perfect swing. */
static void block__with_a_few_opposite_misses_is_not_averaged(void **state) {
  (void)state;
  struct made made;
  make(&made, "club,path,face\n7i,-6,1\n7i,6,-1\n7i,-6,1\n7i,6,-1\n");
  const struct block *block = only_block(&made);
  assert_int_equal(block->n_missed, 4);
  assert_int_equal(block->n_left, 2);
  assert_true(block->on_whole && block->apart);
  size_t path = model_find_evidence(made.knowledge.model, "path");
  assert_int_equal(block->whole.run->readings[path].state, READING_UNKNOWN);
  drop(&made);
  make(&made, "club,path,face\n7i,-6,1\n7i,-6,1\n");
  assert_true(only_block(&made)->on_whole && !only_block(&made)->apart);
  drop(&made);
}

/* Both conflicts share path and face, of which a run tells one. */
static void doubts__are_all_told(void **state) {
  (void)state;
  struct made made;
  make(&made, "path,face,start,curve\n-5,1,-8,-4\n-5,1,-8,-4\n-5,1,-8,-4\n-5,1,-8,-4\n");
  const struct block *block = only_block(&made);
  bool start = false, curve = false;
  for (size_t i = 0; i < block->n_doubts; i++) {
    start = start || strstr(block->doubts[i].told, "start -8");
    curve = curve || strstr(block->doubts[i].told, "curve -4");
  }
  assert_int_equal(block->n_doubts, 2);
  assert_true(start && curve);
  drop(&made);
  make(&made, "path,face,start,curve\n-5,1,-0.8,6\n-5,1,-0.8,6\n-5,1,-0.8,6\n");
  assert_int_equal(only_block(&made)->n_doubts, 0);
  drop(&made);
}

/* 0.5 deg is the error of a reading of the path. */
static void figure__error_keeps_that_of_the_device(void **state) {
  (void)state;
  struct made made;
  static char text[200000] = "path,start,curve\n";
  size_t at = strlen(text);
  for (int i = 0; i < 5000; i++)
    at += (size_t)snprintf(text + at, sizeof text - at, "%d,-6,0\n", i % 2 ? -6 : -4);
  make(&made, text);
  const struct figure *path = figure_of(&made, "path");
  assert_true(path->summary.error < 0.02);
  assert_true(fabs(path->error - hypot(0.5, path->summary.error)) < 1e-12);
  assert_true(path->moves >= path->error);
  drop(&made);
  make(&made, "path\n-6\n");
  assert_true(isnan(figure_of(&made, "path")->error) && isnan(figure_of(&made, "path")->moves));
  drop(&made);
}

/* ---- what is common ---- */

static void leading__is_the_cause_that_stands_out(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 9, -6, -6, 0);
  make(&made, text);
  assert_int_equal(only_block(&made)->leading, claim_of(&made, "steep"));
  drop(&made);
}

/* Near the threshold of -3: believed a little, and the drill is only worth a try. */
static void leading__is_none_of_weak_causes(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 9, -3.3, -6, 0);
  make(&made, text);
  const struct block *block = only_block(&made);
  assert_true(block->causes[0].score > 0.2 && block->causes[0].score < 0.4);
  assert_int_equal(block_drill(block), claim_of(&made, "gate"));
  assert_int_equal(block->leading, NO_INDEX);
  drop(&made);
}

static void leading__is_none_of_one_shot(void **state) {
  (void)state;
  struct made made;
  make(&made, HEADER "7i,-12,-12,0\n");
  const struct block *block = only_block(&made);
  assert_true(block->causes[0].score > 0.6);
  assert_int_equal(block->leading, NO_INDEX);
  drop(&made);
}

/* ---- what the answer hangs on ---- */

/* A weak grip seen leads before the path; unseen, the path would. */
static void hinges__are_what_was_seen_and_turns_the_answer(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 9, -6, -6, 0);
  make_with(&made, text, HAND_RIGHT, "grip", 1);
  const struct block *block = only_block(&made);
  assert_int_equal(block->causes[0].claim, claim_of(&made, "loose_grip"));
  assert_int_equal(block->n_hinges, 1);
  assert_int_equal(block->hinges[0].evidence, model_find_evidence(made.knowledge.model, "grip"));
  assert_int_equal(block->hinges[0].instead, claim_of(&made, "steep"));
  assert_true(fabs(block->hinges[0].margin - block->causes[1].score) < 1e-12);
  drop(&made);
}

static void hinges__are_none_of_what_changes_nothing(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 9, -6, -6, 0);
  make_with(&made, text, HAND_RIGHT, "grip", 0);
  assert_int_equal(only_block(&made)->n_hinges, 0);
  drop(&made);
  make_with(&made, text, HAND_RIGHT, "contact", 1); /* known, not seen by eye */
  assert_true(only_block(&made)->causes[0].claim == claim_of(&made, "digs") ||
              only_block(&made)->causes[1].claim == claim_of(&made, "digs"));
  assert_int_equal(only_block(&made)->n_hinges, 0);
  drop(&made);
}

/* Two opposite misses of one cause: path far left in both. */
static void one_cause__is_said_when_the_numbers_say_so(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 9, -6, -6, 0);
  add_rows(text, sizeof text, 6, -6, 0, 7);
  add_rows(text, sizeof text, 3, 0, 0, -7);
  add_rows(text, sizeof text, 6, 0, 0, 0);
  make(&made, text);
  const struct block *block = only_block(&made);
  assert_int_equal(block->n_groups, 3);
  assert_int_equal(block->causes[0].claim, claim_of(&made, "steep"));
  assert_int_equal(block->causes[0].explained, 15);
  assert_int_equal(block->one_cause, claim_of(&made, "steep"));
  assert_true(block->one_cause_share.low > ONE_CAUSE_SHARE);
  double certainty[2] = {block->causes[0].certainty[0], block->causes[0].certainty[1]};
  assert_true(certainty[0] > 0.6 && certainty[1] > 0.6);
  assert_true(fabs(block->causes[0].score - (9 * certainty[0] + 6 * certainty[1]) / 18) < 1e-12);
  assert_true(block->causes[0].in_window < 0.1);
  drop(&made);
}

static void one_cause__is_not_said_of_few_misses(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 7, -6, -6, 0);
  make(&made, text);
  assert_int_equal(only_block(&made)->causes[0].explained, 7);
  assert_int_equal(only_block(&made)->one_cause, NO_INDEX);
  drop(&made);
}

static void one_cause__is_not_said_of_half_the_misses(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 9, -6, -6, 0);
  add_rows(text, sizeof text, 8, 0, 0, -7);
  make(&made, text);
  const struct block *block = only_block(&made);
  assert_int_equal(block->causes[0].explained, 9);
  assert_int_equal(block->one_cause, NO_INDEX);
  drop(&made);
}

static void one_cause__is_not_said_when_another_explains_as_much(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 12, -6, 6, 0); /* steep and aims_off both */
  make(&made, text);
  const struct block *block = only_block(&made);
  assert_int_equal(block->n_causes, 2);
  assert_int_equal(block->causes[0].explained, 12);
  assert_true(block->causes[0].score - block->causes[1].score < ONE_CAUSE_MARGIN + 0.02);
  assert_true((block->one_cause == NO_INDEX) ==
              (block->causes[0].score - block->causes[1].score < ONE_CAUSE_MARGIN));
  drop(&made);
}

/* ---- the plan ---- */

static void plan__tests_the_number_that_the_drill_moves(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 12, -6, -6, 0);
  make(&made, text);
  const struct block *block = only_block(&made);
  assert_int_equal(block_drill(block), claim_of(&made, "gate"));
  assert_int_equal(block->test.kind, TEST_MEAN);
  assert_ptr_equal(&block->figures[block->test_figure], figure_of(&made, "path"));
  assert_int_equal(block->test.direction, 1);
  assert_int_equal(block->test.shots_before, 12);
  assert_true(block->test.reach > -6 && block->test.reach < -2.5);
  drop(&made);
}

static void plan__counts_shots_when_the_mean_is_fine_already(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 6, 0, 7, 0);
  add_rows(text, sizeof text, 6, 0, -7, 0);
  make(&made, text);
  const struct block *block = only_block(&made);
  assert_int_equal(block_drill(block), claim_of(&made, "line"));
  assert_int_equal(block->test.kind, TEST_HITS);
  assert_int_equal(block->test.counted_before, 0);
  drop(&made);
}

static void plan__counts_misses_when_its_number_is_not_in_the_table(void **state) {
  (void)state;
  struct made made;
  char text[4096] = "club,start,curve,contact\n";
  for (int i = 0; i < 12; i++) strcat(text, i % 4 ? "7i,-6,1,fat\n" : "7i,-6.5,1,clean\n");
  make(&made, text);
  const struct block *block = only_block(&made);
  assert_int_equal(block_drill(block), claim_of(&made, "thump")); /* works by attack */
  assert_int_equal(block->test.kind, TEST_MISSES);
  assert_int_equal(block->test.counted_before, 12);
  drop(&made);
}

/* The gate helps the 4 and would spoil the 9. */
static void plan__leaves_out_a_drill_that_spoils_more_than_it_helps(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 4, -6, -6, 0);
  add_rows(text, sizeof text, 9, 6, 0, -7);
  make(&made, text);
  const struct block *block = only_block(&made);
  assert_int_equal(block->n_drills,
                   1); /* it would help the few; it is only removed where it has value */
  drop(&made);
}

static void plan__offers_no_drill_against_pain(void **state) {
  (void)state;
  struct made made;
  char text[4096] = HEADER;
  add_rows(text, sizeof text, 12, -6, -6, 0);
  make_with(&made, text, HAND_RIGHT, "pain", 1);
  const struct block *block = only_block(&made);
  assert_int_equal(block->red_flag, claim_of(&made, "hurts"));
  assert_int_equal(block_drill(block), NO_INDEX);
  assert_int_equal(block->test.kind, TEST_NONE);
  drop(&made);
}

static void session__refuses_what_is_given_and_a_column(void **state) {
  (void)state;
  struct made made;
  struct small_feed feed = {"club,path\n7i,1\n"};
  assert_true(small_load(&made.knowledge));
  made.scratch = arena_new(NULL);
  diags_init(&made.diags, made.scratch);
  made.player = run_new(NULL, made.knowledge.network);
  struct value value = {.evidence = model_find_evidence(made.knowledge.model, "path"), .number = 1};
  assert_true(run_give(made.player, &value));
  made.session = session_new(NULL, made.player);
  assert_false(session_read(made.session, "t.csv", small_fetch, &feed, &made.diags));
  assert_int_equal(made.diags.list.at[0].code, DIAG_TWICE_GIVEN);
  drop(&made);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(block__measures_each_column_and_what_is_worked_out),
      cmocka_unit_test(block__is_one_for_each_club_in_order),
      cmocka_unit_test(block__marks_outliers_and_keeps_them),
      cmocka_unit_test(groups__are_the_flights_that_finish_outside),
      cmocka_unit_test(groups__of_a_left_handed_player_are_the_mirror_image),
      cmocka_unit_test(group__mean_has_the_error_of_a_tendency),
      cmocka_unit_test(group__gets_the_scatter_of_the_block),
      cmocka_unit_test(group__says_whether_misses_go_both_ways),
      cmocka_unit_test(block__without_flights_is_diagnosed_as_a_whole),
      cmocka_unit_test(block__with_too_few_misses_is_diagnosed_as_a_whole),
      cmocka_unit_test(block__with_a_few_opposite_misses_is_not_averaged),
      cmocka_unit_test(doubts__are_all_told),
      cmocka_unit_test(figure__error_keeps_that_of_the_device),
      cmocka_unit_test(leading__is_the_cause_that_stands_out),
      cmocka_unit_test(leading__is_none_of_weak_causes),
      cmocka_unit_test(leading__is_none_of_one_shot),
      cmocka_unit_test(hinges__are_what_was_seen_and_turns_the_answer),
      cmocka_unit_test(hinges__are_none_of_what_changes_nothing),
      cmocka_unit_test(one_cause__is_said_when_the_numbers_say_so),
      cmocka_unit_test(one_cause__is_not_said_of_few_misses),
      cmocka_unit_test(one_cause__is_not_said_of_half_the_misses),
      cmocka_unit_test(one_cause__is_not_said_when_another_explains_as_much),
      cmocka_unit_test(plan__tests_the_number_that_the_drill_moves),
      cmocka_unit_test(plan__counts_shots_when_the_mean_is_fine_already),
      cmocka_unit_test(plan__counts_misses_when_its_number_is_not_in_the_table),
      cmocka_unit_test(plan__leaves_out_a_drill_that_spoils_more_than_it_helps),
      cmocka_unit_test(plan__offers_no_drill_against_pain),
      cmocka_unit_test(session__refuses_what_is_given_and_a_column),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
