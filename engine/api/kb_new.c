/* A directory for an academy's own layer, with the commented example in it. */
#include <dirent.h>
#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include "api/handles.h"
#include "api/replace.h"
#include "workshop/template.h"

static bool make_directory(const char *path, struct diags *diags) {
  if (mkdir(path, 0777) == 0 || errno == EEXIST) return true;
  DIAG(diags, FILE_UNWRITABLE, (struct span){0}, path, strerror(errno));
  return false;
}

/* Hidden files count too: a directory under version control is somebody's already. */
static bool is_empty(const char *path, struct diags *diags) {
  DIR *open_directory = opendir(path);
  if (!open_directory) {
    DIAG(diags, FILE_UNREADABLE, (struct span){0}, path, strerror(errno));
    return false;
  }
  size_t n = 0;
  for (struct dirent *entry; n == 0 && (entry = readdir(open_directory)) != NULL;)
    n += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
  closedir(open_directory);
  if (n > 0) DIAG(diags, DIRECTORY_FILLED, (struct span){0}, path);
  return n == 0;
}

static const char *join(const char *directory, const char *path, size_t n, struct diags *diags) {
  struct text text;
  text_init(&text, diags->arena);
  text_format(&text, "%s/", directory);
  text_add_bytes(&text, path, n);
  if (!text_done(&text)) diags->no_memory = true;
  return text_done(&text);
}

static bool make_file(const char *directory, const struct template_file *file,
                      struct diags *diags) {
  const char *slash = strrchr(file->path, '/');
  const char *folder = join(directory, file->path, slash ? (size_t)(slash - file->path) : 0, diags);
  const char *path = join(directory, file->path, strlen(file->path), diags);
  return folder && path && make_directory(folder, diags) &&
         file_make(path, file->text, strlen(file->text), diags);
}

/* Faults of the file system are internal; a directory that is not empty is input. */
static enum wm_status status_of(const struct diags *diags) {
  for (size_t i = 0; i < diags->list.n; i++)
    if (diags->list.at[i].code != DIAG_DIRECTORY_FILLED) return WM_INTERNAL;
  return WM_OK;
}

enum wm_status wm_kb_new(const char *directory, wm_diags *diags) {
  struct report report;
  if (!directory || !*directory) return WM_USAGE;
  if (!report_open(&report, diags, NULL)) return WM_INTERNAL;
  bool good = make_directory(directory, &report.list) && is_empty(directory, &report.list);
  const struct template_file *file;
  for (size_t i = 0; good && (file = template_file(i)) != NULL; i++)
    good = make_file(directory, file, &report.list);
  return report_close(&report, status_of(&report.list), WM_INPUT_FAULTY);
}

const char *wm_kb_new_file(size_t i) {
  const struct template_file *file = template_file(i);
  return file ? file->path : NULL;
}
