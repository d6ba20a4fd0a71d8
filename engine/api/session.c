/* Sessions: what holds for all shots is given to a case of its own, whose run the session reads. */
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "api/session_handle.h"
#include "render/session_parts.h"

/* ---- life ---- */

enum wm_status wm_session_new(wm_session **out, const wm_kb *kb,
                              const struct wm_allocator *allocator) {
  if (!out || !kb) return WM_USAGE;
  *out = NULL;
  struct arena *home = arena_new(allocator);
  wm_session *session = home ? arena_new_object(home, wm_session) : NULL;
  if (!session) {
    arena_free(home);
    return WM_INTERNAL;
  }
  session->home = home;
  session->answers = arena_new(allocator);
  if (session->answers && wm_case_new(&session->player, kb, allocator) == WM_OK)
    session->session = session_new(case_allocator(session->player), session->player->run);
  if (!session->session) {
    wm_session_free(session);
    return WM_INTERNAL;
  }
  *out = session;
  return WM_OK;
}

void wm_session_free(wm_session *session) {
  if (!session) return;
  session_free(session->session);
  wm_case_free(session->player);
  arena_free(session->answers);
  arena_free(session->home);
}

wm_case *wm_session_player(wm_session *session) {
  return session ? session->player : NULL;
}

enum wm_status session_close_report(struct report *report, const wm_session *session,
                                    enum wm_status status) {
  if (arena_failed(report->list.arena) || arena_failed(session->home) ||
      arena_failed(session->session->arena))
    report->list.no_memory = true;
  return report_close(report, status, WM_INPUT_FAULTY);
}

/* ---- how the table is meant ---- */

/* A report, and the text as a source in the session. NULL: no memory, and the report is closed. */
static const struct source *open_with_text(struct report *report, wm_session *session,
                                           const char *text, const char *where, wm_diags *diags) {
  if (!report_open(report, diags, case_allocator(session->player))) return NULL;
  const struct source *source = source_copy(session->home, where, text, strlen(text));
  if (source) return source;
  report->list.no_memory = true;
  report_close(report, WM_INTERNAL, WM_INTERNAL);
  return NULL;
}

static const struct model *model_of(const wm_session *session) {
  return session->session->network->model;
}

static void report_unit(struct report *report, const struct source *source, size_t from,
                        const struct evidence *evidence) {
  struct text known;
  text_init(&known, report->list.arena);
  for (int i = 0; i < GOLF_UNITS; i++) {
    const struct golf_unit *unit = golf_unit_at((enum golf_unit_index)i);
    if (golf_unit_convertible(unit, evidence->unit))
      text_format(&known, "%s%s", known.n > 0 ? ", " : "", unit->name);
  }
  const char *words = text_done(&known);
  DIAG(&report->list, BAD_UNIT, source_part(source, from, source->n), source->bytes + from,
       evidence->name, words ? words : "");
}

static void read_unit(wm_session *session, struct report *report, const struct source *source) {
  const char *sign = memchr(source->bytes, '=', source->n);
  size_t n = sign ? (size_t)(sign - source->bytes) : 0;
  const char *name = arena_copy(session->home, source->bytes, n);
  if (!name) {
    report->list.no_memory = true;
    return;
  }
  size_t found = model_find_evidence(model_of(session), name);
  if (!sign || n == 0) {
    DIAG(&report->list, BAD_EVIDENCE, source_whole(source), source->bytes);
    return;
  }
  if (found == NO_INDEX || model_of(session)->evidence[found].kind != EVIDENCE_NUMBER) {
    struct diag *diag =
        DIAG(&report->list, UNKNOWN_NAME, source_part(source, 0, n), "number evidence", name);
    model_nearest_evidence(model_of(session), &report->list, diag, name);
    return;
  }
  const struct evidence *evidence = &model_of(session)->evidence[found];
  const struct golf_unit *unit = golf_unit_find(source->bytes + n + 1, source->n - n - 1);
  if (!unit || !golf_unit_convertible(unit, evidence->unit)) {
    report_unit(report, source, n + 1, evidence);
    return;
  }
  struct unit_choice *choice = array_push(session->home, &session->session->units);
  if (choice) *choice = (struct unit_choice){found, unit};
  else report->list.no_memory = true;
}

enum wm_status wm_session_read_unit(wm_session *session, const char *text, const char *where,
                                    wm_diags *diags) {
  struct report report;
  if (!session || !text || session->tried) return WM_USAGE;
  const struct source *source =
      open_with_text(&report, session, text, where ? where : "unit", diags);
  if (!source) return WM_INTERNAL;
  read_unit(session, &report, source);
  return session_close_report(&report, session, WM_OK);
}

static const char *window_names(struct arena *arena, const struct model *model) {
  struct text names;
  text_init(&names, arena);
  for (size_t i = 0; i < model->n_windows; i++) text_format(&names, "%s, ", model->windows[i].name);
  text_add(&names, model->n_windows > 0 ? "or " : "");
  text_add(&names, "half its width in degrees, such as 3");
  const char *done = text_done(&names);
  return done ? done : "";
}

