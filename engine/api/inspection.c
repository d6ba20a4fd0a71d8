/* All that check finds, kept so that it can be told, written and looked at one by one. */
#include <string.h>

#include "api/handles.h"
#include "render/inspection.h"
#include "workshop/check.h"

struct wm_inspection {
  struct arena *arena; /* the handle and everything of it */
  const wm_kb *kb;
  const struct check_report *report;
};

static struct check_options options_of(const struct wm_inspect *how) {
  struct check_options options = {.seed = CHECK_SEED};
  if (!how) return options;
  options.thorough = how->thorough;
  options.samples = how->impacts;
  if (how->seed != 0) options.seed = how->seed;
  return options;
}

enum wm_status wm_kb_inspect(wm_inspection **out, const wm_kb *kb, const struct wm_inspect *how,
                             const struct wm_allocator *allocator) {
  if (!out || !kb) return WM_USAGE;
  *out = NULL;
  struct arena *arena = arena_new(allocator);
  wm_inspection *inspection = arena ? arena_new_object(arena, wm_inspection) : NULL;
  struct check_options options = options_of(how);
  if (inspection) {
    inspection->arena = arena;
    inspection->kb = kb;
    inspection->report = check_knowledge(arena, kb->network, &options, allocator);
  }
  if (inspection && inspection->report) *out = inspection;
  else arena_free(arena);
  return *out ? WM_OK : WM_INTERNAL;
}

void wm_inspection_free(wm_inspection *inspection) {
  if (inspection) arena_free(inspection->arena);
}

/* ---- looking ---- */

void wm_inspection_count(const wm_inspection *inspection, struct wm_inspection_counts *counts) {
  const struct check_report *report = inspection->report;
  *counts = (struct wm_inspection_counts){.findings = report->n,
                                          .warnings = report->n_warnings,
                                          .notes = report->n_notes,
                                          .accepted = report->n_accepted,
                                          .impacts = report->n_impacts};
}

bool wm_inspection_get(const wm_inspection *inspection, size_t i, struct wm_flaw *flaw) {
  if (!inspection || !flaw || i >= inspection->report->n) return false;
  const struct check_finding *finding = &inspection->report->findings[i];
  *flaw = (struct wm_flaw){.diag = diag_public(&finding->diag),
                           .accepted = finding->accepted ? finding->accepted->reason : NULL,
                           .witness = finding->command ? finding->name : NULL,
                           .command = finding->command,
                           .share = finding->share};
  return true;
}

/* ---- telling ---- */

static void tell(struct diags *diags, const struct check_finding *finding) {
  struct diag *diag = diag_copy(diags, &finding->diag);
  struct text note;
  if (!finding->command) return;
  text_init(&note, diags->arena);
  text_format(&note, "see it with: whymiss %s", finding->command);
  if (text_done(&note)) diag_note(diags, diag, (struct span){0}, text_done(&note));
}

enum wm_status wm_inspection_tell(const wm_inspection *inspection, wm_diags *diags) {
  struct report report;
  if (!inspection || !diags) return WM_USAGE;
  if (!report_open(&report, diags, NULL)) return WM_INTERNAL;
  for (size_t i = 0; i < inspection->report->n; i++)
    if (!inspection->report->findings[i].accepted)
      tell(&report.list, &inspection->report->findings[i]);
  return report_close(&report, WM_OK, WM_FINDINGS);
}

enum wm_status wm_kb_check(const wm_kb *kb, wm_diags *diags) {
  wm_inspection *inspection = NULL;
  enum wm_status status = wm_kb_inspect(&inspection, kb, NULL, NULL);
  if (status != WM_OK) return status;
  if (diags) status = wm_inspection_tell(inspection, diags);
  if (status == WM_OK && inspection->report->n_warnings > 0) status = WM_FINDINGS;
  wm_inspection_free(inspection);
  return status;
}

/* ---- writing ---- */

enum wm_status wm_inspection_write(const wm_inspection *inspection, const wm_diags *diags,
                                   enum wm_log log, wm_write write, void *context) {
  if (!write) return WM_USAGE;
  struct arena *arena = arena_new(NULL);
  if (!arena) return WM_INTERNAL;
  const struct inspection view = {.diags = diags ? &diags->list : NULL,
                                  .report = inspection ? inspection->report : NULL,
                                  .version = wm_version()};
  struct text out;
  struct json json;
  text_init(&out, arena);
  json_start(&json, &out, true);
  if (log == WM_LOG_SARIF) {
    inspection_sarif(&json, &view);
  } else {
    json_head(&json, "whymiss-check", inspection ? inspection->kb->network->digest : 0);
    inspection_json(&json, &view);
  }
  enum wm_status status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  arena_free(arena);
  return status;
}

enum wm_status wm_inspection_write_witness(const wm_inspection *inspection, size_t i,
                                           wm_write write, void *context) {
  if (!inspection || !write || i >= inspection->report->n ||
      !inspection->report->findings[i].command)
    return WM_USAGE;
  struct arena *arena = arena_new(NULL);
  if (!arena) return WM_INTERNAL;
  struct text out;
  text_init(&out, arena);
  check_witness_file(&out, inspection->kb->model, &inspection->report->findings[i]);
  enum wm_status status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  arena_free(arena);
  return status;
}

/* ---- codes ---- */

static void unknown_code(struct report *report, const char *code, const char *where) {
  struct arena *arena = report->used->arena;
  const char **words = arena_new_array(arena, const char *, DIAG_CODES);
  const struct source *source = source_copy(arena, where ? where : "code", code, strlen(code));
  if (!words || !source) return;
  for (int i = 0; i < DIAG_CODES; i++) words[i] = diag_word((enum diag_code)i);
  struct diag *diag = DIAG(&report->list, UNKNOWN_NAME, source_whole(source), "diagnostic", code);
  diag_nearest(&report->list, diag, code, words, DIAG_CODES);
}

enum wm_status wm_explain_code(const char *code, const char *where, wm_write write, void *context,
                               wm_diags *diags) {
  struct report report;
  if (!code || !write) return WM_USAGE;
  if (!report_open(&report, diags, NULL)) return WM_INTERNAL;
  enum wm_status status = WM_INPUT_FAULTY;
  for (int i = 0; i < DIAG_CODES; i++) {
    if (strcmp(diag_word((enum diag_code)i), code) != 0) continue;
    struct text out;
    text_init(&out, report.used->arena);
    explanation_text(&out, (enum diag_code)i);
    status = text_send(&out, write, context);
  }
  if (status == WM_INPUT_FAULTY) unknown_code(&report, code, where);
  return report_close(&report, status, WM_INPUT_FAULTY);
}
