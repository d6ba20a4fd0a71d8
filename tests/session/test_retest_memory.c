/* Memory that runs out at each single taking of a retest: told as WM_INTERNAL, and nothing leaks.
 */
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"
#include "whymiss.h"

#define HEADER "club,path,start,curve,ball speed (mph),hand,name,pain,spun\n"
static const char before[] = HEADER "7i,-6,-6,0,90,R,a,no,x\n7i,-7,-6,0.5,91,,a,,\n"
                                    "7i,-6,-5,0,92,R,,no,\n7i,-6,-6,0,90,,,,\npw,1,,,,,,,\n";
static const char after[] = HEADER "7i,-1,-1,0,90,R,a,no,\n7i,0,-1,0.5,95,,a,,\n"
                                   "7i,-1,-2,0,92,R,,no,\n7i,x,-1,0,90,,,,\n";
static const char stopping[] = HEADER "7i,-1,-1,0,90,R,a,no,\n7i,0,-1,0.5,95,,a,yes,\n";

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

struct plan {
  wm_kb *kb;
  const char *after;
  const char *number; /* asked for, or NULL */
  bool follow;
};

static enum wm_status read_table(wm_session *session, const char *text, wm_diags *diags) {
  struct feed feed = {text};
  return wm_session_read(session, "t.csv", feed_read, &feed, diags);
}

static enum wm_status read_after(wm_retest *retest, wm_session *session, const struct plan *plan,
                                 wm_diags *diags) {
  struct feed feed = {plan->after};
  return plan->follow ? wm_retest_follow(retest, "t.csv", feed_read, &feed, swallow, NULL, diags)
                      : read_table(session, plan->after, diags);
}

static enum wm_status compare(wm_retest *retest, wm_session *sessions[2], const struct plan *plan,
                              wm_diags *diags) {
  enum wm_status status =
      plan->number ? wm_retest_read_number(retest, plan->number, NULL, diags) : WM_OK;
  if (status == WM_OK) status = read_table(sessions[0], before, diags);
  if (status == WM_OK) status = wm_session_run(sessions[0], diags);
  if (status == WM_OK) status = read_after(retest, sessions[1], plan, diags);
  if (status == WM_OK) status = wm_session_run(sessions[1], diags);
  if (status == WM_OK) status = wm_retest_run(retest, diags);
  if (status == WM_OK) status = wm_retest_write(retest, WM_TEXT, swallow, NULL);
  if (status == WM_OK) status = wm_retest_write(retest, WM_JSON, swallow, NULL);
  return status;
}

/* The first failure ends it. */
static enum wm_status use(const struct wm_allocator *allocator, void *context) {
  const struct plan *plan = context;
  wm_session *sessions[2] = {NULL, NULL};
  wm_retest *retest = NULL;
  wm_diags *diags = wm_diags_new(allocator);
  if (!diags) return WM_INTERNAL;
  enum wm_status status = wm_session_new(&sessions[0], plan->kb, allocator);
  if (status == WM_OK) status = wm_session_new(&sessions[1], plan->kb, allocator);
  if (status == WM_OK) status = wm_retest_new(&retest, sessions[0], sessions[1], allocator);
  if (status == WM_OK) status = compare(retest, sessions, plan, diags);
  wm_retest_free(retest);
  wm_session_free(sessions[1]);
  wm_session_free(sessions[0]);
  wm_diags_free(diags);
  return status;
}

static void fail_at_each(struct plan plan) {
  const char *directory = "tests/session/small";
  assert_int_equal(wm_kb_load(&plan.kb, &directory, 1, NULL, NULL), WM_OK);
  for (int for_good = 0; for_good < 2; for_good++)
    assert_true(fail_at_each_taking(for_good == 1, use, &plan) >= 400);
  wm_kb_free(plan.kb);
}

static void retest__of_two_tables(void **state) {
  (void)state;
  fail_at_each((struct plan){.after = after});
}

static void retest__of_a_number_asked_for(void **state) {
  (void)state;
  fail_at_each((struct plan){.after = after, .number = "start=-1"});
}

static void retest__of_shots_as_they_come(void **state) {
  (void)state;
  fail_at_each((struct plan){.after = after, .follow = true});
}

static void retest__that_is_stopped(void **state) {
  (void)state;
  fail_at_each((struct plan){.after = stopping, .follow = true});
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(retest__of_two_tables),
      cmocka_unit_test(retest__of_a_number_asked_for),
      cmocka_unit_test(retest__of_shots_as_they_come),
      cmocka_unit_test(retest__that_is_stopped),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