#define WITHIN_MAX 45

enum wm_status wm_session_read_window(wm_session *session, const char *text, const char *where,
                                      wm_diags *diags) {
  struct report report;
  double within = 0;
  if (!session || !text || session->run) return WM_USAGE;
  const struct source *source =
      open_with_text(&report, session, text, where ? where : "window", diags);
  if (!source) return WM_INTERNAL;
  bool number = source->n > 0 && number_read(text, source->n, &within) == source->n;
  if (number && within > 0 && within <= WITHIN_MAX) session->session->within = within;
  else if (number || !session_use_window(session->session, text))
    DIAG(&report.list, BAD_WINDOW, source_whole(source), text,
         window_names(report.list.arena, model_of(session)));
  return session_close_report(&report, session, WM_OK);
}

/* ---- remarks ---- */

void session_prepare(wm_session *session) {
  session->session->hand_given = session->player->hand_given;
  session->session->keeps_remarks = model_of(session)->n_phrases > 0;
}

/* A remark is judged as if the player had said it and nothing else. */
static bool judge_remark(wm_case *sayer, struct session *session, const struct remark *remark) {
  wm_case_reset(sayer);
  sayer->run->hand = session->player->hand;
  if (wm_case_say(sayer, remark->text, "remark", NULL) == WM_INTERNAL ||
      wm_case_run(sayer, NULL) == WM_INTERNAL)
    return false;
  if (sayer->run->red_flag != NO_INDEX)
    session->alarm = (struct alarm){sayer->run->red_flag, remark->line, remark->told};
  return true;
}

bool session_watch_remarks(wm_session *of) {
  struct session *session = of->session;
  wm_case *sayer = NULL;
  bool good = true;
  if (of->n_judged == session->intake.remarks.n || session->alarm.claim != NO_INDEX) return true;
  if (wm_case_new(&sayer, of->player->kb, case_allocator(of->player)) != WM_OK) return false;
  while (good && of->n_judged < session->intake.remarks.n && session->alarm.claim == NO_INDEX)
    good = judge_remark(sayer, session, &session->intake.remarks.at[of->n_judged++]);
  wm_case_free(sayer);
  return good;
}

/* ---- reading and running ---- */

enum wm_status wm_session_read(wm_session *session, const char *name, wm_read read, void *context,
                               wm_diags *diags) {
  struct report report;
  if (!session || !name || !read || session->tried) return WM_USAGE;
  if (!report_open(&report, diags, case_allocator(session->player))) return WM_INTERNAL;
  session->tried = true;
  session_prepare(session);
  session->read = session_read(session->session, name, read, context, &report.list);
  return session_close_report(&report, session, WM_OK);
}

static long read_file(void *context, char *bytes, size_t room) {
  ssize_t got;
  do got = read(*(int *)context, bytes, room);
  while (got < 0 && errno == EINTR);
  return (long)got;
}

/* A pipe is as good as a file; a directory is neither. Negative after a diagnostic. */
static int open_table(struct report *report, const char *path) {
  struct stat about;
  int file = open(path, O_RDONLY | O_CLOEXEC);
  if (file < 0 || fstat(file, &about) != 0) {
    DIAG(&report->list, FILE_UNREADABLE, (struct span){0}, path, strerror(errno));
  } else if (S_ISDIR(about.st_mode)) {
    DIAG(&report->list, FILE_UNREADABLE, (struct span){0}, path, "it is not a file");
  } else {
    return file;
  }
  if (file >= 0) close(file);
  return -1;
}

enum wm_status wm_session_load(wm_session *session, const char *path, wm_diags *diags) {
  struct report report;
  if (!session || !path || session->tried) return WM_USAGE;
  if (!report_open(&report, diags, case_allocator(session->player))) return WM_INTERNAL;
  int file = open_table(&report, path);
  enum wm_status status = report_close(&report, WM_OK, WM_INPUT_FAULTY);
  if (file < 0) return status;
  status = wm_session_read(session, path, read_file, &file, diags);
  close(file);
  return status;
}

enum wm_status wm_session_run(wm_session *session, wm_diags *diags) {
  struct report report;
  if (!session || !session->read || session->run) return WM_USAGE;
  if (!report_open(&report, diags, case_allocator(session->player))) return WM_INTERNAL;
  session->run = session_watch_remarks(session) && session_diagnose(session->session);
  return session_close_report(&report, session, session->run ? WM_OK : WM_INTERNAL);
}

enum wm_status wm_session_write(wm_session *session, enum wm_format format, wm_write write,
                                void *context) {
  if (!session || !write || !session->run) return WM_USAGE;
  struct arena *arena = arena_new(case_allocator(session->player));
  struct text out;
  struct json json;
  if (!arena) return WM_INTERNAL;
  text_init(&out, arena);
  json_start(&json, &out, true);
  if (format == WM_JSON) session_json(&json, session->session);
  else session_text(&out, session->session, format == WM_EMPHASIS);
  /* A page with a hole in it, for lack of memory, is not sent. */
  enum wm_status status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  arena_free(arena);
  return status;
}

