/* A single shot beside which pain stands stops a session, however it is written in the table. */
#include <stdio.h>

#include "session/small.h"

struct made {
  struct knowledge knowledge;
  struct arena *scratch;
  struct diags diags;
  struct run *player;
  struct session *session;
  bool read;
};

static void make(struct made *made, const char *text) {
  struct small_feed feed = {text};
  assert_true(small_load(&made->knowledge));
  made->scratch = arena_new(NULL);
  diags_init(&made->diags, made->scratch);
  made->player = run_new(NULL, made->knowledge.network);
  made->session = session_new(NULL, made->player);
  made->read = session_read(made->session, "t.csv", small_fetch, &feed, &made->diags);
  if (made->read) assert_true(session_diagnose(made->session));
}

static void drop(struct made *made) {
  session_free(made->session);
  run_free(made->player);
  arena_free(made->scratch);
  knowledge_free(&made->knowledge);
}

static void assert_stopped(const char *text, uint32_t line, const char *words) {
  struct made made;
  make(&made, text);
  assert_true(made.read);
  assert_int_equal(made.session->alarm.claim, model_find_claim(made.knowledge.model, "hurts"));
  assert_int_equal(made.session->alarm.line, line);
  assert_string_equal(made.session->alarm.words, words);
  for (size_t i = 0; i < made.session->n_blocks; i++) {
    assert_int_equal(made.session->blocks[i].red_flag, made.session->alarm.claim);
    assert_int_equal(block_drill(&made.session->blocks[i]), NO_INDEX);
    assert_int_equal(made.session->blocks[i].test.kind, TEST_NONE);
  }
  drop(&made);
}

static void assert_goes_on(const char *text) {
  struct made made;
  make(&made, text);
  assert_true(made.read);
  assert_int_equal(made.session->alarm.claim, NO_INDEX);
  assert_int_equal(block_drill(&made.session->blocks[0]),
                   model_find_claim(made.knowledge.model, "gate"));
  drop(&made);
}

static void assert_refused(const char *text, uint32_t line, uint32_t column, const char *words) {
  struct made made;
  make(&made, text);
  assert_false(made.read);
  const struct diag *diag = &made.diags.list.at[0];
  assert_int_equal(diag->code, DIAG_TABLE_FAULTY);
  assert_int_equal(diag->at.line, line);
  assert_int_equal(diag->at.column, column);
  assert_non_null(strstr(diag->message, words));
  drop(&made);
}

/* ---- single shots ---- */

static void alarm__is_raised_by_one_shot_of_many(void **state) {
  (void)state;
  char text[2000] = "club,path,start,curve,pain\n";
  for (int i = 0; i < 20; i++) strcat(text, i == 13 ? "7i,-6,-6,0,yes\n" : "7i,-6,-6,0,no\n");
  assert_stopped(text, 15, "pain yes");
}

static void alarm__of_one_club_stops_the_others(void **state) {
  (void)state;
  assert_stopped("club,path,pain\n7i,-6,\n7i,-6,no\npw,-6,yes\n", 4, "pain yes");
}

static void alarm__is_not_raised_by_no(void **state) {
  (void)state;
  assert_goes_on("club,path,start,curve,pain\n7i,-6,-6,0,no\n7i,-6,-6,0,\n7i,-6,-6,0,no\n");
}

static void alarm__reads_what_tables_write_for_yes_and_no(void **state) {
  (void)state;
  static const char *const yes[] = {"Y", "TRUE", "1", "Yes"}, *const no[] = {"N", "False", "0"};
  char text[200];
  for (size_t i = 0; i < 4; i++) {
    snprintf(text, sizeof text, "path,pain\n-6,%s\n", yes[i]);
    assert_stopped(text, 2, "pain yes");
  }
  for (size_t i = 0; i < 3; i++) {
    snprintf(text, sizeof text, "path,start,curve,pain\n-6,-6,0,%s\n-6,-6,0,no\n-6,-6,0,no\n",
             no[i]);
    assert_goes_on(text);
  }
}

static void alarm__of_what_is_given_for_all_has_no_line(void **state) {
  (void)state;
  struct made made;
  make(&made, "path\n-6\n");
  struct value value = {.evidence = model_find_evidence(made.knowledge.model, "pain"),
                        .choice = 1,
                        .sure = 1,
                        .typed = "yes"};
  assert_true(run_give(made.player, &value));
  assert_true(run_chain(made.player, NULL) && session_watch(made.session, 0));
  assert_int_not_equal(made.session->alarm.claim, NO_INDEX);
  assert_int_equal(made.session->alarm.line, 0);
  drop(&made);
}

/* ---- what cannot be understood ---- */

static void safety__that_is_not_understood_is_refused(void **state) {
  (void)state;
  assert_refused("path,pain\n-6,no\n-6,left wrist\n", 3, 4, "'left wrist' in column 'pain'");
}

static void safety__in_two_columns_is_refused(void **state) {
  (void)state;
  assert_refused("path,pain,Pain\n-6,no,yes\n", 1, 11, "two columns say 'pain'");
}

static void safety_evidence__is_what_red_flags_rest_on(void **state) {
  (void)state;
  struct made made;
  make(&made, "path\n-6\n");
  const struct model *model = made.knowledge.model;
  const bool *safety = safety_evidence(made.scratch, made.knowledge.network);
  assert_true(safety[model_find_evidence(model, "pain")]);
  size_t n = 0;
  for (size_t i = 0; i < model->n_evidence; i++) n += safety[i];
  assert_int_equal(n, 1);
  drop(&made);
}

/* The shipped safety evidence, by name and by title. */
static void safety_evidence__of_the_shipped_knowledge_is_understood_as_a_column(void **state) {
  (void)state;
  static const char *const directories[] = {"rules", "kb", NULL};
  static const char *const headers[] = {"pain",       "numbness",    "Numbness or tingling",
                                        "dizziness",  "people_near", "people near",
                                        "SpaceClear", "space_clear", "pain_place"};
  struct knowledge knowledge;
  assert_true(knowledge_load(&knowledge, directories, 0));
  struct arena *arena = arena_new(NULL);
  const bool *safety = safety_evidence(arena, knowledge.network);
  for (size_t i = 0; i < sizeof headers / sizeof headers[0]; i++) {
    struct run *player = run_new(NULL, knowledge.network);
    struct session *session = session_new(NULL, player);
    struct diags diags;
    char text[200];
    diags_init(&diags, arena);
    snprintf(text, sizeof text, "club,path,%s\n7i,-6,\n", headers[i]);
    struct small_feed feed = {text};
    assert_true(session_read(session, "t.csv", small_fetch, &feed, &diags));
    if (session->intake.columns[2].use != USE_READINGS) fail_msg("'%s'", headers[i]);
    assert_true(safety[session->intake.columns[2].evidence]);
    session_free(session);
    run_free(player);
  }
  arena_free(arena);
  knowledge_free(&knowledge);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(alarm__is_raised_by_one_shot_of_many),
      cmocka_unit_test(alarm__of_one_club_stops_the_others),
      cmocka_unit_test(alarm__is_not_raised_by_no),
      cmocka_unit_test(alarm__reads_what_tables_write_for_yes_and_no),
      cmocka_unit_test(alarm__of_what_is_given_for_all_has_no_line),
      cmocka_unit_test(safety__that_is_not_understood_is_refused),
      cmocka_unit_test(safety__in_two_columns_is_refused),
      cmocka_unit_test(safety_evidence__is_what_red_flags_rest_on),
      cmocka_unit_test(safety_evidence__of_the_shipped_knowledge_is_understood_as_a_column),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
