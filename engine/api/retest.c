/* Retests: two sessions held against each other; the one after may come shot by shot. */
#include <math.h>
#include <string.h>

#include "api/session_handle.h"
#include "render/retest.h"

struct wm_retest {
  struct arena *home;
  wm_session *before, *after;
  struct retest retest;
  ARRAY(struct look) looks; /* of a stream */
  bool run;
};

enum wm_status wm_retest_new(wm_retest **out, wm_session *before, wm_session *after,
                             const struct wm_allocator *allocator) {
  if (!out || !before || !after || before == after) return WM_USAGE;
  *out = NULL;
  if (before->player->kb != after->player->kb) return WM_USAGE;
  struct arena *home = arena_new(allocator);
  wm_retest *retest = home ? arena_new_object(home, wm_retest) : NULL;
  if (!retest) {
    arena_free(home);
    return WM_INTERNAL;
  }
  retest->home = home;
  retest->before = before;
  retest->after = after;
  retest->retest = (struct retest){
      .arena = home, .before = before->session, .after = after->session, .asked = NO_INDEX};
  *out = retest;
  return WM_OK;
}

void wm_retest_free(wm_retest *retest) {
  if (retest) arena_free(retest->home);
}

/* ---- the number asked for ---- */

static bool open_report(struct report *report, const wm_retest *retest, wm_diags *diags) {
  return report_open(report, diags, case_allocator(retest->before->player));
}

static enum wm_status close_report(struct report *report, const wm_retest *retest,
                                   enum wm_status status) {
  if (arena_failed(retest->home)) report->list.no_memory = true;
  return session_close_report(report, retest->after, status);
}

static void take_goal(wm_retest *retest, struct report *report, const struct source *source) {
  const struct model *model = retest->retest.before->network->model;
  struct value value;
  if (!evidence_read(retest->home, &report->list, model, source, &value, NULL)) return;
  const struct evidence *evidence = &model->evidence[value.evidence];
  if (evidence->kind != EVIDENCE_NUMBER) {
    DIAG(&report->list, UNKNOWN_NAME, source_whole(source), "number evidence", evidence->name);
    return;
  }
  retest->retest.asked = value.evidence;
  retest->retest.goal = value.number;
}

enum wm_status wm_retest_read_number(wm_retest *retest, const char *text, const char *where,
                                     wm_diags *diags) {
  struct report report;
  if (!retest || !text || retest->run || retest->looks.n > 0) return WM_USAGE;
  if (!open_report(&report, retest, diags)) return WM_INTERNAL;
  const struct source *source =
      source_copy(retest->home, where ? where : "number", text, strlen(text));
  if (source) take_goal(retest, &report, source);
  return close_report(&report, retest, WM_OK);
}

/* ---- shots as they come ---- */

struct following {
  wm_retest *retest;
  wm_write write;
  void *context;
  const struct block *block; /* that the shots are held against; NULL until the first is known */
  struct target target;
  ARRAY(double) readings;
  enum wm_status status;
};

static bool send_line(struct following *following, struct text *line) {
  text_add_char(line, '\n');
  if (following->write) following->status = text_send(line, following->write, following->context);
  return following->status == WM_OK;
}

/* The block before of the shot's club; of a single block without a club, or a shot without, that.
 */
static const struct block *block_for(const struct retest *retest, size_t shot) {
  const struct session *before = retest->before;
  size_t club = retest->after->shots.clubs.at[shot];
  for (size_t i = 0; i < before->n_blocks; i++)
    if (before->blocks[i].club == club) return &before->blocks[i];
  bool alone = before->n_blocks == 1 && (club == NO_INDEX || before->blocks[0].club == NO_INDEX);
  return alone ? &before->blocks[0] : NULL;
}

static void take_target(struct following *following, const struct block *block) {
  const struct retest *retest = &following->retest->retest;
  following->block = block;
  following->target = retest->asked == NO_INDEX
                          ? target_of_plan(block)
                          : target_of_goal(retest->before, block, retest->asked, retest->goal);
}

/* Answers whether more shots are wanted. */
static bool look_at_shot(struct following *following, size_t shot, struct text *line) {
  wm_retest *retest = following->retest;
  double *reading = array_push(retest->home, &following->readings);
  struct look *look = array_push(retest->home, &retest->looks);
  if (!reading || !look) {
    following->status = WM_INTERNAL;
    return false;
  }
  *reading = target_reading(&following->target, retest->retest.after, shot);
  *look = target_look(&following->target, following->readings.at, following->readings.n);
  look_words(line, retest->retest.before, following->block, &following->target, look, *reading);
  return send_line(following, line) && look->answer == LOOK_GO_ON;
}

