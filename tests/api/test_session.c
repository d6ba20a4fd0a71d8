/* Sessions through the public header: the order of calls, what is refused, what comes out. */
#include <math.h>
#include <string.h>

#include "support/cases.h"
#include "whymiss.h"

struct feed {
  const char *at;
};

static long feed_read(void *context, char *bytes, size_t room) {
  struct feed *feed = context;
  size_t n = strlen(feed->at);
  if (n > room) n = room;
  memcpy(bytes, feed->at, n);
  feed->at += n;
  return (long)n;
}

static long broken_read(void *context, char *bytes, size_t room) {
  (void)context;
  (void)bytes;
  (void)room;
  return -1;
}

static int gather(void *context, const char *bytes, size_t n) {
  char *text = context;
  size_t used = strlen(text);
  if (used + n >= 65536) return -1;
  memcpy(text + used, bytes, n);
  text[used + n] = '\0';
  return 0;
}

struct opened {
  wm_kb *kb;
  wm_session *session;
  wm_diags *diags;
};

static void open_session(struct opened *opened) {
  const char *directory = "tests/session/small";
  opened->diags = wm_diags_new(NULL);
  assert_int_equal(wm_kb_load(&opened->kb, &directory, 1, NULL, opened->diags), WM_OK);
  assert_int_equal(wm_session_new(&opened->session, opened->kb, NULL), WM_OK);
}

static void close_session(struct opened *opened) {
  wm_session_free(opened->session);
  wm_kb_free(opened->kb);
  wm_diags_free(opened->diags);
}

static enum wm_status read_text(struct opened *opened, const char *text) {
  struct feed feed = {text};
  return wm_session_read(opened->session, "t.csv", feed_read, &feed, opened->diags);
}

static const char shots[] = "club,path,start,curve\n"
                            "7i,-6,-6,0\n7i,-7,-6,0.5\n7i,-6,-5,0\n7i,-5.5,-6,0\n7i,-6.5,-7,0\n"
                            "7i,-6,-6,0\n7i,-6,-5.5,0\n7i,-6.2,-6,0\n7i,-5,-6,0\n7i,0,0,0\n"
                            "pw,1,0,0\n";

static void wm_session__walks_from_table_to_plan(void **state) {
  (void)state;
  struct opened opened;
  size_t n;
  open_session(&opened);
  assert_int_equal(read_text(&opened, shots), WM_OK);
  assert_int_equal(wm_session_run(opened.session, opened.diags), WM_OK);
  const struct wm_block *blocks = wm_session_blocks(opened.session, &n);
  assert_int_equal(n, 2);
  assert_string_equal(blocks[0].club, "7i");
  assert_int_equal(blocks[0].shots, 10);
  assert_int_equal(blocks[0].missed, 9);
  assert_string_equal(blocks[0].one_cause, "steep");
  assert_string_equal(blocks[0].drill, "gate");
  assert_null(blocks[1].drill);
  const struct wm_shot_figure *figures = wm_session_figures(opened.session, 0, &n);
  assert_int_equal(n, 3);
  assert_string_equal(figures[0].evidence, "path");
  assert_true(fabs(figures[0].mean + 5.42) < 1e-9);
  const struct wm_miss_group *groups = wm_session_groups(opened.session, 0, &n);
  assert_int_equal(n, 1);
  assert_string_equal(groups[0].leading, "steep");
  assert_true(groups[0].diagnosed && groups[0].n == 9);
  const struct wm_shared_cause *causes = wm_session_causes(opened.session, 0, &n);
  assert_true(n >= 1 && causes[0].explained == 9 && causes[0].certainty[0] > 0.6);
  struct wm_test_block test;
  assert_true(wm_session_test(opened.session, 0, &test));
  assert_int_not_equal(test.kind, WM_TEST_NONE);
  assert_false(wm_session_test(opened.session, 1, &test));
  assert_false(wm_session_test(opened.session, 2, &test));
  assert_null(wm_session_groups(opened.session, 2, &n));
  assert_int_equal(n, 0);
  close_session(&opened);
}

static void wm_session__keeps_to_the_order_of_calls(void **state) {
  (void)state;
  struct opened opened;
  static char text[65536];
  size_t n;
  open_session(&opened);
  text[0] = '\0';
  assert_int_equal(wm_session_run(opened.session, NULL), WM_USAGE);
  assert_int_equal(wm_session_write(opened.session, WM_TEXT, gather, text), WM_USAGE);
  assert_null(wm_session_blocks(opened.session, &n));
  assert_int_equal(read_text(&opened, shots), WM_OK);
  assert_int_equal(read_text(&opened, shots), WM_USAGE);
  assert_int_equal(wm_session_read_unit(opened.session, "path=deg", NULL, NULL), WM_USAGE);
  assert_int_equal(wm_session_run(opened.session, NULL), WM_OK);
  assert_int_equal(wm_session_run(opened.session, NULL), WM_USAGE);
  assert_int_equal(wm_session_read_window(opened.session, "3", NULL, NULL), WM_USAGE);
  assert_int_equal(wm_session_write(opened.session, WM_TEXT, gather, text), WM_OK);
  assert_non_null(strstr(text, "is believed in 9 of the 9 misses"));
  assert_int_equal(wm_session_new(NULL, opened.kb, NULL), WM_USAGE);
  wm_session_free(NULL);
  close_session(&opened);
}

static void wm_session__tells_what_it_cannot_read(void **state) {
  (void)state;
  struct opened opened;
  struct wm_diag diag;
  open_session(&opened);
  assert_int_equal(wm_session_read(opened.session, "t.csv", broken_read, NULL, opened.diags),
                   WM_INPUT_FAULTY);
  assert_true(wm_diags_get(opened.diags, 0, &diag));
  assert_string_equal(diag.code, "table-faulty");
  assert_int_equal(wm_session_run(opened.session, opened.diags), WM_USAGE);
  close_session(&opened);
  open_session(&opened);
  assert_int_equal(wm_session_load(opened.session, "tests/no_such.csv", opened.diags),
                   WM_INPUT_FAULTY);
  assert_int_equal(wm_session_load(opened.session, "tests/cli/shots/five.csv", opened.diags),
                   WM_OK);
  close_session(&opened);
}

static void wm_session__player_holds_for_all_shots(void **state) {
  (void)state;
  struct opened opened;
  size_t n;
  open_session(&opened);
  wm_case *player = wm_session_player(opened.session);
  assert_int_equal(wm_case_give(player, "pain=yes", NULL, opened.diags), WM_OK);
  assert_int_equal(wm_case_read_club(player, "7iron", NULL, opened.diags), WM_OK);
  assert_int_equal(wm_case_read_club(player, "7i", NULL, NULL), WM_INPUT_FAULTY); /* twice */
  assert_int_equal(wm_session_read_window(opened.session, "30", NULL, opened.diags), WM_OK);
  assert_int_equal(read_text(&opened, "path,start,curve\n-6,-6,0\n"), WM_OK);
  assert_int_equal(wm_session_run(opened.session, opened.diags), WM_OK);
  const struct wm_block *blocks = wm_session_blocks(opened.session, &n);
  assert_string_equal(blocks[0].club, "7i");
  assert_string_equal(blocks[0].red_flag, "hurts");
  assert_int_equal(blocks[0].missed, 0);
  assert_null(blocks[0].drill);
  close_session(&opened);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(wm_session__walks_from_table_to_plan),
      cmocka_unit_test(wm_session__keeps_to_the_order_of_calls),
      cmocka_unit_test(wm_session__tells_what_it_cannot_read),
      cmocka_unit_test(wm_session__player_holds_for_all_shots),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
