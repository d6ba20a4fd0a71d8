/* tidy: files of knowledge in one layout; to the screen, in place, or only looked at. */
#include <stdio.h>

#include "cli/cli.h"

static enum wm_status complain(const char *what) {
  fprintf(stderr, "whymiss tidy: %s\n", what);
  return WM_USAGE;
}

/* Names the files that are, or would be, another. */
static size_t name_changed(const wm_tidying *tidying) {
  struct wm_tidied file;
  size_t changed = 0;
  for (size_t i = 0; wm_tidying_get(tidying, i, &file); i++) {
    if (file.changed) printf("%s\n", file.path);
    changed += file.changed;
  }
  return changed;
}

static enum wm_status finish(struct session *session, const wm_tidying *tidying) {
  const struct options *options = session->options;
  struct wm_tidied file, second;
  if (options->tidy_check) return name_changed(tidying) > 0 ? WM_FINDINGS : WM_OK;
  if (options->write) {
    enum wm_status status = wm_tidying_replace(tidying, session->diags);
    if (status == WM_OK) name_changed(tidying);
    return status;
  }
  if (!wm_tidying_get(tidying, 0, &file)) return WM_OK;
  if (wm_tidying_get(tidying, 1, &second))
    return complain("several files; use --check to look or --write to put them in place");
  return write_file(stdout, file.text, file.n) == 0 ? WM_OK : WM_INTERNAL;
}

enum wm_status cmd_tidy(const struct options *options) {
  const char *paths[WORDS_MAX];
  wm_tidying *tidying = NULL;
  if (options->n_words == 0) return complain("name files or directories");
  if (options->tidy_check && options->write) return complain("use one of --check and --write");
  for (size_t i = 0; i < options->n_words; i++) paths[i] = options->words[i].text;
  struct session session = {.options = options, .diags = wm_diags_new(NULL)};
  if (!session.diags) session_note(&session, WM_INTERNAL);
  else session_note(&session, wm_tidy(&tidying, paths, options->n_words, NULL, session.diags));
  if (tidying) session_note(&session, finish(&session, tidying));
  wm_tidying_free(tidying);
  return session_close(&session);
}
