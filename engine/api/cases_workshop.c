/* What worked cases say about the knowledge: what they reach, and which mistakes they would notice.
 */
#include "api/cases_handle.h"
#include "render/coverage.h"
#include "render/edits.h"

/* ---- coverage ---- */

static bool gather(wm_cases *cases) {
  struct arena *scratch = arena_new(cases_allocator(cases));
  struct coverage *coverage = coverage_new(cases->texts, cases->kb->network);
  bool good = scratch && coverage;
  for (size_t i = 0; good && i < cases->list.n; i++) {
    good = case_chain(cases->run, cases->list.at[i]);
    if (good) coverage_add(coverage, cases->run, scratch);
    good = good && !arena_failed(scratch);
    arena_reset(scratch);
  }
  if (scratch) arena_free(scratch);
  cases->coverage = good ? coverage : NULL;
  return good;
}

enum wm_status wm_cases_cover(wm_cases *cases) {
  if (!cases) return WM_USAGE;
  return cases->coverage || gather(cases) ? WM_OK : WM_INTERNAL;
}

bool wm_cases_coverage(const wm_cases *cases, size_t i, struct wm_coverage *out) {
  if (!cases || !out || !cases->coverage || i >= COVERED_KINDS) return false;
  size_t n = coverage_count(cases->coverage, (enum covered)i), of = cases->coverage->of[i];
  *out = (struct wm_coverage){.of = covered_words((enum covered)i),
                              .reached = n,
                              .all = of,
                              .percent = coverage_percent(n, of)};
  return true;
}

/* ---- writing ---- */

/* A page of one object or of text, on its way out. */
struct page {
  struct arena *arena;
  struct text out;
  struct json json;
};

static bool page_open(struct page *page, const wm_cases *cases) {
  page->arena = arena_new(cases_allocator(cases));
  if (!page->arena) return false;
  text_init(&page->out, page->arena);
  json_start(&page->json, &page->out, true);
  return true;
}

static enum wm_status page_close(struct page *page, wm_write write, void *context) {
  enum wm_status status =
      arena_failed(page->arena) ? WM_INTERNAL : text_send(&page->out, write, context);
  arena_free(page->arena);
  return status;
}

enum wm_status wm_cases_write_coverage(const wm_cases *cases, enum wm_format format, wm_write write,
                                       void *context) {
  struct page page;
  if (!cases || !write || !cases->coverage) return WM_USAGE;
  if (!page_open(&page, cases)) return WM_INTERNAL;
  if (format == WM_JSON) coverage_json(&page.json, cases->coverage, cases->list.n);
  else coverage_text(&page.out, cases->coverage, cases->list.n);
  return page_close(&page, write, context);
}

/* ---- mutants ---- */

_Static_assert((int)WM_NOTICE_VERDICT == (int)NOTICE_VERDICT &&
                   (int)WM_NOTICE_CERTAINTY == (int)NOTICE_CERTAINTY,
               "the public levels are those inside");

/* By case: its answer is an accepted one now. NULL: none are compared, or no memory. */
static const bool *find_accepted(const wm_cases *cases) {
  if (!cases->accepted.answers || !cases->verdicts) return NULL;
  bool *accepted = arena_new_array(cases->texts, bool, cases->list.n + 1);
  for (size_t i = 0; accepted && i < cases->list.n; i++)
    accepted[i] = cases->verdicts[i].answer == NULL;
  return accepted;
}

enum wm_status wm_cases_mutate(wm_cases *cases, enum wm_notice notice) {
  if (!cases || notice < WM_NOTICE_VERDICT || notice > WM_NOTICE_CERTAINTY) return WM_USAGE;
  cases->mutated = false;
  cases->notice = (enum notice)notice;
  cases->mutants = mutants_list(cases->texts, cases->kb->network);
  if (arena_failed(cases->texts) ||
      !mutants_run(&cases->mutants, cases_allocator(cases), cases->kb->network, cases->list.at,
                   cases->list.n, find_accepted(cases), cases->notice))
    return WM_INTERNAL;
  cases->mutated = true;
  return cases->mutants.n_noticed < cases->mutants.n ? WM_FINDINGS : WM_OK;
}

bool wm_cases_mutants(const wm_cases *cases, struct wm_mutants *out) {
  if (!cases || !out || !cases->mutated) return false;
  const struct mutants *mutants = &cases->mutants;
  *out = (struct wm_mutants){.all = mutants->n,
                             .noticed = mutants->n_noticed,
                             .percent = coverage_percent(mutants->n_noticed, mutants->n),
                             .cases = mutants->n_cases,
                             .cases_left_out = mutants->n_left_out};
  return true;
}

enum wm_status wm_cases_write_mutants(const wm_cases *cases, enum wm_format format, wm_write write,
                                      void *context) {
  struct page page;
  if (!cases || !write || !cases->mutated) return WM_USAGE;
  if (!page_open(&page, cases)) return WM_INTERNAL;
  if (format == WM_JSON)
    mutants_json(&page.json, cases->kb->network, &cases->mutants, cases->notice);
  else mutants_text(&page.out, cases->kb->network, &cases->mutants, cases->notice);
  return page_close(&page, write, context);
}