/* ---- results ---- */

/* The block, or NULL; *n is 0 then. */
static const struct block *block_at(const wm_session *session, size_t block, size_t *n) {
  *n = 0;
  bool there = session && session->run && block < session->session->n_blocks;
  return there ? &session->session->blocks[block] : NULL;
}

static const char *claim_name(const wm_session *session, size_t claim) {
  return claim == NO_INDEX ? NULL : model_of(session)->claims[claim].name;
}

const struct wm_block *wm_session_blocks(wm_session *session, size_t *n) {
  size_t none;
  *n = 0;
  if (!block_at(session, 0, &none)) return NULL;
  struct wm_block *blocks =
      arena_new_array(session->answers, struct wm_block, session->session->n_blocks);
  for (size_t i = 0; blocks && i < session->session->n_blocks; i++) {
    const struct block *block = &session->session->blocks[i];
    blocks[i] = (struct wm_block){
        .club = block->club == NO_INDEX ? NULL : model_of(session)->clubs[block->club].name,
        .shots = block->n,
        .sorted = block->n_sorted,
        .missed = block->n_missed,
        .missed_low = block->missed.low,
        .missed_high = block->missed.high,
        .on_all_shots = block->on_whole,
        .one_cause = claim_name(session, block->one_cause),
        .red_flag = claim_name(session, block->red_flag),
        .drill = claim_name(session, block_drill(block))};
    *n = i + 1;
  }
  return blocks;
}

const struct wm_shot_figure *wm_session_figures(wm_session *session, size_t index, size_t *n) {
  const struct block *block = block_at(session, index, n);
  struct wm_shot_figure *figures =
      block ? arena_new_array(session->answers, struct wm_shot_figure, block->n_figures + 1) : NULL;
  for (size_t i = 0; figures && i < block->n_figures; i++) {
    const struct summary *summary = &block->figures[i].summary;
    const struct evidence *evidence = &model_of(session)->evidence[block->figures[i].evidence];
    figures[i] = (struct wm_shot_figure){.evidence = evidence->name,
                                         .unit = evidence->unit->name,
                                         .derived = block->figures[i].derived,
                                         .n = summary->n,
                                         .mean = summary->mean,
                                         .error = block->figures[i].error,
                                         .sd = summary->sd,
                                         .median = summary->median,
                                         .robust_spread = summary->robust,
                                         .detectable_change = block->figures[i].moves,
                                         .outliers = summary->n_outliers};
    *n = i + 1;
  }
  return figures;
}

const struct wm_miss_group *wm_session_groups(wm_session *session, size_t index, size_t *n) {
  const struct block *block = block_at(session, index, n);
  struct wm_miss_group *groups =
      block ? arena_new_array(session->answers, struct wm_miss_group, block->n_groups + 1) : NULL;
  for (size_t i = 0; groups && i < block->n_groups; i++) {
    const struct miss_group *group = &block->groups[i];
    struct text words;
    text_init(&words, session->answers);
    group_words(&words, session->session, block, group);
    if (!text_done(&words)) {
      *n = 0;
      return NULL;
    }
    groups[i] = (struct wm_miss_group){
        .words = text_done(&words),
        .n = group->n,
        .share_low = group->share.low,
        .share_high = group->share.high,
        .diagnosed = group->run != NULL,
        .leading = claim_name(session, group->run ? run_leading(group->run) : NO_INDEX)};
    *n = i + 1;
  }
  return groups;
}

const struct wm_shared_cause *wm_session_causes(wm_session *session, size_t index, size_t *n) {
  const struct block *block = block_at(session, index, n);
  struct wm_shared_cause *causes =
      block ? arena_new_array(session->answers, struct wm_shared_cause, block->n_causes + 1) : NULL;
  for (size_t i = 0; causes && i < block->n_causes; i++) {
    causes[i] = (struct wm_shared_cause){.name = claim_name(session, block->causes[i].claim),
                                         .score = block->causes[i].score,
                                         .explained = block->causes[i].explained,
                                         .certainty = block->causes[i].certainty};
    *n = i + 1;
  }
  return causes;
}

bool wm_session_test(wm_session *session, size_t index, struct wm_test_block *test) {
  size_t none;
  const struct block *block = block_at(session, index, &none);
  if (!block || !test || block_drill(block) == NO_INDEX) return false;
  const struct test_block *of = &block->test;
  bool figure = block->test_figure != NO_INDEX;
  *test = (struct wm_test_block){
      .kind = (enum wm_test_kind)of->kind,
      .evidence =
          figure ? model_of(session)->evidence[block->figures[block->test_figure].evidence].name
                 : NULL,
      .shots = of->shots,
      .shots_before = of->shots_before,
      .before = of->before,
      .reach = of->reach,
      .power = of->power,
      .rising = of->direction > 0,
      .counted_before = of->counted_before,
      .needed = of->needed};
  return true;
}
