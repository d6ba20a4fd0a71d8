/* A set of worked cases on a knowledge base, how they came out, and the views of that. */
#include <string.h>

#include "api/cases_handle.h"
#include "render/case_answers.h"
#include "render/verdicts.h"

const struct wm_allocator *cases_allocator(const wm_cases *cases) {
  return cases->has_allocator ? &cases->allocator : NULL;
}

/* ---- life ---- */

enum wm_status wm_cases_new(wm_cases **out, const wm_kb *kb, const struct wm_allocator *allocator) {
  if (!out || !kb) return WM_USAGE;
  *out = NULL;
  struct arena *home = arena_new(allocator);
  wm_cases *cases = home ? arena_new_object(home, wm_cases) : NULL;
  if (!cases) {
    arena_free(home);
    return WM_INTERNAL;
  }
  cases->home = home;
  cases->kb = kb;
  cases->has_allocator = allocator != NULL;
  if (allocator) cases->allocator = *allocator;
  cases->texts = arena_new(allocator);
  cases->run = run_new(allocator, kb->network);
  if (cases->texts && cases->run) *out = cases;
  else wm_cases_free(cases);
  return *out ? WM_OK : WM_INTERNAL;
}

void wm_cases_free(wm_cases *cases) {
  if (!cases) return;
  run_free(cases->run);
  arena_free(cases->texts);
  arena_free(cases->home);
}

/* ---- adding ---- */

static bool add(wm_cases *cases, const struct worked_case *worked) {
  const struct worked_case **place = array_push(cases->home, &cases->list);
  if (place) *place = worked;
  cases->verdicts = NULL;
  cases->coverage = NULL;
  cases->mutated = false;
  return place != NULL;
}

enum wm_status wm_cases_add_all(wm_cases *cases) {
  if (!cases) return WM_USAGE;
  const struct model *model = cases->kb->model;
  for (size_t i = 0; i < model->n_cases; i++)
    if (!add(cases, &model->cases[i])) return WM_INTERNAL;
  return WM_OK;
}

