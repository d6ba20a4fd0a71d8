/* diagnose --shots: one table of shots, from a file, a pipe or standard input. */
#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "cli/cli.h"

long shots_input(void *context, char *bytes, size_t room) {
  ssize_t got;
  (void)context;
  do got = read(STDIN_FILENO, bytes, room);
  while (got < 0 && errno == EINTR);
  return (long)got;
}

/* All faults of what holds for the table are gathered before any is told. */
void shots_prepare(struct session *session, wm_session *shots, const struct word *words, size_t n) {
  const struct options *options = session->options;
  session->player = wm_session_player(shots);
  session_fill(session, words, n);
  if (options->club)
    session_note(session, wm_case_read_club(session->player, options->club, "option --club",
                                            session->diags));
  session->player = NULL; /* the session's own, not to be freed twice */
  for (size_t i = 0; i < options->n_units; i++)
    session_note(session,
                 wm_session_read_unit(shots, options->units[i], "option --unit", session->diags));
  if (options->window)
    session_note(session,
                 wm_session_read_window(shots, options->window, "option --window", session->diags));
}

void shots_read(struct session *session, wm_session *shots, const char *from) {
  session_note(session, strcmp(from, "-") == 0 ? wm_session_read(shots, "standard input",
                                                                 shots_input, NULL, session->diags)
                                               : wm_session_load(shots, from, session->diags));
}

enum wm_status shots_diagnose(const struct options *options) {
  struct session session;
  wm_session *shots = NULL;
  if (options->brief || options->steps || options->mean_of) {
    fprintf(stderr, "whymiss diagnose: --%s does not go with --shots\n",
            options->brief   ? "brief"
            : options->steps ? "steps"
                             : "mean-of");
    return WM_USAGE;
  }
  if (session_open(&session, options))
    session_note(&session, wm_session_new(&shots, session.kb, NULL));
  if (session.status == WM_OK) shots_prepare(&session, shots, options->words, options->n_words);
  if (session.status == WM_OK) shots_read(&session, shots, options->shots);
  session_tell(&session);
  if (session.status == WM_OK) session_note(&session, wm_session_run(shots, session.diags));
  if (session.status == WM_OK)
    session_note(&session, wm_session_write(shots, session_format(&session), write_file, stdout));
  wm_session_free(shots);
  return session_close(&session);
}
