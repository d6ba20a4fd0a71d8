/* Memory that runs out at each single taking of a session: told as WM_INTERNAL, and nothing leaks.
 */
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"
#include "whymiss.h"

static const char shots[] = "club,path,start,curve,strike (mm),contact,ball speed\n"
                            "7i,-6,-6,0,5 toe,fat,1\n7i,L 7,-6,0.5,,fat,2\n7i,-6,-5,x,3,clean,3\n"
                            "7i,-6,-6,0,5,fat\n7i,0,0,0,2,clean,4\npw,1,,,0,,5\nmean,,,,,,\n";

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

static int swallow(void *context, const char *bytes, size_t n) {
  (void)context;
  (void)bytes;
  (void)n;
  return 0;
}

static enum wm_status walk(wm_session *session) {
  size_t n;
  bool all = wm_session_blocks(session, &n) && wm_session_figures(session, 0, &n) &&
             wm_session_groups(session, 0, &n) && wm_session_causes(session, 0, &n);
  return all ? WM_OK : WM_INTERNAL;
}

/* The first failure ends it. */
static enum wm_status use(const wm_kb *kb, const struct wm_allocator *allocator) {
  struct feed feed = {shots};
  wm_session *session = NULL;
  wm_diags *diags = wm_diags_new(allocator);
  if (!diags) return WM_INTERNAL;
  enum wm_status status = wm_session_new(&session, kb, allocator);
  if (status == WM_OK) status = wm_session_read_unit(session, "ball_speed=m/s", NULL, diags);
  if (status == WM_OK) status = wm_session_read(session, "t.csv", feed_read, &feed, diags);
  if (status == WM_OK) status = wm_session_run(session, diags);
  if (status == WM_OK) status = walk(session);
  if (status == WM_OK) status = wm_session_write(session, WM_TEXT, swallow, NULL);
  if (status == WM_OK) status = wm_session_write(session, WM_JSON, swallow, NULL);
  wm_session_free(session);
  wm_diags_free(diags);
  return status;
}

static enum wm_status use_kb(const struct wm_allocator *allocator, void *kb) {
  return use(kb, allocator);
}

static void fail_at_each(bool for_good) {
  const char *directory = "tests/session/small";
  wm_kb *kb = NULL;
  assert_int_equal(wm_kb_load(&kb, &directory, 1, NULL, NULL), WM_OK);
  assert_true(fail_at_each_taking(for_good, use_kb, kb) >= 300);
  wm_kb_free(kb);
}

static void any_single_failure__is_told(void **state) {
  (void)state;
  fail_at_each(false);
}

static void any_lasting_failure__is_told(void **state) {
  (void)state;
  fail_at_each(true);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(any_single_failure__is_told),
      cmocka_unit_test(any_lasting_failure__is_told),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
