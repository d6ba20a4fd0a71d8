#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli/cli.h"

#define PATH_ROOM 4096

int write_file(void *file, const char *bytes, size_t n) {
  return fwrite(bytes, 1, n, file) == n ? 0 : -1;
}

void session_note(struct session *session, enum wm_status status) {
  if (status > session->status) session->status = status;
}

void session_tell(struct session *session) {
  fflush(stdout);
  wm_diags_write(session->diags, write_file, stderr);
  wm_diags_clear(session->diags);
}

/* ---- the knowledge ---- */

bool session_base(char *out, size_t room) {
  if (base_find(out, room)) return true;
  fprintf(stderr,
          "whymiss: no shipped knowledge in '%s'.\n"
          "Set WHYMISS_BASE to its directory, or use '--bare --kb DIR'.\n",
          out);
  return false;
}

/* Fills the directories from the lowest layer up; returns how many, 0 after a message. */
static size_t find_layers(const struct options *options, char *base, size_t room,
                          const char **directories) {
  size_t n = 0;
  if (!options->bare && !session_base(base, room)) return 0;
  if (!options->bare) directories[n++] = base;
  for (size_t i = 0; i < options->n_layers; i++) directories[n++] = options->layers[i];
  if (n == 0) fprintf(stderr, "whymiss: --bare leaves no knowledge; add '--kb DIR'.\n");
  return n;
}

bool session_open(struct session *session, const struct options *options) {
  const char *directories[LAYERS_MAX + 1];
  char base[PATH_ROOM];
  *session = (struct session){.options = options, .diags = wm_diags_new(NULL)};
  size_t n = find_layers(options, base, sizeof base, directories);
  session->found = n > 0;
  if (n == 0) session_note(session, options->bare ? WM_USAGE : WM_KB_FAULTY);
  else if (!session->diags) session_note(session, WM_INTERNAL);
  else session_note(session, wm_kb_load(&session->kb, directories, n, NULL, session->diags));
  return session->status == WM_OK;
}

enum wm_status session_close(struct session *session) {
  if (session->diags) session_tell(session);
  if (session->status == WM_INTERNAL)
    fprintf(stderr, "whymiss: out of memory, or the output could not be written.\n");
  wm_case_free(session->player);
  wm_kb_free(session->kb);
  wm_diags_free(session->diags);
  return session->status;
}

/* ---- the case ---- */

static bool ends_with(const char *text, const char *end) {
  size_t n = strlen(text), n_end = strlen(end);
  return n >= n_end && strcmp(text + n - n_end, end) == 0;
}

bool looks_like_file(const char *from) {
  struct stat about;
  return strchr(from, '/') || ends_with(from, ".yaml") || ends_with(from, ".yml") ||
         stat(from, &about) == 0;
}

static void load_case(struct session *session, const char *from) {
  session_note(session,
               looks_like_file(from)
                   ? wm_case_load(session->player, from, session->diags)
                   : wm_case_load_worked(session->player, from, "option --case", session->diags));
}

/* All faults are gathered before any is told. */
void session_fill(struct session *session, const struct word *words, size_t n) {
  const struct options *options = session->options;
  if (options->case_from) load_case(session, options->case_from);
  if (options->handed)
    session_note(session, wm_case_read_hand(session->player, options->handed, "option --handed",
                                            session->diags));
  if (options->mean_of)
    session_note(session, wm_case_read_shots(session->player, options->mean_of, "option --mean-of",
                                             session->diags));
  if (options->say)
    session_note(session,
                 wm_case_say(session->player, options->say, "option --say", session->diags));
  for (size_t i = 0; i < n; i++)
    session_note(session,
                 wm_case_give(session->player, words[i].text, words[i].place, session->diags));
}

bool session_run(struct session *session, const struct word *words, size_t n) {
  session_note(session, wm_case_new(&session->player, session->kb, NULL));
  if (session->status == WM_OK) session_fill(session, words, n);
  if (session->status == WM_OK) session_note(session, wm_case_run(session->player, session->diags));
  return session->status == WM_OK;
}

/* ---- the screen ---- */

/* A terminal that can show bold, and nobody asked for plain. */
static bool may_emphasize(void) {
  const char *no_color = getenv("NO_COLOR"), *terminal = getenv("TERM");
  bool plain = (no_color && *no_color) || !terminal || strcmp(terminal, "dumb") == 0;
  return !plain && isatty(STDOUT_FILENO);
}

enum wm_format session_format(const struct session *session) {
  if (session->options->json) return WM_JSON;
  return may_emphasize() ? WM_EMPHASIS : WM_TEXT;
}