/* Whether an alarm ends it all; without memory it ends too. */
static bool must_stop(struct following *following, size_t shot, struct text *line) {
  wm_session *after = following->retest->after;
  struct session *session = after->session;
  if (!session_watch_remarks(after) || !session_watch(session, shot)) {
    following->status = WM_INTERNAL;
    return true;
  }
  if (session->alarm.claim == NO_INDEX) return false;
  text_add(line, "STOP: see below.");
  send_line(following, line);
  return true;
}

static bool follow_shot(void *context, size_t shot) {
  struct following *following = context;
  const struct retest *retest = &following->retest->retest;
  const struct block *block = block_for(retest, shot);
  struct text line;
  text_init(&line, following->retest->home);
  if (must_stop(following, shot, &line)) return false;
  if (!following->block && block) take_target(following, block);
  if (!block || block != following->block) {
    text_add(&line, "Passed over: a shot with another club.");
    return send_line(following, &line);
  }
  if (following->target.plan.kind != TEST_NONE) return look_at_shot(following, shot, &line);
  text_add(&line, "Stop: there is no number to test.");
  send_line(following, &line);
  return false;
}

enum wm_status wm_retest_follow(wm_retest *retest, const char *name, wm_read read, void *context,
                                wm_write write, void *write_context, wm_diags *diags) {
  struct report report;
  if (!retest || !name || !read || retest->run || !retest->before->run || retest->after->tried)
    return WM_USAGE;
  if (!open_report(&report, retest, diags)) return WM_INTERNAL;
  struct following following = {.retest = retest, .write = write, .context = write_context};
  wm_session *after = retest->after;
  after->tried = true;
  session_prepare(after);
  /* Nobody is asked to hit a shot then. */
  bool stopped = retest->before->session->alarm.claim != NO_INDEX;
  after->read = stopped ? session_leave(after->session, name, &report.list)
                        : session_follow(after->session, name, read, context, follow_shot,
                                         &following, &report.list) &&
                              following.status == WM_OK;
  if (retest->looks.n > 0) retest->retest.stopped = &retest->looks.at[retest->looks.n - 1];
  return close_report(&report, retest, following.status);
}

/* ---- results ---- */

/* Numbers of one hand are not held against those of the other. */
static bool one_hand(const wm_retest *retest, struct report *report) {
  const struct session *after = retest->after->session;
  if (retest->before->session->player->hand == after->player->hand || after->n_blocks == 0)
    return true;
  struct source *source = source_copy(retest->home, after->intake.name, "", 0);
  DIAG(&report->list, TABLE_FAULTY, (struct span){.source = source},
       "it is of a player of the other hand than the one before; say --handed");
  return false;
}

enum wm_status wm_retest_run(wm_retest *retest, wm_diags *diags) {
  struct report report;
  if (!retest || retest->run || !retest->before->run || !retest->after->run) return WM_USAGE;
  if (!open_report(&report, retest, diags)) return WM_INTERNAL;
  if (!one_hand(retest, &report)) return close_report(&report, retest, WM_OK);
  retest->run = retest_make(&retest->retest);
  return close_report(&report, retest, retest->run ? WM_OK : WM_INTERNAL);
}

enum wm_status wm_retest_write(const wm_retest *retest, enum wm_format format, wm_write write,
                               void *context) {
  struct text out;
  struct json json;
  if (!retest || !write || !retest->run) return WM_USAGE;
  struct arena *arena = arena_new(case_allocator(retest->before->player));
  if (!arena) return WM_INTERNAL;
  text_init(&out, arena);
  json_start(&json, &out, true);
  if (format == WM_JSON) retest_json(&json, &retest->retest, retest->looks.at, retest->looks.n);
  else retest_text(&out, &retest->retest, format == WM_EMPHASIS);
  enum wm_status status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  arena_free(arena);
  return status;
}

bool wm_retest_club(const wm_retest *retest, size_t i, struct wm_retested *out) {
  if (!retest || !out || !retest->run || i >= retest->retest.n_clubs) return false;
  const struct club_retest *club = &retest->retest.clubs[i];
  const struct model *model = retest->retest.before->network->model;
  size_t evidence = club->target.evidence;
  *out = (struct wm_retested){
      .club = club->before->club == NO_INDEX ? NULL : model->clubs[club->before->club].name,
      .evidence = evidence == NO_INDEX ? NULL : model->evidence[evidence].name,
      .verdict = (enum wm_retest_verdict)club->verdict,
      .moved = club->moved,
      .reached = club->reached,
      .worse = club->n_worse,
      .shots = club->look.shots,
      .shots_planned = club->target.plan.shots};
  return true;
}