enum wm_status wm_cases_add(wm_cases *cases, const char *name, const char *where, wm_diags *diags) {
  struct report report;
  if (!cases || !name) return WM_USAGE;
  if (!report_open(&report, diags, cases_allocator(cases))) return WM_INTERNAL;
  const struct worked_case *worked =
      worked_case_find(cases->kb->model, &report.list, cases->texts, name, where);
  if (worked && !add(cases, worked)) report.list.no_memory = true;
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

enum wm_status wm_cases_add_file(wm_cases *cases, const char *path, wm_diags *diags) {
  struct report report;
  if (!cases || !path) return WM_USAGE;
  if (!report_open(&report, diags, cases_allocator(cases))) return WM_INTERNAL;
  size_t n = 0;
  const struct source *source = source_read(cases->texts, path, &report.list);
  const struct worked_case *read =
      source ? worked_cases_read(cases->texts, &report.list, cases->kb->model, source, &n) : NULL;
  for (size_t i = 0; i < n; i++)
    if (!add(cases, &read[i])) report.list.no_memory = true;
  if (arena_failed(cases->texts)) report.list.no_memory = true;
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

enum wm_status wm_cases_accept_file(wm_cases *cases, const char *path, wm_diags *diags) {
  struct report report;
  if (!cases || !path) return WM_USAGE;
  if (!report_open(&report, diags, cases_allocator(cases))) return WM_INTERNAL;
  const struct source *source = source_read(cases->texts, path, &report.list);
  struct accepted accepted;
  if (source && accepted_read(cases->texts, &report.list, cases->kb->model, source, &accepted))
    cases->accepted = accepted;
  cases->verdicts = NULL;
  cases->mutated = false;
  if (arena_failed(cases->texts)) report.list.no_memory = true;
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

/* ---- running and looking ---- */

/* What the chained case comes to, when it is not what was accepted. */
static void compare_answer(wm_cases *cases, struct verdict *verdict) {
  struct text answer;
  const char *accepted = accepted_answer(&cases->accepted, cases->kb->model, verdict->worked);
  text_init(&answer, cases->texts);
  case_answer_brief(&answer, cases->run, verdict->worked);
  const char *now = text_done(&answer);
  if (!now || (accepted && strcmp(accepted, now) == 0)) return;
  verdict->accepted = accepted;
  verdict->answer = now;
}

enum wm_status wm_cases_run(wm_cases *cases) {
  if (!cases) return WM_USAGE;
  size_t n_failed = 0;
  struct verdict *verdicts = arena_new_array(cases->texts, struct verdict, cases->list.n + 1);
  if (!verdicts) return WM_INTERNAL;
  for (size_t i = 0; i < cases->list.n; i++) {
    if (!case_chain(cases->run, cases->list.at[i])) return WM_INTERNAL;
    verdicts[i] = case_verdict(cases->texts, cases->run, cases->list.at[i]);
    if (cases->accepted.answers) compare_answer(cases, &verdicts[i]);
    n_failed += verdict_fails(&verdicts[i]);
  }
  if (arena_failed(cases->texts)) return WM_INTERNAL;
  cases->verdicts = verdicts;
  return n_failed > 0 ? WM_FINDINGS : WM_OK;
}

size_t wm_cases_count(const wm_cases *cases) {
  return cases ? cases->list.n : 0;
}

bool wm_cases_verdict(const wm_cases *cases, size_t i, struct wm_verdict *out) {
  if (!cases || !out || !cases->verdicts || i >= cases->list.n) return false;
  const struct verdict *verdict = &cases->verdicts[i];
  *out = (struct wm_verdict){.name = verdict->worked->name,
                             .file = verdict->worked->at.source->name,
                             .line = verdict->worked->at.line,
                             .n_expected = verdict->n,
                             .n_failed = verdict->n_failed,
                             .answer_changed = verdict->answer != NULL};
  return true;
}

/* ---- writing ---- */

/* The run is chained again for a failing case, whose reasons are told from it. */
static bool chain_for(wm_cases *cases, size_t i) {
  return !verdict_fails(&cases->verdicts[i]) || case_chain(cases->run, cases->list.at[i]);
}

static bool write_tap(wm_cases *cases, struct text *out) {
  verdicts_tap_start(out, cases->list.n);
  for (size_t i = 0; i < cases->list.n; i++) {
    if (!chain_for(cases, i)) return false;
    verdict_tap(out, cases->run, &cases->verdicts[i], i + 1);
  }
  verdicts_tap_end(out, cases->verdicts, cases->list.n);
  return true;
}

static bool write_json(wm_cases *cases, struct text *out) {
  struct json json;
  json_start(&json, out, true);
  json_object(&json);
  json_key_string(&json, "schema", "whymiss-cases");
  json_key_count(&json, "schema_version", 1);
  json_key(&json, "kb_digest");
  json_digest(&json, cases->kb->network->digest);
  verdicts_counts_json(&json, cases->verdicts, cases->list.n);
  json_key_list(&json, "cases");
  for (size_t i = 0; i < cases->list.n; i++) {
    if (!chain_for(cases, i)) return false;
    verdict_json(&json, cases->run, &cases->verdicts[i]);
  }
  json_end(&json);
  json_end(&json);
  return true;
}

enum wm_status wm_cases_write(wm_cases *cases, enum wm_format format, wm_write write,
                              void *context) {
  if (!cases || !write || !cases->verdicts) return WM_USAGE;
  struct arena *arena = arena_new(cases_allocator(cases));
  if (!arena) return WM_INTERNAL;
  struct text out;
  text_init(&out, arena);
  bool done = format == WM_JSON ? write_json(cases, &out) : write_tap(cases, &out);
  enum wm_status status =
      done && !arena_failed(arena) ? text_send(&out, write, context) : WM_INTERNAL;
  arena_free(arena);
  return status;
}

static void write_answer(struct text *out, const wm_cases *cases, size_t i, bool brief) {
  const struct worked_case *worked = cases->list.at[i];
  if (!brief) {
    case_answer(out, cases->run, worked);
    return;
  }
  text_format(out, "%s: ", worked->name);
  case_answer_brief(out, cases->run, worked);
  text_add_char(out, '\n');
}

enum wm_status wm_cases_write_answers(wm_cases *cases, bool brief, wm_write write, void *context) {
  if (!cases || !write) return WM_USAGE;
  struct arena *arena = arena_new(cases_allocator(cases));
  if (!arena) return WM_INTERNAL;
  struct text out;
  bool done = true;
  text_init(&out, arena);
  for (size_t i = 0; done && i < cases->list.n; i++) {
    done = case_chain(cases->run, cases->list.at[i]);
    if (done) write_answer(&out, cases, i, brief);
  }
  enum wm_status status =
      done && !arena_failed(arena) ? text_send(&out, write, context) : WM_INTERNAL;
  arena_free(arena);
  return status;
}
