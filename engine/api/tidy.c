/* Files of knowledge in one layout: the handle keeps the files as they are and as they would be. */
#include "workshop/tidy.h"

#include <string.h>
#include <sys/stat.h>

#include "api/handles.h"
#include "api/replace.h"

struct tidied {
  const struct source *source;
  const struct text *text;
  bool changed;
};

struct wm_tidying {
  struct arena *arena; /* the handle and everything of it */
  struct tidied *files;
  size_t n;
};

static bool is_directory(const char *path) {
  struct stat about;
  return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

static void collect(struct arena *arena, struct file_list *list, const char *path,
                    struct diags *diags) {
  if (is_directory(path)) {
    files_collect(arena, list, path, 0, diags);
    return;
  }
  struct source *source = source_read(arena, path, diags);
  struct model_file *file = source ? array_push(arena, &list->files) : NULL;
  if (file) *file = (struct model_file){source, 0};
}

static void lay_out(wm_tidying *tidying, const struct file_list *list, struct diags *diags) {
  tidying->n = list->files.n;
  tidying->files = arena_new_array(tidying->arena, struct tidied, list->files.n);
  for (size_t i = 0; tidying->files && i < tidying->n; i++) {
    const struct source *source = list->files.at[i].source;
    const struct text *text = tidy_source(tidying->arena, source, diags);
    bool changed =
        text && (text->n != source->n || memcmp(text_done(text), source->bytes, source->n) != 0);
    tidying->files[i] = (struct tidied){source, text, changed};
  }
}

enum wm_status wm_tidy(wm_tidying **out, const char *const *paths, size_t n,
                       const struct wm_allocator *allocator, wm_diags *diags) {
  struct report report;
  struct file_list list = {.bytes = 0};
  if (!out || (!paths && n > 0)) return WM_USAGE;
  *out = NULL;
  struct arena *arena = arena_new(allocator);
  wm_tidying *tidying = arena ? arena_new_object(arena, wm_tidying) : NULL;
  if (!tidying || !report_open(&report, diags, allocator)) {
    arena_free(arena);
    return WM_INTERNAL;
  }
  tidying->arena = arena;
  for (size_t i = 0; i < n; i++) collect(arena, &list, paths[i], &report.list);
  lay_out(tidying, &list, &report.list);
  if (arena_failed(arena)) report.list.no_memory = true;
  enum wm_status status = report_close(&report, WM_OK, WM_INPUT_FAULTY);
  if (status == WM_OK) *out = tidying;
  else wm_tidying_free(tidying);
  return status;
}

void wm_tidying_free(wm_tidying *tidying) {
  if (tidying) arena_free(tidying->arena);
}

bool wm_tidying_get(const wm_tidying *tidying, size_t i, struct wm_tidied *file) {
  if (!tidying || !file || i >= tidying->n) return false;
  const struct tidied *found = &tidying->files[i];
  *file = (struct wm_tidied){.path = found->source->name,
                             .changed = found->changed,
                             .text = text_done(found->text),
                             .n = found->text->n};
  return true;
}

enum wm_status wm_tidying_replace(const wm_tidying *tidying, wm_diags *diags) {
  struct report report;
  if (!tidying) return WM_USAGE;
  if (!report_open(&report, diags, NULL)) return WM_INTERNAL;
  for (size_t i = 0; i < tidying->n; i++) {
    const struct tidied *file = &tidying->files[i];
    if (file->changed)
      file_replace(file->source->name, text_done(file->text), file->text->n, &report.list);
  }
  return report_close(&report, WM_OK, WM_INTERNAL);
}
