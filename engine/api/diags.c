/* Diagnostics point into sources that die with a case or with a knowledge base that was never made,
 * so each report copies the sources it needs into the list. Invariant: every span of a kept
 * diagnostic points into diags->sources. */
#include <string.h>

#include "api/handles.h"

static void start_list(wm_diags *diags) {
  diags_init(&diags->list, diags->arena);
  memset(&diags->sources, 0, sizeof diags->sources);
}

wm_diags *wm_diags_new(const struct wm_allocator *allocator) {
  struct arena *home = arena_new(allocator);
  wm_diags *diags = home ? arena_new_object(home, wm_diags) : NULL;
  struct arena *arena = diags ? arena_new(allocator) : NULL;
  if (!arena) {
    arena_free(home);
    return NULL;
  }
  diags->home = home;
  diags->arena = arena;
  start_list(diags);
  return diags;
}

void wm_diags_free(wm_diags *diags) {
  if (!diags) return;
  arena_free(diags->arena);
  arena_free(diags->home);
}

void wm_diags_clear(wm_diags *diags) {
  if (!diags) return;
  arena_reset(diags->arena);
  start_list(diags);
}

size_t wm_diags_errors(const wm_diags *diags) {
  return diags ? diags->list.errors : 0;
}

size_t wm_diags_warnings(const wm_diags *diags) {
  return diags ? diags->list.warnings : 0;
}

size_t wm_diags_count(const wm_diags *diags) {
  return diags ? diags->list.list.n : 0;
}

static enum wm_level public_level(enum diag_level level) {
  return level == DIAG_ERROR ? WM_ERROR : level == DIAG_WARNING ? WM_WARNING : WM_NOTE;
}

struct wm_diag diag_public(const struct diag *kept) {
  struct wm_diag diag = {.code = diag_word(kept->code),
                         .level = public_level(kept->level),
                         .message = kept->message,
                         .hint = kept->hint};
  if (kept->at.source) {
    diag.source = kept->at.source->name;
    diag.line = kept->at.line;
    diag.column = kept->at.column;
    diag.end_line = kept->at.end_line;
    diag.end_column = kept->at.end_column;
  }
  return diag;
}

bool wm_diags_get(const wm_diags *diags, size_t i, struct wm_diag *diag) {
  if (!diags || !diag || i >= diags->list.list.n) return false;
  *diag = diag_public(&diags->list.list.at[i]);
  return true;
}

enum wm_status wm_diags_write(wm_diags *diags, wm_write write, void *context) {
  if (!diags || !write) return WM_USAGE;
  struct text out;
  text_init(&out, diags->arena);
  diags_print(&out, &diags->list);
  return text_send(&out, write, context);
}

/* ---- one call's report ---- */

bool report_open(struct report *report, wm_diags *diags, const struct wm_allocator *allocator) {
  report->given = diags;
  report->used = diags ? diags : wm_diags_new(allocator);
  if (!report->used) return false;
  diags_init(&report->list, report->used->arena);
  report->lacked = arena_failed(report->used->arena);
  return true;
}

/* The list's own copy of a source: made once, found again by name and content. */
static const struct source *keep_source(wm_diags *diags, const struct source *source) {
  for (size_t i = 0; i < diags->sources.n; i++) {
    const struct source *kept = diags->sources.at[i];
    if (kept->n == source->n && kept->first_line == source->first_line &&
        strcmp(kept->name, source->name) == 0 && memcmp(kept->bytes, source->bytes, source->n) == 0)
      return kept;
  }
  const struct source **place = array_push(diags->arena, &diags->sources);
  struct source *copy =
      place ? source_copy(diags->arena, source->name, source->bytes, source->n) : NULL;
  if (copy) copy->first_line = source->first_line;
  if (place && !copy) diags->sources.n--;
  else if (place) *place = copy;
  return copy;
}

static void keep_span(wm_diags *diags, struct span *span) {
  if (!span->source) return;
  span->source = keep_source(diags, span->source);
  if (!span->source) diags->list.no_memory = true;
}

static void keep_diag(wm_diags *diags, const struct diag *diag) {
  struct diag *kept = array_push(diags->arena, &diags->list.list);
  if (!kept) {
    diags->list.no_memory = true;
    return;
  }
  *kept = *diag;
  kept->order = diags->list.list.n;
  keep_span(diags, &kept->at);
  for (size_t i = 0; i < kept->notes.n; i++) keep_span(diags, &kept->notes.at[i].at);
}

/* A summary counts anew what is hidden, so an earlier one is not carried over. */
static void merge(wm_diags *diags, const struct diags *list) {
  for (size_t i = 0; i < list->list.n; i++)
    if (list->list.at[i].code != DIAG_TOO_MANY) keep_diag(diags, &list->list.at[i]);
  diags->list.errors += list->errors;
  diags->list.warnings += list->warnings;
  diags->list.no_memory = diags->list.no_memory || list->no_memory;
  diags->list.cut = diags->list.cut || list->cut;
  diags_finish(&diags->list);
}

enum wm_status report_close(struct report *report, enum wm_status status, enum wm_status faulty) {
  diags_finish(&report->list);
  bool no_memory = report->list.no_memory;
  if (status == WM_OK && report->list.errors > 0) status = faulty;
  if (report->given) merge(report->given, &report->list);
  /* A message that could not be made whole, or copied, is a lack of memory too. */
  no_memory = no_memory || (!report->lacked && arena_failed(report->used->arena));
  if (report->given) report->given->list.no_memory |= no_memory;
  else wm_diags_free(report->used);
  return no_memory ? WM_INTERNAL : status;
}
