#include <string.h>

#include "api/handles.h"
#include "explain/explain.h"
#include "render/show.h"

/* ---- loading ---- */

static wm_kb *kb_new(const struct wm_allocator *allocator) {
  struct arena *arena = arena_new(allocator);
  wm_kb *kb = arena ? arena_new_object(arena, wm_kb) : NULL;
  if (!kb) {
    arena_free(arena);
    return NULL;
  }
  kb->arena = arena;
  return kb;
}

void wm_kb_free(wm_kb *kb) {
  if (kb) arena_free(kb->arena);
}

static bool compile(wm_kb *kb, const struct model_file *files, size_t n, struct diags *diags) {
  kb->n_files = n;
  kb->model = model_read(kb->arena, files, n, diags);
  kb->network = kb->model ? network_compile(kb->arena, kb->model, diags) : NULL;
  if (arena_failed(kb->arena)) diags->no_memory = true;
  return kb->network != NULL;
}

/* Gathers the files of one way of loading. */
typedef void collect_files(struct arena *arena, struct file_list *list, const void *from, size_t n,
                           struct diags *diags);

static enum wm_status load(wm_kb **out, collect_files *collect, const void *from, size_t n,
                           const struct wm_allocator *allocator, wm_diags *diags) {
  if (!out) return WM_USAGE;
  *out = NULL;
  if (!from && n > 0) return WM_USAGE;
  struct report report;
  wm_kb *kb = kb_new(allocator);
  if (!kb || !report_open(&report, diags, allocator)) {
    if (diags) diags->list.no_memory = true;
    wm_kb_free(kb);
    return WM_INTERNAL;
  }
  struct file_list list = {.bytes = 0};
  collect(kb->arena, &list, from, n, &report.list);
  bool made = compile(kb, list.files.at, list.files.n, &report.list);
  enum wm_status status = report_close(&report, WM_OK, WM_KB_FAULTY);
  if (status == WM_OK && !made) status = WM_INTERNAL;
  if (status == WM_OK) *out = kb;
  else wm_kb_free(kb);
  return status;
}

static void collect_directories(struct arena *arena, struct file_list *list, const void *from,
                                size_t n, struct diags *diags) {
  const char *const *directories = from;
  for (size_t i = 0; i < n; i++) files_collect(arena, list, directories[i], (unsigned)i, diags);
}

static void collect_memory(struct arena *arena, struct file_list *list, const void *from, size_t n,
                           struct diags *diags) {
  const struct wm_file *files = from;
  for (size_t i = 0; i < n; i++) {
    struct source *source = source_copy(arena, files[i].name, files[i].bytes, files[i].n);
    struct model_file *file = source ? array_push(arena, &list->files) : NULL;
    if (file) *file = (struct model_file){source, files[i].layer};
    else diags->no_memory = true;
  }
}

enum wm_status wm_kb_load(wm_kb **kb, const char *const *directories, size_t n,
                          const struct wm_allocator *allocator, wm_diags *diags) {
  return load(kb, collect_directories, directories, n, allocator, diags);
}

enum wm_status wm_kb_load_memory(wm_kb **kb, const struct wm_file *files, size_t n,
                                 const struct wm_allocator *allocator, wm_diags *diags) {
  return load(kb, collect_memory, files, n, allocator, diags);
}

/* ---- looking ---- */

void wm_kb_count(const wm_kb *kb, struct wm_kb_counts *counts) {
  const struct model *model = kb->model;
  *counts = (struct wm_kb_counts){
      .files = kb->n_files,
      .evidence = model->n_evidence,
      .findings = model->first_cause,
      .causes = model->first_drill - model->first_cause,
      .drills = model->n_claims - model->first_drill,
      .clubs = model->n_clubs,
      .sources = model->n_references,
      .rules = model->n_rules,
      .layers = kb->network->n_layers,
      .cases = model->n_cases,
      .overrides = model->n_overrides,
  };
}

uint64_t wm_kb_digest(const wm_kb *kb) {
  return kb->network->digest;
}

static const char *claim_name(const struct model *model, size_t first, size_t end, size_t i) {
  return i < end - first ? model->claims[first + i].name : NULL;
}

const char *wm_kb_name(const wm_kb *kb, enum wm_kind kind, size_t i) {
  const struct model *model = kb->model;
  switch (kind) {
  case WM_EVIDENCE: return i < model->n_evidence ? model->evidence[i].name : NULL;
  case WM_FINDING: return claim_name(model, 0, model->first_cause, i);
  case WM_CAUSE: return claim_name(model, model->first_cause, model->first_drill, i);
  case WM_DRILL: return claim_name(model, model->first_drill, model->n_claims, i);
  case WM_RULE: return i < model->n_rules ? model->rules[i].name : NULL;
  case WM_CLUB: return i < model->n_clubs ? model->clubs[i].name : NULL;
  case WM_SOURCE: return i < model->n_references ? model->references[i].name : NULL;
  case WM_CASE: return i < model->n_cases ? model->cases[i].name : NULL;
  }
  return NULL;
}

bool wm_kb_override(const wm_kb *kb, size_t i, struct wm_override *override) {
  if (i >= kb->model->n_overrides) return false;
  const struct override *found = &kb->model->overrides[i];
  *override = (struct wm_override){.kind = found->kind,
                                   .name = found->name,
                                   .file = found->new_at.source->name,
                                   .old_file = found->old_at.source->name,
                                   .line = found->new_at.line,
                                   .old_line = found->old_at.line};
  return true;
}

/* ---- showing ---- */

/* subject NULL: the functions of formulas. */
static void show_as_json(struct text *out, const wm_kb *kb, const struct subject *subject) {
  struct json json;
  json_start(&json, out, true);
  json_head(&json, subject ? "whymiss-entry" : "whymiss-functions", kb->network->digest);
  if (subject) {
    show_json(&json, kb->network, *subject, HAND_RIGHT);
    return;
  }
  json_object(&json);
  json_key(&json, "functions");
  show_functions_json(&json);
  json_end(&json);
}

static void show(struct text *out, const wm_kb *kb, const struct subject *subject,
                 enum wm_format format) {
  if (format == WM_JSON) show_as_json(out, kb, subject);
  else if (subject) show_text(out, kb->network, *subject, HAND_RIGHT);
  else show_functions_text(out);
}

enum wm_status wm_kb_show(const wm_kb *kb, const char *name, const char *where,
                          enum wm_format format, wm_write write, void *context, wm_diags *diags) {
  struct report report;
  if (!kb || !name || !write) return WM_USAGE;
  if (!report_open(&report, diags, NULL)) return WM_INTERNAL;
  struct arena *arena = report.used->arena;
  bool functions = strcmp(name, "functions") == 0;
  const struct source *source = source_copy(arena, where ? where : "name", name, strlen(name));
  struct subject subject;
  struct text out;
  text_init(&out, arena);
  enum wm_status status = WM_OK;
  if (!source) report.list.no_memory = true;
  else if (functions) show(&out, kb, NULL, format);
  else if (subject_find(kb->model, &report.list, source_whole(source), source->bytes, false,
                        &subject))
    show(&out, kb, &subject, format);
  if (report.list.errors == 0 && !report.list.no_memory) status = text_send(&out, write, context);
  return report_close(&report, status, WM_INPUT_FAULTY);
}
